/* assay: options, tables of masses and compositions to an analysis. */
#include "cli/lab/assay.h"
#include "tenterbook/sheet.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

const struct tb_part *assay_the_part(const struct tb_declaration *d)
{
    return d->comp.n ? &d->comp.part[0] : NULL;
}

/* Without percentages only the fibres matter: then missing figures are no doubt. */
static bool matters(const struct tb_doubt *doubt, bool percents)
{
    if (!percents && (doubt->kind == TB_DOUBT_NO_PERCENT || doubt->kind == TB_DOUBT_SUM))
        return false;
    return tb_doubt_blocks(doubt->kind);
}

tb_rc assay_part(struct tb_declaration *d, const char *option, const char *text, bool percents,
                 struct tb_err *err)
{
    tb_declaration_read(d, text, strlen(text));
    for (size_t i = 0; i < d->n; i++)
        if (matters(&d->doubt[i], percents))
            return tb_fail(err, TB_EINVAL, "%s: %s", option, d->doubt[i].say);
    if (d->comp.n == 0 || d->comp.part[0].n == 0)
        return tb_fail(err, TB_EINVAL, "%s: there is no fibre in it", option);
    if (d->comp.n > 1)
        return tb_fail(err, TB_EINVAL, "%s: it names several parts of the cloth; analyse one part at a time",
                       option);
    return TB_OK;
}

int assay_fibre(const char *word)
{
    size_t n = 0;
    const struct tb_name *name;
    int fibre = tb_fibre_by_key(word);

    if (fibre >= 0)
        return fibre;
    name = tb_name_find(word, strlen(word), &n);
    for (size_t i = 0; i < n; i++)
        if (name[i].fibre >= 0)
            return name[i].fibre;
    return -1;
}

const char *assay_fibre_name(int fibre)
{
    return fibre >= 0 ? tb_fibre_at(fibre)->name : _("other fibres");
}

/* --- conditions: FIBRE=WORD --------------------------------------------------------------------------------- */
static tb_rc one_condition(struct assay *a, const char *text, struct tb_err *err)
{
    const struct tb_part *part = a->mix;
    const char *eq = strchr(text, '=');
    char *word;
    int fibre;

    if (!eq)
        return tb_misuse(err, "--condition takes FIBRE=WORD, such as cotton=unbleached, not '%s'", text);
    word = tb_strndup(text, (size_t)(eq - text));
    fibre = assay_fibre(word);
    free(word);
    for (size_t i = 0; fibre >= 0 && i < part->n && i < TB_LAB_FIBRES_MOST; i++) {
        if (part->share[i].fibre != fibre)
            continue;
        if (!tb_lab_condition_known(fibre, eq + 1))
            return tb_fail(err, TB_EINVAL, "--condition: no table knows '%s' for %s", eq + 1,
                           assay_fibre_name(fibre));
        tb_text_addf(&a->condition[i], "%s%s", a->condition[i].n ? "," : "", eq + 1);
        a->conditions[i] = tb_text_str(&a->condition[i]);
        return TB_OK;
    }
    return tb_fail(err, TB_EINVAL, "--condition: '%.*s' is not one of the fibres", (int)(eq - text), text);
}

static tb_rc read_conditions(struct assay *a, const struct tb_ctx *ctx, struct tb_err *err)
{
    const char *text;
    tb_rc rc = TB_OK;

    for (size_t i = 0; rc == TB_OK && (text = tb_opt_nth(ctx, "condition", i)); i++)
        rc = one_condition(a, text, err);
    return rc;
}

/* --- route, methods, factors -------------------------------------------------------------------------------- */
static tb_rc read_route(enum tb_lab_route *route, const struct tb_ctx *ctx, struct tb_err *err)
{
    long variant = 0;
    int said = (tb_opt(ctx, "variant") != NULL) + tb_opt_on(ctx, "by-hand") + tb_opt_on(ctx, "nitrogen");
    tb_rc rc = tb_opt_whole(&variant, ctx, "variant", 1, 4, err);

    if (rc != TB_OK)
        return rc;
    if (said > 1)
        return tb_misuse(err, "--variant, --by-hand and --nitrogen exclude one another");
    *route = variant                      ? (enum tb_lab_route)(TB_LAB_VARIANT_1 + variant - 1)
             : tb_opt_on(ctx, "by-hand")  ? TB_LAB_HAND
             : tb_opt_on(ctx, "nitrogen") ? TB_LAB_NITROGEN
                                          : TB_LAB_DISSOLVE;
    return TB_OK;
}

