/* month_summary.c - the first tab: one page a director understands, each figure with how it is counted. */
#include "report/month/month_impl.h"

#include "tenterbook/tell.h"

#include <math.h>
#include <stdio.h>

static const struct tb_column columns[] = {
    { "item", N_("Item"), NULL, TB_COL_TEXT, 0, 44, true, false, TB_FROM_HAND },
    { "figure", N_("Figure"), NULL, TB_COL_ANY, 1, 14, false, false, TB_FROM_HAND },
    { "unit", N_("Unit"), NULL, TB_COL_TEXT, 0, 9, false, false, TB_FROM_HAND },
    { "note", N_("How it is counted"), NULL, TB_COL_TEXT, 0, 74, true, false, TB_FROM_HAND },
};

/* Which list of this workbook a figure is counted over, so that a reader can follow it to the rows. */
struct over {
    enum month_tab tab;
    const char *function, *column, *test; /* function NULL: the figure stands as a value; test NULL: none */
};

/* One line. Its figure is a member of `struct month`. */
struct line {
    const char *item; /* a section, where nothing else is said */
    size_t at;
    enum tb_column_type as; /* TB_COL_TEXT: no figure */
    struct over over;
    const char *note, *unit;
    enum tb_tone tone; /* where the figure is not 0 */
    bool page;         /* a section that begins a printed page: a page ends between two subjects */
    bool held;         /* money: of what is held, not of all; as TB_COL_ANY */
    bool weight;       /* kilograms: left out where every length is known */
    const char *(*say)(char out[96], const struct month *m,
                       size_t at); /* makes the note; NULL: `note` it is */
};

/* --- notes that hold a figure ----------------------------------------------------------------------------------- */

static const char *say_bolts(char out[96], const struct month *m, size_t at)
{
    (void)at;
    (void)snprintf(out, 96,
                   _n("of %lld bolt that came in: a verdict speaks of the bolts tested",
                      "of %lld bolts that came in: a verdict speaks of the bolts tested", m->sums.bolts),
                   (long long)m->sums.bolts);
    return out;
}

static const char *say_share(char out[96], const struct month *m, size_t at)
{
    (void)out;
    (void)at;
    return m->rate.judged ? _("do not conform / lots looked at") : _("no lot was looked at");
}

static const char *say_laboratory(char out[96], const struct month *m, size_t at)
{
    (void)at;
    (void)snprintf(out, 96, _("of them by a laboratory: %lld; by burns and tests: %lld"),
                   (long long)m->sums.does_not_laboratory,
                   (long long)(m->sums.does_not - m->sums.does_not_laboratory));
    return out;
}

static const char *say_deliveries(char out[96], const struct month *m, size_t at)
{
    (void)out;
    (void)at;
    return *m->sums.nothing ? m->sums.nothing : _("by the day of arrival");
}

/* Whatever a verdict is said to mean for lots like it rests on this share. */
static const char *say_base(char out[96], const struct month *m, size_t at)
{
    (void)out;
    (void)at;
    return m->plan->base_from == TB_BASE_SITE
               ? _("a mean fitted over the suppliers of this site, all months together: no share of counts")
           : m->plan->base_from == TB_BASE_SETTING ? _("as the site says of its own (setting base_rate)")
           : m->plan->base_from == TB_BASE_PUBLISHED
               ? _("as published inspections found, until enough lots are judged here")
               : _("not said");
}

/* Lengths that were computed are never a figure without saying so. */
static const char *say_length(char out[96], const struct month *m, size_t at)
{
    const struct tb_month_sums *s = &m->sums;

    (void)at;
    if (s->derived && s->unknown)
        (void)snprintf(out, 96,
                       _("as declared; bolts computed from kilograms: %lld, of unknown length: %lld"),
                       (long long)s->derived, (long long)s->unknown);
    else if (s->derived)
        (void)snprintf(out, 96, _("as declared; bolts whose length is computed from kilograms: %lld"),
                       (long long)s->derived);
    else if (s->unknown)
        (void)snprintf(out, 96, _("as declared; bolts of unknown length, which are not in it: %lld"),
                       (long long)s->unknown);
    else
        return _("as declared on the packing lists");
    return out;
}

