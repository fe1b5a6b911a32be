/*
 * test_case_golden.c - a case drawn from committed data, compared word by word with committed expectations: the text
 * of its pages, the parts of its workbook, its CSV twins. Differences are shown, and taken over where they are meant,
 * by `make golden-review`. The data are invented, and long in every way: 60 bolts, 40 burns, four scripts.
 */
#include "golden_compare.h"
#include "ink.h"
#include "report/case/conformity.h"
#include "report/draw/fonts.h"
#include "report/draw/pdf_attached.h"
#include "tenterbook/case.h"

#include <dirent.h>
#include <math.h>
#include <setjmp.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <unistd.h>

#include <cmocka.h>
#include <zip.h>

static char folder[] = "/tmp/test_case_golden_XXXXXX";
static json_t *data;
static struct tb_err err;
static struct tb_text differs; /* names of what is not as expected */

static char *path_of(const char *name)
{
    struct tb_text t = { 0 };

    tb_text_addf(&t, "%s/%s", folder, name);
    return tb_text_take(&t);
}

static char *slurp(const char *path, size_t *n)
{
    FILE *f = fopen(path, "rb");
    struct tb_text t = { 0 };
    char buffer[4096];
    size_t got;

    while (f && (got = fread(buffer, 1, sizeof buffer, f)) > 0)
        tb_text_addn(&t, buffer, got);
    if (f)
        (void)fclose(f);
    *n = t.n;
    return tb_text_take(&t);
}

static void spit(const char *path, const char *s, size_t n)
{
    FILE *f = fopen(path, "wb");

    assert_non_null(f);
    assert_int_equal(fwrite(s, 1, n, f), n);
    assert_int_equal(fclose(f), 0);
}

/* What is there now against tests/golden/NAME; where TB_GOLDEN_NEW names a folder, it is put there for review. */
static void compare(const char *name, const char *s, size_t n)
{
    struct tb_text golden = { 0 }, fresh = { 0 };
    const char *review = getenv("TB_GOLDEN_NEW");
    size_t want_n;
    char *want;
    bool same;

    tb_text_addf(&golden, "%s/tests/golden/%s", TB_SOURCE_DIR, name);
    want = slurp(golden.s, &want_n);
    same = want_n == n && memcmp(want, s, n) == 0;
    if (review) {
        tb_text_addf(&fresh, "%s/%s", review, name);
        spit(fresh.s, s, n);
    }
    free(want);
    tb_text_free(&golden);
    tb_text_free(&fresh);
    if (!same)
        tb_text_addf(&differs, " %s", name);
}

static void nothing_differs(void)
{
    char *names = tb_text_take(&differs);

    if (*names)
        print_error("not what was expected:%s; see it with make golden-review\n", names);
    assert_string_equal(names, "");
    free(names);
}

/* Draws in a program of its own whose machine knows other fonts and other rules; call it before anything is drawn here. */
static tb_rc write_case(const char *pdf)
{
    struct tb_outset files = { .replace = true };

    return tb_outset_end(&files, tb_case_write(&files, pdf, data, &err), &err);
}

static void draw_elsewhere(const char *pdf)
{
    char *rules = path_of("other.conf");
    static const char text[] = "<fontconfig><dir>/usr/share/fonts/truetype/libreoffice</dir>"
                               "<match target=\"pattern\"><edit name=\"family\" mode=\"assign\" "
                               "binding=\"same\"><string>OpenSymbol</string></edit></match></fontconfig>";
    pid_t child;
    int status = -1;

    spit(rules, text, sizeof text - 1);
    child = fork();
    if (child == 0)
        _exit(setenv("FONTCONFIG_FILE", rules, 1) != 0 || write_case(pdf) != TB_OK);
    assert_true(child > 0);
    assert_int_equal(waitpid(child, &status, 0), child);
    assert_int_equal(status, 0);
    free(rules);
}

