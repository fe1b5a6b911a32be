/* case_found.c - what was found: the verdict, the rule it was made by, and the cues for and against. */
#include "report/case/case_page.h"
#include "tenterbook/fibre_words.h"
#include "tenterbook/tell.h"
#include "tenterbook/work.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* First and last day of what was done; moments that lie `size` bytes apart. */
static void days_of(const char **first, const char **last, const char *const *at, size_t n, size_t size)
{
    *first = *last = *at;
    for (size_t i = 1; i < n; i++) {
        const char *moment = *(const char *const *)(const void *)((const char *)at + i * size);

        *first = strcmp(moment, *first) < 0 ? moment : *first;
        *last = strcmp(moment, *last) > 0 ? moment : *last;
    }
}

static void say_burns(struct tb_text *t, const struct story *s)
{
    const char *first, *last;
    char from[TB_PLAIN], to[TB_PLAIN];

    if (!s->of.burns)
        return;
    days_of(&first, &last, &s->of.burn->burned_at, s->of.burns, sizeof *s->of.burn);
    (void)tb_tongue_date(from, s->tongue, first);
    (void)tb_tongue_date(to, s->tongue, last);
    if (strncmp(first, last, TB_DAY_LEN) == 0)
        tb_text_addf(t,
                     tb_trn(s->tongue, "%zu burn was made on %s.", "%zu burns were made on %s.", s->of.burns),
                     s->of.burns, from);
    else
        tb_text_addf(t, tb_tr(s->tongue, "%zu burns were made from %s to %s."), s->of.burns, from, to);
}

/* Burns have the day they burned; those that were written down on another day have that one too. */
static void say_typed(struct tb_text *t, const struct story *s)
{
    const char *last = "";
    size_t late = 0;
    char on[TB_PLAIN];

    for (size_t i = 0; i < s->of.burns; i++)
        if (tb_burn_typed_later(&s->of.burn[i])) {
            late++;
            last = strcmp(s->of.burn[i].recorded_at, last) > 0 ? s->of.burn[i].recorded_at : last;
        }
    if (late)
        tb_text_addf(t,
                     tb_trn(s->tongue, "%zu of these was typed up later, on %s.",
                            "%zu of these were typed up later, the last on %s.", late),
                     late, tb_tongue_date(on, s->tongue, last));
}

static void say_tests(struct tb_text *t, const struct story *s)
{
    const char *first, *last;
    char from[TB_PLAIN], to[TB_PLAIN];

    if (!s->of.tests)
        return;
    if (!s->of.burns) {
        tb_text_addf(t,
                     tb_trn(s->tongue, "Nothing was burnt; %zu test without a flame was recorded.",
                            "Nothing was burnt; %zu tests without a flame were recorded.", s->of.tests),
                     s->of.tests);
        return;
    }
    days_of(&first, &last, &s->of.test->tested_at, s->of.tests, sizeof *s->of.test);
    (void)tb_tongue_date(from, s->tongue, first);
    (void)tb_tongue_date(to, s->tongue, last);
    if (strncmp(first, last, TB_DAY_LEN) == 0)
        tb_text_addf(t,
                     tb_trn(s->tongue, "%zu test without a flame was made on %s.",
                            "%zu tests without a flame were made on %s.", s->of.tests),
                     s->of.tests, from);
    else
        tb_text_addf(t, tb_tr(s->tongue, "%zu tests without a flame were made from %s to %s."), s->of.tests,
                     from, to);
}

