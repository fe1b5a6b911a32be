/*
 * Published figures of sampling, charts and agreement: tests/vectors/discovery, z14_codes, z14_plans, z14_oc,
 * pchart and kappa .csv, the source beside each row. Every row of every table is asked for.
 */
#include "tenterbook/interval.h"
#include "tenterbook/sampling.h"

#include "gen/ref_switching_rule.h"
#include "sampling/dist.h"
#include "vectors/stats_rows.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

static bool starts(const struct stats_row *r, const char *with)
{
    return strncmp(r->cell[1], with, strlen(with)) == 0;
}

static bool has(const struct stats_row *r, const char *word)
{
    return strstr(r->cell[1], word) != NULL;
}

/* Walks a table with a function that gives the figure a row asks for, and wants every row met. */
static void every_row(const char *table, double (*figure)(const struct stats_row *r), size_t rows)
{
    struct stats_rows t = stats_read(table);
    size_t met = 0;

    for (size_t i = 1; i < t.n; i++)
        met += stats_agrees(&t.row[i], figure(&t.row[i]));
    assert_int_equal(t.n - 1, rows);
    stats_free(&t);
    assert_int_equal(met, rows);
}

/* --- discovery --- */

static long exact_cut(const struct stats_row *r)
{
    struct tb_err err = { 0 };
    long cut = -2;

    assert_int_equal(tb_discovery_cut(&cut, (long)stats_number(r, "N", 0), (long)stats_number(r, "D", 0),
                                      stats_number(r, "conf", 0), stats_number(r, "se", 1), &err),
                     TB_OK);
    return cut;
}

/* The approximate formula of the source; the exact number, in the note, is never larger. */
static double approximate_cut(const struct stats_row *r)
{
    double lot = stats_number(r, "N", 0), se = stats_number(r, "se", 1);
    double n = ceil(lot / se * (1 - pow(1 - stats_number(r, "conf", 0), 1 / stats_number(r, "D", 1))));
    const char *exact = strstr(r->cell[8], "[exact ");

    assert_non_null(exact);
    assert_int_equal(exact_cut(r), strtol(exact + strlen("[exact "), NULL, 10));
    if (exact_cut(r) > 0)
        assert_true((double)exact_cut(r) <= n);
    return n > lot ? -1 : n;
}

/* A lot so large that it is as good as endless: the smallest n with (1 - p se)^n <= 1 - conf. */
static double endless_cut(const struct stats_row *r)
{
    double p = stats_number(r, "p", 0) * stats_number(r, "se", 1), left = 1 - stats_number(r, "conf", 0);

    for (long n = 1; n < 10000; n++) {
        if (tb_dist_binomial_at_most(0, n, p) <= left)
            return (double)n;
    }
    return -1;
}

static double discovery_figure(const struct stats_row *r)
{
    struct tb_err err = { 0 };
    double out = NAN, low;

    if (starts(r, "n, approximation"))
        return approximate_cut(r);
    if (starts(r, "n, exact"))
        return (double)exact_cut(r);
    if (starts(r, "n, binomial"))
        return endless_cut(r);
    if (starts(r, "3/n"))
        return 3 / stats_number(r, "n", 1);
    if (starts(r, "exact upper"))
        assert_int_equal(
            tb_interval_exact_side(&low, &out, 0, (long)stats_number(r, "n", 0), 0.95, TB_SIDE_LESS, &err),
            TB_OK);
    if (starts(r, "P(no bad"))
        assert_int_equal(tb_discovery_chance(NULL, &out, (long)stats_number(r, "N", 0),
                                             (long)stats_number(r, "D", 0), (long)stats_number(r, "n", 0), 1,
                                             &err),
                         TB_OK);
    return out;
}

static void every_published_discovery_sample_is_met(void **state)
{
    (void)state;
    every_row("discovery", discovery_figure, 110);
}

/* --- acceptance --- */

static void every_code_letter_is_that_of_the_table(void **state)
{
    struct stats_rows t = stats_read("z14_codes");
    struct tb_acceptance plan;
    struct tb_err err = { 0 };

    (void)state;
    assert_int_equal(t.n - 1, 203);
    for (size_t i = 1; i < t.n; i++) {
        const struct stats_row *r = &t.row[i];
        int level = tb_level_by_key(stats_input(r, "level"));

        assert_true(level >= 0);
        assert_int_equal(tb_acceptance_plan(&plan, (long)stats_number(r, "lot", 0), (enum tb_level)level, 1.0,
                                            TB_NORMAL, &err),
                         TB_OK);
        assert_string_equal(plan.code, r->cell[3]);
    }
    stats_free(&t);
}