static void a_case_is_the_same_bytes_whatever_fonts_and_rules_a_machine_has(void **state)
{
    char *here = path_of("here.pdf"), *there = path_of("there.pdf"), *a, *b;
    size_t n, m;

    (void)state;
    draw_elsewhere(there);
    assert_int_equal(write_case(here), TB_OK);
    a = slurp(here, &n);
    b = slurp(there, &m);
    assert_true(n > 10000);
    assert_true(n == m && memcmp(a, b, n) == 0);
    free(a);
    free(b);
    free(here);
    free(there);
}

/* The four files of fonts-dejavu-core and fonts-droid-fallback; slanted letters are made from the upright ones. */
static void the_pages_carry_no_font_but_those_the_project_names(void **state)
{
    char *pdf = path_of("here.pdf"), *list = path_of("fonts.txt"), *s;
    struct tb_text command = { 0 };
    size_t n;

    (void)state;
    tb_text_addf(&command, "pdffonts %s | tail -n +3 | cut -c8-36 | tr -d ' ' | LC_ALL=C sort -u >%s", pdf,
                 list);
    assert_int_equal(system(command.s), 0);
    s = slurp(list, &n);
    assert_string_equal(s, "DejaVuSans\nDejaVuSans-Bold\nDejaVuSansMono\nDroidSansFallback\n");
    free(s);
    free(pdf);
    free(list);
    tb_text_free(&command);
}

static void a_missing_font_is_named_with_its_package(void **state)
{
    static const char *const nowhere[] = { "/nowhere", NULL };
    static const char *const half[] = { "/usr/share/fonts/truetype/dejavu", NULL };
    struct _FcConfig *fonts;

    (void)state;
    assert_int_equal(tb_fonts_load(&fonts, nowhere, &err), TB_EIO);
    assert_null(fonts);
    assert_string_equal(err.msg,
                        "the font DejaVuSans.ttf is not on this machine or cannot be read; install the "
                        "packages fonts-dejavu-core and fonts-droid-fallback");
    assert_int_equal(tb_fonts_load(&fonts, half, &err), TB_EIO);
    assert_non_null(strstr(err.msg, "the font DroidSansFallbackFull.ttf is not on this machine"));
}

static void the_words_of_the_pages_are_as_expected(void **state)
{
    char *pdf = path_of("case.pdf"), *text = path_of("case.txt"), *s;
    struct tb_text command = { 0 };
    size_t n;

    (void)state;
    if (write_case(pdf) != TB_OK)
        fail_msg("%s (%s)", err.msg, err.detail);
    tb_text_addf(&command, "pdftotext -layout %s - | tr -s ' ' >%s", pdf, text);
    assert_int_equal(system(command.s), 0);
    s = slurp(text, &n);
    compare("case.txt", s, n);
    free(s);
    free(pdf);
    free(text);
    tb_text_free(&command);
    nothing_differs();
}

/* Lines, boxes and charts have no words: their place is seen by the ink of each page, two points to a dot. */
static void the_ink_of_the_pages_lies_where_it_is_expected(void **state)
{
    char *pdf = path_of("ink.pdf");
    struct tb_text t = { 0 };
    bool same;

    (void)state;
    assert_int_equal(write_case(pdf), TB_OK);
    for (int page = 1; page <= 7; page++)
        ink_page(&t, pdf, page, 36);
    same = golden_near("case-ink.txt", tb_text_str(&t), 1.6);
    tb_text_free(&t);
    free(pdf);
    assert_true(same);
}

static char *part_of(const char *path, const char *part, size_t *n)
{
    zip_t *z = zip_open(path, ZIP_RDONLY, NULL);
    zip_file_t *f = z ? zip_fopen(z, part, 0) : NULL;
    struct tb_text t = { 0 };
    char buffer[4096];
    zip_int64_t got;

    assert_non_null(f);
    while ((got = zip_fread(f, buffer, sizeof buffer)) > 0)
        tb_text_addn(&t, buffer, (size_t)got);
    (void)zip_fclose(f);
    zip_discard(z);
    *n = t.n;
    return tb_text_take(&t);
}