static void say_coverage(struct tb_text *t, const struct story *s, const struct tb_judged *v)
{
    long long burnt = v->bolts_burnt, tested = v->bolts_tested, bolts = v->bolts;

    if (tested <= burnt)
        tb_text_addf(t,
                     tb_trn(s->tongue, "Swatches of %lld of %lld bolt were burnt.",
                            "Swatches of %lld of %lld bolts were burnt.", (unsigned long)bolts),
                     burnt, bolts);
    else if (burnt == 0)
        tb_text_addf(t,
                     tb_trn(s->tongue, "Swatches of %lld of %lld bolt were tested; none was burnt.",
                            "Swatches of %lld of %lld bolts were tested; none was burnt.",
                            (unsigned long)bolts),
                     tested, bolts);
    else
        tb_text_addf(t,
                     tb_trn(s->tongue, "Swatches of %lld of %lld bolt were burnt or tested, of %lld burnt.",
                            "Swatches of %lld of %lld bolts were burnt or tested, of %lld burnt.",
                            (unsigned long)bolts),
                     tested, bolts, burnt);
}

/* Nothing was declared, or nothing that a burn can be held against. */
static bool unjudged(const struct story *s)
{
    return s->recorded.kind == TB_UNDECIDED && s->recorded.reason[0] && s->recorded.n_likely;
}

/* A verdict that is damaged is spoken of elsewhere. */
static enum tb_handling handling_of(const struct story *s, const char *detail)
{
    const struct tb_cloth_known k = { .detail = detail,
                                      .burn = s->of.burn,
                                      .burns = s->of.burns,
                                      .analysis = s->analysis,
                                      .analyses = s->analyses };
    struct tb_declaration d;
    enum tb_handling handling;
    struct tb_err unread;

    tb_declaration_read(&d, s->of.lot.declared, strlen(s->of.lot.declared));
    for (size_t i = 0; i < s->of.declareds; i++)
        tb_declaration_also(&d, s->of.declared[i].text, strlen(s->of.declared[i].text));
    (void)tb_known_handling(&handling, &d, &k, &unread);
    tb_declaration_free(&d);
    return handling;
}

/* Whether what is known of the cloth forbids to burn it again. */
static bool is_spared(const struct story *s)
{
    return s->recorded.handling != TB_HANDLING_ANY || handling_of(s, NULL) != TB_HANDLING_ANY;
}

/* Whoever takes the cloth in hand reads first that it must not be frayed. */
static void stop(struct page *p, struct tb_text *t, const struct story *s, const struct tb_judged *v)
{
    if (handling_of(s, v->detail) != TB_HANDLING_LABORATORY)
        return;
    tb_text_clear(t);
    tb_care_words(t, s->tongue, TB_HANDLING_LABORATORY, "");
    t->s[--t->n] = '\0';
    tb_page_text(p, t->s);
}

/* What came of it, as it is told at the bench. */
static void say_outcome(struct tb_text *t, const struct story *s, const struct tb_judged *v)
{
    struct tb_conclusion c;

    if (unjudged(s)) {
        tb_text_add(t, tb_tr(s->tongue,
                             "What was seen could not be held against a declaration; what the cloth is "
                             "likeliest to be is said below."));
    } else if (isnan(v->log_ratio)) {
        tb_text_add(t, tb_tr(s->tongue, "What was seen decides neither for nor against the declaration. How "
                                        "strongly could not be weighed."));
    } else {
        tb_stored_conclusion(&c, &s->recorded, is_spared(s));
        tb_conclusion_words(t, s->tongue, &c);
    }
}

/* What was done and what came of it, each in a sentence of its own. */
static void say_found(struct tb_text *t, const struct story *s, const struct tb_judged *v)
{
    struct tb_text one[5] = { { 0 }, { 0 }, { 0 }, { 0 }, { 0 } };

    say_burns(&one[0], s);
    say_typed(&one[1], s);
    say_tests(&one[2], s);
    say_coverage(&one[3], s, v);
    say_outcome(&one[4], s, v);
    tb_text_clear(t);
    for (size_t i = 0; i < TB_COUNT(one); i++) {
        tb_sentence_in(t, s->tongue, tb_text_str(&one[i]));
        tb_text_free(&one[i]);
    }
}

