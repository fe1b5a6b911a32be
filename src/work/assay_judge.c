/* The result of an analysis beside the declaration, in every market asked for. Pure. */
#include "tenterbook/law.h"
#include "work/assay.h"

#include <string.h>

/* The mass the market counts its shares on, where it is known for these fibres; else the next best. */
static enum tb_lab_basis basis_of(const struct tb_assay *a, const struct tb_market *market)
{
    if (a->reported)
        return TB_LAB_EU; /* the laboratory's own figures, as they are */
    for (int b = 0; b < TB_LAB_BASES; b++)
        if (strcmp(market->basis, tb_lab_basis_key((enum tb_lab_basis)b)) == 0 &&
            tb_assay_basis_known(a, (enum tb_lab_basis)b))
            return (enum tb_lab_basis)b;
    return tb_assay_basis_known(a, TB_LAB_EU) ? TB_LAB_EU : TB_LAB_DRY;
}

/* A basis asked for by name must be known: quietly taking another would answer another question. */
static tb_rc read_basis(int *basis, const struct tb_assay *a, const char *text, struct tb_err *err)
{
    *basis = -1;
    for (int b = 0; text && b < TB_LAB_BASES; b++)
        if (strcmp(text, tb_lab_basis_key((enum tb_lab_basis)b)) == 0)
            *basis = b;
    if (text && *basis < 0)
        return tb_about(err, tb_fail(err, TB_EINVAL, "there is no basis '%s'; it is dry, eu or us", text),
                        "basis");
    if (text && (a->reported || !tb_assay_basis_known(a, (enum tb_lab_basis) * basis)))
        return tb_about(err, tb_fail(err, TB_EINVAL, "the %s basis is not known for these fibres", text),
                        "basis");
    return TB_OK;
}

struct judging {
    struct tb_assay *a;
    struct tb_tolerance_facts facts;
    int basis; /* asked for by name; -1: each market's own */
};

/* Without a tolerance nothing can be said in that market; the others are answered all the same. */
static tb_rc one_market(const struct judging *w, const char *market, struct tb_err *err)
{
    struct tb_assay *a = w->a;
    struct tb_conform *c = &a->conform[a->markets];
    struct tb_market m = { 0 };
    enum tb_lab_basis b;
    tb_rc rc;

    if (!tb_market_find(&m, market))
        return tb_market_check(market, err);
    b = w->basis >= 0 ? (enum tb_lab_basis)w->basis : basis_of(a, &m);
    if (a->markets == TB_ASSAY_MARKETS_MOST)
        return tb_fail(err, TB_EINVAL, "more than %d markets", TB_ASSAY_MARKETS_MOST);
    rc = tb_conform_check(c, m.key, a->claim, a->found[b], a->fibres, &w->facts, a->sure, err);
    if (rc == TB_ENOTFOUND) {
        tb_text_addf(&a->unknown, "%s%s", a->unknown.n ? "\n" : "", err->msg);
        return TB_OK;
    }
    if (rc == TB_OK) {
        if (tb_assay_withheld(a))
            c->answer = TB_LAB_UNSAID;
        a->basis[a->markets++] = b;
    }
    return rc;
}

/* Where none is named, the markets whose rules are known in full. */
static tb_rc known_markets(const struct judging *w, struct tb_err *err)
{
    tb_rc rc = TB_OK;

    for (size_t i = 0; rc == TB_OK && i < tb_market_count(); i++) {
        struct tb_market m = tb_market_at(i);

        if (m.coverage == TB_COVERAGE_FULL)
            rc = one_market(w, m.key, err);
    }
    return rc;
}

tb_rc tb_assay_judge(struct tb_assay *a, const struct tb_assay_request *r, struct tb_err *err)
{
    struct judging w = { .a = a, .facts = { .carded = r->carded, .virgin = r->virgin } };
    tb_rc rc = read_basis(&w.basis, a, r->basis, err);

    if (rc != TB_OK || !a->claim)
        return rc;
    for (size_t i = 0; rc == TB_OK && i < r->markets; i++)
        rc = one_market(&w, r->market[i], err);
    return rc == TB_OK && r->markets == 0 ? known_markets(&w, err) : rc;
}
