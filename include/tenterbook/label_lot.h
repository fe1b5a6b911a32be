/*
 * label_lot.h - what a label may say, for words that somebody gives and for a lot of the book.
 *
 * Reads, and records nothing. Information, not legal advice: the official text and local counsel decide.
 */
#ifndef TENTERBOOK_LABEL_LOT_H
#define TENTERBOOK_LABEL_LOT_H

#include "tenterbook/analysis.h"
#include "tenterbook/concluded.h"
#include "tenterbook/law.h"

/* What a book has against handing out a label of a lot's goods, what weighs most first. */
enum tb_label_goods {
    TB_GOODS_CLEAR,
    TB_GOODS_RETURNED,
    TB_GOODS_NOT_AS_SAID, /* does not conform to its declaration, where the label is for */
    /* a person may have such a label who says that it shall be made all the same */
    TB_GOODS_HELD,            /* the lot, or a bolt of it */
    TB_GOODS_REFUTED,         /* under a label of ours that a laboratory refutes */
    TB_GOODS_LABORATORY_OPEN, /* a laboratory answered, and cannot say */
    TB_GOODS_CONTRADICTED,    /* released although what was seen contradicts the declaration */
    TB_GOODS_AGAINST,         /* what was seen speaks against it */
    TB_GOODS_UNDECIDED,       /* waits, and what was seen decides nothing */
    TB_GOODS_UNTESTED         /* waits, and nothing was looked at */
};
/* "", "returned", "does not conform", "held", "label refuted", "laboratory undecided", "contradicted", "speaks against", "undecided", "nothing looked at". */
extern const struct tb_words tb_label_goods_words;

/* A lot as it stands. */
struct tb_goods_stand {
    enum tb_standing_kind standing;
    bool held_in_part, released_in_part; /* single bolts of it */
    bool own_words; /* under a label of ours, which the supplier's words say nothing of */
    bool refuted;   /* and what laboratories found breaks its words (tb_words_refuted) */
};
/* tb_label_goods_of - of what is concluded in the market of the label (tb_conclude_in). Pure. */
enum tb_label_goods tb_label_goods_of(const struct tb_goods_stand *s, const struct tb_concluded *c);

/*
 * tb_words_refuted - whether what laboratories found breaks the words of a label, in a market that the last of them was asked for.
 *
 *   a, n    analyses of the lot by their days; none: false
 *   sold    the markets that count where the last of them was held against nothing
 */
tb_rc tb_words_refuted(bool *out, const struct tb_law *law, const char *words, const struct tb_analysis *a,
                       size_t n, const struct tb_market_list *sold, struct tb_arena *mem, struct tb_err *err);

/*
 * tb_label_refuted - the same of a label of ours that a lot of the book is under. Never of a lot under its supplier's words (tb_lot_concluded is of those).
 */
tb_rc tb_label_refuted(bool *out, struct tb_book *b, const struct tb_lot *lot, struct tb_arena *mem,
                       struct tb_err *err);

struct tb_label_request {
    const char *lot;    /* its reference, or the number of one of its bolts; NULL: words alone */
    const char *text;   /* words of the label; NULL: what the lot is declared as */
    const char *actual; /* what the cloth was found to be; NULL: the lot's latest analysis, if there is one */
    struct tb_law_facts facts;     /* origin NULL: that of the lot */
    struct tb_market_list markets; /* none: with a lot those of the setting `market` */
    bool
        anyway; /* the label shall be made although the book has something against it that a person may set aside */
};
struct tb_label_outcome {
    struct tb_lot lot; /* ref NULL: words alone */
    const char *text;  /* the words that were asked about */
    const char *found; /* what a laboratory found of the lot, in words; NULL: not asked, or nothing */
    struct tb_concluded concluded; /* of the lot */
    struct tb_law_answer *answer;  /* one a market, in their order */
    enum tb_label_goods *goods;    /* of the lot in each of them; all clear for words alone */
    size_t n;
    bool anyway; /* as it was asked for */
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
