/*
 * act_draw.h - bolts drawn at random and what they prove, joint samples, suppliers' records.
 *
 * Functions whose name begins with tb_act_ record something; the others only read, each of them one steady state of the
 * book. Text and arrays of an outcome lie in the caller's arena; text of a request is borrowed for the call. Counts are
 * whole, chances and shares lie in 0 .. 1. Sources: docs/sampling.md.
 */
#ifndef TENTERBOOK_ACT_DRAW_H
#define TENTERBOOK_ACT_DRAW_H

#include "tenterbook/act.h"
#include "tenterbook/dispute.h"
#include "tenterbook/draws.h"
#include "tenterbook/plan.h"
#include "tenterbook/record.h"

/* ---- how well a burn shows a false bolt ---------------------------------------------------------------- */

enum tb_catch_from {
    TB_CATCH_ASSUMED, /* nothing better is known */
    TB_CATCH_ALIKE,   /* assumed, since every common swap burns like what is declared */
    TB_CATCH_MODEL,   /* the evidence model's account of one careful burn */
    TB_CATCH_GIVEN,   /* a person said so */
    TB_CATCH_EARLIER  /* as the draw at issue had it */
};
struct tb_catch {
    double one; /* chance that burning a false bolt shows it, above 0, at most 1 */
    enum tb_catch_from from;
    const char *swap;  /* TB_CATCH_MODEL: the swap it is the chance of, "100 % polyester"; else NULL */
    const char *blind; /* swaps that no burn shows, separated by ", "; NULL where none is known */
    const char *words; /* all of this as the book keeps it beside a draw */
};
/* The chance taken where nothing better is known, and one that a person gave (above 0, at most 1). Text is static. */
void tb_catch_assume(struct tb_catch *out);
void tb_catch_give(struct tb_catch *out, double one);

struct tb_stored_verdict;
/*
 * The chance that a draw from the lot of a verdict would count on, from what the verdict tells of its power; assumed where it
 * tells nothing. Text in mem.
 */
tb_rc tb_catch_stored(struct tb_catch *out, const struct tb_stored_verdict *verdict, struct tb_arena *mem,
                      struct tb_err *err);

/* ---- draw ---------------------------------------------------------------------------------------------- */

struct tb_draw_request {
    const char *const
        *name; /* what is drawn from: lots, deliveries, or numbers of bolts that only one lot has */
    size_t names;
    struct tb_plan_wish want; /* catch_one 0: the least that the evidence model says of the lots */
    bool inspection_chosen;   /* want.inspection was chosen; else the suppliers' history decides about it */
    const char
        *against;     /* the swap at issue, part of its name: "polyester"; NULL: the commonest that shows */
    const char *seed; /* NULL: one is made */
};

