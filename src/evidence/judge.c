/* judge.c - the verdict: questions asked of all burns and of each set, weighed in one pass, and settled. */
#include "evidence/bounds.h"
#include "evidence/recall.h"

#include <math.h>
#include <stdlib.h>

/* Cue weights and next tests of one part. */
static void look_closer(struct tb_verdict *v, const struct tb_question *q, size_t g, struct tb_recall *recall,
                        unsigned want)
{
    struct tb_shortlist s;

    tb_shortlist_make(&s, q->ev, &q->group[g], tb_recall_pool(recall, &q->group[g]));
    if (want & TB_WANT_CUES) {
        tb_weigh_cues(v, &s);
        tb_note_loudest(v, q, &q->group[g]);
    }
    if (want & TB_WANT_NEXT && v->handling != TB_HANDLING_LABORATORY)
        tb_next_tests(v, &s, q->n == 1);
    tb_shortlist_free(&s);
}

/* Which fibre it is that few have described, or which finish it would be. */
static void note_hindrance(struct tb_verdict *v, const struct tb_hindrance *why)
{
    struct tb_text finish = { 0 };

    if (why->by == TB_HINDERED_BY_EACH)
        tb_verdict_note(
            v,
            "None of the burns contradicts the declaration by itself, and no bench test speaks against it: "
            "what they say together asks for a test and holds nothing.");
    if (why->by == TB_HINDERED_BY_FEW)
        tb_verdict_note(v,
                        "Of %s too few independent sources describe what speaks against it here: what was "
                        "seen may be what nobody has published yet. Burns of known cloth of it count too.",
                        tb_fibre_at(why->which)->name);
    if (why->by == TB_HINDERED_BY_FINISH) {
        tb_finish_list(&finish, 1u << why->which);
        tb_verdict_note(v,
                        "With this finish, which nobody named, the declared cloth would burn about as much "
                        "like this as any other cloth does: %s.",
                        finish.s);
        tb_text_free(&finish);
    }
}

/* By the ratio within its bounds. What it rests on is only asked where it goes far enough. */
static void grade(struct tb_verdict *v, const struct tb_question *q)
{
    double many = exp(tb_bounded(&v->full_bounds, v->log_ratio)); /* what more looks could have made of it */
    bool low = v->ratio < v->contradicts_below;
    bool against = v->ratio < fmax(v->speaks_below, v->contradicts_below);
    bool high = v->ratio > v->fits_above;
    bool bare;
    struct tb_hindrance why = { TB_NOT_HINDERED, -1 };

    if (many < v->contradicts_below)
        why = tb_hindrance_of(q, v->contradicts_below);
    v->one_look = why.by == TB_HINDERED_BY_ONE_LOOK || (high && !tb_fits_by_more(q));
    v->none_alone = why.by == TB_HINDERED_BY_EACH;
    v->few_tell = why.by == TB_HINDERED_BY_FEW;
    v->excused = why.by == TB_HINDERED_BY_FINISH ? tb_finish_key(why.which) : NULL;
    note_hindrance(v, &why);
    v->at_odds = tb_at_odds(v, q, high, low);
    v->at_odds |= against && tb_tests_agree(v, q);
    v->outdone =
        high && !v->one_look && (tb_outdone_by(q) >= 0 || tb_mixed_with(q) >= 0 || !tb_untried_fits(q));
    v->imitated = high && !v->one_look && tb_imitated_by(q, &bare) >= 0;
    v->grade = v->at_odds                                            ? TB_GRADE_UNDECIDED
               : low && why.by == TB_NOT_HINDERED                    ? TB_GRADE_CONTRADICTS
               : against                                             ? TB_GRADE_SPEAKS_AGAINST
               : high && !v->one_look && !v->outdone && !v->imitated ? TB_GRADE_FITS
                                                                     : TB_GRADE_UNDECIDED;
    v->kind = tb_verdict_of_grade(v->grade);
    v->coated = against && tb_may_be_coated(q);
}

/* On which side of each limit a ratio is, as bits. */
static unsigned sides_of(const struct tb_verdict *v, double log_ratio)
{
    double ratio = exp(tb_bounded(&v->bounds, log_ratio)), many = exp(tb_bounded(&v->full_bounds, log_ratio));

    return (ratio < v->contradicts_below ? 1u : 0) |
           (ratio < fmax(v->speaks_below, v->contradicts_below) ? 2u : 0) | (ratio > v->fits_above ? 4u : 0) |
           (many < v->contradicts_below ? 8u : 0);
}

/* By the ratio and by what is likeliest alone a grade knows of what was left out, and of a declared finish by how likely each fibre is. */
static bool is_unsure(const struct tb_verdict *v, const struct tb_question *q)
{
    return q->log_else_most > q->log_else &&
           (sides_of(v, q->log_declared - q->log_else) != sides_of(v, q->log_declared - q->log_else_most) ||
            v->untested_finish || tb_odds_unsure(q));
}

