/*
 * The wording printed for a composition is read back and found right: by the law of the market, and by the reader
 * of declarations. 20,000 random compositions a market, from a fixed seed.
 */
#include "tenterbook/law.h"

#include "law/inside.h"

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

#ifndef ROUNDS
#define ROUNDS 20000
#endif

static uint64_t seed, every_fourth;

/* splitmix64: the same numbers on every machine. */
static unsigned random_below(unsigned n)
{
    uint64_t z = (seed += 0x9E3779B97F4A7C15u);

    z = (z ^ (z >> 30)) * 0xBF58476D1CE4E5B9u;
    z = (z ^ (z >> 27)) * 0x94D049BB133111EBu;
    return (unsigned)((z ^ (z >> 31)) % n);
}

static int random_fibre(const struct tb_part *p)
{
    static const char *const usual[] = { "cotton",   "flax",      "viscose", "wool",     "silk",
                                         "nylon",    "polyester", "acrylic", "elastane", "modal",
                                         "cashmere", "lyocell",   "mohair" };
    int fibre;
    bool there;

    do {
        fibre = random_below(3) ? tb_fibre_by_key(usual[random_below(TB_COUNT(usual))])
                                : (int)random_below((unsigned)tb_fibre_count());
        there = false;
        for (size_t i = 0; i < p->n; i++)
            there = there || p->share[i].fibre == fibre;
    } while (there);
    return fibre;
}

/* One to five fibres in tenths of a per cent (or whole ones), in no order, sometimes with "other fibres". */
static void random_composition(struct tb_composition *c)
{
    struct tb_part *p = tb_composition_add_part(c, TB_PART_WHOLE);
    unsigned n = 1 + random_below(5), step = random_below(2) ? 1 : 10, left = 1000;

    for (unsigned i = 0; i < n; i++) {
        unsigned most = left - step * (n - 1 - i), part;
        int fibre = random_below(30) || n == 1 || i + 1 < n ? random_fibre(p) : TB_FIBRE_OTHER;
        struct tb_share *s;

        part = i + 1 == n ? left : step * (1 + random_below(most / step));
        if (i + 1 < n && part >= left)
            part = left - step * (n - 1 - i);
        left -= part;
        s = tb_part_add_share(p, fibre, part / 10.0);
        if (random_below(12) == 0 && fibre == tb_fibre_by_key("wool"))
            s->marks |= TB_MARK_VIRGIN;
        else if (random_below(15) == 0 && fibre >= 0)
            s->marks |= TB_MARK_RECYCLED;
    }
}

/* The share of the label a fibre of the cloth stands under: its own name, else one that takes it in. */
static const struct tb_share *stands_under(const struct tb_law *law, const struct tb_ref_market *m,
                                           const char *lang, const struct tb_part *p,
                                           const struct tb_share *of)
{
    bool marked = tb_law_phrase(law, m, "recycled", lang) != NULL; /* the market prints a word for it */

    for (int wide = 0; wide < 2 && of->fibre >= 0; wide++)
        for (size_t i = 0; i < p->n; i++) {
            const struct tb_share *s = &p->share[i];

            if (s->fibre < 0 || (marked && (s->marks ^ of->marks) & TB_MARK_RECYCLED))
                continue;
            if (wide ? tb_law_name_covers(m, s->fibre, of->fibre)
                     : tb_law_same_name(law, m, s->fibre, of->fibre, lang))
                return s;
        }
    return NULL;
}

/* The reader of declarations, which knows no law, reads the same figures for the same fibres. */
static bool read_as_declared(const char *text, const struct tb_composition *said)
{
    struct tb_declaration d;
    bool same;

    tb_declaration_read(&d, text, strlen(text));
    same = tb_declaration_clear(&d) && d.comp.n == 1;
    for (size_t i = 0; same && i < said->part[0].n; i++)
        if (said->part[0].share[i].fibre >= 0)
            same = fabs(tb_part_percent(&d.comp.part[0], said->part[0].share[i].fibre) -
                        tb_part_percent(&said->part[0], said->part[0].share[i].fibre)) < 1e-6;
    for (size_t i = 0; !same && i < d.n; i++)
        (void)printf("#    the reader of declarations: %s\n", d.doubt[i].say);
    tb_declaration_free(&d);
    return same;
}

