/*
 * Data attached to a PDF: the file stays a PDF (ISO 32000-1, 7.5.6 incremental updates, 7.11.4 embedded files), what was
 * attached comes back byte for byte, and every part of the way back that is not there is refused.
 */
#include "report/draw/pdf_attach.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

#define NOT_OURS "this is not a PDF as this program writes it"
#define NOTHING "no data of a case are attached to this PDF"
#define DATA "{\"lot\": \"M26-001.01\", \"said\": \"100% cotton, 100% cotton, 100% cotton\"}"

static struct tb_err err;

/* The smallest file the drawing library could write: a catalogue, no pages, and with or without a paper's title. */
static struct tb_text paper(const char *catalogue, bool info)
{
    struct tb_text t = { 0 };
    size_t at[2], xref;

    tb_text_add(&t, "%PDF-1.5\n");
    at[0] = t.n;
    tb_text_addf(&t, "1 0 obj\n<< /Type /Catalog %s>>\nendobj\n", catalogue);
    at[1] = t.n;
    tb_text_add(&t, "2 0 obj\n<< /Title (a paper) >>\nendobj\n");
    xref = t.n;
    tb_text_addf(&t, "xref\n0 3\n0000000000 65535 f \n%010zu 00000 n \n%010zu 00000 n \n", at[0], at[1]);
    tb_text_addf(&t, "trailer\n<< /Size 3\n   /Root 1 0 R\n%s>>\nstartxref\n%zu\n%%%%EOF\n",
                 info ? "   /Info 2 0 R\n" : "", xref);
    return t;
}

static tb_rc attach(struct tb_text *pdf)
{
    return tb_pdf_attach(pdf, "case.json", "application/json", "2026-10-05T08:00:00Z", DATA, strlen(DATA),
                         &err);
}

static struct tb_text attached(void)
{
    struct tb_text pdf = paper("", true);

    assert_int_equal(attach(&pdf), TB_OK);
    return pdf;
}

/* The first or the last place of a word; what is packed holds every byte. */
static char *place(const struct tb_text *pdf, const char *word, bool last)
{
    char *found = NULL;

    for (size_t i = 0; i + strlen(word) <= pdf->n && (last || !found); i++)
        if (memcmp(pdf->s + i, word, strlen(word)) == 0)
            found = pdf->s + i;
    return found;
}

/* The bytes with one word made another of the same length, at its last place or its first. */
static void refused(const char *word, const char *other, bool last, const char *sentence)
{
    struct tb_text pdf = attached(), out = { 0 };
    char *at = place(&pdf, word, last);
    tb_rc rc;

    assert_int_equal(strlen(word), strlen(other));
    if (!at)
        fail_msg("there is no '%s' in the file", word);
    memcpy(at, other, strlen(other));
    err.msg[0] = '\0';
    rc = tb_pdf_attached(&out, pdf.s, pdf.n, &err);
    if (rc != TB_EFORMAT || !strstr(err.msg, sentence))
        fail_msg("'%s' made '%s': %d %s, not: %s", word, other, (int)rc, err.msg, sentence);
    assert_null(out.s);
    tb_text_free(&pdf);
}

static void what_is_attached_comes_back_and_the_pages_stay_as_they_were(void **state)
{
    struct tb_text before = paper("", true), pdf = attached(), out = { 0 };

    (void)state;
    assert_true(pdf.n > before.n && memcmp(pdf.s, before.s, before.n) == 0);
    assert_int_equal(tb_pdf_attached(&out, pdf.s, pdf.n, &err), TB_OK);
    assert_int_equal(out.n, strlen(DATA));
    assert_string_equal(out.s, DATA);
    assert_non_null(place(&pdf, "/Subtype /application#2Fjson", true));
    assert_non_null(place(&pdf, "/Info 2 0 R", true));
    assert_non_null(place(&pdf, "/AF [ 4 0 R ]", true));
    assert_non_null(place(&pdf, "/Size 5", true));
    tb_text_free(&out);
    tb_text_free(&pdf);
    tb_text_free(&before);
}

/* 7.5.4: each entry of the table is where its object begins; 7.5.5: the last trailer names the table before it. */
static void the_new_table_says_where_each_object_begins(void **state)
{
    struct tb_text before = paper("", false), pdf = paper("", false);
    unsigned long xref, old, at[3];
    const char *start;

    (void)state;
    assert_int_equal(attach(&pdf), TB_OK);
    start = place(&pdf, "startxref", true);
    assert_int_equal(sscanf(start, "startxref %lu", &xref), 1);
    assert_memory_equal(pdf.s + xref, "xref\n", 5);
    assert_int_equal(
        sscanf(pdf.s + xref, "xref 1 1 %lu 00000 n 3 2 %lu 00000 n %lu 00000 n", &at[0], &at[1], &at[2]), 3);
    assert_memory_equal(pdf.s + at[0], "1 0 obj", 7);
    assert_memory_equal(pdf.s + at[1], "3 0 obj", 7);
    assert_memory_equal(pdf.s + at[2], "4 0 obj", 7);
    assert_int_equal(sscanf(place(&pdf, "/Prev", true), "/Prev %lu", &old), 1);
    assert_memory_equal(before.s + old, "xref\n", 5);
    assert_null(place(&pdf, "/Info", true)); /* the paper had none */
    tb_text_free(&pdf);
    tb_text_free(&before);
}

