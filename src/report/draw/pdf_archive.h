/* pdf_archive.h - a drawn PDF made one that archives keep: PDF/A-3, level U (ISO 19005-3:2012). Internal. */
#ifndef TENTERBOOK_REPORT_PDF_ARCHIVE_H
#define TENTERBOOK_REPORT_PDF_ARCHIVE_H

#include "tenterbook/base.h"

/* A file that goes with the pages, under 6.8. */
struct pdf_attached {
    const char *name;  /* of the file */
    const char *media; /* "application/json" */
    const char *about; /* what it is, in words */
    const void *data;
    size_t size;
};

struct pdf_archive {
    const char *title;
    const char *created;                 /* a day, or a moment */
    const char *language;                /* of the words, "de"; NULL: English */
    const struct pdf_attached *attached; /* NULL: nothing goes with the pages */
    const struct tb_text *figure;        /* what each Figure shows, in words, in the order they were drawn */
    size_t figures;
};

/*
 * tb_pdf_archive - metadata, colours, an identifier and what goes with it, added to a PDF in memory; the pages are drawn as before.
 *
 *   pdf     as cairo writes it: all fonts in it, no picture with four inks
 *   fails   TB_EIO: the library that does it is not on this machine, or failed: pdf is untouched then
 *   memory  how is borrowed for the call. The same pages give the same bytes
 */
tb_rc tb_pdf_archive(struct tb_text *pdf, const struct pdf_archive *how, struct tb_err *err);

#endif
