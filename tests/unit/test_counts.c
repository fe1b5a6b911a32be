/* test_counts.c - what is void counts nowhere: statements read the views of what counts, not the tables below them. */
#include "book/stmt.h"

#include <ctype.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <string.h>

#include <cmocka.h>

/* Tables whose rows may be void. Their views are NAME_now, lot_goods, lot_whole and delivery_amended. */
static const char *const table[] = { "delivery", "lot",        "bolt",         "swatch",
                                     "burn",     "bench_test", "verdict",      "standing",
                                     "analysis", "dispute",    "dispute_step", "sending" };

/* Statements that read a table as it was written, and why. */
static const struct {
    const char *name, *why;
} history[] = {
    { "swatch_next_serial", "a tag is given once, to void swatches too" },
    { "swatch_of_lot_ever", "what was burned of a void swatch is looked at as of an earlier row" },
    { "burn_of_lot", "as of a row: burn_end says what counted then" },
    { "burn_corrected", "what does not count any more" },
    { "burn_voided", "what does not count any more" },
    { "burn_by_id", "one record, which may be corrected or void" },
    { "bench_test_by_id", "one record, which may be corrected or void" },
    { "bench_test_replaced", "says of one record whether it was corrected or is void" },
    { "bench_test_of_lot", "as of a row: bench_test_end says what counted then" },
    { "bench_test_corrected", "what does not count any more" },
    { "bench_test_voided", "what does not count any more" },
    { "delivery_next_serial", "a reference is given once, to void deliveries too" },
    { "bolt_rough_count", "how large the index of bolts is" },
    { "joint_piece_of_sample", "the other side has its pieces: a swatch that was dealt is never void alone" },
    { "verdict_against_of_lot", "the day of a verdict that went, where what is left contradicts too" },
    { "looked_at_of_lot", "what such a verdict rested on" },
    { "draw_bolts_gone", "names what is void" },
    { "bolts_void_since", "names what is void" },
    { "bolts_apart_of_lot",
      "takes bolts out of a list of those that count; void_span says what was void at a draw" },
    { "drill_burns", "as of a row: burn_void says what counted then" },
    { "lab_judged", "as of a row: void_span says what counted then" },
    { "lab_settled", "as of a row: void_span and the like say what counted then" },
    { "drill_card_by_name", "a card is answered once, also with a burn that is void" },
    { "lot_ever", "of the verdict that lot_now names, which is none that is void" },
    { "lot_where", "of the verdict that lot_now names, which is none that is void" },
    { "month_lots", "of the verdict that lot_now names, which is none that is void" },
    { "said_each", "of the verdict that lot_now names, which is none that is void" },
    { "said_of_lot", "of the verdict that lot_now names, which is none that is void" },
    { "lot_by_ref", "of the verdict that lot_now names, which is none that is void" },
    { "verdict_of_lot", "the history, with what does not count any more" },
    { "verdict_latest", "bolts tested by then: burn_void says what counted" },
    { "standing_of_lot", "the history, with what does not count any more" },
    { "bolt_standing_of_lot", "the history, with what does not count any more" },
    { "suppliers_known", "a supplier of whom nothing came ever, apart from one of whom nothing counts" },
    { "word_alike",
      "leaves out void lots by void_span: all of lot_goods takes longer to prepare than the rest to run" },
    { "journal_lot", "a journal row is about its lot, void or not" },
    { "owner_of", "a journal row is about its lot, void or not" },
    { "analysis_corrected_of_lot", "what does not count any more" },
    { "analysis_voided_of_lot", "what does not count any more" },
    { "analysis_lot_of", "says of one record whether it was corrected or is void" },
    { "dispute_next_serial", "a dispute keeps its number, though it is void" },
    { "dispute_step_voided_of_lot", "what does not count any more" },
    { "void_subjects", "a record that was corrected is named with the one in its place" },
    { "voiding_open", "names what is void" },
    { "voiding_of_lot", "names what is void" },
    { "sending_voided", "says of one record whether it is void" },
    { "moved_of_lot", "names what is void, with the record in its place" },
    { "journal_moves", "a journal row is about its lot, void or not" },
    { "photographs_of_lot", "kept with a record, void or not; they are told with those that count" },
    { "voiding_of_ref", "names what is void" },
    { "named", "what is void is looked at too" },
    { "swatch_ever", "what is void is looked at too" },
};

static const char *why_not(const char *name)
{
    for (size_t i = 0; i < TB_COUNT(history); i++)
        if (strcmp(history[i].name, name) == 0)
            return history[i].why;
    return NULL;
}

static bool begins(const char *s, const char *word)
{
    return strncmp(s, word, strlen(word)) == 0;
}

/* The first of those tables that stands behind FROM or JOIN; NULL: none does. */
static const char *read_by(const char *sql)
{
    for (const char *s = sql; *s; s++) {
        const char *at = begins(s, "FROM ") || begins(s, "JOIN ") ? s + 5 : NULL;

        for (size_t i = 0; at && i < TB_COUNT(table); i++)
            if (begins(at, table[i]) && !isalnum((unsigned char)at[strlen(table[i])]) &&
                at[strlen(table[i])] != '_')
                return table[i];
    }
    return NULL;
}

static void no_list_and_no_figure_is_made_of_what_is_void(void **state)
{
    size_t excused = 0;

    (void)state;
    for (int i = 0; i < TB_SQL_COUNT; i++) {
        const struct tb_sql_text *t = &tb_sql_table[i];
        const char *raw = read_by(t->text);

        if (begins(t->name, "facts_") || begins(t->name, "extract_")) /* all that was written is proved */
            continue;
        if (raw && !why_not(t->name))
            fail_msg("%s reads table %s: what is void would count. Read %s_now, or give the reason in %s",
                     t->name, raw, raw, __FILE__);
        if (!raw && why_not(t->name))
            fail_msg("%s reads no such table: its reason in %s says nothing", t->name, __FILE__);
        excused += raw != NULL;
    }
    assert_int_equal(excused, TB_COUNT(history));
}

static void a_table_behind_from_or_join_is_seen(void **state)
{
    (void)state;
    assert_string_equal(read_by("SELECT 1 FROM burn b"), "burn");
    assert_string_equal(read_by("SELECT 1 FROM x LEFT JOIN lot\n ON 1"), "lot");
    assert_null(read_by("SELECT burn FROM burn_now JOIN lot_goods l"));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(no_list_and_no_figure_is_made_of_what_is_void),
        cmocka_unit_test(a_table_behind_from_or_join_is_seen),
    };

    return cmocka_run_group_tests(tests, NULL, NULL);
}
