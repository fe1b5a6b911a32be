/* The result of an analysis. Plain words first, figures second, what they rest on last. */
#include "base/say.h"
#include "tenterbook/status.h"
#include "tenterbook/tell.h"

#include <math.h>
#include <string.h>

/* --- what was found ------------------------------------------------------------------------------------------ */

/* Reported figures are printed as they came; computed ones are those that sum to 100.0. */
static void found_words(struct tb_text *out, const struct tb_assay *a)
{
    enum tb_lab_basis b = tb_assay_main_basis(a);
    struct tb_text found = { 0 };

    for (size_t i = 0; i < a->fibres; i++)
        tb_part(&found, "%.1f %% %s", a->reported ? a->found[b][i].percent : a->result.share[b][i].rounded,
                tb_fibre_words(a->found[b][i].fibre));
    if (a->reported)
        tb_text_say(out, "Found: %s (as the laboratory reports).\n", found.s);
    else
        tb_text_say(out, "Found: %s (%s).\n", found.s, tb_basis_words(b));
    tb_text_free(&found);
}

/* "does not conform (us, ca); cannot be said (eu, gb)" */
static void answers_words(struct tb_text *out, const struct tb_assay *a, bool label)
{
    static const enum tb_lab_answer order[] = { TB_LAB_FAILS, TB_LAB_UNSAID, TB_LAB_CONFORMS };
    struct tb_text all = { 0 };

    if (!a->claim)
        return;
    for (size_t o = 0; o < TB_COUNT(order); o++) {
        struct tb_text markets = { 0 };

        for (size_t i = 0; i < a->markets; i++)
            if (a->conform[i].answer == order[o])
                tb_part(&markets, "%s", a->conform[i].market);
        if (markets.n)
            tb_clause(&all, "%s (%s)", tb_answer_words(TB_READER, order[o]), markets.s);
        tb_text_free(&markets);
    }
    tb_text_say(out, label ? N_("Our label \"%s\": %s.\n") : N_("Declared \"%s\": %s.\n"), a->declared.text,
                a->markets ? tb_text_str(&all) : _("no tolerance is known"));
    tb_text_free(&all);
}

void tb_assay_label_words(struct tb_text *out, const struct tb_assay *label)
{
    answers_words(out, label, true);
}

/* --- how it was found ---------------------------------------------------------------------------------------- */

/* With one factor its letter needs no number. */
static void chemistry_words(struct tb_text *out, const struct tb_assay *a)
{
    const struct tb_lab_setup *s = &a->setup;
    size_t factors = tb_lab_factors(s->task.route);
    struct tb_text list = { 0 };

    for (size_t k = 0; k < 2 && s->method[k]; k++) {
        struct tb_lab_method m;

        if (!tb_lab_method_get(&m, s->method[k]))
            continue;
        /* what was computed with: the method's own, or the one that was given */
        if (isnan(s->task.limit[k]))
            tb_text_say(out, "  method %d: %s; limit between laboratories not known\n", m.number, m.reagent);
        else
            tb_text_say(out, "  method %d: %s; 95 %% limit between laboratories +-%g points\n", m.number,
                        m.reagent, s->task.limit[k]);
    }
    if (factors == 0)
        return;
    for (size_t k = 0; k < factors; k++)
        if (factors > 1)
            tb_text_addf(&list, " d%zu = %g", k + 1, s->task.d[k]);
        else
            tb_text_addf(&list, " d = %g", s->task.d[k]);
    tb_text_say(out, "  correction factors:%s\n", list.s);
    tb_text_free(&list);
}

