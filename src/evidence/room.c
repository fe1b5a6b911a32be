/* room.c - the products of every composition of a strip, from one observation as factors. */
#include "evidence/factored.h"

#include <stdlib.h>

/* Not zeroed: spread() fills it before anything is read. */
void tb_room_open(struct tb_room *r, const struct tb_factored *of)
{
    size_t rows = (size_t)of->rows * TB_CHUNK;

    *r = (struct tb_room){ .of = of };
    for (int k = 0; k < 3; k++)
        r->role[k] = tb_realloc(NULL, (size_t)of->fibres * rows, sizeof(double));
    r->x = tb_realloc(NULL, TB_STRIPS_MOST * rows, sizeof(double));
}

void tb_room_free(struct tb_room *r)
{
    for (int k = 0; k < 3; k++)
        free(r->role[k]);
    free(r->x);
    *r = (struct tb_room){ 0 };
}

/* What every fibre brings in each role, spread over the lanes of the chunk, from one row on. */
static void spread(struct tb_room *r, const struct tb_layout *layout, int chunk, int from)
{
    const struct tb_factored *t = r->of;

    for (int f = 0; f < t->fibres; f++)
        for (int row = from; row < t->rows; row++)
            for (int k = 0; k < layout->roles; k++)
                for (int l = 0; l < TB_CHUNK; l++)
                    r->role[k][(f * t->rows + row) * TB_CHUNK + l] =
                        t->brings[row].u[f][layout->chunk[chunk].steps[k][l]];
    r->roles = layout->roles;
    r->chunk = chunk;
}

/* Where the rows of a fibre begin in one role. */
static const double *brought(const struct tb_room *r, int role, int fibre)
{
    return r->role[role] + (size_t)fibre * (size_t)r->of->rows * TB_CHUNK;
}

static double *met(const struct tb_room *r, size_t strip)
{
    return r->x + strip * (size_t)r->of->rows * TB_CHUNK;
}

/* Every strip of the same chunk. */
static void fill(const struct tb_filling *filling, size_t n, const struct tb_room *r,
                 const struct tb_factors *f, const struct tb_kernel *kernel)
{
    kernel->fill(filling, n, f, brought(r, r->roles - 1, 0), (size_t)r->of->rows * TB_CHUNK,
                 (size_t)r->of->fibres);
}

/* What was spread for a chunk stays until another chunk is asked for: strips come in that order. */
void tb_room_fill(struct tb_parts *parts, struct tb_room *r, const struct tb_strip *s, const size_t *which,
                  size_t n, const struct tb_kernel *kernel)
{
    const struct tb_factored *t = r->of;
    struct tb_filling rest[TB_STRIPS_MOST], telling[TB_STRIPS_MOST];
    int from = t->same_burn ? t->act_row : 0;
    size_t at = (size_t)from * TB_CHUNK;

    if (!n) /* nothing was spread then, and there is no role to read */
        return;
    if (r->roles != s->layout->roles || r->chunk != s->chunk)
        spread(r, s->layout, s->chunk, from);
    for (size_t i = 0; i < n; i++) {
        const struct tb_strip *one = &s[which[i]];
        double *x = met(r, which[i]);

        kernel->meet(x + at, brought(r, 0, one->i) + at,
                     one->layout->roles == 3 ? brought(r, 1, one->j) + at : NULL, t->row + from,
                     t->rows - from);
        rest[i] = (struct tb_filling){ parts[which[i]].rest, x, (size_t)one->first };
        telling[i] = (struct tb_filling){ parts[which[i]].telling, x, (size_t)one->first };
    }
    if (t->same_burn)
        return;
    fill(rest, n, r, &t->rest, kernel);
    fill(telling, n, r, &t->telling, kernel);
}

void tb_room_tests(double *like, const struct tb_room *r, const struct tb_strip *s, size_t strip,
                   double test_error, double mixed_up, const struct tb_kernel *kernel)
{
    const struct tb_factored *t = r->of;
    double one[TB_STRIP_MOST];
    const struct tb_filling filling = { one, met(r, strip), (size_t)s[strip].first };

    for (int k = 0; k < t->acts; k++) {
        struct tb_joint joint = { 1 - test_error, test_error * t->act[k].any,
                                  k + 1 == t->acts ? mixed_up : 0 };

        fill(&filling, 1, r, &t->act[k].factors, kernel);
        kernel->join(like, like, one, &joint, (size_t)s[strip].n);
    }
}
