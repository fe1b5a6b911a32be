/* case_bench.c - bench tests, and what a laboratory found, market by market and clause by clause. */
#include "report/case/case_page.h"
#include "report/case/conformity.h"
#include "tenterbook/fibre_words.h"
#include "tenterbook/seen_words.h"
#include "tenterbook/status.h"
#include "tenterbook/tell.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* One-sided where a clause has a limit on one side only. */
static void allowed_words(struct tb_text *out, enum tb_tongue to, const struct conform_share *s)
{
    char low[TB_PLAIN], high[TB_PLAIN];

    (void)tb_tongue_plain(low, to, s->low, 1);
    (void)tb_tongue_plain(high, to, s->high, 1);
    if (isnan(s->high))
        tb_text_addf(out, tb_tr(to, "%s or more"), low);
    else if (isnan(s->low))
        tb_text_addf(out, tb_tr(to, "up to %s"), high);
    else
        tb_text_addf(out, tb_tr(to, "%s to %s"), low, high);
}

/* How far a clause was looked up, where it was not read in its printed text. */
static const char *status_words(enum tb_tongue to, const char *status)
{
    static const char *const known[] = { TR_("second-hand"), TR_("reading"), TR_("memory"),
                                         TR_("common practice") };

    for (size_t i = 0; i < TB_COUNT(known); i++)
        if (strcmp(known[i], status) == 0)
            return tb_tr(to, known[i]);
    return status;
}

/* One share of one market: what the clause allows, what was found, what follows. */
static void share_row(struct page *p, const char *market, const struct conform_share *s)
{
    enum tb_tongue to = p->tongue;
    char declared[TB_PLAIN], found[TB_PLAIN], u[TB_PLAIN], both[2 * TB_PLAIN + 8];
    struct tb_text limits = { 0 }, clause = { 0 };

    (void)tb_tongue_plain(declared, to, s->declared, 1);
    (void)tb_tongue_plain(found, to, s->found, 1);
    (void)tb_tongue_plain(u, to, s->u, 1);
    (void)snprintf(both, sizeof both, "%s \xC2\xB1 %s", found, u);
    allowed_words(&limits, to, s);
    tb_text_add(&clause, s->clause);
    if (!tb_status_seen(s->status)) /* a clause nobody here has read is not shown as one that was */
        tb_text_addf(&clause, " (%s)", status_words(to, s->status));
    {
        const char *cell[] = { market,
                               tb_fibre_key_in(to, s->fibre),
                               declared,
                               both,
                               tb_text_str(&limits),
                               tb_answer_words(to, s->answer),
                               tb_text_str(&clause) };

        tb_page_row(p, cell);
    }
    tb_text_free(&limits);
    tb_text_free(&clause);
}

static void conformity(struct case_page *c, const struct conformity *a)
{
    static const struct page_column column[] = {
        { TR_("Market"), 0.09, false, false },    { TR_("Fibre"), 0.14, false, false },
        { TR_("Declared %"), 0.12, true, false }, { TR_("Found %"), 0.15, true, false },
        { TR_("Allowed %"), 0.15, true, false },  { TR_("Answer"), 0.15, false, false },
        { TR_("Clause"), 0.20, false, false },
    };
    struct page *p = &c->page;
    enum tb_tongue to = p->tongue;

    if (!a->n)
        return;
    tb_page_table_begin(p, column, TB_COUNT(column));
    for (size_t i = 0; i < a->n; i++)
        for (size_t k = 0; k < a->market[i].n; k++)
            share_row(p, a->market[i].market, &a->market[i].share[k]);
    tb_page_table_end(p);
    tb_page_small(
        p, tb_page_say(
               &c->text,
               tb_tr(to, "The rule: a share conforms, or does not, where the probability of that, with the "
                         "standard uncertainty given, is at least %.0f %%; between them it cannot be said. A "
                         "clause marked memory or second-hand was not read in its printed text."),
               100 * a->market[0].sure));
}

static void bench_tests(struct page *p, const struct story *s)
{
    static const struct page_column column[] = { { TR_("When"), 0.14, false, false },
                                                 { TR_("Swatch"), 0.20, false, true },
                                                 { TR_("Test"), 0.22, false, false },
                                                 { TR_("Result"), 0.26, false, false },
                                                 { TR_("By"), 0.18, false, false } };

    if (!s->of.tests)
        return;
    tb_page_table_begin(p, column, TB_COUNT(column));
    for (size_t i = 0; i < s->of.tests; i++) {
        const struct tb_bench_test *b = &s->of.test[i];
        char day[TB_DAY_LEN + 1];
        struct tb_text result = { 0 };

        (void)snprintf(day, sizeof day, "%s", b->tested_at);
        tb_results_in(&result, p->tongue, b->test, b->result);
        tb_page_row(p, (const char *[]){ day, b->tag, tb_channel_in(p->tongue, b->test), tb_text_str(&result),
                                         b->tested_by });
        tb_text_free(&result);
    }
    tb_page_table_end(p);
}

/* Page one has the figures of the analysis; the table below, where there is one, has them clause by clause. */
static const char *analysis_words(struct tb_text *t, enum tb_tongue to, const struct tb_analysis *a)
{
    char on[TB_PLAIN];
    const char *by = a->laboratory[0] ? a->laboratory : tb_tr(to, "a laboratory not named");

    (void)tb_tongue_date(on, to, a->analysed_on);
    return a->report[0] ? tb_page_say(t, tb_tr(to, "Analysis of the part '%s', %s, by %s, report %s."),
                                      tb_part_in(to, a->part), on, by, a->report)
                        : tb_page_say(t, tb_tr(to, "Analysis of the part '%s', %s, by %s."),
                                      tb_part_in(to, a->part), on, by);
}

void tb_case_bench(struct case_page *c)
{
    struct story *s = c->story;

    if (!s->of.tests && !s->analyses)
        return;
    tb_page_heading(&c->page, tb_tr(c->page.tongue, "Bench tests and laboratory"));
    bench_tests(&c->page, s);
    for (size_t i = 0; i < s->analyses; i++) {
        tb_page_text(&c->page, analysis_words(&c->text, c->page.tongue, &s->analysis[i]));
        conformity(c, &s->conform[i]);
    }
}
