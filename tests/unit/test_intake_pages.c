/* test_intake_pages.c - packing lists in the code pages that suppliers write: found by their words, asked about, or refused. */
#include "intake_helper.h"

#include "tenterbook/code_page.h"

#include <iconv.h>

/* The same list in another code page; what it cannot hold would be a fault of the test. */
static struct seen read_in(const char *page, const char *text, const struct tb_intake_opts *opts)
{
    iconv_t how = iconv_open(page, "UTF-8");
    char out[8192], *to = out, *from = (char *)text;
    size_t room = sizeof out, n = strlen(text);

    assert_true(how != (iconv_t)-1);
    assert_int_equal(iconv(how, &from, &n, &to, &room), 0);
    (void)iconv_close(how);
    return read_bytes(out, (size_t)(to - out), opts);
}

/* What is read of it is what is read of the same list in UTF-8, and the page is said. */
static void same_in(const char *page, const char *name, const char *text)
{
    struct seen plain = read_text(text, NULL), other = read_in(page, text, NULL);
    char say[80];

    if (plain.rc != TB_OK || other.rc != TB_OK)
        print_error("%s: %s; %s\n", page, plain.err.msg, other.err.msg);
    assert_int_equal(plain.rc, TB_OK);
    assert_int_equal(other.rc, TB_OK);
    assert_string_equal(tb_text_str(&other.text), tb_text_str(&plain.text));
    (void)snprintf(say, sizeof say, "the file is not UTF-8; its text is read as %s", name);
    assert_true(!name || says(&other, say));
    seen_free(&plain);
    seen_free(&other);
}

static const char polish[] = "Dostawca: Przędzalnia Żuraw\nNr WZ: 5/26\n"
                             "Tkanina;Kolor;Nr partii;Nr belki;Długość (m);Skład\n"
                             "Płótno Ślęża;źdźbło;P-1;1;40,5;100% bawełna\n;;;2;41,0;\n";
static const char russian[] =
    "Поставщик: Фабрика Иволга\nНакладная №: 8\n"
    "Ткань;Цвет;Партия;Рулон №;Длина (м);Состав\nСатин;белый;5;31;60,5;хлопок 100%\n";
static const char greek[] = "Προμηθευτής;Υφαντήριο Όστρια\nΔελτίο αποστολής;301\n"
                            "Ύφασμα;Χρώμα;Παρτίδα;Ρολό;Μέτρα;Σύνθεση\nΠοπλίνα;μπλε;Α1;1001;80;100% βαμβάκι\n";
static const char turkish[] = "Tedarikçi;Işık Dokuma Şirketi\nİrsaliye No;E-55\n"
                              "Kumaş;Renk;Parti;Top No;Metraj;En (cm);Kompozisyon\n"
                              "Gabardin;yeşilımsı;77;1;45,5;150;%100 PAMUK\n";
static const char baltic[] = "Tiekėjas: Audėja Šventoji\nVažtaraščio Nr.: 14\n"
                             "Audinys;Spalva;Partija;Rulono Nr.;Ilgis (m);Sudėtis\n"
                             "Drobė;žalsvą;3;1;50,5;100% linas\n";
static const char simplified[] = "供应商：青岚纺织厂\n送货单号：QL-9\n品名,颜色,缸号,匹号,长度(米),成分\n"
                                 "府绸,浅绿,G1,1,120.5,棉100%\n";
static const char traditional[] = "供應商：溪口布行\n裝箱單號：HK-66\n品名,顏色,缸號,匹號,長度(米),成分\n"
                                  "斜紋布,卡其,G1,1,120.5,棉100%\n";
static const char japanese[] =
    "仕入先：桐生野織物\n納品書番号：N-51\n品名,色,ロット,反番,長さ(m),巾(cm),組成\n"
    "綿ローン,白,L1,0101,50.2,112,綿100%\n";
static const char korean[] = "공급자: 한내직물\n송장번호: HN-7\n품명,색상,로트,절번호,길이(m),혼용율\n"
                             "새틴,검정,71,1,100,폴리에스터 100%\n";

static void a_list_is_read_in_the_code_page_in_which_its_words_stand(void **state)
{
    (void)state;
    same_in("CP1250", "Windows-1250", polish);
    same_in("CP1251", "Windows-1251", russian);
    same_in("CP1253", "Windows-1253", greek);
    same_in("CP1254", "Windows-1254", turkish);
    same_in("CP1257", "Windows-1257", baltic);
    same_in("GB18030", "GB18030", simplified);
    same_in("BIG5", "Big5", traditional);
    same_in("CP932", "Shift-JIS", japanese);
    same_in("EUC-KR", "EUC-KR", korean);
}

static void utf16_is_read_in_both_orders_with_a_mark_and_without(void **state)
{
    static const char *const list[] = { polish, russian, simplified, japanese, korean };
    char marked[4096];

    (void)state;
    for (size_t i = 0; i < TB_COUNT(list); i++) {
        same_in("UTF-16LE", NULL, list[i]);
        same_in("UTF-16BE", NULL, list[i]);
        (void)snprintf(marked, sizeof marked, "\xEF\xBB\xBF%s", list[i]);
        same_in("UTF-16LE", NULL, marked);
        same_in("UTF-16BE", NULL, marked);
    }
}

