/*
 * holds.c - when a row of the rules is at work: the words of its column `holds`, held against one share of one part.
 *
 * The words are separated by spaces and must all be true. They are read in one place because tolerances are asked for
 * by labels (pair.c) and by laboratory results (tolerance.c) alike, and both must find the same row.
 */
#include "law/checks.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

static bool word_is(const char *word, size_t n, const char *is)
{
    return strlen(is) == n && memcmp(word, is, n) == 0;
}

/* "stated<=10": what stands behind the sign; NULL when the word does not begin so. */
static const char *after(const char *word, size_t n, const char *begin)
{
    size_t len = strlen(begin);

    return n > len && memcmp(word, begin, len) == 0 ? word + len : NULL;
}

/* Is every fibre of the part of the group (`all`), or this share? */
static bool in_group(const struct held *h, const char *group, size_t n, bool all)
{
    char key[32] = "";

    if (n >= sizeof key || (!all && !h->share))
        return false;
    memcpy(key, group, n);
    if (!all)
        return tb_law_group_has(h->market, key, h->share->fibre);
    for (size_t i = 0; h->part && i < h->part->n; i++)
        if (!tb_law_group_has(h->market, key, h->part->share[i].fibre))
            return false;
    return h->fibres > 0;
}

/* A word that is not known is not true: a row with a slip of the pen is silent, and a test says that it never speaks. */
static bool word_holds(const struct held *h, const char *word, size_t n)
{
    const char *value;

    if (word_is(word, n, "single") || word_is(word, n, "blend"))
        return (h->fibres == 1) == (word[0] == 's') && h->fibres > 0;
    if (word_is(word, n, "carded") || word_is(word, n, "not-carded"))
        return h->carded == (word[0] == 'c');
    if (word_is(word, n, "virgin") || word_is(word, n, "not-virgin"))
        return h->virgin == (word[0] == 'v');
    if (word_is(word, n, "inequality"))
        return h->share && h->share->marks & (SAID_MORE | SAID_LESS);
    if (word_is(word, n, "filling"))
        return h->part && h->part->kind == TB_PART_FILLING;
    if ((value = after(word, n, "stated<=")))
        return h->share && h->share->percent <= strtod(value, NULL) + PERCENT_NEAR;
    if ((value = after(word, n, "multiple=")))
        return h->share && fabs(remainder(h->share->percent, strtod(value, NULL))) < PERCENT_NEAR;
    if ((value = after(word, n, "group=")))
        return in_group(h, value, n - (size_t)(value - word), false);
    if ((value = after(word, n, "among=")))
        return in_group(h, value, n - (size_t)(value - word), true);
    return false;
}

bool tb_law_holds(const struct tb_ref_law_rule *r, const struct held *h)
{
    const char *c = r->holds;

    for (size_t n; *c; c += n) {
        c += strspn(c, " ");
        n = strcspn(c, " ");
        if (n && !word_holds(h, c, n))
            return false;
    }
    return true;
}
