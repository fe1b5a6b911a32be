/* month_lists.c - the lists: lots, bolts, suppliers, and what is still open. */
#include "report/month_impl.h"

#include "tenterbook/interval.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static const struct tb_column lot_columns[] = {
    { "lot", "Lot", NULL, TB_COL_TEXT, 0, 13, false, false },
    { "arrived", "Arrived", NULL, TB_COL_DAY, 0, 10.5, false, false },
    { "supplier", "Supplier", NULL, TB_COL_TEXT, 0, 20, true, false },
    { "article", "Article", NULL, TB_COL_TEXT, 0, 12, true, false },
    { "colour", "Colour", NULL, TB_COL_TEXT, 0, 9, true, false },
    { "dye_lot", "Dye lot", NULL, TB_COL_TEXT, 0, 8, true, false },
    { "declared", "Declared, in the supplier's words", NULL, TB_COL_TEXT, 0, 28, true, false },
    { "bolts", "Bolts", NULL, TB_COL_COUNT, 0, 6.5, false, true },
    { "length_m", "Length", "m", TB_COL_NUMBER, 1, 9, false, true },
    { "verdict", "Verdict", NULL, TB_COL_TEXT, 0, 12, false, false },
    { "proof", "What it rests on", NULL, TB_COL_TEXT, 0, 19, false, false },
    { "evidence_ratio", "Evidence ratio", NULL, TB_COL_NUMBER, TB_DECIMALS_FREE, 9, false, false },
    { "burns", "Burns", NULL, TB_COL_COUNT, 0, 7, false, true },
    { "standing", "Standing", NULL, TB_COL_TEXT, 0, 11.5, false, false },
    { "value", "Value", NULL, TB_COL_NUMBER, 2, 11, false, false },
    { "currency", "Money", NULL, TB_COL_TEXT, 0, 7, false, false },
};

static const struct tb_column bolt_columns[] = {
    { "bolt", "Bolt", NULL, TB_COL_TEXT, 0, 16, false, false },
    { "lot", "Lot", NULL, TB_COL_TEXT, 0, 14, false, false },
    { "arrived", "Arrived", NULL, TB_COL_DAY, 0, 11, false, false },
    { "supplier", "Supplier", NULL, TB_COL_TEXT, 0, 28, false, false },
    { "length_m", "Length", "m", TB_COL_NUMBER, 1, 10, false, true },
    { "width_cm", "Width", "cm", TB_COL_NUMBER, 1, 9, false, false },
    { "mass_gm2", "Mass", "g/m\xC2\xB2", TB_COL_NUMBER, 0, 9, false, false },
    { "burns", "Burns of this bolt", NULL, TB_COL_COUNT, 0, 10, false, true },
    { "verdict_of_lot", "Verdict on the lot", NULL, TB_COL_TEXT, 0, 12, false, false },
    { "proof", "What it rests on", NULL, TB_COL_TEXT, 0, 20, false, false },
    { "standing", "Standing", NULL, TB_COL_TEXT, 0, 11, false, false },
};

static const struct tb_column supplier_columns[] = {
    { "supplier", "Supplier", NULL, TB_COL_TEXT, 0, 32, true, false },
    { "deliveries", "Deliveries", NULL, TB_COL_COUNT, 0, 10, false, true },
    { "lots", "Lots", NULL, TB_COL_COUNT, 0, 7, false, true },
    { "bolts", "Bolts", NULL, TB_COL_COUNT, 0, 8, false, true },
    { "length_m", "Length", "m", TB_COL_NUMBER, 1, 11, false, true },
    { "judged", "Lots judged", NULL, TB_COL_COUNT, 0, 8, false, true },
    { "fits", "Fit", NULL, TB_COL_COUNT, 0, 7, false, true },
    { "contradicts", "Contradict", NULL, TB_COL_COUNT, 0, 10, false, true },
    { "undecided", "Undecided", NULL, TB_COL_COUNT, 0, 10, false, true },
    { "held", "Held now", NULL, TB_COL_COUNT, 0, 7, false, true },
    { "share", "Share that contradicts", NULL, TB_COL_SHARE, 1, 12, false, false },
    { "share_low", "at least (95 %)", NULL, TB_COL_SHARE, 1, 10, false, false },
    { "share_high", "at most (95 %)", NULL, TB_COL_SHARE, 1, 10, false, false },
};