/* Numbers parted by commas; a comma in a number is not possible here. */
static tb_rc read_list(double *out, size_t *n, size_t most, const char *option, const char *text,
                       struct tb_err *err)
{
    char *copy = tb_strdup(text), *save = NULL;
    tb_rc rc = TB_OK;

    *n = 0;
    for (char *w = strtok_r(copy, ",; ", &save); w && rc == TB_OK; w = strtok_r(NULL, ",; ", &save)) {
        if (*n == most)
            rc = tb_fail(err, TB_EINVAL, "--%s: more than %zu numbers", option, most);
        else if ((rc = tb_lab_number(&out[*n], w, err)) != TB_OK)
            rc = tb_within(err, rc, "--%s", option);
        else
            ++*n;
    }
    free(copy);
    return rc;
}

static tb_rc read_methods(struct tb_lab_wish *w, const struct tb_ctx *ctx, struct tb_err *err)
{
    const char *text;

    for (size_t i = 0; (text = tb_opt_nth(ctx, "method", i)); i++) {
        char *end;
        long number = strtol(text, &end, 10);

        if (i == 2)
            return tb_misuse(err, "an analysis uses one method or two");
        if (!*text || *end || number < 1 || number > (long)tb_lab_method_count())
            return tb_fail(err, TB_EINVAL, "--method is '%s'; the methods are numbered 1 to %zu", text,
                           tb_lab_method_count());
        w->method[i] = (int)number;
    }
    return TB_OK;
}

static tb_rc read_wish(struct tb_lab_wish *w, struct assay *a, const struct tb_ctx *ctx, struct tb_err *err)
{
    enum tb_lab_route route = TB_LAB_DISSOLVE;
    const char *text;
    tb_rc rc = read_route(&route, ctx, err);

    if (rc != TB_OK)
        return rc;
    tb_lab_wish_init(w, route, a->mix);
    w->conditions = a->conditions;
    if ((text = tb_opt(ctx, "dissolved")) && (w->dissolved = assay_fibre(text)) < 0)
        return tb_fail(err, TB_EINVAL, "--dissolved: '%s' is no fibre", text);
    if ((rc = read_methods(w, ctx, err)) == TB_OK && (text = tb_opt(ctx, "d")))
        rc = read_list(w->d, &w->factors, TB_LAB_FACTORS_MOST, "d", text, err);
    return rc;
}

/* --- readings ------------------------------------------------------------------------------------------------ */
struct feed {
    struct tb_lab_masses *m;
};

static tb_rc feed_row(void *arg, const struct tb_row *row, struct tb_err *err)
{
    struct feed *f = arg;
    const char **cell = tb_array(const char *, row->n + 1);
    tb_rc rc;

    for (size_t i = 0; i < row->n; i++)
        cell[i] = row->cell[i].text;
    rc = tb_lab_masses_row(f->m, cell, row->n, row->line, err);
    free(cell);
    return rc;
}

static tb_rc read_file(struct tb_lab_masses *m, const char *path, struct tb_err *err)
{
    struct feed f = { m };
    struct tb_sheet_sink sink = { .row = feed_row, .arg = &f };
    tb_rc rc = tb_sheet_read(path, &sink, err);

    if (rc == TB_OK)
        rc = tb_lab_masses_end(m, err);
    return rc == TB_OK ? rc : tb_within(err, rc, "%s", path);
}

