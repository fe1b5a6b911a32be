/* assay: the result beside the declaration, in every market asked for. */
#include "cli/lab/assay.h"
#include "tenterbook/law.h"

#include <string.h>

/* Markets whose rules are known in full; asked for when none is named. */
static const char *const usual[] = { "us", "ca", "eu", "gb" };

bool assay_basis_known(const struct assay *a, enum tb_lab_basis basis)
{
    return a->reported ? basis == TB_LAB_EU : a->result.known[basis];
}

/* The United States reckon with commercial regains; every other market here with agreed allowances. */
static enum tb_lab_basis basis_of(const struct assay *a, const char *market)
{
    if (a->reported)
        return TB_LAB_EU; /* the laboratory's own figures, as they are */
    if (strcmp(market, "us") == 0 && assay_basis_known(a, TB_LAB_US))
        return TB_LAB_US;
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
    enum tb_lab_basis b = basis >= 0 ? (enum tb_lab_basis)basis : basis_of(a, market);
    struct tb_conform *c = &a->conform[a->markets];
    tb_rc rc;

    if ((rc = tb_market_check(market, err)) != TB_OK)
        return rc;
    if (a->markets == ASSAY_MARKETS_MOST)
        return tb_fail(err, TB_EINVAL, "more than %d markets", ASSAY_MARKETS_MOST);
    rc = tb_conform_check(c, market, a->claim, a->found[b], a->fibres, &a->facts, a->sure, err);
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

tb_rc assay_judge(struct assay *a, const struct tb_ctx *ctx, struct tb_err *err)
{
    const char *market;
    int basis;
    tb_rc rc = read_basis(&basis, a, ctx, err);

    if (rc != TB_OK || !a->claim)
        return rc;
    for (size_t i = 0; rc == TB_OK && (market = tb_opt_nth(ctx, "market", i)); i++)
        rc = one_market(a, market, basis, err);
    for (size_t i = 0; rc == TB_OK && !tb_opt(ctx, "market") && i < TB_COUNT(usual); i++)
        rc = one_market(a, usual[i], basis, err);
    return rc;
}
