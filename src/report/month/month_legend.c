/* month_legend.c - the last tab: what the words mean, what a burn can and cannot show. */
#include "report/month/month_impl.h"

#include "tenterbook/evidence.h"

#include <math.h>

static const struct tb_column columns[] = {
    { "term", N_("Word"), NULL, TB_COL_TEXT, 0, 30, true, false, TB_FROM_HAND },
    { "meaning", N_("Meaning"), NULL, TB_COL_TEXT, 0, 110, true, false, TB_FROM_HAND },
};

/* How many times likelier one side has to be, by the limits in force. */
static double times(double limit)
{
    return limit < 1 ? 1 / limit : limit;
}

static void say_fits(struct tb_text *out, const struct tb_evidence_settings *in_force)
{
    tb_text_addf(out,
                 _("Burning and testing found nothing against the words; they never confirm them. What was "
                   "seen is more than %.3g times as likely if the declared fibres are there as if anything "
                   "else is that burns differently, and more than one look says so."),
                 times(in_force->fits_above));
}

static void say_contradicts(struct tb_text *out, const struct tb_evidence_settings *in_force)
{
    tb_text_addf(out,
                 _("What was seen is more than %.3g times likelier if something else is there that burns "
                   "differently than if the declared fibres are, and more than one look says so. The lot is "
                   "held by itself until somebody decides."),
                 times(in_force->contradicts_below));
}

static void say_speaks_against(struct tb_text *out, const struct tb_evidence_settings *in_force)
{
    tb_text_addf(out,
                 _("What was seen is more than %.3g times likelier if something else is there that burns "
                   "differently, but not by so much that it contradicts, or one look alone says so. It asks "
                   "for a test and holds nothing by itself."),
                 times(fmax(in_force->speaks_below, in_force->contradicts_below)));
}

