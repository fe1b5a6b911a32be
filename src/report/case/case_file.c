/*
 * case_file.c - a case file read: the PDF, and the data attached to it.
 *
 * Somebody else made it. Every size is looked at before memory is taken for it: of the file, of the data when they are
 * unpacked, and of the values in them, of which a few bytes could otherwise make gigabytes.
 */
#include "report/case/case_impl.h"

#include "report/draw/pdf_attach.h"

#include <errno.h>
#include <stdio.h>
#include <string.h>
#include <sys/stat.h>

#define FILE_MOST (256u << 20) /* bytes */
#define VALUES_MOST 2000000    /* texts, numbers, lists and objects: a lot of 100,000 bolts has 900,000 */

static tb_rc too_large(const char *path, struct tb_err *err)
{
    return tb_fail(err, TB_EFORMAT, "%s is too large for a case file: it has more than %u MB", path,
                   FILE_MOST >> 20);
}

/* A pipe has no size before it was read: it is bounded too. */
static tb_rc read_all(struct tb_text *out, FILE *f, const char *path, struct tb_err *err)
{
    char buffer[65536];
    struct stat st;
    size_t n;

    if (fstat(fileno(f), &st) == 0 && S_ISREG(st.st_mode) && st.st_size > FILE_MOST)
        return too_large(path, err);
    while (out->n <= FILE_MOST && (n = fread(buffer, 1, sizeof buffer, f)) > 0)
        tb_text_addn(out, buffer, n);
    if (ferror(f))
        return tb_fail(err, TB_EIO, "%s cannot be read", path);
    return out->n > FILE_MOST ? too_large(path, err) : TB_OK;
}

tb_rc tb_case_read(struct tb_text *out, const char *path, struct tb_err *err)
{
    FILE *f = fopen(path, "rb");
    tb_rc rc;

    if (!f)
        return tb_fail(err, errno == ENOENT ? TB_ENOTFOUND : TB_EIO, "%s cannot be read: %s", path,
                       strerror(errno));
    rc = read_all(out, f, path, err);
    (void)fclose(f);
    return rc;
}

/* --- the data --------------------------------------------------------------------------------------------------- */

/* How many values a text of JSON makes at most: one more than it has commas and opening brackets outside its texts. */
static size_t values_in(const char *text, size_t size)
{
    size_t n = 1;
    bool quoted = false;

    for (size_t i = 0; i < size; i++) {
        char c = text[i];

        if (quoted && c == '\\')
            i++;
        else if (c == '"')
            quoted = !quoted;
        else if (!quoted)
            n += c == ',' || c == '[' || c == '{';
    }
    return n;
}

tb_rc tb_case_fits_a_file(const char *text, struct tb_err *err)
{
    size_t n = strlen(text);

    return n <= TB_PDF_ATTACHED_MOST && values_in(text, n) <= VALUES_MOST
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

    if (values_in(text->s, text->n) > VALUES_MOST)
        return tb_fail(err, TB_EFORMAT,
                       "the data attached to this file hold more than %d values; no case has so many",
                       VALUES_MOST);
    *out = json_loadb(text->s, text->n, JSON_REJECT_DUPLICATES, &why);
    if (*out)
        return TB_OK;
    (void)tb_fail(err, TB_EFORMAT, "the data attached to this file cannot be read");
    tb_detail(err, "line %d: %s", why.line, why.text);
    return TB_EFORMAT;
}

tb_rc tb_case_attached(json_t **out, const struct tb_text *pdf, struct tb_err *err)
{
    struct tb_text text = { 0 };
    tb_rc rc = tb_pdf_attached(&text, tb_text_str(pdf), pdf->n, err);

    if (rc == TB_OK)
        rc = parse(out, &text, err);
    tb_text_free(&text);
    return rc;
}
