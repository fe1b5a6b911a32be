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
    r->x = tb_realloc(NULL, rows, sizeof(double));
}

void tb_room_free(struct tb_room *r)
{
    for (int k = 0; k < 3; k++)
        free(r->role[k]);
    free(r->x);
    *r = (struct tb_room){ 0 };
}

/* What every fibre brings in one role, spread over the lanes of the chunk, from one row on. */
static void spread(double *to, const struct tb_factored *t, const unsigned char *steps, int from)
{
    for (int f = 0; f < t->fibres; f++)
        for (int r = from; r < t->rows; r++)
            for (int l = 0; l < TB_CHUNK; l++)
                to[(f * t->rows + r) * TB_CHUNK + l] = t->brings[r].u[f][steps[l]];
}

/* Where the rows of a fibre begin in one role. */
static const double *brought(const struct tb_room *r, int role, int fibre)
{
    return r->role[role] + (size_t)fibre * (size_t)r->of->rows * TB_CHUNK;
}

/* What was spread for a chunk stays until another chunk is asked for: strips come in that order. */
void tb_room_fill(double *telling, double *rest, struct tb_room *r, const struct tb_strip *s,
                  const struct tb_kernel *kernel)
{
    const struct tb_factored *t = r->of;
    int last = s->layout->roles - 1, from = t->same_burn ? t->act_row : 0;
    size_t stride = (size_t)t->rows * TB_CHUNK, n = (size_t)s->n, at = (size_t)from * TB_CHUNK;
    const double *w;

    if (r->roles != s->layout->roles || r->chunk != s->chunk)
        for (int k = 0; k <= last; k++)
            spread(r->role[k], t, s->layout->chunk[s->chunk].steps[k], from);
    r->roles = s->layout->roles;
    r->chunk = s->chunk;
    w = brought(r, last, s->first);
    kernel->meet(r->x + at, brought(r, 0, s->i) + at, last == 2 ? brought(r, 1, s->j) + at : NULL,
                 t->row + from, t->rows - from);
    if (t->same_burn)
        return;
    kernel->fill(rest, &t->rest, r->x, w, stride, n);
    kernel->fill(telling, &t->telling, r->x, w, stride, n);
}

void tb_room_tests(double *like, const struct tb_room *r, const struct tb_strip *s, double test_error,
                   double mixed_up, const struct tb_kernel *kernel)
{
    const struct tb_factored *t = r->of;
    double one[TB_STRIP_MOST];

    for (int k = 0; k < t->acts; k++) {
        struct tb_joint joint = { 1 - test_error, test_error * t->act[k].any,
                                  k + 1 == t->acts ? mixed_up : 0 };

        kernel->fill(one, &t->act[k].factors, r->x, brought(r, s->layout->roles - 1, s->first),
                     (size_t)t->rows * TB_CHUNK, (size_t)s->n);
        kernel->join(like, like, one, &joint, (size_t)s->n);
    }
}