/* In the order a reader asks. Kept short: who needs more has docs/method.md. */
static const struct {
    const char *term, *meaning; /* meaning NULL, and nothing to say: a section */
    void (*say)(struct tb_text *out, const struct tb_evidence_settings *in_force);
} entry[] = {
    { N_("What a burn can show"), NULL, NULL },
    { N_("Kinds of fibre"),
      N_("How a swatch melts, flames, smells and what it leaves tells kinds of fibre "
         "apart: plant fibres, hair and "
         "silk, fibres that melt, acetates, and some others."),
      NULL },
    { N_("A fibre that should not be there"),
      N_("A bead, a smell of burning hair or black smoke shows as "
         "soon as enough of the fibre that makes it is present."),
      NULL },
    { N_("What a burn cannot show"), NULL, NULL },
    { N_("Percentages"),
      N_("Burning does not measure shares. Cloth declared 60/40 and cloth that is 50/50 "
         "burn alike; a few percent of a fibre, such as elastane, do not show at all."),
      NULL },
    { N_("Twins"),
      N_("Cotton, flax, viscose and other cellulose burn alike, so do wool and other hair. Which of them "
         "it is needs a microscope, a solvent or a laboratory."),
      NULL },
    { N_("The whole lot"),
      N_("What was seen was seen on the bolts that were tested, and how many of them, "
         "burnt or tested without "
         "a flame, stands beside every verdict. The other bolts are as declared only as "
         "far as they are like those."),
      NULL },
    { N_("Certainty"),
      N_("A verdict weighs evidence; how often it errs was worked out from published descriptions, not "
         "measured in trials. Before money or law depends on it, let a laboratory analyse the cloth."),
      NULL },
    { N_("Words of the conclusion"), NULL, NULL },
    { N_("conforms"),
      N_("A laboratory found the supplier's declaration kept, in the markets named, within the tolerance of "
         "each and the "
         "uncertainty of its figures."),
      NULL },
    { N_("does not conform"),
      N_("A laboratory found the declaration broken in a market, or the verdict of burns and tests "
         "contradicts it. A "
         "laboratory outweighs the bench."),
      NULL },
    { N_("no finding against it"),
      N_("Burning and testing found nothing against the words, and no laboratory was asked: nothing is "
         "confirmed."),
      NULL },
    { N_("open"),
      N_("Nothing was looked at, the verdict is undecided or speaks against, the words cannot be read, or "
         "the laboratory "
         "cannot say within its uncertainty."),
      NULL },
    { N_("Words of the verdict"), NULL, NULL },
    { N_("fits"), NULL, say_fits },
    { N_("contradicts"), NULL, say_contradicts },
    { N_("speaks against"), NULL, say_speaks_against },
    { N_("undecided"),
      N_("The evidence does not reach any of these limits, or one look alone does, or "
         "something else fits as well: look again, test otherwise, or ask a laboratory."),
      NULL },
    { N_("One look"),
      N_("What one person saw in one channel, such as one smell. One mistake would be enough, "
         "so that one look decides nothing by itself."),
      NULL },
    { N_("Evidence ratio"),
      N_("How many times likelier the observations are if the declared fibres are "
         "there than if anything else is that burns differently, up to the limit of what "
         "the model was tested on; 1 says nothing, below 1 speaks against the "
         "declaration."),
      NULL },
    { N_("Standing"), NULL, NULL },
    { N_("waiting"), N_("Received, not decided."), NULL },
    { N_("held"), N_("Not to be cut, sold or sent until decided."), NULL },
    { N_("released, relabelled, returned"), N_("Decided, with the reason and the person in the book."),
      NULL },
    { N_("Figures"), NULL, NULL },
    { N_("Lots looked at (looked_at)"),
      N_("Burnt, tested or analysed: those that conform, that have no finding against them, that do not "
         "conform, and those of them that are open. The record of a supplier counts the open ones out, and "
         "calls the rest judged: its share is of fewer lots."),
      NULL },
    { N_("95 % interval"),
      N_("Exact (Clopper-Pearson): with as many lots looked at as here, shares outside it "
         "would seldom give this count. It takes those lots for a random draw; "
         "where the suspicious ones were tested first, the share of all lots is likely "
         "lower."),
      NULL },
    { N_("Length, value"),
      N_("Length as declared by the supplier; value is price times quantity as invoiced (Quantity, Unit, "
         "Price of one unit). Sums never "
         "mix currencies."),
      NULL },
    { N_("How to read the marks"),
      N_("Light words on dark: does not conform, held. Slanted in a frame: "
         "open, waiting. They stay apart without colour."),
      NULL },
    { N_("CSV files"),
      N_("Each sheet lies beside this workbook as CSV: UTF-8, comma, decimal point, days as "
         "year-month-day. Words that begin with = + - @ ' or a tab carry one apostrophe in "
         "front, so that no program takes them for a formula."),
      NULL },
    { N_("Cautions"), NULL, NULL },
    { N_("Flame and fumes"),
      N_("Burn tests belong at a place where flame work is permitted, by trained "
         "people; local fire code and the "
         "employer's rules come first. There is a flame-free way for every lot."),
      NULL },
    { N_("Law"),
      N_("These sheets inform. They are not legal advice; the official texts and your own counsel decide."),
      NULL },
};

static tb_rc fill(struct month *m, struct tb_err *err)
{
    struct tb_tab *t = m->tab[TAB_LEGEND];
    struct tb_text words = { 0 };
    struct tb_evidence_settings in_force;
    tb_rc rc = TB_OK;

    tb_evidence_defaults(&in_force);
    if (m->plan->fits_above > 0) {
        in_force.fits_above = m->plan->fits_above;
        in_force.speaks_below = m->plan->speaks_below;
        in_force.contradicts_below = m->plan->contradicts_below;
    }
    for (size_t i = 0; i < TB_COUNT(entry) && rc == TB_OK; i++) {
        if (!entry[i].meaning && !entry[i].say) {
            rc = tb_tab_section(t, _(entry[i].term), err);
            continue;
        }
        tb_put_text(t, _(entry[i].term));
        tb_text_clear(&words);
        if (entry[i].say)
            entry[i].say(&words, &in_force);
        else
            tb_text_add(&words, _(entry[i].meaning));
        tb_put_text(t, words.s);
        rc = tb_tab_row(t, err);
    }
    tb_text_free(&words);
    return rc;
}

const struct sheet tb_month_legend = {
    .key = "legend",
    .tab = N_("Legend"),
    .title = N_("What these sheets say, and what they cannot say"),
    .column = columns,
    .columns = TB_COUNT(columns),
    .layout = TB_LAYOUT_FORM,
    .no_span = true,
    .fill = fill,
};
