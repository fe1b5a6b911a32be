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
#include "tenterbook/outfile.h"

#define TB_NOTICE_ASK_MOST 1200 /* bytes of what is asked: more would leave no room on the page */

struct tb_notice_plan {
    const char *lot;       /* reference, or number of a bolt */
    const char *day;       /* day on the notice (YYYY-MM-DD) */
    const char *by;        /* who gives it; NULL: not said */
    const char *asked;     /* in plain words; NULL: records, and a joint sample */
    const char *answer_by; /* day; NULL: no day is asked for */
};

struct tb_notice;

/*
 * tb_notice_make - read the lot, in one state of the book, and put the notice together.
 *
 *   fails   TB_ENOTFOUND: no such lot; TB_EINVAL: a day that is not valid or out of order, too much is asked;
 *           TB_EREFUSED: there are no particulars (nothing declared, nothing burnt, tested or analysed), or what was
 *           seen fits the declaration; TB_EFORMAT: the book does not prove
 *   memory  free with tb_notice_free; plan is borrowed until then
 */
tb_rc tb_notice_make(struct tb_notice **out, struct tb_book *b, const struct tb_notice_plan *plan,
                     struct tb_err *err);
/* tb_notice_free - NULL: nothing happens. */
void tb_notice_free(struct tb_notice *n);
/* tb_notice_lot - reference of the lot; borrowed from the notice. */
const char *tb_notice_lot(const struct tb_notice *n);

/* tb_notice_text - add the notice as plain text, in lines of at most 78 columns where words allow. */
void tb_notice_text(struct tb_text *out, const struct tb_notice *n);

/*
 * tb_notice_pdf - the notice on one A4 page. Lists that are too long for it are cut, here and in the text after it,
 * and what is left out is counted.
 *
 *   out     the file is added; same book and same plan, same bytes
 *   fails   TB_EINVAL: what is declared or asked is too long for one page; TB_EIO: a font is missing, or the drawing
 *           library failed
 */
tb_rc tb_notice_pdf(struct tb_text *out, struct tb_notice *n, struct tb_err *err);

/*
 * tb_notice_write - page and text into two files of a set.
 *
 *   path    of the page, ending in .pdf; the text has .txt in its place
 *   fails   as tb_notice_pdf and tb_outset_add
 */
tb_rc tb_notice_write(struct tb_outset *files, const char *path, struct tb_notice *n, struct tb_err *err);

#endif
