/*
 * act_bench.h - the acts of the bench: cut a swatch, burn it, test it, judge a lot, settle it.
 *
 * Moments are UTC, "2026-10-05T09:30:00Z", and have passed; NULL is now.
 */
#ifndef TENTERBOOK_ACT_BENCH_H
#define TENTERBOOK_ACT_BENCH_H

#include "tenterbook/act.h"
#include "tenterbook/analysis.h"
#include "tenterbook/concluded.h"
#include "tenterbook/lab.h"
#include "tenterbook/lot_claim.h"
#include "tenterbook/sheet.h"
#include "tenterbook/stored_verdict.h"
#include "tenterbook/work.h"

/* ---- cut ----------------------------------------------------------------------------------------------- */

struct tb_cut_request {
    const char *bolt;  /* number of the bolt, or NULL for known cloth */
    const char *lot;   /* reference of its lot; NULL where only one lot has a bolt of that number */
    const char *known; /* composition of known cloth; NULL for a bolt */
    enum tb_part_kind part;
    const char *kept;                  /* where the unburnt half lies; NULL not said */
    const char *cut_at;                /* NULL: now */
    const struct tb_attachment *photo; /* of the unburnt cloth */
    size_t photos;
};
struct tb_cut_outcome {
    struct tb_swatch swatch;        /* tag included */
    struct tb_lot lot;              /* lot.ref NULL for known cloth */
    int also;                       /* as in struct tb_declaration, of all that was declared of the lot */
    enum tb_standing_kind standing; /* how the bolt stands; TB_STANDING_NONE for known cloth */
    bool unburnable;                /* a burn of the lot neither burned nor melted: tb_lot_unburnable */
    const char *const
        *waiting; /* n_waiting tags: swatches of this part of the bolt that wait for a burn already */
    size_t n_waiting;
};
/*
 * tb_act_cut - register a swatch of a bolt, or of known cloth.
 *   fails   TB_ENOTFOUND no such lot or bolt; TB_EINVAL a bolt and known cloth both or neither, a number several lots
 *           have, known cloth whose composition cannot be read for certain, a moment to come, a photograph that is none, more
 *           than TB_PHOTOS_MOST
 */
tb_rc tb_act_cut(struct tb_cut_outcome *out, const struct tb_actor *actor,
                 const struct tb_cut_request *request, struct tb_arena *mem, struct tb_err *err);
/* tb_cut_look - what would be cut, without recording anything; the swatch has no tag. Fails as tb_act_cut. */
tb_rc tb_cut_look(struct tb_cut_outcome *out, struct tb_book *b, const struct tb_cut_request *request,
                  struct tb_arena *mem, struct tb_err *err);

/* ---- what every act gives that changes what is known of a lot ------------------------------------------ */

/* What laboratories found in a lot, and what that answers to the words declared of it now. */
struct tb_laboratory {
    const struct tb_analysis *analysis; /* n that count; in the caller's arena */
    size_t n;
    enum tb_lab_answer
        answer;    /* of all parts together, in every market asked; an answer to other words is none */
    bool settled;  /* one part does not conform, or every part was analysed: it weighs more than burns do */
    bool compared; /* every part was analysed and held against these words */
    bool disagree; /* two of one part contradict each other in a market, and nothing else decides: unsaid */
    bool opposite; /* by one of two of one part it conforms in a market, by the other it does not */
    bool apart;    /* two of one part found figures further apart than their uncertainties allow */
};
/* What all analyses that count come to in one market, all parts that are declared together. */
enum tb_lab_come {
    TB_LAB_NOT_ASKED, /* of none of the parts, or not of each */
    TB_LAB_OPEN,      /* it cannot be said */
    TB_LAB_KEPT,
    TB_LAB_OPPOSED, /* two contradict each other (tb_analysis_opposed): no day decides between them */
    TB_LAB_BROKEN
};
/* tb_laboratory_markets - the markets in which it comes to that, "eu us", added to out. */
void tb_laboratory_markets(struct tb_text *out, const struct tb_laboratory *l, const char *declared,
                           enum tb_lab_come come);
/* tb_laboratory_take - the answer of analyses in the order of their days. They are borrowed. */
void tb_laboratory_take(struct tb_laboratory *out, const struct tb_analysis *analysis, size_t n,
                        const char *declared);