static const struct tb_column open_columns[] = {
    { "lot", "Lot", NULL, TB_COL_TEXT, 0, 14, false, false },
    { "supplier", "Supplier", NULL, TB_COL_TEXT, 0, 24, true, false },
    { "arrived", "Arrived", NULL, TB_COL_DAY, 0, 11, false, false },
    { "days_open", "Days since", NULL, TB_COL_COUNT, 0, 7, false, false },
    { "matter", "What is open", NULL, TB_COL_TEXT, 0, 30, true, false },
    { "standing", "Standing", NULL, TB_COL_TEXT, 0, 10, false, false },
    { "verdict", "Verdict", NULL, TB_COL_TEXT, 0, 12, false, false },
    { "proof", "What it rests on", NULL, TB_COL_TEXT, 0, 20, false, false },
    { "declared", "Declared, in the supplier's words", NULL, TB_COL_TEXT, 0, 30, true, false },
    { "since", "Settled", NULL, TB_COL_DAY, 0, 11, false, false },
    { "why", "Reason given", NULL, TB_COL_TEXT, 0, 28, true, false },
    { "bolts", "Bolts", NULL, TB_COL_COUNT, 0, 7, false, true },
    { "length_m", "Length", "m", TB_COL_NUMBER, 1, 10, false, true },
    { "value", "Value", NULL, TB_COL_NUMBER, 2, 12, false, false },
    { "currency", "Money", NULL, TB_COL_TEXT, 0, 7, false, false },
};

static const struct tb_emphasis emphasis[] = {
    { "verdict", "contradicts", TB_TONE_ALARM },
    { "verdict", "undecided", TB_TONE_DOUBT },
    { "verdict_of_lot", "contradicts", TB_TONE_ALARM },
    { "verdict_of_lot", "undecided", TB_TONE_DOUBT },
    { "standing", "held", TB_TONE_ALARM },
    { "standing", "waiting", TB_TONE_DOUBT },
};

static tb_rc begin(struct tb_tab **out, struct month *m, struct tb_tab_plan plan, const char *title,
                   struct tb_err *err)
{
    struct tb_text t = { 0 };
    tb_rc rc;

    tb_text_addf(&t, "%s \xC2\xB7 %s", title, m->plan->name);
    plan.title = tb_text_str(&t);
    plan.emphasis = emphasis;
    plan.emphases = TB_COUNT(emphasis);
    rc = tb_tab_begin(out, m->book, &plan, err);
    tb_text_free(&t);
    return rc;
}

/* --- lots and bolts ------------------------------------------------------------------------------------------- */

static double value_of(const struct tb_month_lot *lot)
{
    return lot->currency[0] ? lot->unit_price * lot->metres : NAN;
}

static void add_money(struct tb_month_sums *s, const struct tb_month_lot *lot, bool held)
{
    double value = value_of(lot);
    size_t i = 0;

    if (!isfinite(value)) {
        s->unpriced++;
        return;
    }
    while (i < s->monies && strcmp(s->money[i].currency, lot->currency) != 0)
        i++;
    if (i == TB_COUNT(s->money) || strlen(lot->currency) >= sizeof s->money[i].currency) {
        s->unpriced++;
        return;
    }
    if (i == s->monies)
        (void)snprintf(s->money[s->monies++].currency, sizeof s->money[i].currency, "%s", lot->currency);
    s->money[i].all += value;
    s->money[i].held += held ? value : 0;
}

static struct tb_month_standing *standing_of(struct tb_month_sums *s, const char *standing)
{
    return strcmp(standing, "held") == 0         ? &s->held
           : strcmp(standing, "released") == 0   ? &s->released
           : strcmp(standing, "relabelled") == 0 ? &s->relabelled
           : strcmp(standing, "returned") == 0   ? &s->returned
                                                 : &s->waiting;
}

static void add_lot(struct tb_month_sums *s, const struct tb_month_lot *lot)
{
    struct tb_month_standing *st = standing_of(s, lot->standing);

    s->lots++;
    s->bolts += lot->bolts;
    s->bolts_burnt += lot->bolts_burnt;
    s->metres += lot->metres;
    st->lots++;
    st->metres += lot->metres;
    add_money(s, lot, st == &s->held);
    if (!lot->verdict[0])
        s->unjudged++;
    else if (strcmp(lot->verdict, "fits") == 0)
        s->fits++;
    else if (strcmp(lot->verdict, "contradicts") == 0)
        s->contradicts++;
    else
        s->undecided++;
}

