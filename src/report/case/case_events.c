/* case_events.c - what happened to goods and swatches, by time: the chain of custody. */
#include "report/case/case_impl.h"

#include <stdlib.h>
#include <string.h>

/* Moments are told to the second: what happened in the same one keeps the order of its kind. */
static int by_time(const void *a, const void *b)
{
    const struct event *x = a, *y = b;
    int order = strcmp(x->at, y->at);

    return order ? order : (x->place > y->place) - (x->place < y->place);
}

static const char *told_key(const struct tb_judged *v)
{
    struct tb_told_verdict told;

    tb_judged_told(&told, v);
    return tb_grade_key(told.grade);
}

/* The list has room for all of them (tb_story_events counts first). */
static void add_event(struct event *e, size_t *n, const char *at, const char *what, const char *who,
                      const char *tag)
{
    e[*n] = (struct event){ at, what, who, tag, *n };
    ++*n;
}

/* What went to a laboratory without a joint sample: when it was recorded, and the day it went. */
static void add_sent(struct event *e, size_t *k, enum tb_tongue to, struct story *s)
{
    struct tb_text what = { 0 };

    for (size_t i = 0; i < s->of.sendings; i++) {
        const struct tb_sending *sent = &s->of.sending[i];
        char on[TB_PLAIN];
        const char *told;

        tb_text_addf(&what, tb_tr(to, "sent to %s on %s"), sent->laboratory,
                     tb_tongue_date(on, to, sent->sent_on));
        told = tb_arena_take(&s->mem, &what);
        for (size_t p = 0; p < sent->pieces; p++)
            add_event(e, k, sent->recorded_at, told, sent->recorded_by, sent->piece[p].tag);
    }
}

/* Where each piece of a joint sample went, and what was cut into: goods and swatches left our shelf by it. */
static void add_departures(struct event *e, size_t *k, enum tb_tongue to, const struct story *s)
{
    for (size_t i = 0; i < s->of.joints; i++)
        for (size_t p = 0; p < s->of.joint[i].pieces; p++) {
            enum tb_holder_kind holder = s->of.joint[i].piece[p].holder;

            add_event(e, k, s->of.joint[i].dealt_at,
                      holder == TB_HOLDER_SUPPLIER     ? tb_tr(to, "dealt to the supplier")
                      : holder == TB_HOLDER_LABORATORY ? tb_tr(to, "dealt to the laboratory")
                                                       : tb_tr(to, "kept of the joint sample"),
                      s->of.joint[i].dealt_by, s->of.joint[i].piece[p].tag);
        }
    for (size_t i = 0; i < s->uses; i++)
        add_event(e, k, s->use[i].used_at, tb_tr(to, "bolt cut into"), s->use[i].used_by,
                  s->use[i].bolt_number);
}

/* Verdicts on the words of the supplier: those that came after are on a label of ours. */
static size_t told_verdicts(const struct story *s)
{
    const struct tb_judged *told = tb_story_judged(s);

    if (!s->of.lot.own_words)
        return s->of.judgeds;
    return told ? (size_t)(told - s->of.judged) + 1 : 0;
}

/* Typed up on another day than it burned, it has that day too. */
static const char *burnt_words(enum tb_tongue to, struct story *s, const struct tb_burn *b)
{
    struct tb_text what = { 0 };
    char on[TB_PLAIN];

    if (!tb_burn_typed_later(b))
        return tb_tr(to, "swatch burnt");
    tb_text_addf(&what, tb_tr(to, "swatch burnt (typed up later, %s)"),
                 tb_tongue_date(on, to, b->recorded_at));
    return tb_arena_take(&s->mem, &what);
}

/* Every record with a moment, of whatever kind: a gap in custody shows as a gap in this list. */
void tb_story_events(struct event **out, size_t *n, enum tb_tongue to, struct story *s)
{
    size_t pieces = 0, most, k = 0;
    struct event *e;

    for (size_t i = 0; i < s->of.joints; i++)
        pieces += s->of.joint[i].pieces;
    for (size_t i = 0; i < s->of.sendings; i++)
        pieces += s->of.sending[i].pieces;
    most = 1 + s->swatches + s->of.burns + s->of.tests + s->analyses + s->of.judgeds + s->of.standings +
           s->of.singles + s->uses + pieces + s->moves + 2 * s->of.gone.n;
    e = tb_arena_alloc(&s->mem, most * sizeof *e);
    add_event(e, &k, s->delivery.received_at, tb_tr(to, "received"), s->delivery.received_by,
              s->delivery.ref);
    for (size_t i = 0; i < s->swatches; i++)
        add_event(e, &k, s->swatch[i].cut_at, tb_tr(to, "swatch cut"), s->swatch[i].cut_by, s->swatch[i].tag);
    for (size_t i = 0; i < s->of.burns; i++)
        add_event(e, &k, s->of.burn[i].burned_at, burnt_words(to, s, &s->of.burn[i]), s->of.burn[i].burned_by,
                  s->of.burn[i].tag);
    for (size_t i = 0; i < s->of.tests; i++)
        add_event(e, &k, s->of.test[i].tested_at, tb_tr(to, "bench test"), s->of.test[i].tested_by,
                  s->of.test[i].tag);
    for (size_t i = 0; i < s->analyses; i++)
        add_event(e, &k, s->analysis[i].recorded_at, tb_tr(to, "analysis recorded"),
                  s->analysis[i].recorded_by, s->analysis[i].laboratory);
    for (size_t i = 0; i < told_verdicts(s); i++)
        add_event(e, &k, s->of.judged[i].judged_at, tb_tr(to, told_key(&s->of.judged[i])),
                  s->of.judged[i].judged_by, tb_tr(to, "verdict"));
    for (size_t i = 0; i < s->of.standings; i++)
        add_event(e, &k, s->of.standing[i].settled_at, tb_tr(to, tb_standing_key(s->of.standing[i].standing)),
                  s->of.standing[i].settled_by, tb_tr(to, "standing"));
    for (size_t i = 0; i < s->of.singles; i++)
        add_event(e, &k, s->of.single[i].settled_at, tb_tr(to, tb_standing_key(s->of.single[i].standing)),
                  s->of.single[i].settled_by, s->of.single[i].number);
    for (size_t i = 0; i < s->of.gone.n; i++) {
        const struct tb_voiding *v = &s->of.gone.voiding[i];

        add_event(e, &k, v->voided_at, tb_tr(to, "taken back as a mistake"), v->voided_by, v->ref);
        if (v->back_at)
            add_event(e, &k, v->back_at, tb_tr(to, "counts again"), v->back_by, v->ref);
    }
    for (size_t i = 0; i < s->moves; i++)
        add_event(e, &k, s->move[i].at, tb_tr(to, "moved here from another swatch"), s->move[i].person,
                  s->move[i].tag);
    add_departures(e, &k, to, s);
    add_sent(e, &k, to, s);
    qsort(e, k, sizeof *e, by_time);
    *out = e;
    *n = k;
}
