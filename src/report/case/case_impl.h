/* case_impl.h - what the files of the case share: everything about the lot, read from the book built of its data. */
#ifndef TENTERBOOK_REPORT_CASE_IMPL_H
#define TENTERBOOK_REPORT_CASE_IMPL_H

#include "base/say.h"
#include "report/case/conformity.h"
#include "tenterbook/act_bench.h"
#include "tenterbook/act_draw.h"
#include "tenterbook/analysis.h"
#include "tenterbook/anchor.h"
#include "tenterbook/book.h"
#include "tenterbook/case.h"
#include "tenterbook/lot_story.h"
#include "tenterbook/stored_verdict.h"
#include "tenterbook/tongue.h"

/* Of the data, and of the extract in them; a reader refuses a later one. */
#define TB_CASE_FORM TB_EXTRACT_FORM_DISPUTES
/* The same with a language of the pages, where that is not English; and that without the dispute. */
#define TB_CASE_FORM_LANGUAGE (TB_CASE_FORM + 1)
#define TB_CASE_FORM_LANGUAGE_WITHOUT (TB_CASE_FORM + 2)

struct story {
    struct tb_arena mem;
    struct tb_book *book; /* in memory */
    const json_t *data;
    json_int_t form;       /* of the data */
    enum tb_tongue tongue; /* of the pages */
    char sha256[65];       /* of the data as attached */
    /* what the data say besides the records; "" where nothing is said */
    const char *made, *by, *program, *drawn_with, *asked, *answer_by;
    int64_t last_row;        /* of the journal; 0: there is no row */
    const char *last_digest; /* of that row */
    bool judged_now;         /* there is a verdict with all it rests on */
    struct tb_stored_verdict verdict;
    /* the one that was recorded last, which the pages tell: the same where that is it, else as it was kept */
    struct tb_stored_verdict recorded;
    struct tb_catch caught; /* the chance that a draw from this lot counts on, by that verdict */
    struct tb_lot_story of; /* without a claim, which is the buyer's own */
    struct tb_lot_said
        said; /* what the supplier said, whatever a label said later, and the verdict on that */
    struct tb_delivery delivery;
    struct tb_laboratory laboratory; /* of the analyses below */
    struct tb_swatch *swatch;
    struct tb_analysis *analysis;
    struct conformity *conform; /* of each analysis */
    struct tb_dispute *dispute;
    struct tb_bolt_use *use;
    struct tb_attachment *photo;     /* with their bytes */
    struct tb_move_here *move;       /* burns and tests that were recorded of another swatch first */
    struct tb_circumstances written; /* of the journal rows the data hold in full */
    struct tb_stamped *stamp;        /* time stamps, as the data tell them */
    size_t swatches, analyses, disputes, uses, photos, stamps, moves;
};

/*
 * tb_story_open - read the data of a case into fields.
 *   fails   TB_EFORMAT: no case, one of a later form, or damaged; the sentence says where
 *   memory  end it with tb_story_close; data is borrowed until then
 */
tb_rc tb_story_open(struct story *s, const json_t *data, struct tb_err *err);
/* The verdict that is told: the last one that counts on the words of the supplier; NULL: there is none. */
const struct tb_judged *tb_story_judged(const struct story *s);
void tb_story_close(struct story *s);

/* tb_case_read - the bytes of a case file; refused where there are more than any case has. */
tb_rc tb_case_read(struct tb_text *out, const char *path, struct tb_err *err);
/* tb_case_attached - the data attached to it; a new reference. Refused likewise. */
tb_rc tb_case_attached(json_t **out, const struct tb_text *pdf, struct tb_err *err);

/* tb_case_fits_a_file - TB_EREFUSED where the data, as text, are more than tb_case_attached reads. */
tb_rc tb_case_fits_a_file(const char *text, struct tb_err *err);

/* What the verdict of a case holds beside the word and the ratio. */
#define TB_CASE_WANTS TB_WANT_ALL
/* One more sentence of what does not agree, on a line of its own. */
void tb_case_line(struct tb_text *t, const char *fmt, ...) TB_PRINTF(2, 3);
/* tb_case_judge_again - judge the lot from the records of the file; adds to out->wrong or out->notes. */
tb_rc tb_case_judge_again(struct tb_case_proof *out, const struct story *s, struct tb_err *err);

/*
 * tb_case_resaved - a file that is not byte for byte as its data give it: saved anew, or changed; told in out.
 *   again  as the data give it, drawn now
 */
void tb_case_resaved(struct tb_case_proof *out, const struct tb_text *pdf, const struct tb_text *again);

/* The data as the text that is attached; yours to free. */
char *tb_case_text(const json_t *data);

/* The anchor of the book in the state the case was made from, as one line; nothing where the journal has no row. */
void tb_story_anchor(struct tb_text *out, const struct story *s);

/* A time stamp in words: what it covers, whose it is, the moment it shows. */
void tb_story_stamp(struct tb_text *out, enum tb_tongue to, const struct tb_stamped *s);

/* Metres of the bolts that were burnt or tested. */
double tb_story_metres_looked_at(const struct story *s);

/* An evidence ratio as a figure within its bounds, without exponents: "0.006738", "1/46 or less", "35 (limit not tested)"; "-": not judged. */
#define TB_STORY_ODDS 64
void tb_story_odds(char out[TB_STORY_ODDS], enum tb_tongue to, const struct tb_bounds *bounds,
                   double log_ratio, int figures);

/* How a cue was met: "seen", "expressly not there", "looked for, not seen". */
const char *tb_case_sight(enum tb_tongue to, const struct tb_stored_cue *cue);
/* What a cue means, in words, into out: "the smoke: black smoke". */
const char *tb_case_cue(struct tb_text *out, enum tb_tongue to, const char *key);
/* The cues of a burn: "smoke:black, !odour:burning_hair"; an exclamation mark says that it was not there. */
void tb_case_cue_words(struct tb_text *out, const struct tb_burn *b);

/* What happened to the goods and the swatches, by time: chain of custody. */
struct event {
    const char *at, *what, *who, *tag;
    size_t place; /* among those of the same moment: what comes first comes first */
};
void tb_story_events(struct event **out, size_t *n, enum tb_tongue to, struct story *s);

#endif
