/* What rows say beside the columns that are read: a bolt that did not come is asked about, any other remark is shown. */
#include "intake_helper.h"

#include "tenterbook/base.h"

static const struct tb_intake_opts said = { .supplier = "Mill", .note = "7", .day = "2026-09-14" };

/* Three bolts; the last has the remark. */
static char *list(const char *header, const char *remark)
{
    struct tb_text t = { 0 };

    tb_text_addf(&t,
                 "Roll,Article,Metres,Composition,%s\n1,Drill,50,100%% cotton,\n2,Drill,51,100%% cotton,\n"
                 "3,Drill,47,100%% cotton,%s\n",
                 header, remark);
    return t.s;
}

/* Source: memory. */
static void words_that_nothing_was_made_of_are_listed(void **state)
{
    static const char *const list =
        "Supplier;Kestrel Mill\nPacking list no.;K 7\nArticle;Melton\n"
        "Composition;80% wool 20% nylon;Composition of selvedge;100% polyester\n"
        "Tel. 0123\nColour;Roll;Metres\nred;1;20.5\nTo be aired before cutting;;\nwhite;2;21\n;Total;41.5\n";
    struct seen s = read_text(list, NULL);

    (void)state;
    assert_int_equal(s.rc, TB_OK);
    assert_true(
        says(&s, "not read: 'Composition of selvedge', '100% polyester', 'To be aired before cutting'"));
    seen_free(&s);
    s = read_text("Supplier;Kestrel Mill\nPacking list no.;K 7\nArticle;Melton\nComposition;100% wool\n"
                  "Colour;Roll;Metres\nred;1;20.5\n;Total;20.5\n",
                  NULL);
    assert_int_equal(s.rc, TB_OK);
    assert_false(says(&s, "not read"));
    seen_free(&s);
}

static void words_that_say_that_a_bolt_did_not_come_are_asked_about(void **state)
{
    static const char *const remark[] = { "to follow",
                                          "balance next shipment",
                                          "backorder",
                                          "B/O",
                                          "(B/O)",
                                          "will ship later",
                                          "Ships next week",
                                          "short shipped",
                                          "MISSING",
                                          "on hold",
                                          "hold at mill",
                                          "returned to mill",
                                          "rejected",
                                          "withdrawn",
                                          "deleted",
                                          "struck out",
                                          "replaced by roll 9",
                                          "Roll to follow",
                                          "folgt nach",
                                          "nachgeliefert",
                                          "fehlt",
                                          "à suivre",
                                          "prochaine livraison",
                                          "da consegnare",
                                          "prossima spedizione",
                                          "por enviar",
                                          "a seguir",
                                          "próximo envio",
                                          "volgt later",
                                          "følger",
                                          "nästa leverans",
                                          "toimitetaan myöhemmin",
                                          "do wysłania",
                                          "brak",
                                          "příští dodávka",
                                          "törölve",
                                          "va fi livrat",
                                          "ni dobavljen",
                                          "nije isporučeno",
                                          "nav piegādāts",
                                          "nepristatyta",
                                          "järgmine tarne",
                                          "sonraki sevkiyat",
                                          "отменён",
                                          "будет отгружен позже",
                                          "следваща доставка",
                                          "ακυρώθηκε",
                                          "下批",
                                          "欠交",
                                          "未出荷",
                                          "次回出荷",
                                          "다음 선적",
                                          "Not shipped 未发货",
                                          "in next lot",
                                          "wird nachgereicht",
                                          "en rupture",
                                          "verrà spedito",
                                          "later",
                                          "dodamy później",
                                          "довезём",
                                          "次便" };
    static const char *const header[] = { "Remarks", "Status", "Xyzzy" };

    (void)state;
    for (size_t i = 0; i < TB_COUNT(remark); i++) {
        char *text = list(header[i % TB_COUNT(header)], remark[i]);

        asked(text, &said, "if the bolt did not come");
        free(text);
    }
}

