/* case_impl.h - what the files of the case share: everything about the lot, read from the book built of its data. */
#ifndef TENTERBOOK_REPORT_CASE_IMPL_H
#define TENTERBOOK_REPORT_CASE_IMPL_H

#include "base/say.h"
#include "tenterbook/analysis.h"
#include "tenterbook/book.h"
#include "tenterbook/case.h"
#include "tenterbook/lot_claim.h"

#define TB_CASE_FORM 1 /* of the data; a reader refuses a later one */

struct story {
    struct tb_arena mem;
    struct tb_book *book; /* in memory */
    const json_t *data;
    char sha256[65]; /* of the data as attached */
    struct tb_lot lot;
    struct tb_delivery delivery;
    struct tb_declared *declared;
    struct tb_bolt *bolt;
    struct tb_swatch *swatch;
    struct tb_burn *burn;
    struct tb_bench_test *test;
    struct tb_analysis *analysis;
    struct tb_judged *judged;
    struct tb_standing *standing;
    struct tb_bolt_use *use;
    struct tb_joint_sample *joint;
    struct tb_attachment *photo; /* with their bytes */
    size_t declareds, bolts, swatches, burns, tests, analyses, judgeds, standings, uses, joints, photos;
    json_t *verdict; /* with all it rests on; JSON null: not judged */
};

/* The data as the text that is attached; yours to free. */
char *tb_case_text(const json_t *data);
tb_rc tb_story_open(struct story *s, const json_t *data, struct tb_err *err);
void tb_story_close(struct story *s);

const char *tb_story_text(const struct story *s, const char *key); /* of the data; "" */
double tb_story_figure(const json_t *o, const char *key); /* a number of an object; NAN where there is none */
/* Metres of the bolts that were burnt. */
double tb_story_metres_burnt(const struct story *s);
/* "260 times likelier if the declaration is true": a log ratio in plain words. */
void tb_story_ratio(struct tb_text *out, double log_ratio);
/* The evidence ratio as a figure, without exponents: "0.006738", "1/407000", "below 1/1000000". */
#define TB_STORY_ODDS 32
void tb_story_odds(char out[TB_STORY_ODDS], double log_ratio, int figures);

/* What happened to the goods and the swatches, by time: chain of custody. */
struct event {
    const char *at, *what, *who, *tag;
    size_t place; /* among those of the same moment: what comes first comes first */
};
void tb_story_events(struct event **out, size_t *n, struct story *s);

#endif
