/* Days above a table that no label calls the date of the note: which of them is likely, and when nobody knows. */
#include "intake/written.h"
#include "intake_helper.h"

#define TABLE                                                                                                \
    "\nPiece no    Design         Shade        Batch     Yards     Composition\n"                            \
    "44107       Herringbone    Charcoal     7         62.5      100% wool\n"                                \
    "44108       Herringbone    Charcoal     7         60        100% wool\n"                                \
    "44109       Herringbone    Lovat        8         58.25     100% wool\n"

static const struct tb_intake_opts said = { .supplier = "Hartley", .note = "51107" };

/* The only question is the date; its likely answer, or "" where none is likely. */
static void likely_day(const char *above, const char *day, size_t answers)
{
    struct tb_text t = { 0 };
    struct seen s;

    tb_text_addf(&t, "%s%s", above, TABLE);
    s = read_text(t.s, &said);
    assert_int_equal(s.rc, TB_EINVAL);
    assert_int_equal(s.list.questions, 1);
    assert_int_equal(s.list.question[0].answers, answers);
    assert_string_equal(s.list.question[0].answer[0].option, "note-date");
    assert_string_equal(s.list.question[0].open ? "" : s.list.question[0].answer[0].value, day);
    seen_free(&s);
    tb_text_free(&t);
}

static void a_day_that_stands_twice_is_one_day(void **state)
{
    (void)state;
    likely_day("Sent: 1 October 2026 16:12\nGoods, our delivery note 51107 dated 1 October 2026.\n",
               "2026-10-01", 2);
    likely_day("On the van of 1 October 2026.\nWritten on 2026-10-01 by Gillian.\n", "2026-10-01", 2);
}

static void the_head_of_a_mail_gives_way(void **state)
{
    static const char *const head[] = { "Sent: 1 October 2026 16:12", "Gesendet: 1. Oktober 2026",
                                        "> Envoyé : 1 octobre 2026", "Date: Thu, 1 Oct 2026 16:12" };

    (void)state;
    for (size_t i = 0; i < TB_COUNT(head); i++) {
        struct tb_text t = { 0 };

        tb_text_addf(&t, "%s\nHi, our delivery note 51107 dated 30 September 2026.\n", head[i]);
        likely_day(t.s, "2026-09-30", 3);
        tb_text_free(&t);
    }
    likely_day("Hi, our delivery note 51107 dated 30 September 2026.\nSent: 1 October 2026 16:12\n",
               "2026-09-30", 3);
    likely_day("Hi, on the van on 30 September 2026.\nSent: 1 October 2026 16:12\n", "2026-09-30", 3);
}

static void two_days_that_nothing_tells_apart_are_left_open(void **state)
{
    (void)state;
    likely_day("Loaded on 30 September 2026.\nWritten on 2 October 2026.\n", "", 3);
    likely_day(
        "Hi, our delivery note 51107 of 30 September 2026.\nHi, our delivery note 51107 of 2 October 2026.\n",
        "", 3);
}

/* No delivery note is written after the goods came: of two readings the one that is possible. Common practice, no source. */
static void a_day_after_the_arrival_is_not_the_note_s(void **state)
{
    static const struct tb_intake_opts came = { .supplier = "Hartley",
                                                .note = "51107",
                                                .arrived = "2026-10-05" };
    static const char one[] = "Note date,Roll,Article,Metres,Composition\n10/09/2026,1,Twill,50,100% wool\n";
    static const char both[] = "Note date,Roll,Article,Metres,Composition\n04/09/2026,1,Twill,50,100% wool\n";
    struct seen s = read_text(one, &came);

    (void)state;
    assert_int_equal(s.rc, TB_OK);
    assert_string_equal(s.list.delivery[0].day, "2026-09-10");
    assert_true(says(&s, "'10/09/2026' is read as 2026-09-10; the goods came before 2026-10-09"));
    seen_free(&s);
    asked(one, &said, "is 2026-09-10 with --dates dmy and 2026-10-09 with --dates mdy");
    asked(both, &came, "is 2026-09-04 with --dates dmy and 2026-04-09 with --dates mdy");
    s = read_text(one, &(struct tb_intake_opts){
                           .supplier = "Hartley", .note = "51107", .arrived = "2026-10-05", .dates = 'm' });
    assert_string_equal(s.list.delivery[0].day, "2026-10-09"); /* somebody said so */
    seen_free(&s);
}

/* Common practice, no source: where days are written with full stops and the year last, the day comes first. */
static void full_stops_put_the_day_first(void **state)
{
    struct tb_day_reading day;

    (void)state;
    assert_int_equal(tb_day_scan(&day, "03.04.2026"), TB_DAY_DMY);
    assert_string_equal(day.dmy, "2026-04-03");
    assert_int_equal(tb_day_scan(&day, "03/04/2026"), TB_DAY_DMY | TB_DAY_MDY);
    assert_int_equal(tb_day_scan(&day, "03.04.26") & TB_DAY_MDY, TB_DAY_MDY); /* the year may stand first */
}

#define DAY(words) words "\nB1;03/11/2026;50,5;T1;100% wool\n"

/* CLDR, short dates (memory): in all of these the day comes first; English alone has both orders. */
static void the_language_of_the_header_says_which_figure_is_the_day(void **state)
{
    static const struct tb_intake_opts given = { .supplier = "Hartley",
                                                 .note = "7",
                                                 .length_unit = TB_UNIT_M };
    static const char *const first[] = {
        DAY("Pezza n.;Data;Metri netti;Articolo;Composizione"),
        DAY("N\u00b0 pi\u00e8ce;Date;M\u00e9trage;R\u00e9f\u00e9rence;Composition"),
        DAY("St\u00fccknummer;Datum;L\u00e4nge m;Artikelnummer;Zusammensetzung")
    };

    (void)state;
    for (size_t i = 0; i < TB_COUNT(first); i++) {
        struct seen s = read_text(first[i], &given);

        if (s.rc != TB_OK)
            print_error("%s: %s\n", first[i], s.err.msg);
        assert_int_equal(s.rc, TB_OK);
        assert_string_equal(s.list.delivery[0].day, "2026-11-03");
        assert_true(says(&s, "'03/11/2026' is read as 2026-11-03, day first"));
        seen_free(&s);
    }
    asked(DAY("Roll no;Date;Net metres;Article;Composition"), &given, "say which is meant");
    asked(DAY("Roll no;Datum;Net metres;Artikelnummer;Zusammensetzung"), &given, "say which is meant");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_day_that_stands_twice_is_one_day),
        cmocka_unit_test(the_head_of_a_mail_gives_way),
        cmocka_unit_test(two_days_that_nothing_tells_apart_are_left_open),
        cmocka_unit_test(a_day_after_the_arrival_is_not_the_note_s),
        cmocka_unit_test(full_stops_put_the_day_first),
        cmocka_unit_test(the_language_of_the_header_says_which_figure_is_the_day),
    };

    return cmocka_run_group_tests(tests, NULL, NULL);
}