/* Beyond its bounds a ratio is the bound, whatever was left out. */
static bool is_loose(const struct tb_verdict *v, const struct tb_question *q)
{
    return q->log_else_most > q->log_else && tb_bounded(&v->bounds, q->log_declared - q->log_else) !=
                                                 tb_bounded(&v->bounds, q->log_declared - q->log_else_most);
}

/* The bounds come from bare cloths of one fibre; for any other they are no more than the best there is. */
static void note_untested(struct tb_verdict *v, const struct tb_question *q)
{
    for (size_t i = 0; i < q->n; i++) {
        v->untested_blend |= q->group[i].declared.blend.n > 1;
        v->untested_finish |= q->group[i].declared.finish != 0;
    }
    v->bounds.untested = v->full_bounds.untested = v->untested_blend || v->untested_finish;
    if (v->untested_blend && v->untested_finish)
        tb_verdict_note(
            v, "The model was tested on bare cloths of one fibre only: no set of burns of blends, or of "
               "finished cloth, has been published, so for this one the limits of the ratio are argued, "
               "not tested.");
    else if (v->untested_blend)
        tb_verdict_note(
            v, "The model was tested on cloths of one fibre only: no set of burns of blends has been "
               "published, so for a blend the limits of the ratio are argued, not tested.");
    else if (v->untested_finish)
        tb_verdict_note(
            v, "The model was tested on bare cloths only: no set of burns of finished cloth has been "
               "published, so for this one the limits of the ratio are argued, not tested.");
}

/* What a site's own drills put into the ratio, with the figures to check it. */
static void note_drilled(struct tb_verdict *v)
{
    const struct tb_drilled *d = &v->drilled;

    if (d->burns)
        tb_verdict_note(
            v,
            "In drills of known cloth here %ld of %ld burns contradicted the cloth they were of, so a "
            "mistake at the bench is taken to happen in %.2g %% of burns (95 %%: %.2g to %.2g %%).",
            d->mistakes, d->burns, 100 * v->bench_error, 100 * d->lower, 100 * d->upper);
}

/* By the rule of the bounds one lot that burned otherwise than it is weighs as much as many that did not. */
static void note_misled(struct tb_verdict *v)
{
    struct tb_bounds published;

    tb_bounds_published(&published);
    if (!(v->full_bounds.low > published.low) && !(v->full_bounds.high < published.high))
        return;
    tb_verdict_note(
        v,
        "Some of these lots burned otherwise than the laboratory found them. That makes the limits "
        "narrower than the published sources alone have them: 1/%.0f and %.0f, not 1/%.0f and %.0f. "
        "Each further lot that a laboratory settles, and that burned as it is, widens them again.",
        exp(-v->full_bounds.low), exp(v->full_bounds.high), exp(-published.low), exp(published.high));
    if (exp(v->full_bounds.low) >= v->contradicts_below)
        tb_verdict_note(
            v, "Within these limits no burn contradicts a declaration: at most it speaks against it, "
               "and holds nothing.");
}

/* A bound that the published sources do not carry alone must name what carries it. */
static void note_settled(struct tb_verdict *v)
{
    char cases[TB_IN_HUNDRED];

    if (v->settled_lots)
        tb_verdict_note(v,
                        "The limits of the ratio rest on the published sources, and on burns of this site's "
                        "own that a laboratory settled afterwards (lots: %zu; none of this delivery).",
                        v->settled_lots);
    if (v->settled_lots && v->settled_cases + 0.05 < (double)v->settled_lots) {
        tb_in_hundred(cases, v->settled_cases / 100);
        tb_verdict_note(v,
                        "They count as %s cases: lots of one delivery are one case together, and where the "
                        "lots that were in doubt were sent to a laboratory rather than others, each counts "
                        "less, by the share of such lots that were sent.",
                        cases);
    }
    note_misled(v);
}

/* Whoever made the cloth will say so; the tests that tell cost next to nothing. */
static void note_unless(struct tb_verdict *v)
{
    if (v->handling != TB_HANDLING_ANY)
        return; /* nobody is told to burn or ravel it */
    if (v->grade == TB_GRADE_CONTRADICTS || v->grade == TB_GRADE_SPEAKS_AGAINST)
        tb_verdict_note(v,
                        "All this is so unless the cloth is finished, coated, printed or sewn with another "
                        "yarn. Wash and scour a piece, ravel it, and burn warp, weft and single yarns "
                        "apart: what changes then was not the fibre.");
}