/* One element a line, so that a difference is a line. */
static void compare_xml(const char *name, const char *xml, size_t n)
{
    struct tb_text t = { 0 };

    for (size_t i = 0; i < n; i++) {
        tb_text_addc(&t, xml[i]);
        if (xml[i] == '>' && i + 1 < n && xml[i + 1] == '<')
            tb_text_addc(&t, '\n');
    }
    compare(name, tb_text_str(&t), t.n);
    tb_text_free(&t);
}

static void the_parts_of_the_workbook_are_as_expected(void **state)
{
    static const struct {
        const char *tab, *part, *name; /* tab: the part that holds it */
    } expected[] = {
        { "Case", NULL, "case-tab-Case.xml" },           { "Bolts", NULL, "case-tab-Bolts.xml" },
        { "Burns", NULL, "case-tab-Burns.xml" },         { "Cues", NULL, "case-tab-Cues.xml" },
        { "Custody", NULL, "case-tab-Custody.xml" },     { NULL, "xl/styles.xml", "case-styles.xml" },
        { NULL, "xl/workbook.xml", "case-workbook.xml" }
    };
    struct tb_outset files = { .replace = true };
    char *path = path_of("case.xlsx"), *workbook;
    size_t all;

    (void)state;
    if (tb_outset_end(&files, tb_case_sheets(&files, path, data, &err), &err) != TB_OK)
        fail_msg("%s (%s)", err.msg, err.detail);
    workbook = part_of(path, "xl/workbook.xml", &all);
    for (size_t i = 0; i < TB_COUNT(expected); i++) {
        struct tb_text part = { 0 };
        size_t n;
        char *xml;

        if (expected[i].tab)
            golden_tab(&part, workbook, expected[i].tab);
        else
            tb_text_add(&part, expected[i].part);
        if (!part.n)
            fail_msg("the workbook has no tab '%s'", expected[i].tab);
        xml = part_of(path, part.s, &n);
        compare_xml(expected[i].name, xml, n);
        free(xml);
        tb_text_free(&part);
    }
    free(workbook);
    free(path);
    nothing_differs();
}

static void the_csv_twins_are_as_expected(void **state)
{
    static const char *const name[] = { "case-case.csv", "case-bolts.csv", "case-burns.csv", "case-cues.csv",
                                        "case-custody.csv" };

    (void)state;
    for (size_t i = 0; i < TB_COUNT(name); i++) {
        char *path = path_of(name[i]), *s;
        size_t n;

        s = slurp(path, &n);
        compare(name[i], s, n);
        free(s);
        free(path);
    }
    nothing_differs();
}

static void what_was_attached_is_read_back_as_it_was(void **state)
{
    char *pdf = path_of("case.pdf"), *bytes;
    struct tb_text text = { 0 };
    json_t *again;
    size_t n;

    (void)state;
    bytes = slurp(pdf, &n);
    assert_int_equal(tb_pdf_attached(&text, bytes, n, &err), TB_OK);
    again = json_loadb(text.s, text.n, JSON_REJECT_DUPLICATES, NULL);
    assert_true(json_equal(data, again));
    json_decref(again);
    tb_text_free(&text);
    free(bytes);
    free(pdf);
}

static void a_case_of_a_later_form_is_refused(void **state)
{
    json_t *later = json_copy(data);
    struct tb_text pdf = { 0 };

    (void)state;
    (void)json_object_set_new(later, "tenterbook_case", json_integer(99));
    assert_int_equal(tb_case_pdf(&pdf, later, &err), TB_EFORMAT);
    assert_string_equal(err.msg, "the case was made by a newer program; use that one");
    json_decref(later);
}

static void a_case_with_a_damaged_verdict_is_refused(void **state)
{
    json_t *damaged = json_deep_copy(data);
    struct tb_text pdf = { 0 };

    (void)state;
    (void)json_object_set_new(json_object_get(damaged, "verdict"), "cues", json_string("smoke:black"));
    assert_int_equal(tb_case_pdf(&pdf, damaged, &err), TB_EFORMAT);
    assert_string_equal(err.msg, "the stored verdict is damaged: the member 'cues' is not a list");
    assert_null(pdf.s);
    json_decref(damaged);
}

