/*
 * analysis.h - what laboratories found, as the book keeps it. The rules for reading and writing are those of book.h.
 */
#ifndef TENTERBOOK_ANALYSIS_H
#define TENTERBOOK_ANALYSIS_H

#include "tenterbook/book.h"
#include "tenterbook/lab.h"

struct tb_analysis {
    const char *id, *lot;    /* id of the lot */
    const char *declaration; /* id of the one it was compared with; NULL: with none */
    enum tb_part_kind part;
    const char *laboratory, *report; /* who analysed, number of the report; "" not said */
    const char *route, *methods;     /* of lab.h; numbers of methods separated by spaces */
    const char *found;               /* composition with agreed allowances, % by mass */
    double u;                        /* largest standard uncertainty of a share, points */
    const char *answers;             /* "us:conforms eu:cannot_be_said"; "" compared with nothing */
    const char *detail;              /* everything as JSON */
    const char *analysed_on;         /* day */
    const char *recorded_at, *recorded_by /* name */; /* read-only */
    const char *replaces;                             /* id of the analysis it corrects; NULL */
    const char *declared;                             /* read-only: words of that declaration; "" none */
};
/*
 * tb_analysis_add - record one: fills id and recorded_at. laboratory, report, declaration and replaces may be NULL.
 *   fails  TB_ENOTFOUND / TB_EINVAL when what it replaces is not there, of another lot, or corrected already;
 *          TB_EINVAL when analysed_on is not a valid date
 */
tb_rc tb_analysis_add(struct tb_analysis *a, struct tb_book *b, struct tb_arena *mem, struct tb_err *err);
/* tb_analysis_list - the analyses of a lot that count: corrected ones are left out. */
tb_rc tb_analysis_list(struct tb_analysis **out, size_t *n, struct tb_book *b, const char *lot_id,
                       struct tb_arena *mem, struct tb_err *err);
/* tb_analysis_is_void - whether there is an analysis with this id that is void. */
tb_rc tb_analysis_is_void(bool *out, struct tb_book *b, const char *id, struct tb_err *err);
/* tb_analysis_voided_list - those of a lot that are void. */
tb_rc tb_analysis_voided_list(struct tb_analysis **out, size_t *n, struct tb_book *b, const char *lot_id,
                              struct tb_arena *mem, struct tb_err *err);
/* tb_analysis_corrected_list - those of a lot that no longer count, because another record corrects them. */
tb_rc tb_analysis_corrected_list(struct tb_analysis **out, size_t *n, struct tb_book *b, const char *lot_id,
                                 struct tb_arena *mem, struct tb_err *err);

/* What a laboratory found in one part of a lot that had been judged before. */
struct tb_lab_settled {
    const char *lot, *delivery; /* ids */
    enum tb_part_kind part;
    const char *found;    /* composition */
    const char *declared; /* the words that were judged */
    double
        log_ratio; /* of the last verdict before the first analysis of the lot was recorded, without bounds */
    enum tb_verdict_kind verdict; /* and its word */
    const char *grade;            /* "": of before there were grades */
};
/*
 * tb_lab_settled_list - what counted of it after journal row `upto`; lots in the order their first analyses came in, the
 * analyses of one lot together and the latest last. A lot without a verdict by then, or with one that weighed nothing, has
 * no row.
 */
tb_rc tb_lab_settled_list(struct tb_lab_settled **out, size_t *n, struct tb_book *b, int64_t upto,
                          struct tb_arena *mem, struct tb_err *err);

/* Lots of one delivery whose verdicts had one word. */
struct tb_lab_judged {
    const char *delivery; /* id */
    enum tb_verdict_kind verdict;
    const char *grade; /* as above */
    int64_t lots;
};
/*
 * tb_lab_judged_list - lots that the bench judged by the time the last analysis up to journal row `upto` came in, each by its
 * last verdict before that and before its own first analysis. Without an analysis: none. Lots that were void then, or with a
 * verdict that weighed nothing, are left out.
 */
tb_rc tb_lab_judged_list(struct tb_lab_judged **out, size_t *n, struct tb_book *b, int64_t upto,
                         struct tb_arena *mem, struct tb_err *err);

/* tb_analysis_against - whether it does not conform to what was declared, in at least one market. */
bool tb_analysis_against(const struct tb_analysis *a);

/* tb_analysis_for - whether it conforms to what was declared, in every market it was compared for. */
bool tb_analysis_for(const struct tb_analysis *a);

/* tb_analysis_in - what it answers for a market of `market_n` bytes, as it stands in `answers`: "us:conforms", *n bytes; NULL: nothing. */
const char *tb_analysis_in(const struct tb_analysis *a, const char *market, size_t market_n, size_t *n);

/* tb_analysis_answer - the same as an answer, TB_LAB_UNSAID where the word is none; false: nothing is answered for that market. */
bool tb_analysis_answer(enum tb_lab_answer *out, const struct tb_analysis *a, const char *market, size_t n);

/*
 * tb_analysis_apart - whether two found figures in one part that are further apart than their uncertainties allow: a share differs by more
 * than the expanded uncertainty of the difference, 2 sqrt(u1^2 + u2^2). False where either has no uncertainty.
 *   source  JCGM 100:2008, 5.1.2 and 6.2.1
 */
bool tb_analysis_apart(const struct tb_analysis *a, const struct tb_analysis *b);

/*
 * tb_analysis_opposed - whether two that were held against the same words of one part contradict each other in a market: by the one it
 * conforms and by the other it does not (tb_analysis_opposite), or by the one it does not, the other cannot say,
 * and they are apart.
 * tb_analysis_opposed_in: in this market, n bytes.
 */
bool tb_analysis_opposite(const struct tb_analysis *a, const struct tb_analysis *b);
bool tb_analysis_opposed(const struct tb_analysis *a, const struct tb_analysis *b);
bool tb_analysis_opposed_in(const struct tb_analysis *a, const struct tb_analysis *b, const char *market,
                            size_t n);

/* tb_analysis_stands - whether number i of n, by their days, is told: the latest of its part, or one of two that are opposed or apart. */
bool tb_analysis_stands(const struct tb_analysis *x, size_t n, size_t i);

/* tb_analysis_words - those that stand in words, added to out: "warp: 100 % cotton; weft: 100 % flax". */
void tb_analysis_words(struct tb_text *out, const struct tb_analysis *x, size_t n);

#endif