static const char unknown[] =
    "Supplier: Alder Mill\nDelivery note no.: 9\nArticle,Colour,Roll,Length m,Composition\n"
    "Czę\xC5\x9B\xC4\x87,navy,1,50,100% cotton\n";

static void a_page_that_nothing_tells_is_asked_about_and_settled_by_the_option(void **state)
{
    struct seen s = read_in("CP1250", unknown, NULL);
    const struct tb_question *q = s.list.question;

    (void)state;
    assert_int_equal(s.rc, TB_EINVAL); /* "Część", or what Western letters make of it */
    assert_int_equal(s.list.questions, 1);
    assert_string_equal(q->answer[0].option, "encoding");
    assert_non_null(strstr(q->ask, "Część"));
    assert_non_null(strstr(q->ask, "--encoding Windows-1250"));
    seen_free(&s);
    s = read_in("CP1250", unknown, &(struct tb_intake_opts){ .encoding = "Windows-1250" });
    assert_int_equal(s.rc, TB_OK);
    assert_string_equal(s.list.lot[0].article, "Część");
    seen_free(&s);
}

static void a_page_is_called_by_any_of_its_names(void **state)
{
    static const struct {
        const char *said, *name;
    } name[] = { { "cp1250", "Windows-1250" }, { "WINDOWS 1250", "Windows-1250" }, { "GBK", "GB18030" },
                 { "Shift_JIS", "Shift-JIS" }, { "iso-8859-2", "ISO-8859-2" },     { "utf8", "UTF-8" } };
    struct tb_intake_opts o = { 0 };
    struct tb_arena mem = { 0 };
    struct tb_err err = { 0 };

    (void)state;
    for (size_t i = 0; i < TB_COUNT(name); i++) {
        assert_int_equal(tb_intake_answer(&o, "encoding", name[i].said, &mem, &err), TB_OK);
        assert_string_equal(o.encoding, name[i].name);
    }
    assert_int_equal(tb_intake_answer(&o, "encoding", "EBCDIC", &mem, &err), TB_EINVAL);
    assert_non_null(strstr(err.msg, "Windows-1250, Windows-1251"));
    tb_arena_free(&mem);
}

static void what_is_text_in_no_page_is_refused_with_a_sentence(void **state)
{
    static const char bytes[] = "Article,Roll,Length m,Composition\nS\x81\x8D\xFFt,1,50,100% cotton\xFF\n";
    struct seen s = read_bytes(bytes, sizeof bytes - 1, NULL);

    (void)state;
    assert_int_equal(s.rc, TB_EINVAL);
    assert_non_null(strstr(s.err.msg, "not text in any code page that is known here"));
    seen_free(&s);
    s = read_bytes(bytes, sizeof bytes - 1, &(struct tb_intake_opts){ .encoding = "Windows-1252" });
    assert_int_equal(s.rc, TB_EFORMAT);
    assert_non_null(strstr(s.err.msg, "the file is not Windows-1252 text throughout"));
    seen_free(&s);
}

static void a_mark_at_the_beginning_is_not_overruled(void **state)
{
    struct seen s = read_text("\xEF\xBB\xBF"
                              "a,b\n1,2\n",
                              &(struct tb_intake_opts){ .encoding = "Windows-1250" });

    (void)state;
    assert_int_equal(s.rc, TB_EINVAL);
    assert_string_equal(s.err.msg, "the file is marked as UTF-8 text, and --encoding says Windows-1250");
    seen_free(&s);
}

static void western_letters_in_an_english_list_need_no_question(void **state)
{
    struct seen s = read_in("CP1252",
                            "Supplier: Alder Mill\nDelivery note no.: 9\n"
                            "Article,Colour,Roll,Length m,Composition\n"
                            "Crêpe,écru,1,50,100% cotton\nCrêpe,bordé,2,51,100% cotton\n",
                            NULL);

    (void)state;
    if (s.rc != TB_OK)
        print_error("%s\n", s.err.msg);
    assert_int_equal(s.rc, TB_OK);
    assert_string_equal(s.list.lot[0].article, "Crêpe");
    assert_true(says(&s, "read as Windows-1252"));
    seen_free(&s);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_list_is_read_in_the_code_page_in_which_its_words_stand),
        cmocka_unit_test(utf16_is_read_in_both_orders_with_a_mark_and_without),
        cmocka_unit_test(a_page_that_nothing_tells_is_asked_about_and_settled_by_the_option),
        cmocka_unit_test(a_page_is_called_by_any_of_its_names),
        cmocka_unit_test(what_is_text_in_no_page_is_refused_with_a_sentence),
        cmocka_unit_test(a_mark_at_the_beginning_is_not_overruled),
        cmocka_unit_test(western_letters_in_an_english_list_need_no_question),
    };

    return cmocka_run_group_tests(tests, NULL, NULL);
}
