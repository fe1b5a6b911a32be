/* When the words of a label are through: lists said twice are joined, "all wool" is 100 %, empty parts go. */
#include "law/label.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#define SUM_NEAR 0.01 /* shares as printed on labels add up to 100 this nearly */

/* The same share among the first n of the part; NULL: there is none. */
static struct share *same_share(struct part *part, size_t n, const struct share *as)
{
    for (size_t i = 0; i < n; i++)
        if (part->share[i].fibre == as->fibre && fabs(part->share[i].percent - as->percent) < PERCENT_NEAR)
            return &part->share[i];
    return NULL;
}

/*
 * "60 % cotton 40 % polyester / 60 % coton 40 % polyester": where the first shares make 100 and every later one is one
 * of them, the second list only names the first again, in the other language a market asks for.
 */
static void join_second_list(struct part *part)
{
    size_t first = 0;
    double sum = 0;

    for (; first < part->n && fabs(sum - 100) > SUM_NEAR; first++)
        sum += isnan(part->share[first].percent) ? 0 : part->share[first].percent;
    for (size_t i = first; i < part->n; i++)
        if (!same_share(part, first, &part->share[i]))
            return;
    for (size_t i = first; i < part->n; i++) {
        struct share *s = same_share(part, first, &part->share[i]);

        for (size_t k = 0; k < part->share[i].words; k++)
            tb_label_name(s, part->share[i].word[k]);
        s->marks |= part->share[i].marks;
    }
    part->n = first;
}

/* "All wool", "pure cotton": the one fibre of the part makes up the whole of it. */
static void complete(struct part *part)
{
    for (size_t i = 0; i < part->n; i++)
        part->share[i].pure = part->share[i].marks & TB_MARK_PURE;
    if (part->n != 1) /* "pure" beside another fibre is a finding, and completes nothing */
        return;
    if (isnan(part->share->percent) && part->share->pure)
        part->share->percent = 100;
    part->share->pure |= part->share->percent >= 100;
}

/* A part may be empty: a word for a lining that is only announced, or a heading nobody knows. */
void tb_label_finish(struct label *l)
{
    size_t kept = 0;

    for (size_t i = 0; i < l->n; i++) {
        join_second_list(&l->part[i]);
        complete(&l->part[i]);
        if (l->part[i].n)
            l->part[kept++] = l->part[i];
        else
            free(l->part[i].share);
    }
    l->n = kept;
}
