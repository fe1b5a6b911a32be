/* month_claims.c - open claims: what is to be done next about goods not as declared, by when, what is overdue. */
#include "report/month/month_impl.h"
#include "tenterbook/figure.h"
#include "tenterbook/tell.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

struct claim_row {
    struct tb_claim_open of;
    const char *next, *state, *standing;
    bool dated;
};
#define ROW(member) TB_FROM(struct claim_row, member)
#define CLAIM(member) ROW(of.member)

static void put_left(struct tb_tab *t, const void *record)
{
    const struct claim_row *r = record;

    if (r->dated)
        tb_put_count(t, r->of.left);
    else
        tb_put_none(t);
}

static void put_length_kind(struct tb_tab *t, const void *record)
{
    const struct tb_claim_open *c = &((const struct claim_row *)record)->of;

    tb_put_text(t, tb_length_kind(c->bolts, c->derived, c->unknown));
}

/* An amount of a claim that is in another money than its row, such as an answer in dollars to a claim in euros. */
static bool foreign(const struct tb_claim_open *c, const struct tb_claim_sum *s)
{
    return !isnan(s->amount) && strcmp(s->currency, c->amount_currency) != 0;
}

/* What is awaited is in the money of the agreement. */
static struct tb_claim_sum awaited_of(const struct tb_claim_open *c)
{
    return (struct tb_claim_sum){ c->awaited,
                                  isnan(c->agreed.amount) ? c->amount_currency : c->agreed.currency };
}

/* Amounts of different money are never in one column: those of another are words beside. */
static void put_sum(struct tb_tab *t, const struct tb_claim_open *c, const struct tb_claim_sum *s)
{
    tb_put_number(t, foreign(c, s) ? NAN : s->amount);
}

static void put_asked(struct tb_tab *t, const void *record)
{
    const struct tb_claim_open *c = &((const struct claim_row *)record)->of;

    put_sum(t, c, &c->asked);
}

static void put_offered(struct tb_tab *t, const void *record)
{
    const struct tb_claim_open *c = &((const struct claim_row *)record)->of;

    put_sum(t, c, &c->offered);
}

static void put_agreed(struct tb_tab *t, const void *record)
{
    const struct tb_claim_open *c = &((const struct claim_row *)record)->of;

    put_sum(t, c, &c->agreed);
}

static void put_awaited(struct tb_tab *t, const void *record)
{
    const struct tb_claim_open *c = &((const struct claim_row *)record)->of;
    const struct tb_claim_sum s = awaited_of(c);

    put_sum(t, c, &s);
}

/* "claimed 400.00 EUR; offered 380.00 EUR"; "" where all is in the money of the row. */
static void say_foreign(struct tb_text *out, const struct tb_claim_open *c)
{
    const struct tb_claim_sum awaited = awaited_of(c);
    const struct {
        const char *words;
        const struct tb_claim_sum *sum;
    } each[] = { { _("claimed %.2f %s"), &c->asked },
                 { _("offered %.2f %s"), &c->offered },
                 { _("agreed %.2f %s"), &c->agreed },
                 { _("awaited %.2f %s"), &awaited } };

    for (size_t i = 0; i < TB_COUNT(each); i++)
        if (foreign(c, each[i].sum)) {
            tb_text_add(out, out->n ? "; " : "");
            tb_text_addf(out, each[i].words, tb_cents(each[i].sum->amount), each[i].sum->currency);
        }
}

static void put_foreign(struct tb_tab *t, const void *record)
{
    struct tb_text words = { 0 };

    say_foreign(&words, &((const struct claim_row *)record)->of);
    tb_put_text(t, tb_text_str(&words));
    tb_text_free(&words);
}

