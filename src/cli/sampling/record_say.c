/* A supplier's record in words and in JSON. */
#include "cli/sampling/draw.h"
#include "cli/sampling/record.h"
#include "cli/show.h"

#include <stdlib.h>

static void say_share(struct tb_ctx *ctx, const struct record *r)
{
    char mean[32], lo[32], hi[32], conf[32];

    (void)draw_percent(conf, r->conf);
    (void)fprintf(ctx->out,
                  _("About %s of the lots from this supplier will count as not as declared: with %s "
                    "probability between %s and %s.\n"),
                  draw_percent(mean, r->post.mean), conf, draw_percent(lo, r->post.lo),
                  draw_percent(hi, r->post.hi));
    if (r->own.lots > 0)
        (void)fprintf(
            ctx->out,
            _("Their own lots alone, %ld not as declared of %ld judged: between %s and %s (exact).\n"),
            r->own.wrong, r->own.lots, draw_percent(lo, r->exact[0]), draw_percent(hi, r->exact[1]));
    else
        (void)fputs(_("None of their lots was judged yet; this is what is usual elsewhere.\n"), ctx->out);
    if (r->prior_own)
        (void)fprintf(
            ctx->out,
            _("The estimate leans on this site's other suppliers (mean %s, counted like %.0f lots).\n"),
            draw_percent(mean, r->prior.a / (r->prior.a + r->prior.b)), r->prior.a + r->prior.b);
    else
        (void)fprintf(ctx->out,
                      _("Until this site has a record of its own, published rates stand in (mean %s, counted "
                        "like %.0f lots). "
                        "Inspectors chose those samples: an upper guide.\n"),
                      draw_percent(mean, r->prior.a / (r->prior.a + r->prior.b)), r->prior.a + r->prior.b);
}

static void say_advice(struct tb_ctx *ctx, const struct record *r)
{
    static const char *const words[] = {
        "Next delivery: keep the inspection as it is",
        "Next delivery: tighten the inspection",
        "Next delivery: the inspection may be reduced",
        "Next delivery: accept nothing until the cause is put right",
    };

    (void)fprintf(ctx->out, "%s: %s.\n", _(words[r->advice]), r->why);
}

static void say_change(struct tb_ctx *ctx, const struct record *r)
{
    char usual[32];

    (void)draw_percent(usual, r->cusum.p0); /* the share the sum takes as usual, which is kept in bounds */
    if (r->n == 0)
        return;
    if (r->alarm_at < r->n)
        (void)fprintf(ctx->out,
                      _("A change for the worse began about %s and was noticed with lot %s on %s.\n"),
                      r->since < r->n ? r->judged[r->since]->arrived : "", r->judged[r->alarm_at]->ref,
                      r->judged[r->alarm_at]->arrived);
    else
        (void)fputs(_("No change was noticed.\n"), ctx->out);
    (void)fprintf(
        ctx->out,
        _("(Against a usual share of %s; one false alarm in %.0f lots, a doubled share noticed after %.0f on "
          "average.)\n"),
        usual, r->cusum.run_usual, r->cusum.run_found);
}

static tb_rc say_months(struct tb_ctx *ctx, const struct record *r, struct tb_err *err)
{
    struct tb_arena mem = { 0 };
    struct record_month *m = NULL;
    struct tb_table t;
    size_t n = 0;
    tb_rc rc = record_months(&m, &n, r, &mem, err);

    if (rc != TB_OK || n == 0) {
        tb_arena_free(&mem);
        return rc;
    }
    tb_table_begin(&t, 5);
    tb_table_cell(&t, "%s", _("MONTH"));
    tb_table_cell(&t, "%s", _("JUDGED"));
    tb_table_cell(&t, "%s", _("NOT AS DECLARED"));
    tb_table_cell(&t, "%s", _("ALARM AT"));
    tb_table_cell(&t, "%s", "");
    for (size_t i = 0; i < n; i++) {
        tb_table_cell(&t, "%s", m[i].month);
        tb_table_cell(&t, "%ld", m[i].lots);
        tb_table_cell(&t, "%ld", m[i].wrong);
        if (m[i].high <= m[i].lots)
            tb_table_cell(&t, "%ld", m[i].high);
        else
            tb_table_cell(&t, "%s", _("too few lots"));
        tb_table_cell(&t, "%s",
                      m[i].wrong >= m[i].high  ? _("more than chance explains")
                      : m[i].wrong <= m[i].low ? _("fewer than chance explains")
                                               : "");
    }
    (void)fputc('\n', ctx->out);
    tb_table_print(&t, ctx->out, "lrrrl", 40);
    tb_arena_free(&mem);
    return TB_OK;
}

