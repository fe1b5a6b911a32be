/* A plan in words, in JSON and as a curve. */
#include "cli/sampling/draw.h"

#include "tenterbook/plan_curve.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#define BAR 36  /* a line of the table keeps to 80 columns */
#define ROWS 12 /* of the table */

/* The rule of the table in words, with the letters by which it is found there. */
static void say_acceptance(FILE *out, const struct tb_plan *p)
{
    const struct tb_acceptance *a = &p->acceptance;

    if (a->accept == 0)
        tb_say(out, "Pass the lot when none of them is false; refuse it at %ld or more.\n", a->refuse);
    else
        tb_say(out, "Pass the lot when %ld or fewer of them are false; refuse it at %ld or more.\n",
               a->accept, a->refuse);
    if (a->refuse > a->accept + 1)
        tb_say(out, "Between the two the lot passes, and the next one comes under normal inspection.\n");
    if (strcmp(a->code, a->use_code) != 0)
        tb_say(out,
               _n("Code letter %s; the arrow of the table leads to the plan of letter %s, %ld bolt.\n",
                  "Code letter %s; the arrow of the table leads to the plan of letter %s, %ld bolts.\n",
                  a->table_n),
               a->code, a->use_code, a->table_n);
    else
        tb_say(out, _n("Code letter %s, %ld bolt.\n", "Code letter %s, %ld bolts.\n", a->table_n), a->code,
               a->table_n);
    if (a->table_n > p->bolts)
        tb_say(out, "The lot is smaller than the plan's sample: every bolt is looked at.\n");
}

/* Two decimals, or as many as show the first figure of a share: of a great lot it is hardly above zero. */
static int share_decimals(double share)
{
    return share > 0 && share < 0.005 ? (int)ceil(-log10(share)) : 2;
}

static tb_rc say_curve(FILE *out, const struct tb_plan *p, struct tb_err *err)
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
    (void)fprintf(out, "\n%12s  %*s  %s\n", _("false bolts"), wide + 2, _("share"),
                  p->accept > 0 ? _("chance that the lot is refused") : _("chance that it shows"));
    for (size_t i = 0; i < n; i++) {
        char bar[BAR + 1] = "", chance[TB_PERCENT];
        double share = 100 * (double)point[i].bad / (double)p->bolts;

        memset(bar, '#', (size_t)lround(BAR * point[i].chance));
        (void)fprintf(out, "%12ld  %*.*f %%  %16s  %s\n", point[i].bad, wide, share_decimals(share), share,
                      tb_percent(chance, point[i].chance), bar);
    }
    return TB_OK;
}

tb_rc draw_say(FILE *out, const struct tb_plan *p, const struct tb_catch *caught, struct tb_err *err)
{
    char *statement = tb_plan_statement(p), chance[TB_PERCENT];

    if (p->cut >= 0)
        tb_say(out, _n("Cut %ld of %ld bolt.\n", "Cut %ld of %ld bolts.\n", p->bolts), p->cut, p->bolts);
    (void)fprintf(out, "%s\n", statement);
    free(statement);
    if (p->cut < 0)
        tb_say(out, "Burn each bolt more than once, or add a test that catches more.\n");
    if (p->want.kind == TB_PLAN_ACCEPTANCE)
        say_acceptance(out, p);
    tb_say(out, "A false bolt that is burned is taken to be recognised with a chance of %s (%s).\n",
           tb_percent(chance, caught->one), caught->words);
    if (p->n_strata > 1)
        tb_say(out, p->accept == 0 ? N_("The bolts are spread over the dye lots; the chance holds wherever "
                                        "the false ones are.\n")
                                   : N_("The bolts are spread over the dye lots; the chance is that of bolts "
                                        "drawn from all of them together.\n"));
    return say_curve(out, p, err);
}

#define POINT(member, key) TB_JSON_AS(struct tb_plan_point, member, key)
TB_JSON_MEMBERS(point_members, POINT(bad, "false"), POINT(chance, "chance"));

#define TABLE(member, key) TB_JSON_AS(struct tb_acceptance, member, key)
TB_JSON_MEMBERS(table_members, TABLE(code, "code"), TABLE(use_code, "use_code"), TABLE(table_n, "table_n"),
                TABLE(accept, "accept"), TABLE(refuse, "refuse"));

tb_rc draw_json(json_t **out, const struct tb_plan *p, const struct tb_catch *caught, struct tb_err *err)
{
    const struct tb_plan_wish *w = &p->want;
    struct tb_plan_point point[TB_PLAN_POINTS_MOST];
    char *statement;
    size_t n;
    json_t *o;
    tb_rc rc = tb_plan_curve(point, &n, TB_PLAN_POINTS_MOST, p, err);

    if (rc != TB_OK)
        return rc;
    statement = tb_plan_statement(p);
    *out = o =
        json_pack("{s:s, s:I, s:I, s:f, s:f, s:s, s:f, s:s}", "plan", tb_plan_key(w->kind), "bolts",
                  (json_int_t)p->bolts, "false", (json_int_t)w->bad, "sure", w->sure, "catch", w->catch_one,
                  "catch_from", caught->words, "chance", p->chance, "statement", statement);
    free(statement);
    tb_json_put(o, "cut", p->cut < 0 ? json_null() : json_integer(p->cut));
    tb_json_put(o, "curve", tb_json_all(point_members, point, n));
    if (w->kind == TB_PLAN_SHARE)
        tb_json_put(o, "share", json_real(w->share));
    if (w->kind == TB_PLAN_ACCEPTANCE) {
        tb_json_put(o, "level", json_string(tb_level_key(w->level)));
        tb_json_put(o, "aql", json_real(w->aql));
        tb_json_put(o, "inspection", json_string(tb_inspection_key(w->inspection)));
        tb_json_add(o, table_members, TB_COUNT(table_members), &p->acceptance);
    }
    return TB_OK;
}

tb_rc draw_curve_begin(struct tb_outset *files, const struct tb_ctx *ctx, struct tb_err *err)
{
    const char *path = tb_opt(ctx, "curve");
    struct tb_outfile *file;
    tb_rc rc;

    files->replace = tb_opt_on(ctx, "replace");
    rc = path ? tb_outset_add(&file, files, path, ".svg", err) : TB_OK;
    return rc == TB_EEXISTS ? TB_EREFUSED : rc; /* what is there twice in a draw is a lot, and a misuse */
}

tb_rc draw_curve_end(struct tb_outset *files, tb_rc rc, const struct tb_plan *p, struct tb_err *err)
{
    if (rc == TB_OK && files->n)
        rc = tb_plan_curve_svg(files->file[0]->f, p, err);
    return tb_outset_end(files, rc, err);
}
