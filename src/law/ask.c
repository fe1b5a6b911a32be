/*
 * ask.c - a question answered: rules and act chosen, the label read and checked, and what a label may say instead.
 */
#include "law/wording.h"

#include "base/say.h"
#include "tenterbook/date.h"
#include "tenterbook/utf8.h"

#include <stdlib.h>
#include <string.h>

#define ORIGIN_MOST 80 /* bytes of the name of a country; it is printed on the label */

static tb_rc check_facts(const struct tb_ref_market *m, const struct tb_law_facts *f, struct tb_err *err)
{
    if (f->lang && !tb_law_list_has(m->langs, f->lang) && m->langs[0])
        return tb_fail(err, TB_EINVAL, "a label in %s is not in '%.20s'; its languages are %s", m->in_words,
                       f->lang, m->langs);
    if (f->origin && (!tb_utf8_valid(f->origin, strlen(f->origin)) || strlen(f->origin) > ORIGIN_MOST))
        return tb_fail(err, TB_EINVAL, "the country of origin is not a short piece of text");
    if (f->day && !tb_day_valid(f->day))
        return tb_fail(err, TB_EINVAL, "'%.20s' is not a valid date; write it as YYYY-MM-DD", f->day);
    return TB_OK;
}

/* The market of the question and what is known of it; facts that cannot be are refused. */
static tb_rc take_market(struct at_work *w, struct tb_err *err)
{
    tb_rc rc = tb_market_check(w->q->market, err);

    *w->answer = (struct tb_law_answer){ .regime = "" };
    if (rc != TB_OK)
        return rc;
    (void)tb_market_find(&w->answer->market, w->q->market);
    w->market = tb_law_market(w->q->market);
    return check_facts(w->market, w->facts, err);
}

/* The list of now is made once for each market; a day needs one of its own. */
static void take_rules(struct at_work *w)
{
    const struct rule_list *now = &w->law->market[w->market - tb_ref_market];

    if (w->facts->day)
        tb_law_choose_rules(&w->own, w->market, w->facts->day);
    w->rule = w->facts->day ? w->own.rule : now->rule;
    w->rules = w->facts->day ? w->own.n : now->n;
}

static bool holds_group(const struct at_work *w, const char *group)
{
    EACH_PART (w, p)
        if (tb_law_group_in(w->market, group, p))
            return true;
    for (size_t i = 0; w->q->found && i < w->q->found->n; i++)
        if (tb_law_group_in(w->market, group, &w->q->found->part[i]))
            return true;
    return false;
}

/*
 * One product is under one act, never two: the content decides which, on the label or in the cloth, and a grade of wool
 * ("Super 120's") claims wool. A clause of the other act is not quoted. Rules of its words are counted: on a day before
 * any was in force no fault would be found, and that is no leave.
 */
static void choose_regime(struct at_work *w)
{
    w->regime = w->market->regime;
    for (size_t i = 0; i < w->rules; i++)
        if (strcmp(w->rule[i]->kind, "regime") == 0 && (holds_group(w, w->rule[i]->arg) || w->label->super))
            w->regime = w->rule[i]->arg;
    w->answer->regime = w->regime;
    for (size_t i = 0; i < w->rules; i++) {
        int kind = w->law->kind[w->rule[i] - tb_ref_law_rule];

        w->answer->rules +=
            kind >= 0 && tb_law_checks[kind].of == CHECK_WORDS && tb_law_of_regime(w, w->rule[i]);
    }
}

/* --- what the label may say ---------------------------------------------------------------------------------- */

/* How many fibres stand behind "other fibre" on the label: counted in the cloth, else as the word has it. */
static size_t others_behind(const struct at_work *w)
{
    size_t n = 0;

    for (size_t i = 0; i < w->cmp.n; i++)
        n += w->cmp.found[i].share == TB_NOWHERE;
    if (n)
        return n;
    EACH_PART (w, p)
        EACH_SHARE (p, s)
            if (s->fibre == TB_FIBRE_OTHER)
                n = s->marks & SAID_PLURAL ? 2 : 1;
    return n;
}

/* A part that was not analysed stays as the words have it beside those that were. */
static void add_unseen_parts(struct tb_composition *all, const struct tb_composition *said,
                             const struct tb_composition *found)
{
    for (size_t i = 0; i < said->n; i++) {
        const struct tb_part *p = tb_composition_part(found, said->part[i].kind);
        struct tb_part *to = tb_composition_add_part(all, said->part[i].kind);

        p = p ? p : &said->part[i];
        for (size_t k = 0; k < p->n; k++)
            tb_part_add_share(to, p->share[k].fibre, p->share[k].percent)->marks = p->share[k].marks;
    }
}

