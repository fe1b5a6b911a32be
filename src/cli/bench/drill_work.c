/* Answered cards into confusion, agreement and what to practise. */
#include "cli/bench/drill.h"
#include "tenterbook/evidence.h"
#include "tenterbook/fibre.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

const char *drill_class_of(const char *known)
{
    struct tb_declaration d;
    const char *class_key = NULL;

    tb_declaration_read(&d, known, strlen(known));
    for (size_t i = 0; i < d.comp.n; i++)
        for (size_t k = 0; k < d.comp.part[i].n; k++) {
            int fibre = d.comp.part[i].share[k].fibre;
            const char *here = fibre >= 0 ? tb_fibre_at(fibre)->burn_class : DRILL_MIXED;

            class_key = !class_key || strcmp(class_key, here) == 0 ? here : DRILL_MIXED;
        }
    tb_declaration_free(&d);
    return class_key ? class_key : DRILL_MIXED;
}

const char *drill_answer_key(const char *word)
{
    if (strcmp(word, DRILL_MIXED) == 0)
        return DRILL_MIXED;
    if (strcmp(word, DRILL_UNKNOWN) == 0)
        return DRILL_UNKNOWN;
    for (size_t i = 0; i < tb_fibre_count(); i++)
        if (strcmp(tb_fibre_at((int)i)->burn_class, word) == 0 || strcmp(tb_fibre_at((int)i)->key, word) == 0)
            return tb_fibre_at((int)i)->burn_class;
    return NULL;
}

/* Position of a word in a list, added at the end when it is new. */
static size_t place_of(const char **list, size_t *n, const char *word)
{
    for (size_t i = 0; i < *n; i++)
        if (strcmp(list[i], word) == 0)
            return i;
    list[*n] = word;
    return (*n)++;
}

tb_rc drills_read(struct drills *d, struct tb_ctx *ctx, struct tb_err *err)
{
    struct tb_card *card = NULL;
    size_t n = 0;
    tb_rc rc = tb_ctx_book(ctx, err);

    if (rc == TB_OK)
        rc = tb_card_list(&card, &n, ctx->book, &d->mem, err);
    if (rc != TB_OK)
        return rc;
    d->dealt = n;
    d->answered = tb_arena_alloc(&d->mem, (n + 1) * sizeof *d->answered);
    d->class_key = tb_arena_alloc(&d->mem, (2 * n + 2) * sizeof *d->class_key);
    d->tester = tb_arena_alloc(&d->mem, (n + 1) * sizeof *d->tester);
    for (size_t i = 0; i < n && rc == TB_OK; i++) {
        struct drill_answered *a = &d->answered[d->n];

        if (!card[i].answer)
            continue;
        a->card = &card[i];
        a->truth = drill_class_of(card[i].known);
        (void)place_of(d->class_key, &d->classes, a->truth);
        (void)place_of(d->class_key, &d->classes, card[i].answer);
        (void)place_of(d->tester, &d->testers, card[i].tester);
        rc = tb_burn_find(&a->burn, ctx->book, card[i].burn, &d->mem, err);
        d->n++;
    }
    return rc;
}

void drills_free(struct drills *d)
{
    tb_arena_free(&d->mem);
}

static bool looked_at(const struct tb_burn *b, const char *cue)
{
    size_t n = strcspn(cue, ":");

    for (const char *s = b->looked; s && *s; s += strspn(s, " ")) {
        size_t word = strcspn(s, " ");

        if (word == n && strncmp(s, cue, n) == 0)
            return true;
        s += word;
    }
    return false;
}

static bool saw(const struct tb_burn *b, const char *cue)
{
    for (size_t i = 0; i < b->cues; i++)
        if (b->cue[i].seen && strcmp(b->cue[i].cue, cue) == 0)
            return true;
    return false;
}

