/* notice_words.c - texts of a notice: kept in it, and figures, days and lengths in its language. */
#include "report/notice/notice_impl.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* Sentences live as long as the notice, and are freed with it. */
const char *tb_notice_put(struct tb_notice *n, const char *fmt, ...)
{
    struct tb_text t = { 0 };
    va_list ap;

    va_start(ap, fmt);
    tb_text_vaddf(&t, fmt, ap);
    va_end(ap);
    return tb_notice_take(n, &t);
}

const char *tb_notice_take(struct tb_notice *n, struct tb_text *t)
{
    return tb_arena_take(&n->mem, t);
}

const char *tb_notice_two(struct tb_notice *n, const char *first, const char *second)
{
    /* TRANSLATORS: two sentences, one behind the other */
    return tb_notice_put(n, tb_tr(n->tongue, "%s %s"), first, second);
}

void tb_notice_before(struct tb_notice *n, enum notice_kind kind, const char *label, const char *text)
{
    TB_PUSH_ROOM(n->head, n->heads, n->head_cap);
    n->head[n->heads++] = (struct notice_block){ kind, label, text };
}

void tb_notice_after(struct tb_notice *n, enum notice_kind kind, const char *label, const char *text)
{
    TB_PUSH_ROOM(n->tail, n->tails, n->tail_cap);
    n->tail[n->tails++] = (struct notice_block){ kind, label, text };
}

const char *tb_notice_figure(struct tb_notice *n, double value, int places)
{
    struct tb_text t = { 0 };

    tb_tongue_figure(&t, n->tongue, value, places);
    return tb_notice_take(n, &t);
}

const char *tb_notice_day(struct tb_notice *n, const char *day)
{
    struct tb_text t = { 0 };
    char only[TB_DAY_LEN + 1] = "";

    memcpy(only, day, strnlen(day, TB_DAY_LEN)); /* of a moment too */
    tb_tongue_day(&t, n->tongue, only);
    return tb_notice_take(n, &t);
}

static const char *measured(struct tb_notice *n, const struct tb_lot *l)
{
    const char *m = tb_notice_figure(n, l->metres, 2), *kg = tb_notice_figure(n, l->kg, 2);

    if (isnan(l->metres))
        return tb_notice_put(n, tb_tr(n->tongue, "%s kg, length not known"), kg);
    if (l->derived && l->derived == l->bolts)
        return tb_notice_put(n, tb_tr(n->tongue, "%s m computed from %s kg"), m, kg);
    if (l->derived && l->unknown)
        return tb_notice_put(n,
                             tb_tr(n->tongue, "%s m (bolts computed from kilograms: %lld; bolts of unknown "
                                              "length, not in it: %lld)"),
                             m, (long long)l->derived, (long long)l->unknown);
    if (l->derived)
        return tb_notice_put(n, tb_tr(n->tongue, "%s m (bolts computed from kilograms: %lld)"), m,
                             (long long)l->derived);
    if (l->unknown)
        return tb_notice_put(n, tb_tr(n->tongue, "%s m (bolts of unknown length, not in it: %lld)"), m,
                             (long long)l->unknown);
    return tb_notice_put(n, "%s\xC2\xA0m", m);
}

/* Metres that nobody knows are never a figure; those that were computed are never without saying so. The weight stands behind them. */
const char *tb_notice_length(struct tb_notice *n, const struct tb_lot *l)
{
    const char *length = measured(n, l), *kg;

    if (!l->weighed)
        return length;
    kg = tb_notice_figure(n, l->weight_kg, 2);
    if (l->weighed == l->bolts)
        return tb_notice_put(n, "%s, %s\xC2\xA0kg", length, kg);
    return tb_notice_put(n, "%s%s", length,
                         tb_notice_put(n, tb_tr(n->tongue, ", %s kg (bolts that were weighed: %lld)"), kg,
                                       (long long)l->weighed));
}

/* A length as the list has it, "60.5 yd", with the decimal sign of the letter; one with a comma stays as it was written. */
static const char *as_written(struct tb_notice *n, const char *said)
{
    struct tb_text t = { 0 };

    tb_text_add(&t, said);
    if (!strchr(said, ','))
        tb_tongue_point(t.s, n->tongue);
    return tb_notice_take(n, &t);
}

static const char *bolt_measured(struct tb_notice *n, const struct tb_bolt *b)
{
    const char *m = tb_notice_figure(n, b->metres, 2);

    if (isnan(b->metres))
        return tb_notice_put(n, tb_tr(n->tongue, "%s kg, length not known"), tb_notice_figure(n, b->kg, 2));
    if (b->derived)
        return tb_notice_put(n, tb_tr(n->tongue, "%s m computed from %s kg"), m,
                             tb_notice_figure(n, b->kg, 2));
    return *b->said ? tb_notice_put(n, "%s = %s\xC2\xA0m", as_written(n, b->said), m)
                    : tb_notice_put(n, "%s\xC2\xA0m", m);
}

/* As it was invoiced, and in metres beside it where that was no metres. */
const char *tb_notice_bolt_length(struct tb_notice *n, const struct tb_bolt *b)
{
    const char *length = bolt_measured(n, b);

    return b->weight_kg > 0
               ? tb_notice_put(n, "%s, %s\xC2\xA0kg", length, tb_notice_figure(n, b->weight_kg, 2))
               : length;
}
