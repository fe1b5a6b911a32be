/* case_bench.c - bench tests, and what a laboratory found, market by market and clause by clause. */
#include "report/case/case_page.h"
#include "report/case/conformity.h"
#include "tenterbook/status.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static void figure(char out[24], double v)
{
    (void)snprintf(out, 24, isnan(v) ? "-" : "%.1f", v);
}

static const char *answer_words(enum tb_lab_answer answer)
{
    return answer == TB_LAB_CONFORMS ? _("conforms")
           : answer == TB_LAB_FAILS  ? _("does not conform")
                                     : _("cannot be said");
}

/* One-sided where a clause has a limit on one side only. */
static void allowed_words(struct tb_text *out, const struct conform_share *s)
{
    if (isnan(s->high))
        tb_text_addf(out, _("%.1f or more"), s->low);
    else if (isnan(s->low))
        tb_text_addf(out, _("up to %.1f"), s->high);
    else
        tb_text_addf(out, _("%.1f to %.1f"), s->low, s->high);
}

/* One share of one market: what the clause allows, what was found, what follows. */
static void share_row(struct page *p, const char *market, const struct conform_share *s)
{
    char declared[24], found[24], u[24], both[64];
    struct tb_text limits = { 0 }, clause = { 0 };

    figure(declared, s->declared);
    figure(found, s->found);
    figure(u, s->u);
    (void)snprintf(both, sizeof both, "%s \xC2\xB1 %s", found, u);
    allowed_words(&limits, s);
    tb_text_add(&clause, s->clause);
    if (!tb_status_seen(s->status)) /* a clause nobody here has read is not shown as one that was */
        tb_text_addf(&clause, " (%s)", s->status);
    {
        const char *cell[] = { market,
                               s->fibre,
                               declared,
                               both,
                               tb_text_str(&limits),
                               answer_words(s->answer),
                               tb_text_str(&clause) };

        tb_page_row(p, cell);
    }
    tb_text_free(&limits);
    tb_text_free(&clause);
}

static void conformity(struct case_page *c, const struct conformity *a)
{
    static const struct page_column column[] = {
        { N_("Market"), 0.09, false, false },    { N_("Fibre"), 0.14, false, false },
        { N_("Declared %"), 0.12, true, false }, { N_("Found %"), 0.15, true, false },
        { N_("Allowed %"), 0.15, true, false },  { N_("Answer"), 0.15, false, false },
        { N_("Clause"), 0.20, false, false },
    };
    struct page *p = &c->page;

    if (!a->n)
        return;
    tb_page_table_begin(p, column, TB_COUNT(column));
    for (size_t i = 0; i < a->n; i++)
        for (size_t k = 0; k < a->market[i].n; k++)
            share_row(p, a->market[i].market, &a->market[i].share[k]);
    tb_page_table_end(p);
    tb_page_small(
        p, tb_page_say(&c->text,
                       _("The rule: a share conforms, or does not, where the probability of that, with the "
                         "standard uncertainty given, is at least %.0f %%; between them it cannot be said. A "
                         "clause marked memory or second-hand was not read in its printed text."),
                       100 * a->market[0].sure));
}

static void bench_tests(struct page *p, const struct story *s)
{
    static const struct page_column column[] = { { N_("When"), 0.14, false, false },
                                                 { N_("Swatch"), 0.20, false, true },
                                                 { N_("Test"), 0.22, false, false },
                                                 { N_("Result"), 0.26, false, false },
                                                 { N_("By"), 0.18, false, false } };

    if (!s->of.tests)
        return;
    tb_page_table_begin(p, column, TB_COUNT(column));
    for (size_t i = 0; i < s->of.tests; i++) {
        const struct tb_bench_test *b = &s->of.test[i];
        char day[TB_DAY_LEN + 1];
        const char *cell[] = { day, b->tag, b->test, b->result, b->tested_by };

        (void)snprintf(day, sizeof day, "%s", b->tested_at);
        tb_page_row(p, cell);
    }
    tb_page_table_end(p);
}

/* Page one has the figures of the analysis; the table below, where there is one, has them clause by clause. */
static const char *analysis_words(struct tb_text *t, const struct tb_analysis *a)
{
    const char *by = a->laboratory[0] ? a->laboratory : _("a laboratory not named");

    return a->report[0] ? tb_page_say(t, _("Analysis of the part '%s', %s, by %s, report %s."),
                                      tb_part_key(a->part), a->analysed_on, by, a->report)
                        : tb_page_say(t, _("Analysis of the part '%s', %s, by %s."), tb_part_key(a->part),
                                      a->analysed_on, by);
}

void tb_case_bench(struct case_page *c)
{
    struct story *s = c->story;

    if (!s->of.tests && !s->analyses)
        return;
    tb_page_heading(&c->page, _("Bench tests and laboratory"));
    bench_tests(&c->page, s);
    for (size_t i = 0; i < s->analyses; i++) {
        tb_page_text(&c->page, analysis_words(&c->text, &s->analysis[i]));
        conformity(c, &s->conform[i]);
    }
}
