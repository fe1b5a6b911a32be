/* assay: the answer for a person. Plain words first, figures second, what they rest on last. */
#include "cli/lab/assay.h"

#include <math.h>
#include <string.h>

/* --- what was found ------------------------------------------------------------------------------------------ */

/* Reported figures are printed as they came; computed ones are those that sum to 100.0. */
static void print_found(FILE *out, const struct tb_assay *a)
{
    enum tb_lab_basis b = tb_assay_main_basis(a);
    struct tb_text found = { 0 };

    for (size_t i = 0; i < a->fibres; i++)
        tb_part(&found, "%.1f %% %s", a->reported ? a->found[b][i].percent : a->result.share[b][i].rounded,
                tb_fibre_words(a->found[b][i].fibre));
    if (a->reported)
        tb_say(out, "Found: %s (as the laboratory reports).\n", found.s);
    else
        tb_say(out, "Found: %s (%s).\n", found.s, tb_basis_words(b));
    tb_text_free(&found);
}

/* "does not conform (us, ca); cannot be said (eu, gb)" */
static void print_answers(FILE *out, const struct tb_assay *a)
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
            tb_clause(&all, "%s (%s)", tb_answer_words(order[o]), markets.s);
        tb_text_free(&markets);
    }
    tb_say(out, "Declared \"%s\": %s.\n", a->declared.text,
           a->markets ? tb_text_str(&all) : _("no tolerance is known"));
    tb_text_free(&all);
}

/* --- how it was found ---------------------------------------------------------------------------------------- */

/* With one factor its letter needs no number. */
static void print_chemistry(FILE *out, const struct tb_assay *a)
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
            tb_say(out, "  method %d: %s; limit between laboratories not known\n", m.number, m.reagent);
        else
            tb_say(out, "  method %d: %s; 95 %% limit between laboratories +-%g points\n", m.number,
                   m.reagent, s->task.limit[k]);
    }
    if (factors == 0)
        return;
    for (size_t k = 0; k < factors; k++)
        if (factors > 1)
            tb_text_addf(&list, " d%zu = %g", k + 1, s->task.d[k]);
        else
            tb_text_addf(&list, " d = %g", s->task.d[k]);
    tb_say(out, "  correction factors:%s\n", list.s);
    tb_text_free(&list);
}

static void how_words(struct tb_text *t, const struct tb_assay *a)
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

static void print_how(FILE *out, const struct tb_assay *a)
{
    struct tb_text how = { 0 };

    how_words(&how, a);
    (void)fprintf(out,
                  _n("\nHow: %zu determination, %s\n", "\nHow: %zu determinations, %s\n", a->result.dets),
                  a->result.dets, how.s);
    print_chemistry(out, a);
    tb_text_free(&how);
}

/* All bases side by side: which one a market uses is the usual cause of a dispute. */
static void print_table(FILE *out, const struct tb_assay *a)
{
    enum tb_lab_basis b = tb_assay_main_basis(a);

    (void)fprintf(out, "\n  %-16s", _("fibre, %"));
    for (enum tb_lab_basis k = TB_LAB_DRY; k < TB_LAB_BASES; k++)
        (void)fprintf(out, " %8s", tb_lab_basis_key(k));
    (void)fprintf(out, "   %-15s %7s %7s\n", _("95 % interval"), _("u"), _("spread"));
    for (size_t i = 0; i < a->fibres; i++) {
        const struct tb_lab_share *s = &a->result.share[b][i];

        (void)fprintf(out, "  %-16s", tb_fibre_words(a->setup.fibre[i]));
        for (size_t k = 0; k < TB_LAB_BASES; k++)
            if (a->result.known[k])
                (void)fprintf(out, " %8.2f", a->result.share[k][i].percent);
            else
                (void)fprintf(out, " %8s", "-");
        (void)fprintf(out, "   %5.2f to %5.2f  %7.2f %7.2f\n", s->low, s->high, s->u, s->spread);
    }
    tb_say(out, "  (interval, u and spread on the basis of %s)\n", tb_basis_words(b));
}

/* Whoever wants a smaller uncertainty sees which part of it to work on. */
static void print_budget(FILE *out, const struct tb_assay *a)
{
    enum tb_lab_basis b = tb_assay_main_basis(a);

    tb_say(out, "\nWhat the standard uncertainty u is made of, points:\n");
    for (size_t i = 0; i < a->fibres; i++) {
        const struct tb_lab_share *s = &a->result.share[b][i];

        tb_say(out, "  %-16s scatter %.2f, weighing %.2f, factors %.2f, method %.2f\n",
               tb_fibre_words(a->setup.fibre[i]), s->u_repeat, s->u_weigh, s->u_factor, s->u_method);
    }
}

/* Only variant 1 differs: its legal formula leaves one correction out. */
static void print_exact(FILE *out, const struct tb_assay *a)
{
    if (a->setup.task.route != TB_LAB_VARIANT_1)
        return;
    tb_say(out, "\nThe Regulation's formula beside the exact mass balance, dry mass:\n");
    for (size_t i = 0; i < a->fibres; i++)
        tb_say(out, "  %-16s exact %.3f %%, the formula differs by %+.3f points\n",
               tb_fibre_words(a->setup.fibre[i]), a->result.exact[i],
               fabs(a->result.bias[i]) < 0.0005 ? 0 : a->result.bias[i]);
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
    assay_print_conformity(out, a);
    assay_print_notes(out, a);
}
