/* A tester's page, and all testers on one. */
#include "cli/bench/drill.h"
#include "cli/sampling/draw.h"
#include "cli/show.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* Landis and Koch, Biometrics 33:159 (1977) */
/* The words go by hundredths, as the figure is printed. */
static const char *kappa_word(double kappa)
{
    static const struct {
        double below;
        const char *word;
    } words[] = { { 0, "poor" },        { 0.21, "slight" },      { 0.41, "fair" },
                  { 0.61, "moderate" }, { 0.81, "substantial" }, { INFINITY, "almost perfect" } };
    size_t i = 0;

    kappa = round(100 * kappa) / 100;
    while (kappa >= words[i].below - 1e-9)
        i++;
    return words[i].word;
}

static void say_kappa(FILE *out, const struct tb_kappa *k)
{
    if (isnan(k->kappa))
        (void)fputs(_("Agreement beyond chance cannot be told: only one kind of answer was given.\n"), out);
    else if (!(k->error > 0))
        (void)fprintf(
            out, _("Agreement beyond chance: kappa %.2f, %s; answers that never vary leave no interval.\n"),
            k->kappa, _(kappa_word(k->kappa)));
    else
        (void)fprintf(out, _("Agreement beyond chance: kappa %.2f, between %.2f and %.2f (95 %%), %s.\n"),
                      k->kappa, k->lo, k->hi, _(kappa_word(k->kappa)));
}

static void say_confusion(struct tb_ctx *ctx, const struct drills *d, const struct drill_tester *t)
{
    struct tb_table out;
    char align[64] = "l";

    if (d->classes + 1 >= sizeof align)
        return;
    memset(align + 1, 'r', d->classes);
    align[d->classes + 1] = '\0';
    tb_table_begin(&out, d->classes + 1);
    tb_table_cell(&out, "%s", _("IT WAS / NAMED"));
    for (size_t i = 0; i < d->classes; i++)
        tb_table_cell(&out, "%s", d->class_key[i]);
    for (size_t i = 0; i < d->classes; i++) {
        tb_table_cell(&out, "%s", d->class_key[i]);
        for (size_t k = 0; k < d->classes; k++)
            tb_table_cell(&out, "%.0f", t->confusion[i * d->classes + k]);
    }
    (void)fputc('\n', ctx->out);
    tb_table_print(&out, ctx->out, align, 24);
}

static void say_cues(struct tb_ctx *ctx, const struct drill_tester *t)
{
    const char *const head[] = { _("CUE"), _("LOOKED"), _("REPORTED"), _("OTHERS LOOKED"),
                                 _("OTHERS REPORTED") };
    struct tb_table out;

    if (t->cues == 0)
        return;
    tb_table_begin(&out, TB_COUNT(head));
    for (size_t i = 0; i < TB_COUNT(head); i++)
        tb_table_cell(&out, "%s", head[i]);
    for (size_t i = 0; i < t->cues; i++) {
        tb_table_cell(&out, "%s", t->cue[i].cue);
        tb_table_cell(&out, "%ld", t->cue[i].looked);
        tb_table_cell(&out, "%ld", t->cue[i].seen);
        tb_table_cell(&out, "%ld", t->cue[i].others_looked);
        tb_table_cell(&out, "%ld", t->cue[i].others_seen);
    }
    (void)fputc('\n', ctx->out);
    tb_table_print(&out, ctx->out, "lrrrr", 30);
}

