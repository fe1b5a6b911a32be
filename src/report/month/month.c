/* month.c - the month's workbook: its sheets, begun and filled in the order of their tabs. */
#include "report/month/month_impl.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static const struct sheet *const sheets[MONTH_TABS] = {
    [TAB_SUMMARY] = &tb_month_summary, [TAB_CHARTS] = &tb_month_charts,       [TAB_LOTS] = &tb_month_lots,
    [TAB_BOLTS] = &tb_month_bolts,     [TAB_SUPPLIERS] = &tb_month_suppliers, [TAB_OPEN] = &tb_month_open,
    [TAB_CLAIMS] = &tb_month_claims,   [TAB_MONEY] = &tb_month_money,         [TAB_LABELS] = &tb_month_labels,
    [TAB_MONTHS] = &tb_month_months,   [TAB_SCORES] = &tb_month_scores,       [TAB_STAKES] = &tb_month_stakes,
    [TAB_FOUND] = &tb_month_found,     [TAB_LEGEND] = &tb_month_legend,
};

static const struct tb_emphasis emphasis[] = {
    { "conclusion", "does not conform", TB_TONE_ALARM },
    { "conclusion", "open", TB_TONE_DOUBT },
    { "conclusion_of_lot", "does not conform", TB_TONE_ALARM },
    { "conclusion_of_lot", "open", TB_TONE_DOUBT },
    { "verdict", "contradicts", TB_TONE_ALARM },
    { "verdict", "undecided", TB_TONE_DOUBT },
    { "verdict", "speaks against", TB_TONE_DOUBT },
    { "standing", "held", TB_TONE_ALARM },
    { "standing", "held in part", TB_TONE_ALARM },
    { "standing", "released in part", TB_TONE_DOUBT },
    { "standing", "waiting", TB_TONE_DOUBT },
};

const char *tb_month_twin(size_t i)
{
    for (size_t t = 0; t < MONTH_TABS; t++)
        if (!sheets[t]->no_twin && i-- == 0)
            return sheets[t]->key;
    return NULL;
}

/* --- words of the whole span ----------------------------------------------------------------------------------- */

static void say_title(struct month *m)
{
    if (m->source->site[0])
        tb_text_addf(&m->title, _("Cloth received, %s \xC2\xB7 %s"), m->plan->name, m->source->site);
    else
        tb_text_addf(&m->title, _("Cloth received, %s"), m->plan->name);
}

static void say_stood(struct month *m)
{
    char last[TB_DAY_LEN + 1], stood[32];

    tb_day_from_number(last, tb_day_number(m->plan->until) - 1);
    (void)snprintf(stood, sizeof stood, "%.10s %.5s UTC", m->plan->now, m->plan->now + 11);
    if (m->plan->earlier) {
        tb_text_addf(&m->stood,
                     _("Deliveries that arrived from %s to %s, as they were known at %s: nothing that was "
                       "recorded later "
                       "is in these sheets \xC2\xB7 %s"),
                     m->plan->from, last, stood, m->source->state);
        return;
    }
    if (m->source->state[0])
        tb_text_addf(&m->stood,
                     _("Deliveries that arrived from %s to %s, as the book stood at %s \xC2\xB7 %s"),
                     m->plan->from, last, stood, m->source->state);
    else
        tb_text_addf(&m->stood, _("Deliveries that arrived from %s to %s, as the book stood at %s"),
                     m->plan->from, last, stood);
}

/* A span without a delivery is no span of nothing but zeros, and one before the book begins is not called empty. */
static void say_nothing(struct month *m)
{
    const char *first = m->source->first;
    char *out = m->sums.nothing;
    const size_t room = sizeof m->sums.nothing;

    if (m->sums.work.deliveries)
        return;
    if (first && !*first)
        (void)snprintf(out, room, "%s", _("no delivery arrived, and none before or after"));
    else if (first && strcmp(first, m->plan->until) >= 0)
        (void)snprintf(out, room, _("the book begins later: its first delivery arrived on %s"), first);
    else
        (void)snprintf(out, room, "%s", _("no delivery arrived"));
}

/* --- sheets ----------------------------------------------------------------------------------------------------- */

