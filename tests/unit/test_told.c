/* Sentences that books keep in English, told in the language of a paper: by the formats of the catalogue, with what was in them. */
#include "tenterbook/tongue.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <string.h>

#include <cmocka.h>

static const char *told(struct tb_text *t, bool *known, enum tb_tongue tongue, const char *sentence)
{
    tb_text_clear(t);
    *known = tb_tr_told(t, tongue, sentence);
    return tb_text_str(t);
}

/* Expected: src/text/po, where the formats stand. */
static void a_kept_sentence_is_found_by_its_format_with_names_and_figures_in_their_places(void **state)
{
    static const struct {
        enum tb_tongue tongue;
        const char *kept, *told;
    } row[] = {
        { TB_GERMAN, "A laboratory found asbestos in this cloth, whatever was declared of it.",
          "Ein Labor fand in dieser Ware: Asbest, was immer von ihr deklariert wurde." },
        { TB_GERMAN,
          "For the declaration speaks the microscope, against it what Ann Bell saw in the flame: both cannot "
          "be "
          "true of one cloth, and no ratio says which of them is a mistake.",
          "Für die Deklaration spricht: das Mikroskop; gegen sie: was Ann Bell in der Flamme sah. Beides "
          "kann bei "
          "einer Ware nicht wahr sein, und kein Verhältnis sagt, was davon ein Fehler ist." },
        { TB_GERMAN,
          "A burn shows kinds of fibre and not their shares: it cannot tell this blend from 70 % cotton, 30 "
          "% "
          "polyester.",
          "Eine Brennprobe zeigt Faserarten und nicht ihre Anteile: sie kann diese Mischung nicht "
          "unterscheiden "
          "von 70 % Baumwolle, 30 % Polyester." },
        { TB_GERMAN, "nothing was declared", "nichts wurde deklariert" },
        { TB_CHINESE,
          "In drills of known cloth here 2 of 40 burns contradicted the cloth they were of, so a mistake at "
          "the "
          "bench is taken to happen in 5.5 % of burns (95 %: 1.2 to 16 %).",
          "在用已知织物所做的练习中，此处 40 次燃烧有 2 次与其所属织物矛盾，因此认为台面错误发生在 5.5% "
          "的燃烧中（95%：1.2 至 "
          "16%）。" },
        { TB_GERMAN,
          "They count as 0.5 cases: lots of one delivery are one case together, and where the lots that were "
          "in doubt were "
          "sent to a laboratory rather than others, each counts less, by the share of such lots that were "
          "sent.",
          "Als Fälle gezählt sind es 0,5: die Partien einer Lieferung sind zusammen ein Fall, und wo eher "
          "die zweifelhaften "
          "Partien als andere an ein Labor gingen, zählt jede weniger, nach dem Anteil solcher Partien, der "
          "eingesandt wurde." },
        { TB_FRENCH, "one careful burn of 100 % polyester, by the evidence model",
          "un essai de combustion soigneux de 100 % polyester, selon le modèle de vraisemblance" },
    };
    struct tb_text t = { 0 };
    bool known;

    (void)state;
    for (size_t i = 0; i < TB_COUNT(row); i++) {
        assert_string_equal(told(&t, &known, row[i].tongue, row[i].kept), row[i].told);
        assert_true(known);
    }
    tb_text_free(&t);
}

/* As the rule of a verdict and its limits are kept: one text. */
static void two_sentences_that_were_kept_as_one_are_both_told(void **state)
{
    struct tb_text t = { 0 };
    bool known;

    (void)state;
    assert_string_equal(
        told(&t, &known, TB_GERMAN,
             "None were recorded. The limits are those of burns with as few looks as this one; "
             "burns with more are taken as far as 1/46 and 51."),
        "Keine wurden aufgezeichnet. Die Grenzen sind die von Brennproben mit so wenigen Blicken "
        "wie bei dieser; Brennproben mit mehr gehen bis 1/46 und 51.");
    assert_true(known);
    tb_text_free(&t);
}

static void a_sentence_that_no_format_makes_stays_as_it_was_kept_and_is_called_unknown(void **state)
{
    static const char *const kept[] = {
        "An older program said this otherwise.", "A laboratory found asbestos in this cloth", /* cut short */
        "A laboratory found  in this cloth, whatever was declared of it.", /* nothing was found */
        "In drills of known cloth here two of 40 burns contradicted the cloth they were of, so a mistake at "
        "the "
        "bench is taken to happen in 5.5 % of burns (95 %: 1.2 to 16 %).", /* no figure */
    };
    struct tb_text t = { 0 };
    bool known;

    (void)state;
    for (size_t i = 0; i < TB_COUNT(kept); i++) {
        assert_string_equal(told(&t, &known, TB_GERMAN, kept[i]), kept[i]);
        assert_false(known);
    }
    tb_text_free(&t);
}

/* What a file holds is somebody else's: neither its length nor its letters matter. */
static void a_very_long_text_is_left_as_it_is(void **state)
{
    struct tb_text t = { 0 }, text = { 0 };
    bool known;

    (void)state;
    for (int i = 0; i < 20000; i++)
        tb_text_add(&text, "; 7 % cotton. ");
    assert_string_equal(told(&t, &known, TB_GERMAN, text.s), text.s);
    assert_false(known);
    assert_string_equal(told(&t, &known, TB_ENGLISH, "anything"), "anything");
    assert_true(known);
    tb_text_free(&t);
    tb_text_free(&text);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_kept_sentence_is_found_by_its_format_with_names_and_figures_in_their_places),
        cmocka_unit_test(two_sentences_that_were_kept_as_one_are_both_told),
        cmocka_unit_test(a_sentence_that_no_format_makes_stays_as_it_was_kept_and_is_called_unknown),
        cmocka_unit_test(a_very_long_text_is_left_as_it_is),
    };

    return cmocka_run_group_tests(tests, NULL, NULL);
}
