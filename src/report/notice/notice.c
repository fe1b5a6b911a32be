/* notice.c - a notice put together from the book, and its blocks in order. */
#include "report/notice/notice_impl.h"

#include "tenterbook/anchor.h"

#include <stdlib.h>

/* Sentences live as long as the notice, and are freed with it. */
const char *tb_notice_put(struct tb_notice *n, const char *fmt, ...)
{
    struct tb_text t = { 0 };
    const char *s;
    va_list ap;

    va_start(ap, fmt);
    tb_text_vaddf(&t, fmt, ap);
    va_end(ap);
    s = tb_arena_strdup(&n->mem, tb_text_str(&t));
    tb_text_free(&t);
    return s;
}

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
    n->lot = f.of.lot.ref;
    n->supplier = f.of.lot.supplier_name;
    n->day = tb_arena_strdup(&n->mem, plan->day);
    n->state = tb_notice_put(n, _("journal row %lld, %.16s..."), (long long)a.number, a.digest);
    tb_anchor_line(&line, &a);
    n->anchor = tb_arena_strdup(&n->mem, tb_text_str(&line));
    tb_text_free(&line);
    tb_notice_goods(n, &f, plan, tb_book_site(b));
    tb_notice_seen(n, &f);
    tb_notice_asked(n, &f, plan);
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
    return n->lot;
}

/* How much was burnt, and as many of the bolts by name as the page has room for. */
static void say_counts(struct tb_text *out, const struct tb_notice *n)
{
    struct tb_text list = { 0 };

    if (!n->bolts) {
        tb_text_addf(out,
                     _n("No swatch was burnt or tested; the lot has %lld bolt, %.2f m.",
                        "No swatch was burnt or tested; the lot has %lld bolts, %.2f m.", n->bolts_all),
                     n->bolts_all, n->metres);
        if (n->unknown)
            tb_text_addf(
                out, _(" Bolts of unknown length, counted in kilograms and in none of these metres: %lld."),
                (long long)n->unknown);
        return;
    }
    for (size_t i = 0; i < n->bolts_shown; i++)
        tb_text_addf(&list, "%s%s", i ? ", " : "", n->bolt[i]);
    if (n->bolts_shown < n->bolts)
        tb_text_addf(
            out,
            n->unburnt ? _("Swatches of %zu of %lld bolts, %.2f of %.2f m, were burnt or tested: %s and %zu "
                           "more, each in the case file.")
                       : _("Swatches of %zu of %lld bolts, %.2f of %.2f m, were burnt: %s and %zu more, "
                           "each in the case file."),
            n->bolts, n->bolts_all, n->metres_seen, n->metres, tb_text_str(&list),
            n->bolts - n->bolts_shown); /* more than one: some are named and some are not */
    else
        tb_text_addf(out,
                     n->unburnt
                         ? _n("Swatches of %zu of %lld bolt, %.2f of %.2f m, were burnt or tested: %s.",
                              "Swatches of %zu of %lld bolts, %.2f of %.2f m, were burnt or tested: %s.",
                              n->bolts_all)
                         : _n("Swatches of %zu of %lld bolt, %.2f of %.2f m, were burnt: %s.",
                              "Swatches of %zu of %lld bolts, %.2f of %.2f m, were burnt: %s.", n->bolts_all),
                     n->bolts, n->bolts_all, n->metres_seen, n->metres, tb_text_str(&list));
    tb_text_free(&list);
    if (n->unknown)
        tb_text_addf(out,
                     _(" Bolts of unknown length, counted in kilograms and in none of these metres: %lld."),
                     (long long)n->unknown);
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
                     _n("and %zu record more, in the case file.",
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
    fn(arg, &(struct notice_block){ NOTICE_HEADING, NULL, _("What was seen") });
    walk_seen(n, fn, arg);
    fn(arg, &(struct notice_block){ NOTICE_TEXT, NULL, n->concluded });
    for (size_t i = 0; i < n->tails; i++)
        fn(arg, &n->tail[i]);
}
