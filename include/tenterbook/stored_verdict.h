/*
 * stored_verdict.h - a verdict as the book and the case files keep it, read back into fields.
 *
 * The object is what tb_lot_verdict_json writes; docs/method.md says what its figures mean. Cues and fibres are kept by
 * the names they had then, which a later model may no longer know.
 */
#ifndef TENTERBOOK_STORED_VERDICT_H
#define TENTERBOOK_STORED_VERDICT_H

#include "tenterbook/bench.h"
#include "tenterbook/evidence.h"

#include <stdint.h>

struct tb_stored_share {
    const char *fibre; /* key */
    double percent;    /* NAN: not said */
};

struct tb_stored_likely {
    enum tb_part_kind part;
    struct tb_stored_share *fibre;
    size_t n;
    double probability; /* 0..1 */
};

struct tb_stored_present {
    enum tb_part_kind part;
    const char *fibre;  /* key */
    double probability; /* 0..1 */
};

struct tb_stored_twins {
    const char **fibre; /* keys; the declared one or the likely one first */
    size_t n;
};

struct tb_stored_cue {
    enum tb_part_kind part;
    const char *cue;     /* "smoke:black" */
    enum tb_sight sight; /* TB_SIGHT_NONE: looked for and not seen */
    double weight_db;    /* beside all else; NAN: not computed */
    double alone_db;     /* by itself; NAN: not computed, or stored before this was kept */
    bool memory;
    bool elsewhere; /* not seen in this burn or that, and seen in another */
};

struct tb_stored_next {
    enum tb_part_kind part;
    const char *test, *name, *effort, *caution; /* "" where it was not kept */
    double gain_bits, settles, cost, minutes;
    const char **hazard; /* keys */
    size_t hazards;
    size_t bolts; /* it is made on a swatch of each of so many; 0: of one */
    bool memory;
};

struct tb_stored_outcome {
    const char *result, *meaning; /* "acetone:stays"; in words */
    enum tb_verdict_kind kind;    /* the verdict with it ... */
    enum tb_grade grade;          /* ... and its grade */
    double log_ratio;             /* within its bounds; older programs: without */
};

struct tb_stored_power {
    enum tb_part_kind part;
    const char *instead;        /* "100 % polyester" */
    bool blind;                 /* burns like the declared one */
    double one, two, with_test; /* 0..1; NAN: not computed, no test */
    const char *test;           /* "": none */
    int64_t draws;
};

struct tb_stored_bolt {
    const char *number;
    enum tb_verdict_kind kind;       /* judged alone */
    enum tb_grade grade;             /* TB_UNGRADED: stored before there were grades */
    double log_ratio;                /* NAN: not judged */
    int64_t burns, observations;     /* observations: burns, and swatches only tested without a flame */
    struct tb_stored_likely *likely; /* of each part the first; older programs: none */
    size_t n_likely;
};

struct tb_stored_verdict {
    const char *lot;      /* reference; "" where it was not kept */
    const char *declared; /* the words that were judged; "" where they were not kept */
    enum tb_verdict_kind kind;
    enum tb_grade grade;       /* TB_UNGRADED: stored before there were grades */
    enum tb_handling handling; /* as struct tb_verdict has it */
    const char *reason;        /* why it could not be judged; "" when it was */
    double log_ratio;          /* natural logarithm of the evidence ratio; NAN: not judged */
    double log_declared, log_else;
    bool one_look, none_alone, few_tell, at_odds, outdone, imitated; /* as struct tb_verdict has them */
    const char *excused;                                             /* the same; "" for none */
    struct tb_bounds bounds; /* how far the ratio went; those of the published sources where none were kept */
    struct tb_bounds full_bounds; /* those of the model, which burns with many looks have */
    int64_t looks;                /* 0: not kept */
    int64_t settled_lots;         /* of the site, behind the bounds */
    double settled_cases;         /* that they count as; NAN: not kept */
    bool untested_finish;         /* no burns of such cloth stand behind the limits */
    double bench_error;           /* NAN: stored before it was kept, or not judged */
    struct tb_drilled drilled;
    double base_rate;                /* share of lots that are not as declared; 0: nobody said */
    enum tb_base_from base_from;     /* ... and where it came from */
    double not_as_declared;          /* what followed from it; NAN */
    int64_t burns, observations;     /* used; observations: burns, and swatches only tested without a flame */
    const char *rule;                /* in words; "" where it was not kept */
    const char *reference;           /* "sha256:..." of the figures it was made with; "" */
    struct tb_stored_likely *likely; /* those of one part together, the likeliest first */
    size_t n_likely;
    struct tb_stored_present *present;
    size_t n_present;
    struct tb_stored_twins *twins;
    size_t n_twins;
    struct tb_stored_cue *cue; /* by size of weight, largest first */
    size_t n_cue;
    struct tb_stored_next *next; /* falling gain */
    size_t n_next;
    struct tb_stored_next confirm; /* test "": not worked out, or none */
    const char *supposed;          /* what the outcomes are of, where nothing could be judged; "" else */
    struct tb_stored_outcome *outcome;
    size_t n_outcome;
    struct tb_stored_power *power;
    size_t n_power;
    const char **note;
    size_t n_note;
    struct tb_stored_bolt *bolt; /* every bolt burnt or tested */
    size_t n_bolt;
    int64_t bolts_burnt, bolts_tested, bolts; /* of the lot, when it was judged */
};

