/*
 * Labels and declarations are read from one row of tokens by two readers. Wherever both understand the whole of a
 * text, they make the same composition of it: the same parts, fibres and percentages, and what is said of new and
 * used fibre.
 */
#include "law_rows.h"

#include "law/inside.h"

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>

#include <cmocka.h>

#define NEAR 1e-9
#define MARKS                                                                                                \
    (TB_MARK_VIRGIN | TB_MARK_RECYCLED | TB_MARK_PURE) /* a label takes no note of "combed", "organic" */

/* Texts that a declaration understands and the law does not take for the composition of a label. */
static const struct {
    const char *text, *why;
} by_law[] = {
    { "'pure alpaca' (100%)", "on a label the percentage of a name is not put in brackets behind it" },
    { "100% lambswool", "a word for the wool of lambs is no name of a fibre" },
    { "100% shoddy", "a word for reclaimed wool is no name of a fibre" },
    { "100% reprocessed wool", "the law has the word no longer: a label says recycled wool" },
};

/* The place of the text among them, or their number. */
static size_t place_by_law(const char *text)
{
    size_t i = 0;

    while (i < TB_COUNT(by_law) && strcmp(by_law[i].text, text) != 0)
        i++;
    return i;
}

static double percent_of(const struct tb_part *p, size_t k)
{
    return isnan(p->share[k].percent) && p->n == 1 ? 100 : p->share[k].percent;
}

static bool same_part(const struct tb_part *a, const struct tb_part *b)
{
    if (a->kind != b->kind || a->n != b->n)
        return false;
    for (size_t k = 0; k < a->n; k++)
        if (a->share[k].fibre != b->share[k].fibre || fabs(percent_of(a, k) - percent_of(b, k)) > NEAR ||
            (a->share[k].marks ^ b->share[k].marks) & MARKS)
            return false;
    return true;
}

static bool same_composition(const struct tb_composition *a, const struct tb_composition *b)
{
    bool same = a->n == b->n;

    for (size_t i = 0; same && i < a->n; i++)
        same = same_part(&a->part[i], &b->part[i]);
    return same;
}

/* How often each reader understood the whole of a text, and how often they differed. */
struct tally {
    size_t both, label_alone, declaration_alone, neither, differ;
    bool met[TB_COUNT(by_law) + 1]; /* the texts of by_law, and one for all others */
};

/* Does the label understand the whole of its text? Then *out is what it says. */
static bool label_reads(struct tb_composition *out, const struct tb_law *law, const char *langs,
                        const char *text)
{
    struct label l;
    bool whole;

    tb_law_label_read(&l, law, langs, text, strlen(text));
    tb_law_label_read_freely(&l, text, strlen(text));
    *out = (struct tb_composition){ 0 };
    whole = l.strays == 0 && l.orphans == 0 && tb_label_settle(&l);
    if (whole) {
        *out = l.comp;
        l.comp = (struct tb_composition){ 0 };
    }
    tb_law_label_free(&l);
    return whole;
}

static void say_both(const char *market, const char *text, const struct tb_composition *label,
                     const struct tb_composition *declared)
{
    struct tb_text a = { 0 }, b = { 0 };

    tb_composition_print(&a, label);
    tb_composition_print(&b, declared);
    (void)printf("# %s: '%s'\n#    as a label        %s\n#    as a declaration  %s\n", market, text,
                 tb_text_str(&a), tb_text_str(&b));
    tb_text_free(&a);
    tb_text_free(&b);
}

static void read_both(struct tally *t, const struct tb_law *law, const char *text)
{
    struct tb_declaration d;
    size_t place = place_by_law(text);
    bool clear, excused = place < TB_COUNT(by_law);

    t->met[place] = true;
    tb_declaration_read(&d, text, strlen(text));
    clear = tb_declaration_clear(&d);
    for (size_t m = 0; m < tb_market_count(); m++) {
        struct tb_market market = tb_market_at(m);
        struct tb_composition said;
        bool whole = label_reads(&said, law, market.langs, text);

        t->both += whole && clear;
        t->label_alone += whole && !clear;
        t->declaration_alone += clear && !whole;
        t->neither += !clear && !whole;
        if (clear && !whole && !excused)
            fail_msg("%s: '%s' is a composition to a declaration and not to a label", market.key, text);
        if (whole && clear && (excused || !same_composition(&said, &d.comp))) {
            say_both(market.key, text, &said, &d.comp);
            t->differ++;
        }
        tb_composition_free(&said);
    }
    tb_declaration_free(&d);
}

