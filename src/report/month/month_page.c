/* month_page.c - the span on one page: figures, the charts, what waits longest, cautions. Tagged PDF, fonts embedded. */
#include "report/draw/page.h"
#include "report/draw/paper.h"
#include "report/month/month_draw.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#define LEFT 40.0
#define ROOM (PAGE_WIDTH - 2 * LEFT)
#define FOOT (PAGE_HEIGHT - 36)
#define BOXES 4

static const char *say(struct tb_text *t, const char *fmt, ...) TB_PRINTF(2, 3);
static const char *say(struct tb_text *t, const char *fmt, ...)
{
    va_list ap;

    tb_text_clear(t);
    va_start(ap, fmt);
    tb_text_vaddf(t, fmt, ap);
    va_end(ap);
    return tb_text_str(t);
}

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

static double head(cairo_t *c, const struct month *m, struct tb_text *t)
{
    const struct pen_words title = { .size = 17, .bold = true, .width = ROOM, .lines = 1 },
                           note = { .size = 8, .width = ROOM, .lines = 2 };
    char last[TB_DAY_LEN + 1];
    double y = 34;

    tb_day_from_number(last, tb_day_number(m->plan->until) - 1);
    say(t, _("Cloth received, %s"), m->plan->name);
    if (m->source->site[0])
        tb_text_addf(t, " \xC2\xB7 %s", m->source->site);
    y += words(c, "H1", PEN_MADDER, LEFT, y, &title, tb_text_str(t)) + 2;
    say(t, _("Deliveries that arrived from %s to %s, as the book stood at %.10s %.5s UTC"), m->plan->from,
        last, m->plan->now, m->plan->now + 11);
    if (m->source->state[0])
        tb_text_addf(t, " \xC2\xB7 %s", m->source->state);
    return y + words(c, "P", PEN_FADED, LEFT, y, &note, tb_text_str(t)) + 8;
}

/* --- the figures a director asks for first ------------------------------------------------------------------------ */

static void figure(cairo_t *c, int place, double y, const char *large, const char *small)
{
    const double w = (ROOM - (BOXES - 1) * 8) / BOXES, x = LEFT + place * (w + 8);
    struct pen_words big = { .size = 14, .bold = true };
    const struct pen_words rest = { .size = 8, .width = w - 12, .lines = 3 };
    double wide, high;

    do { /* a large figure in smaller letters rather than cut: what is cut off is its meaning */
        tb_pen_measure(c, &wide, &high, &big, large);
    } while (wide > w - 12 && (big.size -= 0.5) > 7);

    tb_pen_ink(c, PEN_CLOTH);
    cairo_rectangle(c, x, y, w, 56);
    cairo_fill(c);
    tb_pen_ink(c, PEN_INK);
    tb_pen_line(c, x, y, x + w, y, 1.4);
    (void)words(c, "P", PEN_INK, x + 6, y + 4, &big, large);
    (void)words(c, "P", PEN_INK, x + 6, y + 23, &rest, small);
}

static double figures(cairo_t *c, const struct month *m, double y)
{
    const struct tb_month_sums *s = &m->sums;
    long long judged = s->fits + s->contradicts + s->undecided;
    struct tb_text a = { 0 }, b = { 0 };

    figure(c, 0, y, say(&a, s->lots == 1 ? _("%lld lot") : _("%lld lots"), (long long)s->lots),
           say(&b, _("%lld %s, %lld %s, %.0f\xC2\xA0m came in"), (long long)s->work.deliveries,
               s->work.deliveries == 1 ? _("delivery") : _("deliveries"), (long long)s->bolts,
               s->bolts == 1 ? _("bolt") : _("bolts"), s->metres));
    figure(c, 1, y, say(&a, _("%lld judged"), judged),
           say(&b,
               s->bolts == 1 ? _("%lld of %lld bolt burnt: a verdict speaks of the bolts burnt")
                             : _("%lld of %lld bolts burnt: a verdict speaks of the bolts burnt"),
               (long long)s->bolts_burnt, (long long)s->bolts));
    say(&b, _("%lld fit, %lld undecided"), (long long)s->fits, (long long)s->undecided);
    if (judged)
        tb_text_addf(&b, _("; %.1f\xC2\xA0%% contradict (95\xC2\xA0%% interval %.1f to %.1f\xC2\xA0%%)"),
                     100 * (double)s->contradicts / (double)judged, 100 * s->low, 100 * s->high);
    figure(c, 2, y,
           say(&a, s->contradicts == 1 ? _("%lld contradicts") : _("%lld contradict"),
               (long long)s->contradicts),
           tb_text_str(&b));
    say(&b, s->held.lots == 1 ? _("lot on hold: %.0f\xC2\xA0m") : _("lots on hold: %.0f\xC2\xA0m"),
        s->held.metres);
    for (size_t i = 0; i < s->monies; i++)
        if (s->money[i].held > 0)
            tb_text_addf(&b, ", %s\xC2\xA0%.0f", s->money[i].currency, s->money[i].held);
    figure(c, 3, y, say(&a, _("%lld held"), (long long)s->held.lots), tb_text_str(&b));
    tb_text_free(&a);
    tb_text_free(&b);
    return y + 56 + 10;
}

