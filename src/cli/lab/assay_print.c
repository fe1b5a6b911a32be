/* assay: the answer for a person. Plain words first, figures second, what they rest on last. */
#include "cli/lab/assay.h"

#include <math.h>
#include <string.h>

static const char *basis_words(enum tb_lab_basis basis)
{
    switch (basis) {
    case TB_LAB_DRY:
        return _("dry mass");
    case TB_LAB_EU:
        return _("EU agreed allowances");
    case TB_LAB_US:
        return _("US commercial regain");
    case TB_LAB_BASES:
        break;
    }
    return "";
}

const char *assay_fibre_name(int fibre)
{
    return fibre >= 0 ? tb_fibre_at(fibre)->name : _("other fibres");
}

/* --- what was found ------------------------------------------------------------------------------------------ */
static void print_found(FILE *out, const struct tb_assay *a)
{
    enum tb_lab_basis b = tb_assay_main_basis(a);

    tb_say(out, "Found: ");
    for (size_t i = 0; i < a->fibres; i++)
        (void)fprintf(out, "%s%.1f %% %s", i ? ", " : "",
                      a->reported ? a->found[b][i].percent : a->result.share[b][i].rounded,
                      assay_fibre_name(a->found[b][i].fibre));
    if (a->reported)
        tb_say(out, " (as the laboratory reports).\n");
    else
        (void)fprintf(out, " (%s).\n", basis_words(b));
}

static const char *answer_words(enum tb_lab_answer answer)
{
    switch (answer) {
    case TB_LAB_CONFORMS:
        return _("conforms");
    case TB_LAB_FAILS:
        return _("does not conform");
    case TB_LAB_UNSAID:
        break;
    }
    return _("cannot be said");
}

/* "conforms: us, ca; cannot be said: eu, gb" */
static void print_answers(FILE *out, const struct tb_assay *a)
{
    static const enum tb_lab_answer order[] = { TB_LAB_FAILS, TB_LAB_UNSAID, TB_LAB_CONFORMS };
    const char *between = "";

    if (!a->claim)
        return;
    tb_say(out, "Declared \"%s\": ", a->declared.text);
    for (size_t o = 0; o < TB_COUNT(order); o++) {
        bool first = true;

        for (size_t i = 0; i < a->markets; i++) {
            if (a->conform[i].answer != order[o])
                continue;
            if (first)
                (void)fprintf(out, "%s%s (%s", between, answer_words(order[o]), a->conform[i].market);
            else
                (void)fprintf(out, ", %s", a->conform[i].market);
            first = false;
        }
        if (!first) {
            (void)fputc(')', out);
            between = "; ";
        }
    }
    (void)fputs(a->markets ? ".\n" : _("no tolerance is known.\n"), out);
}

/* --- how it was found ---------------------------------------------------------------------------------------- */
static void print_chemistry(FILE *out, const struct tb_assay *a)
{
    const struct tb_lab_setup *s = &a->setup;

    for (size_t k = 0; k < 2 && s->method[k]; k++) {
        struct tb_lab_method m;

        if (!tb_lab_method_get(&m, s->method[k]))
            continue;
        tb_say(out, "  method %d: %s", m.number, m.reagent);
        if (isnan(m.limit))
            tb_say(out, "; limit between laboratories not known\n");
        else
            tb_say(out, "; 95 %% limit between laboratories +-%g points\n", m.limit);
    }
    if (tb_lab_factors(s->task.route) == 0)
        return;
    tb_say(out, "  correction factors:");
    for (size_t k = 0; k < tb_lab_factors(s->task.route); k++)
        if (tb_lab_factors(s->task.route) > 1)
            (void)fprintf(out, " d%zu = %g", k + 1, s->task.d[k]);
        else
            (void)fprintf(out, " d = %g", s->task.d[k]);
    (void)fputc('\n', out);
}

