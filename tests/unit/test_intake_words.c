/* test_intake_words.c - headers and units of many languages; expected values: common practice, no source. */
#include "intake/words.h"
#include "intake/written.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <string.h>

#include <cmocka.h>

#include "gen/ref_header_word.h"

/* The fields that a list needs, and those that most have. */
static const char *const wanted[] = { "article", "colour",      "lot",    "bolt", "length", "width",
                                      "mass",    "composition", "origin", "note", "day" };

static void every_language_has_words_for_every_column(void **state)
{
    static const char *const language[] = { "bg", "cs", "da", "de", "el", "en", "es", "et", "fi",
                                            "fr", "hr", "hu", "it", "lt", "lv", "nl", "pl", "pt",
                                            "ro", "sk", "sl", "sv", "tr", "ja", "ko", "zh", "zh-Hant" };

    (void)state;
    for (size_t l = 0; l < TB_COUNT(language); l++)
        for (size_t f = 0; f < TB_COUNT(wanted); f++) {
            bool found = false;

            for (size_t i = 0; i < tb_ref_header_word_n && !found; i++)
                found = strcmp(tb_ref_header_word[i].language, language[l]) == 0 &&
                        strcmp(tb_ref_header_word[i].field, wanted[f]) == 0;
            if (!found)
                print_error("%s has no word for %s\n", language[l], wanted[f]);
            assert_true(found);
        }
}

static void a_word_of_a_header_says_its_field_and_its_unit(void **state)
{
    static const struct {
        const char *header, *field, *unit;
    } row[] = { { "Net Yds", "length", "yd" },
                { "St\u00FCcknr.", "bolt", "" },
                { "\u010C. kusu", "bolt", "" },
                { "Partia barwienia", "lot", "" },
                { "M\u00E9trage livr\u00E9", "length", "m" },
                { "mb", "length", "m" },
                { "Metraj", "length", "m" },
                { "Lfm", "length", "m" },
                { "mtr", "length", "m" },
                { "yards", "length", "yd" },
                { "L\u00E4nge (m)", "length", "m" },
                { "L\u00E4nge [yds]", "length", "yd" },
                { "D\u0142ugo\u015B\u0107 (mb)", "length", "m" },
                { "Hossz (fm)", "length", "m" },
                { "D\u00E9lka bm", "length", "m" },
                { "metry bie\u017C\u0105ce", "length", "m" },
                { "\u51C0\u7801", "length", "yd" },
                { "\u957F\u5EA6(\u7C73)", "length", "m" },
                { "\u78BC\u6578", "length", "yd" },
                { "\u9577\u3055(m)", "length", "m" },
                { "\u30E4\u30FC\u30C9", "length", "yd" },
                { "\uAE38\uC774(yd)", "length", "yd" },
                { "Breite in cm", "width", "cm" },
                { "Szer. (cm)", "width", "cm" },
                { "Weight (kg)", "weight_net", "kg" },
                { "Waga netto (kg)", "weight_net", "kg" },
                { "\u51C0\u91CD(kg)", "weight_net", "kg" } };

    (void)state;
    for (size_t i = 0; i < TB_COUNT(row); i++) {
        struct tb_header_words *w = tb_header_words_new(NULL, 0);
        struct tb_word_hit hit[TB_HITS_MOST];
        size_t n = tb_header_words_find(w, row[i].header, hit);

        if (!n || strcmp(tb_field_key(hit[0].field), row[i].field) != 0 ||
            strcmp(tb_unit_key(hit[0].unit), row[i].unit) != 0)
            print_error("%s is '%s' in '%s'\n", row[i].header, n ? tb_field_key(hit[0].field) : "nothing",
                        n ? tb_unit_key(hit[0].unit) : "");
        assert_true(n > 0);
        assert_string_equal(tb_field_key(hit[0].field), row[i].field);
        assert_string_equal(tb_unit_key(hit[0].unit), row[i].unit);
        tb_header_words_free(w);
    }
}

static void a_unit_beside_a_figure_is_read_in_many_languages(void **state)
{
    static const struct {
        const char *text;
        enum tb_unit unit;
    } row[] = { { "mb", TB_UNIT_M },
                { "m.b.", TB_UNIT_M },
                { "Lfm", TB_UNIT_M },
                { "lfd. m", TB_UNIT_M },
                { "mtr", TB_UNIT_M },
                { "metr\u00F3w", TB_UNIT_M },
                { "jm", TB_UNIT_M },
                { "\u043F.\u043C.", TB_UNIT_M },
                { "\u516C\u5C3A", TB_UNIT_M },
                { "yards", TB_UNIT_YD },
                { "Yds.", TB_UNIT_YD },
                { "jard\u00F3w", TB_UNIT_NONE },
                { "\u78BC", TB_UNIT_YD },
                { "kg", TB_UNIT_KG },
                { "\u516C\u65A4", TB_UNIT_KG },
                { "rods", TB_UNIT_NONE },
                { "cm", TB_UNIT_NONE } };

    (void)state;
    for (size_t i = 0; i < TB_COUNT(row); i++) {
        enum tb_unit u = tb_unit_find(TB_FIELD_LENGTH, row[i].text, strlen(row[i].text));

        if (u != row[i].unit)
            print_error("%s is '%s'\n", row[i].text, tb_unit_key(u));
        assert_int_equal(u, row[i].unit);
    }
}

/* What "Qualit\u00E4t" is in German; words: common practice, no source. */
static void a_word_for_quality_may_name_the_article(void **state)
{
    static const char *const header[] = { "Min\u0151s\u00E9g", "Jakost",       "Kvaliteet",
                                          "Calitate",          "\u54C1\u8D28", "Kokyb\u0117" };
    struct tb_header_words *w = tb_header_words_new(NULL, 0);

    (void)state;
    for (size_t i = 0; i < TB_COUNT(header); i++) {
        struct tb_word_hit hit[TB_HITS_MOST];
        size_t n = tb_header_words_find(w, header[i], hit);
        bool article = false;

        for (size_t k = 0; k < n; k++)
            article = article || (hit[k].field == TB_FIELD_ARTICLE && hit[k].weak);
        assert_true(article);
    }
    tb_header_words_free(w);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_language_has_words_for_every_column),
        cmocka_unit_test(a_word_of_a_header_says_its_field_and_its_unit),
        cmocka_unit_test(a_unit_beside_a_figure_is_read_in_many_languages),
        cmocka_unit_test(a_word_for_quality_may_name_the_article),
    };

    return cmocka_run_group_tests(tests, NULL, NULL);
}