/* tb_laboratory_read - the same of a lot. Text in mem. */
tb_rc tb_laboratory_read(struct tb_laboratory *out, struct tb_book *b, const struct tb_lot *lot,
                         const char *declared, struct tb_arena *mem, struct tb_err *err);

struct tb_rejudged {
    struct tb_lot lot; /* as it is after the act; text in the caller's arena */
    struct tb_lot_verdict v;
    bool judged;   /* v holds a verdict */
    bool recorded; /* it differs from the last one, and was recorded */
    bool held;     /* it contradicts, and the lot is held by it */
    bool kept;     /* it contradicts, and the lot stays as a person settled it after the same evidence */
    /* of an act after which something counts no more: a record that is void or corrected */
    bool lifted;   /* it was held by a verdict that does not count any more, and nothing else holds it */
    bool disputed; /* it was, and is held now since a dispute about it is open */
    /* day of a person's decision that stays (released, returned, relabelled) although it was made when that counted, and may rest
       on it; NULL: there is none */
    const char *stays;
    bool
        of_old_words; /* of new words that the supplier answered: they are not contradicted, and what the old ones were holds the lot */
    struct tb_settled before;        /* what was decided of the lot before; TB_STANDING_NONE: nothing was */
    struct tb_laboratory laboratory; /* what weighs more than v, where it is settled */
    /* of a lot under a label of ours, which v is about: what the supplier declared, NULL of any other, and what is concluded of that */
    const char *said;
    struct tb_concluded concluded;
};
void tb_rejudged_free(struct tb_rejudged *r); /* what is in an arena stays */

/*
 * A moment in a person's words, "2026-10-05T09:30" and its longer forms in UTC, as the canonical one.
 *   out    in mem; untouched where text is NULL or empty, and on failure
 *   name   what the refusal calls it: "--at", "at"
 *   fails  TB_EINVAL: it cannot be read, or is still to come
 */
tb_rc tb_past_moment(const char **out, const char *name, const char *text, struct tb_arena *mem,
                     struct tb_err *err);

/*
 * Whether a moment lies before the lot's delivery arrived: one of the two is wrong then, unless the cloth came ahead of
 * the delivery. The arrival is a day of the site's own clock and the moment is UTC, so that the day before may be the
 * same morning east of Greenwich, and does not count. NULL (now) never does.
 */
bool tb_before_arrival(const char *moment, const struct tb_lot *lot);

/* ---- burn ---------------------------------------------------------------------------------------------- */

#define TB_PHOTOS_MOST 16    /* of one burn, and of one unburnt swatch */
#define TB_SAMPLE_MM_LEAST 1 /* longest side of what is burned */
#define TB_SAMPLE_MM_MOST 200

struct tb_burn_request {
    const char *swatch; /* its tag */
    const struct tb_observation
        *seen; /* what was seen, denied, looked at and not to be judged; part and swatch are ignored */
    const char *flame, *note, *at_hand; /* NULL: not said */
    const char *corrects;               /* id of the burn it corrects; NULL */
    const char *burned_at, *dead_at;    /* NULL: now; not said */
    double sample_mm; /* longest side burned, TB_SAMPLE_MM_LEAST to TB_SAMPLE_MM_MOST; NAN not said */
    const struct tb_attachment *photo; /* name, media, bytes and size of each: tb_attachment_of */
    size_t photos;
};
struct tb_burn_outcome {
    struct tb_swatch swatch;
    struct tb_burn burn; /* as recorded */
    const char
        *twin; /* id of the last burn of this swatch by whoever writes, where it says the very same; NULL */
    struct tb_rejudged judged; /* of its lot; judged.judged is false for known cloth */
};
/*
 * tb_act_burn - record one burn, judge its lot again, hold the lot where the verdict contradicts.
 *   out     free out->judged with tb_rejudged_free; after a failure there is nothing to free
 *   fails   TB_EREFUSED while flame work is not permitted at this site; TB_ENOTFOUND no such swatch or burn;
 *           TB_EINVAL nothing looked at, a bench test among the cues, a moment before the cut or after now, a size nobody
 *           burns, too many photographs or one that tb_attachment_check refuses, a correction of another swatch or of what was corrected already
 */
tb_rc tb_act_burn(struct tb_burn_outcome *out, const struct tb_actor *actor,
                  const struct tb_burn_request *request, struct tb_arena *mem, struct tb_err *err);

