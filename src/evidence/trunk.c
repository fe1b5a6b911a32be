/* trunk.c - products of the powers of several burns, begun alike, and none multiplied twice. */
#include "evidence/trunk.h"

#include "tenterbook/base.h"

#include <assert.h>
#include <stdlib.h>

size_t tb_trunk_add(struct tb_trunk *t, const size_t *power, size_t n)
{
    size_t at = TB_TRUNK_ROOT;

    assert(n > 0);
    for (size_t i = 0; i < n; i++) {
        size_t next = 0;

        while (next < t->n && (t->node[next].before != at || t->node[next].power != power[i]))
            next++;
        if (next == t->n) {
            TB_PUSH_ROOM(t->node, t->n, t->cap);
            t->node[t->n++] = (struct tb_trunk_node){ at, power[i] };
        }
        at = next;
    }
    return at;
}

const double *tb_trunk_lanes(const struct tb_trunk *t, size_t node, const double *const *power)
{
    return t->node[node].before == TB_TRUNK_ROOT ? power[t->node[node].power] : t->x[node];
}

/* A node is never before the one it goes on from. */
void tb_trunk_fill(struct tb_trunk *t, const double *const *power, size_t chunks,
                   const struct tb_kernel *kernel)
{
    if (t->n && !t->x)
        t->x = tb_realloc(NULL, t->n, sizeof *t->x);
    for (size_t i = 0; i < t->n; i++)
        if (t->node[i].before != TB_TRUNK_ROOT)
            kernel->product(t->x[i], tb_trunk_lanes(t, t->node[i].before, power), &power[t->node[i].power], 1,
                            0, chunks);
}

void tb_trunk_free(struct tb_trunk *t)
{
    free(t->node);
    free(t->x);
    *t = (struct tb_trunk){ 0 };
}
