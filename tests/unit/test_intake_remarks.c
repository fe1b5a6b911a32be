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

int main(void)
{
    const struct CMUnitTest tests[] = {
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
