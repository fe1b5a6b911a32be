/* assay: the result beside the declaration, in every market asked for. */
#include "cli/lab/assay.h"
#include "tenterbook/law.h"

#include <string.h>

bool assay_basis_known(const struct assay *a, enum tb_lab_basis basis)
{
    return a->reported ? basis == TB_LAB_EU : a->result.known[basis];
}

/* The mass the market counts its shares on, where it is known for these fibres; else the next best. */
static enum tb_lab_basis basis_of(const struct assay *a, const struct tb_market *market)
{
    if (a->reported)
        return TB_LAB_EU; /* the laboratory's own figures, as they are */
    for (int b = 0; b < TB_LAB_BASES; b++)
        if (strcmp(market->basis, tb_lab_basis_key((enum tb_lab_basis)b)) == 0 &&
            assay_basis_known(a, (enum tb_lab_basis)b))
            return (enum tb_lab_basis)b;
    return assay_basis_known(a, TB_LAB_EU) ? TB_LAB_EU : TB_LAB_DRY;
}

static tb_rc read_basis(int *basis, const struct assay *a, const struct tb_ctx *ctx, struct tb_err *err)
{
    const char *text = tb_opt(ctx, "basis");

    *basis = -1;
    for (int b = 0; text && b < TB_LAB_BASES; b++)
        if (strcmp(text, tb_lab_basis_key((enum tb_lab_basis)b)) == 0)
            *basis = b;
    if (text && *basis < 0)
        return tb_fail(err, TB_EINVAL, "--basis is '%s'; it is dry, eu or us", text);
    if (text && (a->reported || !assay_basis_known(a, (enum tb_lab_basis) * basis)))
        return tb_fail(err, TB_EINVAL, "the %s basis is not known for these fibres", text);
    return TB_OK;
}

bool assay_withheld(const struct assay *a)
{
    unsigned both = TB_LAB_WARN_SINGLE | TB_LAB_WARN_NO_LIMIT;

    return !a->reported && (a->result.warnings & both) == both;
}

static tb_rc one_market(struct assay *a, const char *market, int basis, struct tb_err *err)
{
    struct tb_conform *c = &a->conform[a->markets];
    struct tb_market m = { 0 };
    enum tb_lab_basis b;
    tb_rc rc;

    if (!tb_market_find(&m, market))
        return tb_market_check(market, err);
    b = basis >= 0 ? (enum tb_lab_basis)basis : basis_of(a, &m);
    if (a->markets == ASSAY_MARKETS_MOST)
        return tb_fail(err, TB_EINVAL, "more than %d markets", ASSAY_MARKETS_MOST);
    rc = tb_conform_check(c, m.key, a->claim, a->found[b], a->fibres, &a->facts, a->sure, err);
    if (rc == TB_ENOTFOUND) {
        tb_text_addf(&a->unknown, "%s%s", a->unknown.n ? "\n" : "", err->msg);
        return TB_OK;
    }
    if (rc == TB_OK) {
        if (assay_withheld(a))
            c->answer = TB_LAB_UNSAID;
        a->basis[a->markets++] = b;
    }
    return rc;
}

/* Where none is named, the markets whose rules are known in full. */
static tb_rc known_markets(struct assay *a, int basis, struct tb_err *err)
{
    tb_rc rc = TB_OK;

    for (size_t i = 0; rc == TB_OK && i < tb_market_count(); i++) {
        struct tb_market m = tb_market_at(i);

        if (strcmp(m.coverage, "full") == 0)
            rc = one_market(a, m.key, basis, err);
    }
    return rc;
}

tb_rc assay_judge(struct assay *a, const struct tb_ctx *ctx, struct tb_err *err)
{
    const char *market;
    int basis;
    tb_rc rc = read_basis(&basis, a, ctx, err);

    if (rc != TB_OK || !a->claim)
        return rc;
    for (size_t i = 0; rc == TB_OK && (market = tb_opt_nth(ctx, "market", i)); i++)
        rc = one_market(a, market, basis, err);
    return rc == TB_OK && !tb_opt(ctx, "market") ? known_markets(a, basis, err) : rc;
}