/* Is recycled fibre said of a part of a fibre that the law names apart by its past? */
static bool part_is_named_apart(const struct at_work *w)
{
    for (size_t i = 0; i < w->label->asides; i++)
        EACH_PART (w, p)
            EACH_SHARE (p, s)
                if (w->label->aside[i].marks & TB_MARK_RECYCLED && s->fibre >= 0 &&
                    (!w->label->aside[i].share || w->label->aside[i].share == s->id) &&
                    tb_law_past_counts(w, s->fibre))
                    return true;
    return false;
}

/* Why no words can help: the cloth itself is not what the label wants to call it. NULL: they can. */
static const char *beyond_wording(const struct at_work *w)
{
    if (w->answer->rules == 0)
        return _("no rule of this market was in force that says what a label holds");
    if (tb_law_broken(w, "diameter", "cashmere-"))
        return _("it may not be called cashmere: word the label again with wool in its place");
    if (w->label->excludes && (tb_law_broken(w, "exclusion", NULL) || tb_law_broken(w, "omission", NULL)))
        return _("too much is left out: count it in, and word the label again");
    if (part_is_named_apart(w))
        return _("a part of a fibre is said to be recycled, and it is named apart here: say the share of "
                 "each, of the "
                 "whole cloth");
    if (w->label->excepted)
        return _("something is excepted from the composition: a label that says so is worded by hand");
    return NULL;
}

/*
 * The wording is of what was found where the text is wrong, else of what the text says: a label that may stand is not
 * rewritten because an analysis was half a point off. With no text at all it is of what was found.
 */
static void add_wording(struct at_work *w)
{
    struct tb_composition all = { 0 };
    struct tb_err err = { 0 };
    size_t others = others_behind(w);
    bool readable = tb_label_settle(w->label);
    const struct tb_composition *found = w->q->found, *said = &w->label->comp,
                                *c = readable && (w->answer->ok || !found) ? said : found;
    const char *why = beyond_wording(w);

    if (c && c == found && readable && said->n > 1 && c->n < said->n) {
        add_unseen_parts(&all, said, c);
        c = &all;
    }
    if (!why && !c)
        why = _("the words give no composition a label could be made of");
    if (!why && tb_law_wording(w, c, others, &err) != TB_OK)
        why = err.msg;
    w->answer->refusal = tb_strdup(why);
    tb_composition_free(&all);
}

/*
 * One fault is enough to say no. A yes needs all the rules: a market that is known in part, or was asked for a day before
 * its rules, or has no tolerance for what was found, answers neither.
 */
static void decide(struct at_work *w)
{
    struct tb_law_answer *a = w->answer;
    bool fault = a->n && a->finding[0].severity == TB_SEVERITY_FAULT,
         whole = tb_law_coverage(w->market) == TB_COVERAGE_FULL && !w->undecided;

    a->known = a->rules > 0 && (fault || whole);
    a->ok = a->known && !fault;
}

/* The label is read as a label first; only where that gives no figure as a supplier's words ("CO 60 PES 40"). */
tb_rc tb_law_check(struct tb_law_answer *out, const struct tb_law *law, const struct tb_law_question *q,
                   struct tb_err *err)
{
    struct at_work w = { .law = law, .q = q, .facts = &q->facts, .answer = out };
    struct label label = { 0 };
    tb_rc rc = take_market(&w, err);

    if (rc != TB_OK)
        return rc;
    if (q->text_len > TB_LABEL_MOST)
        return tb_fail(err, TB_EINVAL, "the text is %zu bytes long; a label is read up to %d", q->text_len,
                       TB_LABEL_MOST);
    tb_law_label_read(&label, law, out->market.langs, q->text, q->text_len);
    tb_label_join_kinds(&label, w.market);
    tb_law_label_read_freely(&label, q->text, q->text_len);
    w.label = &label;
    take_rules(&w);
    choose_regime(&w);
    tb_law_run_checks(&w);
    tb_law_sort_findings(out);
    decide(&w);
    add_wording(&w);
    tb_law_compared_free(&w.cmp);
    free(w.own.rule);
    tb_law_label_free(&label);
    return TB_OK;
}

void tb_law_answer_free(struct tb_law_answer *a)
{
    for (size_t i = 0; i < a->n; i++)
        free(a->finding[i].message);
    for (size_t i = 0; i < a->wordings; i++)
        free(a->wording[i]);
    free(a->finding);
    free(a->wording);
    free(a->refusal);
    *a = (struct tb_law_answer){ .regime = "" };
}
