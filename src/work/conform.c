/* A laboratory's percentages beside a declaration, under the tolerances of a market. */
#include "tenterbook/conform.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

struct comparison {
    const struct tb_part *declared;
    const struct tb_found *found;
    size_t n;
    double sure;
    double scale; /* what undeclared fibre taken out does to the shares left: 100 / (100 - E) */
};

/* A part of one fibre needs no figure: it is all of that fibre. */
static double percent_of(const struct comparison *c, size_t i)
{
    return c->declared->n == 1 && isnan(c->declared->share[i].percent) ? 100 : c->declared->share[i].percent;
}

static const struct tb_found *found_of(const struct comparison *c, int fibre)
{
    for (size_t i = 0; i < c->n; i++)
        if (c->found[i].fibre == fibre)
            return &c->found[i];
    return NULL;
}

static bool declares(const struct comparison *c, int fibre)
{
    for (size_t i = 0; i < c->declared->n; i++)
        if (c->declared->share[i].fibre == fibre)
            return true;
    return false;
}

/* Undeclared fibres together. Their errors are not known to be independent: the deviations add up. */
static struct tb_found undeclared(const struct comparison *c)
{
    struct tb_found sum = { .fibre = TB_FIBRE_OTHER, .freedom = INFINITY };
    size_t kinds = 0;

    for (size_t i = 0; i < c->n; i++) {
        if (declares(c, c->found[i].fibre))
            continue;
        sum.percent += c->found[i].percent;
        sum.u += c->found[i].u;
        sum.freedom = fmin(sum.freedom, c->found[i].freedom);
        sum.fibre = kinds++ ? TB_FIBRE_OTHER : c->found[i].fibre;
    }
    return sum;
}

/* A declared fibre the analysis did not meet: none, as surely as the least sure of the others. */
static struct tb_found not_met(const struct comparison *c, int fibre)
{
    struct tb_found f = { .fibre = fibre, .freedom = INFINITY };

    for (size_t i = 0; i < c->n; i++)
        if (c->found[i].u > f.u) {
            f.u = c->found[i].u;
            f.freedom = c->found[i].freedom;
        }
    return f;
}

static tb_rc decide(struct tb_conform *out, struct tb_conform_line *line, const struct comparison *c,
                    struct tb_err *err)
{
    tb_rc rc = tb_lab_decide(&line->decision, line->found, line->u, line->freedom, line->limit, c->sure, err);

    if (rc == TB_OK)
        out->line[out->n++] = *line;
    return rc;
}

static tb_rc one_declared(struct tb_conform *out, const struct comparison *c, size_t i,
                          const struct tb_tolerance *rule, struct tb_err *err)
{
    const struct tb_share *s = &c->declared->share[i];
    const struct tb_found *met = found_of(c, s->fibre);
    struct tb_found f = met ? *met : s->fibre == TB_FIBRE_OTHER ? undeclared(c) : not_met(c, s->fibre);
    struct tb_conform_line line = { .fibre = s->fibre,
                                    .declared = percent_of(c, i),
                                    .found = f.percent * c->scale,
                                    .u = f.u * c->scale,
                                    .freedom = f.freedom,
                                    .limit = tb_lab_limit_around(percent_of(c, i), rule->points),
                                    .rule = *rule };

    return decide(out, &line, c, err);
}

/* Fibre nobody declared is held against the tolerance for it, or where there is none against that of the rest. */
static tb_rc the_undeclared(struct tb_conform *out, const struct comparison *c, const struct tb_found *e,
                            const struct tb_tolerance *rule, struct tb_err *err)
{
    struct tb_conform_line line = { .fibre = e->fibre,
                                    .undeclared = true,
                                    .found = e->percent,
                                    .u = e->u,
                                    .freedom = e->freedom,
                                    .limit = { -INFINITY, rule->points },
                                    .rule = *rule };

    return decide(out, &line, c, err);
}

/* One share that fails is enough; an open question about one leaves the whole open. */
static void sum_up(struct tb_conform *out)
{
    out->answer = TB_LAB_CONFORMS;
    for (size_t i = 0; i < out->n; i++) {
        if (out->line[i].decision.answer == TB_LAB_FAILS)
            out->answer = TB_LAB_FAILS;
        if (out->line[i].decision.answer == TB_LAB_UNSAID && out->answer == TB_LAB_CONFORMS)
            out->answer = TB_LAB_UNSAID;
    }
}

