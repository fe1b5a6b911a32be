/* What a draw would show: in a sentence, and its operating characteristic as a picture. */
#include "tenterbook/plan_curve.h"

#include "base/say.h"
#include "tenterbook/chart.h"

#include <math.h>
#include <stdlib.h>

#define WIDE 580 /* points */
#define HIGH 340

char *tb_plan_statement(const struct tb_plan *p)
{
    struct tb_text t = { 0 };
    char chance[TB_PERCENT], asked[TB_PERCENT];
    long bad = p->want.bad, bolts = p->bolts;

    (void)tb_percent(chance, p->chance);
    (void)tb_percent(asked, p->want.sure);
    if (p->cut < 0)
        tb_text_addf(
            &t,
            _n("Even cutting the %ld bolt would show %ld false among them with a chance of only %s, "
               "below the %s asked for.",
               "Even cutting all %ld bolts would show %ld false among them with a chance of only %s, "
               "below the %s asked for.",
               bolts),
            bolts, bad, chance, asked);
    else if (bolts == 1)
        tb_text_addf(&t, _("If the bolt were false, this would show it with a chance of %s."), chance);
    else
        tb_text_addf(
            &t,
            p->accept > 0
                ? _("If %ld or more of the %ld bolts were false, this would refuse the lot with a chance of "
                    "%s.")
                : _("If %ld or more of the %ld bolts were false, this would show it with a chance of %s."),
            bad, bolts, chance);
    return tb_text_take(&t);
}

/* No false bolt shows nothing: the curve begins there, whatever the plan. */
static size_t points(struct tb_chart_point *out, const struct tb_plan_point *p, size_t n)
{
    out[0] = (struct tb_chart_point){ .lo = NAN, .hi = NAN };
    for (size_t i = 0; i < n; i++)
        out[i + 1] = (struct tb_chart_point){ .x = (double)p[i].bad, .y = p[i].chance, .lo = NAN, .hi = NAN };
    return n + 1;
}

/* The axis ends at 100 %: how near the curve comes to certainty is what it is looked at for. */
tb_rc tb_plan_curve_svg(FILE *f, const struct tb_plan *plan, struct tb_err *err)
{
    struct tb_plan_point point[TB_PLAN_POINTS_MOST];
    struct tb_chart_point drawn[TB_PLAN_POINTS_MOST + 1];
    struct tb_chart_series line = { .point = drawn };
    struct tb_chart k = { .kind = TB_CHART_LINE,
                          .title = _("Chance that false bolts show, by their number"),
                          .y_name = plan->accept > 0 ? _("chance that the lot is refused")
                                                     : _("chance that it shows"),
                          .y_share = true,
                          .x_whole = true,
                          .y_most = 1,
                          .series = &line,
                          .n = 1 };
    long cut = plan->cut < 0 ? plan->bolts : plan->cut;
    struct tb_text note = { 0 }, x_name = { 0 }, svg = { 0 };
    char *statement;
    size_t n;
    tb_rc rc = tb_plan_curve(point, &n, TB_PLAN_POINTS_MOST, plan, err);

    if (rc != TB_OK)
        return rc;
    line.n = points(drawn, point, n);
    statement = tb_plan_statement(plan);
    tb_text_addf(&note, _n("%ld of %ld bolt cut. %s", "%ld of %ld bolts cut. %s", plan->bolts), cut,
                 plan->bolts, statement);
    tb_text_addf(&x_name, _("false bolts among %ld"), plan->bolts);
    k.note = note.s;
    k.x_name = x_name.s;
    if ((rc = tb_chart_svg(&svg, &k, WIDE, HIGH, err)) == TB_OK)
        (void)fwrite(svg.s, 1, svg.n, f);
    free(statement);
    tb_text_free(&note);
    tb_text_free(&x_name);
    tb_text_free(&svg);
    return rc;
}
