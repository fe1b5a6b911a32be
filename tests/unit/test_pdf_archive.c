/*
 * A paper made one that archives keep, and what is attached to it found again, however it was saved: each way in which it is not there,
 * or not whole, is refused. What ISO 19005-3 asks of the whole file is looked at by tests/cli/test_archive.sh.
 */
#include "report/draw/icc.h"
#include "report/draw/paper.h"
#include "report/draw/pdf_attached.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

#include <math.h>

#define NOTHING                                                                                              \
    "no data of a case are attached to this PDF: it is another paper, or a program that saved it anew left " \
    "them out"
#define DATA "{\"tenterbook_case\": 4, \"said\": \"100% cotton, 100% cotton, 100% cotton\"}"

static struct tb_err err;

static void draw_nothing(cairo_t *c, void *arg)
{
    (void)arg;
    cairo_show_page(c);
}

static struct tb_text paper(const char *data, size_t n)
{
    const struct pdf_attached file = { "case.json", "application/json", "records", data, n };
    const struct paper how = { .width = 100,
                               .height = 100,
                               .title = "A & B <paper>",
                               .created = "2026-10-05T08:00:00Z",
                               .attached = data ? &file : NULL };
    struct tb_text pdf = { 0 };

    if (tb_paper_pdf(&pdf, &how, draw_nothing, NULL, &err) != TB_OK)
        fail_msg("%s (%s)", err.msg, err.detail);
    return pdf;
}

/* The place of a word; what is packed holds every byte. */
static char *place(const struct tb_text *pdf, const char *word)
{
    return memmem(pdf->s, pdf->n, word, strlen(word));
}

/* A PDF as some program may write it: a page, and these objects from number 4 on. */
static struct tb_text by_hand(const char *objects)
{
    struct tb_text t = { 0 };

    tb_text_addf(
        &t,
        "%%PDF-1.4\n1 0 obj\n<< /Type /Catalog /Pages 2 0 R >>\nendobj\n2 0 obj\n<< /Type /Pages /Count "
        "1 /Kids [ 3 0 R ] >>\nendobj\n3 0 obj\n<< /Type /Page /Parent 2 0 R /MediaBox [ 0 0 9 9 ] "
        ">>\nendobj\n%strailer\n<< /Size 9 /Root 1 0 R >>\nstartxref\n0\n%%%%EOF\n",
        objects);
    return t;
}

static void refused(const struct tb_text *pdf, const char *sentence)
{
    struct tb_text out = { 0 };
    tb_rc rc = tb_pdf_attached(&out, tb_text_str(pdf), pdf->n, &err);

    if (rc != TB_EFORMAT || strcmp(err.msg, sentence) != 0)
        fail_msg("%d %s, not: %s", (int)rc, err.msg, sentence);
    assert_null(out.s);
}

static void found(const struct tb_text *pdf)
{
    struct tb_text out = { 0 };

    if (tb_pdf_attached(&out, pdf->s, pdf->n, &err) != TB_OK)
        fail_msg("%s (%s)", err.msg, err.detail);
    assert_string_equal(out.s, DATA);
    assert_int_equal(out.n, strlen(DATA));
    tb_text_free(&out);
}

static void what_is_attached_comes_back_byte_for_byte(void **state)
{
    struct tb_text pdf = paper(DATA, strlen(DATA));

    (void)state;
    found(&pdf);
    assert_non_null(place(&pdf, "/Subtype /application#2fjson"));
    assert_non_null(place(&pdf, "/AFRelationship /Data"));
    assert_non_null(place(&pdf, "(D:20261005080000Z)"));
    tb_text_free(&pdf);
}

static void the_same_paper_is_the_same_bytes_and_other_data_have_another_identifier(void **state)
{
    struct tb_text a = paper(DATA, strlen(DATA)), b = paper(DATA, strlen(DATA)),
                   c = paper(DATA " ", strlen(DATA) + 1);
    const char *first = place(&a, "/ID [<"), *other = place(&c, "/ID [<");

    (void)state;
    assert_true(a.n == b.n && memcmp(a.s, b.s, a.n) == 0);
    assert_non_null(first);
    assert_non_null(other);
    assert_memory_not_equal(first, other, 38);
    tb_text_free(&a);
    tb_text_free(&b);
    tb_text_free(&c);
}