static void any_other_remark_is_shown_with_its_line_and_bolt(void **state)
{
    static const char *const remark[] = { "shade slightly off",
                                          "missing end 2 m",
                                          "hole at 12 m",
                                          "short roll",
                                          "Rest",
                                          "gestrichen und geraut",
                                          "нет",
                                          "next to roll 8",
                                          "outstanding quality",
                                          "rayé",
                                          "2e choix" };
    static const char *const header[] = { "Remarks", "Status", "Xyzzy", "" };

    (void)state;
    for (size_t h = 0; h < TB_COUNT(header); h++)
        for (size_t i = 0; i < TB_COUNT(remark); i++) {
            char *text = list(header[h], remark[i]);
            struct seen s = read_text(text, &said);
            struct tb_text want = { 0 };

            tb_text_addf(&want, "line 4 says of bolt 3: '%s'", remark[i]);
            assert_int_equal(s.rc, TB_OK);
            assert_true(says(&s, want.s));
            tb_text_free(&want);
            seen_free(&s);
            free(text);
        }
}

static void praise_and_signs_are_not_repeated(void **state)
{
    static const char *const remark[] = { "OK",  "A grade", "1st quality", "in Ordnung", "合格", "-",
                                          "n/a", "",        "shipped" };

    (void)state;
    for (size_t i = 0; i < TB_COUNT(remark); i++) {
        char *text = list("Remarks", remark[i]);
        struct seen s = read_text(text, &said);

        assert_int_equal(s.rc, TB_OK);
        assert_false(says(&s, "says of bolt"));
        seen_free(&s);
        free(text);
    }
}

static void a_remark_of_several_bolts_is_shown_once(void **state)
{
    struct seen s = read_text("Roll,Article,Metres,Composition,Remarks\n1,Drill,50,100% cotton,joined\n"
                              "2,Drill,51,100% cotton,OK\n3,Drill,47,100% cotton,joined\n",
                              &said);

    (void)state;
    assert_int_equal(s.rc, TB_OK);
    assert_true(says(&s, "2 bolts, the first of them 1 on line 2, have the remark 'joined'"));
    assert_false(says(&s, "'OK'"));
    seen_free(&s);
}

/* Common practice of Chinese lists: prepared by, checked by. */
static void signatures_below_the_last_length_are_no_bolts(void **state)
{
    struct seen s =
        read_text("匹号,品名,米数,成分\n1,斜纹,50,100%棉\n2,斜纹,51,100%棉\n总计,,101,\n制单：王丽,,审核：,\n"
                  "Verdi,Rossi,,\n",
                  &said);

    (void)state;
    assert_int_equal(s.rc, TB_OK);
    assert_true(says(&s, "制单：王丽"));
    seen_free(&s);
    /* what may be a bolt is none of them */
    bad("Roll,Article,Metres,Composition\n1,Drill,50,100% cotton\n2,Drill,,100% cotton\n", &said,
        "the bolt '2' has no length");
}

/* A column that most rows fill is named as left out, and not repeated row by row. */
static void a_column_that_most_rows_fill_is_no_remark(void **state)
{
    struct seen s = read_text("Roll,Article,Metres,Composition,Finish\n1,Drill,50,100% cotton,soft\n"
                              "2,Drill,51,100% cotton,soft\n3,Drill,47,100% cotton,\n",
                              &said);

    (void)state;
    assert_int_equal(s.rc, TB_OK);
    assert_true(says(&s, "columns that are left out: 'Finish'"));
    assert_false(says(&s, "'soft'"));
    seen_free(&s);
}