/* TB_EREFUSED, with the way without a flame, until the site has said that flame work is permitted here. */
tb_rc tb_flame_check(struct tb_book *b, struct tb_err *err);

/* ---- a file of burns ----------------------------------------------------------------------------------- */

/* One row of it. Text in the words of the file; "" where nothing stands. */
struct tb_burn_row {
    size_t line;
    const char *lot, *bolt, *part, *at, *saw, *not_seen, *looked, *flame, *note, *could_not;
};
/*
 * tb_burn_rows_read - a CSV or XLSX file with the columns lot, bolt, part, at, saw, not, looked, flame, note, could-not.
 *   fails   TB_EINVAL: an unknown column, no column bolt or saw, no row; what the file itself makes impossible
 *   memory  rows and text in mem
 */
tb_rc tb_burn_rows_read(struct tb_burn_row **out, size_t *n, const char *path, struct tb_arena *mem,
                        struct tb_err *err);
/* tb_burn_rows_sent - the same of a file that came as bytes. */
tb_rc tb_burn_rows_sent(struct tb_burn_row **out, size_t *n, const struct tb_sent *sent, struct tb_arena *mem,
                        struct tb_err *err);

/* What a person who is about to burn a swatch is asked. Text in the caller's arena. */
struct tb_burn_guide {
    struct tb_swatch swatch;
    int also;             /* as in struct tb_declaration, of all that was declared of the lot */
    const char *declared; /* the words of its lot, or of the known cloth; "": none */
    int cue
        [TB_CUES_MOST]; /* cues of a burn, channel by channel; within one those first that tell most of this declaration */
    size_t cues;
    struct tb_observation
        seen; /* what the burn that is corrected or repeated says; nothing where there is none */
    struct tb_burn *before; /* burns of this swatch that count, but for the one that is corrected */
    size_t befores;
};
/*
 * tb_burn_guide_read - nothing is written.
 *   like    id of a burn to begin with; NULL: none
 *   fails   as tb_act_burn does for the flame, the swatch and cloth that must not be burned; TB_ENOTFOUND no such burn
 */
tb_rc tb_burn_guide_read(struct tb_burn_guide *out, struct tb_book *b, const char *swatch, const char *like,
                         struct tb_arena *mem, struct tb_err *err);
/*
 * tb_burn_named - the id of the burn a person means by "last" (the one that `who` recorded last), by the tag of a swatch that was
 * burned once, or by its id, which is not looked up.
 *   fails   TB_ENOTFOUND `who` recorded none; TB_EINVAL no burn of that swatch counts, or several do
 *   memory  in mem, or `name` itself
 */
tb_rc tb_burn_named(const char **id, struct tb_book *b, const char *name, const char *who,
                    struct tb_arena *mem, struct tb_err *err);
/*
 * tb_burn_like - what a burn of the book says, for another one that went just like it.
 *   fails  TB_ENOTFOUND no such burn; TB_EINVAL a cue this program does not know
 */
tb_rc tb_burn_like(struct tb_observation *out, struct tb_book *b, const char *id, struct tb_arena *mem,
                   struct tb_err *err);

struct tb_photograph_request {
    const char *burn; /* its id */
    const struct tb_attachment *photo;
    size_t photos;
};
/*
 * tb_act_photograph - photographs that come later are kept with their burn.
 *   out    the burn, as recorded
 *   fails  TB_ENOTFOUND no such burn; TB_EINVAL no photograph, or more than TB_PHOTOS_MOST with those it has; TB_EREFUSED it is void
 */
tb_rc tb_act_photograph(struct tb_burn *out, const struct tb_actor *actor,
                        const struct tb_photograph_request *request, struct tb_arena *mem,
                        struct tb_err *err);

struct tb_unburnt_request {
    const char *swatch; /* its tag */
    const struct tb_attachment *photo;
    size_t photos;
};
/*
 * tb_act_unburnt - photographs of unburnt cloth that come after the cut are kept with their swatch.
 *   out    the swatch, as registered
 *   fails  as tb_act_photograph, of a swatch
 */
tb_rc tb_act_unburnt(struct tb_swatch *out, const struct tb_actor *actor,
                     const struct tb_unburnt_request *request, struct tb_arena *mem, struct tb_err *err);

#define TB_ROWS_TOLD_MOST 100 /* wrong rows named before the rest is counted */