static tb_rc begin_sheet(struct month *m, enum month_tab at, struct tb_err *err)
{
    const struct sheet *s = sheets[at];
    bool usual = !s->emphasis && s->layout == TB_LAYOUT_LIST;
    struct tb_text title = { 0 };
    struct tb_tab_plan plan = { .key = s->key,
                                .tab = _(s->tab),
                                .note = s->note ? _(s->note) : NULL,
                                .layout = s->layout,
                                .column = s->column,
                                .columns = s->columns,
                                .emphasis = usual ? emphasis : s->emphasis,
                                .emphases = usual ? TB_COUNT(emphasis) : s->emphases,
                                .printed = s->printed,
                                .print_most = m->plan->print_all ? 0 : MONTH_PRINT_MOST,
                                .folded = s->folded && !m->plan->print_all,
                                .no_twin = s->no_twin };
    tb_rc rc;

    tb_text_add(&title, s->title ? _(s->title) : "");
    if (!s->no_span)
        tb_text_addf(&title, " \xC2\xB7 %s", m->plan->name);
    plan.title = tb_text_str(&title);
    if (s->prepare)
        s->prepare(m, &plan);
    rc = tb_tab_begin(&m->tab[at], m->book, &plan, err);
    tb_text_free(&title);
    return rc;
}

static tb_rc fill_sheet(struct month *m, enum month_tab at, struct tb_err *err)
{
    tb_rc rc = sheets[at]->fill(m, err);

    return rc == TB_OK ? tb_tab_end(m->tab[at], err) : rc;
}

/* Each begins before the next is filled; those drawn from the others are filled after them. */
static tb_rc fill(struct month *m, struct tb_err *err)
{
    struct tb_month_sums *s = &m->sums;
    tb_rc rc = TB_OK;

    for (enum month_tab at = 0; at < MONTH_TABS && rc == TB_OK; at++)
        if ((rc = begin_sheet(m, at, err)) == TB_OK && sheets[at]->fill && !sheets[at]->last)
            rc = fill_sheet(m, at, err);
    if (rc != TB_OK || (rc = m->source->work(&s->work, m->source->from, err)) != TB_OK ||
        (rc = tb_month_rate(&m->rate, &m->tally, err)) != TB_OK)
        return rc;
    say_nothing(m);
    s->low = m->rate.low;
    s->high = m->rate.high;
    for (enum month_tab at = 0; at < MONTH_TABS && rc == TB_OK; at++)
        if (sheets[at]->last)
            rc = fill_sheet(m, at, err);
    return rc;
}

/* --- the file --------------------------------------------------------------------------------------------------- */

/* Words that were copied one by one. */
static void free_words(char **word, size_t n)
{
    for (size_t i = 0; i < n; i++)
        free(word[i]);
    free(word);
}

/* Everything but the workbook, which closing or dropping has freed. */
static void clean(struct month *m)
{
    for (size_t i = 0; i < m->ranks; i++)
        free(m->rank[i].name);
    for (size_t i = 0; i < m->pairs; i++) {
        free(m->pair[i].declared);
        free(m->pair[i].found);
    }
    if (m->found_column)
        for (size_t i = 0; i < m->columns; i++)
            free((char *)m->found_column[i + 1].key);
    for (size_t i = 0; i < m->urgents; i++)
        free(m->urgent[i].line);
    tb_month_scores_free(m);
    tb_law_free(m->own_law);
    free_words(m->declared, m->rows);
    free_words(m->seen, m->columns);
    free(m->found_column);
    free(m->rank);
    free(m->trend);
    free(m->pair);
    free(m->cell);
    tb_text_free(&m->title);
    tb_text_free(&m->stood);
}

/* The page is begun first: a name that cannot be had is told before a million rows are written. */
static tb_rc begin(struct month *m, const struct tb_workbook_plan *w, struct tb_err *err)
{
    const struct tb_month_plan *plan = m->plan;
    tb_rc rc = plan->page ? tb_outset_add(&m->page, plan->files, plan->page, ".pdf", err) : TB_OK;

    return rc == TB_OK ? tb_workbook_open(&m->book, w, err) : rc;
}

/* The sums are handed over only once all files are on the disk. */
tb_rc tb_month_write(struct tb_month_sums *out, const struct tb_month_plan *plan,
                     const struct tb_month_source *source, struct tb_err *err)
{
    struct month m = { .plan = plan, .source = source, .base_rate = plan->base_rate };
    struct tb_workbook_plan w = {
        .files = plan->files, .path = plan->path, .subject = plan->name, .created = plan->now
    };
    tb_rc rc;

    say_title(&m);
    say_stood(&m);
    (void)snprintf(m.today, sizeof m.today, "%.*s", TB_DAY_LEN, plan->now);
    w.title = tb_text_str(&m.title);
    if ((rc = begin(&m, &w, err)) == TB_OK) {
        if ((rc = fill(&m, err)) == TB_OK && m.page)
            rc = tb_month_page(&m, err);
        if (rc != TB_OK)
            tb_workbook_drop(m.book);
        else if ((rc = tb_workbook_close(m.book, err)) == TB_OK)
            *out = m.sums;
    }
    clean(&m);
    return rc;
}
