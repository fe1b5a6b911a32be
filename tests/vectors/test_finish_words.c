/* Each finish in each language the reader knows, wherever it stands: beside the fibres, never in their place. */
#include "tenterbook/fibre.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <string.h>

#include <cmocka.h>

#include "vectors/rows.h"

/* Where a word for a finish may stand: behind, with a comma, in brackets, before. */
static const char *const places[] = { "%2$s %1$s", "%2$s, %1$s", "%2$s (%1$s)", "%1$s %2$s" };

/* What the cloth is coated with where a finish is told as a part. */
static const char *coat_of(const char *finish)
{
    return strcmp(finish, "coating_pu") == 0        ? "polyurethane"
           : strcmp(finish, "coating_pvc") == 0     ? "chlorofibre"
           : strcmp(finish, "coating_acrylic") == 0 ? "acrylic"
                                                    : "";
}

/* Is the finish read, by itself, as a mark of the fibre, or as a coating of its material? */
static bool has_finish(const struct tb_declaration *d, const char *finish)
{
    const struct tb_composition *c = &d->comp;

    if (strcmp(finish, "mercerised") == 0)
        return c->part[0].share[0].marks & TB_MARK_MERCERISED;
    if (c->n == 2)
        return c->part[1].kind == TB_PART_COATING && c->part[1].n == 1 && !d->finish &&
               c->part[1].share[0].fibre == tb_fibre_by_key(coat_of(finish));
    return d->finish == 1u << tb_finish_by_key(finish);
}

/* 100 % cotton, clear, and that finish. */
static bool reads_so(const char *text, const char *finish)
{
    struct tb_declaration d;
    bool so;

    tb_declaration_read(&d, text, strlen(text));
    so = tb_declaration_clear(&d) && d.comp.n <= 2 && d.comp.part[0].kind == TB_PART_WHOLE &&
         d.comp.part[0].n == 1 && d.comp.part[0].share[0].fibre == tb_fibre_by_key("cotton") &&
         d.comp.part[0].share[0].percent == 100 && has_finish(&d, finish);
    tb_declaration_free(&d);
    return so;
}

static void each_finish_is_read_in_each_language_wherever_it_stands(void **state)
{
    struct rows t = rows_read("finish_words.csv"); /* lang, finish, cloth, words, source */

    (void)state;
    assert_true(t.n > 1290);
    for (size_t i = 1; i < t.n; i++)
        for (size_t k = 0; k < TB_COUNT(places); k++) {
            struct tb_text text = { 0 };

            tb_text_addf(&text, places[k], t.row[i][3], t.row[i][2]);
            if (!reads_so(text.s, t.row[i][1]))
                fail_msg("%s: '%s' does not read as cotton with the finish %s", t.row[i][0], text.s,
                         t.row[i][1]);
            tb_text_free(&text);
        }
    rows_free(&t);
}

static void a_finish_that_nobody_knows_is_asked_about_and_takes_no_fibre_away(void **state)
{
    struct rows t = rows_read("finish_words.csv");

    (void)state;
    for (size_t i = 1; i < t.n; i++)
        for (size_t k = 0; k < TB_COUNT(places); k++) {
            struct tb_text text = { 0 };
            struct tb_declaration d;

            tb_text_addf(&text, places[k], "glimflected", t.row[i][2]);
            tb_declaration_read(&d, text.s, text.n);
            assert_false(tb_declaration_clear(&d));
            assert_int_equal(d.n, 1);
            assert_int_equal(d.doubt[0].kind, TB_DOUBT_UNKNOWN_WORD);
            assert_int_equal(d.comp.part[0].share[0].fibre, tb_fibre_by_key("cotton"));
            assert_true(d.comp.part[0].share[0].percent == 100);
            tb_declaration_free(&d);
            tb_text_free(&text);
        }
    rows_free(&t);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(each_finish_is_read_in_each_language_wherever_it_stands),
        cmocka_unit_test(a_finish_that_nobody_knows_is_asked_about_and_takes_no_fibre_away),
    };

    return cmocka_run_group_tests(tests, NULL, NULL);
}
