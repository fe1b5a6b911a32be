/*
 * case_file.c - a case file read: the PDF, and the data attached to it.
 *
 * Somebody else made it. Every size is looked at before memory is taken for it: of the file, of the data when they are
 * unpacked, and of the values in them, of which a few bytes could otherwise make gigabytes.
 */
#include "report/case/case_impl.h"

#include "base/apart.h"
#include "base/infile.h"
#include "report/draw/pdf_attached.h"

#include <string.h>

#define FILE_MOST (256u << 20) /* bytes */
#define PIECE (1u << 20)       /* bytes that come out of it at a time */
#define VALUES_MOST 2000000    /* texts, numbers, lists and objects: a lot of 100,000 bolts has 900,000 */
#define TEXT_VALUES_MOST                                                                                     \
    500000 /* in one text, such as the details of an analysis, which have some hundreds */

tb_rc tb_case_read(struct tb_text *out, const char *path, struct tb_err *err)
{
    tb_rc rc = tb_in_whole(out, path, FILE_MOST, err);

    return rc == TB_OK ? rc : tb_within(err, rc, "%s", path);
}

/* --- the data --------------------------------------------------------------------------------------------------- */

/*
 * Does a text of JSON make more values than a case may? It makes at most one more than it has commas and opening brackets. Some of
 * the texts in it are JSON too, which their readers take to pieces one by one: none of these may make very many either.
 */
static bool has_too_many(const char *text, size_t size)
{
    size_t n = 1, within = 0;
    bool quoted = false;

    for (size_t i = 0; i < size; i++) {
        char c = text[i];

        if (quoted && c == '\\') {
            i++;
        } else if (c == '"') {
            quoted = !quoted;
            within = 0;
        } else if (c == ',' || c == '[' || c == '{') {
            n += !quoted;
            within += quoted;
            if (n > VALUES_MOST || within > TEXT_VALUES_MOST)
                return true;
        }
    }
    return false;
}

tb_rc tb_case_fits_a_file(const char *text, struct tb_err *err)
{
    size_t n = strlen(text);

    return n <= TB_PDF_ATTACHED_MOST && !has_too_many(text, n)
               ? TB_OK
               : tb_fail(
                     err, TB_EREFUSED,
                     "the lot has too many records for a case file, which holds %u MB and %d values at most",
                     TB_PDF_ATTACHED_MOST >> 20, VALUES_MOST);
}

/* A member that is given twice would let two readers see two cases. */
static tb_rc parse(json_t **out, const struct tb_text *text, struct tb_err *err)
{
    json_error_t why;

    if (has_too_many(text->s, text->n))
        return tb_fail(err, TB_EFORMAT,
                       "the data attached to this file hold more than %d values, or one text with more than "
                       "%d; no case has so many",
                       VALUES_MOST, TEXT_VALUES_MOST);
    *out = json_loadb(text->s, text->n, JSON_REJECT_DUPLICATES, &why);
    if (*out)
        return TB_OK;
    (void)tb_fail(err, TB_EFORMAT, "the data attached to this file cannot be read");
    tb_detail(err, "line %d: %s", why.line, why.text);
    return TB_EFORMAT;
}

/* The PDF is taken to pieces in a process apart; the text that was attached comes back. */
struct attached {
    const struct tb_text *pdf;
    struct tb_text text;
};

static tb_rc unpack(struct tb_apart *to, void *arg, struct tb_err *err)
{
    const struct attached *a = arg;
    struct tb_text text = { 0 };
    tb_rc rc = tb_pdf_attached(&text, tb_text_str(a->pdf), a->pdf->n, err);

    for (size_t at = 0, n; at < text.n; at += n) {
        n = text.n - at < PIECE ? text.n - at : PIECE;
        tb_apart_send(to, text.s + at, n);
    }
    tb_text_free(&text);
    return rc;
}

static tb_rc put_together(void *arg, const unsigned char *part, size_t n, bool *yes, struct tb_err *err)
{
    struct attached *a = arg;

    (void)yes;
    if (a->text.n + n > TB_PDF_ATTACHED_MOST)
        return tb_fail(err, TB_EFORMAT, "the data attached to this file are damaged");
    tb_piece_add(&a->text, part, n);
    return TB_OK;
}

tb_rc tb_case_attached(json_t **out, const struct tb_text *pdf, struct tb_err *err)
{
    struct attached a = { .pdf = pdf };
    const struct tb_apart_job job = {
        .read = unpack, .take = put_together, .arg = &a, .before = tb_pdf_before, .file = -1
    };
    tb_rc rc = tb_apart(&job, err);

    if (rc == TB_OK)
        rc = parse(out, &a.text, err);
    tb_text_free(&a.text);
    return rc;
}
