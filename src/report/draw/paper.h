/* paper.h - from a drawing to the bytes of a PDF, and from bytes to a file. Internal. */
#ifndef TENTERBOOK_REPORT_PAPER_H
#define TENTERBOOK_REPORT_PAPER_H

#include "report/draw/pdf_archive.h"
#include "tenterbook/outfile.h"

#include "gen/late_drawing.h"

struct paper {
    double width, height; /* of the first page, points */
    const char *title;
    const char
        *created; /* moment for the properties: the clock is not read, so that the bytes stay the same */
    const char *language;                /* of the words, "de"; NULL: English */
    const struct pdf_attached *attached; /* a file that goes with the pages; NULL: none does */
    /* What each Figure shows, for those who cannot see it, in the order they are drawn: the drawing itself may fill them in. */
    const struct tb_text *figure;
    size_t figures;
};
typedef void (*paper_drawing)(cairo_t *c, void *arg);

/*
 * tb_paper_pdf - draw with the project's fonts and add the PDF to `out`, as archives keep it (PDF/A-3, pdf_archive.h).
 *
 *   out    NULL: the bytes are thrown away, for a first drawing that only counts its pages
 *   fails  TB_EIO: a font or a library is missing, or the drawing library failed
 */
tb_rc tb_paper_pdf(struct tb_text *out, const struct paper *how, paper_drawing draw, void *arg,
                   struct tb_err *err);

/* tb_paper_draw - draw on any surface with the project's fonts. Fails as tb_paper_pdf; tb_paper_end comes after. */
tb_rc tb_paper_draw(cairo_surface_t *s, paper_drawing draw, void *arg, struct tb_err *err);
/* tb_paper_end - finish and destroy a surface; answers rc, or TB_EIO where all went well until here. */
tb_rc tb_paper_end(cairo_surface_t *s, tb_rc rc, struct tb_err *err);

/* For cairo's streams: adds the bytes to a struct tb_text, or to nothing where it is NULL. */
cairo_status_t tb_paper_keep(void *text, const unsigned char *p, unsigned n);

/* tb_paper_fill - the bytes into a file of a set; on the disk, but without its name until the set ends. Fails with TB_EIO. */
tb_rc tb_paper_fill(struct tb_outfile *out, const struct tb_text *bytes, struct tb_err *err);

/*
 * tb_paper_put - one more file of a set, with these bytes.
 *
 *   fails   as tb_outset_add and tb_paper_fill
 */
tb_rc tb_paper_put(struct tb_outset *files, const char *path, const char *suffix, const struct tb_text *bytes,
                   struct tb_err *err);

#endif
