/*
 * space.c - every composition of the grid against the observations of one part.
 *
 * A joint likelihood is kept as a number and how many times it was lifted (kernel.h); the sums of a pick are on
 * the scale of its likeliest compositions, so that what is lost is less than a 2^-500th of them. Of a few burns
 * nothing needs lifting: no likelihood is below what mistakes make of it, and the picks share what they have in common.
 */
#include "evidence/roof.h"
#include "evidence/sums.h"
#include "evidence/trunk.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#define LOG2_LIFT 500
#define LOG_LIFT (LOG2_LIFT * 0.693147180559945309417)

#define CALM 300.0 /* natural logarithm of a product that needs no lifting, however it is multiplied */

/* Numbers of one strip and how often each was lifted. */
struct lifted {
    double x[TB_STRIP_MOST], lifts[TB_STRIP_MOST];
};

/* Below which its strips are left out, and what one unit of it is on the scale of the pick. */
struct roof {
    float cut;
    double unit;
};

struct work {
    const struct tb_evidence *ev;
    const struct tb_pick *pick;
    size_t picks, tables;
    const struct tb_kernel *kernel;
    struct tb_room *room;          /* one a table */
    struct tb_parts *parts;        /* one a strip of the block: they stay for the tables that share a burn */
    double (*like)[TB_STRIP_MOST]; /* [table * TB_STRIPS_MOST + strip of the block] */
    size_t here;                   /* the strip of the block that is worked on */
    double *lifts;                 /* one a pick: of its likeliest pure fibre or pair */
    struct tb_power_of *power;     /* all that some pick asks for, none twice */
    struct lifted *raised;         /* one a power, of one strip */
    size_t powers;
    size_t **at; /* [pick][i]: the number of its i-th power */
    struct tb_trunk trunk;
    size_t *node; /* of each pick in the trunk; TB_TRUNK_NONE: it may need lifting, and stands by itself */
    const double **leaf; /* of each table, of the strip at hand */
    /* where some pick has a roof: */
    struct roof *roof;       /* one a pick; NULL: nothing is left out */
    bool *need, *table_need; /* [node], [table] for each strip of the block */
    size_t strip;            /* number of the first strip of the block */
};

/*
 * What the likelihood of one observation is made of, for cloths of which the share pi burns oddly; of a burn with bench tests
 * only that of the burn: the tests and the mix-up of the swatch come after it. Of a burn alone, mix-up and mistake are one.
 */
static struct tb_joint joint_of(const struct tb_evidence *ev, const struct tb_factored *t, double pi)
{
    double s = t->acts ? 1 - ev->fig.mixup : 1, e = t->acts ? ev->fig.burn_error : ev->fig.bench_error;

    return (struct tb_joint){ s * (1 - e) * (1 - pi), s * (1 - e) * pi * t->odd, s * e * t->burn };
}

/* What a swatch of another cloth adds to the likelihood of its burn and its tests. */
static double mixed_up(const struct tb_evidence *ev, const struct tb_factored *t)
{
    return t->acts ? ev->fig.mixup * t->any : 0;
}

/* log of the joint likelihood of a pure fibre, on the scale of the tables. */
static double pure_log(const struct work *k, const struct tb_pick *p, int fibre)
{
    double sum = 0;

    for (size_t i = 0; i < p->n; i++) {
        const struct tb_factored *t = k->room[p->of[i].table].of;
        struct tb_joint j = joint_of(k->ev, t, k->ev->fig.odd_pure);

        double bare =
            t->pure_tests[fibre] * (j.any + t->pure_telling[fibre] * (j.own * t->pure_rest[fibre] + j.odd));

        sum += p->of[i].power * log(mixed_up(k->ev, t) + (1 - k->ev->unnamed[fibre]) * bare +
                                    j.any * t->finished_tests[fibre] + j.own * t->finished[fibre] +
                                    j.odd * t->finished_telling[fibre]);
    }
    return sum;
}

/* --- powers of the tables, none worked out twice ------------------------------------------------------------ */

/* Two picks often ask for the same power, as bolts with the same burns do. */
static size_t number_of(struct work *k, const struct tb_power_of *p)
{
    for (size_t i = 0; i < k->powers; i++)
        if (k->power[i].table == p->table && k->power[i].power == p->power)
            return i;
    k->power = tb_realloc(k->power, k->powers + 1, sizeof *k->power);
    k->power[k->powers] = *p;
    return k->powers++;
}

