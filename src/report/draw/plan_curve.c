/* What a draw would show: its operating characteristic as a picture. */
#include "tenterbook/plan_curve.h"

#include "base/say.h"
#include "tenterbook/chart.h"
#include "tenterbook/tell.h"

#include <math.h>

#define WIDE 580 /* points */
#define HIGH 340

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
    struct tb_text shows = { 0 }, note = { 0 }, x_name = { 0 }, svg = { 0 };
    size_t n;
    tb_rc rc = tb_plan_curve(point, &n, TB_PLAN_POINTS_MOST, plan, err);

    if (rc != TB_OK)
        return rc;
    line.n = points(drawn, point, n);
    tb_plan_shows_words(&shows, plan);
    tb_text_addf(&note, _n("%ld of %ld bolt cut. %s", "%ld of %ld bolts cut. %s", plan->bolts), cut,
                 plan->bolts, shows.s);
    tb_text_addf(&x_name, _("false bolts among %ld"), plan->bolts);
    k.note = note.s;
    k.x_name = x_name.s;
    if ((rc = tb_chart_svg(&svg, &k, WIDE, HIGH, err)) == TB_OK)
        (void)fwrite(svg.s, 1, svg.n, f);
    tb_text_free(&shows);
    tb_text_free(&note);
    tb_text_free(&x_name);
    tb_text_free(&svg);
    return rc;
}