static const char *say_oldest(char out[96], const struct month *m, size_t at)
{
    const struct tb_month_work *w = &m->sums.work;

    (void)at;
    if (!w->unanswered)
        return _("joint samples, and what was sent without one");
    (void)snprintf(out, 96, _("with a laboratory; the oldest since %s, %ld days"), w->oldest,
                   tb_day_number(m->today) - tb_day_number(w->oldest));
    return out;
}

static const char *say_turnaround(char out[96], const struct month *m, size_t at)
{
    const struct tb_month_work *w = &m->sums.work;

    (void)at;
    if (!w->answered)
        return _("no sample was answered in the span");
    (void)snprintf(
        out, 96,
        _("median of %lld answers in the span, the longest %lld days; from sending, else from cutting"),
        (long long)w->answered, (long long)w->longest);
    return out;
}

/* Of the bolts that stand so; those whose length is not known are told beside. */
static const char *say_part(char out[96], const struct month *m, size_t at)
{
    const struct tb_month_standing *s =
        (const void *)((const char *)m + at - offsetof(struct tb_month_standing, metres));

    (void)out;
    return s->kg > 0 ? _("of bolts whose length is known; the others follow")
                     : _("of the bolts that stand so");
}

static const char *say_value(char out[96], const struct month *m, size_t at)
{
    (void)at;
    if (!m->sums.unpriced)
        return _("price times quantity, as invoiced");
    (void)snprintf(out, 96, _("price times quantity; lots without a price or quantity, not in it: %lld"),
                   (long long)m->sums.unpriced);
    return out;
}

/* --- the lines -------------------------------------------------------------------------------------------------- */

#define SUM(member) offsetof(struct month, sums.member)
#define SECTION(words)                                                                                       \
    {                                                                                                        \
        .item = words                                                                                        \
    }
#define COUNT(words, member, ...)                                                                            \
    {                                                                                                        \
        .item = words, .at = SUM(member), .as = TB_COL_COUNT, __VA_ARGS__                                    \
    }
#define SHARE(words, member, ...)                                                                            \
    {                                                                                                        \
        .item = words, .at = offsetof(struct month, rate.member), .as = TB_COL_SHARE, __VA_ARGS__            \
    }
#define AMOUNT(words, member, in, ...)                                                                       \
    {                                                                                                        \
        .item = words, .at = SUM(member), .as = TB_COL_NUMBER, .unit = in, __VA_ARGS__                       \
    }
/* Counted by the bolts that stand so: lots, their metres, and the kilograms of those whose length is not known. */
#define STANDING(words, length, weighed, member, word)                                                       \
    COUNT(words, member.lots, .over = { TAB_LOTS, "COUNTIF", "bolts_" word, ">0" }, .unit = N_("lots")),     \
        AMOUNT(length, member.metres, "m", .over = { TAB_LOTS, "SUM", word "_m", NULL }, .say = say_part),   \
        AMOUNT(weighed, member.kg, "kg", .over = { TAB_LOTS, "SUM", word "_kg", NULL }, .weight = true,      \
               .note = N_("of bolts whose length is not known"))
#define CONCLUDED(words, member, word, ...)                                                                  \
    COUNT(words, member, .over = { TAB_LOTS, "COUNTIF", "conclusion", word }, __VA_ARGS__)

