/* month_scores.c - a card for each supplier: its months one below the other, on a page of its own when printed. */
#include "report/month/month_impl.h"

#include "tenterbook/figure.h"
#include "tenterbook/money.h"
#include "tenterbook/utf8.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define CHARTED_LEAST 2 /* months from which a chart says something */
#define CHARTED_MOST 16 /* months below which there is room for the chart */
#define LINE 18.0       /* height of a row, pixels of 1/96 inch */
#define ROOM 640.0      /* of a printed page, below the heading of the columns */
#define CHART_WIDE 1080.0
#define CHART_MOST 400.0 /* as high as it gets where there is room, and where there is little */
#define CHART_LEAST 240.0
#define OF_ONE_MONTH                                                                                         \
    5 /* cards that share a page where there is one month to tell of, with so many lots each */
#define OF_ONE_LOTS 2
#define SAID_MOST 60    /* bytes of a declaration in a line */
#define PRINTED_MOST 40 /* cards, the worst first, unless all are asked for */

struct score {
    char *supplier;
    char month[8];
    struct tally t;
    struct amount amount;
    struct tb_text failed; /* its lots that do not conform, each with an end of line */
};

/* A supplier with its months and what they come to. */
struct card {
    const struct score *score; /* so many, by month */
    size_t n;
    struct tally t;
    struct amount amount;
    struct rate rate;
};

static const struct tb_column columns[] = {
    { "supplier", N_("Supplier"), NULL, TB_COL_TEXT, 0, 16, false, false, TB_FROM_HAND },
    { "month", N_("Month of arrival"), NULL, TB_COL_TEXT, 0, 10, false, false, TB_FROM_HAND },
    { "lots", N_("Lots"), NULL, TB_COL_COUNT, 0, 6, false, false, TB_FROM_HAND },
    { "looked_at", N_("Lots looked at"), NULL, TB_COL_COUNT, 0, 8, false, false, TB_FROM_HAND },
    { "conforming", N_("Conform"), NULL, TB_COL_COUNT, 0, 8, false, false, TB_FROM_HAND },
    { "nothing_against", N_("No finding against"), NULL, TB_COL_COUNT, 0, 9, false, false, TB_FROM_HAND },
    { "not_conforming", N_("Do not conform"), NULL, TB_COL_COUNT, 0, 9, false, false, TB_FROM_HAND },
    { "open", N_("Open"), NULL, TB_COL_COUNT, 0, 6, false, false, TB_FROM_HAND },
    { "share", N_("Share that does not conform"), NULL, TB_COL_SHARE, 1, 12, false, false, TB_FROM_HAND },
    { "share_low", N_("at least (95 %)"), NULL, TB_COL_SHARE, 1, 11, false, false, TB_FROM_HAND },
    { "share_high", N_("at most (95 %)"), NULL, TB_COL_SHARE, 1, 11, false, false, TB_FROM_HAND },
    { "target", N_("Target: at most"), NULL, TB_COL_SHARE, 1, 9, false, false, TB_FROM_HAND },
    { "length_m", N_("Length"), "m", TB_COL_NUMBER, 1, 10, false, false, TB_FROM_HAND },
    { "held_m", N_("Held now"), "m", TB_COL_NUMBER, 1, 10, false, false, TB_FROM_HAND },
    { "note", N_("Remark"), NULL, TB_COL_TEXT, 0, 20, false, false, TB_FROM_HAND },
    { "weight_kg", N_("Weight where the length is not known"), "kg", TB_COL_NUMBER, 2, 12, false, false,
      TB_FROM_HAND },
    { "held_kg", N_("Of that held now"), "kg", TB_COL_NUMBER, 2, 12, false, false, TB_FROM_HAND },
};

/* So many bytes of the supplier's words at most, in whole characters. */
static int short_of(const char *said)
{
    size_t n = strlen(said), at = 0;
    unsigned cp;

    while (at < n && at < SAID_MOST)
        at += tb_utf8_next(said + at, n - at, &cp);
    return (int)at;
}

/* "M26-006.03, arrived 2026-10-12, declared as 100% Seide: found by burning"; words on several lines stand on one. */
static void note_failed(struct score *s, const struct tb_month_scored *lot)
{
    int n = short_of(lot->said);
    size_t from = s->failed.n;

    tb_text_addf(&s->failed, _("%s, arrived %s, declared as \xE2\x81\xA8%.*s%s\xE2\x81\xA9: found by %s"),
                 lot->ref, lot->arrived, n, lot->said, lot->said[n] ? "..." : "",
                 tb_word(&tb_ground_words, (int)lot->concluded->by));
    for (char *p = s->failed.s + from; *p; p++)
        if (*p == '\n')
            *p = ' ';
    tb_text_addc(&s->failed, '\n');
}

