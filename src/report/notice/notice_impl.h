/* notice_impl.h - a notice as a list of blocks, drawn on a page and written as text from the same words. Internal. */
#ifndef TENTERBOOK_REPORT_NOTICE_IMPL_H
#define TENTERBOOK_REPORT_NOTICE_IMPL_H

#include "base/say.h"
#include "tenterbook/analysis.h"
#include "tenterbook/evidence.h"
#include "tenterbook/lot_story.h"
#include "tenterbook/notice.h"

/* Everything of the lot that a notice draws on; text and lists are in the notice's arena. */
struct notice_facts {
    struct tb_lot_story of;
    struct tb_delivery delivery;
    struct tb_analysis *analysis;
    size_t analyses;
    size_t alone_against; /* bolts that contradict when judged alone */
};

enum notice_kind {
    NOTICE_TITLE,
    NOTICE_PAIR,
    NOTICE_HEADING,
    NOTICE_TEXT,
    NOTICE_QUOTE,
    NOTICE_ITEM,
    NOTICE_SMALL
};

struct notice_block {
    enum notice_kind kind;
    const char *label; /* NOTICE_PAIR */
    const char *text;
};

/* What was seen, burns alike in one sentence: with the bolts burnt, what is cut short when the page is full. */
struct notice_item {
    const char *text;
    size_t records; /* burns, tests or analyses in it */
};

struct tb_notice {
    struct tb_arena mem;
    const char *lot, *day, *supplier, *state, *anchor; /* state: journal row and digest */
    struct notice_block *head, *tail;                  /* before and after what was seen */
    size_t heads, head_cap, tails, tail_cap;
    struct notice_item *seen;
    size_t seens, seen_cap;
    const char **bolt; /* "001 (50.00 m)" */
    size_t bolts, bolt_cap;
    long long bolts_all;        /* of the lot */
    size_t unburnt;             /* of the bolts: tested without a flame only */
    int64_t unknown;            /* bolts of the lot whose length is not known: counted in kilograms */
    double metres_seen, metres; /* of the bolts burnt or tested, of the lot */
    const char *concluded;
    size_t seen_shown, bolts_shown; /* as many as fit on the page */
};

/* Read the lot, and refuse a notice that would not count (see tb_notice_make). */
tb_rc tb_notice_read(struct notice_facts *f, struct tb_book *b, const struct tb_notice_plan *plan,
                     struct tb_arena *mem, struct tb_err *err);
/* The supplier's own words: what was put on a label here is not theirs. "": nothing was declared. */
const char *tb_notice_their_words(const struct notice_facts *f);

/* The parts of a notice, each added to it: the goods; what was seen of them; how they stand now and what is asked. */
void tb_notice_goods(struct tb_notice *n, const struct notice_facts *f, const struct tb_notice_plan *plan,
                     const struct tb_site *site);
void tb_notice_seen(struct tb_notice *n, const struct notice_facts *f);
void tb_notice_asked(struct tb_notice *n, const struct notice_facts *f, const struct tb_notice_plan *plan);

/* Text in the notice's arena. */
const char *tb_notice_put(struct tb_notice *n, const char *fmt, ...) TB_PRINTF(2, 3);

/* Called for every block in order. */
typedef void notice_fn(void *arg, const struct notice_block *block);
void tb_notice_walk(const struct tb_notice *n, notice_fn *fn, void *arg);

#endif