static void route_words(struct tb_text *t, const struct tb_assay *a)
{
    enum tb_lab_route route = a->setup.task.route;
    const char *name[TB_LAB_FIBRES_MOST] = { "", "", "" };

    for (size_t i = 0; i < a->fibres; i++)
        name[i] = tb_fibre_words(a->setup.fibre[i]);
    if (route == TB_LAB_DISSOLVE)
        tb_text_say(t, "%s dissolved, %s weighed as residue", name[1], name[0]);
    else if (route == TB_LAB_HAND)
        tb_text_say(t, "separated by hand");
    else if (route == TB_LAB_NITROGEN)
        tb_text_say(t, "%s told from %s by nitrogen", name[0], name[1]);
    else
        tb_text_say(t, "variant %d with a = %s, b = %s, c = %s", (int)(route - TB_LAB_VARIANT_1) + 1, name[0],
                    name[1], name[2]);
}

static void how_words(struct tb_text *out, const struct tb_assay *a)
{
    struct tb_text how = { 0 };

    route_words(&how, a);
    tb_text_addf(out, _n("\nHow: %zu determination, %s\n", "\nHow: %zu determinations, %s\n", a->result.dets),
                 a->result.dets, how.s);
    chemistry_words(out, a);
    tb_text_free(&how);
}

/* All bases side by side: which one a market uses is the usual cause of a dispute. */
static void table_words(struct tb_text *out, const struct tb_assay *a)
{
    enum tb_lab_basis b = tb_assay_main_basis(a);

    tb_text_addf(out, "\n  %-16s", _("fibre, %"));
    for (enum tb_lab_basis k = TB_LAB_DRY; k < TB_LAB_BASES; k++)
        tb_text_addf(out, " %8s", tb_lab_basis_key(k));
    tb_text_addf(out, "   %-15s %7s %7s\n", _("95 % interval"), _("u"), _("spread"));
    for (size_t i = 0; i < a->fibres; i++) {
        const struct tb_lab_share *s = &a->result.share[b][i];

        tb_text_addf(out, "  %-16s", tb_fibre_words(a->setup.fibre[i]));
        for (size_t k = 0; k < TB_LAB_BASES; k++)
            if (a->result.known[k])
                tb_text_addf(out, " %8.2f", a->result.share[k][i].percent);
            else
                tb_text_addf(out, " %8s", "-");
        tb_text_addf(out, "   %5.2f to %5.2f  %7.2f %7.2f\n", s->low, s->high, s->u, s->spread);
    }
    tb_text_say(out, "  (interval, u and spread on the basis of %s)\n", tb_basis_words(b));
}

/* Whoever wants a smaller uncertainty sees which part of it to work on. */
static void budget_words(struct tb_text *out, const struct tb_assay *a)
{
    enum tb_lab_basis b = tb_assay_main_basis(a);

    tb_text_say(out, "\nWhat the standard uncertainty u is made of, points:\n");
    for (size_t i = 0; i < a->fibres; i++) {
        const struct tb_lab_share *s = &a->result.share[b][i];

        tb_text_say(out, "  %-16s scatter %.2f, weighing %.2f, factors %.2f, method %.2f\n",
                    tb_fibre_words(a->setup.fibre[i]), s->u_repeat, s->u_weigh, s->u_factor, s->u_method);
    }
}

/* Only variant 1 differs: its legal formula leaves one correction out. */
static void exact_words(struct tb_text *out, const struct tb_assay *a)
{
    if (a->setup.task.route != TB_LAB_VARIANT_1)
        return;
    tb_text_say(out, "\nThe Regulation's formula beside the exact mass balance, dry mass:\n");
    for (size_t i = 0; i < a->fibres; i++)
        tb_text_say(out, "  %-16s exact %.3f %%, the formula differs by %+.3f points\n",
                    tb_fibre_words(a->setup.fibre[i]), a->result.exact[i],
                    fabs(a->result.bias[i]) < 0.0005 ? 0 : a->result.bias[i]);
}

/* --- beside the declaration, market by market -------------------------------------------------------------------- */

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
    tb_text_say(out, "\n  %s: %s (%s; asked to be %g %% sure)\n", c->market,
                tb_answer_words(TB_READER, c->answer), basis.s, 100 * a->sure);
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

static void conform_words(struct tb_text *out, const struct tb_assay *a)
{
    if (a->markets)
        tb_text_say(out, "\nBeside the declaration:");
    for (size_t i = 0; i < a->markets; i++)
        market_words(out, a, i);
}