struct tb_wrong_row {
    size_t line;
    char why[sizeof((struct tb_err *)0)->msg];
};
struct tb_burn_file_request {
    const char *name;              /* of the file, for the journal */
    const struct tb_burn_row *row; /* n rows */
    size_t n;
    bool again; /* record them although the very same rows were recorded before */
};
/* A lot that is held now. Text in the caller's arena. */
struct tb_held_lot {
    const char *ref;
    const char *confirm; /* the test that would confirm the verdict or lift it; "": none */
};
struct tb_burn_file_outcome {
    size_t burns, swatches, lots;                 /* recorded; swatches registered; lots touched */
    size_t kind[TB_VERDICT_KINDS];                /* lots by enum tb_verdict_kind */
    struct tb_held_lot *held_lot;                 /* lots held by these burns */
    size_t held;                                  /* so many */
    size_t early;                                 /* burns dated before their delivery arrived */
    const char *early_at;                         /* moment of the first of them; NULL: there is none */
    struct tb_lot early_lot;                      /* and its lot */
    struct tb_wrong_row wrong[TB_ROWS_TOLD_MOST]; /* on failure: what is wrong, by line */
    size_t wrongs;                                /* rows that cannot be recorded, also those not told */
};
/*
 * tb_act_burn_file - register a swatch for each lot, bolt and part of the rows, record their burns, judge their lots.
 *   All or nothing. fails   TB_EREFUSED as tb_act_burn; TB_EINVAL when a row cannot be recorded: all of them are tried,
 *   and out->wrong names them; TB_EEXISTS the very same rows were recorded before
 */
tb_rc tb_act_burn_file(struct tb_burn_file_outcome *out, const struct tb_actor *actor,
                       const struct tb_burn_file_request *request, struct tb_arena *mem, struct tb_err *err);

/* ---- try ----------------------------------------------------------------------------------------------- */

struct tb_try_request {
    const char *swatch; /* its tag */
    const char *test;   /* key of a bench test: "acetone"; NULL is refused with their names */
    const char *
        result; /* what it showed: "dissolves", of a microscope "smooth_rod, twisted_ribbon" if both; NULL is refused with the names */
    const char *note;      /* NULL */
    const char *corrects;  /* id of the test it corrects; NULL */
    const char *tested_at; /* NULL: now */
};
struct tb_try_outcome {
    struct tb_swatch swatch;
    struct tb_bench_test test; /* as recorded */
    const char *meaning;       /* of the results, in words */
    struct tb_rejudged judged; /* of its lot; judged.judged is false for known cloth */
};
/*
 * tb_act_try - record a bench test without a flame, judge its lot again, hold it where the verdict contradicts.
 *   out     free out->judged with tb_rejudged_free; after a failure there is nothing to free
 *   fails   TB_EINVAL an unknown test or result (the sentence names those there are), a moment before the cut or after
 *           now, a correction of another swatch; TB_ENOTFOUND no such swatch or test
 */
tb_rc tb_act_try(struct tb_try_outcome *out, const struct tb_actor *actor,
                 const struct tb_try_request *request, struct tb_arena *mem, struct tb_err *err);

/* ---- judge --------------------------------------------------------------------------------------------- */

/*
 * tb_act_judge - weigh everything the book holds of a lot; record the verdict where it changed, hold where it
 * contradicts. Nothing is written, and nobody waits, where nothing changed.
 *   out    free with tb_rejudged_free; after a failure there is nothing to free
 *   want   enum tb_judge_want
 *   fails  TB_ENOTFOUND no such lot
 */
tb_rc tb_act_judge(struct tb_rejudged *out, const struct tb_actor *actor, const char *lot, unsigned want,
                   struct tb_arena *mem, struct tb_err *err);
/*
 * tb_judge_as_of - the verdict that was in force after a journal row, computed again with what the book held then.
 *   out    lot.bolts_burnt and bolts_tested are those of the verdict; free with tb_rejudged_free
 *   row    number of a journal row
 *   fails  TB_ENOTFOUND no verdict by then; TB_EREFUSED other reference tables; TB_EFORMAT it comes out differently
 */
tb_rc tb_judge_as_of(struct tb_rejudged *out, struct tb_book *b, const char *lot, int64_t row,
                     struct tb_arena *mem, struct tb_err *err);

