/* month_page.c - the span on one page: figures, the charts, what waits longest, cautions. Tagged PDF, fonts embedded. */
#include "report/draw/page.h"
#include "report/draw/paper.h"
#include "report/draw/qr.h"
#include "report/month/month_draw.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#define LEFT 40.0
#define ROOM (PAGE_WIDTH - 2 * LEFT)
#define FOOT (PAGE_HEIGHT - 36)
#define BOXES 4
#define FIGURE 65    /* high */
#define HEADING 20.0 /* of the words above these lines, with its rule */
#define URGENT 11.0  /* of a line about an open lot */

/* Words with their tag; gives the height they took. */
static double words(cairo_t *c, const char *tag, enum pen_ink ink, double x, double y,
                    const struct pen_words *how, const char *text)
{
    double h;

    if (!*text)
        return 0;
    cairo_tag_begin(c, tag, NULL);
    tb_pen_ink(c, ink);
    h = tb_pen_text(c, x, y, how, text);
    cairo_tag_end(c, tag);
    return h;
}

#define CHARTS 4

/* Drawn once; whether its code could be made, and what its charts show, is known after that. */
struct drawing {
    const struct month *month;
    bool good;
    struct tb_text told[CHARTS];
};

/* Which deliveries, and which state of the book, also as a code: two prints of one month may differ, and both be right. */
static double head(cairo_t *c, struct drawing *d)
{
    const struct month *m = d->month;
    const char *anchor = m->source->anchor;
    bool coded = anchor && *anchor;
    const double room = ROOM - (coded ? TB_QR_ANCHOR + 8 : 0);
    struct pen_words title = { .size = 17, .bold = true };
    const struct pen_words note = { .size = 8, .width = room, .lines = 2 },
                           hint = { .size = 7, .width = room };
    double y = 34, wide, high;

    /* a long span and a long name in smaller letters, and in two lines at last */
    do {
        tb_pen_measure(c, &wide, &high, &title, m->title.s);
    } while (wide > room && (title.size -= 0.5) > 12);
    title.width = room;
    title.lines = 2;
    y += words(c, "H1", PEN_MADDER, LEFT, y, &title, m->title.s) + 2;
    y += words(c, "P", PEN_FADED, LEFT, y, &note, m->stood.s) + 2;
    if (!coded)
        return y + 6;
    d->good = tb_qr(c, LEFT + ROOM - TB_QR_ANCHOR, 22, TB_QR_ANCHOR, anchor);
    y += words(c, "P", PEN_FADED, LEFT, y, &hint, _(TB_ANCHOR_WORDS)) + 2;
    return fmax(y, 22 + TB_QR_ANCHOR) + 3;
}

/* --- the figures a director asks for first ------------------------------------------------------------------------ */

/* Four figures stand beside each other, all in letters of one size. Frees the words. */
static void figure(cairo_t *c, int place, double y, struct tb_text *large, struct tb_text *small)
{
    const double w = (ROOM - (BOXES - 1) * 8) / BOXES, x = LEFT + place * (w + 8);
    struct pen_words big = { .size = 11, .bold = true };
    const struct pen_words rest = { .size = 8, .width = w - 12, .lines = 4 };
    double wide, high;

    do { /* a large figure in smaller letters rather than cut: what is cut off is its meaning */
        tb_pen_measure(c, &wide, &high, &big, tb_text_str(large));
    } while (wide > w - 12 && (big.size -= 0.5) > 7);

    tb_pen_ink(c, PEN_CLOTH);
    cairo_rectangle(c, x, y, w, FIGURE);
    cairo_fill(c);
    tb_pen_ink(c, PEN_INK);
    tb_pen_line(c, x, y, x + w, y, 1.4);
    (void)words(c, "P", PEN_INK, x + 6, y + 4, &big, tb_text_str(large));
    (void)words(c, "P", PEN_INK, x + 6, y + 23, &rest, tb_text_str(small));
    tb_text_free(large);
    tb_text_free(small);
}