static void the_answers_of_an_analysis_are_read_and_damage_is_named(void **state)
{
    static const char good[] =
        "{\"conformity\":[{\"market\":\"eu\",\"sure\":0.95,\"fibres\":["
        "{\"fibre\":\"cotton\",\"declared\":60,\"found\":54.5,\"u\":0.5,\"allowed\":[57,null],"
        "\"answer\":\"does_not_conform\",\"clause\":\"EU-TOL\",\"status\":\"seen\"}]}]}";
    struct tb_arena mem = { 0 };
    struct conformity c;

    (void)state;
    assert_int_equal(tb_conformity_parse(&c, good, &mem, &err), TB_OK);
    assert_int_equal(c.n, 1);
    assert_string_equal(c.market[0].market, "eu");
    assert_true(c.market[0].sure == 0.95);
    assert_int_equal(c.market[0].n, 1);
    assert_string_equal(c.market[0].share[0].fibre, "cotton");
    assert_true(c.market[0].share[0].found == 54.5);
    assert_true(c.market[0].share[0].low == 57 && isnan(c.market[0].share[0].high));
    assert_int_equal(c.market[0].share[0].answer, TB_LAB_FAILS);
    assert_int_equal(tb_conformity_parse(&c, "{}", &mem, &err), TB_OK);
    assert_int_equal(c.n, 0);
    assert_int_equal(tb_conformity_parse(&c, "", &mem, &err), TB_EFORMAT);
    assert_string_equal(err.msg, "the details of the analysis are damaged: they are not JSON");
    assert_int_equal(tb_conformity_parse(&c, "{\"conformity\":[{\"market\":7}]}", &mem, &err), TB_EFORMAT);
    assert_string_equal(err.msg,
                        "the details of the analysis are damaged: the member 'market' is not a text");
    assert_int_equal(
        tb_conformity_parse(&c, "{\"conformity\":[{\"fibres\":[{\"answer\":\"perhaps\"}]}]}", &mem, &err),
        TB_EFORMAT);
    assert_string_equal(err.msg,
                        "the details of the analysis are damaged: the member 'answer' does not make sense: "
                        "'perhaps'");
    tb_arena_free(&mem);
}

static int load(void **state)
{
    (void)state;
    data = json_load_file(TB_SOURCE_DIR "/tests/golden/case.json", JSON_REJECT_DUPLICATES, NULL);
    return data && mkdtemp(folder) ? 0 : -1;
}

static int remove_folder(void **state)
{
    DIR *d = opendir(folder);
    struct dirent *e;

    (void)state;
    json_decref(data);
    while (d && (e = readdir(d))) {
        char *p = path_of(e->d_name);

        (void)unlink(p);
        free(p);
    }
    if (d)
        (void)closedir(d);
    return rmdir(folder);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_case_is_the_same_bytes_whatever_fonts_and_rules_a_machine_has),
        cmocka_unit_test(the_pages_carry_no_font_but_those_the_project_names),
        cmocka_unit_test(a_missing_font_is_named_with_its_package),
        cmocka_unit_test(the_words_of_the_pages_are_as_expected),
        cmocka_unit_test(the_ink_of_the_pages_lies_where_it_is_expected),
        cmocka_unit_test(the_parts_of_the_workbook_are_as_expected),
        cmocka_unit_test(the_csv_twins_are_as_expected),
        cmocka_unit_test(what_was_attached_is_read_back_as_it_was),
        cmocka_unit_test(a_case_of_a_later_form_is_refused),
        cmocka_unit_test(a_case_with_a_damaged_verdict_is_refused),
        cmocka_unit_test(the_answers_of_an_analysis_are_read_and_damage_is_named),
    };

    return cmocka_run_group_tests(tests, load, remove_folder);
}