static void print_how(FILE *out, const struct tb_assay *a)
{
    const struct tb_lab_setup *s = &a->setup;
    const char *name[TB_LAB_FIBRES_MOST] = { "", "", "" };

    for (size_t i = 0; i < a->fibres; i++)
        name[i] = assay_fibre_name(s->fibre[i]);
    (void)fprintf(out,
                  a->result.dets == 1 ? _("\nHow: %zu determination, ") : _("\nHow: %zu determinations, "),
                  a->result.dets);
    switch (s->task.route) {
    case TB_LAB_DISSOLVE:
        tb_say(out, "%s dissolved, %s weighed as residue\n", name[1], name[0]);
        break;
    case TB_LAB_HAND:
        tb_say(out, "parted by hand\n");
        break;
    case TB_LAB_NITROGEN:
        tb_say(out, "%s told from %s by nitrogen\n", name[0], name[1]);
        break;
    case TB_LAB_VARIANT_1:
    case TB_LAB_VARIANT_2:
    case TB_LAB_VARIANT_3:
    case TB_LAB_VARIANT_4:
        tb_say(out, "variant %d with a = %s, b = %s, c = %s\n", (int)(s->task.route - TB_LAB_VARIANT_1) + 1,
               name[0], name[1], name[2]);
        break;
    case TB_LAB_ROUTES:
        break;
    }
    print_chemistry(out, a);
}

static void print_table(FILE *out, const struct tb_assay *a)
{
    enum tb_lab_basis b = tb_assay_main_basis(a);

    (void)fprintf(out, "\n  %-16s", _("fibre, %"));
    for (enum tb_lab_basis k = TB_LAB_DRY; k < TB_LAB_BASES; k++)
        (void)fprintf(out, " %8s", tb_lab_basis_key(k));
    (void)fprintf(out, "   %-15s %7s %7s\n", _("95 % interval"), _("u"), _("spread"));
    for (size_t i = 0; i < a->fibres; i++) {
        const struct tb_lab_share *s = &a->result.share[b][i];

        (void)fprintf(out, "  %-16s", assay_fibre_name(a->setup.fibre[i]));
        for (size_t k = 0; k < TB_LAB_BASES; k++)
            if (a->result.known[k])
                (void)fprintf(out, " %8.2f", a->result.share[k][i].percent);
            else
                (void)fprintf(out, " %8s", "-");
        (void)fprintf(out, "   %5.2f to %5.2f  %7.2f %7.2f\n", s->low, s->high, s->u, s->spread);
    }
    tb_say(out, "  (interval, u and spread on the basis of %s)\n", basis_words(b));
}

static void print_budget(FILE *out, const struct tb_assay *a)
{
    enum tb_lab_basis b = tb_assay_main_basis(a);

    tb_say(out, "\nWhat the standard uncertainty u is made of, points:\n");
    for (size_t i = 0; i < a->fibres; i++) {
        const struct tb_lab_share *s = &a->result.share[b][i];

        tb_say(out, "  %-16s scatter %.2f, weighing %.2f, factors %.2f, method %.2f\n",
               assay_fibre_name(a->setup.fibre[i]), s->u_repeat, s->u_weigh, s->u_factor, s->u_method);
    }
}

static void print_exact(FILE *out, const struct tb_assay *a)
{
    if (a->setup.task.route != TB_LAB_VARIANT_1)
        return;
    tb_say(out, "\nThe Regulation's formula beside the exact mass balance, dry mass:\n");
    for (size_t i = 0; i < a->fibres; i++)
        tb_say(out, "  %-16s exact %.3f %%, the formula differs by %+.3f points\n",
               assay_fibre_name(a->setup.fibre[i]), a->result.exact[i],
               fabs(a->result.bias[i]) < 0.0005 ? 0 : a->result.bias[i]);
}

/* --- beside the declaration ---------------------------------------------------------------------------------- */
static void print_line(FILE *out, const struct tb_conform_line *l)
{
    double from = fmax(0, l->decision.accept.lower), to = fmin(100, l->decision.accept.upper);

    if (l->undeclared)
        tb_say(out, "    %s, not declared: found %.2f %%, at most %g %%", assay_fibre_name(l->fibre),
               l->found, l->limit.upper);
    else
        tb_say(out, "    %s: declared %g %%, found %.2f %%, allowed %.4g to %.4g %%",
               assay_fibre_name(l->fibre), l->declared, l->found, fmax(0, l->limit.lower),
               fmin(100, l->limit.upper));
    tb_say(out, "; it is within with probability %.3f", l->decision.probability);
    if (from > to)
        tb_say(out, "; no result could be called conforming, u is too large\n");
    else
        tb_say(out, "; conforming from %.2f to %.2f %%\n", from, to);
}

/* Do figures nobody checked stand behind this basis? */
static bool from_memory(const struct tb_assay *a, enum tb_lab_basis basis)
{
    for (size_t i = 0; !a->reported && i < a->fibres; i++)
        if (strcmp(a->setup.allowance[basis][i].status, "memory") == 0)
            return true;
    return false;
}

