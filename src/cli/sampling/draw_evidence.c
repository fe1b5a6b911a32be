/* What the evidence engine tells a draw: the chance that a burn shows a swap, and which burned bolts were false. */
#include "cli/sampling/draw_evidence.h"

#include "cli/show.h"
#include "tenterbook/interval.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* The swap at issue: the one named, else the commonest that does not burn like the declared cloth. */
static const struct tb_power *swap_at_issue(const struct tb_verdict *v, const char *against)
{
    for (size_t i = 0; i < v->n_power; i++)
        if (against ? strstr(v->power[i].instead, against) != NULL
                    : !v->power[i].blind && v->power[i].one > 0)
            return &v->power[i];
    return NULL;
}

static tb_rc take_power(struct draw *d, const struct tb_verdict *v, const char *against, struct tb_err *err)
{
    const struct tb_power *p = swap_at_issue(v, against);
    struct tb_text known = { 0 };
    double high = 1;
    tb_rc rc;

    if (p && !p->blind && p->one > 0) {
        /* simulated: what so many draws show at least, with 95 % confidence; never a certainty */
        if ((rc = tb_interval_exact_side(&d->catch_one, &high, lround(p->one * p->draws), p->draws, 0.95,
                                         TB_SIDE_GREATER, err)) != TB_OK)
            return rc;
        for (size_t i = 0; i < v->n_power; i++)
            if (v->power[i].blind)
                tb_text_addf(&known, "%s%s", known.n ? ", " : "", v->power[i].instead);
        if (known.n)
            (void)snprintf(d->catch_from, sizeof d->catch_from,
                           _("one careful burn of %.80s, by the evidence model; no burn shows %.80s"),
                           p->instead, known.s);
        else
            (void)snprintf(d->catch_from, sizeof d->catch_from,
                           _("one careful burn of %.80s, by the evidence model"), p->instead);
        tb_text_free(&known);
        return TB_OK;
    }
    if (p)
        return tb_fail(err, TB_EREFUSED, "%s burns like what is declared: no number of burns shows that swap",
                       p->instead);
    for (size_t i = 0; i < v->n_power; i++)
        tb_text_addf(&known, "%s%s", i ? ", " : "", v->power[i].instead);
    if (against)
        (void)tb_fail(err, TB_EINVAL, "'%s' is not among the swaps the model reckons with here: %s", against,
                      known.n ? known.s : "none");
    else if (v->n_power > 0)
        (void)snprintf(d->catch_from, sizeof d->catch_from,
                       _("assumed; the common swaps (%.60s) burn alike and cannot be shown by burning"),
                       known.s);
    tb_text_free(&known);
    return against ? TB_EINVAL : TB_OK;
}

tb_rc draw_power(struct draw *d, struct tb_ctx *ctx, const struct tb_lot *lot, struct tb_err *err)
{
    const char *against = tb_opt(ctx, "against");
    struct tb_observation any = { 0 };
    struct tb_evidence *ev = NULL;
    struct tb_declaration decl;
    struct tb_verdict v;
    tb_rc rc = TB_OK;

    if (tb_opt_on(ctx, "catch"))
        return against
                   ? tb_misuse(err, "--catch and --against both say how well a burn shows the swap; give one")
                   : TB_OK;
    tb_declaration_read(&decl, lot->declared, strlen(lot->declared));
    if (tb_declaration_clear(&decl) && (rc = tb_bench_model(&ev, ctx->book, err)) == TB_OK) {
        /* the power does not depend on what was seen; the engine wants to be told something */
        any.part = decl.comp.part[0].kind;
        tb_observation_look(&any, 0);
        rc = tb_evidence_judge(&v, ev, &decl, &any, 1, TB_WANT_POWER, err);
        if (rc == TB_OK) {
            rc = take_power(d, &v, against, err);
            tb_verdict_free(&v);
        }
    }
    tb_evidence_free(ev);
    tb_declaration_free(&decl);
    return rc;
}

/* --- bolt by bolt --- */

tb_rc draw_judge_open(struct draw_judge *j, struct tb_ctx *ctx, const struct tb_lot *lot, struct tb_err *err)
{
    tb_rc rc = tb_bench_model(&j->ev, ctx->book, err);

    tb_declaration_read(&j->decl, lot->declared, strlen(lot->declared));
    if (rc == TB_OK)
        rc = tb_bench_observations(&j->obs, &j->n, ctx->book, lot->id, TB_BOOK_NOW, &j->mem, err);
    if (rc == TB_OK)
        rc = tb_swatch_list(&j->swatch, &j->swatches, ctx->book, lot->id, &j->mem, err);
    return rc;
}

void draw_judge_close(struct draw_judge *j)
{
    tb_evidence_free(j->ev);
    tb_declaration_free(&j->decl);
    tb_arena_free(&j->mem);
}

static bool of_bolt(const struct draw_judge *j, const char *tag, const char *bolt_id)
{
    for (size_t i = 0; i < j->swatches; i++)
        if (strcmp(j->swatch[i].tag, tag) == 0)
            return j->swatch[i].bolt && strcmp(j->swatch[i].bolt, bolt_id) == 0;
    return false;
}

tb_rc draw_judge_bolt(bool *is_false, struct draw_judge *j, const char *bolt_id, struct tb_err *err)
{
    struct tb_observation *own = tb_array(struct tb_observation, j->n + 1);
    struct tb_verdict v;
    size_t n = 0;
    tb_rc rc;

    *is_false = false;
    for (size_t i = 0; i < j->n; i++)
        if (j->obs[i].swatch && of_bolt(j, j->obs[i].swatch, bolt_id))
            own[n++] = j->obs[i];
    rc = tb_evidence_judge(&v, j->ev, &j->decl, own, n, 0, err);
    if (rc == TB_OK) {
        *is_false = v.kind == TB_CONTRADICTS;
        tb_verdict_free(&v);
    }
    free(own);
    return rc;
}
