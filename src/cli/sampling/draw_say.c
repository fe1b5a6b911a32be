/* A plan in words, in JSON and as a curve. */
#include "cli/sampling/draw.h"
#include "tenterbook/outfile.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#define BAR 36 /* a line of the table keeps to 80 columns */

const char *draw_percent(char out[32], double share)
{
    if (share > 0 && share < 0.0005)
        (void)snprintf(out, 32, "%s", _("less than 0.1 %"));
    else if (share < 1 && share > 0.9995)
        (void)snprintf(out, 32, "%s", _("more than 99.9 %"));
    else
        (void)snprintf(out, 32, fabs(1000 * share - 10 * round(100 * share)) < 1e-6 ? "%.0f %%" : "%.1f %%",
                       100 * share);
    return out;
}

char *draw_statement(const struct draw *d)
{
    struct tb_text t = { 0 };
    char p[32], asked[32];

    (void)draw_percent(p, d->chance);
    (void)draw_percent(asked, d->sure);
    if (d->cut < 0)
        tb_text_addf(
            &t,
            _n("Even cutting the %ld bolt would show %ld false among them with a chance of only %s, "
               "below the %s asked for.",
               "Even cutting all %ld bolts would show %ld false among them with a chance of only %s, "
               "below the %s asked for.",
               d->bolts),
            d->bolts, d->bad, p, asked);
    else if (d->bolts == 1)
        tb_text_addf(&t, _("If the bolt were false, this would show it with a chance of %s."), p);
    else if (d->accept > 0)
        tb_text_addf(
            &t,
            _n("If %ld or more of the %ld bolt were false, this would refuse the lot with a chance of %s.",
               "If %ld or more of the %ld bolts were false, this would refuse the lot with a chance of %s.",
               d->bolts),
            d->bad, d->bolts, p);
    else
        tb_text_addf(&t,
                     _("If %ld or more of the %ld bolts were false, this would show it with a chance of %s."),
                     d->bad, d->bolts, p);
    return tb_text_take(&t);
}

static void say_acceptance(FILE *out, const struct draw *d)
{
    const struct tb_acceptance *a = &d->acceptance;

    if (a->accept == 0)
        (void)fprintf(out, _("Pass the lot when none of them is false; refuse it at %ld or more.\n"),
                      a->refuse);
    else
        (void)fprintf(out, _("Pass the lot when %ld or fewer of them are false; refuse it at %ld or more.\n"),
                      a->accept, a->refuse);
    if (a->refuse > a->accept + 1)
        (void)fputs(_("Between the two the lot passes, and the next one comes under normal inspection.\n"),
                    out);
    if (strcmp(a->code, a->use_code) != 0)
        (void)fprintf(
            out,
            _n("Code letter %s; the arrow of the table leads to the plan of letter %s, %ld bolt.\n",
               "Code letter %s; the arrow of the table leads to the plan of letter %s, %ld bolts.\n",
               a->table_n),
            a->code, a->use_code, a->table_n);
    else
        (void)fprintf(out, _n("Code letter %s, %ld bolt.\n", "Code letter %s, %ld bolts.\n", a->table_n),
                      a->code, a->table_n);
    if (a->table_n > d->bolts)
        (void)fputs(_("The lot is smaller than the plan's sample: every bolt is looked at.\n"), out);
}

/* Two decimals, or as many as show the first figure of a share: of a great lot it is hardly above nought. */
static int share_decimals(double share)
{
    return share > 0 && share < 0.005 ? (int)ceil(-log10(share)) : 2;
}

static tb_rc say_curve(FILE *out, const struct draw *d, struct tb_err *err)
{
    struct draw_point point[DRAW_POINTS_MOST];
    size_t n;
    int wide;
    tb_rc rc = draw_curve(point, &n, 12, d, err);

    if (rc != TB_OK)
        return rc;
    wide = n ? share_decimals(100 * (double)point[0].bad / (double)d->bolts) + 2 : 0;
    wide = wide < 6 ? 6 : wide;
    (void)fprintf(out, "\n%12s  %*s  %s\n", _("false bolts"), wide + 2, _("share"),
                  d->accept > 0 ? _("chance that the lot is refused") : _("chance that it shows"));
    for (size_t i = 0; i < n; i++) {
        char bar[BAR + 1] = "", p[32];
        double share = 100 * (double)point[i].bad / (double)d->bolts;

        memset(bar, '#', (size_t)lround(BAR * point[i].chance));
        (void)fprintf(out, "%12ld  %*.*f %%  %16s  %s\n", point[i].bad, wide, share_decimals(share), share,
                      draw_percent(p, point[i].chance), bar);
    }
    return TB_OK;
}

tb_rc draw_say(FILE *out, const struct draw *d, struct tb_err *err)
{
    char *statement = draw_statement(d), p[32];

    if (d->cut >= 0)
        (void)fprintf(out, _n("Cut %ld of %ld bolt.\n", "Cut %ld of %ld bolts.\n", d->bolts), d->cut,
                      d->bolts);
    (void)fprintf(out, "%s\n", statement);
    free(statement);
    if (d->cut < 0)
        (void)fputs(_("Burn each bolt more than once, or add a test that catches more.\n"), out);
    if (d->plan == DRAW_ACCEPTANCE)
        say_acceptance(out, d);
    (void)fprintf(out, _("A false bolt that is burned is taken to be recognised with a chance of %s (%s).\n"),
                  draw_percent(p, d->catch_one), d->catch_from);
    if (d->n_strata > 1)
        (void)fputs(
            d->accept == 0
                ? _("The bolts are spread over the dye lots; the chance holds wherever the false ones are.\n")
                : _("The bolts are spread over the dye lots; the chance is that of bolts drawn from all of "
                    "them together.\n"),
            out);
    return say_curve(out, d, err);
}

