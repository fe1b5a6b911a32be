/* Languages of papers: which sentence is found, by how many, and figures and days as Unicode CLDR has them. */
#include "tenterbook/tongue.h"

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <string.h>

#include <cmocka.h>
#include <unicode/udat.h>
#include <unicode/unumberformatter.h>
#include <unicode/ustring.h>

/* The locale of CLDR whose manner each language of papers has. */
static const char *const locale_of[TB_TONGUES] = {
    [TB_ENGLISH] = "en_GB", [TB_GERMAN] = "de_DE",     [TB_SPANISH] = "es_ES",
    [TB_FRENCH] = "fr_FR",  [TB_ITALIAN] = "it_IT",    [TB_POLISH] = "pl_PL",
    [TB_TURKISH] = "tr_TR", [TB_PORTUGUESE] = "pt_PT", [TB_CHINESE] = "zh_Hans_CN",
};

static const char *figure(struct tb_text *t, enum tb_tongue tongue, double value, int places)
{
    tb_text_clear(t);
    tb_tongue_figure(t, tongue, value, places);
    return tb_text_str(t);
}

static const char *day(struct tb_text *t, enum tb_tongue tongue, const char *when)
{
    tb_text_clear(t);
    tb_tongue_day(t, tongue, when);
    return tb_text_str(t);
}

/* ICU carries a copy of CLDR: what it formats is the expected value. */
static void figures_are_written_as_cldr_has_them(void **state)
{
    static const double value[] = { 0, 1.5, 98.5, 999.99, 1234.56, 12345.6, 1234567.89 };
    struct tb_text t = { 0 };

    (void)state;
    for (int tongue = 0; tongue < TB_TONGUES; tongue++) {
        UErrorCode bad = U_ZERO_ERROR;
        UNumberFormatter *f = unumf_openForSkeletonAndLocale(u".00", -1, locale_of[tongue], &bad);
        UFormattedNumber *out = unumf_openResult(&bad);

        for (size_t i = 0; i < TB_COUNT(value); i++) {
            UChar wide[64];
            char expected[128];

            unumf_formatDouble(f, value[i], out, &bad);
            (void)unumf_resultToString(out, wide, 64, &bad);
            (void)u_strToUTF8(expected, sizeof expected, NULL, wide, -1, &bad);
            assert_true(U_SUCCESS(bad));
            assert_string_equal(figure(&t, (enum tb_tongue)tongue, value[i], 2), expected);
        }
        unumf_closeResult(out);
        unumf_close(f);
    }
    tb_text_free(&t);
}

static void days_are_written_as_the_long_dates_of_cldr(void **state)
{
    struct tb_text t = { 0 };
    char when[32];

    (void)state;
    for (int tongue = 0; tongue < TB_TONGUES; tongue++) {
        UErrorCode bad = U_ZERO_ERROR;
        const UChar utc[] = { 'U', 'T', 'C', 0 };
        UDateFormat *f = udat_open(UDAT_NONE, UDAT_LONG, locale_of[tongue], utc, -1, NULL, 0, &bad);

        for (int month = 1; month <= 12; month++) {
            UCalendar *c = ucal_open(utc, -1, locale_of[tongue], UCAL_GREGORIAN, &bad);
            UChar wide[96];
            char expected[192];

            ucal_clear(c);
            ucal_setDate(c, 2026, month - 1, month + 2,
                         &bad); /* 3 January, 4 February ...: one digit and two */
            (void)udat_formatCalendar(f, c, wide, 96, NULL, &bad);
            (void)u_strToUTF8(expected, sizeof expected, NULL, wide, -1, &bad);
            assert_true(U_SUCCESS(bad));
            (void)snprintf(when, sizeof when, "2026-%02d-%02d", month, month + 2);
            assert_string_equal(day(&t, (enum tb_tongue)tongue, when), expected);
            ucal_close(c);
        }
        udat_close(f);
    }
    tb_text_free(&t);
}

static void the_first_of_a_month_is_an_ordinal_in_french_alone(void **state)
{
    struct tb_text t = { 0 };

    (void)state;
    assert_string_equal(day(&t, TB_FRENCH, "2026-10-01"),
                        "1er octobre 2026"); /* common practice, no source */
    assert_string_equal(day(&t, TB_FRENCH, "2026-10-11"), "11 octobre 2026");
    assert_string_equal(day(&t, TB_ITALIAN, "2026-10-01"), "1 ottobre 2026");
    assert_string_equal(day(&t, TB_CHINESE, "2026-10-01"), "2026年10月1日");
    tb_text_free(&t);
}

