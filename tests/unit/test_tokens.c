/* The tokens of a text and the parts they lie in: what declarations and labels are both read from. */
#include "tenterbook/token.h"

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

/* Each token as its letter and its text: "N60%|W cotton|, ,". */
static void spell(struct tb_text *out, const char *text, const struct tb_vocabulary *v)
{
    static const char letter[] = "NWM,/:-q?"; /* in the order of enum tb_token_kind */
    struct tb_tokens t;

    tb_tokens_read(&t, text, strlen(text), v);
    for (size_t i = 0; i < t.n; i++)
        tb_text_addf(out, "%s%c %.*s", i ? "|" : "", letter[t.item[i].kind], (int)t.item[i].len,
                     text + t.item[i].at);
    tb_tokens_free(&t);
}

static void assert_spelt(const char *text, const struct tb_vocabulary *v, const char *as)
{
    struct tb_text t = { 0 };

    spell(&t, text, v);
    assert_string_equal(tb_text_str(&t), as);
    tb_text_free(&t);
}

static void a_text_is_numbers_words_measures_and_signs(void **state)
{
    (void)state;
    assert_spelt("60% cotton, 40 % silk", NULL, "N 60%|W cotton|, ,|N 40 %|W silk");
    assert_spelt("97CO/3EL", NULL, "N 97|W CO|/ /|N 3|W EL");
    assert_spelt("150 g/m2 40s 120's", NULL, "M 150 g/m2|M 40s|M 120's");
    assert_spelt("cotton - silk-wool", NULL, "W cotton|, -|W silk|- -|W wool");
    assert_spelt("(50%) Tencel\xC2\xAE: x\x01", NULL, "q (|N 50%|q )|W Tencel|q \xC2\xAE|: :|W x|? \x01");
    assert_spelt("\xE6\xB6\xA4\xE7\xBA\xB6"
                 "65%\xE6\xA3\x89"
                 "35%",
                 NULL, /* Chinese has no spaces */
                 "W \xE6\xB6\xA4\xE7\xBA\xB6|N 65%|W \xE6\xA3\x89|N 35%");
    assert_spelt("", NULL, "");
}

static void a_number_has_what_belongs_to_it(void **state)
{
    static const struct {
        const char *text;
        double value, tolerance, to;
        bool percent;
    } row[] = {
        { "95,5 %", 95.5, NAN, NAN, true },
        { "%60", 60, NAN, NAN, true },
        { "80 +- 5%", 80, 5, NAN, true },
        { "80 \xC2\xB1 5 per cent", 80, 5, NAN, true },
        { "55-80 %", 55, NAN, 80, true },
        { "60 to 70", 60, NAN, 70, false },
        { "65-35", 65, NAN, NAN, false }, /* they make 100: a ratio */
        { "1.2.3%", NAN, NAN, NAN, true },
        { "1e300%", NAN, NAN, NAN, true },
        { "5-1.2.3%", NAN, NAN, NAN, true },
        { "99999999999%", NAN, NAN, NAN, true },
        { "\xEF\xBC\x96\xEF\xBC\x90\xEF\xBC\x85", 60, NAN, NAN, true }, /* full width */
    };

    (void)state;
    for (size_t i = 0; i < TB_COUNT(row); i++) {
        struct tb_tokens t;
        const struct tb_token *n;

        tb_tokens_read(&t, row[i].text, strlen(row[i].text), NULL);
        n = &t.item[0];
        assert_int_equal(n->kind, TB_TOKEN_NUMBER);
        assert_true(isnan(row[i].value) ? isnan(n->value) : fabs(n->value - row[i].value) < 1e-9);
        assert_true(isnan(row[i].tolerance) ? isnan(n->tolerance) : n->tolerance == row[i].tolerance);
        assert_true(isnan(row[i].to) ? isnan(n->to) : n->to == row[i].to);
        assert_int_equal(n->percent, row[i].percent);
        tb_tokens_free(&t);
    }
}

/* The mass of an area behind a figure belongs to it, however it is written: what follows is the next word. */
static void a_mass_of_an_area_is_one_figure(void **state)
{
    static const char *const text[] = { "150 g/m2 silk", "150 g/sqm silk", "150 g/m silk", "150g/m2 silk",
                                        "150 gsm silk" };

    (void)state;
    for (size_t i = 0; i < TB_COUNT(text); i++) {
        struct tb_tokens t;

        tb_tokens_read(&t, text[i], strlen(text[i]), NULL);
        assert_int_equal(t.n, 2);
        assert_int_equal(t.item[0].at, 0);
        assert_int_equal(t.item[0].len, strcspn(text[i] + 4, " ") + 4);
        assert_int_equal(t.item[1].at, strlen(text[i]) - 4);
        assert_int_equal(t.item[1].len, 4);
        tb_tokens_free(&t);
    }
}

/* What a token covers is what a finding quotes: the spaces behind a word are not part of it, wherever it stands. */
static void a_token_ends_before_the_spaces_behind_it(void **state)
{
    static const char text[] = "silk \t 60 % \t";
    struct tb_tokens t;

    (void)state;
    tb_tokens_read(&t, text, strlen(text), NULL);
    assert_int_equal(t.n, 2);
    assert_int_equal(t.item[0].len, 4);
    assert_int_equal(t.item[1].at, 7);
    assert_int_equal(t.item[1].len, 4);
    tb_tokens_free(&t);
}

static bool knows_no_silk(const void *who, size_t row, const char *written, size_t len)
{
    assert_ptr_equal(who, tb_name_at(0));
    assert_true(len > 0 && written[0] != ' ');
    return tb_name_at(row)->fibre != tb_fibre_by_key("silk");
}