/* No likelihood is above 1, and none below what a mistake makes of it: how far the products of a pick can go, in any order. */
static bool is_calm(const struct work *k, const struct tb_pick *p)
{
    double low = 0, high = 0;

    for (size_t i = 0; i < p->n; i++) {
        const struct tb_factored *t = k->room[p->of[i].table].of;
        double times = fmax(1, ceil(fabs(p->of[i].power))),
               least = log(t->acts ? mixed_up(k->ev, t) : joint_of(k->ev, t, 0).any);

        low += times * fmin(0, least);
        high += times * fmax(0, -t->log_scale);
    }
    return p->n > 0 && low > -CALM && high < CALM;
}

/* Known before the first strip, so that the strips find the memory ready. */
static void take_powers(struct work *k)
{
    k->at = tb_array(size_t *, k->picks);
    k->node = tb_array(size_t, k->picks);
    for (size_t i = 0; i < k->picks; i++) {
        k->at[i] = tb_array(size_t, k->pick[i].n);
        k->node[i] = is_calm(k, &k->pick[i]) ? tb_trunk_pick(&k->trunk, &k->pick[i]) : TB_TRUNK_NONE;
        for (size_t f = 0; f < k->pick[i].n && k->node[i] == TB_TRUNK_NONE; f++)
            k->at[i][f] = number_of(k, &k->pick[i].of[f]);
    }
    k->raised = tb_realloc(NULL, k->powers + 1, sizeof *k->raised);
    k->leaf = tb_realloc(NULL, k->tables + 1, sizeof *k->leaf);
}

/* Whole powers above 0 are squares and their products; a share of a burn, and what is divided by, needs a logarithm. */
static void raise(struct lifted *out, const struct work *k, const double *like, double power, size_t n)
{
    double whole = power > 0 ? floor(power) : 0, part = power - whole;
    struct lifted square;

    memset(out->lifts, 0, n * TB_CHUNK * sizeof *out->lifts);
    memcpy(out->x, like, n * TB_CHUNK * sizeof *like);
    if (part != 0)
        k->kernel->power(out->x, NULL, part, n);
    if (whole == 0)
        return;
    memset(square.lifts, 0, sizeof square.lifts);
    memcpy(square.x, like, n * TB_CHUNK * sizeof *like);
    for (size_t l = 0; part == 0 && l < n * TB_CHUNK; l++)
        out->x[l] = 1;
    for (size_t left = (size_t)whole; left > 0; left /= 2) {
        if (left & 1)
            k->kernel->times(out->x, out->lifts, square.x, square.lifts, n);
        if (left > 1)
            k->kernel->times(square.x, square.lifts, square.x, square.lifts, n);
    }
}

/* --- the strips --------------------------------------------------------------------------------------------- */

static double *like_of(const struct work *k, size_t table)
{
    return k->like[table * TB_STRIPS_MOST + k->here];
}

/* Powers of 1 are read where they lie: most burns of a mixed lot are such. */
static void join_pick(struct lifted *out, const struct work *k, size_t pick, const struct tb_strip *s)
{
    for (size_t l = 0; l < (size_t)s->n * TB_CHUNK; l++) {
        out->x[l] = 1;
        out->lifts[l] = 0;
    }
    for (size_t i = 0; i < k->pick[pick].n; i++) {
        size_t at = k->at[pick][i];
        bool plain = k->power[at].power == 1;
        const double *x = plain ? like_of(k, k->power[at].table) : k->raised[at].x;

        k->kernel->times(out->x, out->lifts, x, plain ? NULL : k->raised[at].lifts, (size_t)s->n);
    }
}

static void add_pick(const struct work *k, size_t pick, const struct tb_strip *s)
{
    const struct tb_pick *p = &k->pick[pick];
    struct lifted joint;

    if (k->node[pick] != TB_TRUNK_NONE) {
        tb_sums_add_strip(p->sums, k->ev, s, tb_trunk_lanes(&k->trunk, k->node[pick], k->leaf), k->kernel);
        return;
    }
    join_pick(&joint, k, pick, s);
    for (size_t l = 0; p->n > 0 && l < (size_t)s->n * TB_CHUNK; l++)
        if (joint.lifts[l] != k->lifts[pick])
            joint.x[l] = ldexp(joint.x[l], LOG2_LIFT * (int)(k->lifts[pick] - joint.lifts[l]));
    tb_sums_add_strip(p->sums, k->ev, s, joint.x, k->kernel);
}

