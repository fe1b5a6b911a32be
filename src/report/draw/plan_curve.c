/* The operating characteristic of a draw as SVG. */
#include "tenterbook/plan_curve.h"

#include "base/say.h"

#include <math.h>

/* The field of the curve within a picture of 580 by 340. */
#define LEFT 64.0
#define TOP 40.0
#define WIDE 480.0
#define HIGH 240.0

static double across(const struct tb_plan_point *p, size_t n, double bad)
{
    double top = (double)p[n - 1].bad;

    return LEFT + WIDE * (top > 0 ? bad / top : 0);
}

static void axes(FILE *f, const struct tb_plan *plan, const struct tb_plan_point *p, size_t n)
{
    long last = -1;

    for (int i = 0; i <= 4; i++) {
        double y = TOP + HIGH * (1 - i / 4.0);
        long bad = lround((double)p[n - 1].bad * i / 4.0);

        (void)fprintf(f, "<path class=\"grid\" d=\"M%.1f %.1fh%.1f\"/>\n", LEFT, y, WIDE);
        (void)fprintf(f, "<text x=\"%.1f\" y=\"%.1f\" text-anchor=\"end\">%d %%</text>\n", LEFT - 8, y + 4,
                      25 * i);
        if (bad == last) /* few false bolts: fewer marks than lines */
            continue;
        last = bad;
        (void)fprintf(f, "<text x=\"%.1f\" y=\"%.1f\" text-anchor=\"middle\">%ld</text>\n",
                      across(p, n, (double)bad), TOP + HIGH + 20, bad);
    }
    (void)fprintf(f, "<text x=\"%.1f\" y=\"%.1f\" text-anchor=\"middle\">", LEFT + WIDE / 2, TOP + HIGH + 42);
    (void)fprintf(f, _("false bolts among %ld"), plan->bolts);
    (void)fprintf(f, "</text>\n");
}

/* A line, and a dot at each point: in print and copies the dots stay when the line fades. */
static void curve(FILE *f, const struct tb_plan_point *p, size_t n)
{
    (void)fprintf(f, "<path class=\"line\" d=\"M%.1f %.1f", LEFT, TOP + HIGH);
    for (size_t i = 0; i < n; i++)
        (void)fprintf(f, "L%.1f %.1f", across(p, n, (double)p[i].bad), TOP + HIGH * (1 - p[i].chance));
    (void)fputs("\"/>\n", f);
    for (size_t i = 0; i < n; i++)
        (void)fprintf(f, "<circle class=\"dot\" cx=\"%.1f\" cy=\"%.1f\" r=\"2.5\"/>\n",
                      across(p, n, (double)p[i].bad), TOP + HIGH * (1 - p[i].chance));
}

tb_rc tb_plan_curve_svg(FILE *f, const struct tb_plan *plan, const char *statement, struct tb_err *err)
{
    struct tb_plan_point point[TB_PLAN_POINTS_MOST];
    size_t n;
    tb_rc rc = tb_plan_curve(point, &n, TB_PLAN_POINTS_MOST, plan, err);

    if (rc != TB_OK)
        return rc;
    (void)fprintf(f,
                  "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 580 340\" role=\"img\" "
                  "aria-labelledby=\"t d\">\n<title id=\"t\">%s</title>\n<desc id=\"d\">%s</desc>\n",
                  _("Chance that false bolts show, by their number"), statement);
    (void)fputs("<style>text{font:13px sans-serif;fill:#222}.grid{stroke:#ccc}"
                ".line{fill:none;stroke:#14507a;stroke-width:2}.dot{fill:#14507a}</style>\n",
                f);
    axes(f, plan, point, n);
    curve(f, point, n);
    (void)fprintf(f, "<text x=\"%.1f\" y=\"20\">", LEFT);
    (void)fprintf(f, _n("%ld of %ld bolt cut: %s", "%ld of %ld bolts cut: %s", plan->bolts),
                  plan->cut < 0 ? plan->bolts : plan->cut, plan->bolts,
                  plan->accept > 0 ? _("chance that the lot is refused") : _("chance that it shows"));
    (void)fputs("</text>\n</svg>\n", f);
    return TB_OK;
}