/* The verdict is decided by the ratio and what it rests on. */
static void decide(struct tb_verdict *v, const struct tb_question *q)
{
    v->log_declared = q->log_declared;
    v->log_else = q->log_else;
    v->log_ratio = q->log_declared - q->log_else;
    v->looks = tb_looks_of(q);
    tb_bounds_of_looks(&v->bounds, &v->full_bounds, v->looks);
    v->ratio = exp(tb_bounded(&v->bounds, v->log_ratio));
    grade(v, q);
    tb_note_safety(v, q);
    note_drilled(v);
    note_settled(v);
    note_untested(v, q);
}

/* What one burn of a subject stops is stopped, whichever bolt tells the verdict. */
static void explain(struct tb_verdict *v, const struct tb_question *q, const struct tb_subject *s,
                    unsigned want)
{
    if (!(want & TB_WANT_GRADE))
        tb_take_posterior(v, q);
    tb_take_mineral(v, s);
    note_unless(v);
    for (size_t g = 0; g < q->n && want & (TB_WANT_CUES | TB_WANT_NEXT); g++)
        look_closer(v, q, g, s->recall, want);
    if (want & TB_WANT_POWER && v->handling == TB_HANDLING_ANY) {
        tb_power_table(v, q, s->recall);
        tb_note_untold(v, q);
    }
    if (want & TB_WANT_NEXT)
        tb_next_offers(v, q);
}

/* Nothing to hold the burn against: what it is likeliest to be, and which test would tell. */
static void settle_unlabelled(struct tb_verdict *v, struct tb_question *q, const struct tb_subject *s,
                              unsigned want)
{
    for (size_t g = 0; g < q->n; g++) {
        q->group[g].declared = (struct tb_declared_blend){ 0 };
        q->group[g].spread = false;
    }
    tb_take_posterior(v, q);
    tb_take_mineral(v, s);
    if (q->n && v->handling == TB_HANDLING_LABORATORY)
        tb_verdict_note(
            v, "There is nothing that this burn could be held against, so it only says what the cloth "
               "is likeliest to be, common cloth first.");
    else if (q->n)
        tb_verdict_note(
            v, "There is nothing that this burn could be held against, so it only says what the cloth "
               "is likeliest to be, common cloth first; the tests named are those that would tell "
               "whether it is the likeliest.");
    tb_suppose(q, v);
    for (size_t g = 0; g < q->n && want & TB_WANT_NEXT; g++)
        look_closer(v, q, g, NULL, TB_WANT_NEXT);
    if (want & TB_WANT_NEXT)
        tb_next_offers(v, q);
}

enum weight { NO_WEIGHT, DOUBTS, REFUTES };

/* What a set says against the declaration; it doubts too where one test or person says the opposite of the rest. */
static enum weight weight_of(const struct tb_verdict *v)
{
    return v->kind == TB_CONTRADICTS                           ? REFUTES
           : v->grade == TB_GRADE_SPEAKS_AGAINST || v->at_odds ? DOUBTS
                                                               : NO_WEIGHT;
}

static bool some_at_odds(const struct tb_asked *a, size_t sets)
{
    bool odds = false;

    for (size_t i = 1; i <= sets; i++)
        odds |= a[i].v.at_odds;
    return odds;
}

/* What a set must say to be heard in place of all of them together; of no weight: none is. */
static enum weight weight_that_tells(const struct tb_asked *a, size_t sets)
{
    enum weight most = NO_WEIGHT;

    for (size_t i = 1; i <= sets; i++)
        most = weight_of(&a[i].v) > most ? weight_of(&a[i].v) : most;
    if (most == REFUTES)
        return a[0].v.kind == TB_CONTRADICTS ? NO_WEIGHT : REFUTES;
    if (a[0].v.grade == TB_GRADE_FITS || (some_at_odds(a, sets) && !a[0].v.at_odds))
        return most;
    return NO_WEIGHT;
}

/* Is set i heard before set k? Of several that doubt what contradicts itself comes first: no ratio says how far. */
static bool tells_more(const struct tb_asked *a, size_t i, size_t k)
{
    if (a[i].v.at_odds != a[k].v.at_odds)
        return a[i].v.at_odds;
    return a[i].v.log_ratio < a[k].v.log_ratio;
}

/*
 * A lot that holds one false bolt is not as declared, and one that holds a doubtful bolt does not fit, whatever all bolts say together;
 * nor do the others say what is true of a bolt that contradicts itself.
 */
static size_t set_that_tells(const struct tb_asked *a, size_t sets)
{
    enum weight weight = weight_that_tells(a, sets);
    size_t tells = 0;

    for (size_t i = 1; i <= sets && weight; i++)
        if (weight_of(&a[i].v) == weight && (!tells || tells_more(a, i, tells)))
            tells = i;
    return tells;
}

