/* How testers do, in words: one tester's page, and all of them on one. */
#include "cli/bench/drill.h"

#include <math.h>
#include <string.h>

/* Words by Landis and Koch, Biometrics 33:159 (1977). They go by hundredths, as the figure is printed. */
static const char *kappa_word(double kappa)
{
    static const struct {
        double below;
        const char *word;
    } words[] = { { 0, N_("poor") },        { 0.21, N_("slight") },      { 0.41, N_("fair") },
                  { 0.61, N_("moderate") }, { 0.81, N_("substantial") }, { INFINITY, N_("almost perfect") } };
    const double rounding = 1e-9;
    size_t i = 0;

    kappa = round(100 * kappa) / 100;
    while (kappa >= words[i].below - rounding)
        i++;
    return words[i].word;
}

/* Kappa of answers that never vary has no error: an interval would claim a precision that is not there. */
static void say_kappa(FILE *out, const struct tb_kappa *k)
{
    if (isnan(k->kappa))
        tb_say(out, "Agreement beyond chance cannot be told: only one kind of answer was given.\n");
    else if (!(k->error > 0))
        tb_say(out, "Agreement beyond chance: kappa %.2f, %s; answers that never vary leave no interval.\n",
               k->kappa, _(kappa_word(k->kappa)));
    else
        tb_say(out, "Agreement beyond chance: kappa %.2f, between %.2f and %.2f (95 %%), %s.\n", k->kappa,
               k->lo, k->hi, _(kappa_word(k->kappa)));
}

/* More classes than fit the screen are left to the JSON. */
static void say_confusion(FILE *out, const struct tb_drill_scores *d, const struct tb_drill_tester *t)
{
    struct tb_table table;
    char align[64] = "l";

    if (d->classes + 1 >= sizeof align)
        return;
    memset(align + 1, 'r', d->classes);
    align[d->classes + 1] = '\0';
    tb_table_begin(&table, d->classes + 1);
    tb_table_cell(&table, "%s", _("IT WAS / NAMED"));
    for (size_t i = 0; i < d->classes; i++)
        tb_table_cell(&table, "%s", d->class_key[i]);
    for (size_t i = 0; i < d->classes; i++) {
        tb_table_cell(&table, "%s", d->class_key[i]);
        for (size_t k = 0; k < d->classes; k++)
            tb_table_cell(&table, "%.0f", t->confusion[i * d->classes + k]);
    }
    (void)fputc('\n', out);
    tb_table_print(&table, out, align, 24);
}

static void say_cues(FILE *out, const struct tb_drill_tester *t)
{
    const char *const head[] = { _("CUE"), _("LOOKED"), _("REPORTED"), _("OTHERS LOOKED"),
                                 _("OTHERS REPORTED") };
    struct tb_table table;

    if (t->cues == 0)
        return;
    tb_table_head(&table, head, TB_COUNT(head));
    for (size_t i = 0; i < t->cues; i++) {
        tb_table_cell(&table, "%s", t->cue[i].cue);
        tb_table_cell(&table, "%ld", t->cue[i].looked);
        tb_table_cell(&table, "%ld", t->cue[i].seen);
        tb_table_cell(&table, "%ld", t->cue[i].others_looked);
        tb_table_cell(&table, "%ld", t->cue[i].others_seen);
    }
    (void)fputc('\n', out);
    tb_table_print(&table, out, "lrrrr", 30);
}

static void say_practise(FILE *out, const char *lines)
{
    if (*lines)
        tb_say(out, "To practise:\n");
    else
        tb_say(out, "Nothing stands out to practise.\n");
    for (size_t n; *lines; lines += n + (lines[n] == '\n')) {
        n = strcspn(lines, "\n");
        (void)fprintf(out, "- %.*s\n", (int)n, lines);
    }
}

void drill_say_tester(FILE *out, const struct tb_drill_scores *d)
{
    const struct tb_drill_tester *t = &d->tester[0];
    struct tb_text practise = { 0 };

    tb_say(out,
           _n("%s: %ld known swatch answered, %ld named right.\n",
              "%s: %ld known swatches answered, %ld named right.\n", t->answered),
           t->name, t->answered, t->right);
    if (t->answered > 0)
        say_kappa(out, &t->kappa);
    if (t->answered >= TB_DRILLS_ENOUGH)
        tb_say(out, "Enough answers for reporting rates of this tester's own, shown below; verdicts still "
                    "weigh cues by the published rates.\n");
    else
        tb_say(out,
               "%d answers are needed before reporting rates of this tester's own mean much; verdicts weigh "
               "cues by the published rates.\n",
               TB_DRILLS_ENOUGH);
    if (t->pairs > 0 && !isnan(t->doubled.agreement)) {
        char same[TB_PERCENT];

        tb_say(out,
               _n("%ld bolt was burned by somebody else too; of each cue both said the same in %s. ",
                  "%ld bolts were burned by somebody else too; of each cue both said the same in %s. ",
                  t->pairs),
               t->pairs, tb_percent(same, t->doubled.agreement));
        say_kappa(out, &t->doubled);
    }
    tb_practise_words(&practise, t);
    say_practise(out, tb_text_str(&practise));
    tb_text_free(&practise);
    if (t->answered > 0)
        say_confusion(out, d, t);
    say_cues(out, t);
}

/* Only where at least two swatches were answered by everybody; else nothing is said. */
static void say_together(FILE *out, const struct tb_fleiss *f, size_t swatches)
{
    const char *word;

    if (swatches == 0 || isnan(f->kappa))
        return;
    word = _(kappa_word(f->kappa));
    if (isnan(f->lo))
        tb_say(out,
               _n("On the %zu swatch that all of them answered: kappa %.2f (Fleiss), %s.\n",
                  "On the %zu swatches that all of them answered: kappa %.2f (Fleiss), %s.\n", swatches),
               swatches, f->kappa, word);
    else
        tb_say(out,
               _n("On the %zu swatch that all of them answered: kappa %.2f (Fleiss), between %.2f and %.2f "
                  "(95 %%), %s.\n",
                  "On the %zu swatches that all of them answered: kappa %.2f (Fleiss), between %.2f and %.2f "
                  "(95 %%), %s.\n",
                  swatches),
               swatches, f->kappa, f->lo, f->hi, word);
}

void drill_say_all(FILE *out, const struct tb_drill_scores *d)
{
    const char *const head[] = { _("TESTER"), _("ANSWERED"), _("RIGHT"), _("KAPPA"), _("BETWEEN") };
    struct tb_table table;

    tb_say(out, _n("%zu card was dealt, %zu answered.\n", "%zu cards were dealt, %zu answered.\n", d->dealt),
           d->dealt, d->answered);
    if (d->testers == 0)
        return;
    tb_table_head(&table, head, TB_COUNT(head));
    for (size_t i = 0; i < d->testers; i++) {
        const struct tb_drill_tester *t = &d->tester[i];

        tb_table_cell(&table, "%s", t->name);
        tb_table_cell(&table, "%ld", t->answered);
        tb_table_cell(&table, "%ld", t->right);
        tb_table_cell(&table, isnan(t->kappa.kappa) ? "-" : "%.2f", t->kappa.kappa);
        tb_table_cell(&table, t->kappa.error > 0 ? "%.2f .. %.2f" : "", t->kappa.lo, t->kappa.hi);
    }
    tb_table_print(&table, out, "lrrrl", 30);
    say_together(out, &d->together, d->swatches);
}
