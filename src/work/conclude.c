/*
 * conclude.c - what is concluded of a lot, from what is known of it. Pure.
 *
 * A laboratory weighs more than what was seen at the bench. That a burn outweighs a test without a flame, or the other way about, is
 * nobody's rule: both are observations of one verdict, each with the weight its published results carry.
 */
#include "tenterbook/concluded.h"

#include "tenterbook/act_bench.h"

#include <string.h>

TB_WORDS(tb_concluded_words, TB_NOTHING_AGAINST + 1, "'%s' is not a conclusion", TR_("open"), TR_("conforms"),
         TR_("does not conform"), TR_("no finding against it"));
TB_WORDS(tb_ground_words, TB_BY_LABORATORY + 1, "'%s' is not what a conclusion rests on", "", "burning",
         "bench test", "laboratory");
TB_WORDS(tb_open_words, TB_OPEN_DISAGREE + 1, "'%s' is not why a lot is open", "", "nothing looked at",
         "words not readable", "undecided", "speaks against", "laboratory undecided",
         "laboratories disagree");

/* --- what laboratories answered ----------------------------------------------------------------------------------- */

/* The last of the analyses of these words that said so; any of them for no answer. */
static const struct tb_analysis *last_that(const struct tb_known *k, const char *answer)
{
    struct tb_text word = { 0 };
    const struct tb_analysis *last = NULL;

    tb_text_addf(&word, ":%s", answer);
    for (size_t i = 0; i < k->n; i++)
        if (strcmp(k->analysis[i].declared, k->said) == 0 && strstr(k->analysis[i].answers, word.s))
            last = &k->analysis[i];
    tb_text_free(&word);
    return last ? last : &k->analysis[k->n - 1];
}

static void take_laboratory(struct tb_concluded *out, const struct tb_analysis *a, const struct tb_known *k,
                            struct tb_arena *mem)
{
    struct tb_text found = { 0 };

    if (!tb_analysis_stands(k->analysis, k->n, (size_t)(a - k->analysis)))
        tb_analysis_words(&found, a, 1);
    tb_analysis_words(&found, k->analysis, k->n);
    out->by = TB_BY_LABORATORY;
    out->record = a->id;
    out->on = a->analysed_on;
    out->laboratory = a->laboratory;
    out->report = a->report;
    out->found = tb_arena_take(mem, &found);
}

static const char *markets_of(const struct tb_laboratory *l, const struct tb_known *k, enum tb_lab_come come,
                              struct tb_arena *mem)
{
    struct tb_text t = { 0 };

    tb_laboratory_markets(&t, l, k->said, come);
    return tb_arena_take(mem, &t);
}

/*
 * Whether a laboratory decides, and how. One that answered for a part of the cloth alone found nothing against the rest. Two that
 * contradict each other were sent different cloth, or one of them is wrong: neither is for its day to decide.
 */
static bool by_laboratory(struct tb_concluded *out, const struct tb_known *k, struct tb_arena *mem)
{
    static const enum tb_concluded_kind of[] = {
        [TB_LAB_UNSAID] = TB_OPEN, [TB_LAB_CONFORMS] = TB_CONFORMS, [TB_LAB_FAILS] = TB_DOES_NOT
    };
    static const enum tb_lab_come come[] = {
        [TB_LAB_UNSAID] = TB_LAB_OPEN, [TB_LAB_CONFORMS] = TB_LAB_KEPT, [TB_LAB_FAILS] = TB_LAB_BROKEN
    };
    struct tb_laboratory l;

    tb_laboratory_take(&l, k->analysis, k->n, k->said);
    if (l.answer == TB_LAB_UNSAID && !l.compared && !l.disagree)
        return false;
    out->markets = markets_of(&l, k, l.disagree ? TB_LAB_OPPOSED : come[l.answer], mem);
    out->kind = *out->markets ? of[l.answer] : TB_OPEN; /* no market in which all parts were asked about */
    if (out->kind == TB_DOES_NOT)
        out->kept = markets_of(&l, k, TB_LAB_KEPT, mem);
    take_laboratory(out,
                    l.disagree || !*out->markets ? &k->analysis[k->n - 1]
                                                 : last_that(k, tb_lab_answer_key(l.answer)),
                    k, mem);
    out->open = out->kind != TB_OPEN ? TB_NOT_OPEN : l.disagree ? TB_OPEN_DISAGREE : TB_OPEN_LABORATORY;
    out->opposite = l.opposite;
    out->apart = l.apart;
    return true;
}

/* --- what was seen at the bench ------------------------------------------------------------------------------------ */

/* One a line, as a list people read. */
static const char *bolts_of(const char *lines, struct tb_arena *mem)
{
    struct tb_text t = { 0 };

    for (const char *p = lines ? lines : ""; *p;) {
        size_t n = strcspn(p, "\n");

        tb_text_addf(&t, "%s%.*s", t.n ? ", " : "", (int)n, p);
        p += n;
        p += *p == '\n';
    }
    return tb_arena_take(mem, &t);
}

/* A burn is told by the day it burned. Typed up later, it has both days; where the book does not say, that of the verdict. */
static void take_days(struct tb_concluded *out, const struct tb_known *k, struct tb_arena *mem)
{
    const char *typed = k->seen && strlen(k->seen) > TB_DAY_LEN ? k->seen + TB_DAY_LEN + 1 : "";

    if (k->seen)
        out->on = tb_arena_strndup(mem, k->seen, TB_DAY_LEN);
    else
        out->on = k->judged_at ? tb_arena_strndup(mem, k->judged_at, TB_DAY_LEN) : "";
    if (*typed && strcmp(typed, out->on) > 0)
        out->typed = tb_arena_strdup(mem, typed);
}

static void by_verdict(struct tb_concluded *out, const struct tb_known *k, struct tb_arena *mem)
{
    bool readable = *k->said && k->clear;

    if (k->verdict.kind != TB_UNJUDGED) {
        out->by = k->tested ? TB_BY_BENCH_TEST : TB_BY_BURNING;
        out->record = k->judged ? k->judged : "";
        take_days(out, k, mem);
    } else if (k->n) {
        take_laboratory(out, &k->analysis[k->n - 1], k, mem);
    }
    if (readable && k->verdict.kind == TB_CONTRADICTS) {
        out->kind = TB_DOES_NOT;
        out->bolts = bolts_of(k->against, mem);
    } else if (readable && k->verdict.kind == TB_FITS) {
        out->kind = TB_NOTHING_AGAINST;
    } else {
        out->open = !readable                                    ? TB_OPEN_WORDS
                    : out->told.grade == TB_GRADE_SPEAKS_AGAINST ? TB_OPEN_AGAINST
                    : k->verdict.kind != TB_UNJUDGED             ? TB_OPEN_UNDECIDED
                    : k->n                                       ? TB_OPEN_LABORATORY
                                                                 : TB_OPEN_UNTESTED;
    }
}

tb_rc tb_conclude(struct tb_concluded *out, const struct tb_known *k, struct tb_arena *mem,
                  struct tb_err *err)
{
    tb_rc rc = tb_told_verdict_read(&out->told, &k->verdict, err);
    struct tb_told_verdict told = out->told;

    *out = (struct tb_concluded){ .record = "",
                                  .on = "",
                                  .typed = "",
                                  .markets = "",
                                  .kept = "",
                                  .bolts = "",
                                  .laboratory = "",
                                  .report = "",
                                  .found = "",
                                  .told = told };
    if (rc == TB_OK && !by_laboratory(out, k, mem))
        by_verdict(out, k, mem);
    return rc;
}
