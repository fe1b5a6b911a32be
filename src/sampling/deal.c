/* deal.c - things dealt at random by a seed: cards to a tester, swatches to a supplier and a laboratory. */
#include "tenterbook/sampling.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

tb_rc tb_shuffle(size_t *out, size_t count, size_t n, const char *seed, struct tb_err *err)
{
    size_t *left = tb_array(size_t, n + 1), *order = tb_array(size_t, count + 1), have = 0;
    tb_rc rc = TB_OK;

    for (size_t i = 0; i < count && rc == TB_OK; i++) {
        char label[32];
        long at = 1;

        if (have == 0)
            for (; have < n; have++)
                left[have] = have;
        (void)snprintf(label, sizeof label, "card %zu", i + 1);
        if ((rc = tb_pick(&at, (long)have, 1, seed, label, err)) != TB_OK)
            break;
        order[i] = left[at - 1];
        left[at - 1] = left[--have];
    }
    if (rc == TB_OK && count)
        memcpy(out, order, count * sizeof *out);
    free(order);
    free(left);
    return rc;
}

TB_WORDS(tb_holder_words, TB_HOLDER_OWN + 1,
         "'%s' does not hold joint samples; the supplier, a laboratory and we ourselves do", "", "supplier",
         "laboratory", "own");

/* Draw `each` of the things left for one holder, and take them out: `left` keeps their places, *n of them. */
static tb_rc deal_to(enum tb_holder_kind *holder, size_t *left, size_t *n, const char *kind,
                     enum tb_holder_kind to, long each, const char *seed, struct tb_err *err)
{
    long *place = tb_array(long, (size_t)each + 1), taken = 0;
    size_t kept = 0;
    char label[64];
    tb_rc rc;

    (void)snprintf(label, sizeof label, "%s-%s", kind, tb_word(&tb_holder_words, (int)to));
    if ((rc = tb_pick(place, (long)*n, each, seed, label, err)) == TB_OK) {
        for (size_t i = 0; i < *n; i++)
            if (taken < each && place[taken] == (long)i + 1) {
                holder[left[i]] = to;
                taken++;
            } else {
                left[kept++] = left[i];
            }
        *n = kept;
    }
    free(place);
    return rc;
}

/* All things of the kind of the first that nobody holds yet. A third goes to each side. */
static tb_rc deal_kind(enum tb_holder_kind *holder, long *each, size_t *left, const char *const *kind,
                       size_t first, size_t n, const char *seed, struct tb_err *err)
{
    size_t of_kind = 0;
    long third;
    tb_rc rc = TB_OK;

    for (size_t i = first; i < n; i++)
        if (strcmp(kind[i], kind[first]) == 0) {
            left[of_kind++] = i;
            holder[i] = TB_HOLDER_OWN;
        }
    third = (long)(of_kind / TB_DEAL_LEAST);
    *each += third;
    if (third)
        rc = deal_to(holder, left, &of_kind, kind[first], TB_HOLDER_SUPPLIER, third, seed, err);
    if (third && rc == TB_OK)
        rc = deal_to(holder, left, &of_kind, kind[first], TB_HOLDER_LABORATORY, third, seed, err);
    return rc;
}

tb_rc tb_deal(enum tb_holder_kind *holder, long *each, const char *const *kind, size_t n, const char *seed,
              struct tb_err *err)
{
    size_t *left = tb_array(size_t, n + 1);
    tb_rc rc = TB_OK;

    *each = 0;
    for (size_t i = 0; i < n; i++)
        holder[i] = TB_HOLDER_NONE;
    for (size_t i = 0; i < n && rc == TB_OK; i++)
        if (holder[i] == TB_HOLDER_NONE)
            rc = deal_kind(holder, each, left, kind, i, n, seed, err);
    free(left);
    return rc;
}