/* Printed: what is decided by. Beside, on the screen and in the twin: what it rests on. */
static const struct tb_column columns[] = {
    { "lot", N_("Lot"), NULL, TB_COL_TEXT, 0, 13, false, false, CLAIM(lot) },
    { "supplier", N_("Supplier"), NULL, TB_COL_TEXT, 0, 22, true, false, CLAIM(supplier) },
    { "conclusion", N_("Conclusion"), NULL, TB_COL_TEXT, 0, 12, true, false,
      TB_FROM_OF(struct claim_row, of.concluded.kind, &tb_concluded_words) },
    { "next", N_("Next step"), NULL, TB_COL_TEXT, 0, 20, true, false, ROW(next) },
    { "due", N_("Due"), NULL, TB_COL_DAY, 0, 10.5, false, false, CLAIM(due) },
    { "days_left", N_("Days left"), NULL, TB_COL_COUNT, 0, 7, false, false, TB_FROM_BY(put_left) },
    { "state", N_("State"), NULL, TB_COL_TEXT, 0, 10, false, false, ROW(state) },
    { "standing", N_("Standing"), NULL, TB_COL_TEXT, 0, 11, false, false, ROW(standing) },
    { "currency", N_("Money"), NULL, TB_COL_TEXT, 0, 7, false, false, CLAIM(amount_currency) },
    { "claimed", N_("Claimed"), NULL, TB_COL_NUMBER, 2, 11, false, false, TB_FROM_BY(put_asked) },
    { "agreed", N_("Agreed"), NULL, TB_COL_NUMBER, 2, 11, false, false, TB_FROM_BY(put_agreed) },
    { "recovered", N_("Recovered"), NULL, TB_COL_NUMBER, 2, 11, false, false, CLAIM(recovered) },
    { "awaited", N_("Awaited"), NULL, TB_COL_NUMBER, 2, 11, false, false, TB_FROM_BY(put_awaited) },
    { "other_money", N_("In another money"), NULL, TB_COL_TEXT, 0, 15, true, false, TB_FROM_BY(put_foreign) },
    { "due_by", N_("Who says so"), NULL, TB_COL_TEXT, 0, 26, true, false, CLAIM(due_by) },
    { "opened", N_("Dispute opened"), NULL, TB_COL_DAY, 0, 11, false, false, CLAIM(opened_on) },
    { "bolts_used", N_("Bolts cut into"), NULL, TB_COL_COUNT, 0, 8, false, true, CLAIM(bolts_used) },
    { "bolts_claimed", N_("Bolts claimed"), NULL, TB_COL_COUNT, 0, 8, false, true, CLAIM(claimed.bolts) },
    { "length_m", N_("Length claimed"), "m", TB_COL_NUMBER, 1, 9, false, true, CLAIM(claimed.metres) },
    { "weight_kg", N_("Weight claimed, where the length is not known"), "kg", TB_COL_NUMBER, 2, 11, false,
      true, CLAIM(claimed.kg) },
    { "offered", N_("Offered by the supplier"), NULL, TB_COL_NUMBER, 2, 11, false, false,
      TB_FROM_BY(put_offered) },
    { "invoiced_returned", N_("Invoiced, of goods sent back"), NULL, TB_COL_NUMBER, 2, 11, false, false,
      CLAIM(invoiced.amount) },
    { "length_kind", N_("How the length is known"), NULL, TB_COL_TEXT, 0, 22, false, false,
      TB_FROM_BY(put_length_kind) },
};

#define CLAIMS_PRINTED 13 /* and the amounts in another money, where there are any */

static const struct tb_emphasis emphasis[] = {
    { "state", "overdue", TB_TONE_ALARM },      { "state", "no day", TB_TONE_DOUBT },
    { "state", "no terms set", TB_TONE_ALARM }, { "state", "without delay", TB_TONE_ALARM },
    { "standing", "held", TB_TONE_ALARM },
};

/* A claim without a day due says so in a word: an empty cell would pass for "not due". */
static tb_rc fill(struct month *m, struct tb_err *err)
{
    tb_rc rc = TB_OK;

    for (size_t i = 0; i < m->plan->claims && rc == TB_OK; i++) {
        struct claim_row r = { .of = m->plan->claim[i] };

        r.dated = r.of.due && r.of.due[0];
        r.next = tb_claim_state_words(r.of.state);
        r.state = r.of.overdue  ? _("overdue")
                  : r.dated     ? _("in time")
                  : r.of.unsaid ? tb_undated_reason(r.of.undated)
                                : _("no day");
        r.standing =
            tb_month_standing(r.of.standing, r.of.released_in_part, r.of.held_in_part, r.of.returned_in_part);
        m->sums.claims++;
        m->sums.claims_overdue += r.of.overdue;
        m->sums.claims_unsaid += r.of.unsaid;
        rc = tb_tab_record(m->tab[TAB_CLAIMS], &r, err);
    }
    return rc;
}

/* An empty list says that it is meant to be empty; one more column is printed where it says something. */
static void prepare(struct month *m, struct tb_tab_plan *plan)
{
    struct tb_text words = { 0 };

    for (size_t i = 0; i < m->plan->claims; i++)
        say_foreign(&words, &m->plan->claim[i]);
    if (words.n)
        plan->printed = CLAIMS_PRINTED + 1;
    tb_text_free(&words);
    if (!m->plan->claims)
        plan->note =
            _("None: no claim is open. Information, not legal advice: contract, official text and local "
              "counsel decide.");
}

const struct sheet tb_month_claims = {
    .key = "claims",
    .tab = N_("Claims"),
    .title = N_("Open claims"),
    .note = N_("Lots held or in dispute, the first that is due at the top, whenever they arrived. "
               "Information, not legal "
               "advice: contract, official text and local counsel decide."),
    .column = columns,
    .columns = TB_COUNT(columns),
    .printed = CLAIMS_PRINTED,
    .emphasis = emphasis,
    .emphases = TB_COUNT(emphasis),
    .prepare = prepare,
    .fill = fill,
};