static void what_is_no_figure_is_a_dash_and_a_loss_has_its_sign(void **state)
{
    struct tb_text t = { 0 };

    (void)state;
    assert_string_equal(figure(&t, TB_GERMAN, (double)NAN, 2), "-");
    assert_string_equal(figure(&t, TB_GERMAN, -1234.5, 2), "-1.234,50");
    assert_string_equal(figure(&t, TB_GERMAN, 30, 0), "30");
    tb_text_free(&t);
}

static void a_sentence_is_found_in_each_language_and_english_is_the_source(void **state)
{
    (void)state;
    assert_string_equal(tb_tr(TB_ENGLISH, "warp"), "warp");
    assert_string_equal(tb_tr(TB_GERMAN, "warp"), "Kette");
    assert_string_equal(tb_tr(TB_SPANISH, "warp"), "urdimbre");
    assert_string_equal(tb_tr(TB_FRENCH, "warp"), "chaîne");
    assert_string_equal(tb_tr(TB_ITALIAN, "warp"), "ordito");
    assert_string_equal(tb_tr(TB_POLISH, "warp"), "osnowa");
    assert_string_equal(tb_tr(TB_PORTUGUESE, "warp"), "teia");
    assert_string_equal(tb_tr(TB_TURKISH, "warp"), "çözgü");
    assert_string_equal(tb_tr(TB_CHINESE, "warp"), "经纱");
    assert_string_equal(tb_tr(TB_GERMAN, "no sentence of any paper"), "no sentence of any paper");
    assert_string_equal(tb_tr(TB_GERMAN, ""), ""); /* the head of a catalogue is no sentence */
}

#define BOLTS(tongue, n) tb_trn(tongue, "%lld bolt, %s", "%lld bolts, %s", n)

/* gettext manual, "Plural forms". */
static void a_plural_follows_the_rule_of_its_language(void **state)
{
    (void)state;
    assert_string_equal(BOLTS(TB_ENGLISH, 1), "%lld bolt, %s");
    assert_string_equal(BOLTS(TB_ENGLISH, 0), "%lld bolts, %s");
    assert_string_equal(BOLTS(TB_FRENCH, 0), "%lld pièce, %s");
    assert_string_equal(BOLTS(TB_FRENCH, 2), "%lld pièces, %s");
    assert_string_equal(BOLTS(TB_ITALIAN, 0), "%lld pezze, %s");
    assert_string_equal(BOLTS(TB_POLISH, 1), "%lld sztuka, %s");
    assert_string_equal(BOLTS(TB_POLISH, 3), "%lld sztuki, %s");
    assert_string_equal(BOLTS(TB_POLISH, 5), "%lld sztuk, %s");
    assert_string_equal(BOLTS(TB_POLISH, 12), "%lld sztuk, %s");
    assert_string_equal(BOLTS(TB_POLISH, 22), "%lld sztuki, %s");
    assert_string_equal(BOLTS(TB_POLISH, 112), "%lld sztuk, %s");
    assert_string_equal(BOLTS(TB_TURKISH, 5), "%lld top, %s");
    assert_string_equal(BOLTS(TB_CHINESE, 1), "%lld 匹，%s");
    assert_string_equal(BOLTS(TB_CHINESE, 5), "%lld 匹，%s");
    assert_string_equal(tb_trn(TB_GERMAN, "%d such", "%d suches", 2), "%d suches");
}

static void a_language_is_known_by_its_word(void **state)
{
    struct tb_err err = { .msg = "" };
    int tongue = -1;

    (void)state;
    assert_int_equal(tb_tongue_of("pt"), TB_PORTUGUESE);
    assert_int_equal(tb_tongue_of(""), TB_ENGLISH);
    assert_int_equal(tb_tongue_of("la"), TB_ENGLISH);
    assert_int_equal(tb_word_read(&tongue, &tb_tongue_words, "la", &err), TB_EINVAL);
    assert_string_equal(
        err.msg, "papers are not written in 'la'; the languages are en, de, es, fr, it, pl, pt, tr and zh");
    assert_int_equal(tongue, -1);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(figures_are_written_as_cldr_has_them),
        cmocka_unit_test(days_are_written_as_the_long_dates_of_cldr),
        cmocka_unit_test(the_first_of_a_month_is_an_ordinal_in_french_alone),
        cmocka_unit_test(what_is_no_figure_is_a_dash_and_a_loss_has_its_sign),
        cmocka_unit_test(a_sentence_is_found_in_each_language_and_english_is_the_source),
        cmocka_unit_test(a_plural_follows_the_rule_of_its_language),
        cmocka_unit_test(a_language_is_known_by_its_word),
    };

    return cmocka_run_group_tests(tests, NULL, NULL);
}