static void say_tester(struct tb_ctx *ctx, const struct drills *d, const struct drill_tester *t)
{
    (void)fprintf(ctx->out,
                  _n("%s: %ld known swatch answered, %ld named right.\n",
                     "%s: %ld known swatches answered, %ld named right.\n", t->answered),
                  t->name, t->answered, t->right);
    if (t->answered > 0)
        say_kappa(ctx->out, &t->kappa);
    if (t->answered >= TB_DRILLS_ENOUGH)
        (void)fputs(_("Enough answers for reporting rates of this tester's own, shown below; verdicts still "
                      "weigh cues by "
                      "the published rates.\n"),
                    ctx->out);
    else
        (void)fprintf(ctx->out,
                      _("%d answers are needed before reporting rates of this tester's own mean much; "
                        "verdicts weigh cues by "
                        "the published rates.\n"),
                      TB_DRILLS_ENOUGH);
    if (t->pairs > 0 && !isnan(t->doubled.agreement)) {
        char p[32];

        (void)fprintf(ctx->out,
                      _n("%ld bolt was burned by somebody else too; of each cue both said the same in %s. ",
                         "%ld bolts were burned by somebody else too; of each cue both said the same in %s. ",
                         t->pairs),
                      t->pairs, draw_percent(p, t->doubled.agreement));
        say_kappa(ctx->out, &t->doubled);
    }
    (void)fputs(t->n_practise ? _("To practise:\n") : _("Nothing stands out to practise.\n"), ctx->out);
    for (size_t i = 0; i < t->n_practise; i++)
        (void)fprintf(ctx->out, "- %s\n", t->practise[i]);
    if (t->answered > 0)
        say_confusion(ctx, d, t);
    say_cues(ctx, t);
}

static json_t *kappa_json(const struct tb_kappa *k)
{
    return json_pack("{s:o, s:o, s:o, s:o, s:o}", "agreement", tb_json_number(k->agreement), "kappa",
                     tb_json_number(k->kappa), "error", tb_json_number(k->error), "lo", tb_json_number(k->lo),
                     "hi", tb_json_number(k->hi));
}

static json_t *tester_json(const struct drills *d, const struct drill_tester *t)
{
    json_t *classes = json_array(), *rows = json_array(), *cues = json_array(), *practise = json_array();

    for (size_t i = 0; i < d->classes; i++) {
        json_t *row = json_array();

        (void)json_array_append_new(classes, json_string(d->class_key[i]));
        for (size_t k = 0; k < d->classes; k++)
            (void)json_array_append_new(row, json_integer((json_int_t)t->confusion[i * d->classes + k]));
        (void)json_array_append_new(rows, row);
    }
    for (size_t i = 0; i < t->cues; i++)
        (void)json_array_append_new(cues, json_pack("{s:s, s:I, s:I, s:I, s:I}", "cue", t->cue[i].cue,
                                                    "looked", (json_int_t)t->cue[i].looked, "reported",
                                                    (json_int_t)t->cue[i].seen, "others_looked",
                                                    (json_int_t)t->cue[i].others_looked, "others_reported",
                                                    (json_int_t)t->cue[i].others_seen));
    for (size_t i = 0; i < t->n_practise; i++)
        (void)json_array_append_new(practise, tb_json_text(t->practise[i]));
    return json_pack("{s:o, s:I, s:I, s:o, s:i, s:b, s:o, s:o, s:o, s:o, s:I, s:o}", "tester",
                     tb_json_text(t->name), "answered", (json_int_t)t->answered, "right",
                     (json_int_t)t->right, "kappa", kappa_json(&t->kappa), "needed", TB_DRILLS_ENOUGH,
                     "rates_enough", t->answered >= TB_DRILLS_ENOUGH, "classes", classes, "confusion", rows,
                     "cues", cues, "practise", practise, "doubled", (json_int_t)t->pairs, "doubled_kappa",
                     kappa_json(&t->doubled));
}

static tb_rc show_one(struct tb_ctx *ctx, struct drills *d, const char *name, struct tb_err *err)
{
    struct drill_tester t;
    tb_rc rc = drill_tester_work_out(&t, d, name, ctx, err);

    if (rc == TB_OK && t.answered == 0 && t.pairs == 0)
        return tb_fail(err, TB_ENOTFOUND,
                       "%s: no card answered yet, and no bolt burned that another burned too", name);
    if (rc != TB_OK)
        return rc;
    if (ctx->json)
        return tb_print_json(ctx, tester_json(d, &t), err);
    say_tester(ctx, d, &t);
    return TB_OK;
}