/* --- what a reader should know of it ---------------------------------------------------------------------------- */

static void note(struct tb_text *out, const char *text)
{
    tb_text_addf(out, "  - %s\n", text);
}

/* A note for each thing that makes the figures worth less than they look. */
static void warnings_words(struct tb_text *out, const struct tb_assay *a)
{
    unsigned w = a->result.warnings;
    const struct {
        bool given;
        const char *say;
    } warning[] = {
        { w & TB_LAB_WARN_OUTSIDE,
          _("A share below 0 or above 100 % came out: is that fibre in the cloth at all?") },
        { w & TB_LAB_WARN_NO_LIMIT, _("No limit between laboratories is known for this way of separating: u "
                                      "does not hold what laboratories differ by.") },
        { tb_assay_withheld(a) && a->markets,
          _("One determination and no limit: nothing is said for or against the declaration.") },
        { a->setup.found_method,
          _("The method was not said; it is the only one in the tables that separates these fibres so.") },
        { a->setup.check_solubility,
          _("This method dissolves only some kinds of the fibre: try it on pure fibre first.") },
        { a->setup.caution[0] != '\0', a->setup.caution },
    };

    if (w & TB_LAB_WARN_SINGLE)
        note(out,
             _("One determination says nothing of its own scatter; the Regulation asks for at least two."));
    if (w & TB_LAB_WARN_SPREAD)
        tb_text_say(
            out,
            "  - The determinations lie further apart than chance explains (more than %.2f points): look "
            "for the reason and weigh again.\n",
            a->result.spread_limit);
    for (size_t i = 0; i < TB_COUNT(warning); i++)
        if (warning[i].given)
            note(out, warning[i].say);
}

/* Allowances move every percentage, so each is shown with its origin, and whether it was assumed. */
static void allowance_words(struct tb_text *out, const char *fibre, const struct tb_lab_allowance *eu,
                            const struct tb_lab_allowance *us, const char *condition)
{
    struct tb_text t = { 0 };

    if (!eu->status[0])
        tb_clause(&t, "%s: no agreed allowance", fibre);
    else if (eu->condition[0])
        tb_clause(&t, "%s: agreed allowance %g %% (%s), loss %g %%", fibre, eu->percent, eu->condition,
                  eu->loss);
    else
        tb_clause(&t, "%s: agreed allowance %g %%, loss %g %%", fibre, eu->percent, eu->loss);
    if (!us->status[0])
        tb_clause(&t, "no US regain in the tables");
    else if (tb_status_memory(us->status))
        tb_clause(&t, "US regain %g %% (from memory, not checked)", us->percent);
    else
        tb_clause(&t, "US regain %g %% (read second-hand)", us->percent);
    if (eu->assumed)
        tb_clause(&t, "assumed: say %s if the fibre is otherwise", condition);
    note(out, t.s);
    tb_text_free(&t);
}

void tb_assay_words(struct tb_text *out, const struct tb_assay *a, const char *condition)
{
    found_words(out, a);
    answers_words(out, a, false);
    if (!a->reported) {
        how_words(out, a);
        table_words(out, a);
        budget_words(out, a);
        exact_words(out, a);
    }
    conform_words(out, a);
    tb_text_say(out, "\nNotes:\n");
    if (a->unknown.n)
        note(out, tb_text_str(&a->unknown));
    if (!a->reported)
        warnings_words(out, a);
    for (size_t i = 0; !a->reported && i < a->fibres; i++)
        allowance_words(out, tb_fibre_words(a->setup.fibre[i]), &a->setup.allowance[TB_LAB_EU][i],
                        &a->setup.allowance[TB_LAB_US][i], condition);
    note(out, _("Sulphuric and formic acid, hypochlorite and solvents belong in a licensed laboratory; its "
                "rules and the local ones come first."));
    note(out, _("Information, not legal advice: the official text and local counsel decide."));
}
