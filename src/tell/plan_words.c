/* A plan for a draw in words: how many bolts, what that shows, and the operating characteristic line by line. */
#include "base/say.h"
#include "tenterbook/tell.h"

#include <math.h>
#include <string.h>

#define BAR 36  /* a line of the table keeps to 80 columns */
#define ROWS 12 /* of the table */

void tb_plan_shows_words(struct tb_text *out, const struct tb_plan *p)
{
    char chance[TB_PERCENT], asked[TB_PERCENT];
    long bad = p->want.bad, bolts = p->bolts;

    (void)tb_percent(chance, p->chance);
    (void)tb_percent(asked, p->want.sure);
    if (p->cut < 0)
        tb_text_addf(
            out,
            _n("Even cutting the %ld bolt would show %ld false among them with a chance of only %s, "
               "below the %s asked for.",
               "Even cutting all %ld bolts would show %ld false among them with a chance of only %s, "
               "below the %s asked for.",
               bolts),
            bolts, bad, chance, asked);
    else if (bolts == 1)
        tb_text_addf(out, _("If the bolt were false, this would show it with a chance of %s."), chance);
    else
        tb_text_addf(
            out,
            p->accept > 0
                ? _("If %ld or more of the %ld bolts were false, this would refuse the lot with a chance of "
                    "%s.")
                : _("If %ld or more of the %ld bolts were false, this would show it with a chance of %s."),
            bad, bolts, chance);
}

/* The rule of the table in words, with the letters by which it is found there. */
static void acceptance_words(struct tb_text *out, const struct tb_plan *p)
{
    const struct tb_acceptance *a = &p->acceptance;

    if (a->accept == 0)
        tb_text_say(out, "Pass the lot when none of them is false; refuse it at %ld or more.\n", a->refuse);
    else
        tb_text_say(out, "Pass the lot when %ld or fewer of them are false; refuse it at %ld or more.\n",
                    a->accept, a->refuse);
    if (a->refuse > a->accept + 1)
        tb_text_say(out, "Between the two the lot passes, and the next one comes under normal inspection.\n");
    if (strcmp(a->code, a->use_code) != 0)
        tb_text_addf(out,
                     _n("Code letter %s; the arrow of the table leads to the plan of letter %s, %ld bolt.\n",
                        "Code letter %s; the arrow of the table leads to the plan of letter %s, %ld bolts.\n",
                        a->table_n),
                     a->code, a->use_code, a->table_n);
    else
        tb_text_addf(out, _n("Code letter %s, %ld bolt.\n", "Code letter %s, %ld bolts.\n", a->table_n),
                     a->code, a->table_n);
    if (a->table_n > p->bolts)
        tb_text_say(out, "The lot is smaller than the plan's sample: every bolt is looked at.\n");
}

/* Two decimals, or as many as show the first figure of a share: of a great lot it is hardly above zero. */
static int share_decimals(double share)
{
    return share > 0 && share < 0.005 ? (int)ceil(-log10(share)) : 2;
}

static tb_rc curve_words(struct tb_text *out, const struct tb_plan *p, struct tb_err *err)
{
    struct tb_plan_point point[TB_PLAN_POINTS_MOST];
    size_t n;
    int wide;
    tb_rc rc = tb_plan_curve(point, &n, ROWS, p, err);

    if (rc != TB_OK)
        return rc;
    /* the smallest share needs the most decimals: the column is as wide as that */
    wide = n ? share_decimals(100 * (double)point[0].bad / (double)p->bolts) + 2 : 0;
    wide = wide < 6 ? 6 : wide;
    tb_text_addf(out, "\n%12s  %*s  %s\n", _("false bolts"), wide + 2, _("share"),
                 p->accept > 0 ? _("chance that the lot is refused") : _("chance that it shows"));
    for (size_t i = 0; i < n; i++) {
        char bar[BAR + 1] = "", chance[TB_PERCENT];
        double share = 100 * (double)point[i].bad / (double)p->bolts;

        memset(bar, '#', (size_t)lround(BAR * point[i].chance));
        tb_text_addf(out, "%12ld  %*.*f %%  %16s  %s\n", point[i].bad, wide, share_decimals(share), share,
                     tb_percent(chance, point[i].chance), bar);
    }
    return TB_OK;
}

static void headline(struct tb_text *out, const struct tb_plan *p, enum tb_handling most)
{
    if (p->cut < 0)
        return;
    if (most == TB_HANDLING_LABORATORY)
        tb_text_addf(out,
                     _n("%ld of %ld bolt is drawn for a licensed laboratory. Nothing is cut here.\n",
                        "%ld of %ld bolts are drawn for a licensed laboratory. Nothing is cut here.\n",
                        p->bolts),
                     p->cut, p->bolts);
    else
        tb_text_addf(out, _n("Cut %ld of %ld bolt.\n", "Cut %ld of %ld bolts.\n", p->bolts), p->cut,
                     p->bolts);
}

tb_rc tb_plan_words(struct tb_text *out, const struct tb_plan *p, const struct tb_catch *caught,
                    enum tb_handling most, struct tb_err *err)
{
    char chance[TB_PERCENT];
    bool flame = most == TB_HANDLING_ANY;

    headline(out, p, most);
    tb_plan_shows_words(out, p);
    tb_text_addc(out, '\n');
    if (p->cut < 0)
        tb_text_say(
            out, flame ? N_("Burn each bolt more than once, or add a test that catches more.\n")
                       : N_("Burns cannot show it: ask a laboratory, or make a test that catches more.\n"));
    if (p->want.kind == TB_PLAN_ACCEPTANCE)
        acceptance_words(out, p);
    tb_text_say(out,
                flame
                    ? N_("A false bolt that is burned is taken to be recognised with a chance of %s (%s).\n")
                    : N_("A false bolt that is tested is taken to be recognised with a chance of %s (%s).\n"),
                tb_percent(chance, caught->one), caught->words);
    if (p->n_strata > 1)
        tb_text_say(out, p->accept == 0
                             ? N_("The bolts are spread over the dye lots; the chance holds wherever "
                                  "the false ones are.\n")
                             : N_("The bolts are spread over the dye lots; the chance is that of bolts "
                                  "drawn from all of them together.\n"));
    return curve_words(out, p, err);
}