/* What came in: the large figure, and under it what it is made of. */
static void came_in(cairo_t *c, const struct tb_month_sums *s, double y)
{
    struct tb_text large = { 0 }, deliveries = { 0 }, bolts = { 0 }, all = { 0 };
    long long came = s->work.deliveries;

    tb_page_say(&deliveries, _n("%lld delivery", "%lld deliveries", came), came);
    tb_page_say(&bolts, _n("%lld bolt", "%lld bolts", s->bolts), (long long)s->bolts);
    tb_page_say(&large, _n("%lld lot", "%lld lots", s->lots), (long long)s->lots);
    if (*s->nothing)
        tb_text_add(&all, s->nothing);
    else
        tb_page_say(&all, _("%s, %s, %.0f\xC2\xA0m came in"), deliveries.s, bolts.s, s->metres);
    if (s->unknown)
        tb_text_addf(&all, _("; besides %.1f\xC2\xA0kg of unknown length"), s->kg);
    figure(c, 0, y, &large, &all);
    tb_text_free(&deliveries);
    tb_text_free(&bolts);
}

/* The share comes with its interval, and with neither where nothing was looked at. */
static void concluded(cairo_t *c, const struct tb_month_sums *s, long long judged, double y)
{
    struct tb_text large = { 0 }, small = { 0 };

    tb_page_say(&small, _("%lld conform, %lld no finding, %lld open"), (long long)s->conforms,
                (long long)s->nothing_against, (long long)s->open);
    if (judged)
        tb_text_addf(&small,
                     _("; %.1f\xC2\xA0%% do not conform (95\xC2\xA0%% interval %.1f to %.1f\xC2\xA0%%)"),
                     100 * (double)s->does_not / (double)judged, 100 * s->low, 100 * s->high);
    tb_page_say(&large, _n("%lld does not conform", "%lld do not conform", s->does_not),
                (long long)s->does_not);
    figure(c, 2, y, &large, &small);
}

/* Metres and money: what the hold keeps from being cut or sold. */
static void held(cairo_t *c, const struct tb_month_sums *s, double y)
{
    struct tb_text large = { 0 }, small = { 0 };

    tb_page_say(&small,
                _n("lot on hold, or a bolt of it: %.0f\xC2\xA0m",
                   "lots on hold, or bolts of them: %.0f\xC2\xA0m", s->held.lots),
                s->held.metres);
    if (s->held.kg > 0)
        tb_text_addf(&small, _(", besides %.1f\xC2\xA0kg"), s->held.kg);
    for (size_t i = 0; i < s->monies; i++)
        if (s->money[i].held > 0)
            tb_text_addf(&small, ", %s\xC2\xA0%.0f", s->money[i].currency, s->money[i].held);
    tb_page_say(&large, _("%lld held"), (long long)s->held.lots);
    figure(c, 3, y, &large, &small);
}

/* In the order a director asks: what came in, what was looked at, what is wrong, what stands still. */
static double figures(cairo_t *c, const struct month *m, double y)
{
    const struct tb_month_sums *s = &m->sums;
    long long judged = m->rate.judged;
    struct tb_text large = { 0 }, small = { 0 };

    came_in(c, s, y);
    tb_page_say(&large, _("%lld looked at"), judged);
    tb_page_say(&small,
                _n("%lld of %lld bolt tested: a verdict speaks of the bolts tested",
                   "%lld of %lld bolts tested: a verdict speaks of the bolts tested", s->bolts),
                (long long)s->bolts_tested, (long long)s->bolts);
    tb_text_addf(&small, _("; lots by a laboratory: %lld"), (long long)s->laboratory);
    figure(c, 1, y, &large, &small);
    concluded(c, s, judged, y);
    held(c, s, y);
    return y + FIGURE + 10;
}

/* --- charts --------------------------------------------------------------------------------------------------- */

/* Trend and suppliers above, what was found and what is held below. */
static double charts(cairo_t *c, struct drawing *d, double y)
{
    const double half = (ROOM - 10) / 2, wide = ROOM * 0.62, high = 172, low = 226;
    const struct {
        void (*draw)(cairo_t *c, const struct month *m, const double box[4], struct tb_text *told);
        double box[4];
    } chart[CHARTS] = {
        { tb_month_draw_trend, { LEFT, y, half, high } },
        { tb_month_draw_ranks, { LEFT + half + 10, y, half, high } },
        { tb_month_draw_matrix, { LEFT, y + high + 6, wide, low } },
        { tb_month_draw_stakes, { LEFT + wide + 10, y + high + 6, ROOM - wide - 10, low } },
    };

    for (size_t i = 0; i < CHARTS; i++) {
        cairo_tag_begin(c, "Figure", NULL);
        chart[i].draw(c, d->month, chart[i].box, &d->told[i]);
        cairo_tag_end(c, "Figure");
    }
    return y + high + low + 12;
}

