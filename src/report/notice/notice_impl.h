/* notice_impl.h - a notice as a list of blocks, drawn on pages and written as text and mail from the same words. Internal. */
#ifndef TENTERBOOK_REPORT_NOTICE_IMPL_H
#define TENTERBOOK_REPORT_NOTICE_IMPL_H

#include "base/say.h"
#include "tenterbook/analysis.h"
#include "tenterbook/evidence.h"
#include "tenterbook/lot_story.h"
#include "tenterbook/notice.h"
#include "tenterbook/tongue.h"

/* Everything of the lot that a notice draws on; text and lists are in the notice's arena. */
struct notice_facts {
    const struct tb_notice_plan *plan;
    const struct tb_site *site;
    struct tb_address from, to;
    enum tb_tongue tongue;
    struct tb_lot_story of;
    struct tb_delivery delivery;
    struct tb_analysis *analysis;
    size_t analyses;
    const struct tb_dispute *dispute; /* open; NULL none is */
    const char *told;                 /* day of the notice before this one; NULL: there is none */
    const char *answer_by; /* day an answer is asked by, or what is late is to be done; NULL: none */
    bool late;             /* what was agreed was to be done before the day of this letter, and is not */
    bool can_share;        /* swatches for a joint sample are kept here, and the goods are not sent back */
};

enum notice_kind {
    NOTICE_SENDER,  /* lines; the first is a name */
    NOTICE_ADDRESS, /* lines */
    NOTICE_TITLE,
    NOTICE_PAIR,
    NOTICE_HEADING,
    NOTICE_TEXT,
    NOTICE_QUOTE,
    NOTICE_ITEM,
    NOTICE_GREETING,
    NOTICE_SIGN, /* label: what closes the letter; text: whose signature it is */
    NOTICE_SMALL
};

struct notice_block {
    enum notice_kind kind;
    const char *label; /* of NOTICE_PAIR and NOTICE_SIGN */
    const char *text;
};

/* What was seen, burns alike in one sentence: with the bolts burnt, what is cut short when the page is full. */
struct notice_item {
    const char *text;
    size_t records; /* burns, tests or analyses in it */
};

struct tb_notice {
    struct tb_arena mem;
    enum tb_tongue tongue;
    struct tb_notice_lacks lacks;
    struct tb_lot_claim now;
    const char *day, *state, *anchor; /* state: journal row and digest */
    const char *digest;               /* of that row */
    const char *subject;
    const char *from_name, *from_mail, *to_name, *to_mail;
    struct notice_block *head, *tail; /* before and after what was seen */
    size_t heads, head_cap, tails, tail_cap;
    struct notice_item *seen;
    size_t seens, seen_cap;
    const char **bolt; /* "001 (50.00 m)" */
    size_t bolts, bolt_cap;
    long long bolts_all;            /* of the lot */
    double seen_of, all_of;         /* length of the bolts burnt or tested, and of the lot, in ... */
    const char *counted_in;         /* ... "m"; or "kg", where no length is known */
    size_t seen_shown, bolts_shown; /* as many as fit on the page */
};

/* Read the lot, and refuse a notice that would not count (see tb_notice_make). */
tb_rc tb_notice_read(struct notice_facts *f, struct tb_book *b, const struct tb_notice_plan *plan,
                     struct tb_arena *mem, struct tb_err *err);
/* The day from which lateness is counted, whatever day stands on the letter. */
const char *tb_notice_today(const struct tb_notice_plan *plan);
/* The supplier's own words: what was put on a label here is not theirs. "": nothing was declared. */
const char *tb_notice_their_words(const struct notice_facts *f);

/* The parts of a notice, each added to it, in this order: from, to, day, subject; which goods, and what was declared ... */
void tb_notice_letterhead(struct tb_notice *n, const struct notice_facts *f);
void tb_notice_goods(struct tb_notice *n, const struct notice_facts *f);
/* ... what was found, and how sure that is; each record ... */
void tb_notice_concluded(struct tb_notice *n, const struct notice_facts *f);
void tb_notice_seen(struct tb_notice *n, const struct notice_facts *f);
/* ... how the goods stand, what they are worth, what is asked, rights. */
void tb_notice_asked(struct tb_notice *n, const struct notice_facts *f);

/* A block before what was seen, and after it. */
void tb_notice_before(struct tb_notice *n, enum notice_kind kind, const char *label, const char *text);
void tb_notice_after(struct tb_notice *n, enum notice_kind kind, const char *label, const char *text);

/* Text in the notice's arena. */
const char *tb_notice_put(struct tb_notice *n, const char *fmt, ...) TB_PRINTF(2, 3);
/* The same of a text that is given up. */
const char *tb_notice_take(struct tb_notice *n, struct tb_text *t);
/* Two sentences, one behind the other. */
const char *tb_notice_two(struct tb_notice *n, const char *first, const char *second);
/* A figure, a day, a length of a lot or a bolt in the language of the notice. */
const char *tb_notice_figure(struct tb_notice *n, double value, int places);
const char *tb_notice_day(struct tb_notice *n, const char *day);
const char *tb_notice_length(struct tb_notice *n, const struct tb_lot *lot);
const char *tb_notice_bolt_length(struct tb_notice *n, const struct tb_bolt *bolt);

/* Called for every block in order. */
typedef void notice_fn(void *arg, const struct notice_block *block);
void tb_notice_walk(const struct tb_notice *n, notice_fn *fn, void *arg);

/* How many bolts are held back, released and sent back, where they do not stand alike: a sentence; NULL: they do. */
const char *tb_notice_in_parts(struct tb_notice *n, const struct tb_lot *l);

#endif
