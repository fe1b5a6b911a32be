/* notice_impl.h - a notice as a list of blocks, drawn on a page and written as text from the same words. */
#ifndef TENTERBOOK_REPORT_NOTICE_IMPL_H
#define TENTERBOOK_REPORT_NOTICE_IMPL_H

#include "base/say.h"
#include "tenterbook/notice.h"

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
    const char *lot, *day, *supplier, *state; /* state: journal row and digest */
    struct notice_block *head, *tail;         /* before and after what was seen */
    size_t heads, head_cap, tails, tail_cap;
    struct notice_item *seen;
    size_t seens, seen_cap;
    const char **bolt; /* "001 (50.00 m)" */
    size_t bolts, bolt_cap;
    const char *counted; /* "2 of 3 bolts ... were burnt" */
    const char *concluded;
    size_t seen_shown, bolts_shown; /* as many as fit on the page */
};

/* Called for every block in order. */
typedef void notice_fn(void *arg, const struct notice_block *block);
void tb_notice_walk(const struct tb_notice *n, notice_fn *fn, void *arg);

#endif
