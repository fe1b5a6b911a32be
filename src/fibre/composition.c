/* Compositions as values: made, copied, compared, added up. */
#include "tenterbook/fibre.h"

#include <assert.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

static const char *const part_key[TB_PART_KINDS] = {
    "whole", "warp",    "weft",  "pile",   "ground",  "face",
    "back",  "coating", "shell", "lining", "filling", "other"
};

const char *tb_part_key(enum tb_part_kind kind)
{
    return part_key[kind];
}

int tb_part_by_key(const char *key)
{
    for (int i = 0; i < TB_PART_KINDS; i++)
        if (strcmp(part_key[i], key) == 0)
            return i;
    return -1;
}

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

void tb_composition_copy(struct tb_composition *out, const struct tb_composition *from)
{
    *out = (struct tb_composition){ 0 };
    for (size_t i = 0; i < from->n; i++) {
        struct tb_part *p = tb_composition_add_part(out, from->part[i].kind);

        p->label = tb_strdup(from->part[i].label);
        for (size_t k = 0; k < from->part[i].n; k++) {
            const struct tb_share *s = &from->part[i].share[k];

            *tb_part_add_share(p, s->fibre, s->percent) = *s;
        }
    }
}

static bool same_figure(double a, double b)
{
    return isnan(a) ? isnan(b) : fabs(a - b) <= 1e-9;
}

static bool same_label(const char *a, const char *b)
{
    return a && b ? strcmp(a, b) == 0 : a == b;
}

bool tb_composition_equal(const struct tb_composition *a, const struct tb_composition *b)
{
    if (a->n != b->n)
        return false;
    for (size_t i = 0; i < a->n; i++) {
        const struct tb_part *p = &a->part[i], *q = &b->part[i];

        if (p->kind != q->kind || p->n != q->n || !same_label(p->label, q->label))
            return false;
        for (size_t k = 0; k < p->n; k++)
            if (p->share[k].fibre != q->share[k].fibre || p->share[k].marks != q->share[k].marks ||
                !same_figure(p->share[k].percent, q->share[k].percent) ||
                !same_figure(p->share[k].tolerance, q->share[k].tolerance))
                return false;
    }
    return true;
}

/* The only share of a part needs no figure: nothing else is named, so it is the whole. */
static double figure(const struct tb_part *p, size_t k)
{
    return isnan(p->share[k].percent) && p->n == 1 ? 100 : p->share[k].percent;
}

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

size_t tb_composition_fibres(const struct tb_composition *c, int *fibre, size_t most)
{
    size_t found = 0;

    for (int f = 0; (size_t)f < tb_fibre_count(); f++) {
        bool used = false;

        for (size_t i = 0; i < c->n && !used; i++)
            for (size_t k = 0; k < c->part[i].n && !used; k++)
                used = c->part[i].share[k].fibre == f;
        if (used && found < most)
            fibre[found] = f;
        found += used;
    }
    return found;
}

static bool uses(const struct tb_composition *c, int fibre)
{
    for (size_t i = 0; i < c->n; i++)
        for (size_t k = 0; k < c->part[i].n; k++)
            if (c->part[i].share[k].fibre == fibre)
                return true;
    return false;
}

static bool within(const struct tb_composition *a, const struct tb_composition *b)
{
    for (size_t i = 0; i < a->n; i++)
        for (size_t k = 0; k < a->part[i].n; k++)
            if (!uses(b, a->part[i].share[k].fibre))
                return false;
    return true;
}

bool tb_composition_same_fibres(const struct tb_composition *a, const struct tb_composition *b)
{
    return within(a, b) && within(b, a);
}

const struct tb_part *tb_composition_part(const struct tb_composition *c, enum tb_part_kind kind)
{
    for (size_t i = 0; i < c->n; i++)
        if (c->part[i].kind == kind)
            return &c->part[i];
    return NULL;
}

double tb_part_gap(const struct tb_part *a, const struct tb_part *b)
{
    double widest = 0;

    for (int side = 0; side < 2; side++) {
        const struct tb_part *p = side ? b : a;

        for (size_t k = 0; k < p->n; k++) {
            double gap = fabs(tb_part_percent(a, p->share[k].fibre) - tb_part_percent(b, p->share[k].fibre));

            if (isnan(gap))
                return NAN;
            widest = gap > widest ? gap : widest;
        }
    }
    return widest;
}