void tb_month_score(struct month *m, const struct tb_month_scored *lot)
{
    const char *supplier = lot->supplier, *arrived = lot->arrived;
    size_t i = m->scores;

    /* the lots of one supplier arrive together */
    while (i > 0 && (strncmp(m->score[i - 1].month, arrived, 7) != 0 ||
                     strcmp(m->score[i - 1].supplier, supplier) != 0))
        i--;
    if (i == 0) {
        TB_PUSH_ROOM(m->score, m->scores, m->score_cap);
        m->score[m->scores] = (struct score){ .supplier = tb_strdup(supplier) };
        memcpy(m->score[m->scores].month, arrived, 7);
        i = ++m->scores;
    }
    tb_month_amount_add(&m->score[i - 1].amount, &lot->amount);
    tb_month_count(&m->score[i - 1].t, lot->concluded);
    if (lot->concluded->kind == TB_DOES_NOT)
        note_failed(&m->score[i - 1], lot);
}

void tb_month_scores_free(struct month *m)
{
    for (size_t i = 0; i < m->scores; i++) {
        free(m->score[i].supplier);
        tb_text_free(&m->score[i].failed);
    }
    free(m->score);
}

static int by_supplier(const void *a, const void *b)
{
    const struct score *x = a, *y = b;
    int order = strcmp(x->supplier, y->supplier);

    return order ? order : strcmp(x->month, y->month);
}

static void put_figures(struct tb_tab *t, const struct tally *tally, const struct rate *r,
                        const struct amount *amount, double aim, const char *note)
{
    tb_put_count(t, tally->lots);
    tb_put_count(t, r->judged);
    tb_put_count(t, tally->conforms);
    tb_put_count(t, tally->nothing_against);
    tb_put_count(t, tally->does_not);
    tb_put_count(t, tally->open);
    tb_put_share(t, r->share);
    tb_put_share(t, r->low);
    tb_put_share(t, r->high);
    tb_put_share(t, aim > 0 ? aim : NAN);
    tb_put_number(t, amount->metres);
    tb_put_number(t, amount->held_metres);
    tb_put_text(t, note);
    tb_put_number(t, amount->kg);
    tb_put_number(t, amount->held_kg);
}

/* A month of the card; without a delivery it keeps its place. */
static tb_rc put(struct month *m, const char *supplier, const struct trend *d, const struct score *s,
                 struct tb_err *err)
{
    static const struct score none;
    struct tb_tab *t = m->tab[TAB_SCORES];
    struct rate r;
    tb_rc rc;

    if (!s)
        s = &none;
    if ((rc = tb_month_rate(&r, &s->t, err)) != TB_OK)
        return rc;
    tb_put_text(t, supplier);
    tb_put_text(t, d->month);
    put_figures(t, &s->t, &r, &s->amount, d->aim, s->t.lots ? "" : _("no delivery arrived"));
    return tb_tab_row(t, err);
}

static tb_rc put_sum(struct month *m, const struct card *c, struct tb_err *err)
{
    struct tb_tab *t = m->tab[TAB_SCORES];
    char months[32];

    tb_tab_sum(t);
    tb_put_text(t, _("In all"));
    (void)snprintf(months, sizeof months, _n("%zu month", "%zu months", m->trends), m->trends);
    tb_put_text(t, months);
    put_figures(t, &c->t, &c->rate, &c->amount, 0, "");
    return tb_tab_row(t, err);
}

/* --- what stands below the months ------------------------------------------------------------------------------- */

/* Of all months together, against the target in force at the end. */
static void say_target(struct tb_text *out, const struct month *m, const struct card *c)
{
    const struct tb_month_plan *p = m->plan;

    if (!p->target_from) {
        tb_text_add(out, _("Target: none is set"));
        return;
    }
    tb_text_addf(out, _("Target: at most %.1f %%, from %s on: "), 100 * p->target, p->target_from);
    if (c->rate.judged)
        tb_month_target_words(out, p->target, &c->rate);
    else
        tb_text_add(out, _("no lot of these months was looked at"));
}