/* One lot whose verdict changed. Text in the caller's arena. */
struct tb_changed_lot {
    const char *ref;
    enum tb_verdict_kind was, now; /* its last verdict and the new one ... */
    enum tb_grade grade;           /* ... with its grade */
    bool held;
    const char *confirm; /* the test that would confirm the verdict or lift it; "": none */
};
struct tb_judge_all_outcome {
    size_t lots, kind[TB_VERDICT_KINDS]; /* lots weighed; by enum tb_verdict_kind */
    size_t against;                      /* of those undecided: what was seen speaks against */
    size_t held;
    size_t kept; /* contradict, and stay as a person settled them after the same evidence */
    struct tb_changed_lot *changed; /* those recorded */
    size_t recorded;
};
/* tb_act_judge_all - the same of every lot that was burnt, on all processors. */
tb_rc tb_act_judge_all(struct tb_judge_all_outcome *out, const struct tb_actor *actor, struct tb_arena *mem,
                       struct tb_err *err);

/* ---- declare ------------------------------------------------------------------------------------------- */

struct tb_declare_request {
    const char *lot, *text;
    const char *
        why; /* needed where the words as received leave open what it is of, or no fibre can be read in the new ones;
                        NULL */
    bool slip;   /* the words so far were typed here by mistake; needs why */
    bool anyway; /* slip: although they came out of the supplier's file, which the book holds */
};
/*
 * tb_act_declare - the supplier's answer, or a reading made plain, becomes the declaration of a lot; it is judged again
 * where something of it was burnt or tested. All earlier words stay in the book.
 *   out    free with tb_rejudged_free; after a failure there is nothing to free
 *   fails  TB_ENOTFOUND no such lot; TB_EINVAL no words, or without a reason words in which no fibre can be read;
 *          TB_EREFUSED an answer where the words that count are clear, or one that is no reading of them
 *          (tb_declaration_answered); without a reason, where they leave it open; a slip in words of the supplier's file,
 *          without anyway
 */
tb_rc tb_act_declare(struct tb_rejudged *out, const struct tb_actor *actor,
                     const struct tb_declare_request *request, struct tb_arena *mem, struct tb_err *err);

/* ---- settle -------------------------------------------------------------------------------------------- */

struct tb_settle_request {
    const char *lot;
    enum tb_standing_kind as;
    const char *why;       /* not empty */
    const char *old_words; /* of the label; NULL: those declared. Relabelling only, like the next two */
    const char *new_words; /* of the new label */
    const char *goods_of;  /* whose goods they are */
    bool
        anyway; /* although no fibre can be read in the new words, or something was decided of it after settled_at */
    const char *settled_at; /* NULL: now */
};
struct tb_settle_outcome {
    struct tb_standing standing;
    struct tb_rejudged judged;  /* judged.judged: the new words were judged against what was seen */
    const char *dispute_opened; /* day on which the dispute that is still open was opened; NULL: none is */
    struct tb_told_verdict
        told; /* what the verdict says that the lot has already; TB_UNGRADED: none, or judged anew */
    struct tb_concluded concluded; /* of the lot, whose notes go by it; of no lot that is judged anew */
    enum tb_handling handling;     /* what may be done to its cloth: who lets it go is told */
    struct tb_bolt_standing
        *ended; /* what single bolts stood as until now and do not any more: none in force */
    size_t endeds;
    struct tb_bolt_use *cut; /* of what went back: cuts into it that were made here before */
    size_t cuts;
};
/*
 * tb_act_settle - decide what becomes of a lot.
 *   out    free judged with tb_rejudged_free; after a failure there is nothing to free
 *   fails  TB_ENOTFOUND no such lot; TB_EINVAL the number of a bolt in place of a lot, no such standing, no reason, relabelling without its words or its words
 *          without relabelling, new words in which no fibre can be read without `anyway`; TB_EREFUSED what was returned has to be waiting first
 */
tb_rc tb_act_settle(struct tb_settle_outcome *out, const struct tb_actor *actor,
                    const struct tb_settle_request *request, struct tb_arena *mem, struct tb_err *err);