/* A declaration that does not sum to the whole would make every share look wrong. */
static tb_rc check_shapes(const struct comparison *c, struct tb_err *err)
{
    double sum = 0;

    if (c->declared->n == 0 || c->n == 0)
        return tb_fail(err, TB_EINVAL, "there is nothing to compare: no fibre is declared or none was found");
    if (c->declared->n >= TB_CONFORM_LINES_MOST || c->n >= TB_CONFORM_LINES_MOST)
        return tb_fail(err, TB_EINVAL, "more than %d fibres cannot be compared", TB_CONFORM_LINES_MOST - 1);
    for (size_t i = 0; i < c->declared->n; i++) {
        if (isnan(percent_of(c, i)))
            return tb_fail(err, TB_EINVAL, "the declaration gives no percentage for every fibre");
        sum += percent_of(c, i);
    }
    if (fabs(sum - 100) > 0.5)
        return tb_fail(err, TB_EINVAL, "the declared shares sum to %.1f %%, not 100", sum);
    for (size_t i = 0; i < c->n; i++)
        if (!(c->found[i].percent >= -1 && c->found[i].percent <= 101) || !(c->found[i].u >= 0))
            return tb_fail(err, TB_EINVAL, "a found share is %.2f %%; it lies between 0 and 100",
                           c->found[i].percent);
    return TB_OK;
}

/* The tolerance of a share; a pure product without one of its own has what undeclared fibre leaves it. */
static bool rule_of(struct tb_tolerance *rule, const char *market, const struct comparison *c, size_t i,
                    const struct tb_tolerance_facts *facts)
{
    return tb_tolerance_find(rule, market, c->declared, i, facts) ||
           (c->declared->n == 1 && tb_extraneous_find(rule, market, c->declared, facts));
}

static tb_rc compare(struct tb_conform *out, const char *market, const struct tb_part *declared,
                     const struct tb_found *found, size_t n, const struct tb_tolerance_facts *facts,
                     double sure, struct tb_err *err)
{
    struct comparison c = { declared, found, n, sure, 1 };
    struct tb_conform r = { .market = market };
    struct tb_tolerance rule, extra;
    struct tb_found e;
    bool passes;
    tb_rc rc = check_shapes(&c, err);

    if (rc != TB_OK)
        return rc;
    e = undeclared(&c);
    if (declares(&c, TB_FIBRE_OTHER)) /* then they are declared, as "other fibres" */
        e.percent = 0;
    passes = tb_extraneous_find(&extra, market, declared, facts);
    if (e.percent > 0 && passes && declared->n > 1 && e.percent <= extra.points) {
        r.taken_out = e.percent;
        c.scale = 100 / (100 - e.percent);
    }
    for (size_t i = 0; i < declared->n && rc == TB_OK; i++) {
        if (!rule_of(&rule, market, &c, i, facts))
            return tb_fail(err, TB_ENOTFOUND,
                           "the rules for market %s give no tolerance for such a composition", market);
        rc = one_declared(&r, &c, i, &rule, err);
    }
    if (rc == TB_OK && e.percent > 0 && declared->n > 1)
        rc = the_undeclared(&r, &c, &e, passes ? &extra : &rule, err);
    if (rc != TB_OK)
        return rc;
    sum_up(&r);
    *out = r;
    return TB_OK;
}

/* A fibre under two names ("Pima cotton, Upland cotton"), or new and recycled, is one to a laboratory. Yours to free. */
static struct tb_part each_fibre_once(const struct tb_part *declared)
{
    struct tb_part once = { .kind = declared->kind };

    for (size_t i = 0; i < declared->n; i++) {
        size_t at = 0;

        while (at < once.n && (once.share[at].fibre < 0 || once.share[at].fibre != declared->share[i].fibre))
            at++;
        if (at < once.n)
            once.share[at].percent += declared->share[i].percent;
        else
            tb_part_add_share(&once, declared->share[i].fibre, declared->share[i].percent)->marks =
                declared->share[i].marks;
    }
    return once;
}

tb_rc tb_conform_check(struct tb_conform *out, const char *market, const struct tb_part *declared,
                       const struct tb_found *found, size_t n, const struct tb_tolerance_facts *facts,
                       double sure, struct tb_err *err)
{
    struct tb_part once = each_fibre_once(declared);
    tb_rc rc = compare(out, market, &once, found, n, facts, sure, err);

    free(once.share);
    return rc;
}
