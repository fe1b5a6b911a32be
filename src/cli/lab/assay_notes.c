/* assay: the result beside the declaration, market by market, and what a reader should know of it. */
#include "cli/lab/assay.h"
#include "tenterbook/status.h"

#include <math.h>
#include <string.h>

/* The probability stands beside the range: a result just outside of it is not a clear failure. */
static void print_line(FILE *out, const struct tb_conform_line *l)
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
    (void)fprintf(out, "    %s\n", t.s);
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
static void print_market(FILE *out, const struct tb_assay *a, size_t market)
{
    const struct tb_conform *c = &a->conform[market];
    struct tb_text basis = { 0 };
    const char *last = "";

    tb_part(&basis, "%s", a->reported ? _("as reported") : tb_basis_words(a->basis[market]));
    if (from_memory(a, a->basis[market]))
        tb_part(&basis, "figures from memory: check them");
    tb_say(out, "\n  %s: %s (%s; asked to be %g %% sure)\n", c->market, tb_answer_words(c->answer), basis.s,
           100 * a->sure);
    tb_text_free(&basis);
    if (c->taken_out > 0)
        tb_say(out, "    %.2f %% undeclared fibre was taken out before comparing\n", c->taken_out);
    for (size_t i = 0; i < c->n; i++)
        print_line(out, &c->line[i]);
    for (size_t i = 0; i < c->n; i++) {
        const struct tb_tolerance *r = &c->line[i].rule;

        if (strcmp(r->clause, last) != 0)
            tb_say(out, "    %s: %g points%s\n", r->clause, r->points,
                   tb_status_memory(r->status)             ? _(" (from memory, not checked)")
                   : strcmp(r->status, "second-hand") == 0 ? _(" (read second-hand)")
                                                           : "");
        last = r->clause;
    }
}

void assay_print_conformity(FILE *out, const struct tb_assay *a)
{
    if (a->markets)
        tb_say(out, "\nBeside the declaration:");
    for (size_t i = 0; i < a->markets; i++)
        print_market(out, a, i);
}

/* --- notes --------------------------------------------------------------------------------------------------- */

static void note(FILE *out, const char *text)
{
    (void)fprintf(out, "  - %s\n", text);
}

/* A note for each thing that makes the figures worth less than they look. */
static void print_warnings(FILE *out, const struct tb_assay *a)
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
        tb_say(out,
               "  - The determinations lie further apart than chance explains (more than %.2f points): look "
               "for the reason and weigh again.\n",
               a->result.spread_limit);
    for (size_t i = 0; i < TB_COUNT(warning); i++)
        if (warning[i].given)
            note(out, warning[i].say);
}

/* Allowances move every percentage, so each is shown with its origin, and whether it was assumed. */
static void print_allowance(FILE *out, const char *fibre, const struct tb_lab_allowance *eu,
                            const struct tb_lab_allowance *us)
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
        tb_clause(&t, "assumed: say --condition if the fibre is otherwise");
    note(out, t.s);
    tb_text_free(&t);
}

void assay_print_notes(FILE *out, const struct tb_assay *a)
{
    tb_say(out, "\nNotes:\n");
    if (a->unknown.n)
        note(out, tb_text_str(&a->unknown));
    if (!a->reported)
        print_warnings(out, a);
    for (size_t i = 0; !a->reported && i < a->fibres; i++)
        print_allowance(out, tb_fibre_words(a->setup.fibre[i]), &a->setup.allowance[TB_LAB_EU][i],
                        &a->setup.allowance[TB_LAB_US][i]);
    note(out, _("Sulphuric and formic acid, hypochlorite and solvents belong in a licensed laboratory; its "
                "rules and the local ones come first."));
    note(out, _("Information, not legal advice: the official text and local counsel decide."));
}
