/*
 * work.h - the bench: what was recorded in the book, weighed by the evidence engine, and what follows.
 *
 * The one place where the book and the evidence meet. Command line, pages and reports all judge a lot here, so
 * that one lot has one verdict.
 */
#ifndef TENTERBOOK_WORK_H
#define TENTERBOOK_WORK_H

#include "tenterbook/book.h"
#include "tenterbook/evidence.h"

/* Whether the site has recorded that flame work is permitted at this bench (setting `flame`). */
tb_rc tb_bench_flame_permitted(bool *out, struct tb_book *b, int64_t upto, struct tb_err *err);

struct tb_caution {
    const char *say, *source; /* static */
};
/*
 * tb_bench_cautions - the published cautions that fit what is declared: those for every burn, and those for the
 * gases and drips of its fibres and finishes. A composition that could not be read gets all of them: assume the worst.
 * Cloth that must not be burned gets only what says so.
 *   test   "burn", or a bench test's channel key: "acetone"
 *   out    an array in mem
 */
void tb_bench_cautions(const struct tb_caution **out, size_t *n, const struct tb_declaration *d,
                       const char *test, struct tb_arena *mem);

/*
 * tb_lot_words - the words in force of a lot, and what may be done to cloth of which all that was said was said: what any of its
 * declarations names, or a laboratory found, that must not be burned or cut stays so, whatever is declared later.
 *
 *   out    as tb_declaration_read, tb_declaration_also and tb_words_found leave it; free with tb_declaration_free, also after a failure
 *   lot    as the book has it: its id and the words in force count
 *   fails  as any reading of the book
 */
tb_rc tb_lot_words(struct tb_declaration *out, struct tb_book *b, const struct tb_lot *lot,
                   struct tb_err *err);

struct tb_analysis;
/* tb_words_found - note what n analyses that count found in the cloth: see tb_declaration_found. */
void tb_words_found(struct tb_declaration *d, const struct tb_analysis *a, size_t n);

/* What is known of the cloth of a lot beside its words; text is borrowed. */
struct tb_cloth_known {
    const char *detail; /* of the last verdict, as the book has it; NULL, "" or "{}": it says nothing */
    const struct tb_burn *
        burn; /* burns of the lot that count; tb_known_handling looks at them only where there is an analysis */
    size_t burns;
    const struct tb_analysis *analysis; /* analyses of the lot that count */
    size_t analyses;
};
/*
 * tb_known_handling - what may be done to cloth at a bench, by all that is known of it: the strictest that its words ask for, that
 * an analysis found to be in it, and that a verdict stopped because the cloth neither burned nor melted. Analyses that name the
 * fibres, none of which asks for a licensed laboratory, lift that last, where they were made and recorded after the burns that show
 * it. Every page and every act asks this one.
 *
 *   d       all that was declared, by tb_declaration_read and tb_declaration_also; what was found is noted in it
 *   fails   TB_EFORMAT the stored verdict is damaged; TB_EINVAL a burn has a cue that this program does not know; what words
 *           and analyses ask for is in out all the same
 */
tb_rc tb_known_handling(enum tb_handling *out, struct tb_declaration *d, const struct tb_cloth_known *k,
                        struct tb_err *err);

/* tb_lot_handling - the same of a lot of the book. Fails as any reading of the book, and as tb_known_handling. */
tb_rc tb_lot_handling(enum tb_handling *out, struct tb_book *b, const struct tb_lot *lot, struct tb_err *err);
/*
 * tb_known_unburnable - did a burn show that the cloth neither burns nor melts, as asbestos does not either, and no analysis named
 * its fibres since? Where that fits what is declared, as of glass, nothing is stopped, and everybody who handles it is warned.
 *   fails   TB_EINVAL a burn has a cue that this program does not know
 */
tb_rc tb_known_unburnable(bool *out, const struct tb_cloth_known *k, struct tb_err *err);
/* tb_lot_unburnable - the same of a lot of the book. Fails as any reading of the book, and as tb_known_unburnable. */
tb_rc tb_lot_unburnable(bool *out, struct tb_book *b, const struct tb_lot *lot, struct tb_err *err);

/*
 * tb_bench_handling_check - may cloth declared so be handled here?
 *
 *   known   words of known cloth; "" or NULL: those of the lot count
 *   lot     reference of the lot; not asked where known says the words
 *   most    the strictest handling that still allows it: TB_HANDLING_ANY for a burn, TB_HANDLING_FLAMELESS for a cut
 *   at      when it was done, where it was done already: what happened is recorded, whatever ought to have been; NULL: now
 *   fails   TB_EREFUSED, with the way out; as tb_lot_find
 */
tb_rc tb_bench_handling_check(struct tb_book *b, const char *known, const char *lot, enum tb_handling most,
                              const char *at, struct tb_err *err);

