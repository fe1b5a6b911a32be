/*
 * fit - figures of the evidence model fitted to the published burns, each family of sources left out in turn.
 *
 *   fit TRIES SEED                  walks at random from the figures in force, prints every step that scores better, and writes
 *                                   nothing: whoever takes a set over edits sql/reference/burn_figure.csv and the weights of
 *                                   channel.csv, runs `make calibrate`, and commits both with the report
 *   fit nested FOLD TRIES SEED      walks from round numbers without every fourth family (FOLD 0 to 3: which), and prints what the
 *                                   families that had no say come out as, by all that the program is: what the figures are
 *                                   worth on sources they were not chosen on. docs/calibration.md leads with it
 *
 * While walking, compositions of one and two fibres stand for all. The score is the mean of -log P(right answer) over
 * judgements, true and false weighing the same, with walls at the aims of docs/calibration.md, a standard error inside; the thresholds of the grades are
 * fitted with the rest. The same in every run.
 */
#include "accounts.h"

#include "gen/ref_channel.h"

#define CHOICES_MOST 8
#define FOLDS 4
#define WALL 0.02 /* nats: what a standard error short of an aim costs */

/* A figure, the values it may take, and the round number a walk starts from that must not know the answer. */
static const struct choice {
    const char *key;
    double may[CHOICES_MOST]; /* rising; 0 ends it */
    double plain;
} choice[] = {
    { "leak_pure", { 0.01, 0.02, 0.05, 0.1 }, 0.05 },
    { "leak_floor", { 0.001, 0.003, 0.01 }, 0.003 },
    { "noise_pure", { 0.01, 0.02, 0.03, 0.05, 0.1 }, 0.05 },
    { "class_weight", { 0.5, 1, 2, 4 }, 2 },
    { "fibre_weight", { 1, 2, 3, 4, 5, 8 }, 3 },
    { "thin", { 0.5, 1, 2, 5, 8, 12 }, 4 },
    { "base_weight", { 2, 6, 12 }, 6 },
    { "base_rate", { 0.03, 0.05, 0.1 }, 0.05 },
    { "share_power", { 0.2, 0.3, 0.33, 0.35, 0.4, 0.5 }, 0.5 },
    { "odd_power", { 0.3, 0.5, 0.7 }, 0.5 },
    { "odd_pure", { 0.0005, 0.001, 0.002, 0.005 }, 0.001 },
    { "speaks_below", { 0.08, 0.1, 0.12, 0.15, 0.2 }, 0.1 },
    { "fits_above", { 2, 3, 4, 5, 6, 8 }, 5 },
    { "second_look", { 1, 1.5, 1.8, 2, 2.5 }, 2 },
    { "approach", { 1, 2, 3, 4 }, 4 },
    { "in_flame", { 1, 2, 3, 4 }, 4 },
    { "removed", { 1, 2, 3, 4 }, 4 },
    { "flame_colour", { 1, 2, 3, 4 }, 4 },
    { "smoke", { 1, 2, 3, 4 }, 4 },
    { "odour", { 1, 2, 3, 4 }, 4 },
    { "residue_form", { 1, 2, 3, 4 }, 4 },
    { "residue_colour", { 1, 2, 3, 4 }, 4 },
};
#define FIGURES TB_COUNT(choice)

/* One set of figures, in the order of the choices. */
struct figures {
    double value[FIGURES];
};

static double value_of(const struct figures *f, const char *key)
{
    for (size_t i = 0; i < FIGURES; i++)
        if (strcmp(choice[i].key, key) == 0)
            return f->value[i];
    return NAN;
}

/* What a family takes part in: the fit, or the judgement of what it came to. */
static bool takes_part(size_t family, int fold, bool held)
{
    return fold < 0 || (family % FOLDS == (size_t)fold) == held;
}

/* The families in the order of their first account, numbered. */
static void judge_families(const struct figures *f, int fold, bool held, int fibres_most, judged_fn *fn,
                           void *to)
{
    const char *key[FIGURES];
    struct tb_other_figures other = { key, f->value, FIGURES };
    struct tb_evidence_settings set;
    size_t family = 0;

    for (size_t i = 0; i < FIGURES; i++)
        key[i] = choice[i].key;
    tb_evidence_defaults(&set);
    set.fibres_most = fibres_most;
    set.speaks_below = value_of(f, "speaks_below");
    set.fits_above = value_of(f, "fits_above");
    for (size_t i = 0; i < accounts; i++)
        if (first_of_family(i) && takes_part(family++, fold, held))
            judge_family(account[i].family, &set, &other, fn, to);
}

