/* Bolts that are there to be drawn: nobody burns a sample of goods that went back or that somebody has decided of. */
#include "work/draw.h"

#include <stdlib.h>
#include <string.h>

static int by_text(const void *a, const void *b)
{
    return strcmp(*(const char *const *)a, *(const char *const *)b);
}

tb_rc tb_bolts_to_draw(struct tb_bolt *bolt, size_t *n, struct tb_book *b, const char *lot, const char *draw,
                       struct tb_arena *mem, struct tb_err *err)
{
    const char **apart = NULL;
    size_t aparts = 0, kept = 0;
    tb_rc rc = tb_bolts_apart(&apart, &aparts, b, lot, draw, mem, err);

    if (rc != TB_OK)
        return rc;
    for (size_t i = 0; i < *n; i++)
        if (!aparts || !bsearch(&bolt[i].id, apart, aparts, sizeof *apart, by_text))
            bolt[kept++] = bolt[i];
    *n = kept;
    return TB_OK;
}

/* The whole lot, or each of its bolts by itself. */
static tb_rc nothing_left(const struct tb_piles *p, struct tb_err *err)
{
    return tb_fail(err, TB_EREFUSED,
                   "%s has no bolt left to draw: all of them were decided of (returned, released or held by "
                   "themselves); what is back, or open again, is settled as waiting first",
                   p->about);
}

tb_rc tb_piles_to_draw(struct tb_piles *p, struct tb_book *b, const char *draw, struct tb_arena *mem,
                       struct tb_err *err)
{
    size_t kept = 0;
    tb_rc rc = TB_OK;

    p->bolts = 0;
    for (size_t i = 0; i < p->n && rc == TB_OK; i++) {
        struct tb_pile *pile = &p->pile[i];
        size_t all = pile->n;

        rc = tb_bolts_to_draw(pile->bolt, &pile->n, b, pile->lot.id, draw, mem, err);
        pile->apart = all - pile->n;
        p->apart += (long)pile->apart;
        if (pile->n == 0)
            continue;
        p->bolts += (long)pile->n;
        p->strata[kept] = (struct tb_stratum){ .bolts = (long)pile->n };
        p->pile[kept++] = *pile;
    }
    p->n = rc == TB_OK ? kept : p->n;
    return rc == TB_OK && kept == 0 ? nothing_left(p, err) : rc;
}