static const struct line lines[] = {
    SECTION(N_("Came in")),
    COUNT(N_("Deliveries"), work.deliveries, .say = say_deliveries),
    COUNT(N_("Lots"), lots, .over = { TAB_LOTS, "COUNTA", "lot", NULL },
          .note = N_("one article and shade under one declaration")),
    COUNT(N_("Bolts"), bolts, .over = { TAB_LOTS, "SUM", "bolts", NULL }),
    { .item = N_("Length"),
      .at = SUM(metres),
      .as = TB_COL_NUMBER,
      .over = { TAB_LOTS, "SUM", "length_m", NULL },
      .unit = "m",
      .say = say_length },
    AMOUNT(N_("Weight"), kg, "kg", .over = { TAB_LOTS, "SUM", "weight_kg", NULL }, .weight = true,
           .note = N_("of bolts that were only weighed: they are not in the length")),
    { .item = N_("Value"), .as = TB_COL_ANY, .say = say_value },
    SECTION(N_("Concluded, of the supplier's words, from all that is known")),
    { .item = N_("Lots looked at"),
      .at = offsetof(struct month, rate.judged),
      .as = TB_COL_COUNT,
      .over = { TAB_LOTS, "COUNTIF", "concluded_by", "?*" },
      .note = N_("at least one swatch was burnt or tested, or a laboratory has answered") },
    CONCLUDED(N_("conform, after laboratory"), conforms, "conforms",
              .note = N_("a laboratory found the declaration kept, in the markets named")),
    CONCLUDED(N_("do not conform"), does_not, "does not conform", .tone = TB_TONE_ALARM,
              .say = say_laboratory),
    CONCLUDED(N_("no finding against the words"), nothing_against, "no finding against it",
              .note = N_("by burns and tests; no laboratory: that never confirms them")),
    COUNT(N_("open"), open, .tone = TB_TONE_DOUBT, .note = N_("looked at, and neither of these can be said")),
    COUNT(N_("Answered by a laboratory"), laboratory,
          .over = { TAB_LOTS, "COUNTIF", "concluded_by", "laboratory" },
          .note = N_("it outweighs what was seen at the bench")),
    SECTION(N_("Judged by burning and testing alone")),
    COUNT(N_("fit"), fits, .over = { TAB_LOTS, "COUNTIF", "verdict", "fits" },
          .note = N_("nothing was seen against the words; that never confirms them")),
    COUNT(N_("contradict"), contradicts, .over = { TAB_LOTS, "COUNTIF", "verdict", "contradicts" },
          .tone = TB_TONE_ALARM, .note = N_("what was seen is hard to explain by the declared fibres")),
    COUNT(N_("speak against"), against, .over = { TAB_LOTS, "COUNTIF", "verdict", "speaks against" },
          .tone = TB_TONE_DOUBT, .note = N_("asks for a test, and holds nothing by itself")),
    COUNT(N_("undecided"), undecided, .over = { TAB_LOTS, "COUNTIF", "verdict", "undecided" },
          .tone = TB_TONE_DOUBT, .note = N_("another test or a laboratory is needed")),
    COUNT(N_("Lots waiting for a verdict"), unjudged, .over = { TAB_LOTS, "COUNTBLANK", "verdict", NULL },
          .note = N_("nothing tested, or not judged yet")),
    COUNT(N_("Bolts tested"), bolts_tested, .over = { TAB_BOLTS, "COUNTIF", "all_tests", ">0" },
          .say = say_bolts),
    COUNT(N_("Bolts burnt"), bolts_burnt, .over = { TAB_BOLTS, "COUNTIF", "burns", ">0" },
          .note = N_("the others of the bolts tested were tested without a flame")),
    { .item = N_("Not conforming, by all that is known"), .as = TB_COL_TEXT, .page = true },
    SHARE(N_("Share of lots looked at that do not conform"), share, .say = say_share),
    SHARE(N_("  at least, with 95 % confidence"), low,
          .note = N_(
              "exact (Clopper-Pearson) interval; it holds for all lots only if those looked at were drawn at "
              "random")),
    SHARE(N_("  at most, with 95 % confidence"), high, .note = NULL),
    SHARE(N_("Share if every lot still open were wrong too"), most,
          .note = N_("(do not conform + open) / lots looked at")),
    { .item = N_("Share of all lots taken not to be as declared"),
      .at = offsetof(struct month, base_rate),
      .as = TB_COL_SHARE,
      .say = say_base },
    SECTION(N_("Standing of these lots, each with at least one bolt that stands so")),
    COUNT(N_("Waiting"), waiting.lots, .unit = N_("lots")),
    AMOUNT(N_("Waiting, length"), waiting.metres, "m", .say = say_part),
    AMOUNT(N_("Waiting, weight"), waiting.kg, "kg", .weight = true,
           .note = N_("of bolts whose length is not known")),
    STANDING(N_("Held"), N_("Held, length"), N_("Held, weight"), held, "held"),
    STANDING(N_("Released"), N_("Released, length"), N_("Released, weight"), released, "released"),
    STANDING(N_("Relabelled"), N_("Relabelled, length"), N_("Relabelled, weight"), relabelled, "relabelled"),
    STANDING(N_("Returned"), N_("Returned, length"), N_("Returned, weight"), returned, "returned"),
    COUNT(N_("In part"), in_part, .over = { TAB_LOTS, "COUNTIF", "standing", "*in part" }, .unit = N_("lots"),
          .note =
              N_("single bolts stand otherwise than the rest; metres are those of the bolts that stand so")),
    { .item = N_("Value held"), .as = TB_COL_ANY, .held = true },
    /* work is counted by when it was done, lots by when they arrived: the heading says that it is another count */
    SECTION(N_("Work done in the span, on any lot")),
    COUNT(N_("Swatches cut"), work.swatches, .note = NULL),
    COUNT(N_("Burns"), work.burns, .note = N_("corrected records counted once")),
    COUNT(N_("Other bench tests"), work.bench_tests, .note = NULL),
    COUNT(N_("Verdicts"), work.verdicts, .note = N_("a lot judged again counts again")),
    COUNT(N_("Decisions on lots"), work.settled, .note = N_("by people, of whole lots")),
    COUNT(N_("Holds without a decision"), work.holds,
          .note = N_("which a verdict made by itself, or the opening of a dispute")),
    COUNT(N_("Decisions on single bolts"), work.settled_bolts, .note = N_("those in force, a bolt each")),
    SECTION(N_("Laboratories")),
    COUNT(N_("Analyses"), work.analyses, .note = N_("by the day of the analysis")),
    { .item = N_("From sample to answer"),
      .at = SUM(work.median),
      .as = TB_COL_NUMBER,
      .unit = N_("days"),
      .say = say_turnaround },
    COUNT(N_("Samples not answered yet"), work.unanswered, .tone = TB_TONE_DOUBT, .say = say_oldest),
};

