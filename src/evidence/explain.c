/* explain.c - a verdict in plain words: the note an expert would write. */
#include "evidence/conclude.h"

#include "base/say.h"
#include "tenterbook/fibre_words.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define LIKELY_SAID 4
#define LIKELY_LEAST 0.005
#define TWINS_SAID 6
#define NEXT_SAID 3

/* A burn shows kinds of fibre, not percentages: those of a blend are in the JSON. */
static void say_blend(struct tb_text *out, const struct tb_likely *l)
{
    const char *name[3] = { "", "", "" };

    for (int r = 0; r < l->n; r++)
        name[r] = tb_fibre_at(l->fibre[r])->name;
    if (l->n == 1)
        tb_text_addf(out, "100 %% %s", name[0]);
    else if (l->n == 2)
        tb_text_say(out, "%s with %s", name[0], name[1]);
    else
        tb_text_say(out, "%s with %s and %s", name[0], name[1], name[2]);
}

static void say_reasons(struct tb_text *out, const struct tb_verdict *v)
{
    struct tb_text t = { 0 };

    tb_verdict_reasons(&t, v, 1, 3);
    if (t.n)
        tb_text_say(out, "For it: %s.\n", t.s);
    tb_text_clear(&t);
    tb_verdict_reasons(&t, v, -1, 3);
    if (t.n)
        tb_text_say(out, "Against it: %s.\n", t.s);
    tb_text_free(&t);
}

/*
 * The likeliest of one part; the first however unlikely, the others where they are worth a thought. Beside a verdict on
 * what is declared only what else it could be, and in its order alone: how likely that is at all is what the verdict says.
 */
static void list_likely(struct tb_text *out, const struct tb_verdict *v, enum tb_part_kind part)
{
    size_t said = 0;

    for (size_t i = 0; i < v->n_likely && said < LIKELY_SAID; i++) {
        const struct tb_likely *l = &v->likely[i];

        if (l->part != part || l->as_declared || (said && l->probability < LIKELY_LEAST))
            continue;
        tb_text_addf(out, "%s", said++ ? "; " : "");
        say_blend(out, l);
        if (v->reason)
            tb_text_say(out, " (%.0f in 100)", 100 * l->probability);
    }
}

static void say_likely(struct tb_text *out, const struct tb_verdict *v, enum tb_part_kind part,
                       const char *list)
{
    bool whole = part == TB_PART_WHOLE;

    if (v->reason && whole)
        tb_text_say(out, "What it could be, likeliest first: %s.\n", list);
    else if (v->reason)
        tb_text_say(out, "What the %s could be, likeliest first: %s.\n", tb_part_key(part), list);
    else if (whole)
        tb_text_say(out, "If it is not as declared, it is likeliest, in this order: %s.\n", list);
    else
        tb_text_say(out, "If the %s is not as declared, it is likeliest, in this order: %s.\n",
                    tb_part_key(part), list);
}

/* Each part has its own: a weft of another fibre must not hide behind the likeliest of the warp. */
void tb_verdict_likeliest(struct tb_text *out, const struct tb_verdict *v)
{
    if (v->handling == TB_HANDLING_LABORATORY && v->n_likely) {
        tb_text_say(out, "What it could be is not listed: it may be asbestos, and no burn tells one mineral "
                         "fibre (asbestos, "
                         "glass, basalt) from another, or from metal.\n");
        return;
    }
    for (size_t i = 0; i < v->n_likely; i++) {
        enum tb_part_kind part = v->likely[i].part;
        struct tb_text list = { 0 };
        size_t before = 0;

        while (before < i && v->likely[before].part != part)
            before++;
        if (before < i)
            continue;
        list_likely(&list, v, part);
        if (list.n)
            say_likely(out, v, part, list.s);
        tb_text_free(&list);
    }
}

/* Six names are enough to see the kind; a class of burning may have twenty. */
static void say_twins(struct tb_text *out, const struct tb_verdict *v)
{
    if (v->handling == TB_HANDLING_LABORATORY)
        return;
    for (size_t i = 0; i < v->n_twins; i++) {
        const struct tb_twins *t = &v->twins[i];
        struct tb_text list = { 0 };

        for (size_t k = 1; k < t->n && k <= TWINS_SAID; k++)
            tb_text_addf(&list, "%s%s", k == 1 ? "" : ", ", tb_fibre_at(t->fibre[k])->name);
        if (t->n > TWINS_SAID + 1)
            tb_text_say(out, "Burning cannot tell %s from %s and others.\n", tb_fibre_at(t->fibre[0])->name,
                        tb_text_str(&list));
        else
            tb_text_say(out, "Burning cannot tell %s from %s.\n", tb_fibre_at(t->fibre[0])->name,
                        tb_text_str(&list));
        tb_text_free(&list);
    }
}