/* Several lots at once, all of them or none. Relabelling takes one lot at a time. */
struct tb_settle_lots_request {
    const char *const *name; /* lots, deliveries, or numbers of bolts that only one lot has */
    size_t names;
    enum tb_standing_kind as;
    const char *why;        /* not empty */
    const char *settled_at; /* NULL: now */
    bool anyway;            /* although something was decided of one of them after settled_at */
};
struct tb_settled_lot {
    struct tb_lot lot;              /* as it is after */
    struct tb_concluded concluded;  /* of it */
    enum tb_handling handling;      /* as above */
    const char *dispute_opened;     /* as above */
    struct tb_bolt_standing *ended; /* as above */
    size_t endeds;
    struct tb_bolt_use *cut; /* as above */
    size_t cuts;
};
struct tb_settle_lots_outcome {
    struct tb_settled_lot *lot;
    size_t n;
    enum tb_standing_kind as;
    const char *why;
};
/*
 * tb_act_settle_lots - decide what becomes of several lots, in one journal row.
 *   fails   TB_EEXISTS a lot named twice; as tb_act_settle, naming the lot
 *   memory  all in mem
 */
tb_rc tb_act_settle_lots(struct tb_settle_lots_outcome *out, const struct tb_actor *actor,
                         const struct tb_settle_lots_request *request, struct tb_arena *mem,
                         struct tb_err *err);

/* Single bolts of a lot: it may be released in part. */
struct tb_settle_bolts_request {
    const char *lot;         /* reference; NULL: the one lot that has a bolt of the first number */
    const char *const *bolt; /* numbers, each once */
    size_t bolts;
    enum tb_standing_kind as; /* held, released or returned */
    const char *why;          /* not empty */
    const char *settled_at;   /* NULL: now */
    bool anyway;              /* although something was decided of the lot after settled_at */
};
struct tb_settle_bolts_outcome {
    struct tb_lot lot; /* as it is after */
    enum tb_standing_kind as;
    const char *why, *dispute_opened;
    struct tb_concluded concluded; /* of the lot */
    enum tb_handling handling;     /* as above */
    const char **bolt;             /* their numbers, as the book has them */
    size_t bolts;
    struct tb_bolt_use *cut; /* as above */
    size_t cuts;
    bool whole; /* all bolts of the lot stand so now, and that was recorded of the lot */
};
/*
 * tb_act_settle_bolts - decide what becomes of single bolts of a lot. A later decision about the whole lot, or a hold, is of
 * all but those that were returned: they are not there until the lot is waiting again.
 *   fails   TB_ENOTFOUND no such lot or bolt; TB_EINVAL no bolt, one named twice, no reason, another standing; TB_EREFUSED the lot or
 *           the bolt was returned
 *   memory  all in mem
 */
tb_rc tb_act_settle_bolts(struct tb_settle_bolts_outcome *out, const struct tb_actor *actor,
                          const struct tb_settle_bolts_request *request, struct tb_arena *mem,
                          struct tb_err *err);

/* ---- use ----------------------------------------------------------------------------------------------- */

struct tb_use_request {
    const char *const *bolt; /* numbers of them, each once */
    size_t bolts;
    const char *lot;     /* reference; NULL: the one lot that has a bolt of the first number */
    bool back;           /* take the last record of each back */
    double metres;       /* cut off; NAN: the whole bolt, or not said */
    bool anyway;         /* although the lot is held, returned or in dispute */
    const char *why;     /* a reason; needed with anyway */
    const char *used_at; /* NULL: now */
};
enum tb_use_warning {
    TB_USE_FINE,
    TB_USE_ANYWAY,     /* something stands against it, and it is cut all the same */
    TB_USE_UNRELEASED, /* nobody released the lot yet; `concluded` says what is known of it */
    TB_USE_ENDS_TERM,  /* a term with this supplier ends with the first cut */
};
struct tb_use_outcome {
    struct tb_lot lot;
    enum tb_use_warning warning;
    struct tb_concluded concluded; /* of the lot */
    struct tb_bolt_use
        *before; /* of these bolts: what was recorded of the whole bolt already; with `back`, what stays */
    size_t befores;
};
/*
 * tb_act_use - record that bolts are cut into. With the first cut the right to claim usually ends.
 *   fails   TB_ENOTFOUND no such lot or bolt, or a record to take back; TB_EINVAL a bolt named twice, more metres than
 *           the bolt has left, metres of what is taken back, no reason for `anyway`; TB_EREFUSED held, returned, in dispute,
 *           or not released and what is known speaks against it, without `anyway`
 */
tb_rc tb_act_use(struct tb_use_outcome *out, const struct tb_actor *actor,
                 const struct tb_use_request *request, struct tb_arena *mem, struct tb_err *err);

#endif
