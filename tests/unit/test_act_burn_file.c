/* The act of taking in a file of burns: all of it or nothing, every wrong row named. */
#include "unit/bench_helper.h"

#include "tenterbook/journal_words.h"
#include "work/concern.h"

static struct tb_burn_row row_of(size_t line, const char *bolt, const char *at, const char *saw)
{
    return (struct tb_burn_row){ .line = line,
                                 .lot = "",
                                 .bolt = bolt,
                                 .part = "",
                                 .at = at,
                                 .saw = saw,
                                 .not_seen = "",
                                 .looked = "",
                                 .flame = "candle",
                                 .note = "",
                                 .could_not = "" };
}

static tb_rc file(struct tb_burn_file_outcome *out, struct scene *s, const struct tb_burn_row *row, size_t n)
{
    struct tb_burn_file_request r = { .name = "burns.csv", .row = row, .n = n };

    return tb_act_burn_file(out, &s->actor, &r, &s->mem, &err);
}

static void burns_of_one_bolt_are_of_one_swatch_and_lots_are_judged(void **state)
{
    struct scene *s = scene_make("100% cotton", 3);
    struct tb_burn_file_outcome *out = tb_new(struct tb_burn_file_outcome);
    struct tb_burn_row row[] = { row_of(2, "B1", "2026-10-06T09:00", AS_POLYESTER),
                                 row_of(3, "B1", "2026-10-06T09:05", AS_POLYESTER),
                                 row_of(4, "B2", "2026-10-01T09:00", AS_POLYESTER) };
    struct tb_rejudged again;
    int64_t head = scene_head(s);

    (void)state;
    OK(file(out, s, row, TB_COUNT(row)));
    assert_int_equal(out->burns, 3);
    assert_int_equal(out->swatches, 2);
    assert_int_equal(out->lots, 1);
    assert_int_equal(out->held, 1);
    assert_true(out->held_lot[0].ref && out->held_lot[0].confirm[0]);
    assert_int_equal(out->early, 1); /* the delivery arrived on 5 October */
    assert_string_equal(out->early_at, "2026-10-01T09:00:00Z");
    assert_int_equal(scene_head(s), head + 1);
    assert_int_equal(scene_lot(s).bolts_burnt, 2);
    OK(tb_act_judge(&again, &s->actor, s->lot.ref, 0, &s->mem, &err));
    assert_false(again.recorded); /* what was computed beforehand is what the book gives */
    tb_rejudged_free(&again);
    free(out);
    scene_free(s);
}

/* What the lot weighs once a file with a burn of B1 is taken in by `who`, after a burn of B2 by the actor. */
static double weighed_with_a_file_of(const char *who)
{
    struct scene *s = scene_make("100% silk", 2);
    struct tb_burn_file_outcome *out = tb_new(struct tb_burn_file_outcome);
    struct tb_burn_row row = row_of(2, "B1", "2026-10-06T09:00", "odour:burning_hair");
    struct tb_burn_outcome before = burn_one(s, cut_one(s, "B2", TB_PART_WHOLE), "odour:burning_hair");
    struct tb_rejudged again;
    double weighed;

    s->actor.who = who ? who : s->actor.who;
    OK(file(out, s, &row, 1));
    weighed = scene_lot(s).log_ratio;
    OK(tb_act_judge(&again, &s->actor, s->lot.ref, 0, &s->mem, &err));
    assert_false(again.recorded);
    assert_float_equal(weighed, again.v.verdict.log_ratio, 1e-9);
    tb_rejudged_free(&before.judged);
    tb_rejudged_free(&again);
    free(out);
    scene_free(s);
    return weighed;
}

static void a_second_person_is_worth_more_than_a_second_burn_in_a_file_too(void **state)
{
    (void)state;
    assert_true(weighed_with_a_file_of("Una Second") > weighed_with_a_file_of(NULL) + 0.01);
}

