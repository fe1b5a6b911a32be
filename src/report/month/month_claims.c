/* month_claims.c - open claims: what is to be done next about goods not as declared, by when, what is overdue. */
#include "report/month/month_impl.h"

#include "tenterbook/tell.h"

#include <math.h>

static const struct tb_column columns[] = {
    { "lot", N_("Lot"), NULL, TB_COL_TEXT, 0, 13, false, false },
    { "supplier", N_("Supplier"), NULL, TB_COL_TEXT, 0, 22, true, false },
    { "next", N_("Next step"), NULL, TB_COL_TEXT, 0, 20, true, false },
    { "due", N_("Due"), NULL, TB_COL_DAY, 0, 10.5, false, false },
    { "days_left", N_("Days left"), NULL, TB_COL_COUNT, 0, 7, false, false },
    { "state", N_("State"), NULL, TB_COL_TEXT, 0, 10, false, false },
    { "due_by", N_("Who says so"), NULL, TB_COL_TEXT, 0, 26, true, false },
    { "opened", N_("Dispute opened"), NULL, TB_COL_DAY, 0, 11, false, false },
    { "standing", N_("Standing"), NULL, TB_COL_TEXT, 0, 11, false, false },
    { "bolts_used", N_("Bolts cut into"), NULL, TB_COL_COUNT, 0, 8, false, true },
    { "length_m", N_("Length"), "m", TB_COL_NUMBER, 1, 9, false, true },
    { "amount", N_("Amount"), NULL, TB_COL_NUMBER, 2, 11, false, false },
    { "currency", N_("Money"), NULL, TB_COL_TEXT, 0, 7, false, false },
};

static const struct tb_emphasis emphasis[] = {
    { "state", "overdue", TB_TONE_ALARM },
    { "state", "no day", TB_TONE_DOUBT },
    { "standing", "held", TB_TONE_ALARM },
};

/* A claim without a day due says so in a word: an empty cell would pass for "not due". */
static tb_rc put(struct tb_tab *t, const struct tb_claim_open *c, struct tb_err *err)
{
    bool dated = c->due && c->due[0];

    tb_put_text(t, c->lot);
    tb_put_text(t, c->supplier);
    tb_put_text(t, tb_claim_state_words(c->state));
    tb_put_day(t, c->due);
    if (dated)
        tb_put_count(t, c->left);
    else
        tb_put_none(t);
    tb_put_text(t, c->overdue ? _("overdue") : dated ? _("in time") : _("no day"));
    tb_put_text(t, c->due_by);
    tb_put_day(t, c->opened_on);
    tb_put_text(t, tb_standing_key(c->standing));
    tb_put_count(t, c->bolts_used);
    tb_put_number(t, c->metres);
    tb_put_number(t, c->amount);
    tb_put_text(t, c->amount_currency);
    return tb_tab_row(t, err);
}

tb_rc tb_month_claims(struct month *m, struct tb_err *err)
{
    struct tb_tab_plan plan = {
        .key = "claims",
        .tab = _("Claims"),
        .note = _(
            "Lots held or in dispute, what is due first first, whenever they arrived. Information, not legal "
            "advice: contract, official text and local counsel decide."),
        .column = columns,
        .columns = TB_COUNT(columns),
        .emphasis = emphasis,
        .emphases = TB_COUNT(emphasis),
    };
    tb_rc rc = tb_month_list(&m->claims, m, plan, _("Open claims"), err);

    for (size_t i = 0; i < m->plan->claims && rc == TB_OK; i++) {
        rc = put(m->claims, &m->plan->claim[i], err);
        m->sums.claims++;
        m->sums.claims_overdue += m->plan->claim[i].overdue;
    }
    return rc == TB_OK ? tb_tab_end(m->claims, err) : rc;
}
