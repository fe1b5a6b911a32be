/* paper.c - from a drawing to the bytes of a PDF, and from bytes to a file. */
#include "report/draw/paper.h"

#include "report/draw/fonts.h"

cairo_status_t tb_paper_keep(void *text, const unsigned char *p, unsigned n)
{
    if (text)
        tb_text_addn(text, (const char *)p, n);
    return CAIRO_STATUS_SUCCESS;
}

/* The library says nothing a person could act on: its words go to the log. */
static tb_rc failed(cairo_status_t why, struct tb_err *err)
{
    if (why == CAIRO_STATUS_SUCCESS)
        return TB_OK;
    (void)tb_fail(err, TB_EIO, "the drawing library failed");
    tb_detail(err, "cairo: %s", cairo_status_to_string(why));
    return TB_EIO;
}

tb_rc tb_paper_draw(cairo_surface_t *s, paper_drawing draw, void *arg, struct tb_err *err)
{
    cairo_t *c;
    unsigned complaints;
    tb_rc rc = tb_fonts_ready(err);

    if (rc != TB_OK)
        return rc;
    complaints = tb_fonts_complaints();
    c = cairo_create(s);
    draw(c, arg);
    rc = failed(cairo_status(c), err);
    if (rc == TB_OK && tb_fonts_complaints() != complaints)
        rc = tb_fail(err, TB_EIO, "the drawing library failed");
    cairo_destroy(c);
    return rc;
}

/* Finishing writes what is still held back, so it may fail where the drawing did not. */
tb_rc tb_paper_end(cairo_surface_t *s, tb_rc rc, struct tb_err *err)
{
    cairo_surface_finish(s);
    if (rc == TB_OK)
        rc = failed(cairo_surface_status(s), err);
    cairo_surface_destroy(s);
    return rc;
}

/* The moment comes from the caller: the library would read the clock, and no two files would be alike. */
static tb_rc draw_pdf(struct tb_text *out, const struct paper *how, paper_drawing draw, void *arg,
                      struct tb_err *err)
{
    cairo_surface_t *s = cairo_pdf_surface_create_for_stream(tb_paper_keep, out, how->width, how->height);

    cairo_pdf_surface_set_metadata(s, CAIRO_PDF_METADATA_CREATE_DATE, how->created);
    cairo_pdf_surface_set_metadata(s, CAIRO_PDF_METADATA_TITLE, how->title);
    return tb_paper_end(s, tb_paper_draw(s, draw, arg, err), err);
}

tb_rc tb_paper_pdf(struct tb_text *out, const struct paper *how, paper_drawing draw, void *arg,
                   struct tb_err *err)
{
    const struct pdf_archive archive = { how->title,    how->created, how->language,
                                         how->attached, how->figure,  how->figures };
    struct tb_text pdf = { 0 };
    tb_rc rc = draw_pdf(out ? &pdf : NULL, how, draw, arg, err);

    if (rc == TB_OK && out && (rc = tb_pdf_archive(&pdf, &archive, err)) == TB_OK)
        tb_text_addn(out, pdf.s, pdf.n);
    tb_text_free(&pdf);
    return rc;
}

tb_rc tb_paper_fill(struct tb_outfile *out, const struct tb_text *bytes, struct tb_err *err)
{
    if (fwrite(bytes->s, 1, bytes->n, out->f) != bytes->n)
        return tb_fail(err, TB_EIO, "%s cannot be written: the disk is full or failed", out->path);
    return tb_outfile_settle(out, err);
}

tb_rc tb_paper_put(struct tb_outset *files, const char *path, const char *suffix, const struct tb_text *bytes,
                   struct tb_err *err)
{
    struct tb_outfile *out;
    tb_rc rc = tb_outset_add(&out, files, path, suffix, err);

    return rc == TB_OK ? tb_paper_fill(out, bytes, err) : rc;
}
