/* route.c - the routes of an analysis: what each takes, and what a person can have weighed. */
#include "lab/inside.h"

#include <math.h>
#include <string.h>

static const struct {
    const char *key;
    size_t least, most; /* fibres */
    size_t factors;
    const char *input[TB_LAB_INPUTS_MOST];
} routes[TB_LAB_ROUTES] = {
    [TB_LAB_DISSOLVE] = { "dissolve", 2, 2, 1, { "specimen", "residue" } },
    [TB_LAB_HAND] = { "hand", 2, TB_LAB_FIBRES_MOST, 0, { NULL } },
    [TB_LAB_VARIANT_1] = { "variant_1", 3, 3, 4, { "specimen", "residue", "specimen2", "residue2" } },
    [TB_LAB_VARIANT_2] = { "variant_2", 3, 3, 4, { "specimen", "residue", "specimen2", "residue2" } },
    [TB_LAB_VARIANT_3] = { "variant_3", 3, 3, 4, { "specimen", "residue", "specimen2", "residue2" } },
    [TB_LAB_VARIANT_4] = { "variant_4", 3, 3, 3, { "specimen", "residue", "residue2" } },
    [TB_LAB_NITROGEN] = { "nitrogen", 2, 2, 0, { "specimen", "acid", "blank", "normality" } },
};

const char *tb_lab_route_key(enum tb_lab_route route)
{
    return routes[route].key;
}

/* By hand as many as there are fibres. */
size_t tb_lab_inputs(enum tb_lab_route route, size_t fibres)
{
    size_t n = 0;

    if (route == TB_LAB_HAND)
        return fibres;
    while (n < TB_LAB_INPUTS_MOST && routes[route].input[n])
        n++;
    return n;
}

const char *tb_lab_input_name(enum tb_lab_route route, size_t k)
{
    return k < TB_LAB_INPUTS_MOST ? routes[route].input[k] : NULL;
}

size_t tb_lab_factors(enum tb_lab_route route)
{
    return routes[route].factors;
}

bool tb_lab_fibres_fit(enum tb_lab_route route, size_t fibres)
{
    return fibres >= routes[route].least && fibres <= routes[route].most;
}

/* A factor outside 0.5 to 2 is a slip of the decimal sign. */
tb_rc tb_lab_check_shape(enum tb_lab_route route, size_t fibres, const double *d, struct tb_err *err)
{
    if (!tb_lab_fibres_fit(route, fibres))
        return tb_fail(err, TB_EINVAL, "this way of separating takes %zu to %zu fibres, not %zu",
                       routes[route].least, routes[route].most, fibres);
    for (size_t i = 0; i < routes[route].factors; i++)
        if (!(d[i] >= 0.5 && d[i] <= 2))
            return tb_fail(err, TB_EINVAL, "factor d%zu is %g; a correction factor lies between 0.5 and 2",
                           i + 1, d[i]);
    return TB_OK;
}

static const char *reading(enum tb_lab_route route, size_t k)
{
    static const char *const mass[] = { "mass 1", "mass 2", "mass 3", "mass 4", "mass 5", "mass 6" };

    return route == TB_LAB_HAND ? mass[k] : routes[route].input[k];
}

/* The reading `small` cannot be more than the reading `large`. */
static tb_rc not_above(enum tb_lab_route route, const double *in, size_t small, size_t large,
                       struct tb_err *err)
{
    if (in[small] <= in[large])
        return TB_OK;
    return tb_fail(err, TB_EINVAL, "%s (%g g) is more than %s (%g g)", reading(route, small), in[small],
                   reading(route, large), in[large]);
}

/* The greatest reading anybody can mean, g or ml: beyond it a unit was mistaken. */
#define READING_MOST 1000

/* A mass of 0 was not weighed; only a blank may have used no acid. */
static tb_rc readings_positive(enum tb_lab_route route, const double *in, size_t n, struct tb_err *err)
{
    for (size_t k = 0; k < n; k++) {
        bool blank = route == TB_LAB_NITROGEN && k == 2; /* a blank may need no acid at all */

        if (!isfinite(in[k]))
            return tb_fail(err, TB_EINVAL, "%s is not a number", reading(route, k));
        if (in[k] < 0)
            return tb_fail(err, TB_EINVAL, "%s is %g; it cannot be negative", reading(route, k), in[k]);
        if (in[k] == 0 && !blank)
            return tb_fail(err, TB_EINVAL, "%s is 0; nothing was weighed there", reading(route, k));
        if (in[k] > READING_MOST)
            return tb_fail(err, TB_EINVAL, "%s is %g; it cannot be more than %d", reading(route, k), in[k],
                           READING_MOST);
    }
    return TB_OK;
}

/* What is left cannot be more than what there was. */
tb_rc tb_lab_check(enum tb_lab_route route, size_t fibres, const struct tb_lab_det *det, struct tb_err *err)
{
    const double *in = det->in;
    tb_rc rc = readings_positive(route, in, tb_lab_inputs(route, fibres), err);
    bool second =
        route >= TB_LAB_VARIANT_1 && route <= TB_LAB_VARIANT_4; /* another residue, of what it was left of */

    if (rc != TB_OK)
        return rc;
    if (route == TB_LAB_NITROGEN && in[2] >= in[1])
        return tb_fail(err, TB_EINVAL,
                       "the blank took %g ml of acid, the specimen %g ml: no nitrogen was found", in[2],
                       in[1]);
    if ((route == TB_LAB_DISSOLVE || second) && (rc = not_above(route, in, 1, 0, err)) != TB_OK)
        return rc;
    if (!second)
        return TB_OK;
    return route == TB_LAB_VARIANT_4 ? not_above(route, in, 2, 1, err) : not_above(route, in, 3, 2, err);
}