/* The fewest lifts of any pair of a strip, as their power leaves them: padding has no part in it. */
static void least_lifts(const struct work *k, size_t pick, const struct tb_strip *s)
{
    const struct tb_chunk *c = &s->layout->chunk[s->chunk];
    struct lifted joint = { .lifts = { 0 } };
    int used = c->ways;

    if (k->node[pick] != TB_TRUNK_NONE)
        return;
    join_pick(&joint, k, pick, s);
    for (int m = 0; m < s->n; m++)
        for (int l = m * TB_CHUNK; l < m * TB_CHUNK + used; l++)
            k->lifts[pick] = fmin(k->lifts[pick], joint.lifts[l]);
}

typedef void strip_fn(const struct work *k, size_t pick, const struct tb_strip *s);

/* --- what may be left out --------------------------------------------------------------------------------------- */

/* Once the scales are known. What may need lifting is weighed to the end. */
static void take_roofs(struct work *k)
{
    bool any = false;

    for (size_t i = 0; i < k->picks; i++)
        any |= k->pick[i].roof.strip && k->node[i] != TB_TRUNK_NONE;
    if (!any)
        return;
    k->roof = tb_array(struct roof, k->picks);
    k->need = tb_array(bool, TB_STRIPS_MOST * k->trunk.n + 1);
    k->table_need = tb_array(bool, TB_STRIPS_MOST * k->tables + 1);
    for (size_t i = 0; i < k->picks; i++)
        if (k->pick[i].roof.strip && k->node[i] != TB_TRUNK_NONE)
            k->roof[i] = (struct roof){ tb_roof_cut(&k->pick[i].roof),
                                        exp(k->pick[i].roof.log_scale - k->pick[i].sums->log_scale) };
}

static bool is_left_out(const struct work *k, size_t pick, size_t strip)
{
    return k->roof && k->pick[pick].roof.strip &&
           k->pick[pick].roof.strip[k->strip + strip] < k->roof[pick].cut;
}

/* What the picks that are not left out of a strip are made of; a table that shares a burn needs the one that works it through. */
static void mark_needs(const struct work *k, size_t strip)
{
    bool *need = k->need + strip * k->trunk.n, *table = k->table_need + strip * k->tables, behind = false;

    memset(need, 0, k->trunk.n * sizeof *need);
    memset(table, 0, k->tables * sizeof *table);
    for (size_t i = 0; i < k->picks; i++)
        if (k->node[i] == TB_TRUNK_NONE)
            memset(table, true, k->tables * sizeof *table);
        else if (!is_left_out(k, i, strip))
            need[k->node[i]] = true;
    tb_trunk_need(need, table, &k->trunk);
    for (size_t t = k->tables; t-- > 0;) {
        bool shares = k->room[t].of->same_burn != NULL;

        table[t] |= !shares && behind;
        behind = shares && (behind || table[t]);
    }
}

static bool is_needed(const struct work *k, size_t table, size_t strip)
{
    return !k->roof || k->table_need[strip * k->tables + table];
}

/* --- block by block --------------------------------------------------------------------------------------------- */

/* A table is worked through for a block of strips, before the next table pushes it out of the cache. */
static void take_likelihoods(struct work *k, const struct tb_strip *s, size_t strips)
{
    for (size_t t = 0; t < k->tables; t++) {
        const struct tb_factored *of = k->room[t].of;
        struct tb_joint j = joint_of(k->ev, of, k->ev->fig.odd_blend);
        size_t which[TB_STRIPS_MOST], n = 0;

        for (size_t i = 0; i < strips; i++)
            if (is_needed(k, t, i))
                which[n++] = i;
        tb_room_fill(k->parts, &k->room[t], s, which, n, k->kernel);
        for (size_t i = 0; i < n; i++) {
            const struct tb_parts *p = &k->parts[which[i]];

            k->here = which[i];
            k->kernel->join(like_of(k, t), p->telling, p->rest, &j, (size_t)s[k->here].n);
            if (of->acts)
                tb_room_tests(like_of(k, t), &k->room[t], s, k->here, k->ev->fig.test_error,
                              mixed_up(k->ev, of), k->kernel);
        }
    }
}