/* [0] false declarations, [1] true ones. */
struct tally {
    double judged[2], loss[2], grade[2][TB_GRADES];
};

static void count(void *to, const struct account *a, size_t d, const struct tb_verdict *v)
{
    struct tally *t = to;
    int side = is_true(d, a);

    t->judged[side]++;
    t->grade[side][v->grade]++;
    t->loss[side] += log1p(exp(side ? -v->log_ratio : v->log_ratio));
}

/*
 * How far a share of n is from an aim that it should be above by a standard error, in standard errors: what is met by a hair on some
 * sources is missed on others.
 */
static double short_of(double share, double aim, double n)
{
    return fmax(0, 1 - (share - aim) / sqrt(aim * (1 - aim) / n));
}

/* The less, the better. */
static double score(const struct figures *f, int fold)
{
    struct tally t = { 0 };
    const double *right = t.grade[1], *wrong = t.grade[0];

    judge_families(f, fold, false, 2, count, &t);
    return (t.loss[0] / t.judged[0] + t.loss[1] / t.judged[1]) / 2 +
           WALL * (short_of(1 - right[TB_GRADE_CONTRADICTS] / t.judged[1], 1 - 0.007, t.judged[1]) +
                   short_of(right[TB_GRADE_FITS] / t.judged[1], 0.93, t.judged[1]) +
                   short_of((wrong[TB_GRADE_CONTRADICTS] + wrong[TB_GRADE_SPEAKS_AGAINST]) / t.judged[0],
                            0.93, t.judged[0]) +
                   short_of(1 - wrong[TB_GRADE_FITS] / t.judged[0], 0.99, t.judged[0]));
}

static void change_one(struct figures *f, uint64_t *seed)
{
    size_t i = drawn(seed, FIGURES), n = 0;

    while (n < CHOICES_MOST && choice[i].may[n] > 0)
        n++;
    f->value[i] = choice[i].may[drawn(seed, n)];
}

static void walk(struct figures *f, int fold, long tries, uint64_t seed, bool say)
{
    double best = score(f, fold);

    for (long n = 0; n < tries; n++) {
        struct figures next = *f;
        double now;

        for (size_t changes = 1 + drawn(&seed, 4) / 2; changes > 0; changes--)
            change_one(&next, &seed);
        now = score(&next, fold);
        if (now >= best)
            continue;
        best = now;
        *f = next;
        if (!say)
            continue;
        (void)printf("%.5f", best);
        for (size_t i = 0; i < FIGURES; i++)
            (void)printf(" %s %g", choice[i].key, f->value[i]);
        (void)printf("\n");
        (void)fflush(stdout);
    }
}

/* The order of the sources of the table is by their quality; that of their names knows nothing. */
static int by_family(const void *a, const void *b)
{
    const struct account *x = a, *y = b;
    int family = strcmp(x->family, y->family);

    return family ? family : x->fibre - y->fibre;
}

/* What the tables say of it: a figure, or the weight of a channel. */
static double in_force(const char *key)
{
    int channel = tb_channel_by_key(key);

    return channel < 0 ? tb_model_figure(key) : tb_ref_channel[channel].quarters;
}

static void nested(int fold, long tries, uint64_t seed)
{
    struct figures f;

    for (size_t i = 0; i < FIGURES; i++)
        f.value[i] = choice[i].plain;
    walk(&f, fold, tries, seed + (uint64_t)fold, false);
    for (size_t i = 0; i < FIGURES; i++)
        (void)fprintf(stderr, "%s %g ", choice[i].key, f.value[i]);
    (void)fprintf(stderr, "\n");
    (void)printf(JUDGED_HEAD);
    judge_families(&f, fold, true, 3, print_judged, "");
}

int main(int argc, char **argv)
{
    struct figures f;
    int at = argc > 2 && strcmp(argv[1], "nested") == 0 ? 3 : 1;
    long tries = argc > at ? strtol(argv[at], NULL, 10) : 300;
    uint64_t seed = argc > at + 1 ? strtoull(argv[at + 1], NULL, 10) : 1;

    take_profiles();
    qsort(account, accounts, sizeof *account, by_family);
    if (at == 3) {
        nested((int)strtol(argv[2], NULL, 10) % FOLDS, tries, seed);
        return 0;
    }
    for (size_t i = 0; i < FIGURES; i++)
        f.value[i] = in_force(choice[i].key);
    (void)printf("in force: %.5f\n", score(&f, -1));
    walk(&f, -1, tries, seed, true);
    return 0;
}
