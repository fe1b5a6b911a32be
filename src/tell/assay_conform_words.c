/* The result of an analysis beside the declaration, market by market. */
#include "base/say.h"
#include "tenterbook/status.h"
#include "tenterbook/tell.h"

#include <math.h>
#include <string.h>

/* The probability stands beside the range: a result just outside of it is not a clear failure. */
static void line_words(struct tb_text *out, const struct tb_conform_line *l)
{
    double from = fmax(0, l->decision.accept.lower), to = fmin(100, l->decision.accept.upper);
    struct tb_text t = { 0 };

    if (l->undeclared)
        tb_clause(&t, "%s, not declared: found %.2f %%, at most %g %%", tb_fibre_words(l->fibre), l->found,
                  l->limit.upper);
    else
        tb_clause(&t, "%s: declared %g %%, found %.2f %%, allowed %.4g to %.4g %%", tb_fibre_words(l->fibre),
                  l->declared, l->found, fmax(0, l->limit.lower), fmin(100, l->limit.upper));
    tb_clause(&t, "it is within with probability %.3f", l->decision.probability);
    if (from > to)
        tb_clause(&t, "no result could be called conforming, u is too large");
    else
        tb_clause(&t, "conforming from %.2f to %.2f %%", from, to);
    tb_text_addf(out, "    %s\n", t.s);
    tb_text_free(&t);
}

/* Do figures nobody checked stand behind this basis? */
static bool from_memory(const struct tb_assay *a, enum tb_lab_basis basis)
{
    for (size_t i = 0; !a->reported && i < a->fibres; i++)
        if (tb_status_memory(a->setup.allowance[basis][i].status))
            return true;
    return false;
}

/* A rule that holds for several fibres of a market is named once, below them. */
static void market_words(struct tb_text *out, const struct tb_assay *a, size_t market)
{
    const struct tb_conform *c = &a->conform[market];
    struct tb_text basis = { 0 };
    const char *last = "";

    tb_part(&basis, "%s", a->reported ? _("as reported") : tb_basis_words(a->basis[market]));
    if (from_memory(a, a->basis[market]))
        tb_part(&basis, "figures from memory: check them");
    tb_text_say(out, "\n  %s: %s (%s; asked to be %g %% sure)\n", c->market, tb_answer_words(c->answer),
                basis.s, 100 * a->sure);
    tb_text_free(&basis);
    if (c->taken_out > 0)
        tb_text_say(out, "    %.2f %% undeclared fibre was taken out before comparing\n", c->taken_out);
    for (size_t i = 0; i < c->n; i++)
        line_words(out, &c->line[i]);
    for (size_t i = 0; i < c->n; i++) {
        const struct tb_tolerance *r = &c->line[i].rule;

        if (strcmp(r->clause, last) != 0)
            tb_text_say(out, "    %s: %g points%s\n", r->clause, r->points,
                        tb_status_memory(r->status)             ? _(" (from memory, not checked)")
                        : strcmp(r->status, "second-hand") == 0 ? _(" (read second-hand)")
                                                                : "");
        last = r->clause;
    }
}

void tb_assay_conform_words(struct tb_text *out, const struct tb_assay *a)
{
    if (a->markets)
        tb_text_say(out, "\nBeside the declaration:");
    for (size_t i = 0; i < a->markets; i++)
        market_words(out, a, i);
}