/* --- what waits ------------------------------------------------------------------------------------------------- */

/* What verdicts are said to mean rests on it: whoever reads shares of lots asks where it comes from. */
static void base(struct tb_text *t, const struct tb_month_plan *plan)
{
    char share[TB_IN_HUNDRED];

    tb_text_clear(t);
    tb_in_hundred(share, plan->base_rate);
    if (plan->base_from == TB_BASE_SITE)
        tb_page_say(t, _("Base rate: of the lots judged at this site about %s in 100 are not as declared."),
                    share);
    else if (plan->base_from == TB_BASE_SETTING)
        tb_page_say(t, _("Base rate: this site says of its own that %s in 100 lots are not as declared."),
                    share);
    else if (plan->base_from == TB_BASE_PUBLISHED)
        tb_page_say(t,
                    _("Base rate: %s in 100 labels were wrong in published inspections; taken until enough "
                      "lots are judged here."),
                    share);
}

/* What other sheets tell at length, a sentence each; an empty one is not drawn. */
struct closing {
    struct tb_text claims, money, labels, otherwise, base;
};

static void tell(struct closing *to, const struct month *m)
{
    if (m->sums.claims_unsaid)
        tb_page_say(&to->claims,
                    _("Claims: %lld open, %lld of them overdue; of %lld it cannot be said (sheet Claims)."),
                    (long long)m->sums.claims, (long long)m->sums.claims_overdue,
                    (long long)m->sums.claims_unsaid);
    else if (m->sums.claims)
        tb_page_say(&to->claims, _("Claims: %lld open, %lld of them overdue (sheet Claims)."),
                    (long long)m->sums.claims, (long long)m->sums.claims_overdue);
    else
        tb_page_say(&to->claims, _("Claims: none is open."));
    tb_month_money_words(&to->money, m);
    if (m->sums.markets)
        tb_page_say(&to->labels,
                    m->sums.markets == 1
                        ? _("Labels: %lld looked at, one for each lot in %lld market; the declared words "
                            "have a fault in %lld of them (sheet Labels).")
                        : _("Labels: %lld looked at, one for each lot in each of %lld markets; the declared "
                            "words have a fault in %lld of them (sheet Labels)."),
                    (long long)m->sums.labels, (long long)m->sums.markets, (long long)m->sums.label_faults);
    if (m->sums.otherwise)
        tb_page_say(&to->otherwise,
                    _n("Judge again: %lld verdict would be another by what is known now: %s.",
                       "Judge again: %lld verdicts would be others by what is known now: %s.",
                       m->sums.otherwise),
                    (long long)m->sums.otherwise, m->sums.otherwise_lots);
    base(&to->base, m->plan);
}

static void closing_free(struct closing *t)
{
    tb_text_free(&t->claims);
    tb_text_free(&t->money);
    tb_text_free(&t->labels);
    tb_text_free(&t->otherwise);
    tb_text_free(&t->base);
}

/* Draws them from y on, or only measures them where `drawn` is false; gives their height. */
static double below(cairo_t *c, const struct closing *t, double y, bool drawn)
{
    const struct pen_words how = { .size = 8, .width = ROOM, .lines = 3 };
    const struct tb_text *const each[] = { &t->claims, &t->money, &t->labels, &t->otherwise, &t->base };
    double from = y;

    for (size_t i = 0; i < TB_COUNT(each); i++) {
        double w, h = 0;

        if (!each[i]->n)
            continue;
        tb_pen_measure(c, &w, &h, &how, tb_text_str(each[i]));
        if (drawn)
            (void)words(c, "P", PEN_INK, LEFT, y + 2, &how, tb_text_str(each[i]));
        y += h + 4;
    }
    return y - from;
}

