/* explain.c - a verdict in plain words: the note an expert would write. */
#include "tenterbook/evidence.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

const char *tb_hazard_key(enum tb_hazard one)
{
    return one == TB_HAZARD_FLAME       ? "flame"
           : one == TB_HAZARD_FLAMMABLE ? "flammable"
           : one == TB_HAZARD_TOXIC     ? "toxic"
           : one == TB_HAZARD_CORROSIVE ? "corrosive"
                                        : "hot";
}

char *tb_verdict_rule(const struct tb_verdict *v)
{
    struct tb_text t = { 0 };

    tb_text_addf(
        &t,
        "The evidence ratio says how much likelier these observations are if the declared fibres are there "
        "than if anything else is that burns differently. Below 1/%.3g the burn contradicts the declaration, "
        "above %.3g it fits, between them it is undecided.",
        1 / v->contradicts_below, v->fits_above);
    return tb_text_take(&t);
}

/* "9 to 1": deci-bans as odds a person can picture. */
static void odds(struct tb_text *out, double db)
{
    double times = pow(10, fabs(db) / 10);

    if (times < 10)
        tb_text_addf(out, "%.1f to 1", times);
    else if (times < 10000)
        tb_text_addf(out, "%.0f to 1", times);
    else
        tb_text_addf(out, "over 10000 to 1");
}

static void say_cue(struct tb_text *out, const struct tb_cue_weight *w, double db)
{
    struct tb_cue c;

    tb_cue_at(&c, w->cue);
    if (w->part != TB_PART_WHOLE)
        tb_text_addf(out, "%s: ", tb_part_key(w->part));
    tb_text_addf(out, "%s%s (%s), ", w->sight == TB_SIGHT_SEEN ? "" : "not seen: ", c.meaning, c.key);
    odds(out, db);
    if (c.memory)
        tb_text_addf(out, ", its figures are from memory");
}

#define SAID_FROM_DB 0.5

static bool speaks(double db, int side)
{
    return (side > 0) == (db > 0) && fabs(db) >= SAID_FROM_DB;
}

static int by_alone(const void *a, const void *b)
{
    const struct tb_cue_weight *x = a, *y = b;
    double p = fabs(x->alone_db), q = fabs(y->alone_db);

    return p < q ? 1 : p > q ? -1 : x->cue != y->cue ? x->cue - y->cue : (int)x->part - (int)y->part;
}

/* Each cue by itself: what is said where none of them adds to the others. */
static void say_alone(struct tb_text *out, const struct tb_verdict *v, int side, size_t most)
{
    struct tb_cue_weight *cue = tb_array(struct tb_cue_weight, v->n_cue + 1);
    size_t said = 0;

    for (size_t i = 0; i < v->n_cue; i++)
        cue[i] = v->cue[i];
    qsort(cue, v->n_cue, sizeof *cue, by_alone);
    for (size_t i = 0; i < v->n_cue && said < most; i++)
        if (speaks(cue[i].alone_db, side)) {
            tb_text_addf(out, "%s", said++ ? "; " : "no single cue decides; each by itself: ");
            say_cue(out, &cue[i], cue[i].alone_db);
        }
    free(cue);
}

void tb_verdict_reasons(struct tb_text *out, const struct tb_verdict *v, int side, size_t most)
{
    size_t said = 0;

    for (size_t i = 0; i < v->n_cue && said < most; i++)
        if (speaks(v->cue[i].weight_db, side)) {
            tb_text_addf(out, "%s", said++ ? "; " : "");
            say_cue(out, &v->cue[i], v->cue[i].weight_db);
        }
    if (!said && (side < 0) == (v->kind == TB_CONTRADICTS))
        say_alone(out, v, side, most);
}

static void say_blend(struct tb_text *out, const struct tb_likely *l)
{
    for (int r = 0; r < l->n; r++)
        tb_text_addf(out, "%s%.0f %% %s", r ? ", " : "", l->percent[r], tb_fibre_at(l->fibre[r])->name);
}

/* Beyond a million the figure says more of the model than of the cloth. */
static const char *times(char text[40], double ratio)
{
    if (ratio >= 1e6)
        return "more than a million";
    (void)snprintf(text, 40, ratio < 10 ? "%.1f" : "%.0f", ratio);
    return text;
}

static void say_verdict(struct tb_text *out, const struct tb_verdict *v)
{
    char text[40];

    if (v->reason) {
        tb_text_addf(out, "Undecided: %s.\n", v->reason);
        return;
    }
    if (v->kind == TB_CONTRADICTS)
        tb_text_addf(
            out,
            "The burn contradicts the declaration: what was seen is %s times likelier from something "
            "else that burns differently.\n",
            times(text, 1 / v->ratio));
    else if (v->kind == TB_FITS)
        tb_text_addf(
            out,
            "The burn fits the declaration: what was seen is %s times likelier from the declared fibres "
            "than from anything that burns differently. That is not a proof of it.\n",
            times(text, v->ratio));
    else
        tb_text_addf(
            out,
            "Undecided: what was seen is %.3g times as likely from the declared fibres as from anything "
            "else; that is too little either way.\n",
            v->ratio);
}

