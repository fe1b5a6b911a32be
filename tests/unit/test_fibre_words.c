/* Fibres and compositions in the language of a paper: by the names the tables of names have, and by no other where they have one. */
#include "tenterbook/fibre_words.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <string.h>

#include <cmocka.h>

/* Is there a plain name of the fibre in the language: one of the law of the European Union or of Turkey, or of the trade? */
static bool named(int fibre, const char *lang, const char *word)
{
    for (size_t i = 0; i < tb_name_count(); i++) {
        const struct tb_name *n = tb_name_at(i);
        bool law = n->kind == TB_WORD_LEGAL && (strcmp(n->market, "eu") == 0 || strcmp(n->market, "tr") == 0);

        if (n->fibre == fibre && strcmp(n->lang, lang) == 0 && !tb_name_marks(i) &&
            (law || n->kind == TB_WORD_SYNONYM) && (!word || strcmp(n->word, word) == 0))
            return true;
    }
    return false;
}

static void a_fibre_is_called_as_the_tables_of_names_call_it(void **state)
{
    int held = 0;

    (void)state;
    for (int tongue = TB_ENGLISH + 1; tongue < TB_TONGUES; tongue++)
        for (int f = 0; f < (int)tb_fibre_count(); f++) {
            const char *lang = tb_word(&tb_tongue_words, tongue);
            const char *name = tb_fibre_in((enum tb_tongue)tongue, f);

            if (!named(f, lang, NULL))
                continue;
            held++;
            if (!named(f, lang, name))
                fail_msg("%s in %s is '%s', which no table has", tb_fibre_at(f)->key, lang, name);
        }
    assert_true(held > 400); /* of 8 times 81: the test is about something */
}

/* A name that is the word for another fibre would be worse than none. */
static void no_name_is_that_of_another_fibre(void **state)
{
    (void)state;
    for (int tongue = 0; tongue < TB_TONGUES; tongue++)
        for (int f = 0; f < (int)tb_fibre_count(); f++)
            for (int g = 0; g < f; g++)
                if (strcmp(tb_fibre_in((enum tb_tongue)tongue, f), tb_fibre_in((enum tb_tongue)tongue, g)) ==
                    0)
                    fail_msg("%s and %s are both '%s' in %s", tb_fibre_at(f)->key, tb_fibre_at(g)->key,
                             tb_fibre_in((enum tb_tongue)tongue, f), tb_word(&tb_tongue_words, tongue));
}

static const char *printed(struct tb_text *t, enum tb_tongue tongue, const char *text)
{
    tb_text_clear(t);
    tb_composition_in(t, tongue, text);
    return t->s;
}

static void a_composition_is_written_as_the_language_writes_it(void **state)
{
    static const char cloth[] = "warp: 46.5 % wool, 53.5 % polyester; weft: 100 % cotton";
    struct tb_text t = { 0 };

    (void)state;
    assert_string_equal(printed(&t, TB_ENGLISH, cloth), cloth);
    assert_string_equal(printed(&t, TB_GERMAN, cloth),
                        "Kette: 46,5 % Wolle, 53,5 % Polyester; Schuss: 100 % Baumwolle");
    assert_string_equal(printed(&t, TB_TURKISH, cloth),
                        "çözgü: %46,5 yün, %53,5 polyester; atkı: %100 pamuk");
    assert_string_equal(printed(&t, TB_CHINESE, cloth), "经纱：46.5% 羊毛、53.5% 涤纶；纬纱：100% 棉");
    assert_string_equal(printed(&t, TB_POLISH, "95 % cotton, 5 % other fibres"),
                        "95 % bawełna, 5 % inne włókna");
    tb_text_free(&t);
}

static void words_that_cannot_be_read_stay_as_they_are(void **state)
{
    struct tb_text t = { 0 };

    (void)state;
    assert_string_equal(printed(&t, TB_GERMAN, "60 % cotton, some PE"), "60 % cotton, some PE");
    assert_string_equal(printed(&t, TB_GERMAN, "no fibre at all"), "no fibre at all");
    tb_text_free(&t);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_fibre_is_called_as_the_tables_of_names_call_it),
        cmocka_unit_test(no_name_is_that_of_another_fibre),
        cmocka_unit_test(a_composition_is_written_as_the_language_writes_it),
        cmocka_unit_test(words_that_cannot_be_read_stay_as_they_are),
    };

    return cmocka_run_group_tests(tests, NULL, NULL);
}