/* A bolt that was drawn. */
struct tb_drawn {
    const char *bolt;                     /* its id */
    const char *lot_ref, *number, *parts; /* parts: those that must be burned apart, "warp, weft" */
    double metres;                        /* NAN: not known */
    bool derived;                         /* its metres are computed from kilograms */
    enum tb_handling handling; /* what was declared of its lot allows no more than this at a bench */
    bool gone;                 /* drawn again: it is void since */
    const char *instead; /* then the number of the bolt of its lot that takes its place; "" none is left */
};
/* What inspection the history of one supplier asks for. */
struct tb_inspected {
    const char *supplier; /* its name */
    enum tb_inspection now;
    const char *why; /* the rule of the last change, static text; NULL: none yet */
};
/* A lot that was named and not drawn from: its burns show too little for what is asked. */
struct tb_left_out {
    const char *lot, *declared; /* reference, words */
    struct tb_catch caught;
    enum tb_handling handling; /* other than any: left out because it must not be burned */
};
enum tb_seed_from {
    TB_SEED_MADE,    /* by the program, for this draw */
    TB_SEED_EARLIER, /* that of an earlier draw of these lots */
    TB_SEED_GIVEN    /* by whoever drew: several could have been tried */
};
struct tb_draw_outcome {
    const char *about; /* what was drawn from: references, separated by spaces */
    struct tb_plan plan;
    struct tb_catch caught;
    struct tb_left_out *
        left; /* of several lots, those that must not be burned, and those left out so that the others reach what is asked */
    size_t lefts;
    long apart;             /* bolts that are not there to be drawn: returned, or decided of by themselves */
    struct tb_drawn *drawn; /* by lot, then by number; none where plan.cut is -1 */
    size_t n;
    size_t swatches;                /* to be cut: one for each part of each drawn bolt that may be */
    struct tb_inspected *inspected; /* one for each supplier, where the history decided; else none */
    size_t suppliers;
    const char *seed;
    enum tb_seed_from seed_from;
    const struct tb_draw
        *before; /* earlier draws of these lots: id, about, seed, drawn_at and drawn_by are filled */
    size_t befores;
    unsigned handling;          /* what the lots drawn from ask for: bits, 1u << enum tb_handling */
    const struct tb_draw *last; /* the latest of them; NULL: none */
    bool recorded;
};
/*
 * tb_act_draw - draw bolts of one or more lots at random and record the draw with its seed.
 *
 * Where not even every bolt is enough, the lots whose burns show least are left out, if the others reach what is asked
 * without them, and the draw is about those; else nothing is drawn and nothing is recorded. Two draws of the same bolts at one time
 * come one after the other, and the later one tells of the earlier.
 *   fails   TB_ENOTFOUND no such lot; TB_EEXISTS a lot named twice; TB_EREFUSED a seed that passes itself off as made,
 *           or a swap that burns like what is declared; TB_EINVAL what cannot be: see tb_plan_work_out and tb_pick
 */
tb_rc tb_act_draw(struct tb_draw_outcome *out, const struct tb_actor *actor,
                  const struct tb_draw_request *request, struct tb_arena *mem, struct tb_err *err);
/* tb_draw_try - the same draw, recorded nowhere. A seed that is made begins with "try-", so that it can be told for ever
 * from one that was made for a draw. Fails as tb_act_draw. */
tb_rc tb_draw_try(struct tb_draw_outcome *out, struct tb_book *b, const struct tb_draw_request *request,
                  struct tb_arena *mem, struct tb_err *err);

/* Whether the seed of a recorded draw was given by whoever drew. */
bool tb_seed_by_hand(const char *seed);

/*
 * tb_draw_again - draw the latest recorded draw about these names again, from its seed.
 *
 *   out     as that draw came out: about, drawn, n, swatches, seed and before are filled; *record is the draw itself. For a bolt
 *           that is void since another one is drawn by the same seed.
 *   fails   TB_ENOTFOUND no such lot, or no draw about exactly these; TB_EREFUSED the bolts are not the recorded ones
 */
tb_rc tb_draw_again(struct tb_draw_outcome *out, struct tb_draw *record, struct tb_book *b,
                    const char *const *name, size_t names, struct tb_arena *mem, struct tb_err *err);

struct tb_draw_proof_request {
    const char *const *name; /* as drawn: a proof is of a draw, not of some of its lots */
    size_t names;
    double sure;      /* 0: TB_SURE_DEFAULT */
    double catch_one; /* 0: as the draw had it */
};
struct tb_draw_proof {
    const char *about;
    struct tb_draw draw; /* the latest about these names */
    const struct tb_draw *before;
    size_t befores;            /* draws of these bolts, this one included */
    long bolts, drawn, burned; /* in the lots; drawn; of those drawn, burned */
    long found, besides;       /* shown false: of those drawn and burned; of the others */
    long
        undecided; /* of those drawn and burned: neither fits nor contradicts alone; the bound takes them as not burned */
    double sure;
    struct tb_catch caught;
    long most_false;           /* with confidence `sure` no more bolts than this are false */
    long least_false;          /* of a lot that is only a number: likewise, no fewer than this */
    double most_metres;        /* and they hold no more metres than this */
    double metres;             /* of all the bolts whose length is known */
    long unknown;              /* bolts whose length is not: most_metres is NAN where there are any */
    struct tb_gone_bolt *gone; /* drawn, and void since */
    size_t gones;
};
/*
 * tb_draw_prove - what the burns of the drawn bolts prove so far of the whole. Each burnt bolt is judged alone; only
 * bolts drawn at random speak for others, bolts shown false otherwise are known all the same.
 *
 *   fails   TB_ENOTFOUND no such lot; TB_EREFUSED no draw about these names; TB_EINVAL a chance out of range
 */
