/*
 * market.c - the markets there are, and a question's facts before anybody gave one.
 *
 * The row that others are based on ("common") is in the same table and is no market: nobody sells there.
 */
#include "law/inside.h"

#include <math.h>
#include <string.h>

static const char *const coverages[] = { "base", "partial", "full" };

const char *tb_coverage_key(enum tb_coverage c)
{
    return coverages[c];
}

enum tb_coverage tb_law_coverage(const struct tb_ref_market *m)
{
    for (size_t i = 0; i < TB_COUNT(coverages); i++)
        if (strcmp(coverages[i], m->coverage) == 0)
            return (enum tb_coverage)i;
    return TB_COVERAGE_PARTIAL; /* a word nobody knows promises nothing */
}

static bool is_base(const struct tb_ref_market *m)
{
    return tb_law_coverage(m) == TB_COVERAGE_BASE;
}

const struct tb_ref_market *tb_law_market(const char *key)
{
    for (size_t i = 0; i < tb_ref_market_n; i++)
        if (strcmp(tb_ref_market[i].key, key) == 0)
            return &tb_ref_market[i];
    return NULL;
}

size_t tb_market_count(void)
{
    size_t n = 0;

    for (size_t i = 0; i < tb_ref_market_n; i++)
        n += !is_base(&tb_ref_market[i]);
    return n;
}

struct tb_market tb_market_at(size_t i)
{
    size_t r = 0;

    while (is_base(&tb_ref_market[r]) || i--)
        r++;
    return (struct tb_market){ .key = tb_ref_market[r].key,
                               .name = tb_ref_market[r].name,
                               .law = tb_ref_market[r].law,
                               .langs = tb_ref_market[r].langs,
                               .coverage = tb_law_coverage(&tb_ref_market[r]),
                               .as_of = tb_ref_market[r].as_of,
                               .basis = tb_ref_market[r].basis };
}

bool tb_market_find(struct tb_market *out, const char *key)
{
    for (size_t i = 0; key && i < tb_market_count(); i++) {
        struct tb_market m = tb_market_at(i);

        if (strcmp(m.key, key) == 0) {
            *out = m;
            return true;
        }
    }
    return false;
}

tb_rc tb_market_check(const char *key, struct tb_err *err)
{
    struct tb_market m;
    struct tb_text list = { 0 };
    tb_rc rc = TB_OK;

    if (tb_market_find(&m, key))
        return TB_OK;
    for (size_t i = 0; i < tb_market_count(); i++) {
        m = tb_market_at(i);
        tb_text_addf(&list, "%s%s (%s)", i ? ", " : "", m.key, m.name);
    }
    rc = tb_fail(err, TB_ENOTFOUND, "there is no market '%.40s'; the markets are %s", key ? key : "",
                 tb_text_str(&list));
    tb_text_free(&list);
    return rc;
}

void tb_law_facts_none(struct tb_law_facts *f)
{
    *f = (struct tb_law_facts){ .micron = NAN, .coarse = NAN, .cv = NAN, .area_share = NAN, .left_out = NAN };
    for (size_t i = 0; i < TB_PART_KINDS; i++)
        f->part_share[i] = NAN;
}
