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
TB_WORDS(tb_open_words, TB_OPEN_LABORATORY + 1, "'%s' is not why a lot is open", "", "nothing looked at",
         "words not readable", "undecided", "speaks against", "laboratory undecided");

/* --- what laboratories answered ----------------------------------------------------------------------------------- */

/* The latest of its part; answers to other words are none. */
static bool answers_these(const struct tb_known *k, size_t i)
{
    for (size_t later = i + 1; later < k->n; later++)
        if (k->analysis[later].part == k->analysis[i].part)
            return false;
    return *k->analysis[i].answers && strcmp(k->analysis[i].declared, k->said) == 0;
}

/* Each market once, separated by spaces. */
static void add_markets(struct tb_text *out, const char *answers, const char *answer)
{
    size_t n = strlen(answer);

    for (const char *p = answers; *p;) {
        size_t token = strcspn(p, " ");
        const char *colon = memchr(p, ':', token);
        size_t key = colon ? (size_t)(colon - p) : token;

        if (colon && token - key - 1 == n && strncmp(colon + 1, answer, n) == 0 &&
            !tb_word_listed(tb_text_str(out), p, key, " "))
            tb_text_addf(out, "%s%.*s", out->n ? " " : "", (int)key, p);
        p += token;
        p += *p == ' ';
    }
}

/* Where every part that was asked about conforms: a market that one part was not held against is none of them. */
static void keep_common(struct tb_text *markets, const char *answers)
{
    struct tb_text both = { 0 }, these = { 0 };

    add_markets(&these, answers, "conforms");
    for (const char *p = tb_text_str(markets); *p;) {
        size_t key = strcspn(p, " ");

        if (tb_word_listed(tb_text_str(&these), p, key, " "))
            tb_text_addf(&both, "%s%.*s", both.n ? " " : "", (int)key, p);
        p += key;
        p += *p == ' ';
    }
    tb_text_free(markets);
    tb_text_free(&these);
    *markets = both;
}

/* The markets an answer is about, and the last of the analyses that gave it. */
static const struct tb_analysis *asked(struct tb_text *markets, const struct tb_known *k,
                                       enum tb_lab_answer answer)
{
    const struct tb_analysis *last = NULL;

    for (size_t i = 0; i < k->n; i++) {
        const char *word = tb_lab_answer_key(answer);
        struct tb_text own = { 0 };

        if (!answers_these(k, i))
            continue;
        add_markets(&own, k->analysis[i].answers, word);
        if (own.n && answer == TB_LAB_CONFORMS && last)
            keep_common(markets, k->analysis[i].answers);
        else
            add_markets(markets, k->analysis[i].answers, word);
        last = own.n ? &k->analysis[i] : last;
        tb_text_free(&own);
    }
    return last;
}

static void take_laboratory(struct tb_concluded *out, const struct tb_analysis *a, const struct tb_known *k,
                            struct tb_arena *mem)
{
    struct tb_text found = { 0 };

    tb_analysis_words(&found, k->analysis, k->n);
    out->by = TB_BY_LABORATORY;
    out->record = a->id;
    out->on = a->analysed_on;
    out->laboratory = a->laboratory;
    out->report = a->report;
    out->found = tb_arena_take(mem, &found);
}

/* Whether a laboratory decides, and how. One that answered for a part of the cloth alone found nothing against the rest. */
static bool by_laboratory(struct tb_concluded *out, const struct tb_known *k, struct tb_arena *mem)
{
    static const enum tb_concluded_kind of[] = {
        [TB_LAB_UNSAID] = TB_OPEN, [TB_LAB_CONFORMS] = TB_CONFORMS, [TB_LAB_FAILS] = TB_DOES_NOT
    };
    const struct tb_analysis *last;
    struct tb_text markets = { 0 };
    struct tb_laboratory l;

    tb_laboratory_take(&l, k->analysis, k->n, k->said);
    if (l.answer == TB_LAB_UNSAID && !l.compared)
        return false;
    last = asked(&markets, k, l.answer);
    if (last && markets.n) {
        out->kind = of[l.answer];
        take_laboratory(out, last, k, mem);
    } else { /* parts that conform, and no market in which all of them were asked about */
        take_laboratory(out, &k->analysis[k->n - 1], k, mem);
    }
    out->open = out->kind == TB_OPEN ? TB_OPEN_LABORATORY : TB_NOT_OPEN;
    out->markets = tb_arena_take(mem, &markets);
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

static void by_verdict(struct tb_concluded *out, const struct tb_known *k, struct tb_arena *mem)
{
    bool readable = *k->said && k->clear;

    if (k->verdict.kind != TB_UNJUDGED) {
        out->by = k->tested ? TB_BY_BENCH_TEST : TB_BY_BURNING;
        out->record = k->judged ? k->judged : "";
        out->on = k->judged_at ? tb_arena_strndup(mem, k->judged_at, TB_DAY_LEN) : "";
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
                                  .markets = "",
                                  .bolts = "",
                                  .laboratory = "",
                                  .report = "",
                                  .found = "",
                                  .told = told };
    if (rc == TB_OK && !by_laboratory(out, k, mem))
        by_verdict(out, k, mem);
    return rc;
}
