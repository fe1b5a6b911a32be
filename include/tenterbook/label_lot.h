/*
 * label_lot.h - what a label may say, for words that somebody gives and for a lot of the book.
 *
 * Reads, and records nothing. Information, not legal advice: the official text and local counsel decide.
 */
#ifndef TENTERBOOK_LABEL_LOT_H
#define TENTERBOOK_LABEL_LOT_H

#include "tenterbook/book.h"
#include "tenterbook/law.h"

struct tb_label_request {
    const char *lot;    /* its reference, or the number of one of its bolts; NULL: words alone */
    const char *text;   /* words of the label; NULL: what the lot is declared as */
    const char *actual; /* what the cloth was found to be; NULL: the lot's latest analysis, if there is one */
    struct tb_law_facts facts;     /* origin NULL: that of the lot */
    struct tb_market_list markets; /* none: with a lot those of the setting `market` */
};
struct tb_label_outcome {
    struct tb_lot lot; /* ref NULL: words alone */
    const char *text;  /* the words that were asked about */
    const char *found; /* what a laboratory found of the lot, in words; NULL: not asked, or nothing */
    struct tb_law_answer *answer; /* one a market, in their order */
    size_t n;
};
/*
 * tb_label_check - what each market's law says of the words, and what a label may carry.
 *
 *   out    text in mem; free with tb_label_outcome_free, after a failure too
 *   b      may be NULL where no lot is named
 *   fails  TB_ENOTFOUND no such lot; TB_EINVAL no words, what was found gives no composition, an unknown market or
 *          language; TB_EUSAGE no market is named, and none is set
 */
tb_rc tb_label_check(struct tb_label_outcome *out, struct tb_book *b, const struct tb_label_request *request,
                     struct tb_arena *mem, struct tb_err *err);
void tb_label_outcome_free(struct tb_label_outcome *out);

#endif
