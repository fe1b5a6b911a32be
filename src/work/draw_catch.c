/* The chance that a burn shows a false bolt: assumed, given, or as the evidence model has it for the lots at hand. */
#include "work/draw.h"

#include "base/say.h"
#include "tenterbook/stored_verdict.h"
#include "tenterbook/work.h"

#include <stdio.h>
#include <string.h>

void tb_catch_assume(struct tb_catch *out)
{
    *out = (struct tb_catch){ .one = TB_CATCH_DEFAULT,
                              .from = TB_CATCH_ASSUMED,
                              .words = _(TR_("assumed; no burn test has a published rate")) };
}

void tb_catch_give(struct tb_catch *out, double one)
{
    *out = (struct tb_catch){ .one = one, .from = TB_CATCH_GIVEN, .words = _(TR_("as given")) };
}

/* The swap at issue: the one named, else the commonest that does not burn like the declared cloth. */
static const struct tb_power *swap_at_issue(const struct tb_verdict *v, const char *against)
{
    for (size_t i = 0; i < v->n_power; i++)
        if (against ? strstr(v->power[i].instead, against) != NULL
                    : !v->power[i].blind && v->power[i].one > 0)
            return &v->power[i];
    return NULL;
}

/* The swaps the model has for this cloth, or only those no burn shows; NULL where there is none. */
static const char *swaps(const struct tb_verdict *v, bool blind_only, struct tb_arena *mem)
{
    struct tb_text t = { 0 };

    for (size_t i = 0; i < v->n_power; i++)
        if (v->power[i].blind || !blind_only)
            tb_text_addf(&t, "%s%s", t.n ? ", " : "", v->power[i].instead);
    return t.n ? tb_arena_take(mem, &t) : NULL;
}

/* Long lists of swaps are cut: the words stand in one line beside the draw, here and in the book. */
static const char *in_words(const struct tb_catch *c, struct tb_arena *mem)
{
    char words[256];

    if (c->from == TB_CATCH_ALIKE)
        (void)snprintf(words, sizeof words,
                       _(TR_("assumed; the common swaps (%.60s) burn alike and cannot be shown by burning")),
                       c->blind);
    else if (c->blind)
        (void)snprintf(words, sizeof words,
                       _(TR_("one careful burn of %.80s, by the evidence model; no burn shows %.80s")),
                       c->swap, c->blind);
    else
        (void)snprintf(words, sizeof words, _(TR_("one careful burn of %.80s, by the evidence model")),
                       c->swap);
    return tb_arena_strdup(mem, words);
}

/* The chance of the swap at issue. A swap that burning cannot show is refused: a plan for it would promise nothing. */
static tb_rc from_power(struct tb_catch *out, const struct tb_verdict *v, const char *against,
                        struct tb_arena *mem, struct tb_err *err)
{
    const struct tb_power *p = swap_at_issue(v, against);
    const char *all = swaps(v, false, mem);

    if (!p && against)
        return tb_fail(err, TB_EINVAL, "'%s' is not among the swaps that the model knows for this cloth: %s",
                       against, all ? all : "none");
    if (p && (p->blind || !(p->one > 0)))
        return tb_fail(err, TB_EREFUSED, "%s burns like what is declared: no number of burns shows that swap",
                       p->instead);
    if (p) {
        out->from = TB_CATCH_MODEL;
        out->swap = tb_arena_strdup(mem, p->instead);
        out->blind = swaps(v, true, mem);
        out->one = tb_power_told(p->one); /* the figure that stands in the table of the verdict */
    } else if (all) {
        out->from = TB_CATCH_ALIKE;
        out->blind = all;
    }
    if (out->from != TB_CATCH_ASSUMED)
        out->words = in_words(out, mem);
    return TB_OK;
}

tb_rc tb_catch_stored(struct tb_catch *out, const struct tb_stored_verdict *stored, struct tb_arena *mem,
                      struct tb_err *err)
{
    struct tb_power *power = tb_arena_alloc(mem, (stored->n_power + 1) * sizeof *power);
    struct tb_verdict v = { .power = power };

    tb_catch_assume(out);
    for (size_t i = 0; i < stored->n_power; i++) {
        const struct tb_stored_power *p = &stored->power[i];

        if (p->draws > 0)
            power[v.n_power++] = (struct tb_power){ .part = p->part,
                                                    .instead = tb_arena_strdup(mem, p->instead),
                                                    .blind = p->blind,
                                                    .one = p->one,
                                                    .draws = (int)p->draws };
    }
    return from_power(out, &v, NULL, mem, err);
}

/* What the model says of one lot; where its words cannot be read for certain the assumed chance stays. */
tb_rc tb_catch_lot(struct tb_catch *out, const struct tb_evidence *ev, const struct tb_lot *lot,
                   const char *against, struct tb_arena *mem, struct tb_err *err)
{
    struct tb_observation any = { 0 };
    struct tb_declaration decl;
    struct tb_verdict v;
    tb_rc rc = TB_OK;

    tb_catch_assume(out);
    tb_declaration_read(&decl, lot->declared, strlen(lot->declared));
    if (tb_declaration_clear(&decl)) {
        /* the power does not depend on what was seen; the engine wants to be told something */
        any.part = decl.comp.part[0].kind;
        tb_observation_look(&any, 0);
        rc = tb_evidence_judge(&v, ev, &decl, &any, 1, TB_WANT_POWER, err);
        if (rc == TB_OK) {
            rc = from_power(out, &v, against, mem, err);
            tb_verdict_free(&v);
        }
    }
    tb_declaration_free(&decl);
    return rc;
}

tb_rc tb_catch_each(struct tb_piles *p, const char *against, struct tb_book *b, struct tb_arena *mem,
                    struct tb_err *err)
{
    struct tb_evidence *ev = NULL;
    tb_rc rc = tb_bench_model(&ev, b, err);

    for (size_t i = 0; i < p->n && rc == TB_OK; i++) {
        const struct tb_lot *lot = &p->pile[i].lot;
        size_t k = 0;

        while (k < i && strcmp(p->pile[k].lot.declared, lot->declared) != 0)
            k++;
        if (k < i) { /* the simulation is made once for the same words */
            p->pile[i].caught = p->pile[k].caught;
            continue;
        }
        rc = tb_catch_lot(&p->pile[i].caught, ev, lot, against, mem, err);
        if (rc != TB_OK && p->n > 1)
            rc = tb_within(err, rc, "lot %s", lot->ref);
    }
    tb_evidence_free(ev);
    return rc;
}

const struct tb_catch *tb_catch_least(const struct tb_piles *p)
{
    const struct tb_catch *least = &p->pile[0].caught;

    for (size_t i = 1; i < p->n; i++)
        if (p->pile[i].caught.one < least->one)
            least = &p->pile[i].caught;
    return least;
}
