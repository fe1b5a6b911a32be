/* How testers do, in words: agreement, what to practise. */
#include "base/say.h"
#include "tenterbook/tell.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

const char *tb_card_words(char out[TB_CARD_NAME], const struct tb_drill_outcome *o, size_t i)
{
    (void)snprintf(out, TB_CARD_NAME, "%lld-%02zu", (long long)o->drill, i + 1);
    return out;
}

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
static void kappa_words(struct tb_text *out, const struct tb_kappa *k)
{
    if (isnan(k->kappa))
        tb_text_say(out, "Agreement beyond chance cannot be told: only one kind of answer was given.\n");
    else if (!(k->error > 0))
        tb_text_say(out,
                    "Agreement beyond chance: kappa %.2f, %s; answers that never vary leave no interval.\n",
                    k->kappa, _(kappa_word(k->kappa)));
    else
        tb_text_say(out, "Agreement beyond chance: kappa %.2f, between %.2f and %.2f (95 %%), %s.\n",
                    k->kappa, k->lo, k->hi, _(kappa_word(k->kappa)));
}

/* What was mistaken for what, then the cues that others saw on the same swatches. */
void tb_practise_words(struct tb_text *out, const struct tb_drill_tester *t)
{
    for (size_t i = 0; i < t->mistakes; i++) {
        const struct tb_drill_mistake *m = &t->mistake[i];

        tb_text_addf(out,
                     _n("%s was named %s %ld time of %ld: burn known swatches of both side by side",
                        "%s was named %s %ld times of %ld: burn known swatches of both side by side",
                        m->times),
                     m->was, m->named, m->times, m->of);
        tb_text_add(out, "\n");
    }
    for (size_t i = 0; i < t->cues; i++) {
        const struct tb_drill_cue *c = &t->cue[i];

        if (!c->missed)
            continue;
        tb_text_addf(
            out,
            _n("%s was reported %ld time of %ld, by others on the same swatches %ld of %ld: look for it",
               "%s was reported %ld times of %ld, by others on the same swatches %ld of %ld: look for it",
               c->seen),
            c->cue, c->seen, c->looked, c->others_seen, c->others_looked);
        tb_text_add(out, "\n");
    }
}

void tb_tester_words(struct tb_text *out, const struct tb_drill_tester *t)
{
    struct tb_text practise = { 0 };

    tb_text_addf(out,
                 _n("%s: %ld known swatch answered, %ld named right.\n",
                    "%s: %ld known swatches answered, %ld named right.\n", t->answered),
                 t->name, t->answered, t->right);
    if (t->answered > 0)
        kappa_words(out, &t->kappa);
    if (t->answered >= TB_DRILLS_ENOUGH)
        tb_text_say(out,
                    "Enough answers for reporting rates of this tester's own, shown below; verdicts still "
                    "weigh cues by the published rates.\n");
    else
        tb_text_say(
            out,
            "%d answers are needed before reporting rates of this tester's own mean much; verdicts weigh "
            "cues by the published rates.\n",
            TB_DRILLS_ENOUGH);
    if (t->pairs > 0 && !isnan(t->doubled.agreement)) {
        char same[TB_PERCENT];

        tb_text_addf(out,
                     _n("%ld bolt was burned by somebody else too; of each cue both said the same in %s. ",
                        "%ld bolts were burned by somebody else too; of each cue both said the same in %s. ",
                        t->pairs),
                     t->pairs, tb_percent(same, t->doubled.agreement));
        kappa_words(out, &t->doubled);
    }
    tb_practise_words(&practise, t);
    tb_text_say(out, practise.n ? N_("To practise:\n") : N_("Nothing stands out to practise.\n"));
    for (const char *p = tb_text_str(&practise); *p; p += strcspn(p, "\n") + 1)
        tb_text_addf(out, "- %.*s\n", (int)strcspn(p, "\n"), p);
    tb_text_free(&practise);
}

/* What a drill does to verdicts is said where testers see how they do. */
static void mistake_words(struct tb_text *out, const struct tb_drill_scores *d)
{
    if (d->drilled.burns)
        tb_text_say(
            out,
            "Burns that contradict the known cloth they were of: %ld of %ld. So a mistake at the bench is "
            "taken to happen in %.2g %% of burns (95 %%: %.2g to %.2g %%), and no verdict here rests on less "
            "doubt than that.\n",
            d->drilled.mistakes, d->drilled.burns, 100 * d->bench_error, 100 * d->drilled.lower,
            100 * d->drilled.upper);
}

void tb_testers_together_words(struct tb_text *out, const struct tb_drill_scores *d)
{
    const struct tb_fleiss *f = &d->together;
    size_t swatches = d->swatches;
    const char *word;

    mistake_words(out, d);
    if (swatches == 0 || isnan(f->kappa))
        return;
    word = _(kappa_word(f->kappa));
    if (isnan(f->lo))
        tb_text_addf(out,
                     _n("On the %zu swatch that all of them answered: kappa %.2f (Fleiss), %s.\n",
                        "On the %zu swatches that all of them answered: kappa %.2f (Fleiss), %s.\n",
                        swatches),
                     swatches, f->kappa, word);
    else
        tb_text_addf(
            out,
            _n("On the %zu swatch that all of them answered: kappa %.2f (Fleiss), between %.2f and %.2f "
               "(95 %%), %s.\n",
               "On the %zu swatches that all of them answered: kappa %.2f (Fleiss), between %.2f and %.2f "
               "(95 %%), %s.\n",
               swatches),
            swatches, f->kappa, f->lo, f->hi, word);
}