/* A note as it is, without the name of a cue in brackets behind its meaning: the bench knows it, the reader of a case does not. */
static void add_note(struct tb_text *t, const char *note)
{
    tb_text_clear(t);
    for (const char *open; (open = strstr(note, " (")); note = open) {
        size_t n = strcspn(open + 2, ")");
        char *key = tb_strndup(open + 2, n);
        bool cue = tb_cue_by_key(key) >= 0;

        tb_text_addn(t, note, (size_t)(open - note) + (cue ? 0 : 2));
        open += cue && open[2 + n] ? 3 + n : 2;
        free(key);
    }
    tb_text_add(t, note);
}

/* What the data hold as sentences, in the language of the pages. */
static const char *kept_words(struct tb_text *out, enum tb_tongue to, const char *told)
{
    tb_text_clear(out);
    (void)tb_tr_told(out, to, told);
    return tb_text_str(out);
}

/* ISO/IEC 17025, 7.8.6 asks that the rule is said by which a statement of conformity was made. */
static void rule(struct page *p, struct tb_text *t, const struct tb_stored_verdict *v)
{
    struct tb_text told = { 0 };

    if (v->reason[0])
        tb_page_heading(p, tb_tr(p->tongue, "Why this could not be decided"));
    else
        tb_page_heading(p, tb_tr(p->tongue, "The rule by which this was decided"));
    if (v->reason[0])
        tb_page_text(p,
                     tb_page_say(t, tb_tr(p->tongue, "The burns cannot be held against the declaration: %s."),
                                 kept_words(&told, p->tongue, v->reason)));
    else if (v->rule[0])
        tb_page_text(p, kept_words(&told, p->tongue, v->rule));
    for (size_t i = 0; i < v->n_note; i++) {
        add_note(t, v->note[i]);
        tb_page_text(p, kept_words(&told, p->tongue, tb_text_str(t)));
    }
    tb_text_free(&told);
}

/* What the results of a laboratory do; those of a bench test would be a table. */
static void outcomes(struct page *p, struct tb_text *t, const struct story *s)
{
    tb_text_clear(t);
    for (size_t i = 0; i < s->recorded.n_outcome; i++) {
        tb_text_add(t, i ? tb_tr(s->tongue, "; ") : "");
        tb_text_add(t, tb_tr(s->tongue, s->recorded.outcome[i].meaning));
    }
    if (t->n)
        tb_page_pair(p, tb_tr(s->tongue, "What its answer does"), t->s);
}

/* Whoever reads that a lot is held reads what would end it; from the details of the verdict that is told. */
static void confirming(struct page *p, struct tb_text *t, const struct story *s, const struct tb_judged *v)
{
    const struct tb_stored_next *n = &s->recorded.confirm;
    struct tb_text test = { 0 }, supposed = { 0 };

    if (v->verdict == TB_FITS || !n->test || !*n->test || s->laboratory.settled ||
        strcmp(n->test, "withdraw") == 0) /* that is for whoever keeps the book */
        return;
    tb_next_clause(&test, s->tongue, n->part, n->name, n->bolts);
    tb_composition_in(&supposed, s->tongue, s->recorded.supposed);
    tb_page_pair(p,
                 v->verdict == TB_CONTRADICTS ? tb_tr(s->tongue, "The confirming test")
                                              : tb_tr(s->tongue, "The test to make next"),
                 supposed.n
                     ? tb_page_say(t, tb_tr(s->tongue, "%s, to see whether it is %s"), test.s, supposed.s)
                     : test.s);
    if (strcmp(n->test, "laboratory") == 0)
        outcomes(p, t, s);
    tb_text_free(&test);
    tb_text_free(&supposed);
}

/* The same sentences as beside the verdict at the bench: a ratio by itself is read as a chance. */
static void meaning(struct page *p, struct tb_text *t, const struct story *s)
{
    struct tb_meaning m;

    if (s->laboratory.settled)
        return;
    tb_stored_meaning(&m, &s->recorded);
    tb_text_clear(t);
    tb_meaning_words(t, s->tongue, &m);
    if (t->n)
        tb_page_text(p, t->s);
}