static void confusion(struct drill_tester *t, struct drills *d)
{
    t->confusion = tb_arena_alloc(&d->mem, (d->classes * d->classes + 1) * sizeof *t->confusion);
    for (size_t i = 0; i < d->n; i++) {
        const struct drill_answered *a = &d->answered[i];
        size_t truth, named;

        if (strcmp(a->card->tester, t->name) != 0)
            continue;
        truth = place_of(d->class_key, &d->classes, a->truth);
        named = place_of(d->class_key, &d->classes, a->card->answer);
        t->confusion[truth * d->classes + named] += 1;
        t->answered++;
        t->right += truth == named;
    }
}

/* Whether this tester was dealt the swatch and answered. */
static bool burned_too(const struct drills *d, const char *tester, const char *swatch)
{
    for (size_t i = 0; i < d->n; i++)
        if (strcmp(d->answered[i].card->tester, tester) == 0 &&
            strcmp(d->answered[i].card->swatch, swatch) == 0)
            return true;
    return false;
}

static void cue_rates(struct drill_tester *t, struct drills *d)
{
    size_t n = tb_cue_count();
    bool *same = tb_arena_alloc(&d->mem, d->n + 1); /* answers of others on swatches this tester had too */

    for (size_t i = 0; i < d->n; i++)
        same[i] = strcmp(d->answered[i].card->tester, t->name) != 0 &&
                  burned_too(d, t->name, d->answered[i].card->swatch);
    t->cue = tb_arena_alloc(&d->mem, n * sizeof *t->cue);
    for (size_t c = 0; c < n; c++) {
        struct drill_cue r = { 0 };
        struct tb_cue cue;

        tb_cue_at(&cue, (int)c);
        r.cue = cue.key;
        for (size_t i = 0; i < d->n; i++) {
            const struct drill_answered *a = &d->answered[i];

            if (!looked_at(&a->burn, r.cue))
                continue;
            if (strcmp(a->card->tester, t->name) == 0) {
                r.looked++;
                r.seen += saw(&a->burn, r.cue);
            } else if (same[i]) {
                r.others_looked++;
                r.others_seen += saw(&a->burn, r.cue);
            }
        }
        if (r.seen + r.others_seen > 0)
            t->cue[t->cues++] = r;
    }
}

static void say_practise(struct drill_tester *t, struct drills *d, const struct tb_text *s)
{
    t->practise[t->n_practise++] = tb_arena_strdup(&d->mem, tb_text_str(s));
}

/* Classes taken for another one, the most frequent mistake of each; then cues others report and this one does not. */
static void practise(struct drill_tester *t, struct drills *d)
{
    struct tb_text s = { 0 };

    t->practise = tb_arena_alloc(&d->mem, (d->classes + t->cues + 1) * sizeof *t->practise);
    for (size_t i = 0; i < d->classes; i++) {
        double all = 0, most = 0;
        size_t taken = i;

        for (size_t j = 0; j < d->classes; j++) {
            all += t->confusion[i * d->classes + j];
            if (j != i && t->confusion[i * d->classes + j] > most) {
                most = t->confusion[i * d->classes + j];
                taken = j;
            }
        }
        if (taken == i)
            continue;
        tb_text_clear(&s);
        tb_text_addf(&s, _("%s was named %s %.0f times of %.0f: burn known swatches of both side by side"),
                     d->class_key[i], d->class_key[taken], most, all);
        say_practise(t, d, &s);
    }
    for (size_t i = 0; i < t->cues; i++) {
        const struct drill_cue *c = &t->cue[i];
        double mine = c->looked ? (double)c->seen / (double)c->looked : 0, p;
        struct tb_err err = { 0 };

        /* as rarely as this by chance less than once in twenty, were the rate that of the others */
        if (c->looked < 5 || c->others_looked < 5 ||
            mine * (double)c->others_looked >= (double)c->others_seen ||
            tb_binomial_p(NULL, &p, NULL, c->seen, c->looked,
                          (double)c->others_seen / (double)c->others_looked, &err) != TB_OK ||
            p > 0.05)
            continue;
        tb_text_clear(&s);
        tb_text_addf(
            &s,
            _n("%s was reported %ld time of %ld, by others on the same swatches %ld of %ld: look for it",
               "%s was reported %ld times of %ld, by others on the same swatches %ld of %ld: look for it",
               c->seen),
            c->cue, c->seen, c->looked, c->others_seen, c->others_looked);
        say_practise(t, d, &s);
    }
    tb_text_free(&s);
}