static tb_rc add_det(struct tb_lab_masses *m, const struct tb_lab_det *det, struct tb_err *err)
{
    tb_rc rc = tb_lab_check(m->route, m->fibres, det, err);

    if (rc != TB_OK)
        return tb_within(err, rc, "determination %zu", m->n + 1);
    if (m->n == TB_LAB_DETS_MOST)
        return tb_fail(err, TB_EINVAL, "more than %d determinations", TB_LAB_DETS_MOST);
    m->det[m->n++] = *det;
    return TB_OK;
}

static tb_rc read_weights(struct tb_lab_masses *m, const struct tb_ctx *ctx, struct tb_err *err)
{
    const char *text;
    tb_rc rc = TB_OK;

    for (size_t i = 0; rc == TB_OK && (text = tb_opt_nth(ctx, "weights", i)); i++) {
        struct tb_lab_det det = { { 0 } };
        size_t n;

        rc = read_list(det.in, &n, TB_LAB_INPUTS_MOST, "weights", text, err);
        if (rc == TB_OK && n != m->fibres)
            rc = tb_fail(err, TB_EINVAL, "--weights: %zu masses for %zu fibres", n, m->fibres);
        if (rc == TB_OK)
            rc = add_det(m, &det, err);
    }
    return rc;
}

/* One determination takes the i-th value of every reading's option. *more is false when there is none. */
static tb_rc read_one(struct tb_lab_det *det, bool *more, const struct tb_lab_masses *m,
                      const struct tb_ctx *ctx, size_t i, struct tb_err *err)
{
    size_t n = tb_lab_inputs(m->route, m->fibres), given = 0;
    const char *lacking = NULL;

    for (size_t k = 0; k < n; k++) {
        const char *name = tb_lab_input_name(m->route, k), *text = tb_opt_nth(ctx, name, i);
        tb_rc rc;

        if (!text) {
            lacking = name;
            continue;
        }
        given++;
        if ((rc = tb_lab_number(&det->in[k], text, err)) != TB_OK)
            return tb_within(err, rc, "--%s", name);
    }
    *more = given > 0;
    return given == 0 || given == n
               ? TB_OK
               : tb_fail(err, TB_EINVAL, "determination %zu has no --%s; every determination needs them all",
                         i + 1, lacking);
}

static tb_rc read_flags(struct tb_lab_masses *m, const struct tb_ctx *ctx, struct tb_err *err)
{
    bool more = true;
    tb_rc rc = TB_OK;

    if (m->route == TB_LAB_HAND)
        return read_weights(m, ctx, err);
    for (size_t i = 0; rc == TB_OK; i++) {
        struct tb_lab_det det = { { 0 } };

        if ((rc = read_one(&det, &more, m, ctx, i, err)) != TB_OK || !more)
            break;
        rc = add_det(m, &det, err);
    }
    return rc;
}

static tb_rc no_readings(const struct tb_lab_masses *m, struct tb_err *err)
{
    struct tb_text want = { 0 };
    tb_rc rc;

    for (size_t k = 0; m->route != TB_LAB_HAND && k < tb_lab_inputs(m->route, m->fibres); k++)
        tb_text_addf(&want, " --%s", tb_lab_input_name(m->route, k));
    if (m->route == TB_LAB_HAND)
        tb_text_add(&want, " --weights");
    rc = tb_misuse(err, "there are no masses: give --masses FILE, or%s once for every determination",
                   tb_text_str(&want));
    tb_text_free(&want);
    return rc;
}

static tb_rc read_masses(struct assay *a, const struct tb_ctx *ctx, struct tb_err *err)
{
    const char *names[TB_LAB_FIBRES_MOST], *path = tb_opt(ctx, "masses");
    tb_rc rc;

    for (size_t i = 0; i < a->setup.task.fibres; i++)
        names[i] = tb_fibre_at(a->setup.fibre[i])->name;
    tb_lab_masses_start(&a->masses, a->setup.task.route, a->setup.task.fibres, names);
    rc = path ? read_file(&a->masses, path, err) : read_flags(&a->masses, ctx, err);
    a->masses.names = NULL; /* they were on this stack */
    if (rc == TB_OK && a->masses.n == 0)
        rc = no_readings(&a->masses, err);
    return rc;
}