void tb_next_clause(struct tb_text *out, enum tb_tongue to, enum tb_part_kind part, const char *name,
                    size_t bolts)
{
    if (part != TB_PART_WHOLE)
        tb_text_addf(out, "%s: ", to == TB_READER ? tb_part_key(part) : tb_part_in(to, part));
    if (bolts)
        tb_text_addf(out, tb_tr(to, "%s, on each of the %zu bolts"), tb_tr(to, name), bolts);
    else
        tb_text_add(out, tb_tr(to, name));
}

static void name_test(struct tb_text *out, const struct tb_next *n)
{
    tb_next_clause(out, TB_READER, n->part, n->name, n->bolts);
}

static void say_test(struct tb_text *out, const struct tb_next *n)
{
    struct tb_text name = { 0 };

    name_test(&name, n);
    if (isnan(n->settles))
        tb_text_say(out, "  - %s; %s", name.s, n->effort);
    else
        tb_text_say(out, "  - %s: expected to settle %.0f %% of what is open; %s, about %.0f min", name.s,
                    100 * n->settles, n->effort, n->minutes);
    if (*n->caution)
        tb_text_addf(out, ". %s", n->caution);
    if (n->memory)
        tb_text_say(out, " (its figures are from memory)");
    tb_text_addc(out, '\n');
    tb_text_free(&name);
}

static bool flame_free(const struct tb_next *n)
{
    return !(n->hazards & TB_HAZARD_FLAME);
}

/* Three are enough to choose from, one of them without a flame where there is one; the rest is in the JSON. */
static void say_next(struct tb_text *out, const struct tb_verdict *v)
{
    bool free = false;
    size_t said = 0;

    if (v->n_next && v->confirm.test && v->confirm.channel < 0)
        tb_text_say(out,
                    "What can be done next; of the tests none by itself is likely to change the grade:\n");
    else if (v->n_next)
        tb_text_say(out, "Next test worth making:\n");
    for (size_t i = 0; i < v->n_next; i++) {
        const struct tb_next *n = &v->next[i];
        bool offer = n->channel < 0;

        if (!offer && said >= NEXT_SAID && (free || !flame_free(n)))
            continue;
        say_test(out, n);
        said += !offer;
        free = free || (!offer && flame_free(n));
    }
}

/* The results that would lead to this grade, as one line; nothing where there are none. */
static void say_outcomes(struct tb_text *out, const struct tb_verdict *v, enum tb_grade grade)
{
    struct tb_text list = { 0 };

    for (size_t i = 0; i < v->n_outcome; i++)
        if (v->outcome[i].grade == grade)
            tb_clause(&list, "%s", _(v->outcome[i].meaning));
    if (list.n)
        tb_text_say(out, "  - %s, if: %s.\n", tb_word(&tb_grade_words, (int)grade), list.s);
    tb_text_free(&list);
}

/* How an outcome bears on what was supposed, of which its grade is: 1 for it, -1 for something else. */
static int side_of(const struct tb_outcome *o)
{
    return o->grade == TB_GRADE_FITS ? 1 : o->grade == TB_GRADE_UNDECIDED ? 0 : -1;
}

static void say_side(struct tb_text *out, const struct tb_verdict *v, int side)
{
    struct tb_text list = { 0 };

    for (size_t i = 0; i < v->n_outcome; i++)
        if (side_of(&v->outcome[i]) == side)
            tb_clause(&list, "%s", _(v->outcome[i].meaning));
    if (list.n && side > 0)
        tb_text_say(out, "  - that speaks for %s, if: %s.\n", v->supposed, list.s);
    else if (list.n && side < 0)
        tb_text_say(out, "  - that speaks for something else than %s, if: %s.\n", v->supposed, list.s);
    else if (list.n)
        tb_text_say(out, "  - that leaves open whether it is %s, if: %s.\n", v->supposed, list.s);
    tb_text_free(&list);
}

/* Each result in the words of what it leads to: of a laboratory, of cloth without a label, of any other. */
static void say_all_outcomes(struct tb_text *out, const struct tb_verdict *v)
{
    if (v->confirm.channel < 0 && v->n_outcome && strcmp(v->confirm.test, "laboratory") == 0) {
        for (size_t i = 0; i < v->n_outcome; i++)
            tb_text_addf(out, "  - %s.\n", _(v->outcome[i].meaning));
    } else if (v->supposed && v->n_outcome) {
        tb_text_say(out, "Whatever comes out, the lot stays undecided, since there is nothing to hold it "
                         "against; a decision can rest on what it is then likeliest to be:\n");
        for (int side = 1; side >= -1; side--)
            say_side(out, v, side);
    } else {
        for (enum tb_grade g = TB_GRADE_FITS; g < TB_GRADES; g++)
            say_outcomes(out, v, g);
    }
}