static void do_block(struct work *k, const struct tb_strip *s, size_t strips, strip_fn *fn)
{
    for (size_t i = 0; i < strips && k->roof; i++)
        mark_needs(k, i);
    take_likelihoods(k, s, strips);
    for (k->here = 0; k->here < strips; k->here++) {
        for (size_t i = 0; i < k->powers; i++)
            if (k->power[i].power != 1)
                raise(&k->raised[i], k, like_of(k, k->power[i].table), k->power[i].power,
                      (size_t)s[k->here].n);
        for (size_t t = 0; t < k->tables; t++)
            k->leaf[t] = like_of(k, t);
        tb_trunk_fill(&k->trunk, k->leaf, (size_t)s[k->here].n,
                      k->roof ? k->need + k->here * k->trunk.n : NULL, k->kernel);
        for (size_t i = 0; i < k->picks; i++)
            if (is_left_out(k, i, k->here))
                tb_sums_leave_out(k->pick[i].sums,
                                  k->pick[i].roof.strip[k->strip + k->here] * k->roof[i].unit);
            else
                fn(k, i, &s[k->here]);
    }
    k->strip += strips;
}

/* Every table is worked through once a strip, whatever the number of picks. A block is of one chunk. */
static void each_strip(struct work *k, int roles, strip_fn *fn)
{
    struct tb_layout lay;
    struct tb_strip block[TB_STRIPS_MOST], s;
    size_t n = 0;

    tb_layout_make(&lay, roles);
    for (bool more = tb_strip_first(&s, &lay, k->ev->fibres); more; more = tb_strip_next(&s, k->ev->fibres)) {
        if (n == TB_STRIPS_MOST || (n && block->chunk != s.chunk)) {
            do_block(k, block, n, fn);
            n = 0;
        }
        block[n++] = s;
    }
    do_block(k, block, n, fn);
}

/* How often the likeliest compositions of each pick are lifted: by the pure fibres, then by the pairs. */
static void find_lifts(struct work *k)
{
    bool lifted = false;

    for (size_t i = 0; i < k->picks; i++) {
        double best = -INFINITY;

        for (int f = 0; f < k->ev->fibres && k->node[i] == TB_TRUNK_NONE; f++)
            best = fmax(best, pure_log(k, &k->pick[i], f));
        k->lifts[i] = k->node[i] == TB_TRUNK_NONE ? fmax(floor(-best / LOG_LIFT), 0) : 0;
        lifted |= k->lifts[i] > 0;
    }
    if (lifted && k->ev->set.fibres_most >= 2)
        each_strip(k, 2, least_lifts);
}

/* Pure fibres are computed in logarithms and so need no lifting. */
static void add_pures(const struct work *k, size_t pick)
{
    const struct tb_pick *p = &k->pick[pick];

    tb_sums_open(p->sums, k->ev);
    for (size_t i = 0; i < p->n; i++)
        p->sums->log_scale += p->of[i].power * k->room[p->of[i].table].of->log_scale;
    p->sums->log_scale -= k->lifts[pick] * LOG_LIFT;
    for (int f = 0; f < k->ev->fibres; f++)
        tb_sums_add_pure(p->sums, k->ev, f, exp(pure_log(k, p, f) + k->lifts[pick] * LOG_LIFT));
}

static void free_work(struct work *k)
{
    for (size_t t = 0; t < k->tables; t++)
        tb_room_free(&k->room[t]);
    for (size_t i = 0; i < k->picks; i++)
        free(k->at[i]);
    tb_trunk_free(&k->trunk);
    free(k->at);
    free(k->node);
    free(k->leaf);
    free(k->power);
    free(k->raised);
    free(k->room);
    free(k->like);
    free(k->parts);
    free(k->lifts);
    free(k->roof);
    free(k->need);
    free(k->table_need);
}

/* In the order the scale asks for: powers, then lifts, then pure fibres, then everything else. */
void tb_space_weigh(const struct tb_pick *pick, size_t picks, const struct tb_evidence *ev,
                    struct tb_factored *const *table, size_t n, const struct tb_kernel *kernel)
{
    struct work k = { .ev = ev, .pick = pick, .picks = picks, .tables = n, .kernel = kernel };

    k.room = tb_array(struct tb_room, n);
    k.like = tb_realloc(NULL, n * TB_STRIPS_MOST + 1, sizeof *k.like);
    k.lifts = tb_array(double, picks);
    for (size_t t = 0; t < n; t++)
        tb_room_open(&k.room[t], table[t]);
    k.parts = tb_realloc(NULL, TB_STRIPS_MOST, sizeof *k.parts);
    take_powers(&k);
    find_lifts(&k);
    for (size_t i = 0; i < picks; i++)
        add_pures(&k, i);
    take_roofs(&k);
    k.strip = 0;
    for (int roles = 2; roles <= ev->set.fibres_most; roles++)
        each_strip(&k, roles, add_pick);
    free_work(&k);
}
