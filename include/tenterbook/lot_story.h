/*
 * lot_story.h - everything the book holds about one lot, or one swatch, read as one steady state of the book.
 */
#ifndef TENTERBOOK_LOT_STORY_H
#define TENTERBOOK_LOT_STORY_H

#include "tenterbook/analysis.h"
#include "tenterbook/concluded.h"
#include "tenterbook/draws.h"
#include "tenterbook/lot_claim.h"
#include "tenterbook/sending.h"
#include "tenterbook/todo.h"
#include "tenterbook/void.h"

/* What was done with swatches. */
struct tb_bench_records {
    struct tb_burn *burn;
    struct tb_bench_test *test;
    size_t burns, tests;
    /* beside those that count, where they were read: photographs of them and of their swatches, and what was moved to its swatch */
    struct tb_attachment *photo;
    struct tb_moved *moved;
    size_t photos, moveds;
};

/* What of a lot does not count: what was recorded by mistake, and what went with it. */
struct tb_voidings {
    struct tb_voiding *voiding;
    struct tb_bench_records bench;
    struct tb_judged *judged;     /* verdicts that rest on it */
    struct tb_standing *standing; /* holds that those made by themselves */
    struct tb_analysis *analysis;
    struct tb_dispute_step *step;
    size_t n, judgeds, standings, analyses, steps;
};

/* A draw that took bolts of a lot, and the numbers of those, separated by ", ". */
struct tb_lot_draw {
    struct tb_draw draw;
    const char *bolts, *gone; /* numbers of those of this lot that count, and of those that are void since */
    size_t n, gones;
};

/* Lists are in the order of their making: declarations as they came, burns and tests that count by their moment. */
struct tb_lot_story {
    struct tb_lot lot;
    struct tb_concluded concluded; /* of it */
    struct tb_invoiced invoiced;   /* how it was priced */
    struct tb_declared *declared;
    struct tb_bolt *bolt;
    struct tb_burn *burn;
    struct tb_bench_test *test;
    struct tb_judged *judged;
    struct tb_standing *standing;
    struct tb_bolt_standing *single; /* what was decided of single bolts */
    struct tb_joint_sample *joint;
    struct tb_sending *sending; /* to laboratories, without a joint sample */
    size_t declareds, bolts, burns, tests, judgeds, standings, singles, joints, sendings;
    struct tb_voidings gone;
    struct tb_amendment *amendment; /* of its delivery */
    size_t amendments;
    struct tb_claim claim;
    struct tb_circumstances written; /* of the journal rows about the lot and its delivery */
    /* what follows is read by tb_lot_story_read alone */
    struct tb_todo_row
        ground; /* what the decision on it rested on and is void since, as tb_ground_gone; lot NULL: nothing */
    struct tb_delivery delivery;
    struct tb_lot_draw *draw;
    size_t draws;
    struct tb_swatch *swatch;
    struct tb_analysis *analysis, *analysis_before; /* those that count; those that were corrected */
    struct tb_bench_records before;                 /* burns and tests that were corrected */
    struct tb_attachment *photo;                    /* of its swatches and burns, without their bytes */
    struct tb_moved *moved; /* burns and tests that were recorded of another swatch first */
    size_t swatches, analyses, analyses_before, photos, moveds;
};
/*
 * tb_lot_story_read - the whole of it.
 *   ref     of the lot, or the number of one of its bolts
 *   today   YYYY-MM-DD; the claim's days left are counted from it
 *   fails   as tb_lot_ever and tb_claim_of_lot
 *   memory  all in mem
 */
tb_rc tb_lot_story_read(struct tb_lot_story *out, struct tb_book *b, const char *ref, const char *today,
                        struct tb_arena *mem, struct tb_err *err);

/* tb_lot_story_lists - the lists alone, of the lot that is in s: for whoever looks at the book already, or has no claim. */
tb_rc tb_lot_story_lists(struct tb_lot_story *s, struct tb_book *b, struct tb_arena *mem, struct tb_err *err);

/* A bolt that went back, and the day it did. */
struct tb_bolt_back {
    const struct tb_bolt *bolt; /* of the story */
    const char *day;
    double
        left; /* share of it that was not cut off before, above 0 to 1; NAN: it was cut into, and how much is not known */
};
/* What of a lot went back, in the order of its bolts. */
struct tb_went_back {
    struct tb_bolt_back *bolt; /* n */
    size_t n;
    bool whole;      /* all bolts of the lot, and nothing was cut off any */
    double cut_off;  /* metres that were cut off these bolts before; NAN: not known */
    double quantity; /* in units of the invoice, of what was left; NAN: not known of all of them */
    double value;    /* in its money; NAN: no price, or no quantity */
};
/* tb_story_went_back - of a lot whose bolts, standings, price and claim.use were read; memory in mem, days too. */
void tb_story_went_back(struct tb_went_back *out, const struct tb_lot_story *s, struct tb_arena *mem);
/*
 * tb_credit_awaited - what is still to be credited for it, in the money of the invoice; 0 where nothing went back, or an amount is agreed
 * (tb_nothing_credited); NAN: what it was invoiced at is not known.
 *   open  the dispute that is open; NULL none is
 */
double tb_credit_awaited(const struct tb_lot_story *s, const struct tb_dispute *open, struct tb_arena *mem);
/* tb_credit_came_in - goods went back as it was agreed without an amount, and all that they were worth was credited since. */
bool tb_credit_came_in(const struct tb_lot_story *s, const struct tb_dispute *open);

/* A swatch, of a lot or of known cloth, with what was done with it: what counts, what was corrected, and what is void. */
struct tb_swatch_story {
    struct tb_swatch swatch;
    struct tb_bench_records now, before, gone;
    struct tb_voiding *voiding; /* why it does not count: it, its bolt or its lot is void */
    size_t voidings;
};
/*
 * tb_swatch_story_read - all about a swatch by its tag, void or not.
 *   fails   TB_ENOTFOUND there is none
 *   memory  all in mem
 */
tb_rc tb_swatch_story_read(struct tb_swatch_story *out, struct tb_book *b, const char *tag,
                           struct tb_arena *mem, struct tb_err *err);

/* A lot of a delivery, void or not, and those of its bolts that count. */
struct tb_delivery_lot {
    struct tb_lot lot;
    struct tb_bolt *bolt;
    size_t bolts;
};
struct tb_delivery_story {
    struct tb_delivery delivery; /* as amended */
    bool voided;
    struct tb_delivery_lot *lot; /* as they came */
    struct tb_voiding
        *voiding; /* of the delivery itself, those taken back too; of lots that are void by themselves */
    struct tb_amendment *amendment;
    struct tb_journal_row *row; /* about it, its lots and their swatches */
    size_t lots, voidings, amendments, rows;
};
/*
 * tb_delivery_story_read - all about a delivery by its reference as the book writes it, void or not.
 *   fails   TB_ENOTFOUND there is none
 *   memory  all in mem
 */
tb_rc tb_delivery_story_read(struct tb_delivery_story *out, struct tb_book *b, const char *ref,
                             struct tb_arena *mem, struct tb_err *err);

/* Whether a burn was recorded on another day than it was burned: typed up later, as a reader should know. */
bool tb_burn_typed_later(const struct tb_burn *burn);

/*
 * tb_story_slip - how the words of the declaration `i` came to be typed here by mistake: why the next ones say so, or, where those only
 * say the words before them once more, why the words before were wrong. NULL: they were no mistake.
 */
const char *tb_story_slip(const struct tb_lot_story *story, size_t i);

#endif
