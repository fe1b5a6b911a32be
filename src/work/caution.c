#include "tenterbook/work.h"

#include "base/say.h"
#include "tenterbook/setting.h"
#include "tenterbook/words.h"

#include "gen/ref_caution.h"

#include <stdio.h>
#include <string.h>

tb_rc tb_bench_flame_permitted(bool *out, struct tb_book *b, int64_t upto, struct tb_err *err)
{
    struct tb_arena mem = { 0 };
    const char *text = "no";
    tb_rc rc = tb_setting_text(&text, b, "flame", upto, &mem, err);

    *out = rc == TB_OK && strcmp(text, "yes") == 0;
    tb_arena_free(&mem);
    return rc;
}

/* "finish:flame_retardant": a finish that the words name. */
static bool fits_finish(const char *list, unsigned finish)
{
    for (size_t z = 0; z < tb_finish_count(); z++) {
        char word[80];
        int n = snprintf(word, sizeof word, "finish:%s", tb_finish_key((int)z));

        if (finish & 1u << z && tb_word_listed(list, word, (size_t)n, "|"))
            return true;
    }
    return false;
}

/* What must not be burned or cut stands there first, whoever said that it is in the cloth. */
static bool asks(const char *list, const struct tb_declaration *d)
{
    int fibre;

    return tb_declaration_handling(d, &fibre) != TB_HANDLING_ANY &&
           tb_word_listed(list, tb_fibre_at(fibre)->key, strlen(tb_fibre_at(fibre)->key), "|");
}

static bool fits_fibres(const char *list, const struct tb_declaration *d)
{
    const struct tb_composition *c = &d->comp;
    bool known = c->n > 0;

    if (strcmp(list, "*") == 0)
        return true;
    if (fits_finish(list, d->finish) || asks(list, d))
        return true;
    for (size_t p = 0; p < c->n; p++)
        for (size_t i = 0; i < c->part[p].n; i++) {
            int f = c->part[p].share[i].fibre;

            if (f < 0)
                known = false;
            else if (tb_word_listed(list, tb_fibre_at(f)->key, strlen(tb_fibre_at(f)->key), "|"))
                return true;
        }
    return !known && tb_word_listed(list, "?", 1, "|");
}

/* A test's row by name; "*" serves every bench test but not the burn, which has rows of its own. */
static bool fits_test(const char *of, const char *test)
{
    return strcmp(of, test) == 0 || (strcmp(of, "*") == 0 && strcmp(test, "burn") != 0);
}

void tb_bench_cautions(const struct tb_caution **out, size_t *n, const struct tb_declaration *d,
                       const char *test, struct tb_arena *mem)
{
    struct tb_caution *list = tb_arena_alloc(mem, tb_ref_caution_n * sizeof *list);

    bool never = strcmp(test, "burn") == 0 && tb_declaration_handling(d, NULL) != TB_HANDLING_ANY;

    *n = 0;
    for (size_t i = 0; i < tb_ref_caution_n; i++)
        if (fits_test(tb_ref_caution[i].test, test) && fits_fibres(tb_ref_caution[i].fibres, d) &&
            !(never && strcmp(tb_ref_caution[i].fibres, "*") == 0))
            list[(*n)++] = (struct tb_caution){ tb_ref_caution[i].say, tb_ref_caution[i].source };
    *out = list;
}

void tb_bench_coverage(struct tb_text *out, enum tb_tongue to, int64_t burnt, int64_t tested, int64_t bolts)
{
    long long b = burnt, t = tested, all = bolts;

    if (t <= b)
        tb_text_addf(out,
                     tb_trn(to, "%lld of %lld bolt burnt", "%lld of %lld bolts burnt", (unsigned long)bolts),
                     b, all);
    else if (b == 0)
        tb_text_addf(out,
                     tb_trn(to, "%lld of %lld bolt tested without a flame",
                            "%lld of %lld bolts tested without a flame", (unsigned long)bolts),
                     t, all);
    else
        tb_text_addf(out,
                     tb_trn(to, "%lld of %lld bolt tested, %lld of them burnt",
                            "%lld of %lld bolts tested, %lld of them burnt", (unsigned long)bolts),
                     t, all, b);
}