static tb_rc put_lot(void *arg, const struct tb_month_lot *lot, struct tb_err *err)
{
    struct month *m = arg;
    struct tb_tab *t = m->lots;

    add_lot(&m->sums, lot);
    tb_month_proof(m->proof, lot);
    tb_put_text(t, lot->ref);
    tb_put_day(t, lot->arrived);
    tb_put_text(t, lot->supplier);
    tb_put_text(t, lot->article);
    tb_put_text(t, lot->colour);
    tb_put_text(t, lot->dye_lot);
    tb_put_text(t, lot->declared);
    tb_put_count(t, lot->bolts);
    tb_put_number(t, lot->metres);
    tb_put_text(t, lot->verdict);
    tb_put_text(t, m->proof);
    tb_put_number(t, exp(lot->log_ratio));
    tb_put_count(t, lot->burns);
    tb_put_text(t, lot->standing);
    tb_put_number(t, value_of(lot));
    tb_put_text(t, lot->currency);
    return tb_tab_row(t, err);
}

static tb_rc put_bolt(void *arg, const struct tb_month_lot *lot, const struct tb_month_bolt *bolt,
                      struct tb_err *err)
{
    struct month *m = arg;
    struct tb_tab *t = m->bolts;

    tb_put_text(t, bolt->number);
    tb_put_text(t, lot->ref);
    tb_put_day(t, lot->arrived);
    tb_put_text(t, lot->supplier);
    tb_put_number(t, bolt->metres);
    tb_put_number(t, bolt->width_cm);
    tb_put_number(t, bolt->mass_gm2);
    tb_put_count(t, bolt->burns);
    tb_put_text(t, lot->verdict);
    tb_put_text(t, m->proof);
    tb_put_text(t, lot->standing);
    return tb_tab_row(t, err);
}

tb_rc tb_month_goods(struct month *m, struct tb_err *err)
{
    struct tb_tab_plan lots = {
        .key = "lots",
        .tab = _("Lots"),
        .note =
            _("Lots of the deliveries that arrived in the span, as they stand now. A verdict rests on the "
              "bolts that were burnt, not on the lot."),
        .column = lot_columns,
        .columns = TB_COUNT(lot_columns),
    };
    struct tb_tab_plan bolts = {
        .key = "bolts",
        .tab = _("Bolts"),
        .note = _("Every bolt of those lots. A bolt with 0 burns was not tested itself."),
        .column = bolt_columns,
        .columns = TB_COUNT(bolt_columns),
    };
    tb_rc rc;

    if ((rc = begin(&m->lots, m, lots, _("Lots"), err)) != TB_OK ||
        (rc = begin(&m->bolts, m, bolts, _("Bolts"), err)) != TB_OK ||
        (rc = m->source->goods(m->source->from, put_lot, put_bolt, m, err)) != TB_OK)
        return rc;
    return (rc = tb_tab_end(m->lots, err)) != TB_OK ? rc : tb_tab_end(m->bolts, err);
}

/* --- suppliers ---------------------------------------------------------------------------------------------------- */

struct ranked {
    struct tb_month_supplier s;
    double share, low, high; /* NAN: no lot judged */
};

struct ranking {
    struct ranked *item;
    size_t n, cap;
};

static tb_rc rank(void *arg, const struct tb_month_supplier *s, struct tb_err *err)
{
    struct ranking *r = arg;
    int64_t judged = s->fits + s->contradicts + s->undecided;
    struct ranked one = { .s = *s, .share = NAN, .low = NAN, .high = NAN };
    tb_rc rc;

    if (judged) {
        one.share = (double)s->contradicts / (double)judged;
        if ((rc = tb_interval_exact(&one.low, &one.high, (long)s->contradicts, (long)judged, 0.95, err)) !=
            TB_OK)
            return tb_within(err, rc, "%s", s->name);
    }
    one.s.name = tb_strdup(s->name);
    TB_PUSH_ROOM(r->item, r->n, r->cap);
    r->item[r->n++] = one;
    return TB_OK;
}

/* By the low end of the interval, so that one bad lot of one does not lead the list; unjudged ones last. */
static int worse(const void *a, const void *b)
{
    const struct ranked *x = a, *y = b;
    double lx = isnan(x->low) ? -1 : x->low, ly = isnan(y->low) ? -1 : y->low;

    if (lx != ly)
        return lx > ly ? -1 : 1;
    if (x->s.metres != y->s.metres)
        return x->s.metres > y->s.metres ? -1 : 1;
    return strcmp(x->s.name, y->s.name);
}