/* a[0] asks of all observations, a[1 + set] of those of a set. */
static tb_rc answer(struct tb_asked *a, const struct tb_subject *s, size_t sets, unsigned want,
                    struct tb_err *err)
{
    tb_rc rc = tb_asked_open_all(a, s, sets, err);
    size_t tells;

    if (rc != TB_OK)
        return rc;
    tb_parts_weigh(a, 1 + sets, s->ev, s->recall);
    for (size_t i = 0; i < 1 + sets; i++)
        if (a[i].ok) {
            tb_question_answer(&a[i].q);
            decide(&a[i].v, &a[i].q);
            a[i].unsure = is_unsure(&a[i].v, &a[i].q);
            a[i].loose = is_loose(&a[i].v, &a[i].q);
        }
    tells = a[0].v.by_set = set_that_tells(a, sets);
    for (size_t i = 0; i < 1 + sets; i++)
        if (a[i].ok)
            explain(&a[i].v, &a[i].q, s, i == tells ? want : want & TB_WANT_GRADE);
        else if (i == 0)
            settle_unlabelled(&a[i].v, &a[i].q, s, want);
    return TB_OK;
}

/* How far against the declaration the ratio may be, with all that was left out. */
static double lowest_of(const struct tb_asked *a)
{
    return a->q.log_else_most > a->q.log_else ? a->q.log_declared - a->q.log_else_most : a->v.log_ratio;
}

/* Of several sets that tell another one may do so most; that does not matter where both have one ratio within their bounds. */
static bool tells_loosely(const struct tb_asked *a, size_t sets)
{
    const struct tb_verdict *tells = &a[a[0].v.by_set].v;
    bool loose = a[a[0].v.by_set].loose;

    for (size_t i = 1; i <= sets && a[0].v.by_set; i++)
        loose |= weight_of(&a[i].v) == weight_of(tells) && lowest_of(&a[i]) < tells->log_ratio &&
                 tb_bounded(&a[i].v.bounds, a[i].v.log_ratio) != tb_bounded(&tells->bounds, tells->log_ratio);
    return loose;
}

static bool wants_outcomes(const struct tb_verdict *v, unsigned want)
{
    return want & TB_WANT_OUTCOMES && v->kind != TB_FITS;
}

tb_rc tb_subject_judge(struct tb_verdict *together, struct tb_verdict *alone, struct tb_subject *s,
                       size_t sets, unsigned want, struct tb_err *err)
{
    struct tb_asked *a = tb_array(struct tb_asked, 1 + sets), *tells;
    tb_rc rc;

    tb_readings_make(&s->readings, s->ev, s->obs, s->n);
    rc = answer(a, s, sets, want, err);
    tells = &a[a[0].v.by_set];
    for (size_t i = 0; i < 1 + sets && rc == TB_OK; i++)
        s->unsure |= a[i].unsure;
    s->loose = rc == TB_OK && tells_loosely(a, sets);
    s->before = a;
    if (rc == TB_OK && wants_outcomes(&tells->v, want))
        rc = tells->ok ? tb_outcomes_take(&tells->v, &tells->q, s, sets, a[0].v.by_set, err)
                       : tb_outcomes_supposed(&a[0].v, &a[0].q, s, sets, err);
    for (size_t i = 0; i < 1 + sets && rc == TB_OK; i++) {
        *(i == 0 ? together : &alone[i - 1]) = a[i].v;
        a[i].v = (struct tb_verdict){ 0 }; /* handed to the caller */
    }
    for (size_t i = 0; i < 1 + sets; i++)
        tb_asked_free(&a[i]);
    free(a);
    s->before = NULL;
    tb_readings_free(&s->readings);
    return rc;
}

tb_rc tb_evidence_judge_sets(struct tb_verdict *together, struct tb_verdict *alone,
                             const struct tb_evidence *ev, struct tb_recall *recall,
                             const struct tb_declaration *decl, const struct tb_observation *obs, size_t n,
                             const size_t *set, size_t sets, unsigned want, struct tb_err *err)
{
    struct tb_recall *own = !recall && want & TB_WANT_OUTCOMES ? tb_recall_new(ev) : NULL;
    tb_rc rc = tb_subject_judge(
        together, alone,
        &(struct tb_subject){
            .ev = ev, .decl = decl, .obs = obs, .n = n, .set = set, .recall = own ? own : recall },
        sets, want, err);

    tb_recall_free(own);
    return rc;
}

tb_rc tb_evidence_judge(struct tb_verdict *out, const struct tb_evidence *ev,
                        const struct tb_declaration *decl, const struct tb_observation *obs, size_t n,
                        unsigned want, struct tb_err *err)
{
    return tb_evidence_judge_sets(out, NULL, ev, NULL, decl, obs, n, NULL, 0, want, err);
}
