/*
 * notice.h - the notice to a supplier that goods are not as declared: one page, as PDF and as plain text.
 *
 * It says what a notice must say to count: which goods, the declaration in the supplier's own words, how many of how many
 * bolts were burnt and which, what was seen on each, what is asked. Nothing in it that the book does not hold, except
 * what is asked. No threats: days are fields. Information, not legal advice (docs/claims.md).
 */
#ifndef TENTERBOOK_NOTICE_H
#define TENTERBOOK_NOTICE_H

#include "tenterbook/book.h"

#define TB_NOTICE_ASK_MOST 1200 /* bytes */

struct tb_notice_plan {
    const char *lot;       /* reference, or number of a bolt */
    const char *day;       /* day on the notice */
    const char *by;        /* who gives it */
    const char *asked;     /* NULL: records, and a joint sample */
    const char *answer_by; /* day; NULL: none */
};

struct tb_notice;

/*
 * tb_notice_make - read the lot and put the notice together.
 *
 *   fails   TB_ENOTFOUND no such lot; TB_EINVAL a day that is none, too much asked; TB_EREFUSED there are no particulars
 *           (nothing declared, nothing burnt, tested or analysed), or what was seen fits the declaration
 *   memory  free with tb_notice_free
 */
tb_rc tb_notice_make(struct tb_notice **out, struct tb_book *b, const struct tb_notice_plan *plan,
                     struct tb_err *err);
void tb_notice_free(struct tb_notice *n);
const char *tb_notice_lot(const struct tb_notice *n); /* reference of the lot */

/* The notice as plain text in lines of at most 78 columns where words allow. Adds to out. */
void tb_notice_text(struct tb_text *out, const struct tb_notice *n);
/* One A4 page, added to out; same book and same plan: same bytes. TB_EINVAL when it cannot be fitted on one page. */
tb_rc tb_notice_pdf(struct tb_text *out, struct tb_notice *n, struct tb_err *err);
/* Both files, each whole or not at all: path ends in .pdf, the text has .txt for it. */
tb_rc tb_notice_write(const char *path, struct tb_notice *n, struct tb_err *err);

#endif