/* How many open lots there are, and the most urgent of them by name, as many as there is room for above `foot`; gives where they end. */
static double open_lots(cairo_t *c, const struct month *m, double y, double foot, struct tb_text *t)
{
    const struct pen_words heading = { .size = 10.5, .bold = true },
                           line = { .size = 8, .width = ROOM, .lines = 1 },
                           told = { .size = 8, .width = ROOM, .lines = 2 };
    size_t open = tb_tab_rows(m->tab[TAB_OPEN]);

    if (m->urgents && y + HEADING + URGENT <= foot)
        tb_page_say(t, _n("Open: %zu lot, the first to decide", "Open: %zu lots, the first to decide", open),
                    open);
    else
        tb_page_say(t, _n("Open: %zu lot", "Open: %zu lots", open), open);
    y += words(c, "H2", PEN_INK, LEFT, y, &heading, tb_text_str(t)) + 1;
    tb_pen_ink(c, PEN_MADDER);
    tb_pen_line(c, LEFT, y, LEFT + ROOM, y, 1);
    y += 3;
    for (size_t i = 0; i < m->urgents && y + URGENT <= foot;
         i++) /* in two lines while each of the others has one */
        y += words(c, "P", PEN_INK, LEFT, y,
                   y + (double)(m->urgents - i + 1) * URGENT <= foot ? &told : &line, m->urgent[i].line) +
             1;
    if (!open)
        y += words(c, "P", PEN_INK, LEFT, y, &line, _("None: nothing waits and nothing is held.")) + 1;
    return y;
}

/* What waits, above `foot`, then what other sheets tell at length. */
static void waiting(cairo_t *c, const struct month *m, double y, double foot, struct tb_text *t)
{
    const struct pen_words told = { .size = 8, .width = ROOM, .lines = 2 };
    struct closing last = { 0 };

    tb_month_compared_words(t, m);
    y += words(c, "P", PEN_INK, LEFT, y, &told, tb_text_str(t)) + 3;
    tell(&last, m);
    y = open_lots(c, m, y, foot - below(c, &last, y, false), t);
    (void)below(c, &last, y, true);
    closing_free(&last);
}

/*
 * At the foot of the page, whatever stands above: a page is torn out of its file sooner or later. Gives where they begin, and
 * only that where `drawn` is false.
 */
static double cautions(cairo_t *c, bool drawn)
{
    const struct pen_words how = { .size = 7.5, .width = ROOM };
    const char *text = _(
        "A burn tells kinds of fibre apart, not percentages, and not twins such as cotton and viscose or "
        "wool and hair; \"fit\" means that nothing was seen against the words and never confirms them; what "
        "was seen was seen on the bolts that were tested. Intervals are exact (Clopper-Pearson) and hold for "
        "all lots only if those looked at were drawn at random. Before money or law depends on it, let a "
        "laboratory analyse the cloth. Burn tests belong where flame work is permitted, with trained people; "
        "local fire code and the employer's rules come first. Information, not legal advice: official texts "
        "and your own counsel decide.");
    double w, h;

    tb_pen_measure(c, &w, &h, &how, text);
    if (drawn) {
        tb_pen_ink(c, PEN_THREAD);
        tb_pen_line(c, LEFT, FOOT - h - 4, LEFT + ROOM, FOOT - h - 4, 0.6);
        (void)words(c, "P", PEN_INK, LEFT, FOOT - h, &how, text);
    }
    return FOOT - h - 4;
}

static void draw_page(cairo_t *c, void *arg)
{
    struct drawing *d = arg;
    const struct month *m = d->month;
    struct tb_text t = { 0 };
    double y;

    cairo_tag_begin(c, "Document", NULL);
    y = head(c, d);
    y = figures(c, m, y);
    y = charts(c, d, y);
    waiting(c, m, y, cautions(c, false), &t);
    (void)cautions(c, true);
    cairo_tag_end(c, "Document");
    cairo_show_page(c);
    tb_text_free(&t);
}

tb_rc tb_month_page(struct month *m, struct tb_err *err)
{
    struct tb_text title = { 0 }, pdf = { 0 };
    struct drawing d = { .month = m, .good = true };
    struct paper how = { .width = PAGE_WIDTH,
                         .height = PAGE_HEIGHT,
                         .created = m->plan->now,
                         .figure = d.told,
                         .figures = CHARTS };
    tb_rc rc;

    how.title = tb_page_say(&title, _("Cloth received, %s"), m->plan->name);
    rc = tb_paper_pdf(&pdf, &how, draw_page, &d, err);
    if (rc == TB_OK && !d.good)
        rc = tb_fail(err, TB_EIO, "a QR code cannot be made");
    rc = rc == TB_OK ? tb_paper_fill(m->page, &pdf, err) : tb_within(err, rc, "%s", m->plan->page);
    for (size_t i = 0; i < CHARTS; i++)
        tb_text_free(&d.told[i]);
    tb_text_free(&title);
    tb_text_free(&pdf);
    return rc;
}
