/* Published declarations, label texts and lists of shorthand: read as their sources mean them, or asked about. */
#include "tenterbook/fibre.h"

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include "vectors/rows.h"

static bool has_doubt(const struct tb_declaration *d, enum tb_doubt_kind kind)
{
    for (size_t i = 0; i < d->n; i++)
        if (d->doubt[i].kind == kind)
            return true;
    return false;
}

/* "cotton=60;silk=40": what is known with a figure. */
static void known_figures(struct tb_text *out, const struct tb_composition *c)
{
    for (size_t i = 0; i < c->n; i++)
        for (size_t k = 0; k < c->part[i].n; k++) {
            const struct tb_share *s = &c->part[i].share[k];

            if (s->fibre >= 0 && !isnan(s->percent))
                tb_text_addf(out, "%s%s=%.10g", out->n ? ";" : "", tb_fibre_at(s->fibre)->key, s->percent);
        }
}

static void declarations_of_market_surveillance_read_as_published(void **state)
{
    struct rows t = rows_read("declared_texts.csv"); /* id, text, machine, differs, source */

    (void)state;
    assert_true(t.n > 80);
    for (size_t i = 1; i < t.n; i++) {
        const char *text = t.row[i][1], *machine = t.row[i][2], *differs = t.row[i][3];
        struct tb_text reads = { 0 };
        struct tb_declaration d;

        tb_declaration_read(&d, text, strlen(text));
        known_figures(&reads, &d.comp);
        if ((strcmp(tb_text_str(&reads), machine) == 0) != (*differs == '\0'))
            fail_msg("%s '%s' reads %s, published as %s (%s)", t.row[i][0], text, tb_text_str(&reads),
                     machine, differs);
        if (*differs && tb_declaration_clear(&d))
            fail_msg("%s '%s' differs from what was published and nobody is asked", t.row[i][0], text);
        tb_text_free(&reads);
        tb_declaration_free(&d);
    }
    rows_free(&t);
}

/* Keys of the first part joined by "+". */
static void keys_of(struct tb_text *out, const struct tb_composition *c)
{
    for (size_t k = 0; c->n && k < c->part[0].n; k++) {
        int fibre = c->part[0].share[k].fibre;

        tb_text_addf(out, "%s%s", k ? "+" : "", fibre >= 0 ? tb_fibre_at(fibre)->key : "other_fibres");
        if (!isnan(c->part[0].share[k].percent))
            tb_text_addf(out, " %g", c->part[0].share[k].percent);
    }
}

static void shorthand_is_read_as_listed_and_what_has_two_readings_asks(void **state)
{
    struct rows t = rows_read("fibre_shorthand.csv"); /* code, expect, meaning, source */

    (void)state;
    assert_true(t.n > 80);
    for (size_t i = 1; i < t.n; i++) {
        const char *code = t.row[i][0];
        bool ask = strcmp(t.row[i][1], "ask") == 0;
        struct tb_text keys = { 0 };
        struct tb_declaration d;

        tb_declaration_read(&d, code, strlen(code));
        keys_of(&keys, &d.comp);
        if (ask && (tb_declaration_clear(&d) ||
                    (!has_doubt(&d, TB_DOUBT_AMBIGUOUS) && !has_doubt(&d, TB_DOUBT_NUMBER))))
            fail_msg("'%s' has more than one reading and is taken for %s", code, tb_text_str(&keys));
        if (ask)
            for (size_t k = 0; d.comp.n && k < d.comp.part[0].n; k++)
                assert_int_equal(d.comp.part[0].share[k].fibre, TB_FIBRE_UNKNOWN);
        if (!ask && (strcmp(tb_text_str(&keys), t.row[i][2]) != 0 || !has_doubt(&d, TB_DOUBT_ABBREVIATION)))
            fail_msg("'%s' is %s, read as %s", code, t.row[i][2], tb_text_str(&keys));
        tb_text_free(&keys);
        tb_declaration_free(&d);
    }
    rows_free(&t);
}

static void label_texts_are_read_without_a_figure_getting_lost_unsaid(void **state)
{
    struct rows t = rows_read("label_texts.csv"); /* id, text, source */
    size_t clear = 0;

    (void)state;
    for (size_t i = 1; i < t.n; i++) {
        const char *text = t.row[i][1];
        struct tb_declaration d;
        size_t figures = 0, kept = 0;

        tb_declaration_read(&d, text, strlen(text));
        for (const char *p = text; (p = strchr(p, '%')); p++)
            figures++;
        for (size_t p = 0; p < d.comp.n; p++)
            for (size_t k = 0; k < d.comp.part[p].n; k++)
                kept += isnan(d.comp.part[p].share[k].percent) ? 0 : 1;
        clear += tb_declaration_clear(&d);
        if (kept < figures && tb_declaration_clear(&d))
            fail_msg("%s '%s': %zu figures, %zu kept, nothing asked", t.row[i][0], text, figures, kept);
        tb_declaration_free(&d);
    }
    assert_true(clear > 60); /* the others are sentences, lists to tick, or leave something open */
    rows_free(&t);
}

/* Is a blocking doubt about this stretch of the text? */
static bool asks_about(const struct tb_declaration *d, const char *part)
{
    for (size_t i = 0; i < d->n; i++)
        if (tb_doubt_blocks(d->doubt[i].kind) && d->doubt[i].len == strlen(part) &&
            strncmp(d->text + d->doubt[i].at, part, d->doubt[i].len) == 0)
            return true;
    return false;
}

static void words_of_the_trade_are_read_and_what_they_leave_open_is_asked(void **state)
{
    struct rows t = rows_read("trade_texts.csv"); /* text, reads, asks, source */

    (void)state;
    assert_true(t.n > 130);
    for (size_t i = 1; i < t.n; i++) {
        const char *text = t.row[i][0], *asks = t.row[i][2];
        struct tb_text reads = { 0 };
        struct tb_declaration d;

        tb_declaration_read(&d, text, strlen(text));
        tb_declaration_print(&reads, &d);
        if (strcmp(tb_text_str(&reads), t.row[i][1]) != 0)
            fail_msg("'%s' is '%s', read as '%s'", text, t.row[i][1], tb_text_str(&reads));
        if (tb_declaration_clear(&d) != (*asks == '\0') || (*asks && !asks_about(&d, asks)))
            fail_msg("'%s' must ask about '%s' and nothing else", text, asks);
        tb_text_free(&reads);
        tb_declaration_free(&d);
    }
    rows_free(&t);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(declarations_of_market_surveillance_read_as_published),
        cmocka_unit_test(shorthand_is_read_as_listed_and_what_has_two_readings_asks),
        cmocka_unit_test(label_texts_are_read_without_a_figure_getting_lost_unsaid),
        cmocka_unit_test(words_of_the_trade_are_read_and_what_they_leave_open_is_asked),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