static void a_paper_that_says_already_how_it_is_marked_is_left_so(void **state)
{
    struct tb_text marked = paper("/MarkInfo << /Marked false >> ", false), plain = paper("", false);

    (void)state;
    assert_int_equal(attach(&marked), TB_OK);
    assert_null(place(&marked, "/Marked true", true));
    assert_int_equal(attach(&plain), TB_OK);
    assert_non_null(place(&plain, "/Marked true", true));
    tb_text_free(&marked);
    tb_text_free(&plain);
}

static void nothing_is_attached_to_what_is_not_such_a_paper(void **state)
{
    static const char *const text[] = { "",
                                        "%PDF-1.5\n",
                                        "xref\ntrailer << /Size 1 /Root 1 0 R >>\n",
                                        "xref 0 0 trailer << /Size 1 /Root 9 0 R >>\nstartxref\n0\n",
                                        "xref 0 9 trailer << /Size 1 /Root 1 0 R >>\nstartxref\n0\n",
                                        "xref 0 0 trailer << /Size 1 >>\nstartxref\n0\n",
                                        "xref 0 0 trailer << /Root 1 0 R >>\nstartxref\n0\n",
                                        "xref 0 0 << /Size 1 /Root 1 0 R >>\nstartxref\n0\n",
                                        "yref 0 0 trailer << /Size 1 /Root 1 0 R >>\nstartxref\n0\n",
                                        "xref 0 0 trailer << /Size 1 /Root 1 0 R >>\nstartxref\n9999\n",
                                        "xref 0 0 trailer << /Size 1 /Root 1 0 R >>\nstartxref\nhere\n" };
    struct tb_text twice = attached(), named = paper("/Names << >> ", false),
                   filed = paper("/AF [ ] ", false);

    (void)state;
    for (size_t i = 0; i < TB_COUNT(text); i++) {
        struct tb_text t = { 0 };

        tb_text_add(&t, text[i]);
        if (attach(&t) != TB_EFORMAT || strcmp(err.msg, NOT_OURS) != 0)
            fail_msg("'%s': %s", text[i], err.msg);
        tb_text_free(&t);
    }
    assert_int_equal(attach(&twice), TB_EFORMAT);
    assert_string_equal(err.detail, "the catalogue has attachments already");
    assert_int_equal(attach(&named), TB_EFORMAT);
    assert_int_equal(attach(&filed), TB_EFORMAT);
    tb_text_free(&twice);
    tb_text_free(&named);
    tb_text_free(&filed);
}

static void every_step_of_the_way_back_that_is_not_there_is_refused(void **state)
{
    (void)state;
    refused("%PDF-1.5", "%PDX-1.5", false, "this is not a PDF file");
    refused("startxref", "startxrex", true, NOTHING); /* the table before the last is the plain paper's */
    refused("xref\n1 1", "xrex\n1 1", true, NOTHING);
    refused("/Root 1 0", "/Root 8 0", true, NOTHING);
    refused("/Root 1", "/Toor 1", true, NOTHING);
    refused("/Size 5", "/Ezis 5", true, NOTHING);
    refused("/AF [ 4", "/AX [ 4", true, NOTHING);
    refused("/AF [ 4", "/AF [ 7", true, NOTHING);
    refused("/AF [ 4", "/AF [ x", true, NOTHING);
    refused("/EF << /F 3", "/EX << /F 3", true, NOTHING);
    refused("/EF << /F 3", "/EF << /F 6", true, NOTHING);
    refused("stream\n", "stxeam\n", false, "the data attached to this file are damaged");
    refused("/Length ", "/Lxngth ", true, NOT_OURS);
    refused("/Params << /Size ", "/Params << /Sixe ", false, NOT_OURS);
    refused("/FlateDecode /Length ", "/FlateDecode /Length9", false, NOT_OURS); /* longer than the file */
}

/* The size is written by whoever made the file: no memory is taken for what cannot be. */
static void a_size_that_is_not_that_of_the_data_is_refused(void **state)
{
    char size[32], larger[32];

    (void)state;
    (void)snprintf(size, sizeof size, "<< /Size %zu >>", strlen(DATA));
    (void)snprintf(larger, sizeof larger, "<< /Size %zu >>", strlen(DATA) + 1);
    refused(size, larger, false, "the data attached to this file are damaged");
    refused(size, "<< /Size 00 >>", false, NOT_OURS);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(what_is_attached_comes_back_and_the_pages_stay_as_they_were),
        cmocka_unit_test(the_new_table_says_where_each_object_begins),
        cmocka_unit_test(a_paper_that_says_already_how_it_is_marked_is_left_so),
        cmocka_unit_test(nothing_is_attached_to_what_is_not_such_a_paper),
        cmocka_unit_test(every_step_of_the_way_back_that_is_not_there_is_refused),
        cmocka_unit_test(a_size_that_is_not_that_of_the_data_is_refused),
    };

    return cmocka_run_group_tests(tests, NULL, NULL);
}
