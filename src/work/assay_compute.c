/* An analysis, from what was said to percentages. Pure. */
#include "base/say.h"
#include "work/assay.h"

#include <math.h>
#include <string.h>

#define SURE_USUALLY 0.95

const struct tb_assay_range tb_assay_ranges[TB_ASSAY_FIGURES] = {
    [TB_ASSAY_SURE] = { "sure", 0.51, 0.9999 }, /* at even odds nothing is sure, at 1 nothing ever is */
    [TB_ASSAY_UNCERTAINTY] = { "uncertainty", 0, 20 }, /* beyond it a laboratory has found nothing */
    [TB_ASSAY_BALANCE] = { "balance", 0, 1 },          /* a specimen weighs about a gram */
    [TB_ASSAY_LIMIT] = { "limit", 0, 20 },
};

void tb_assay_request_init(struct tb_assay_request *request)
{
    *request = (struct tb_assay_request){ 0 };
    for (size_t i = 0; i < TB_ASSAY_FIGURES; i++)
        request->figure[i] = (double)NAN;
}

void tb_assay_free(struct tb_assay *a)
{
    tb_declaration_free(&a->mixture);
    tb_declaration_free(&a->declared);
    for (size_t i = 0; i < TB_LAB_FIBRES_MOST; i++)
        tb_text_free(&a->condition[i]);
    tb_text_free(&a->unknown);
    *a = (struct tb_assay){ 0 };
}

/* Without percentages only the fibres matter: then missing figures are no doubt. */
static bool matters(const struct tb_doubt *doubt, bool percents)
{
    if (!percents && (doubt->kind == TB_DOUBT_NO_PERCENT || doubt->kind == TB_DOUBT_SUM))
        return false;
    return tb_doubt_blocks(doubt->kind);
}

tb_rc tb_assay_part_read(struct tb_declaration *d, const char *name, const char *text, bool percents,
                         struct tb_err *err)
{
    tb_rc rc = TB_OK;

    tb_declaration_read(d, text, strlen(text));
    for (size_t i = 0; i < d->n && rc == TB_OK; i++)
        if (matters(&d->doubt[i], percents))
            rc = tb_fail(err, TB_EINVAL, "'%.80s': %s", text, d->doubt[i].say);
    if (rc == TB_OK && (d->comp.n == 0 || d->comp.part[0].n == 0))
        rc = tb_fail(err, TB_EINVAL, "there is no fibre in '%.80s'", text);
    if (rc == TB_OK && d->comp.n > 1)
        rc = tb_fail(err, TB_EINVAL, "'%.80s' names several parts of the cloth; analyse one part at a time",
                     text);
    return rc == TB_OK ? rc : tb_about(err, rc, name);
}

enum tb_lab_basis tb_assay_main_basis(const struct tb_assay *a)
{
    return tb_assay_basis_known(a, TB_LAB_EU) ? TB_LAB_EU : TB_LAB_DRY;
}

bool tb_assay_basis_known(const struct tb_assay *a, enum tb_lab_basis basis)
{
    return a->reported ? basis == TB_LAB_EU : a->result.known[basis];
}

bool tb_assay_withheld(const struct tb_assay *a)
{
    unsigned both = TB_LAB_WARN_SINGLE | TB_LAB_WARN_NO_LIMIT;

    return !a->reported && (a->result.warnings & both) == both;
}

/* A form and a command line may each let a figure through: the ranges are held here once. */
static tb_rc check_figures(const double *figure, struct tb_err *err)
{
    for (size_t i = 0; i < TB_ASSAY_FIGURES; i++) {
        const struct tb_assay_range *r = &tb_assay_ranges[i];

        if (!isnan(figure[i]) && !(figure[i] >= r->least && figure[i] <= r->most))
            return tb_about(err,
                            tb_fail(err, TB_EINVAL, "%s is '%g'; it takes a number from %g to %g", r->name,
                                    figure[i], r->least, r->most),
                            r->name);
    }
    return TB_OK;
}

/* A laboratory's own percentages stand for the basis it reports on: agreed allowances. */
static tb_rc take_reported(struct tb_assay *a, const struct tb_assay_request *r, struct tb_err *err)
{
    double u = r->figure[TB_ASSAY_UNCERTAINTY];
    const struct tb_part *part;
    tb_rc rc;

    if (isnan(u))
        return tb_about(err,
                        tb_fail(err, TB_EUSAGE,
                                "percentages as a laboratory reports them need its standard uncertainty in "
                                "points: half of an expanded one"),
                        "uncertainty");
    if ((rc = tb_assay_part_read(&a->mixture, "found", r->found, true, err)) != TB_OK)
        return rc;
    part = &a->mixture.comp.part[0];
    if (part->n > TB_LAB_FIBRES_MOST)
        return tb_about(err, tb_fail(err, TB_EINVAL, "more than %d fibres were found", TB_LAB_FIBRES_MOST),
                        "found");
    for (size_t i = 0; i < part->n; i++) {
        const struct tb_share *s = &part->share[i];

        if (isnan(s->percent))
            return tb_about(err,
                            tb_fail(err, TB_EINVAL, "%s has no percentage",
                                    s->fibre >= 0 ? tb_fibre_at(s->fibre)->name : _("other fibres")),
                            "found");
        a->found[TB_LAB_EU][i] = (struct tb_found){ s->fibre, s->percent, u, (double)INFINITY };
    }
    a->fibres = part->n;
    a->reported = true;
    return TB_OK;
}

/* From here on percentages that were computed and those that were reported are treated alike. */
static void keep_found(struct tb_assay *a)
{
    a->fibres = a->result.fibres;
    for (size_t b = 0; b < TB_LAB_BASES; b++)
        for (size_t i = 0; i < a->fibres; i++) {
            const struct tb_lab_share *s = &a->result.share[b][i];

            a->found[b][i] = (struct tb_found){ a->setup.fibre[i], s->percent, s->u, s->freedom };
        }
}

/* Fibres, route and factors first: only then is it known which readings a determination has. */
static tb_rc analyse(struct tb_assay *a, const struct tb_assay_request *r, struct tb_err *err)
{
    tb_rc rc;

    if ((rc = tb_assay_set_up(a, r, err)) != TB_OK || (rc = tb_assay_take_readings(a, r, err)) != TB_OK)
        return rc;
    rc = tb_lab_compute(&a->result, &a->setup.task, a->masses.det, a->masses.n, err);
    if (rc == TB_OK)
        keep_found(a);
    return rc;
}

tb_rc tb_assay_run(struct tb_assay *a, const struct tb_assay_request *r, struct tb_err *err)
{
    tb_rc rc = check_figures(r->figure, err);

    if (rc != TB_OK)
        return rc;
    a->sure = isnan(r->figure[TB_ASSAY_SURE]) ? SURE_USUALLY : r->figure[TB_ASSAY_SURE];
    rc = r->found ? take_reported(a, r, err) : analyse(a, r, err);
    return rc == TB_OK ? tb_assay_judge(a, r, err) : rc;
}

tb_rc tb_assay_compute(struct tb_assay *out, const struct tb_assay_request *request, struct tb_err *err)
{
    tb_rc rc = TB_OK;

    *out = (struct tb_assay){ 0 };
    if (request->declared &&
        (rc = tb_assay_part_read(&out->declared, "declared", request->declared, true, err)) == TB_OK)
        out->claim = &out->declared.comp.part[0];
    return rc == TB_OK ? tb_assay_run(out, request, err) : rc;
}