static void print_market(FILE *out, const struct tb_assay *a, size_t market)
{
    const struct tb_conform *c = &a->conform[market];
    const char *last = "";

    tb_say(out, "\n  %s: %s (%s%s; asked to be %g %% sure)\n", c->market, answer_words(c->answer),
           a->reported ? _("as reported") : basis_words(a->basis[market]),
           from_memory(a, a->basis[market]) ? _(", figures from memory: check them") : "", 100 * a->sure);
    if (c->taken_out > 0)
        tb_say(out, "    %.2f %% undeclared fibre was taken out before comparing\n", c->taken_out);
    for (size_t i = 0; i < c->n; i++)
        print_line(out, &c->line[i]);
    for (size_t i = 0; i < c->n; i++) {
        const struct tb_tolerance *r = &c->line[i].rule;

        if (strcmp(r->clause, last) != 0)
            tb_say(out, "    %s: %g points%s\n", r->clause, r->points,
                   strcmp(r->status, "memory") == 0        ? _(" (from memory, not checked)")
                   : strcmp(r->status, "second-hand") == 0 ? _(" (read second-hand)")
                                                           : "");
        last = r->clause;
    }
}

/* --- notes --------------------------------------------------------------------------------------------------- */
static void note(FILE *out, const char *text)
{
    (void)fprintf(out, "  - %s\n", text);
}

static void print_warnings(FILE *out, const struct tb_assay *a)
{
    unsigned w = a->result.warnings;

    if (w & TB_LAB_WARN_SINGLE)
        note(out,
             _("One determination says nothing of its own scatter; the Regulation asks for at least two."));
    if (w & TB_LAB_WARN_SPREAD)
        (void)fprintf(out,
                      _("  - The determinations lie further apart than chance explains (more than %.2f "
                        "points): look for the reason and weigh again.\n"),
                      a->result.spread_limit);
    if (w & TB_LAB_WARN_OUTSIDE)
        note(out, _("A share below 0 or above 100 % came out: is that fibre in the cloth at all?"));
    if (w & TB_LAB_WARN_NO_LIMIT)
        note(out, _("No limit between laboratories is known for this way of parting: u does not hold what "
                    "laboratories differ by."));
    if (tb_assay_withheld(a) && a->markets)
        note(out, _("One determination and no limit: nothing is said for or against the declaration."));
    if (a->setup.found_method)
        note(out, _("The method was not said; it is the only one in the tables that parts these fibres so."));
    if (a->setup.check_solubility)
        note(out, _("This method dissolves only some kinds of the fibre: try it on pure fibre first."));
    if (a->setup.caution[0])
        note(out, a->setup.caution);
}

static void print_allowances(FILE *out, const struct tb_assay *a)
{
    for (size_t i = 0; i < a->fibres; i++) {
        const struct tb_lab_allowance *eu = &a->setup.allowance[TB_LAB_EU][i],
                                      *us = &a->setup.allowance[TB_LAB_US][i];
        const char *name = assay_fibre_name(a->setup.fibre[i]);

        if (eu->status[0])
            tb_say(out, "  - %s: agreed allowance %g %%%s%s%s, loss %g %%", name, eu->percent,
                   eu->condition[0] ? " (" : "", eu->condition, eu->condition[0] ? ")" : "", eu->loss);
        else
            tb_say(out, "  - %s: no agreed allowance", name);
        if (us->status[0])
            tb_say(out, "; US regain %g %% (%s)", us->percent,
                   strcmp(us->status, "memory") == 0 ? _("from memory, not checked") : _("read second-hand"));
        else
            tb_say(out, "; no US regain in the tables");
        (void)fputs(eu->assumed ? _("; assumed: say --condition if the fibre is otherwise\n") : "\n", out);
    }
}

void assay_print(FILE *out, const struct tb_assay *a)
{
    print_found(out, a);
    print_answers(out, a);
    if (!a->reported) {
        print_how(out, a);
        print_table(out, a);
        print_budget(out, a);
        print_exact(out, a);
    }
    if (a->markets)
        tb_say(out, "\nBeside the declaration:");
    for (size_t i = 0; i < a->markets; i++)
        print_market(out, a, i);
    tb_say(out, "\nNotes:\n");
    if (a->unknown.n)
        note(out, tb_text_str(&a->unknown));
    if (!a->reported) {
        print_warnings(out, a);
        print_allowances(out, a);
    }
    note(out, _("Sulphuric and formic acid, hypochlorite and solvents belong in a licensed laboratory; its "
                "rules and the local ones come first."));
    note(out, _("Information, not legal advice: the official text and local counsel decide."));
}
