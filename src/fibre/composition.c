/* Compositions as values: made, asked, added up, freed. */
#include "tenterbook/fibre.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

void tb_composition_free(struct tb_composition *c)
{
    if (!c)
        return;
    for (size_t i = 0; i < c->n; i++) {
        free(c->part[i].label);
        free(c->part[i].share);
    }
    free(c->part);
    *c = (struct tb_composition){ 0 };
}

struct tb_part *tb_composition_add_part(struct tb_composition *c, enum tb_part_kind kind)
{
    TB_PUSH_ROOM(c->part, c->n, c->cap);
    c->part[c->n] = (struct tb_part){ .kind = kind };
    return &c->part[c->n++];
}

struct tb_share *tb_part_add_share(struct tb_part *p, int fibre, double percent)
{
    TB_PUSH_ROOM(p->share, p->n, p->cap);
    p->share[p->n] = (struct tb_share){ .fibre = fibre, .percent = percent, .tolerance = NAN };
    return &p->share[p->n++];
}

/* The only share of a part needs no figure: nothing else is named, so it is the whole. */
static double figure(const struct tb_part *p, size_t k)
{
    return isnan(p->share[k].percent) && p->n == 1 ? 100 : p->share[k].percent;
}

/* A fibre may be there twice, new and recycled. */
double tb_part_percent(const struct tb_part *p, int fibre)
{
    double sum = 0;

    for (size_t k = 0; k < p->n; k++)
        if (p->share[k].fibre == fibre)
            sum += figure(p, k);
    return sum;
}

double tb_part_sum(const struct tb_part *p)
{
    double sum = 0;

    for (size_t k = 0; k < p->n; k++)
        sum += figure(p, k);
    return sum;
}

const struct tb_part *tb_composition_part(const struct tb_composition *c, enum tb_part_kind kind)
{
    for (size_t i = 0; i < c->n; i++)
        if (c->part[i].kind == kind)
            return &c->part[i];
    return NULL;
}