/* Each share of the label holds what stands under it, figure for figure; "other fibres" holds the rest. */
static bool read_back(const struct tb_law *law, const char *market, const char *lang, const char *text,
                      const struct tb_composition *c)
{
    const struct tb_ref_market *m = tb_law_market(market);
    struct label label;
    bool same;

    tb_law_label_read(&label, law, m->langs, text, strlen(text));
    same = label.comp.n == 1 && label.strays == 0 && label.orphans == 0;
    for (size_t i = 0; same && i < label.comp.part[0].n; i++) {
        const struct tb_share *s = &label.comp.part[0].share[i];
        double expected = 0;

        for (size_t k = 0; k < c->part[0].n; k++) {
            const struct tb_share *under =
                stands_under(law, m, lang, &label.comp.part[0], &c->part[0].share[k]);

            if (under == s || (!under && s->fibre == TB_FIBRE_OTHER))
                expected += c->part[0].share[k].percent;
        }
        same = fabs(expected - s->percent) < 0.006;
    }
    if (same && every_fourth++ % 4 == 0)
        same = tb_label_settle(&label) && read_as_declared(text, &label.comp);
    tb_law_label_free(&label);
    return same;
}

/* The language of a market, or where it has several to choose from ("bg|cs|...") any one of them. */
static void choose_facts(struct tb_law_facts *f, const struct tb_ref_market *m, char lang[8])
{
    size_t at = 0, n = 0;

    tb_law_facts_none(f);
    (void)snprintf(lang, 8, "%s", m->lang);
    f->virgin = random_below(2);
    f->unchecked = random_below(4) == 0;
    if (!strchr(m->langs, '|'))
        return;
    while (tb_law_next_lang(m->langs, &at, lang))
        n++;
    at = 0;
    for (unsigned left = 1 + random_below((unsigned)n); left > 0; left--)
        (void)tb_law_next_lang(m->langs, &at, lang);
    f->lang = lang;
}

static void one_round(const struct tb_law *law, const char *market, size_t *printed)
{
    struct tb_composition c = { 0 };
    struct tb_law_question q = { .market = market, .text = "", .found = &c };
    struct tb_law_answer wording, answer;
    struct tb_err err = { 0 };
    struct tb_text line = { 0 };
    char lang[8];
    bool good;

    random_composition(&c);
    choose_facts(&q.facts, tb_law_market(market), lang);
    assert_int_equal(tb_law_check(&wording, law, &q, &err), TB_OK);
    if (!wording.wordings) {
        assert_true(wording.refusal[0] != '\0');
        tb_law_answer_free(&wording);
        tb_composition_free(&c);
        return;
    }
    ++*printed;
    assert_int_equal(wording.wordings, 1);
    q.text = wording.wording[0];
    q.text_len = strlen(q.text);
    assert_int_equal(tb_law_check(&answer, law, &q, &err), TB_OK);
    good = answer.ok && read_back(law, market, lang, wording.wording[0], &c);
    if (!good) {
        tb_composition_print(&line, &c);
        (void)printf("# %s %s: %s -> %s\n", market, lang, tb_text_str(&line), wording.wording[0]);
        for (size_t i = 0; i < answer.n && answer.finding[i].severity == TB_SEVERITY_FAULT; i++)
            (void)printf("#    %s: %s\n", answer.finding[i].rule, answer.finding[i].message);
    }
    tb_law_answer_free(&answer);
    tb_law_answer_free(&wording);
    tb_text_free(&line);
    tb_composition_free(&c);
    assert_true(good);
}

static void all_rounds(const char *market, double least)
{
    struct tb_law *law = tb_law_new();
    size_t printed = 0;

    seed = 20111018;
    every_fourth = 0;
    for (int i = 0; i < ROUNDS; i++)
        one_round(law, market, &printed);
    (void)printf("# %s: wording for %zu of %d compositions, the others refused with a reason\n", market,
                 printed, ROUNDS);
    if ((double)printed < least * ROUNDS)
        fail_msg(
            "%s has wording for too few: law_name.csv and label_phrase.csv lack names of usual fibres, or of "
            "'other fibres', that are not from memory",
            market);
    tb_law_free(law);
}

static void what_a_label_may_say_in_a_market_known_in_full_is_found_right_when_read_back(void **state)
{
    size_t walked = 0;

    (void)state;
    for (size_t i = 0; i < tb_market_count(); i++) {
        struct tb_market m = tb_market_at(i);

        if (m.coverage == TB_COVERAGE_FULL) {
            all_rounds(m.key, 0.3);
            walked++;
        }
    }
    assert_true(walked >= 4);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(what_a_label_may_say_in_a_market_known_in_full_is_found_right_when_read_back),
    };

    return cmocka_run_group_tests(tests, NULL, NULL);
}