tb_rc record_say(struct tb_ctx *ctx, const struct record *r, struct tb_err *err)
{
    if (r->supplier)
        (void)fprintf(ctx->out,
                      _n("%s: %ld lot, %ld judged, %ld not as declared.\n",
                         "%s: %ld lots, %ld judged, %ld not as declared.\n", r->lots),
                      r->supplier, r->lots, r->own.lots, r->own.wrong);
    say_share(ctx, r);
    if (!r->supplier)
        return TB_OK;
    say_advice(ctx, r);
    say_change(ctx, r);
    (void)fputs(
        _("A lot counts as not as declared when it was returned or relabelled, or when its latest verdict "
          "contradicts and nobody released it; a burn is no analysis.\n"
          "This stands beside the evidence of a burn and is never part of it.\n"),
        ctx->out);
    return r->n > 0 ? say_months(ctx, r, err) : TB_OK;
}

static json_t *pair(double lo, double hi)
{
    return json_pack("{s:f, s:f}", "lo", lo, "hi", hi);
}

static json_t *history_json(const struct record *r)
{
    json_t *o =
        json_pack("{s:f, s:f, s:f, s:I, s:I, s:f, s:f}", "usual", r->cusum.p0, "tuned_to", r->cusum.p1,
                  "run_asked", r->run, "up", (json_int_t)r->cusum.up, "alarm", (json_int_t)r->cusum.alarm,
                  "run_usual", r->cusum.run_usual, "run_found", r->cusum.run_found);

    if (r->alarm_at < r->n) {
        (void)json_object_set_new(o, "noticed_with", tb_json_text(r->judged[r->alarm_at]->ref));
        (void)json_object_set_new(o, "noticed_on", tb_json_text(r->judged[r->alarm_at]->arrived));
        (void)json_object_set_new(o, "began", tb_json_text(r->judged[r->since]->arrived));
    }
    return o;
}

static tb_rc months_json(json_t *o, const struct record *r, struct tb_err *err)
{
    struct tb_arena mem = { 0 };
    struct record_month *m = NULL;
    json_t *list = json_array();
    size_t n = 0;
    tb_rc rc = record_months(&m, &n, r, &mem, err);

    for (size_t i = 0; i < n && rc == TB_OK; i++)
        (void)json_array_append_new(list,
                                    json_pack("{s:s, s:I, s:I, s:I, s:I}", "month", m[i].month, "lots",
                                              (json_int_t)m[i].lots, "wrong", (json_int_t)m[i].wrong, "low",
                                              (json_int_t)m[i].low, "high", (json_int_t)m[i].high));
    (void)json_object_set_new(o, "months", list);
    tb_arena_free(&mem);
    return rc;
}

tb_rc record_json(struct tb_ctx *ctx, const struct record *r, struct tb_err *err)
{
    json_t *o = json_pack("{s:o, s:I, s:I, s:I, s:f}", "supplier", tb_json_text(r->supplier), "lots",
                          (json_int_t)r->lots, "judged", (json_int_t)r->own.lots, "wrong",
                          (json_int_t)r->own.wrong, "confidence", r->conf);
    json_t *prior = json_pack("{s:f, s:f, s:f, s:f, s:s}", "a", r->prior.a, "b", r->prior.b, "mean",
                              r->prior.a / (r->prior.a + r->prior.b), "weight", r->prior.a + r->prior.b,
                              "from", r->prior_own ? "site" : "published");
    json_t *post = json_pack("{s:f, s:f, s:f, s:f, s:f}", "a", r->post.beta.a, "b", r->post.beta.b, "mean",
                             r->post.mean, "lo", r->post.lo, "hi", r->post.hi);
    tb_rc rc = TB_OK;

    (void)json_object_set_new(o, "posterior", post);
    (void)json_object_set_new(o, "prior", prior);
    (void)json_object_set_new(o, "exact", r->own.lots ? pair(r->exact[0], r->exact[1]) : json_null());
    (void)json_object_set_new(o, "jeffreys",
                              r->own.lots ? pair(r->jeffreys[0], r->jeffreys[1]) : json_null());
    if (r->supplier) {
        (void)json_object_set_new(o, "inspection", json_string(tb_inspection_key(r->state.now)));
        (void)json_object_set_new(o, "advice", json_string(record_advice_key(r->advice)));
        (void)json_object_set_new(o, "why", tb_json_text(r->why));
        (void)json_object_set_new(o, "change", history_json(r));
        rc = months_json(o, r, err);
    }
    if (rc != TB_OK) {
        json_decref(o);
        return rc;
    }
    return tb_print_json(ctx, o, err);
}
