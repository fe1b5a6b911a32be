/*
 * case.h - the buyer's file on one lot: a PDF a supplier can read and anyone can check, and a workbook.
 *
 * The pages are drawn from the attached data alone (an extract of the book, see extract.h, and what the buyer asks),
 * and the same data give the same pages byte for byte: so a reader with the program can draw them again and see
 * whether a page was changed. Nothing on the pages is not in the book, except what is asked.
 */
#ifndef TENTERBOOK_CASE_H
#define TENTERBOOK_CASE_H

#include "tenterbook/base.h"

#include <jansson.h>

struct tb_book;

struct tb_case_plan {
    const char *lot;       /* reference */
    const char *made;      /* moment */
    const char *by;        /* who makes it */
    const char *asked;     /* what the supplier is asked, in plain words; NULL: what the book suggests */
    const char *answer_by; /* day; NULL: none */
};

/* The data of a case. A new reference. Fails with TB_ENOTFOUND: no such lot; TB_EINVAL: a day that is none. */
tb_rc tb_case_data(json_t **out, struct tb_book *b, const struct tb_case_plan *plan, struct tb_err *err);

/* Draw the pages and attach the data, in memory; free out->s with tb_text_free. */
tb_rc tb_case_pdf(struct tb_text *out, const json_t *data, struct tb_err *err);
/* The same into a file, whole or not at all. */
tb_rc tb_case_write(const char *path, const json_t *data, struct tb_err *err);
/* The workbook (path ends in .xlsx) and its CSV twins. */
tb_rc tb_case_sheets(const char *path, const json_t *data, struct tb_err *err);

struct tb_case_proof {
    char lot[64], made[32];
    int64_t journal, facts, partly, last, later; /* see struct tb_extract_proof; later: only with a book */
    char digest[65];                             /* of the last journal row */
    char data[65];                               /* SHA-256 of the attached data */
    bool pages;                                  /* the pages are those the data give */
    bool judged;                                 /* the verdict could be computed again here */
    double ratio, recorded;                      /* natural logarithms; NAN: none */
    struct tb_text wrong; /* what does not agree, one sentence a line; empty: all agrees */
    struct tb_text notes; /* what could not be checked here */
};
/*
 * tb_case_prove - does a case file agree with itself, and with a book.
 *   against  NULL: without one
 *   TB_OK also when something does not agree. Free with tb_case_proof_free.
 */
tb_rc tb_case_prove(struct tb_case_proof *out, const char *path, struct tb_book *against, struct tb_err *err);
void tb_case_proof_free(struct tb_case_proof *p);

#endif