/* --- a line ------------------------------------------------------------------------------------------------------- */

static void put_figure(struct month *m, const struct line *l)
{
    struct tb_tab *t = m->tab[TAB_SUMMARY];
    const void *at = (const char *)m + l->at;
    double value = l->as == TB_COL_COUNT ? (double)*(const int64_t *)at : *(const double *)at;
    struct tb_text f = { 0 };

    tb_put_tone(t, value != 0 ? l->tone : TB_TONE_PLAIN);
    if (!l->over.function) {
        tb_month_put_plain(t, value, l->as);
        return;
    }
    tb_tab_formula(&f, m->tab[l->over.tab], l->over.function, l->over.column, l->over.test);
    tb_put_formula(t, value, l->as, "%s", tb_text_str(&f));
    tb_text_free(&f);
}

static tb_rc put(struct month *m, const struct line *l, struct tb_err *err)
{
    struct tb_tab *t = m->tab[TAB_SUMMARY];
    char note[96];

    tb_put_text(t, _(l->item));
    put_figure(m, l);
    tb_put_text(t, l->unit ? _(l->unit) : NULL);
    tb_put_text(t, l->say ? l->say(note, m, l->at) : l->note ? _(l->note) : NULL);
    return tb_tab_row(t, err);
}

/* A line for each currency, with two decimals, whatever the other figures of the form take. */
static tb_rc put_money(struct month *m, const struct line *l, struct tb_err *err)
{
    struct tb_tab *t = m->tab[TAB_SUMMARY];
    char note[96] = "";
    tb_rc rc = TB_OK;

    for (size_t i = 0; i < m->sums.monies && rc == TB_OK; i++) {
        tb_put_text(t, _(l->item));
        tb_put_decimals(t, 2);
        tb_put_number(t, l->held ? m->sums.money[i].held : m->sums.money[i].all);
        tb_put_text(t, m->sums.money[i].currency);
        if (l->held && m->sums.money[i].held_unknown)
            (void)snprintf(note, sizeof note, _("lots held in part whose part has no value, not in it: %lld"),
                           (long long)m->sums.money[i].held_unknown);
        tb_put_text(t, l->say ? l->say(note, m, l->at) : note);
        rc = tb_tab_row(t, err);
    }
    return rc;
}