static void the_title_of_a_paper_may_hold_what_xml_has_a_meaning_for(void **state)
{
    struct tb_text pdf = paper(NULL, 0);

    (void)state;
    assert_non_null(place(&pdf, ">A &amp; B &lt;paper&gt;</rdf:li>"));
    tb_text_free(&pdf);
}

static void what_is_no_pdf_is_not_archived_and_stays_as_it_was(void **state)
{
    const struct pdf_archive how = { .title = "T", .created = "2026-10-05" };
    struct tb_text none = { 0 };

    (void)state;
    tb_text_add(&none, "no PDF at all");
    assert_int_equal(tb_pdf_archive(&none, &how, &err), TB_EIO);
    assert_string_equal(err.msg, "the PDF cannot be finished");
    assert_string_equal(none.s, "no PDF at all");
    tb_text_free(&none);
}

/* ISO 32000-1: 7.11.4 (by a tree of names), 12.5.6.15 (on a page), table 45 (Type may be left out). */
static void data_are_found_wherever_a_program_hung_them_and_however_it_packed_them(void **state)
{
    static const char *const object[] = {
        "4 0 obj\n<< /Type /EmbeddedFile /Length 71 >>\nstream\n" DATA "\nendstream\nendobj\n",
        "4 0 obj\n<< /Params << /Size 71 >> /Length 71 >>\nstream\n" DATA "\nendstream\nendobj\n",
        "5 0 obj\n<< /Type /Annot /Subtype /FileAttachment /Rect [ 0 0 1 1 ] /FS << /Type /Filespec /F (x) "
        "/EF "
        "<< /F 7 0 R >> >> >>\nendobj\n7 0 obj\n<< /Type /EmbeddedFile /Length 71 >>\nstream\n" DATA
        "\nendstream\nendobj\n",
        "4 0 obj\n<< /Type /EmbeddedFile /Length 143 /Filter /ASCIIHexDecode >>\nstream\n"
        "7b2274656e746572626f6f6b5f63617365223a20342c202273616964223a20223130302520636f74746f6e2c2031303025"
        "20636f74746f6e2c203130302520636f74746f6e227d>\nendstream\nendobj\n",
    };

    (void)state;
    for (size_t i = 0; i < TB_COUNT(object); i++) {
        struct tb_text pdf = by_hand(object[i]);

        found(&pdf);
        tb_text_free(&pdf);
    }
}

static void a_pdf_without_data_of_a_case_is_refused(void **state)
{
    struct tb_text plain = paper(NULL, 0), other = paper("{\"tags\": 1}", 11),
                   text = by_hand("4 0 obj\n<< /Length 71 >>\nstream\n" DATA "\nendstream\nendobj\n"),
                   none = { 0 };

    (void)state;
    refused(&plain, NOTHING);
    refused(&other, NOTHING);
    refused(&text, NOTHING); /* no file that is attached: part of a page */
    refused(&none, "this is not a PDF file");
    tb_text_add(&none, "%PDF-1.7\nno more");
    refused(&none, "this PDF is damaged: it cannot be taken to pieces");
    tb_text_free(&plain);
    tb_text_free(&other);
    tb_text_free(&text);
    tb_text_free(&none);
}

/* Which of the two a reader takes is not for the file to choose. */
static void two_cases_in_one_file_are_read_in_none(void **state)
{
    struct tb_text two = by_hand(
                       "4 0 obj\n<< /Type /EmbeddedFile /Length 71 >>\nstream\n" DATA "\nendstream\nendobj\n"
                       "5 0 obj\n<< /Type /EmbeddedFile /Length 23 >>\nstream\n{\"tenterbook_case\": "
                       "999}\nendstream\nendobj\n"),
                   twice = by_hand("4 0 obj\n<< /Type /EmbeddedFile /Length 71 >>\nstream\n" DATA
                                   "\nendstream\nendobj\n5 0 obj\n<< /Type /EmbeddedFile /Length 71 "
                                   ">>\nstream\n" DATA "\nendstream\nendobj\n");

    (void)state;
    refused(&two, "the data of more than one case are attached to this PDF; prove each file by itself");
    found(&twice); /* the same data are one case */
    tb_text_free(&two);
    tb_text_free(&twice);
}