/*
 * tb_stored_verdict_read - the fields of a stored verdict.
 *
 *   out     zeroed on failure
 *   object  as tb_lot_verdict_json makes it; members that an older program did not write read as absent
 *   fails   TB_EFORMAT: a member of the wrong type, or a verdict or part there is no such word for
 *   memory  text and lists are in mem
 */
tb_rc tb_stored_verdict_read(struct tb_stored_verdict *out, const json_t *object, struct tb_arena *mem,
                             struct tb_err *err);
/*
 * tb_stored_verdict_parse - the same from the text in the book (tb_judged.detail).
 *   fails   as above, and TB_EFORMAT: no JSON; TB_ENOTFOUND (and no message): nothing was kept, "" or "{}"
 */
tb_rc tb_stored_verdict_parse(struct tb_stored_verdict *out, const char *text, struct tb_arena *mem,
                              struct tb_err *err);

/* A test as one clause in mem, "warp: look at the fibres under the microscope, on each of the 3 bolts". */
const char *tb_stored_next_clause(const struct tb_stored_next *n, struct tb_arena *mem);
/*
 * tb_lot_confirming - the test that would confirm the last verdict of a lot or lift it, as it was recorded: a clause in
 * mem, "warp: look at the fibres under the microscope"; "" where none was named, or a
 * laboratory has answered for the lot.
 *   fails   as tb_judged_latest and tb_stored_verdict_parse, but for TB_ENOTFOUND
 */
tb_rc tb_lot_confirming(const char **out, struct tb_book *b, const char *lot_id, struct tb_arena *mem,
                        struct tb_err *err);
/*
 * tb_stored_likeliest - what cloth without a declaration that can be judged is likeliest to be, added to out, each part by its
 * first: "polyester (82 in 100)", "warp: cotton (71 in 100); weft: wool (64 in 100)". Nothing where it was judged.
 */
void tb_stored_likeliest(struct tb_text *out, enum tb_tongue to, const struct tb_stored_verdict *v);
/* tb_stored_conclusion - what its sentences are made of; spared: the cloth must not be burned again. */
void tb_stored_conclusion(struct tb_conclusion *out, const struct tb_stored_verdict *v, bool spared);
/* tb_stored_meaning - what it means for lots like this one; not_as_declared NAN where it was not told. */
void tb_stored_meaning(struct tb_meaning *out, const struct tb_stored_verdict *v);

/* A recorded verdict as lists tell it: its word and its figure, the same as on the page of the lot. */
struct tb_told_verdict {
    enum tb_grade grade; /* of one that was stored before there were grades: that of its word */
    double log_ratio,
        ratio; /* log_ratio without bounds, ratio within them; NAN: not judged, ratio also: at odds */
    struct tb_bounds bounds; /* it was made with, and whether anything tested stands behind them */
    bool one_look, at_odds;  /* as struct tb_verdict has them */
};
/* What the book keeps of a verdict (tb_judged, tb_lot). */
struct tb_kept_verdict {
    enum tb_verdict_kind kind;
    double log_ratio;
    const char
        *grade; /* beside it, with what follows; NULL or "": it was not kept yet, and the details are read */
    double lowest, highest;
    bool one_look;
    bool untested;      /* no burns of such cloth stand behind its limits */
    const char *detail; /* read only where there is no grade; NULL none */
    bool at_odds;
};
/*
 * tb_told_verdict_read - of that.
 *   fails  as tb_stored_verdict_parse, but for TB_ENOTFOUND: without details the word is told, within the published bounds
 */
tb_rc tb_told_verdict_read(struct tb_told_verdict *out, const struct tb_kept_verdict *kept,
                           struct tb_err *err);
/* tb_judged_told - the same where a page has to come about: details that cannot be read any more are as if there were none. */
void tb_judged_told(struct tb_told_verdict *out, const struct tb_judged *v);
/* tb_lot_kept - what stands with a lot itself of its last verdict: all but the details. Borrowed from it. */
struct tb_kept_verdict tb_lot_kept(const struct tb_lot *lot);
/* tb_lot_told - of the last verdict of a lot; TB_UNGRADED: there is none. Fails as above and as tb_judged_latest. */
tb_rc tb_lot_told(struct tb_told_verdict *out, struct tb_book *b, const struct tb_lot *lot,
                  struct tb_err *err);
/* The grade of a verdict that may have none of its own: that of its word. */
enum tb_grade tb_grade_of(enum tb_grade grade, enum tb_verdict_kind kind);
/* "speaks against"; "": there is no verdict. Static text. */
const char *tb_grade_key(enum tb_grade grade);

/* tb_stored_verdict_against - how many of its bolts contradict when judged alone. */
size_t tb_stored_verdict_against(const struct tb_stored_verdict *v);

#endif