/* --- charts --------------------------------------------------------------------------------------------------- */

static double charts(cairo_t *c, const struct month *m, double y)
{
    const double half = (ROOM - 10) / 2, wide = ROOM * 0.62, high = 208, low = 268;
    const struct {
        void (*draw)(cairo_t *c, const struct month *m, const double box[4]);
        double box[4];
    } chart[] = {
        { tb_month_draw_trend, { LEFT, y, half, high } },
        { tb_month_draw_ranks, { LEFT + half + 10, y, half, high } },
        { tb_month_draw_matrix, { LEFT, y + high + 6, wide, low } },
        { tb_month_draw_stakes, { LEFT + wide + 10, y + high + 6, ROOM - wide - 10, low } },
    };

    for (size_t i = 0; i < TB_COUNT(chart); i++) {
        cairo_tag_begin(c, "Figure", NULL);
        chart[i].draw(c, m, chart[i].box);
        cairo_tag_end(c, "Figure");
    }
    return y + high + low + 12;
}

/* --- what waits ------------------------------------------------------------------------------------------------- */

static double waiting(cairo_t *c, const struct month *m, double y, struct tb_text *t)
{
    const struct pen_words heading = { .size = 10.5, .bold = true },
                           line = { .size = 8, .width = ROOM, .lines = 1 };

    say(t, tb_tab_rows(m->open) == 1 ? _("Open: %zu lot") : _("Open: %zu lots"), tb_tab_rows(m->open));
    if (m->urgents)
        tb_text_add(t, _(", the first to decide"));
    y += words(c, "H2", PEN_INK, LEFT, y, &heading, tb_text_str(t)) + 1;
    tb_pen_ink(c, PEN_MADDER);
    tb_pen_line(c, LEFT, y, LEFT + ROOM, y, 1);
    y += 3;
    for (size_t i = 0; i < m->urgents; i++)
        y += words(c, "P", PEN_INK, LEFT, y, &line, m->urgent[i].line) + 1;
    if (m->sums.claims) {
        say(t, _("Claims: %lld open, %lld of them overdue (sheet Claims)."), (long long)m->sums.claims,
            (long long)m->sums.claims_overdue);
        y += words(c, "P", PEN_INK, LEFT, y + 2, &line, tb_text_str(t)) + 2;
    }
    if (m->sums.markets) {
        say(t,
            m->sums.markets == 1 ? _("Labels: %lld looked at, one for each lot in %lld market; the declared "
                                     "words have a fault in "
                                     "%lld of them (sheet Labels).")
                                 : _("Labels: %lld looked at, one for each lot in each of %lld markets; the "
                                     "declared words have a "
                                     "fault in %lld of them (sheet Labels)."),
            (long long)m->sums.labels, (long long)m->sums.markets, (long long)m->sums.label_faults);
        y += words(c, "P", PEN_INK, LEFT, y + 2, &line, tb_text_str(t)) + 2;
    }
    return y;
}

static void cautions(cairo_t *c)
{
    const struct pen_words how = { .size = 7.5, .width = ROOM };
    const char *text = _(
        "A burn tells kinds of fibre apart, not percentages, and not twins such as cotton and viscose or "
        "wool and "
        "hair; \"fit\" means that nothing was seen against the words and never confirms them; what was seen "
        "was seen on the bolts that were burnt. Intervals are exact (Clopper-Pearson) "
        "and hold "
        "for all lots only if the judged ones were drawn at random. Before money or law depends on it, let a "
        "laboratory analyse the cloth. Burn tests belong where flame work is permitted, with trained people; "
        "local "
        "fire code and the employer's rules come first. Information, not legal advice: official texts and "
        "your own "
        "counsel decide.");
    double w, h;

    tb_pen_measure(c, &w, &h, &how, text);
    tb_pen_ink(c, PEN_THREAD);
    tb_pen_line(c, LEFT, FOOT - h - 4, LEFT + ROOM, FOOT - h - 4, 0.6);
    (void)words(c, "P", PEN_INK, LEFT, FOOT - h, &how, text);
}

static void draw_page(cairo_t *c, void *arg)
{
    const struct month *m = arg;
    struct tb_text t = { 0 };
    double y;

    cairo_tag_begin(c, "Document", NULL);
    y = head(c, m, &t);
    y = figures(c, m, y);
    y = charts(c, m, y);
    (void)waiting(c, m, y, &t);
    cautions(c);
    cairo_tag_end(c, "Document");
    cairo_show_page(c);
    tb_text_free(&t);
}

tb_rc tb_month_page(struct tb_outfile *out, struct month *m, struct tb_err *err)
{
    struct tb_text title = { 0 }, pdf = { 0 };
    struct paper how = { .width = PAGE_WIDTH, .height = PAGE_HEIGHT, .created = m->plan->now };
    tb_rc rc;

    how.title = say(&title, _("Cloth received, %s"), m->plan->name);
    rc = tb_paper_pdf(&pdf, &how, draw_page, m, err);
    rc = rc == TB_OK ? tb_paper_put(out, m->plan->page, &pdf, err) : tb_within(err, rc, "%s", m->plan->page);
    tb_text_free(&title);
    tb_text_free(&pdf);
    return rc;
}