static void every_text_of_the_tables_means_the_same_to_both_readers(void **state)
{
    static const struct {
        const char *table, *column;
    } from[] = {
        { "declared_texts.csv", "text" },   { "label_texts.csv", "text" }, { "label_examples.csv", "text" },
        { "label_examples.csv", "actual" }, { "law_rules.csv", "text" },   { "law_rules.csv", "actual" },
        { "fibre_shorthand.csv", "code" },
    };
    struct tb_law *law = tb_law_new();
    struct tally t = { 0 };

    (void)state;
    for (size_t f = 0; f < TB_COUNT(from); f++) {
        struct law_rows rows = law_read(from[f].table);

        for (size_t i = 1; i < rows.n; i++)
            read_both(&t, law, law_at(&rows, i, from[f].column));
        law_rows_free(&rows);
    }
    (void)printf("# both understand %zu texts, a label alone %zu, a declaration alone %zu, neither %zu\n",
                 t.both, t.label_alone, t.declaration_alone, t.neither);
    assert_int_equal(t.differ, 0);
    assert_true(t.both > 10000); /* of some 19,000; most others lack a figure, or are asked about */
    for (size_t i = 0; i < TB_COUNT(by_law); i++)
        if (!t.met[i])
            fail_msg("'%s' is in no table any more: %s", by_law[i].text, by_law[i].why);
    tb_law_free(law);
}

/* Forms that one of the readers once took otherwise, with what they mean. */
static void parts_and_figures_are_found_alike(void **state)
{
    static const struct {
        const char *text, *reads;
    } form[] = {
        { "100% cotton, lining 100% polyester", "100 % cotton; lining: 100 % polyester" },
        { "100% cotton, 100% polyester lining", "100 % cotton; lining: 100 % polyester" },
        { "100% polyester pile, cotton backing 100% cotton", "pile: 100 % polyester; back: 100 % cotton" },
        { "100% cotton/coton; lining/doublure: 100% polyester/polyester",
          "100 % cotton; lining: 100 % polyester" },
        { "100% cotton, recycled; lining: 100% silk", "100 % recycled cotton; lining: 100 % silk" },
        { "100% cotton with polyester lining", "100 % cotton; lining: 100 % polyester" },
        { "65% polyester 35% cotton, PVC coated", "65 % polyester, 35 % cotton; coating: 100 % chlorofibre" },
        { "80 +- 5% wool, 20% nylon", "80 % wool, 20 % polyamide" },
        { "97CO 3EL", "" }, /* EL has two readings: a declaration asks, a label may not carry it */
        { "\xE6\xB6\xA4\xE7\xBA\xB6"
          "65%"
          "\xE6\xA3\x89"
          "35%",
          "65 % polyester, 35 % cotton" },
        { "100% pure new wool Super 120's", "" }, /* "Super" is a word of labels alone */
    };
    struct tb_law *law = tb_law_new();

    (void)state;
    for (size_t i = 0; i < TB_COUNT(form); i++) {
        struct tb_declaration d;
        struct tb_composition said;
        struct tb_text reads = { 0 };
        bool whole = label_reads(&said, law, "en+fr", form[i].text);

        tb_declaration_read(&d, form[i].text, strlen(form[i].text));
        if (whole && tb_declaration_clear(&d) && same_composition(&said, &d.comp))
            tb_composition_print(&reads, &said);
        if (strcmp(tb_text_str(&reads), form[i].reads) != 0) {
            say_both("en+fr", form[i].text, &said, &d.comp);
            fail_msg("'%s' does not read '%s' to both", form[i].text, form[i].reads);
        }
        tb_text_free(&reads);
        tb_composition_free(&said);
        tb_declaration_free(&d);
    }
    tb_law_free(law);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_text_of_the_tables_means_the_same_to_both_readers),
        cmocka_unit_test(parts_and_figures_are_found_alike),
    };

    return cmocka_run_group_tests(tests, NULL, NULL);
}