tb_rc tb_draw_prove(struct tb_draw_proof *out, struct tb_book *b, const struct tb_draw_proof_request *request,
                    struct tb_arena *mem, struct tb_err *err);

/* ---- share --------------------------------------------------------------------------------------------- */

struct tb_share_request {
    const char *lot;        /* its reference, or the number of a bolt that only one lot has */
    const char *seed;       /* NULL: one is made */
    const char *laboratory; /* agreed on by both sides; NULL not said, as are the next two */
    const char *rule;       /* agreed method, and what its result decides */
    const char *present;    /* who was there, of both sides */
};
struct tb_share_outcome {
    struct tb_lot lot;
    struct tb_joint_sample sample; /* with all of its pieces */
};
/*
 * tb_act_share - deal a joint sample at random from the retained swatches of a lot: of each part of the cloth as many to
 * the supplier as to the laboratory. A swatch is dealt once.
 *
 *   fails   TB_ENOTFOUND no such lot; TB_EREFUSED fewer than three retained swatches of one part; TB_EINVAL a seed that
 *           tb_pick does not take
 */
tb_rc tb_act_share(struct tb_share_outcome *out, const struct tb_actor *actor,
                   const struct tb_share_request *request, struct tb_arena *mem, struct tb_err *err);

/* ---- suppliers' records -------------------------------------------------------------------------------- */

struct tb_supplier_record_request {
    const char *supplier;    /* name; case, accents and spaces do not matter */
    double conf, usual, run; /* as struct tb_record has them; 0 takes the default */
};
struct tb_supplier_record {
    struct tb_supplier supplier;
    long lots; /* all of them, open ones too */
    struct tb_record record;
    bool prior_own; /* the prior is this site's own; else that of published rates */
};
/* tb_supplier_record_read - one supplier's record. Fails TB_ENOTFOUND no such supplier; else as tb_record_work_out. */
tb_rc tb_supplier_record_read(struct tb_supplier_record *out, struct tb_book *b,
                              const struct tb_supplier_record_request *request, struct tb_arena *mem,
                              struct tb_err *err);

/* Suppliers by name, and how many of their judged lots were wrong. */
struct tb_tallies {
    const char **name;
    struct tb_tally *tally;
    size_t n;
};
/* tb_tallies_read - those of the book, by name. */
tb_rc tb_tallies_read(struct tb_tallies *out, struct tb_book *b, struct tb_arena *mem, struct tb_err *err);
/*
 * tb_tallies_from - those of a table with the columns supplier, lots, wrong (CSV or XLSX), in its order.
 *
 *   fails   TB_EINVAL, naming file and line: a cell that is not a count, more wrong lots than lots; else as
 *           tb_named_rows_read
 */
tb_rc tb_tallies_from(struct tb_tallies *out, const char *path, struct tb_arena *mem, struct tb_err *err);

struct tb_resume_request {
    const char *supplier; /* name */
    const char *why;      /* what was put right; not empty */
};
struct tb_resume_outcome {
    struct tb_supplier supplier;
    const char *day; /* its lots from this day on come under tightened inspection again: today */
};
/*
 * tb_act_resume - let a supplier in again that the switching rules had stopped: the cause was put right.
 *
 *   fails   TB_ENOTFOUND no such supplier; TB_EINVAL no reason; TB_EREFUSED it is not stopped, or was let in again
 *           earlier today: a resumption is known by its day
 */
tb_rc tb_act_resume(struct tb_resume_outcome *out, const struct tb_actor *actor,
                    const struct tb_resume_request *request, struct tb_arena *mem, struct tb_err *err);

#endif
