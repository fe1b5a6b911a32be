/* month_open.c - the list of what is held or open, oldest first, and the first few of it for the page. */
#include "report/month/month_impl.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static const struct tb_column open_columns[] = {
    { "lot", N_("Lot"), NULL, TB_COL_TEXT, 0, 13, false, false },
    { "supplier", N_("Supplier"), NULL, TB_COL_TEXT, 0, 20, true, false },
    { "arrived", N_("Arrived"), NULL, TB_COL_DAY, 0, 10.5, false, false },
    { "days_open", N_("Days since"), NULL, TB_COL_COUNT, 0, 6, false, false },
    { "matter", N_("What is open"), NULL, TB_COL_TEXT, 0, 24, true, false },
    { "standing", N_("Standing"), NULL, TB_COL_TEXT, 0, 10, false, false },
    { "verdict", N_("Verdict"), NULL, TB_COL_TEXT, 0, 12, false, false },
    { "proof", N_("What it rests on"), NULL, TB_COL_TEXT, 0, 17, false, false },
    { "declared", N_("Declared, in the supplier's words"), NULL, TB_COL_TEXT, 0, 24, true, false },
    { "length_m", N_("Length"), "m", TB_COL_NUMBER, 1, 9, false, true },
    { "value", N_("Value"), NULL, TB_COL_NUMBER, 2, 11, false, false },
    { "currency", N_("Money"), NULL, TB_COL_TEXT, 0, 7, false, false },
    { "since", N_("Settled"), NULL, TB_COL_DAY, 0, 11, false, false },
    { "why", N_("Reason given"), NULL, TB_COL_TEXT, 0, 40, true, false },
    { "bolts", N_("Bolts"), NULL, TB_COL_COUNT, 0, 7, false, true },
};
#define OPEN_PRINTED 12

/* What somebody should do next, the gravest first. */
static const char *matter_of(const struct tb_month_lot *lot)
{
    bool held = lot->standing == TB_HELD;

    if (lot->verdict == TB_CONTRADICTS)
        return held ? _("decide: return, relabel, or release with a reason") : _("contradicted and not held");
    if (!lot->clear)
        return _("the declaration cannot be read: ask the supplier");
    if (lot->verdict == TB_UNDECIDED)
        return _("another test, or the laboratory");
    if (held)
        return _("held: decide");
    if (lot->verdict == TB_FITS)
        return _("release it");
    return lot->burns ? _("burnt, not judged yet") : _("nothing burnt yet");
}

/* The first few for the page: what contradicts or is held before the others, each by age, as they come. */
static void note_urgent(struct month *m, const struct tb_month_lot *lot, const char *proof, long days)
{
    struct urgent u = { lot->verdict != TB_CONTRADICTS && lot->standing != TB_HELD, NULL };
    struct tb_text t = { 0 };
    size_t at = m->urgents;

    while (at && m->urgent[at - 1].class > u.class)
        at--;
    if (at == MONTH_URGENT_MOST)
        return;
    /* the name stands last, where a long one is cut, and isolated: one written from right to left stays at its place */
    tb_text_addf(&t,
                 days == 1 ? _("%s, %ld day: %s (%s; %.1f m), \xE2\x81\xA8%s\xE2\x81\xA9")
                           : _("%s, %ld days: %s (%s; %.1f m), \xE2\x81\xA8%s\xE2\x81\xA9"),
                 lot->ref, days, matter_of(lot), proof, lot->metres, lot->supplier);
    u.line = tb_text_take(&t);
    if (m->urgents == MONTH_URGENT_MOST)
        free(m->urgent[--m->urgents].line);
    memmove(&m->urgent[at + 1], &m->urgent[at], (m->urgents - at) * sizeof *m->urgent);
    m->urgent[at] = u;
    m->urgents++;
}

/* Days are counted from the arrival, since that is when the time for a claim began to run. */
static tb_rc put_open(void *arg, const struct tb_month_lot *lot, struct tb_err *err)
{
    struct month *m = arg;
    struct tb_tab *t = m->open;
    char proof[64], today[TB_DAY_LEN + 1];
    long days = 0;
    char *since = lot->since ? tb_strndup(lot->since, TB_DAY_LEN) : NULL;
    tb_rc rc;

    (void)snprintf(today, sizeof today, "%.*s", TB_DAY_LEN, m->plan->now);
    if (tb_day_valid(lot->arrived))
        days = tb_day_number(today) - tb_day_number(lot->arrived);
    tb_month_proof(proof, lot);
    note_urgent(m, lot, proof, days);
    tb_put_text(t, lot->ref);
    tb_put_text(t, lot->supplier);
    tb_put_day(t, lot->arrived);
    tb_put_count(t, days);
    tb_put_text(t, matter_of(lot));
    tb_put_text(t, tb_standing_key(lot->standing));
    tb_put_text(t, tb_verdict_key(lot->verdict));
    tb_put_text(t, proof);
    tb_put_text(t, lot->declared);
    tb_put_number(t, lot->metres);
    tb_put_number(t, tb_month_value(lot));
    tb_put_text(t, lot->currency);
    tb_put_day(t, since);
    tb_put_text(t, lot->why);
    tb_put_count(t, lot->bolts);
    rc = tb_tab_row(t, err);
    free(since);
    return rc;
}

/* Older than the span, too: what is open does not end with the month. */
tb_rc tb_month_open(struct month *m, struct tb_err *err)
{
    struct tb_tab_plan plan = {
        .key = "open",
        .tab = _("Held and open"),
        .note =
            _("Lots that arrived before the end of the span and are neither released, relabelled nor "
              "returned. Rights over goods not as described run out with time and at the first cut: look at "
              "the oldest first."),
        .column = open_columns,
        .columns = TB_COUNT(open_columns),
        .printed = OPEN_PRINTED,
    };
    tb_rc rc = tb_month_list(&m->open, m, plan, _("Held and open matters"), err);

    if (rc == TB_OK)
        rc = m->source->open(m->source->from, put_open, m, err);
    return rc == TB_OK ? tb_tab_end(m->open, err) : rc;
}