/* What stands behind a label between bolts is what they are called, unless nothing is called so. */
static void a_remark_behind_a_label_is_asked_about(void **state)
{
#define BETWEEN(words)                                                                                       \
    "Article: Twill 9,,\nComposition: 100% cotton,,\nColour: Navy,,\nLot: "                                  \
    "L1,,\nRoll,Metres,Remarks\n101,50.5,\n" words ",,\n102,49.2,\n103,47.7,\n"
    static const char *const remark[] = { BETWEEN("Lot: slightly darker from here"),
                                          BETWEEN("Colour: please check against lab dip"),
                                          BETWEEN("Article: as above; second choice of it") };
    static const struct tb_line_is total = { "", 7, TB_LINE_TOTAL }, heading = { "", 7, TB_LINE_HEADING };
    struct tb_intake_opts left_out = said, taken_so = said;

    (void)state;
    left_out.line = &total;
    taken_so.line = &heading;
    left_out.lines = taken_so.lines = 1;
    for (size_t i = 0; i < TB_COUNT(remark); i++) {
        struct seen s = read_text(remark[i], &said);

        assert_int_equal(s.rc, TB_EINVAL);
        assert_int_equal(s.list.questions, 1);
        assert_true(s.list.question[0].open);
        assert_non_null(strstr(s.list.question[0].ask, "may be a remark"));
        seen_free(&s);
        s = read_text(remark[i], &left_out);
        assert_int_equal(s.rc, TB_OK);
        assert_int_equal(s.list.lots, 1);
        assert_string_equal(s.list.lot[0].dye_lot, "L1");
        seen_free(&s);
    }
    for (size_t i = 0; i < 2; i++) {
        struct seen s =
            read_text(i ? BETWEEN("Lot: second half") : BETWEEN("Lot: L2"), i ? &taken_so : &said);

        assert_int_equal(s.rc, TB_OK);
        assert_int_equal(s.list.lots, 2);
        assert_string_equal(s.list.lot[1].dye_lot, i ? "second half" : "L2");
        seen_free(&s);
    }
#undef BETWEEN
}

/* Pasted lines are all as far from one another: whose rest a word alone is does not show. */
static void a_word_between_pasted_bolts_may_be_the_rest_of_a_cell(void **state)
{
    static const char list[] =
        "Composition: 100% cotton\n\nRoll   Article    Colour        Lot   Metres\n"
        "101    Twill 9    Navy          L1    52.1\n102    Twill 9    Light         L2    47.7\n"
        "                  Stone\n103    Twill 9    Sand          L2    51.2\n"
        "104    Twill 9    Sand          L2    50.2\n";
    static const struct tb_line_is total = { "", 6, TB_LINE_TOTAL };
    struct tb_intake_opts left_out = said;

    (void)state;
    asked(list, &said, "'Stone' stands alone under 'Colour' between bolts that have their own there");
    left_out.line = &total;
    left_out.lines = 1;
    bolts(list, &left_out, "B 0:101|52.10\nB 1:102|47.70\nB 2:103|51.20\nB 2:104|50.20\n");
}

static void a_header_over_the_first_of_two_columns_is_of_both(void **state)
{
    (void)state;
    taken("Roll,Article,Composition,,Metres\n1,T9,60% cotton,40% polyester,50.5\n2,T9,100% cotton,,50.1\n",
          &said,
          "D Mill|7||2026-09-14\nL T9|||60% cotton 40% polyester|row|\nL T9|||100% cotton|row|\nB 0:1|50.50\n"
          "B 1:2|50.10\n");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_remark_behind_a_label_is_asked_about),
        cmocka_unit_test(a_word_between_pasted_bolts_may_be_the_rest_of_a_cell),
        cmocka_unit_test(a_header_over_the_first_of_two_columns_is_of_both),
        cmocka_unit_test(words_that_nothing_was_made_of_are_listed),
        cmocka_unit_test(words_that_say_that_a_bolt_did_not_come_are_asked_about),
        cmocka_unit_test(any_other_remark_is_shown_with_its_line_and_bolt),
        cmocka_unit_test(praise_and_signs_are_not_repeated),
        cmocka_unit_test(a_remark_of_several_bolts_is_shown_once),
        cmocka_unit_test(signatures_below_the_last_length_are_no_bolts),
        cmocka_unit_test(a_column_that_most_rows_fill_is_no_remark),
    };

    return cmocka_run_group_tests(tests, NULL, NULL);
}
