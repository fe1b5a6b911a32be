/* month.c - the month's workbook: which tabs, in which order. */
#include "report/month/month_impl.h"

#include "tenterbook/interval.h"
#include "tenterbook/outfile.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>

void tb_month_proof(char out[64], const struct tb_month_lot *lot)
{
    (void)snprintf(out, 64, lot->bolts == 1 ? _("%lld of %lld bolt burnt") : _("%lld of %lld bolts burnt"),
                   (long long)lot->bolts_burnt, (long long)lot->bolts);
}

void tb_month_title(struct tb_text *out, const struct month *m)
{
    if (m->source->site[0])
        tb_text_addf(out, _("Cloth received, %s \xC2\xB7 %s"), m->plan->name, m->source->site);
    else
        tb_text_addf(out, _("Cloth received, %s"), m->plan->name);
}

void tb_month_stood(struct tb_text *out, const struct month *m)
{
    char last[TB_DAY_LEN + 1], stood[32];

    tb_day_from_number(last, tb_day_number(m->plan->until) - 1);
    (void)snprintf(stood, sizeof stood, "%.10s %.5s UTC", m->plan->now, m->plan->now + 11);
    if (m->source->state[0])
        tb_text_addf(out, _("Deliveries that arrived from %s to %s, as the book stood at %s \xC2\xB7 %s"),
                     m->plan->from, last, stood, m->source->state);
    else
        tb_text_addf(out, _("Deliveries that arrived from %s to %s, as the book stood at %s"), m->plan->from,
                     last, stood);
}

/* How sure the count of contradicted lots lets us be, had the judged lots been drawn at random. */
static tb_rc interval(struct tb_month_sums *s, struct tb_err *err)
{
    int64_t judged = s->fits + s->contradicts + s->undecided;

    s->low = s->high = NAN;
    return judged ? tb_interval_exact(&s->low, &s->high, (long)s->contradicts, (long)judged, 0.95, err)
                  : TB_OK;
}

/*
 * The order of the tabs: what is read first stands first. The summary and the charts are begun before the lists they are
 * drawn from, and filled after them.
 */
static tb_rc fill(struct month *m, struct tb_err *err)
{
    tb_rc rc;

    if ((rc = tb_month_summary_begin(m, err)) != TB_OK || (rc = tb_month_charts_begin(m, err)) != TB_OK ||
        (rc = tb_month_goods(m, err)) != TB_OK || (rc = tb_month_suppliers(m, err)) != TB_OK ||
        (rc = tb_month_open(m, err)) != TB_OK || (rc = tb_month_claims(m, err)) != TB_OK ||
        (rc = tb_month_labels(m, err)) != TB_OK || (rc = tb_month_months(m, err)) != TB_OK ||
        (rc = tb_month_stakes(m, err)) != TB_OK || (rc = tb_month_found(m, err)) != TB_OK ||
        (rc = tb_month_charts_fill(m, err)) != TB_OK || (rc = tb_month_legend(m, err)) != TB_OK)
        return rc;
    if ((rc = m->source->work(&m->sums.work, m->source->from, err)) != TB_OK ||
        (rc = interval(&m->sums, err)) != TB_OK)
        return rc;
    return tb_month_summary_fill(m, err);
}

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
        free((char *)m->rank[i].s.name);
    for (size_t i = 0; i < m->pairs; i++) {
        free(m->pair[i].declared);
        free(m->pair[i].found);
    }
    if (m->found_column)
        for (size_t i = 0; i < m->columns; i++)
            free((char *)m->found_column[i + 1].key);
    for (size_t i = 0; i < m->urgents; i++)
        free(m->urgent[i].line);
    free_words(m->name, m->names);
    free_words(m->declared, m->rows);
    free_words(m->seen, m->columns);
    free(m->found_column);
    free(m->rank);
    free(m->trend);
    free(m->pair);
    free(m->cell);
}

static tb_rc begin(struct month *m, struct tb_err *err)
{
    struct tb_text title = { 0 };
    struct tb_workbook_plan w = { .path = m->plan->path, .subject = m->plan->name, .created = m->plan->now };
    tb_rc rc;

    tb_month_title(&title, m);
    w.title = tb_text_str(&title);
    rc = tb_workbook_open(&m->book, &w, err);
    tb_text_free(&title);
    return rc;
}

/* The page is on the disk before the workbook takes its name, and takes its own right after. */
static tb_rc finish(struct month *m, struct tb_err *err)
{
    struct tb_outfile page = { 0 };
    tb_rc rc = m->plan->page ? tb_month_page(&page, m, err) : TB_OK;

    if (rc != TB_OK) {
        tb_workbook_drop(m->book);
        return rc;
    }
    if ((rc = tb_workbook_close(m->book, err)) == TB_OK && m->plan->page)
        return tb_outfile_commit(&page, err);
    tb_outfile_drop(&page);
    return rc;
}

/* The sums are handed over only once all files have their names. */
tb_rc tb_month_write(struct tb_month_sums *out, const struct tb_month_plan *plan,
                     const struct tb_month_source *source, struct tb_err *err)
{
    struct month m = { .plan = plan, .source = source };
    tb_rc rc = begin(&m, err);

    if (rc != TB_OK)
        return rc;
    if ((rc = fill(&m, err)) != TB_OK)
        tb_workbook_drop(m.book);
    else if ((rc = finish(&m, err)) == TB_OK)
        *out = m.sums;
    clean(&m);
    return rc;
}