/* Cloth that nothing could be held against: a decision may rest on what it is likeliest to be. */
static void likeliest(struct page *p, struct tb_text *t, const struct story *s)
{
    tb_text_clear(t);
    if (unjudged(s) && tb_bolts_differ(&s->recorded))
        tb_bolts_likely_words(t, s->tongue, &s->recorded);
    else
        tb_stored_likeliest(t, s->tongue, &s->recorded);
    if (t->n)
        tb_page_pair(p, tb_tr(s->tongue, "Likeliest to be"), t->s);
}

/* Page one has its figures, and a table every answer: then neither is told a third time. */
static bool told_elsewhere(const struct story *s)
{
    bool all = s->laboratory.settled && s->laboratory.compared;

    for (size_t i = 0; i < s->analyses; i++)
        all = all && s->conform[i].n;
    return all;
}

/* Before the burns: it weighs more, and a reader may stop after it. */
static void laboratory(struct page *p, struct tb_text *t, const struct story *s)
{
    tb_text_clear(t);
    if (told_elsewhere(s)) {
        tb_text_add(
            t, tb_tr(s->tongue, "What was found by analysis stands above, and below clause by clause.\n"));
        tb_laboratory_beside_words(t, s->tongue, &s->laboratory, s->recorded.grade);
    } else {
        tb_laboratory_words(t, s->tongue, &s->laboratory, s->said.said, s->recorded.grade);
    }
    if (t->n && t->s[t->n - 1] == '\n')
        t->s[--t->n] = '\0';
    if (t->n)
        tb_page_text(p, t->s);
}

/* The verdict is the last one recorded on the words of the supplier: it has a moment and a person. */
void tb_case_found(struct case_page *c)
{
    struct page *p = &c->page;
    struct tb_text *t = &c->text;
    const struct story *s = c->story;
    const struct tb_judged *v = tb_story_judged(s);
    char odds[TB_STORY_ODDS], standing[TB_COUNTED];

    tb_page_heading(p, tb_tr(s->tongue, "How it was found"));
    laboratory(p, t, s);
    if (v) {
        stop(p, t, s, v);
        say_found(t, s, v);
        tb_page_text(p, tb_text_str(t));
        meaning(p, t, s);
        tb_story_odds(odds, s->tongue, &s->recorded.bounds, v->log_ratio, 4);
        tb_page_pair(
            p, s->laboratory.settled ? tb_tr(s->tongue, "Verdict of the burns") : tb_tr(s->tongue, "Verdict"),
            tb_tr(s->tongue, tb_grade_key(s->recorded.grade)));
        if (!unjudged(s) && !s->recorded.at_odds)
            tb_page_pair(p, tb_tr(s->tongue, "Evidence ratio"), odds);
        tb_text_clear(t);
        tb_bench_coverage(t, s->tongue, v->bolts_burnt, v->bolts_tested, v->bolts);
        tb_page_pair(p, tb_tr(s->tongue, "Rests on"), tb_text_str(t));
        tb_page_pair(p, tb_tr(s->tongue, "Judged"),
                     tb_page_say(t, tb_tr(s->tongue, "%s by %s"), v->judged_at, v->judged_by));
        tb_page_pair(p, tb_tr(s->tongue, "Standing of the lot"),
                     tb_lot_standing_words(standing, s->tongue, &s->of.lot));
        likeliest(p, t, s);
        confirming(p, t, s, v);
    } else {
        struct tb_text rests_on = { 0 };

        tb_bench_coverage(&rests_on, s->tongue, s->of.lot.bolts_burnt, s->of.lot.bolts_tested,
                          s->of.lot.bolts);
        tb_page_text(p, tb_page_say(t, tb_tr(s->tongue, "No verdict is recorded: %s."), rests_on.s));
        tb_page_pair(p, tb_tr(s->tongue, "Standing of the lot"),
                     tb_lot_standing_words(standing, s->tongue, &s->of.lot));
        tb_text_free(&rests_on);
    }
    if (v)
        rule(p, t, &s->recorded);
}