static void damaged_data_are_refused(void **state)
{
    struct tb_text pdf = paper(DATA, strlen(DATA));
    char *at = place(&pdf, "/EmbeddedFile /Length");

    (void)state;
    assert_non_null(at);
    at = memmem(at, 200, "stream\n", 7);
    assert_non_null(at);
    at[12] ^= 0x55;
    refused(&pdf, "the data attached to this file are damaged");
    tb_text_free(&pdf);
}

/* Announced, and unannounced: packed zeros are a thousandth of themselves. */
static void data_of_more_bytes_than_any_case_has_are_refused(void **state)
{
    static const char much[] = "the data attached to this file have more than 128 MB; no case has so many";
    char *zeros = calloc(1, TB_PDF_ATTACHED_MOST + 1u);
    struct tb_text bomb,
        announced = by_hand("4 0 obj\n<< /Type /EmbeddedFile /Params << /Size 1073741824 >> /Length 71 "
                            ">>\nstream\n" DATA "\nendstream\nendobj\n");
    const char *size;

    (void)state;
    assert_non_null(zeros);
    bomb = paper(zeros, TB_PDF_ATTACHED_MOST + 1u);
    size = place(&bomb, "/Size 134217729");
    assert_non_null(size);
    memcpy(bomb.s + (size - bomb.s), "/Size 000000001", 15);
    refused(&bomb, much);
    refused(&announced, much);
    free(zeros);
    tb_text_free(&bomb);
    tb_text_free(&announced);
}

/* --- the colours ------------------------------------------------------------------------------------------------ */

static double fixed_at(const struct tb_text *icc, const char *tag, size_t i)
{
    const unsigned char *p = (const unsigned char *)place(icc, tag), *v;
    size_t at;

    assert_non_null(p);
    at = (size_t)p[4] << 24 | (size_t)p[5] << 16 | (size_t)p[6] << 8 | p[7];
    v = (const unsigned char *)icc->s + at + 8 + 4 * i;
    return (double)(int32_t)((uint32_t)v[0] << 24 | (uint32_t)v[1] << 16 | (uint32_t)v[2] << 8 | v[3]) /
           65536;
}

/* Primaries and white of IEC 61966-2-1, adapted by Bradford to D50: by NumPy 1.24; white is the sum of the three. */
static void the_profile_is_that_of_srgb(void **state)
{
    static const double want[3][3] = { { 0.43604, 0.22248, 0.01392 },
                                       { 0.38511, 0.71691, 0.09707 },
                                       { 0.14305, 0.06061, 0.71391 } };
    static const char *const tag[] = { "rXYZ", "gXYZ", "bXYZ" };
    static const double white[] = { 0.9642, 1, 0.8249 };
    struct tb_text icc = { 0 };

    (void)state;
    tb_icc_srgb(&icc);
    assert_true(icc.n % 4 == 0 && icc.n < 700);
    for (size_t k = 0; k < 3; k++) {
        double sum = 0;

        for (size_t c = 0; c < 3; c++) {
            assert_true(fabs(fixed_at(&icc, tag[c], k) - want[c][k]) < 1e-5);
            sum += fixed_at(&icc, tag[c], k);
        }
        assert_true(fabs(sum - white[k]) < 5e-5);
        assert_true(fabs(fixed_at(&icc, "wtpt", k) - white[k]) < 1e-5);
    }
    assert_true(fabs(fixed_at(&icc, "rTRC", 1) - 2.4) < 1e-4);
    tb_text_free(&icc);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(what_is_attached_comes_back_byte_for_byte),
        cmocka_unit_test(the_same_paper_is_the_same_bytes_and_other_data_have_another_identifier),
        cmocka_unit_test(the_title_of_a_paper_may_hold_what_xml_has_a_meaning_for),
        cmocka_unit_test(what_is_no_pdf_is_not_archived_and_stays_as_it_was),
        cmocka_unit_test(data_are_found_wherever_a_program_hung_them_and_however_it_packed_them),
        cmocka_unit_test(a_pdf_without_data_of_a_case_is_refused),
        cmocka_unit_test(two_cases_in_one_file_are_read_in_none),
        cmocka_unit_test(damaged_data_are_refused),
        cmocka_unit_test(data_of_more_bytes_than_any_case_has_are_refused),
        cmocka_unit_test(the_profile_is_that_of_srgb),
    };

    return cmocka_run_group_tests(tests, NULL, NULL);
}