/* Both said of every cue of a channel both looked at whether they saw it. */
static tb_rc doubled(struct drill_tester *t, struct drills *d, struct tb_ctx *ctx, struct tb_err *err)
{
    struct tb_doubled *pair = NULL;
    size_t n = 0;
    double table[4] = { 0 };
    tb_rc rc = tb_burns_doubled(&pair, &n, ctx->book, &d->mem, err);

    for (size_t i = 0; i < n && rc == TB_OK; i++) {
        struct tb_burn a, b;

        if (strcmp(pair[i].who_a, t->name) != 0 && strcmp(pair[i].who_b, t->name) != 0)
            continue;
        t->pairs++;
        if ((rc = tb_burn_find(&a, ctx->book, pair[i].burn_a, &d->mem, err)) != TB_OK ||
            (rc = tb_burn_find(&b, ctx->book, pair[i].burn_b, &d->mem, err)) != TB_OK)
            break;
        for (size_t c = 0; c < tb_cue_count(); c++) {
            struct tb_cue cue;

            tb_cue_at(&cue, (int)c);
            if (looked_at(&a, cue.key) && looked_at(&b, cue.key))
                table[2 * !saw(&a, cue.key) + !saw(&b, cue.key)] += 1;
        }
    }
    if (rc == TB_OK && table[0] + table[1] + table[2] + table[3] > 0)
        rc = tb_kappa_cohen(&t->doubled, table, 2, TB_WEIGHTS_NONE, 0.95, err);
    return rc;
}

tb_rc drill_tester_work_out(struct drill_tester *t, struct drills *d, const char *name, struct tb_ctx *ctx,
                            struct tb_err *err)
{
    static const struct tb_kappa nothing = { NAN, NAN, NAN, NAN, NAN, NAN, NAN, NAN };
    tb_rc rc = TB_OK;

    *t = (struct drill_tester){ .name = name, .kappa = nothing, .doubled = nothing };
    confusion(t, d);
    cue_rates(t, d);
    practise(t, d);
    if (t->answered > 0 && d->classes > 1)
        rc = tb_kappa_cohen(&t->kappa, t->confusion, d->classes, TB_WEIGHTS_NONE, 0.95, err);
    return rc == TB_OK ? doubled(t, d, ctx, err) : rc;
}

/* The latest answer of a tester on a swatch; NULL when there is none. */
static const struct drill_answered *latest(const struct drills *d, const char *tester, const char *swatch)
{
    for (size_t i = d->n; i-- > 0;)
        if (strcmp(d->answered[i].card->tester, tester) == 0 &&
            strcmp(d->answered[i].card->swatch, swatch) == 0)
            return &d->answered[i];
    return NULL;
}

tb_rc drills_together(struct tb_fleiss *out, size_t *swatches, struct drills *d, struct tb_err *err)
{
    double *counts = tb_array(double, d->n *(d->classes + 1) + 1);
    const char **done = (const char **)tb_alloc(d->n + 1, sizeof *done);
    size_t n = 0, seen = 0;
    tb_rc rc = TB_OK;

    for (size_t i = 0; i < d->n && d->testers > 1; i++) {
        const char *swatch = d->answered[i].card->swatch;
        size_t before = seen, all = 0;

        if (place_of(done, &seen, swatch) < before)
            continue;
        for (size_t k = 0; k < d->testers; k++)
            all += latest(d, d->tester[k], swatch) != NULL;
        for (size_t k = 0; k < d->testers && all == d->testers; k++)
            counts[n * d->classes +
                   place_of(d->class_key, &d->classes, latest(d, d->tester[k], swatch)->card->answer)] += 1;
        n += all == d->testers;
    }
    *swatches = n >= 2 && d->classes > 1 ? n : 0;
    if (*swatches)
        rc = tb_kappa_fleiss(out, counts, n, d->classes, 0.95, err);
    free(counts);
    free(done);
    return rc;
}
