/* pdf_compare.h - whether two PDF files show the same, however each was saved. Internal. */
#ifndef TENTERBOOK_REPORT_PDF_COMPARE_H
#define TENTERBOOK_REPORT_PDF_COMPARE_H

#include "tenterbook/base.h"

enum pdf_likeness {
    PDF_OTHER,     /* a page has other words, or there are more or fewer of them */
    PDF_WORDS,     /* every page has the same words at the same places; one looks otherwise */
    PDF_LOOKS,     /* every page has the same words and looks the same; it is drawn otherwise */
    PDF_SAME_PAGES /* every page is drawn by the same steps from the same fonts and pictures */
};

/* What is compared: bytes from anywhere, and what this program drew. */
struct pdf_pair {
    const char *file, *made;
    size_t file_n, made_n;
};

/*
 * tb_pdf_compare - page by page. Nothing in `file` is trusted: call it in a process apart (apart.h), with tb_pdf_compare_before.
 *
 *   page    the first that differs, from 1; 0: how many they are differs. Only where the answer is PDF_OTHER or PDF_WORDS
 *   fails   TB_EFORMAT: one of them cannot be read; TB_EIO: a library is not on this machine
 */
tb_rc tb_pdf_compare(enum pdf_likeness *out, int *page, const struct pdf_pair *pair, struct tb_err *err);
/* Load the libraries, while files may still be opened. */
void tb_pdf_compare_before(void);

/* Its second half: what a reader sees of the pages. Never PDF_SAME_PAGES. */
tb_rc tb_pdf_same_look(enum pdf_likeness *out, int *page, const struct pdf_pair *pair, struct tb_err *err);
void tb_pdf_look_before(void);

#endif