static void a_reader_brings_phrases_of_its_own_and_the_longest_wins(void **state)
{
    static const char text[] = "raw silk, MADE  up-of silk";
    struct tb_phrases own = { 0 };
    struct tb_vocabulary v = { &own, knows_no_silk, tb_name_at(0) };
    struct tb_tokens t;

    (void)state;
    tb_phrases_add(&own, "made up of", 7, TB_WORD_FILLER, -1);
    tb_phrases_add(&own, "made", 8, TB_WORD_FILLER, -1);
    tb_phrases_add(&own, "silk", 9, TB_WORD_CODE, -1);
    tb_phrases_sort(&own);
    tb_tokens_read(&t, text, strlen(text), &v);
    assert_int_equal(t.n, 5);
    assert_int_equal(t.item[0].what,
                     TB_WORD_UNKNOWN); /* "raw silk" is a word of silk, so "raw" alone is left */
    assert_int_equal(t.item[1].row, -1);
    assert_int_equal(own.item[t.item[1].phrase].row, 9);
    assert_int_equal(t.item[3].len, strlen("MADE  up-of"));
    assert_int_equal(t.item[3].phrases, 1);
    assert_int_equal(own.item[t.item[3].phrase].row, 7);
    tb_tokens_free(&t);
    tb_phrases_free(&own);
    assert_int_equal(own.n, 0);
}

static void every_row_of_a_word_is_found_as_it_is_written(void **state)
{
    static const char text[] = "polyester E e";
    struct tb_tokens t;
    size_t rows = 0;

    (void)state;
    tb_tokens_read(&t, text, strlen(text), NULL);
    for (int r = t.item[0].row; r >= 0; r = tb_token_next_row(&t.item[0], r, text, NULL)) {
        assert_int_equal(tb_name_at((size_t)r)->fibre, tb_fibre_by_key("polyester"));
        rows++;
    }
    assert_true(rows > 4);                               /* English, French, German, other laws */
    assert_int_equal(t.item[1].what, TB_WORD_AMBIGUOUS); /* the code counts in capitals only */
    assert_int_equal(t.item[2].what, TB_WORD_AND);
    assert_int_equal(tb_token_next_row(&t.item[0], -1, text, NULL), -1);
    tb_tokens_free(&t);
}

/* The part of each token as a digit, '=' for a name, '.' for what is set aside; then the kinds of the parts. */
static void assert_cut(const char *text, const char *as)
{
    struct tb_text out = { 0 };
    struct tb_tokens t;
    struct tb_cut cut;

    tb_tokens_read(&t, text, strlen(text), NULL);
    tb_tokens_cut(&cut, &t);
    for (size_t i = 0; i < t.n; i++)
        tb_text_addc(&out, cut.of[i] == TB_CUT_NAME    ? '='
                           : cut.of[i] == TB_CUT_ASIDE ? '.'
                                                       : (char)('0' + cut.of[i]));
    for (size_t i = 0; i < cut.n; i++)
        tb_text_addf(&out, " %s", tb_part_key(cut.part[i].kind));
    if (strcmp(tb_text_str(&out), as) != 0)
        fail_msg("'%s' is cut as %s, not as %s", text, tb_text_str(&out), as);
    tb_text_free(&out);
    tb_cut_free(&cut);
    tb_tokens_free(&t);
}

static void parts_are_found_before_and_behind_their_names(void **state)
{
    (void)state;
    assert_cut("60% cotton 40% silk", "0000 whole");
    assert_cut("warp cotton, weft linen", "=00=1 warp weft");
    assert_cut("cotton warp, linen weft", "0=01= warp weft");
    assert_cut("100% cotton, lining 100% silk", "000=11 whole lining");
    assert_cut("100% cotton, 100% silk lining", "00111= whole lining");
    assert_cut("100% silk pile, cotton backing 100% cotton", "00=0.=11 pile back");
    assert_cut("shell/Oberstoff: 100% silk", "=0=000 shell");
    assert_cut("upper collar: 100% silk", "==000 other");
    assert_cut("100% cotton, exclusive of lining", "00000 whole");
    assert_cut("wool pile, cotton back (pile 60%, back 40%)", "0=01=....... pile back");
    assert_cut("100% nylon, PU coating", "0001 whole coating");
    assert_cut("", " whole");
}

static void a_word_may_name_a_part_and_its_fibre_in_one(void **state)
{
    static const char text[] = "100% nylon PU coating lining";
    struct tb_tokens t;
    struct tb_cut cut;

    (void)state;
    tb_tokens_read(&t, text, strlen(text), NULL);
    tb_tokens_cut(&cut, &t);
    assert_int_equal(t.n, 4);
    assert_true(tb_cut_names_both(&cut, &t, 2));
    assert_false(tb_cut_names_both(&cut, &t, 1));
    assert_false(tb_cut_names_both(&cut, &t, 3));
    tb_cut_free(&cut);
    assert_null(cut.of);
    tb_tokens_free(&t);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_text_is_numbers_words_measures_and_signs),
        cmocka_unit_test(a_number_has_what_belongs_to_it),
        cmocka_unit_test(a_mass_of_an_area_is_one_figure),
        cmocka_unit_test(a_token_ends_before_the_spaces_behind_it),
        cmocka_unit_test(a_reader_brings_phrases_of_its_own_and_the_longest_wins),
        cmocka_unit_test(every_row_of_a_word_is_found_as_it_is_written),
        cmocka_unit_test(parts_are_found_before_and_behind_their_names),
        cmocka_unit_test(a_word_may_name_a_part_and_its_fibre_in_one),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
