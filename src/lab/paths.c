/*
 * paths.c - ways by published standards: what the Regulation's own methods leave open.
 *
 * A standard dissolves fibres and leaves others, or tells fibres of one kind apart. One step serves two fibres; of three
 * one is dissolved after the other, or two that no reagent separates are told apart beside the third.
 */
#include "lab/tables.h"

#include <string.h>

/* The paths of a mixture, while they are gathered. */
struct gathered {
    struct tb_lab_path *path; /* room for TB_LAB_PATHS_MOST */
    size_t n;
    int fibre[3];
    size_t fibres;
};

static bool dissolves(size_t s)
{
    return tb_lab_standard_at(s).means == TB_LAB_MEANS_CHEMISTRY;
}

/* Instruments that know fibres by their looks or their proteins; identifying is asked for only where nothing else serves. */
static bool tells_apart(size_t s)
{
    enum tb_lab_means m = tb_lab_standard_at(s).means;

    return m == TB_LAB_MEANS_MICROSCOPE || m == TB_LAB_MEANS_PROTEINS || m == TB_LAB_MEANS_SPECTRUM;
}

static bool takes(size_t s, int fibre)
{
    enum tb_lab_role role = tb_lab_standard_role(s, fibre);

    return role == TB_LAB_ROLE_DISSOLVED || role == TB_LAB_ROLE_SOME;
}

static bool barred(const struct gathered *g, size_t s)
{
    for (size_t i = 0; i < g->fibres; i++)
        if (tb_lab_standard_bars(s, g->fibre[i]))
            return true;
    return false;
}

/* Does the standard dissolve the first fibres, and leave every one of the others? */
static bool separates(const struct gathered *g, size_t s, const int *gone, size_t n, const int *stay,
                      size_t stays)
{
    if (!dissolves(s) || barred(g, s))
        return false;
    for (size_t i = 0; i < n; i++)
        if (!takes(s, gone[i]))
            return false;
    for (size_t i = 0; i < stays; i++)
        if (tb_lab_standard_role(s, stay[i]) != TB_LAB_ROLE_RESIDUE)
            return false;
    return true;
}

static struct tb_lab_step step_of(size_t s, const int *fibre, size_t n)
{
    struct tb_lab_step step = { .standard = s, .dissolves = dissolves(s), .fibres = n };

    for (size_t i = 0; i < n; i++) {
        step.fibre[i] = fibre[i];
        step.some = step.some || (step.dissolves && tb_lab_standard_role(s, fibre[i]) == TB_LAB_ROLE_SOME);
    }
    return step;
}

static void add(struct gathered *g, const struct tb_lab_step *step, size_t steps)
{
    if (g->n == TB_LAB_PATHS_MOST)
        return;
    memcpy(g->path[g->n].step, step, steps * sizeof *step);
    g->path[g->n++].steps = steps;
}

/* Two fibres: one goes, one stays. */
static void by_one_reagent(struct gathered *g, int gone, int stay)
{
    for (size_t s = 0; s < tb_lab_standard_count(); s++)
        if (separates(g, s, &gone, 1, &stay, 1) && !tb_lab_method_serves(s, gone, &stay, 1)) {
            struct tb_lab_step step = step_of(s, &gone, 1);

            add(g, &step, 1);
        }
}

/* Three fibres a, b, c: a goes, then b; two methods of the Regulation are planned there already. */
static void by_two_reagents(struct gathered *g, const int f[3])
{
    for (size_t s = 0; s < tb_lab_standard_count(); s++) {
        if (!separates(g, s, &f[0], 1, &f[1], 2))
            continue;
        for (size_t t = 0; t < tb_lab_standard_count(); t++) {
            struct tb_lab_step step[2];

            if (!separates(g, t, &f[1], 1, &f[2], 1) ||
                (tb_lab_method_serves(s, f[0], &f[1], 2) && tb_lab_method_serves(t, f[1], &f[2], 1)))
                continue;
            step[0] = step_of(s, &f[0], 1);
            step[1] = step_of(t, &f[1], 1);
            add(g, step, 2);
        }
    }
}