/* A lot and level with this code letter; 0 when no lot has it (S, reached by an arrow only). */
static long lot_of(const char *code, enum tb_level *level)
{
    static const struct {
        const char *code;
        long lot;
        enum tb_level level;
    } lots[] = { { "A", 5, TB_LEVEL_II },       { "B", 12, TB_LEVEL_II },     { "C", 20, TB_LEVEL_II },
                 { "D", 40, TB_LEVEL_II },      { "E", 80, TB_LEVEL_II },     { "F", 120, TB_LEVEL_II },
                 { "G", 200, TB_LEVEL_II },     { "H", 400, TB_LEVEL_II },    { "J", 1000, TB_LEVEL_II },
                 { "K", 3000, TB_LEVEL_II },    { "L", 9000, TB_LEVEL_II },   { "M", 30000, TB_LEVEL_II },
                 { "N", 100000, TB_LEVEL_II },  { "P", 400000, TB_LEVEL_II }, { "Q", 600000, TB_LEVEL_II },
                 { "R", 1000000, TB_LEVEL_III } };

    for (size_t i = 0; i < TB_COUNT(lots); i++)
        if (strncmp(code, lots[i].code, 1) == 0) {
            *level = lots[i].level;
            return lots[i].lot;
        }
    return 0;
}

static void every_plan_is_that_of_the_table_and_arrows_lead_to_their_own_size(void **state)
{
    struct stats_rows t = stats_read("z14_plans");
    size_t met = 0, without_lot = 0;

    (void)state;
    for (size_t i = 1; i < t.n; i++) {
        const struct stats_row *r = &t.row[i];
        struct tb_acceptance plan = { 0 };
        struct tb_err err = { 0 };
        char inspection[16], got[64];
        enum tb_level level = TB_LEVEL_II;
        long lot = lot_of(stats_input(r, "code"), &level);

        if (lot == 0) {
            without_lot++;
            continue;
        }
        (void)sscanf(stats_input(r, "inspection"), "%15[a-z]", inspection);
        assert_int_equal(tb_acceptance_plan(&plan, lot, level, stats_number(r, "aql", 0),
                                            (enum tb_inspection)tb_inspection_by_key(inspection), &err),
                         TB_OK);
        (void)snprintf(got, sizeof got, "%s %ld %ld %ld", plan.use_code, plan.table_n, plan.accept,
                       plan.refuse);
        assert_string_equal(got, r->cell[3]);
        assert_int_equal(plan.cut, plan.table_n < lot ? plan.table_n : lot);
        met++;
    }
    stats_free(&t);
    assert_int_equal(met, 1248);
    assert_int_equal(without_lot, 1);
}

static double accept_figure(const struct stats_row *r)
{
    struct tb_err err = { 0 };
    long n = (long)stats_number(r, "n", 0), c = (long)stats_number(r, "c", 0);
    double out = NAN, low;

    if (starts(r, "P(accept) binomial")) /* of a process: a lot without end */
        out = tb_dist_binomial_at_most(c, n, stats_number(r, "p", 0));
    if (starts(r, "P(accept) hyper"))
        assert_int_equal(
            tb_accept_lot(&out, (long)stats_number(r, "N", 0), (long)stats_number(r, "D", 0), n, c, 1, &err),
            TB_OK);
    if (starts(r,
               "quality")) { /* accepted with chance 0.1 at no more than 0: the exact upper limit of 0 in n */
        assert_int_equal(tb_interval_exact_side(&low, &out, 0, n, 0.9, TB_SIDE_LESS, &err), TB_OK);
        out *= 100;
    }
    return out;
}

static void every_published_operating_characteristic_is_met(void **state)
{
    (void)state;
    every_row("z14_oc", accept_figure, 49);
}

/* --- charts --- */

/* Numbers separated by spaces; a '|' also ends one. */
static size_t numbers(double *out, size_t most, const char *s)
{
    size_t n = 0;
    char *end;

    while (s && *s && *s != ';' && n < most) {
        out[n] = strtod(s, &end);
        if (end == s) {
            s++;
            continue;
        }
        n++;
        s = end;
    }
    return n;
}

/* Counts of a Poisson law on a lattice of quarters: k is 0.25 in every row. */
static double poisson_run(const struct stats_row *r)
{
    struct tb_err err = { 0 };
    double mean = stats_number(r, "mu", 0), chance[40], out = NAN;
    long step[40], alarm = (long)(4 * stats_number(r, "h", 0));

    for (long x = 0; x < 40; x++) {
        step[x] = starts(r, "upper") ? 4 * x - 1 : 1 - 4 * x;
        chance[x] = exp((double)x * log(mean) - mean - lgamma((double)x + 1));
    }
    assert_int_equal(
        tb_cusum_lattice(&out, step, chance, 40, alarm, (long)(4 * stats_number(r, "hs", 0)), &err), TB_OK);
    return out;
}