/* --- a laboratory's own percentages ---------------------------------------------------------------------------- */
static tb_rc read_found(struct assay *a, const struct tb_ctx *ctx, struct tb_err *err)
{
    const struct tb_part *part;
    double u = NAN;
    tb_rc rc;

    if (!tb_opt(ctx, "uncertainty"))
        return tb_misuse(
            err, "--found needs --uncertainty, the standard uncertainty of the laboratory in points: half "
                 "of an expanded one");
    if ((rc = tb_opt_number(&u, ctx, "uncertainty", 0, 20, err)) != TB_OK ||
        (rc = assay_part(&a->mixture, "--found", tb_opt(ctx, "found"), true, err)) != TB_OK)
        return rc;
    part = assay_the_part(&a->mixture);
    if (part->n > TB_LAB_FIBRES_MOST)
        return tb_fail(err, TB_EINVAL, "--found: more than %d fibres", TB_LAB_FIBRES_MOST);
    for (size_t i = 0; i < part->n; i++) {
        if (isnan(part->share[i].percent))
            return tb_fail(err, TB_EINVAL, "--found: %s has no percentage",
                           assay_fibre_name(part->share[i].fibre));
        a->found[TB_LAB_EU][i] =
            (struct tb_found){ part->share[i].fibre, part->share[i].percent, u, INFINITY };
    }
    a->fibres = part->n;
    a->reported = true;
    return TB_OK;
}

static void keep_found(struct assay *a)
{
    a->fibres = a->result.fibres;
    for (size_t b = 0; b < TB_LAB_BASES; b++)
        for (size_t i = 0; i < a->fibres; i++) {
            const struct tb_lab_share *s = &a->result.share[b][i];

            a->found[b][i] = (struct tb_found){ a->setup.fibre[i], s->percent, s->u, s->freedom };
        }
}

static tb_rc read_analysis(struct assay *a, const struct tb_ctx *ctx, struct tb_err *err)
{
    struct tb_lab_wish wish;
    struct tb_lab_task *task = &a->setup.task;
    const char *mixture = tb_opt(ctx, "mixture");
    tb_rc rc;

    if (!mixture && !a->claim)
        return tb_misuse(err, "say which fibres were parted: --mixture \"cotton / polyester\"");
    rc = mixture ? assay_part(&a->mixture, "--mixture", mixture, false, err) : TB_OK;
    a->mix = mixture ? assay_the_part(&a->mixture) : a->claim;
    if (rc != TB_OK || (rc = read_conditions(a, ctx, err)) != TB_OK ||
        (rc = read_wish(&wish, a, ctx, err)) != TB_OK ||
        (rc = tb_lab_setup_make(&a->setup, &wish, err)) != TB_OK ||
        (rc = tb_opt_number(&task->mass_error, ctx, "balance", 0, 1, err)) != TB_OK ||
        (rc = tb_opt_number(&task->limit[0], ctx, "limit", 0, 20, err)) != TB_OK ||
        (rc = read_masses(a, ctx, err)) != TB_OK)
        return rc;
    if (tb_opt(ctx, "limit"))
        task->limit[1] = task->limit[0];
    rc = tb_lab_compute(&a->result, task, a->masses.det, a->masses.n, err);
    if (rc == TB_OK)
        keep_found(a);
    return rc;
}

tb_rc assay_read(struct assay *a, const struct tb_ctx *ctx, struct tb_err *err)
{
    const char *declared = tb_opt(ctx, "declared");
    tb_rc rc = TB_OK;

    a->sure = 0.95;
    a->facts.carded = tb_opt_on(ctx, "carded");
    a->facts.virgin = tb_opt_on(ctx, "virgin");
    if (declared) {
        rc = assay_part(&a->declared, "--declared", declared, true, err);
        a->claim = rc == TB_OK ? assay_the_part(&a->declared) : NULL;
    }
    if (rc != TB_OK || (rc = tb_opt_number(&a->sure, ctx, "sure", 0.51, 0.9999, err)) != TB_OK)
        return rc;
    return tb_opt(ctx, "found") ? read_found(a, ctx, err) : read_analysis(a, ctx, err);
}