/* What their claims came to in these months, a sentence for each money: amounts of two are never added up. */
static void say_money(struct tb_text *out, const struct month *m, const char *supplier)
{
    const struct tb_money *all = m->plan->trend_money;
    bool any = false;

    for (size_t i = 0; all && i < all->totals; i++) {
        const char *currency = all->total[i].currency;
        struct tb_money_sum sum = { 0 };

        for (size_t k = 0; k < all->rows; k++) {
            const struct tb_money_sum *r = &all->row[k];

            if (strcmp(r->supplier, supplier) == 0 && strcmp(r->currency, currency) == 0)
                tb_money_sum_add(&sum, r);
        }
        if (!(sum.claimed > 0 || sum.agreed > 0 || sum.recovered > 0 || sum.awaited > 0))
            continue;
        tb_text_add(out, any ? "; " : _("Claims: "));
        tb_text_addf(out, _("%s claimed %.2f, agreed %.2f, recovered %.2f, awaited %.2f"), currency,
                     tb_cents(sum.claimed), tb_cents(sum.agreed), tb_cents(sum.recovered),
                     tb_cents(sum.awaited));
        any = true;
    }
    if (!any)
        tb_text_add(out, _("Claims: no amount was named in these months"));
}

/* So many lots that do not conform, the last first: the rest is told by its number. */
static tb_rc put_failed(struct tb_tab *t, const struct card *c, size_t most, struct tb_err *err)
{
    size_t left = (size_t)c->t.does_not;
    tb_rc rc = TB_OK;

    if (left)
        rc = tb_tab_remark(t, _("Lots that do not conform:"), err);
    for (size_t i = c->n; i-- > 0 && rc == TB_OK;)
        for (char *line = c->score[i].failed.s, *end; rc == TB_OK && line && *line && most; line = end + 1) {
            end = strchr(line, '\n');
            *end = '\0';
            rc = tb_tab_remark(t, line, err);
            *end = '\n';
            most--;
            left--;
        }
    if (left && rc == TB_OK) {
        struct tb_text more = { 0 };

        tb_text_addf(&more, _("and %zu more"), left);
        rc = tb_tab_remark(t, more.s, err);
        tb_text_free(&more);
    }
    return rc;
}

static tb_rc put_below(struct month *m, const struct card *c, size_t lots_most, struct tb_err *err)
{
    struct tb_text target = { 0 }, money = { 0 };
    tb_rc rc;

    say_target(&target, m, c);
    say_money(&money, m, c->score->supplier);
    rc = tb_tab_remark(m->tab[TAB_SCORES], target.s, err);
    if (rc == TB_OK)
        rc = tb_tab_remark(m->tab[TAB_SCORES], money.s, err);
    if (rc == TB_OK)
        rc = put_failed(m->tab[TAB_SCORES], c, lots_most, err);
    tb_text_free(&target);
    tb_text_free(&money);
    return rc;
}

static bool charted(const struct month *m, const struct card *c)
{
    return m->trends >= CHARTED_LEAST && m->trends <= CHARTED_MOST && c->rate.judged;
}

/* Its months as points, with the target: as high as the page still has room. */
static tb_rc put_chart(struct month *m, const struct card *c, size_t from, struct tb_err *err)
{
    struct tb_tab *t = m->tab[TAB_SCORES];
    double room = ROOM - LINE * (double)(tb_tab_next(t) - from + 2);
    struct tb_sheet_chart k;
    struct tb_text title = { 0 };
    tb_rc rc;

    tb_month_points(&k, m);
    tb_text_addf(&title, _("%s: share of lots looked at that do not conform"), c->score->supplier);
    k.title = title.s;
    k.from = from;
    k.y = 8;
    k.width = CHART_WIDE;
    k.height = fmin(fmax(room, CHART_LEAST), CHART_MOST);
    k.y_most = 1;
    rc = tb_tab_chart(t, t, &k, err);
    tb_text_free(&title);
    tb_tab_space(t, (size_t)(k.height / LINE) + 1);
    return rc;
}

/* Lots there is room for on a page: beside the months are a heading, a sum, target, claims, two lines around the lots, one of air. */
static size_t lots_of_a_page(const struct month *m, const struct card *c)
{
    double room = ROOM - LINE * (double)(m->trends + 7) - (charted(m, c) ? CHART_LEAST : 0);

    if (m->trends < CHARTED_LEAST)
        return OF_ONE_LOTS;
    return room > LINE ? (size_t)(room / LINE) : 1;
}

