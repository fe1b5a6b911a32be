/*
 * concluded.h - what is concluded of a lot from all that is known of it: one word, its grounds and its day.
 *
 * Of the words of the supplier as they were received, never of a label of ours. What weighs more decides: what laboratories
 * found, under the tolerances of the markets they were asked for and within their uncertainty; else the verdict, in which
 * tests without a flame and burns are weighed together (docs/method.md). Every page tells this and nothing else;
 * docs/architecture.md says why it is computed when read. Pure but for what asks the book.
 */
#ifndef TENTERBOOK_CONCLUDED_H
#define TENTERBOOK_CONCLUDED_H

#include "tenterbook/analysis.h"
#include "tenterbook/goods.h"
#include "tenterbook/stored_verdict.h"

enum tb_concluded_kind {
    TB_OPEN,           /* all else; why stands beside it */
    TB_CONFORMS,       /* a laboratory found the declaration kept, in the markets named */
    TB_DOES_NOT,       /* a laboratory found it broken in a market, or the verdict contradicts */
    TB_NOTHING_AGAINST /* the verdict fits, and no laboratory has answered */
};
/* "open", "conforms", "does not conform", "no finding against it". */
extern const struct tb_words tb_concluded_words;

enum tb_ground_kind { TB_BY_NOTHING, TB_BY_BURNING, TB_BY_BENCH_TEST, TB_BY_LABORATORY };
/* "", "burning", "bench test", "laboratory". */
extern const struct tb_words tb_ground_words;

/* Why a lot is open. */
enum tb_open_kind {
    TB_NOT_OPEN,
    TB_OPEN_UNTESTED,   /* nothing was looked at */
    TB_OPEN_WORDS,      /* the words cannot be read, or there are none */
    TB_OPEN_UNDECIDED,  /* the verdict is undecided ... */
    TB_OPEN_AGAINST,    /* ... and what was seen speaks against the words */
    TB_OPEN_LABORATORY, /* a laboratory has answered, and cannot say, or its answer is to other words */
    TB_OPEN_DISAGREE /* laboratories contradict each other in a market (tb_analysis_opposed), and neither was taken back */
};
/* "", "nothing looked at", "words not readable", "undecided", "speaks against", "laboratory undecided", "laboratories disagree". */
extern const struct tb_words tb_open_words;

/* What is known. Text is borrowed and never NULL unless said. */
struct tb_known {
    const char *said;               /* by the supplier, "" nothing */
    bool clear;                     /* nothing in it blocks a verdict */
    struct tb_kept_verdict verdict; /* on those words; TB_UNJUDGED: there is none */
    const char *judged, *judged_at; /* its id, its moment; NULL none */
    const char
        *seen; /* the day of the last burn or test it rests on, a blank, the day that was typed; NULL none */
    const char *against; /* numbers of the bolts that contradict judged alone, one a line; NULL or "" none */
    bool tested;         /* a test without a flame is among what it rests on */
    const struct tb_analysis *analysis; /* n that count, as they were recorded */
    size_t n;
};

struct tb_concluded {
    enum tb_concluded_kind kind;
    enum tb_ground_kind by; /* TB_BY_NOTHING: nothing was looked at */
    enum tb_open_kind open; /* TB_NOT_OPEN unless kind is TB_OPEN */
    const char *record;     /* id of the verdict or of the analysis; "" none */
    const char *on;         /* day of the last burn or test, or of the analysis; "" none */
    const char *typed;      /* the day that burn or test was typed up, where it was a later one; "" else */
    const char *markets;    /* of a laboratory: those the word is about, "eu us"; "" none */
    const char *kept;  /* of a laboratory: those in which it conforms, where in others it does not; "" none */
    const char *bolts; /* of a verdict that contradicts: the bolts that do so alone, "B1, B2"; "" not said */
    const char *laboratory, *report, *found; /* of a laboratory, in its words; "" none or not said */
    bool opposite; /* of laboratories: by one it conforms in a market, by another it does not */
    bool apart; /* of laboratories: results are further apart than uncertainties allow (tb_analysis_apart) */
    struct tb_told_verdict told; /* the verdict, whatever decided; TB_UNGRADED: there is none */
};

/*
 * tb_conclude - the one place where a lot is concluded of.
 *   out     its text is in mem, or borrowed from k
 *   fails   TB_EFORMAT: the details of a verdict that is read from them are damaged
 */
tb_rc tb_conclude(struct tb_concluded *out, const struct tb_known *k, struct tb_arena *mem,
                  struct tb_err *err);

/* tb_known_said - what is known, of a row of the book and the analyses of its lot. */
void tb_known_said(struct tb_known *out, const struct tb_lot_said *said, const struct tb_analysis *analysis,
                   size_t n);

/*
 * tb_conclude_in - the same for goods that are sold in one market, by its key: where a laboratory was asked about that market, its
 * answers about others are left out.
 */
tb_rc tb_conclude_in(struct tb_concluded *out, const struct tb_known *k, const char *market,
                     struct tb_arena *mem, struct tb_err *err);

/*
 * tb_lot_known - what is known of a lot as it is now in the book.
 *   memory  text in mem, or borrowed from the lot
 */
tb_rc tb_lot_known(struct tb_known *out, struct tb_book *b, const struct tb_lot *lot, struct tb_arena *mem,
                   struct tb_err *err);

/*
 * tb_lot_concluded - of a lot as it is now in the book.
 *   fails   as tb_conclude, and what the book answers; the lot is named
 *   memory  text in mem
 */
tb_rc tb_lot_concluded(struct tb_concluded *out, struct tb_book *b, const struct tb_lot *lot,
                       struct tb_arena *mem, struct tb_err *err);

/* tb_said_concluded - the same of a row that is read already. */
tb_rc tb_said_concluded(struct tb_concluded *out, struct tb_book *b, const struct tb_lot_said *said,
                        struct tb_arena *mem, struct tb_err *err);

/* ---- how the lots of suppliers turned out ---------------------------------------------------------------- */

/*
 * As declared where a laboratory found so or the verdict fits; not as declared where the lot does not conform; else open. What was
 * decided of a lot says nothing: goods come back for being late, too.
 */
enum tb_turned_out { TB_OUTCOME_OPEN, TB_OUTCOME_RIGHT, TB_OUTCOME_WRONG };
enum tb_turned_out tb_outcome_of(const struct tb_concluded *c);

/* How one lot turned out. */
struct tb_lot_result {
    const char *ref, *arrived; /* reference, day */
    enum tb_turned_out outcome;
};
/* tb_supplier_lots - of all lots of a supplier, as they arrived. supplier_id as struct tb_lot has it. */
tb_rc tb_supplier_lots(struct tb_lot_result **out, size_t *n, struct tb_book *b, const char *supplier_id,
                       struct tb_arena *mem, struct tb_err *err);
/* tb_supplier_tallies - of all suppliers, by name (draws.h). */
struct tb_supplier_tally;
tb_rc tb_supplier_tallies(struct tb_supplier_tally **out, size_t *n, struct tb_book *b, struct tb_arena *mem,
                          struct tb_err *err);

#endif