static void every_wrong_row_is_named_and_nothing_is_recorded(void **state)
{
    struct scene *s = scene_make("100% cotton", 2);
    struct tb_burn_file_outcome *out = tb_new(struct tb_burn_file_outcome);
    struct tb_burn_row row[] = {
        row_of(2, "B1", "2026-10-06T09:00", AS_COTTON),
        row_of(3, "B9", "", AS_COTTON),
        row_of(4, "B1", "2099-01-01T09:00", AS_COTTON),
        row_of(5, "B1", "", ""),
        row_of(6, "B1", "2026-10-06T09:00", AS_COTTON),
        row_of(7, "B1", "2026-10-06T08:00", AS_COTTON),
        row_of(8, "B2", "2026-10-06T10:00", "smoke:invisible"),
        row_of(9, "B2", "soon", AS_COTTON),
        row_of(10, "B2", "", "acetone:dissolves"),
        row_of(11, "B2", "", AS_COTTON),
        row_of(12, "B2", "", AS_COTTON),
    };
    static const struct {
        size_t line;
        const char *words;
    } want[] = { { 3, "B9" },
                 { 4, "still to come" },
                 { 5, "at least one thing seen" },
                 { 6, "is in the book already" },
                 { 7, "in the order of time" },
                 { 8, "smoke:invisible" },
                 { 9, "takes a day and a time" },
                 { 10, "is a bench test" },
                 { 11, "'hem' is not a part of a cloth" },
                 { 12, "'odour' is given both as looked at" } };

    (void)state;
    row[9].part = "hem";
    row[10].could_not = "odour";
    REFUSED(s, file(out, s, row, TB_COUNT(row)), TB_EINVAL, "10 of 11 rows cannot be recorded");
    assert_int_equal(out->wrongs, TB_COUNT(want));
    for (size_t i = 0; i < TB_COUNT(want); i++) {
        assert_int_equal(out->wrong[i].line, want[i].line);
        if (!strstr(out->wrong[i].why, want[i].words))
            fail_msg("line %zu: '%s', not '...%s...'", want[i].line, out->wrong[i].why, want[i].words);
    }
    assert_int_equal(scene_lot(s).burns, 0);
    free(out);
    scene_free(s);
}

/* A moment is read as --at reads it. */
static void a_moment_may_have_a_day_as_lists_have_it(void **state)
{
    struct scene *s = scene_make("100% cotton", 1);
    struct tb_burn_file_outcome *out = tb_new(struct tb_burn_file_outcome);
    struct tb_burn_row row = row_of(2, "B1", "7/10/2026 09:00", AS_COTTON);
    struct tb_burn *burn;
    size_t n;

    (void)state;
    REFUSED(s, file(out, s, &row, 1), TB_EINVAL, "1 of 1 row cannot be recorded");
    assert_non_null(strstr(out->wrong[0].why, "that may be 2026-10-07 or 2026-07-10"));
    row.at = "6.10.2026 9:00";
    OK(file(out, s, &row, 1));
    OK(tb_burn_list(&burn, &n, s->actor.book, s->lot.id, &s->mem, &err));
    assert_int_equal(n, 1);
    assert_string_equal(burn[0].burned_at, "2026-10-06T09:00:00Z");
    free(out);
    scene_free(s);
}

static void the_same_file_twice_and_a_site_without_flame_are_refused(void **state)
{
    struct scene *s = scene_make("100% cotton", 1);
    struct tb_burn_file_outcome *out = tb_new(struct tb_burn_file_outcome);
    struct tb_burn_row row = row_of(2, "B1", "2026-10-06T09:00", AS_COTTON);

    (void)state;
    OK(file(out, s, &row, 1));
    REFUSED(s, file(out, s, &row, 1), TB_EEXISTS, "these very burns were recorded before");
    row.note = "the same burn, told otherwise";
    REFUSED(s, file(out, s, &row, 1), TB_EINVAL, "1 of 1 row cannot be recorded");
    assert_non_null(strstr(out->wrong[0].why, "is in the book already"));
    row.note = "";
    OK(tb_act_burn_file(out, &s->actor, &(struct tb_burn_file_request){ "burns.csv", &row, 1, .again = true },
                        &s->mem, &err));
    assert_int_equal(scene_lot(s).burns, 2); /* whoever says so records them again, with their moments too */
    OK(tb_book_begin(s->actor.book, "Ada Fell", "set", &err));
    OK(tb_setting_set(s->actor.book, "flame", "no", &err));
    OK(tb_book_commit(s->actor.book, &err));
    REFUSED(s, file(out, s, &row, 1), TB_EREFUSED, "flame work is not permitted");
    free(out);
    scene_free(s);
}

static void burns_without_a_moment_are_recorded_again_only_where_that_is_said(void **state)
{
    struct scene *s = scene_make("100% cotton", 2);
    struct tb_burn_file_outcome *out = tb_new(struct tb_burn_file_outcome);
    struct tb_burn_row row[] = { row_of(2, "B1", "", AS_COTTON), row_of(3, "B2", "", AS_COTTON) };
    struct tb_burn_file_request again = { .name = "more.csv", .row = row, .n = 2, .again = true };

    (void)state;
    OK(file(out, s, row, 2));
    row[0].line = 7; /* an empty line more, or another name, makes no other burns of them */
    REFUSED(s, file(out, s, row, 2), TB_EEXISTS,
            "these very burns were recorded before, on 2026-11-26 from burns.csv");
    assert_string_equal(err.about, "again");
    assert_int_equal(scene_lot(s).burns, 2);
    OK(tb_act_burn_file(out, &s->actor, &again, &s->mem, &err));
    assert_int_equal(scene_lot(s).burns, 4);
    row[1].note = "in daylight";
    OK(file(out, s, row, 2)); /* one word more, and they are others */
    free(out);
    scene_free(s);
}