static void count_outdated(struct month *m)
{
    const struct tb_outdated *o = m->plan->outdated;
    struct tb_text refs = { 0 };

    if (!o)
        return;
    m->sums.otherwise = (int64_t)o->otherwise;
    m->sums.other_figures = (int64_t)(o->n - o->otherwise);
    tb_outdated_refs(&refs, o);
    (void)snprintf(m->sums.otherwise_lots, sizeof m->sums.otherwise_lots, "%s", tb_text_str(&refs));
    tb_text_free(&refs);
}

/* What is concluded of a lot may rest on such a verdict: which they are is said where they are counted. */
static tb_rc put_outdated(struct month *m, struct tb_err *err)
{
    struct tb_tab *t = m->tab[TAB_SUMMARY];
    const struct line line[] = {
        COUNT(N_("Verdicts that would be others by what is known now"), otherwise, .tone = TB_TONE_DOUBT,
              .note = m->sums.otherwise_lots),
        COUNT(N_("Verdicts weighed with other known cloth, drills or figures"), other_figures,
              .note = N_("judging them again shows whether they are still so")),
    };
    tb_rc rc = TB_OK;

    if (!m->sums.otherwise && !m->sums.other_figures)
        return TB_OK;
    rc = tb_tab_section(t, _("Judge again"), err);
    for (size_t i = 0; i < TB_COUNT(line) && rc == TB_OK; i++)
        rc = put(m, &line[i], err);
    return rc;
}

/* On paper it is a code that a scanner reads; here it is the same as text. */
static tb_rc put_anchor(struct month *m, struct tb_err *err)
{
    struct tb_tab *t = m->tab[TAB_SUMMARY];
    tb_rc rc;

    if (!m->source->anchor || !*m->source->anchor)
        return TB_OK;
    if ((rc = tb_tab_section(t, _("State of the book"), err)) != TB_OK)
        return rc;
    tb_put_text(t, _("Anchor: prove --since takes it"));
    tb_put_text(t, NULL);
    tb_put_text(t, NULL);
    tb_put_text(t, m->source->anchor);
    return tb_tab_row(t, err);
}

static tb_rc fill(struct month *m, struct tb_err *err)
{
    tb_rc rc = tb_month_compared(m, err);

    count_outdated(m);
    if (!m->sums.work.answered)
        m->sums.work.median = NAN;

    for (size_t i = 0; i < TB_COUNT(lines) && rc == TB_OK; i++) {
        if (lines[i].weight && !(m->sums.kg > 0))
            continue;
        if (lines[i].page)
            tb_tab_break(m->tab[TAB_SUMMARY]);
        rc = lines[i].as == TB_COL_TEXT  ? tb_tab_section(m->tab[TAB_SUMMARY], _(lines[i].item), err)
             : lines[i].as == TB_COL_ANY ? put_money(m, &lines[i], err)
                                         : put(m, &lines[i], err);
    }
    if (rc == TB_OK)
        rc = put_outdated(m, err);
    if (rc == TB_OK)
        rc = tb_month_money_lines(m, err);
    return rc == TB_OK ? put_anchor(m, err) : rc;
}

static void prepare(struct month *m, struct tb_tab_plan *plan)
{
    plan->title = tb_text_str(&m->title);
    plan->note = tb_text_str(&m->stood);
}

const struct sheet tb_month_summary = {
    .key = "summary",
    .tab = N_("Summary"),
    .column = columns,
    .columns = TB_COUNT(columns),
    .layout = TB_LAYOUT_FORM,
    .last = true,
    .prepare = prepare,
    .fill = fill,
};