static double bernoulli_run(const struct stats_row *r)
{
    const long step[] = { 9, -1 };
    const double chance[] = { stats_number(r, "p", 0), 1 - stats_number(r, "p", 0) };
    struct tb_err err = { 0 };
    double out = NAN;

    assert_int_equal(tb_cusum_lattice(&out, step, chance, 2, 27, 0, &err), TB_OK);
    return out;
}

static double chart_figure(const struct stats_row *r)
{
    struct tb_err err = { 0 };
    long least, most;

    if (has(r, "Poisson CUSUM"))
        return poisson_run(r);
    if (starts(r, "Bernoulli CUSUM ARL") || starts(r, "same at p"))
        return bernoulli_run(r);
    assert_int_equal(tb_pchart_limits(&least, &most, stats_number(r, "p", 0), (long)stats_number(r, "n", 0),
                                      stats_number(r, "alpha", 0), &err),
                     TB_OK);
    return (double)(starts(r, "smallest") ? most : least);
}

static void every_published_chart_limit_and_run_length_is_met(void **state)
{
    (void)state;
    every_row("pchart", chart_figure, 10);
}

/* --- agreement --- */

static double cohen_figure(const struct stats_row *r)
{
    struct tb_err err = { 0 };
    struct tb_kappa k = { 0 };
    double table[64];
    size_t cells = numbers(table, 64, stats_input(r, "table")), classes = (size_t)lround(sqrt((double)cells));

    assert_int_equal(tb_kappa_cohen(&k, table, classes, 0.95, &err), TB_OK);
    if (has(r, "ASE under H0") && !starts(r, "z"))
        return k.error_h0;
    if (has(r, "ASE") && !starts(r, "z"))
        return k.error;
    if (has(r, "lower"))
        return k.lo;
    if (has(r, "upper"))
        return k.hi;
    if (has(r, "two-sided p"))
        return k.p;
    if (starts(r, "z") || strcmp(r->cell[1], "Cohen z") == 0)
        return k.z;
    return k.kappa;
}

static double kappa_figure(const struct stats_row *r)
{
    struct tb_err err = { 0 };
    struct tb_fleiss f = { 0 };
    double counts[256], sum = 0;
    const char *s = stats_input(r, "counts");
    size_t cells, classes = 1;

    if (!s)
        return cohen_figure(r);
    cells = numbers(counts, 256, s);
    for (const char *c = s; *c && *c != '|' && *c != ';'; c++)
        classes += *c == ' ';
    if (starts(r, "total assignments")) {
        for (size_t i = (size_t)(r->cell[1][strlen(r->cell[1]) - 1] - '1'); i < cells; i += classes)
            sum += counts[i];
        return sum;
    }
    assert_int_equal(tb_kappa_fleiss(&f, counts, cells / classes, classes, 0.95, &err), TB_OK);
    if (starts(r, "overall") || starts(r, "agreement P_i")) /* of all swatches, or of the only one */
        return f.agreement;
    if (starts(r, "Randolph"))
        return f.free_marginal;
    return strcmp(r->cell[1], "z") == 0 ? f.z : f.kappa;
}

static void every_published_kappa_is_met(void **state)
{
    (void)state;
    every_row("kappa", kappa_figure, 36);
}

/* Each rule has its own test in tests/unit/test_sampling.c; here: none lacks a source, none hides a memory. */
static void every_switching_rule_names_its_source_and_whether_it_was_seen(void **state)
{
    (void)state;
    assert_int_equal(tb_ref_switching_rule_n, 13);
    for (size_t i = 0; i < tb_ref_switching_rule_n; i++) {
        const struct tb_ref_switching_rule *r = &tb_ref_switching_rule[i];

        assert_true(*r->source && *r->condition);
        assert_true(strcmp(r->status, "seen") == 0 || strcmp(r->status, "memory") == 0);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_published_discovery_sample_is_met),
        cmocka_unit_test(every_code_letter_is_that_of_the_table),
        cmocka_unit_test(every_plan_is_that_of_the_table_and_arrows_lead_to_their_own_size),
        cmocka_unit_test(every_published_operating_characteristic_is_met),
        cmocka_unit_test(every_published_chart_limit_and_run_length_is_met),
        cmocka_unit_test(every_published_kappa_is_met),
        cmocka_unit_test(every_switching_rule_names_its_source_and_whether_it_was_seen),
    };

    return cmocka_run_group_tests(tests, NULL, NULL);
}