static void write_text(const char *path, const char *text)
{
    FILE *f = fopen(path, "wb");

    assert_non_null(f);
    assert_true(fputs(text, f) >= 0);
    assert_int_equal(fclose(f), 0);
}

static void a_file_is_read_into_rows_by_the_names_of_its_columns(void **state)
{
    struct scene *s = scene_make("100% cotton", 1);
    struct tb_burn_row *row = NULL;
    char path[128];
    size_t n = 0;

    (void)state;
    (void)snprintf(path, sizeof path, "%s/burns.csv", s->dir);
    write_text(path, "saw;bolt;could-not;at\nsmoke:black;B1;odour;2026-10-06T09:00\n\nsmoke:grey;B2;\n");
    OK(tb_burn_rows_read(&row, &n, path, &s->mem, &err));
    assert_int_equal(n, 2);
    assert_string_equal(row[0].bolt, "B1");
    assert_string_equal(row[0].saw, "smoke:black");
    assert_string_equal(row[0].lot, "");
    assert_string_equal(row[0].could_not, "odour");
    assert_string_equal(row[1].could_not, "");
    assert_string_equal(row[1].bolt, "B2");
    assert_int_equal(row[1].line, 4);
    write_text(path, "bolt,saw,wind\nB1,smoke:black,none\n");
    REFUSED(s, tb_burn_rows_read(&row, &n, path, &s->mem, &err), TB_EINVAL, "there is no column 'wind'");
    write_text(path, "bolt,at\nB1,\n");
    REFUSED(s, tb_burn_rows_read(&row, &n, path, &s->mem, &err), TB_EINVAL,
            "line 1: the columns bolt, saw must be there");
    write_text(path, "bolt,saw\n");
    REFUSED(s, tb_burn_rows_read(&row, &n, path, &s->mem, &err), TB_EINVAL, "there is no burn in it");
    scene_free(s);
}

/* The name of a file is chosen by people; its journal row is of no lot, so that everybody plans again. */
static void a_file_called_like_a_lot_is_about_no_lot(void **state)
{
    struct scene *s = scene_make("100% cotton", 1);
    struct tb_burn_file_outcome *out = tb_new(struct tb_burn_file_outcome);
    struct tb_burn_row row = row_of(2, "B1", "", AS_COTTON);
    struct tb_burn_file_request r = { .name = s->lot.ref, .row = &row, .n = 1 };
    struct tb_journal_row *last;
    int64_t head = scene_head(s);
    size_t n = 0;

    (void)state;
    OK(tb_act_burn_file(out, &s->actor, &r, &s->mem, &err));
    OK(tb_journal_since(&last, &n, s->actor.book, head, &s->mem, &err));
    assert_int_equal(n, 1);
    assert_int_equal(tb_subject_lot(last[0].subject), 0);
    assert_true(tb_row_concerns_lot(&last[0], s->lot.ref));
    assert_true(tb_row_concerns_lot(&last[0], "W26-001.99"));
    free(out);
    scene_free(s);
}

static void only_references_of_lots_and_their_swatches_are_of_a_lot(void **state)
{
    static const char *const none[] = { "",
                                        "M26-001",
                                        "M26-001.",
                                        "M26-001.04.csv",
                                        "burns 2026-11.26.csv",
                                        "M26-001.04.03.02",
                                        "x-1.2",
                                        "W-K01",
                                        "M26-001.02 M26-001.03" };

    (void)state;
    assert_int_equal(tb_subject_lot("M26-001.04"), 10);
    assert_int_equal(tb_subject_lot("M26-001.04.17"), 10);
    assert_int_equal(tb_subject_lot("ABCD26-1234.100"), 15);
    for (size_t i = 0; i < TB_COUNT(none); i++)
        if (tb_subject_lot(none[i]) != 0)
            fail_msg("'%s' is taken for a lot", none[i]);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_moment_may_have_a_day_as_lists_have_it),
        cmocka_unit_test(a_file_called_like_a_lot_is_about_no_lot),
        cmocka_unit_test(only_references_of_lots_and_their_swatches_are_of_a_lot),
        cmocka_unit_test(a_second_person_is_worth_more_than_a_second_burn_in_a_file_too),
        cmocka_unit_test(burns_of_one_bolt_are_of_one_swatch_and_lots_are_judged),
        cmocka_unit_test(every_wrong_row_is_named_and_nothing_is_recorded),
        cmocka_unit_test(the_same_file_twice_and_a_site_without_flame_are_refused),
        cmocka_unit_test(burns_without_a_moment_are_recorded_again_only_where_that_is_said),
        cmocka_unit_test(a_file_is_read_into_rows_by_the_names_of_its_columns),
    };

    return sodium_init() < 0 ? 1 : cmocka_run_group_tests(tests, NULL, NULL);
}