static json_t *together_json(const struct tb_fleiss *f, size_t swatches)
{
    return swatches ? json_pack("{s:I, s:f, s:o, s:f, s:o, s:o}", "swatches", (json_int_t)swatches,
                                "agreement", f->agreement, "kappa", tb_json_number(f->kappa), "free_marginal",
                                f->free_marginal, "lo", tb_json_number(f->lo), "hi", tb_json_number(f->hi))
                    : json_null();
}

static void say_together(FILE *out, const struct tb_fleiss *f, size_t swatches)
{
    if (swatches == 0 || isnan(f->kappa))
        return;
    (void)fprintf(out,
                  _n("On the %zu swatch that all of them answered: kappa %.2f (Fleiss)",
                     "On the %zu swatches that all of them answered: kappa %.2f (Fleiss)", swatches),
                  swatches, f->kappa);
    if (!isnan(f->lo))
        (void)fprintf(out, _(", between %.2f and %.2f (95 %%)"), f->lo, f->hi);
    (void)fprintf(out, ", %s.\n", _(kappa_word(f->kappa)));
}

static tb_rc show_all(struct tb_ctx *ctx, struct drills *d, struct tb_err *err)
{
    const char *const head[] = { _("TESTER"), _("ANSWERED"), _("RIGHT"), _("KAPPA"), _("BETWEEN") };
    json_t *list = json_array();
    struct tb_fleiss f = { 0 };
    struct tb_table t;
    size_t swatches = 0;
    tb_rc rc = drills_together(&f, &swatches, d, err);

    tb_table_begin(&t, TB_COUNT(head));
    for (size_t i = 0; i < TB_COUNT(head); i++)
        tb_table_cell(&t, "%s", head[i]);
    for (size_t i = 0; i < d->testers && rc == TB_OK; i++) {
        struct drill_tester one;

        if ((rc = drill_tester_work_out(&one, d, d->tester[i], ctx, err)) != TB_OK)
            break;
        (void)json_array_append_new(list, tester_json(d, &one));
        tb_table_cell(&t, "%s", one.name);
        tb_table_cell(&t, "%ld", one.answered);
        tb_table_cell(&t, "%ld", one.right);
        tb_table_cell(&t, isnan(one.kappa.kappa) ? "-" : "%.2f", one.kappa.kappa);
        tb_table_cell(&t, one.kappa.error > 0 ? "%.2f .. %.2f" : "", one.kappa.lo, one.kappa.hi);
    }
    if (rc == TB_OK && ctx->json) {
        rc = tb_print_json(ctx,
                           json_pack("{s:I, s:O, s:o}", "dealt", (json_int_t)d->dealt, "testers", list,
                                     "together", together_json(&f, swatches)),
                           err);
    } else if (rc == TB_OK) {
        (void)fprintf(
            ctx->out,
            _n("%zu card was dealt, %zu answered.\n", "%zu cards were dealt, %zu answered.\n", d->dealt),
            d->dealt, d->n);
        if (d->testers > 0)
            tb_table_print(&t, ctx->out, "lrrrl", 30);
        say_together(ctx->out, &f, swatches);
    }
    for (size_t i = 0; i < t.cells; i++)
        tb_text_free(&t.cell[i]);
    free(t.cell);
    json_decref(list);
    return rc;
}

tb_rc drill_show(struct tb_ctx *ctx, const char *name, struct tb_err *err)
{
    struct drills d = { 0 };
    tb_rc rc = drills_read(&d, ctx, err);

    if (rc == TB_OK)
        rc = name ? show_one(ctx, &d, name, err) : show_all(ctx, &d, err);
    drills_free(&d);
    return rc;
}
