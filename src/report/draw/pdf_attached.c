/*
 * pdf_attached.c - the data of a case found again in a PDF, whoever saved it last.
 *
 * A program that saves a PDF anew may pack it otherwise, number it otherwise, and hang what is attached elsewhere: on the catalogue,
 * in the tree of names, on a page. What is attached is a stream of its own in all of these, so the streams are looked through.
 */
#include "report/draw/pdf_attached.h"

#include "report/draw/qpdf_load.h"

#include <stdlib.h>
#include <string.h>

#include <zlib.h>

#define HEADER_WITHIN 1024 /* bytes: what a gateway may have put before it */
#define MARK "\"tenterbook_case\""
#define PIECE 65536

struct reader {
    const struct tb_qpdf *q;
    qpdf_data d;
};

void tb_pdf_before(void)
{
    const struct tb_qpdf *q;
    struct tb_err why;

    (void)tb_qpdf_load(&q, &why); /* where it is not there, whoever needs it says so */
}

static tb_rc damaged(struct tb_err *err)
{
    return tb_fail(err, TB_EFORMAT, "the data attached to this file are damaged");
}

static tb_rc too_much(struct tb_err *err)
{
    return tb_fail(err, TB_EFORMAT,
                   "the data attached to this file have more than %u MB; no case has so many",
                   TB_PDF_ATTACHED_MOST >> 20);
}

/* A few bytes may unpack to any number: it ends where no case goes on. */
static tb_rc unpack(struct tb_text *out, const unsigned char *packed, size_t n, struct tb_err *err)
{
    char piece[PIECE];
    z_stream z = { .next_in = (z_const Bytef *)packed, .avail_in = (uInt)n };
    int answer = n <= UINT_MAX && inflateInit(&z) == Z_OK ? Z_OK : Z_DATA_ERROR;
    bool much = false;

    if (answer != Z_OK)
        return damaged(err);
    while (answer == Z_OK && !much) {
        z.next_out = (Bytef *)piece;
        z.avail_out = sizeof piece;
        answer = inflate(&z, Z_NO_FLUSH);
        tb_text_addn(out, piece, sizeof piece - z.avail_out);
        much = out->n > TB_PDF_ATTACHED_MOST;
    }
    (void)inflateEnd(&z);
    return much ? too_much(err) : answer == Z_STREAM_END ? TB_OK : damaged(err);
}

/* Packed as this program packs it, it is unpacked here, within bounds; otherwise the library does it, within those of the process. */
static tb_rc content(struct tb_text *out, struct reader *r, qpdf_oh stream, struct tb_err *err)
{
    const struct tb_qpdf *q = r->q;
    qpdf_oh dict = q->oh_get_dict(r->d, stream), filter = q->oh_get_key(r->d, dict, "/Filter");
    bool usual = q->oh_is_or_has_name(r->d, filter, "/FlateDecode") &&
                 q->oh_get_array_n_items(r->d, filter) <= 1 && !q->oh_has_key(r->d, dict, "/DecodeParms");
    unsigned char *bytes = NULL;
    size_t n = 0;
    tb_rc rc = TB_OK;

    if (q->oh_get_stream_data(r->d, stream, usual ? qpdf_dl_none : qpdf_dl_generalized, NULL, &bytes, &n) >=
        QPDF_ERRORS)
        rc = damaged(err);
    else if (usual)
        rc = unpack(out, bytes, n, err);
    else if (n > TB_PDF_ATTACHED_MOST)
        rc = too_much(err);
    else
        tb_text_addn(out, (const char *)bytes, n);
    free(bytes);
    return rc;
}

/* What its maker says of its size is looked at before any memory is taken for it. */
static tb_rc announced(struct reader *r, qpdf_oh dict, struct tb_err *err)
{
    const struct tb_qpdf *q = r->q;
    long long size = 0;
    qpdf_oh params = q->oh_get_key(r->d, dict, "/Params");

    if (q->oh_is_dictionary(r->d, params))
        (void)q->oh_get_value_as_longlong(r->d, q->oh_get_key(r->d, params, "/Size"), &size);
    return size > TB_PDF_ATTACHED_MOST ? too_much(err) : TB_OK;
}

/* /Type may be left out (ISO 32000-1, table 45): then whatever is no kind of stream that is known. */
static bool may_be_attached(struct reader *r, qpdf_oh o)
{
    const struct tb_qpdf *q = r->q;
    qpdf_oh dict;

    if (!q->oh_is_stream(r->d, o))
        return false;
    dict = q->oh_get_dict(r->d, o);
    return q->oh_has_key(r->d, dict, "/Type")
               ? q->oh_is_name_and_equals(r->d, q->oh_get_key(r->d, dict, "/Type"), "/EmbeddedFile")
               : q->oh_has_key(r->d, dict, "/Params");
}

/* Two cases in one file could be taken in two ways, and are read in none. */
static tb_rc keep(struct tb_text *out, struct tb_text *found, struct tb_err *err)
{
    if (!memmem(tb_text_str(found), found->n, MARK, strlen(MARK)))
        return TB_OK;
    if (out->n && (out->n != found->n || memcmp(out->s, found->s, out->n) != 0))
        return tb_fail(err, TB_EFORMAT,
                       "the data of more than one case are attached to this PDF; prove each file by itself");
    if (!out->n) {
        *out = *found;
        *found = (struct tb_text){ 0 };
    }
    return TB_OK;
}

static tb_rc look_through(struct tb_text *out, struct reader *r, struct tb_err *err)
{
    const struct tb_qpdf *q = r->q;
    int objects = 0;
    tb_rc rc = TB_OK;

    (void)q->oh_get_value_as_int(r->d, q->oh_get_key(r->d, q->get_trailer(r->d), "/Size"), &objects);
    for (int i = 1; i < objects && rc == TB_OK; i++) {
        struct tb_text found = { 0 };
        qpdf_oh o = q->get_object_by_id(r->d, i, 0);

        if (may_be_attached(r, o) && (rc = announced(r, q->oh_get_dict(r->d, o), err)) == TB_OK &&
            (rc = content(&found, r, o, err)) == TB_OK)
            rc = keep(out, &found, err);
        q->oh_release_all(r->d);
        tb_text_free(&found);
    }
    if (rc == TB_OK && !out->n)
        rc = tb_fail(err, TB_EFORMAT,
                     "no data of a case are attached to this PDF: it is another paper, or a program that "
                     "saved it anew left them out");
    return rc;
}

tb_rc tb_pdf_attached(struct tb_text *out, const char *pdf, size_t n, struct tb_err *err)
{
    struct reader r = { 0 };
    struct tb_text found = { 0 };
    tb_rc rc;

    if (!memmem(pdf, n < HEADER_WITHIN ? n : HEADER_WITHIN, "%PDF-", 5))
        return tb_fail(err, TB_EFORMAT, "this is not a PDF file");
    if ((rc = tb_qpdf_load(&r.q, err)) != TB_OK)
        return rc;
    r.d = r.q->init();
    r.q->silence_errors(r.d);
    r.q->set_suppress_warnings(r.d, QPDF_TRUE);
    if (r.q->read_memory(r.d, "case", pdf, n, NULL) >= QPDF_ERRORS) {
        rc = tb_fail(err, TB_EFORMAT, "this PDF is damaged: it cannot be taken to pieces");
        tb_detail(err, "qpdf: %s", r.q->get_error_full_text(r.d, r.q->get_error(r.d)));
    } else {
        rc = look_through(&found, &r, err);
    }
    r.q->cleanup(&r.d);
    if (rc == TB_OK)
        *out = found;
    else
        tb_text_free(&found);
    return rc;
}