/* The mildest standard that takes the third fibre out, or else leaves it alone behind; false where there is none. */
static bool sets_apart(struct tb_lab_step *out, const struct gathered *g, const int twin[2], int third)
{
    int least = 0;
    bool found = false;

    for (size_t s = 0; s < tb_lab_standard_count(); s++) {
        bool out_of_it = separates(g, s, &third, 1, twin, 2);
        int burden = tb_lab_standard_burden(s);

        if ((!out_of_it && !separates(g, s, twin, 2, &third, 1)) || (found && burden >= least))
            continue;
        *out = out_of_it ? step_of(s, &third, 1) : step_of(s, twin, 2);
        least = burden;
        found = true;
    }
    return found;
}

/* Two of three are twins to every reagent; the third is not. */
static void twins_and_a_third(struct gathered *g, size_t s, const int f[3])
{
    struct tb_lab_step step[2];

    if (!takes(s, f[0]) || !takes(s, f[1]) || takes(s, f[2]) || !sets_apart(&step[0], g, f, f[2]))
        return;
    step[1] = step_of(s, f, 2);
    add(g, step, 2);
}

static void by_looks(struct gathered *g)
{
    for (size_t s = 0; s < tb_lab_standard_count(); s++) {
        const int *f = g->fibre;
        struct tb_lab_step all = step_of(s, f, g->fibres);
        size_t known = 0;

        if (!tells_apart(s))
            continue;
        while (known < g->fibres && takes(s, f[known]))
            known++;
        if (known == g->fibres) {
            add(g, &all, 1);
        } else if (g->fibres == 3) {
            twins_and_a_third(g, s, (const int[3]){ f[0], f[1], f[2] });
            twins_and_a_third(g, s, (const int[3]){ f[0], f[2], f[1] });
            twins_and_a_third(g, s, (const int[3]){ f[1], f[2], f[0] });
        }
    }
}

/* A fibre that has no entry in Annex I has no part in any method of the Regulation. */
static void identify(struct gathered *g)
{
    bool unlisted = false;
    struct tb_lab_step step = step_of(tb_lab_standard_of(TB_LAB_MEANS_IDENTIFY), g->fibre, g->fibres);

    for (size_t i = 0; i < g->fibres; i++)
        unlisted = unlisted || tb_lab_eu_of(g->fibre[i]) == 0;
    if (unlisted && g->n == 0)
        add(g, &step, 1);
}

static int burden_of(const struct tb_lab_path *p)
{
    int sum = 0;

    for (size_t k = 0; k < p->steps; k++)
        sum += tb_lab_standard_burden(p->step[k].standard);
    return sum;
}

/* Stable: equal paths keep the order of the table. */
static void sort(struct gathered *g)
{
    for (size_t i = 1; i < g->n; i++) {
        struct tb_lab_path p = g->path[i];
        size_t k = i;

        for (; k > 0 && burden_of(&g->path[k - 1]) > burden_of(&p); k--)
            g->path[k] = g->path[k - 1];
        g->path[k] = p;
    }
}

tb_rc tb_lab_paths(struct tb_lab_path *out, size_t *n, const struct tb_part *part, struct tb_err *err)
{
    static const size_t order[6][3] = { { 0, 1, 2 }, { 0, 2, 1 }, { 1, 0, 2 },
                                        { 1, 2, 0 }, { 2, 0, 1 }, { 2, 1, 0 } };
    struct gathered g = { .path = out, .fibres = part->n };
    tb_rc rc = tb_lab_check_mixture(part, err);

    if (rc != TB_OK)
        return rc;
    for (size_t i = 0; i < part->n; i++)
        g.fibre[i] = part->share[i].fibre;
    if (part->n == 2) {
        by_one_reagent(&g, g.fibre[0], g.fibre[1]);
        by_one_reagent(&g, g.fibre[1], g.fibre[0]);
    } else {
        for (size_t o = 0; o < TB_COUNT(order); o++)
            by_two_reagents(
                &g, (const int[3]){ g.fibre[order[o][0]], g.fibre[order[o][1]], g.fibre[order[o][2]] });
    }
    by_looks(&g);
    identify(&g);
    sort(&g);
    *n = g.n;
    return TB_OK;
}

bool tb_lab_path_joined(const struct tb_lab_path *p)
{
    return p->steps == 2 && p->step[0].dissolves && p->step[1].dissolves;
}