static void say_reasons(struct tb_text *out, const struct tb_verdict *v)
{
    struct tb_text t = { 0 };

    tb_verdict_reasons(&t, v, 1, 3);
    if (t.n)
        tb_text_addf(out, "For it: %s.\n", t.s);
    tb_text_clear(&t);
    tb_verdict_reasons(&t, v, -1, 3);
    if (t.n)
        tb_text_addf(out, "Against it: %s.\n", t.s);
    tb_text_free(&t);
}

/* The likeliest of one part. */
static void say_part(struct tb_text *out, const struct tb_verdict *v, enum tb_part_kind part, size_t most)
{
    size_t said = 0;

    for (size_t i = 0; i < v->n_likely && said < most; i++) {
        if (v->likely[i].part != part || (said && v->likely[i].probability < 0.005))
            continue;
        tb_text_addf(out, "%s ", said++ ? ";" : "");
        say_blend(out, &v->likely[i]);
        tb_text_addf(out, " (%.0f in 100)", 100 * v->likely[i].probability);
    }
}

/* Each part has its own: a weft of another fibre must not hide behind the likeliest of the warp. */
static void say_else(struct tb_text *out, const struct tb_verdict *v)
{
    for (size_t i = 0; i < v->n_likely; i++) {
        enum tb_part_kind part = v->likely[i].part;
        size_t before = 0;

        while (before < i && v->likely[before].part != part)
            before++;
        if (before < i)
            continue;
        tb_text_addf(out, "What %s%s could be, likeliest first:", part == TB_PART_WHOLE ? "" : "the ",
                     part == TB_PART_WHOLE ? "it" : tb_part_key(part));
        say_part(out, v, part, 4);
        tb_text_addf(out, ".\n");
    }
}

static void say_twins(struct tb_text *out, const struct tb_verdict *v)
{
    for (size_t i = 0; i < v->n_twins; i++) {
        tb_text_addf(out, "Burning cannot tell %s from", tb_fibre_at(v->twins[i].fibre[0])->name);
        for (size_t k = 1; k < v->twins[i].n && k < 7; k++)
            tb_text_addf(out, "%s %s", k == 1 ? "" : ",", tb_fibre_at(v->twins[i].fibre[k])->name);
        tb_text_addf(out, "%s.\n", v->twins[i].n > 7 ? " and others" : "");
    }
}

static void say_next(struct tb_text *out, const struct tb_verdict *v)
{
    if (v->n_next == 0)
        return;
    tb_text_addf(out, "Next test worth making:\n");
    for (size_t i = 0; i < v->n_next && i < 3; i++) {
        const struct tb_next *n = &v->next[i];

        tb_text_addf(out, "  - ");
        if (n->part != TB_PART_WHOLE)
            tb_text_addf(out, "%s: ", tb_part_key(n->part));
        tb_text_addf(out, "%s: expected to settle %.0f %% of the question, about %.0f min%s%s%s\n", n->name,
                     100 * n->gain_bits, n->minutes, *n->caution ? ". " : "", n->caution,
                     n->memory ? " (its figures are from memory)" : "");
    }
}

static void say_power(struct tb_text *out, const struct tb_verdict *v)
{
    if (v->n_power == 0)
        return;
    tb_text_addf(out, "What one careful burn would catch here:");
    for (size_t i = 0; i < v->n_power; i++) {
        const struct tb_power *p = &v->power[i];

        tb_text_addf(out, "%s ", i ? ";" : "");
        if (p->part != TB_PART_WHOLE)
            tb_text_addf(out, "%s, ", tb_part_key(p->part));
        if (p->blind)
            tb_text_addf(out, "%s instead: never, it burns alike", p->instead);
        else
            tb_text_addf(out, "%s instead: %.0f times in 100 (two burns %.0f)", p->instead, 100 * p->one,
                         100 * p->two);
    }
    tb_text_addf(out, ". By simulation from the model; no published hit rate exists.\n");
}

void tb_verdict_explain(struct tb_text *out, const struct tb_verdict *v, const struct tb_declaration *decl)
{
    char *rule = tb_verdict_rule(v);

    tb_text_addf(out, "Declared: %s\n", decl->text ? decl->text : "");
    say_verdict(out, v);
    if (!v->reason)
        tb_text_addf(out, "How that is decided: %s\n", rule);
    say_reasons(out, v);
    say_else(out, v);
    say_twins(out, v);
    for (size_t i = 0; i < v->n_note; i++)
        tb_text_addf(out, "Note: %s\n", v->note[i]);
    say_power(out, v);
    say_next(out, v);
    tb_text_addf(
        out,
        "A burn shows kinds of fibre, not percentages, and no verdict here confirms a label: where money or "
        "law hangs on it, ask a laboratory.\n");
    free(rule);
}
