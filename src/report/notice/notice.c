/* notice.c - a notice put together from the book, and its blocks in order. */
#include "report/notice/notice_impl.h"

#include "tenterbook/anchor.h"

#include <stdlib.h>

/* Which state of the book it speaks of is noted at the foot: a notice can be held against the journal later. */
static tb_rc make(struct tb_notice *n, struct tb_book *b, const struct tb_notice_plan *plan,
                  struct tb_err *err)
{
    struct notice_facts f = { 0 };
    struct tb_anchor a;
    struct tb_text line = { 0 };
    tb_rc rc = tb_notice_read(&f, b, plan, &n->mem, err);

    if (rc != TB_OK || (rc = tb_anchor_of_look(&a, b, err)) != TB_OK)
        return rc;
    n->tongue = f.tongue;
    n->now.lot = f.of.lot;
    n->now.claim = f.of.claim;
    tb_claim_open_of(&n->now.open, &n->now.claim, &n->now.lot, tb_notice_today(plan));
    n->day = tb_arena_strdup(&n->mem, plan->day);
    n->now.open.concluded = f.of.concluded;
    n->digest = tb_arena_strdup(&n->mem, a.digest);
    /* TRANSLATORS: at the foot: which state of the records the letter speaks of */
    n->state =
        tb_notice_put(n, tb_tr(n->tongue, "journal row %lld, %.16s..."), (long long)a.number, a.digest);
    tb_anchor_line(&line, &a);
    n->anchor = tb_notice_take(n, &line);
    tb_notice_letterhead(n, &f);
    tb_notice_goods(n, &f);
    tb_notice_seen(n, &f);
    tb_notice_concluded(n, &f);
    tb_notice_asked(n, &f);
    return TB_OK;
}

tb_rc tb_notice_make(struct tb_notice **out, struct tb_book *b, const struct tb_notice_plan *plan,
                     struct tb_err *err)
{
    struct tb_notice *n = tb_new(struct tb_notice);
    tb_rc rc = tb_book_vouch(b, err);

    if (rc == TB_OK && (rc = tb_book_look(b, err)) == TB_OK) {
        rc = make(n, b, plan, err);
        tb_book_look_away(b);
    }
    if (rc != TB_OK) {
        tb_notice_free(n);
        return rc;
    }
    *out = n;
    return TB_OK;
}

void tb_notice_free(struct tb_notice *n)
{
    if (!n)
        return;
    free(n->head);
    free(n->tail);
    free(n->seen);
    free(n->bolt);
    tb_arena_free(&n->mem);
    free(n);
}

const char *tb_notice_lot(const struct tb_notice *n)
{
    return n->now.lot.ref;
}

const char *tb_notice_supplier(const struct tb_notice *n)
{
    return n->now.lot.supplier_name;
}

const struct tb_lot_claim *tb_notice_now(const struct tb_notice *n)
{
    return &n->now;
}

const char *tb_notice_language(const struct tb_notice *n)
{
    return tb_word(&tb_tongue_words, (int)n->tongue);
}

struct tb_notice_lacks tb_notice_lacks(const struct tb_notice *n)
{
    return n->lacks;
}

/* How much was burnt, and as many of the bolts by name as the page has room for. */
static void say_counts(struct tb_text *out, const struct tb_notice *n)
{
    struct tb_text list = { 0 }, seen = { 0 }, all = { 0 };

    if (!n->bolts) {
        tb_text_add(out, tb_tr(n->tongue, "No swatch was burnt or tested here."));
        return;
    }
    tb_tongue_figure(&seen, n->tongue, n->seen_of, 2);
    tb_tongue_figure(&all, n->tongue, n->all_of, 2);
    for (size_t i = 0; i < n->bolts_shown; i++)
        tb_text_addf(&list, "%s%s", i ? tb_tr(n->tongue, ", ") : "", n->bolt[i]);
    if (n->bolts_shown < n->bolts)
        tb_text_addf(out,
                     tb_tr(n->tongue, "Swatches of %zu of %lld bolts, %s of %s %s, were burnt or tested: "
                                      "%s and %zu more, each in the case file."),
                     n->bolts, n->bolts_all, seen.s, all.s, n->counted_in, tb_text_str(&list),
                     n->bolts - n->bolts_shown);
    else
        tb_text_addf(out,
                     tb_trn(n->tongue, "Swatches of %zu of %lld bolt, %s of %s %s, were burnt or tested: %s.",
                            "Swatches of %zu of %lld bolts, %s of %s %s, were burnt or tested: %s.",
                            (unsigned long)n->bolts_all),
                     n->bolts, n->bolts_all, seen.s, all.s, n->counted_in, tb_text_str(&list));
    tb_text_free(&list);
    tb_text_free(&seen);
    tb_text_free(&all);
}

/* What is left out for want of room is counted, in records, and where to find it is said. */
static void walk_seen(const struct tb_notice *n, notice_fn *fn, void *arg)
{
    struct tb_text t = { 0 };
    size_t left = 0;

    say_counts(&t, n);
    fn(arg, &(struct notice_block){ NOTICE_TEXT, NULL, t.s });
    for (size_t i = 0; i < n->seen_shown; i++)
        fn(arg, &(struct notice_block){ NOTICE_ITEM, NULL, n->seen[i].text });
    for (size_t i = n->seen_shown; i < n->seens; i++)
        left += n->seen[i].records;
    if (left) {
        tb_text_clear(&t);
        tb_text_addf(&t,
                     tb_trn(n->tongue, "and %zu record more, in the case file.",
                            "and %zu records more, each in the case file.", left),
                     left);
        fn(arg, &(struct notice_block){ NOTICE_ITEM, NULL, t.s });
    }
    tb_text_free(&t);
}

/* The one order of the blocks: page and text cannot differ. */
void tb_notice_walk(const struct tb_notice *n, notice_fn *fn, void *arg)
{
    for (size_t i = 0; i < n->heads; i++)
        fn(arg, &n->head[i]);
    walk_seen(n, fn, arg);
    for (size_t i = 0; i < n->tails; i++)
        fn(arg, &n->tail[i]);
}