/* --- cards ------------------------------------------------------------------------------------------------------- */

/* Every month has its place on every card, so that cards can be laid beside each other. */
static tb_rc put_card(struct month *m, const struct card *c, struct tb_err *err)
{
    struct tb_tab *t = m->tab[TAB_SCORES];
    const char *supplier = c->score->supplier;
    tb_rc rc = tb_tab_group(t, supplier, err);
    size_t from = tb_tab_next(t), at = 0;

    for (size_t i = 0; i < m->trends && rc == TB_OK; i++) {
        bool there = at < c->n && strcmp(c->score[at].month, m->trend[i].month) == 0;

        rc = put(m, supplier, &m->trend[i], there ? &c->score[at] : NULL, err);
        at += there;
    }
    if (rc == TB_OK)
        rc = put_sum(m, c, err);
    if (rc == TB_OK)
        rc = put_below(m, c, lots_of_a_page(m, c), err);
    if (rc == TB_OK && charted(m, c))
        rc = put_chart(m, c, from, err);
    tb_tab_space(t, 1);
    return rc;
}

/* As on the sheet of suppliers: by the low end of the interval, so that what is printed first matters most. */
static int worse(const void *a, const void *b)
{
    const struct card *x = a, *y = b;
    double lx = isnan(x->rate.low) ? -1 : x->rate.low, ly = isnan(y->rate.low) ? -1 : y->rate.low;

    if (lx != ly)
        return lx > ly ? -1 : 1;
    return strcmp(x->score->supplier, y->score->supplier);
}

static void add_tally(struct tally *to, const struct tally *t)
{
    to->lots += t->lots;
    to->conforms += t->conforms;
    to->nothing_against += t->nothing_against;
    to->does_not += t->does_not;
    to->open += t->open;
    to->against += t->against;
}

/* A card for each supplier, with what its months come to. */
static tb_rc gather(struct card **out, size_t *n, struct month *m, struct tb_err *err)
{
    struct card *c = *out = tb_array(struct card, m->scores + 1);
    tb_rc rc = TB_OK;

    *n = 0;
    if (m->scores)
        qsort(m->score, m->scores, sizeof *m->score, by_supplier);
    for (size_t i = 0; i < m->scores; i++) {
        if (!i || strcmp(m->score[i].supplier, m->score[i - 1].supplier) != 0)
            c[(*n)++].score = &m->score[i];
        c[*n - 1].n++;
        add_tally(&c[*n - 1].t, &m->score[i].t);
        tb_month_amount_add(&c[*n - 1].amount, &m->score[i].amount);
    }
    for (size_t i = 0; i < *n && rc == TB_OK; i++)
        rc = tb_month_rate(&c[i].rate, &c[i].t, err);
    if (*n)
        qsort(c, *n, sizeof *c, worse);
    return rc;
}

static tb_rc fill(struct month *m, struct tb_err *err)
{
    struct tb_tab *t = m->tab[TAB_SCORES];
    struct card *card;
    struct tb_text foot = { 0 };
    size_t n;
    tb_rc rc = gather(&card, &n, m, err);

    for (size_t i = 0; i < n && rc == TB_OK; i++) {
        if (i && (m->trends >= CHARTED_LEAST || i % OF_ONE_MONTH == 0))
            tb_tab_break(t);
        if (i == PRINTED_MOST && !m->plan->print_all) {
            tb_text_addf(&foot, _("%s: printed are the first %d of %zu suppliers"), _("Scorecards"),
                         PRINTED_MOST, n);
            tb_tab_print_end(t, foot.s);
        }
        rc = put_card(m, &card[i], err);
    }
    tb_text_free(&foot);
    free(card);
    return rc;
}

static void prepare(struct month *m, struct tb_tab_plan *plan)
{
    (void)m;
    plan->grouped = true;
    plan->print_most = 0; /* cards are counted, not rows */
}

const struct sheet tb_month_scores = {
    .key = "scorecards",
    .tab = N_("Scorecards"),
    .title = N_("Suppliers, month by month"),
    .note = N_("Each supplier with every month of the sheet Months, from two months on a page of its own, "
               "the worst by the low "
               "end of the interval first: figures of the book. Few lots prove little: see the interval."),
    .column = columns,
    .columns = TB_COUNT(columns),
    .printed = TB_COUNT(columns) - 2,
    .last = true,
    .prepare = prepare,
    .fill = fill,
};