void tb_verdict_confirm_clause(struct tb_text *out, const struct tb_verdict *v)
{
    if (v->confirm.test && v->kind != TB_FITS)
        name_test(out, &v->confirm);
}

void tb_verdict_confirm(struct tb_text *out, const struct tb_verdict *v)
{
    const struct tb_next *n = &v->confirm;
    struct tb_text name = { 0 }, effort = { 0 };

    if (!n->test || v->kind == TB_FITS)
        return;
    name_test(&name, n);
    if (v->confirm_swatch)
        tb_text_say(&effort, "%s; swatch %s", n->effort, v->confirm_swatch);
    else if (v->confirm_bolt)
        tb_text_say(&effort, "%s; a new swatch of bolt %s", n->effort, v->confirm_bolt);
    else
        tb_text_add(&effort, n->effort);
    if (v->handling == TB_HANDLING_LABORATORY)
        tb_text_say(out,
                    "Nothing more is done with it at the bench, since it may be asbestos: do not cut it, and "
                    "%s (%s).",
                    name.s, effort.s);
    else if (n->channel < 0)
        tb_text_say(out,
                    "No test that is allowed at this bench is likely to change this; what would: %s (%s).",
                    name.s, effort.s);
    else if (v->supposed)
        tb_text_say(out, "The test to make next, to see whether it is %s: %s (%s).", v->supposed, name.s,
                    effort.s);
    else if (v->kind == TB_CONTRADICTS)
        tb_text_say(out, "The confirming test: %s (%s).", name.s, effort.s);
    else
        tb_text_say(out, "The test to make next: %s (%s).", name.s, effort.s);
    tb_text_free(&name);
    tb_text_free(&effort);
    if (*n->caution)
        tb_text_addf(out, " %s", n->caution);
    tb_text_addc(out, '\n');
    say_all_outcomes(out, v);
}

static void say_power(struct tb_text *out, const struct tb_verdict *v)
{
    struct tb_text list = { 0 };

    for (size_t i = 0; i < v->n_power; i++) {
        const struct tb_power *p = &v->power[i];

        tb_text_addf(&list, "%s", i ? "; " : "");
        if (p->part != TB_PART_WHOLE)
            tb_text_addf(&list, "%s, ", tb_part_key(p->part));
        if (p->blind)
            tb_text_say(&list, "%s instead: never, it burns alike", p->instead);
        else if (p->one <= TB_HARDLY && p->two <= TB_HARDLY)
            tb_text_say(&list, "%s instead: hardly ever", p->instead);
        else
            tb_text_say(&list, "%s instead: %.0f times in 100 (two burns %.0f)", p->instead,
                        100 * tb_power_told(p->one), 100 * tb_power_told(p->two));
    }
    if (list.n)
        tb_text_say(
            out,
            "What one careful burn would catch here: %s. By simulation from the model; no hit rate has been "
            "published, so none is taken to be above %.0f in 100.\n",
            list.s, 100 * TB_POWER_MOST);
    tb_text_free(&list);
}

static void say_declared(struct tb_text *out, const struct tb_declaration *decl)
{
    struct tb_text list = { 0 };

    tb_text_say(out, "Declared: %s\n", decl->text && *decl->text ? decl->text : _("(nothing declared)"));
    tb_finish_list(&list, decl->finish);
    if (list.n)
        tb_text_say(out, "Finish named: %s.\n", list.s);
    tb_text_free(&list);
}

/* The last sentence stands under every verdict: no burn proves a label. */
void tb_verdict_explain(struct tb_text *out, const struct tb_verdict *v, const struct tb_declaration *decl)
{
    char *rule = tb_verdict_rule(v);

    say_declared(out, decl);
    tb_verdict_conclude(out, v);
    if (!v->reason)
        tb_text_say(out, "How that is decided: %s\n", rule);
    say_reasons(out, v);
    if (!v->at_odds) /* what contradicts itself is of no cloth */
        tb_verdict_likeliest(out, v);
    say_twins(out, v);
    for (size_t i = 0; i < v->n_note; i++)
        tb_text_say(out, "Note: %s\n", v->note[i]);
    say_power(out, v);
    say_next(out, v);
    tb_verdict_confirm(out, v);
    tb_text_say(
        out,
        "A burn shows kinds of fibre, not percentages, and no verdict here confirms a label: where money or "
        "law hangs on it, ask a laboratory.\n");
    free(rule);
}
