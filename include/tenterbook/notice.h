/*
 * notice.h - the notice to a supplier that goods are not as declared: a letter, as PDF, as plain text and as a mail.
 *
 * It says what a notice must say to count: from whom to whom, which goods, the declaration in the supplier's own words, what was
 * found of them and how sure that is, which bolts were burnt or tested and what was seen on each, what the goods are worth,
 * what is asked, that rights are reserved. It is in the language of the supplier. It asks for nothing that has happened
 * already, and holds nothing that the book does not, except what is asked. No threats: days are fields. Information, not
 * legal advice (docs/claims.md).
 */
#ifndef TENTERBOOK_NOTICE_H
#define TENTERBOOK_NOTICE_H

#include "tenterbook/address.h"
#include "tenterbook/lot_claim.h"
#include "tenterbook/outfile.h"

#define TB_NOTICE_ASK_MOST 1200 /* bytes of what is asked: more would leave no room on the page */

struct tb_notice_plan {
    const char *lot;   /* reference, or number of a bolt */
    const char *day;   /* day on the notice (YYYY-MM-DD) */
    const char *today; /* from which lateness is counted, and after which no notice is dated; NULL: day */
    const char *by;    /* who gives it; NULL: not said */
    const char *asked; /* in plain words, which no catalogue has; NULL: what is still open */
    enum tb_remedy_kind remedy; /* that is asked for besides; TB_REMEDY_NONE: none yet */
    const char *answer_by;      /* day; NULL: no day is asked for */
    bool again;                 /* also where the dispute is closed, or all that was agreed came in */
    const char *language;       /* a word of tb_tongue_words; NULL: that of the supplier, else English */
};

struct tb_notice;

/*
 * tb_notice_make - read the lot, in one state of the book, and put the notice together.
 *
 *   fails   TB_ENOTFOUND: no such lot; TB_EINVAL: a day that is not valid, after today or before what the letter tells, too much is asked, a language
 *           papers are not written in; TB_EREFUSED: there are no particulars (nothing declared, nothing burnt, tested or
 *           analysed), or what was seen fits the declaration; or the claim is settled, and .again is not said; TB_EFORMAT: the book does not prove
 *   memory  free with tb_notice_free; plan is borrowed until then
 */
tb_rc tb_notice_make(struct tb_notice **out, struct tb_book *b, const struct tb_notice_plan *plan,
                     struct tb_err *err);
/* tb_notice_free - NULL: nothing happens. */
void tb_notice_free(struct tb_notice *n);
/* tb_notice_lot - reference of the lot; borrowed from the notice, and so is what the next ones answer. */
const char *tb_notice_lot(const struct tb_notice *n);
/* tb_notice_supplier - its name in the book. */
const char *tb_notice_supplier(const struct tb_notice *n);
/* tb_notice_now - the lot and its claim on the day of the notice: terms, what is late. */
const struct tb_lot_claim *tb_notice_now(const struct tb_notice *n);
/* tb_notice_language - a word of tb_tongue_words. */
const char *tb_notice_language(const struct tb_notice *n);

/* What a letter that can be posted needs and nobody set. */
struct tb_notice_lacks {
    bool sender, recipient; /* no place: it cannot be posted, or answered */
    bool language;          /* of the supplier, and none was asked for: it is in English */
    bool mail;              /* no e-mail address of ours: no mail can be made */
};
struct tb_notice_lacks tb_notice_lacks(const struct tb_notice *n);

/* tb_notice_text - add the notice as plain text, in lines of at most 78 columns where words allow. */
void tb_notice_text(struct tb_text *out, const struct tb_notice *n);

/*
 * tb_notice_pdf - the notice on TB_NOTICE_PAGES A4 pages at most. Lists that are too long are cut, here and in the text after it,
 * and what is left out is counted.
 *
 *   out     the file is added; same book and same plan, same bytes
 *   fails   TB_EINVAL: what is declared or asked is too long; TB_EIO: a font is missing, or the drawing library failed
 */
#define TB_NOTICE_PAGES 2
tb_rc tb_notice_pdf(struct tb_text *out, struct tb_notice *n, struct tb_err *err);

/*
 * tb_notice_mail - the text as a mail that is not sent yet, the page attached (RFC 5322, 2045 to 2047): a mail program opens it, and a
 * person looks at it and sends it.
 *
 *   pdf     the page
 *   name    of the file it is attached as, in ASCII or UTF-8
 *   note    lacks.mail says that there is no sender; then nothing is added
 */
void tb_notice_mail(struct tb_text *out, const struct tb_notice *n, const struct tb_text *pdf,
                    const char *name);

/*
 * tb_notice_write - page, text and mail into files of a set.
 *
 *   path    of the page, ending in .pdf; the text has .txt in its place, the mail .eml. There is no mail where lacks.mail says so
 *   fails   as tb_notice_pdf and tb_outset_add
 */
tb_rc tb_notice_write(struct tb_outset *files, const char *path, struct tb_notice *n, struct tb_err *err);

#endif