/* The model in force at this site: settings of the book, burns of known cloth added. Free with tb_evidence_free. */
tb_rc tb_bench_model(struct tb_evidence **out, struct tb_book *b, struct tb_err *err);
/* The same as it was after a journal row: what was recorded later is left out, and the base rate is not said. */
tb_rc tb_bench_model_upto(struct tb_evidence **out, struct tb_book *b, int64_t upto, struct tb_err *err);
struct tb_stored_verdict;
/*
 * The model of a verdict that was told by somebody else, from a book that holds its lot only: what comes from other lots and
 * from drills, the bounds, the chance of a mistake at the bench and the base rate, is taken as told. Its digest holds the
 * first two, so that a verdict told with others is found out. The settings and the known cloth are those after journal row `upto`.
 */
tb_rc tb_bench_model_told(struct tb_evidence **out, struct tb_book *b, const struct tb_stored_verdict *told,
                          int64_t upto, struct tb_err *err);

/* The share of labels that were wrong in published inspections: where a site knows nothing of its own. */
double tb_base_rate_published(void);

/*
 * tb_base_rate_read - the share of lots that are not as declared: the setting base_rate where it is set; else the mean that
 * the lots judged at this site have, once there are enough (tb_record_prior); else that of published inspections. Of now:
 * no ratio rests on it.
 */
tb_rc tb_base_rate_read(double *rate, enum tb_base_from *from, struct tb_book *b, struct tb_arena *mem,
                        struct tb_err *err);

/* What the burns of one bolt say when that bolt is judged alone. */
struct tb_bolt_verdict {
    char *number; /* of the bolt */
    enum tb_verdict_kind kind;
    enum tb_grade grade;
    double log_ratio;           /* without bounds; NAN: not judged */
    struct tb_bounds bounds;    /* of burns with as many looks */
    size_t observations, burns; /* those with a flame among them */
    struct tb_likely *likely;   /* what it is likeliest to be, of each part the first */
    size_t n_likely;
    bool at_odds; /* as struct tb_verdict has it */
};

struct tb_lot_verdict {
    struct tb_declaration declaration;
    struct tb_verdict verdict;
    size_t observations;          /* of the lot */
    size_t burns;                 /* with a flame, of what the verdict rests on */
    struct tb_bolt_verdict *bolt; /* every bolt burnt or tested, by the order of its first swatch */
    size_t bolts;
};
/* What the book holds of one lot's burns: read by the thread that has the book, weighed by any. */
struct tb_lot_burns {
    const char *ref;            /* of the lot */
    const char *declared;       /* the words in force */
    struct tb_observation *obs; /* n */
    const char **bolt;          /* number of the bolt of each; "" where there is none */
    size_t n;
    const char *delivery; /* id of that of the lot; NULL: none */
    const char **said;    /* all that was ever declared of it, `says` texts; see tb_declaration_also */
    size_t says;
    const struct tb_analysis *analysis; /* analyses that count; none where the book is read as it was */
    size_t analyses;
};
/*
 * tb_bench_weigh - the verdict on a lot. Each burnt bolt is judged alone and all of them together as one cloth.
 * Where they contradict together, that is the verdict; where a single bolt contradicts, the verdict is that
 * bolt's, since the lot holds cloth that is not what is declared, and a note names it; where all would fit, and of a single
 * bolt something speaks against the declaration or is at odds, likewise; else the verdict is of all together. Touches no book: threads may weigh lots side by side. `recall` keeps what other lots weighed; it may be NULL.
 * Free with tb_lot_verdict_free.
 */
tb_rc tb_bench_weigh(struct tb_lot_verdict *out, const struct tb_lot_burns *burns,
                     const struct tb_evidence *ev, struct tb_recall *recall, unsigned want,
                     struct tb_err *err);
/*
 * Read and weigh in one. Nothing is written. The model must be of the same journal row, for a verdict to come out
 * as it did then.
 */
tb_rc tb_bench_judge(struct tb_lot_verdict *out, struct tb_book *b, const struct tb_lot *lot,
                     const struct tb_evidence *ev, unsigned want, int64_t upto, struct tb_err *err);
void tb_lot_verdict_free(struct tb_lot_verdict *v);
/* The verdict's object with each bolt (`by_bolt`) and the coverage. A new reference, yours to json_decref. */
json_t *tb_lot_verdict_json(const struct tb_lot_verdict *v, const struct tb_lot *lot);

/*
 * tb_bench_coverage - how much of a lot was looked at, beside every verdict on it: "3 of 40 bolts burnt", "3 of 40 bolts
 * tested without a flame", "5 of 40 bolts tested, 3 of them burnt".
 *   burnt, tested  bolts; tested counts those burnt too
 */
void tb_bench_coverage(struct tb_text *out, enum tb_tongue to, int64_t burnt, int64_t tested, int64_t bolts);

#endif