static tb_rc put_supplier(struct tb_tab *t, const struct ranked *r, struct tb_err *err)
{
    tb_put_text(t, r->s.name);
    tb_put_count(t, r->s.deliveries);
    tb_put_count(t, r->s.lots);
    tb_put_count(t, r->s.bolts);
    tb_put_number(t, r->s.metres);
    tb_put_count(t, r->s.fits + r->s.contradicts + r->s.undecided);
    tb_put_count(t, r->s.fits);
    tb_put_count(t, r->s.contradicts);
    tb_put_count(t, r->s.undecided);
    tb_put_count(t, r->s.held);
    tb_put_share(t, r->share);
    tb_put_share(t, r->low);
    tb_put_share(t, r->high);
    return tb_tab_row(t, err);
}

tb_rc tb_month_suppliers(struct month *m, struct tb_err *err)
{
    struct tb_tab_plan plan = {
        .key = "suppliers",
        .tab = _("Suppliers"),
        .note = _(
            "In the order of the low end of the exact 95 % interval, not of the raw share: a few lots prove "
            "little. The interval holds if the judged lots were drawn at random."),
        .column = supplier_columns,
        .columns = TB_COUNT(supplier_columns),
    };
    struct ranking r = { 0 };
    tb_rc rc = begin(&m->suppliers, m, plan, _("Suppliers"), err);

    if (rc == TB_OK)
        rc = m->source->suppliers(m->source->from, rank, &r, err);
    if (r.n)
        qsort(r.item, r.n, sizeof *r.item, worse);
    for (size_t i = 0; i < r.n && rc == TB_OK; i++)
        rc = put_supplier(m->suppliers, &r.item[i], err);
    for (size_t i = 0; i < r.n; i++)
        free((char *)r.item[i].s.name);
    free(r.item);
    return rc == TB_OK ? tb_tab_end(m->suppliers, err) : rc;
}

/* --- what is open --------------------------------------------------------------------------------------------- */

static const char *matter_of(const struct tb_month_lot *lot)
{
    bool held = strcmp(lot->standing, "held") == 0;

    if (strcmp(lot->verdict, "contradicts") == 0)
        return held ? _("decide: return, relabel, or release with a reason") : _("contradicted and not held");
    if (!lot->clear)
        return _("the declaration cannot be read: ask the supplier");
    if (strcmp(lot->verdict, "undecided") == 0)
        return _("another test, or the laboratory");
    if (held)
        return _("held: decide");
    if (strcmp(lot->verdict, "fits") == 0)
        return _("release it");
    return lot->burns ? _("burnt, not judged yet") : _("nothing burnt yet");
}

static tb_rc put_open(void *arg, const struct tb_month_lot *lot, struct tb_err *err)
{
    struct month *m = arg;
    struct tb_tab *t = m->open;
    char proof[64], today[TB_DAY_LEN + 1];
    char *since = lot->since ? tb_strndup(lot->since, TB_DAY_LEN) : NULL;
    tb_rc rc;

    (void)snprintf(today, sizeof today, "%.*s", TB_DAY_LEN, m->plan->now);
    tb_month_proof(proof, lot);
    tb_put_text(t, lot->ref);
    tb_put_text(t, lot->supplier);
    tb_put_day(t, lot->arrived);
    if (tb_day_valid(lot->arrived))
        tb_put_count(t, tb_day_number(today) - tb_day_number(lot->arrived));
    else
        tb_put_none(t);
    tb_put_text(t, matter_of(lot));
    tb_put_text(t, lot->standing);
    tb_put_text(t, lot->verdict);
    tb_put_text(t, proof);
    tb_put_text(t, lot->declared);
    tb_put_day(t, since);
    tb_put_text(t, lot->why);
    tb_put_count(t, lot->bolts);
    tb_put_number(t, lot->metres);
    tb_put_number(t, value_of(lot));
    tb_put_text(t, lot->currency);
    rc = tb_tab_row(t, err);
    free(since);
    return rc;
}

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
    };
    tb_rc rc = begin(&m->open, m, plan, _("Held and open matters"), err);

    if (rc == TB_OK)
        rc = m->source->open(m->source->from, put_open, m, err);
    return rc == TB_OK ? tb_tab_end(m->open, err) : rc;
}