static const char *plan_key(enum draw_plan plan)
{
    static const char *const keys[] = { "discovery", "acceptance", "share", "every" };

    return keys[plan];
}

static tb_rc curve_json(json_t **out, const struct draw *d, struct tb_err *err)
{
    struct draw_point point[DRAW_POINTS_MOST];
    size_t n;
    tb_rc rc = draw_curve(point, &n, DRAW_POINTS_MOST, d, err);

    *out = json_array();
    for (size_t i = 0; rc == TB_OK && i < n; i++)
        (void)json_array_append_new(
            *out, json_pack("{s:I, s:f}", "false", (json_int_t)point[i].bad, "chance", point[i].chance));
    return rc;
}

tb_rc draw_json(json_t **out, const struct draw *d, struct tb_err *err)
{
    char *statement = draw_statement(d);
    json_t *o =
        json_pack("{s:s, s:I, s:I, s:f, s:f, s:s, s:f, s:s}", "plan", plan_key(d->plan), "bolts",
                  (json_int_t)d->bolts, "false", (json_int_t)d->bad, "sure", d->sure, "catch", d->catch_one,
                  "catch_from", d->catch_from, "chance", d->chance, "statement", statement);
    json_t *curve = NULL;
    tb_rc rc = curve_json(&curve, d, err);

    free(statement);
    (void)json_object_set_new(o, "cut", d->cut < 0 ? json_null() : json_integer(d->cut));
    (void)json_object_set_new(o, "curve", curve);
    if (d->plan == DRAW_SHARE)
        (void)json_object_set_new(o, "share", json_real(d->share));
    if (d->plan == DRAW_ACCEPTANCE) {
        const struct tb_acceptance *a = &d->acceptance;
        json_t *plan = json_pack("{s:s, s:f, s:s, s:s, s:s, s:I, s:I, s:I}", "level", tb_level_key(d->level),
                                 "aql", d->aql, "inspection", tb_inspection_key(d->inspection), "code",
                                 a->code, "use_code", a->use_code, "table_n", (json_int_t)a->table_n,
                                 "accept", (json_int_t)a->accept, "refuse", (json_int_t)a->refuse);

        (void)json_object_update(o, plan);
        json_decref(plan);
    }
    if (rc != TB_OK)
        json_decref(o);
    else
        *out = o;
    return rc;
}

/* --- the curve as SVG: plain shapes and text, nothing to fetch, readable aloud --- */

#define LEFT 64.0
#define TOP 40.0
#define WIDE 480.0
#define HIGH 240.0

static double across(const struct draw_point *p, size_t n, double share)
{
    double top = (double)p[n - 1].bad;

    return LEFT + WIDE * (top > 0 ? share / top : 0);
}

static void svg_axes(FILE *f, const struct draw *d, const struct draw_point *p, size_t n)
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
    (void)fprintf(f, _("false bolts among %ld"), d->bolts);
    (void)fprintf(f, "</text>\n");
}

static void svg_curve(FILE *f, const struct draw *d, const struct draw_point *p, size_t n,
                      const char *statement)
{
    (void)fprintf(f,
                  "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 580 340\" role=\"img\" "
                  "aria-labelledby=\"t d\">\n<title id=\"t\">%s</title>\n<desc id=\"d\">%s</desc>\n",
                  _("Chance that false bolts show, by their number"), statement);
    (void)fputs("<style>text{font:13px sans-serif;fill:#222}.grid{stroke:#ccc}"
                ".line{fill:none;stroke:#14507a;stroke-width:2}.dot{fill:#14507a}</style>\n",
                f);
    svg_axes(f, d, p, n);
    (void)fprintf(f, "<path class=\"line\" d=\"M%.1f %.1f", LEFT, TOP + HIGH);
    for (size_t i = 0; i < n; i++)
        (void)fprintf(f, "L%.1f %.1f", across(p, n, (double)p[i].bad), TOP + HIGH * (1 - p[i].chance));
    (void)fputs("\"/>\n", f);
    for (size_t i = 0; i < n; i++)
        (void)fprintf(f, "<circle class=\"dot\" cx=\"%.1f\" cy=\"%.1f\" r=\"2.5\"/>\n",
                      across(p, n, (double)p[i].bad), TOP + HIGH * (1 - p[i].chance));
    (void)fprintf(f, "<text x=\"%.1f\" y=\"20\">", LEFT);
    (void)fprintf(f, _n("%ld of %ld bolt cut: %s", "%ld of %ld bolts cut: %s", d->bolts),
                  d->cut < 0 ? d->bolts : d->cut, d->bolts,
                  d->accept > 0 ? _("chance that the lot is refused") : _("chance that it shows"));
    (void)fputs("</text>\n</svg>\n", f);
}

tb_rc draw_curve_svg(const char *path, const struct draw *d, struct tb_err *err)
{
    struct draw_point point[DRAW_POINTS_MOST];
    struct tb_outfile file = { 0 };
    char *statement;
    size_t n;
    tb_rc rc = draw_curve(point, &n, DRAW_POINTS_MOST, d, err);

    if (rc == TB_OK)
        rc = tb_outfile_open(&file, path, err);
    if (rc != TB_OK)
        return rc;
    statement = draw_statement(d);
    svg_curve(file.f, d, point, n, statement);
    free(statement);
    return tb_outfile_commit(&file, err);
}
