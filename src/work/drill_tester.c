/* One tester's scores: what was named right, which cues are reported, how burns of real bolts agree with others'. */
#include "work/drill_score.h"

#include <math.h>
#include <string.h>

/* A cue is told as missed when both sides looked this often, and so few reports come by chance this rarely. */
#define LOOKS_LEAST 5
#define MISSED_BELOW 0.05
#define SURE 0.95 /* of the intervals for agreement */

/* Whether the channel of a cue, "smoke" of "smoke:black", is among those a burn looked at. */
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

static bool is_of(const struct tb_answered *x, const char *tester)
{
    return strcmp(x->card->tester, tester) == 0;
}

/* Rows what it was, columns what it was named. */
static void confusion(struct tb_drill_tester *t, const struct tb_answers *a, struct tb_arena *mem)
{
    t->confusion = tb_arena_alloc(mem, (a->classes * a->classes + 1) * sizeof *t->confusion);
    for (size_t i = 0; i < a->n; i++) {
        const struct tb_answered *x = &a->answered[i];

        if (!is_of(x, t->name))
            continue;
        t->confusion[x->truth * a->classes + x->named] += 1;
        t->answered++;
        t->right += x->truth == x->named;
    }
}

/* Whether this tester was dealt the swatch and answered. */
static bool burned_too(const struct tb_answers *a, const char *tester, const char *swatch)
{
    for (size_t i = 0; i < a->n; i++)
        if (is_of(&a->answered[i], tester) && strcmp(a->answered[i].card->swatch, swatch) == 0)
            return true;
    return false;
}

/* Whether so few reports come by chance less than once in twenty, were the rate that of the others. */
static bool is_missed(const struct tb_drill_cue *c)
{
    struct tb_err err = { 0 };
    double mine, p;

    if (c->looked < LOOKS_LEAST || c->others_looked < LOOKS_LEAST)
        return false;
    mine = (double)c->seen / (double)c->looked;
    return mine * (double)c->others_looked < (double)c->others_seen &&
           tb_binomial_p(NULL, &p, NULL, c->seen, c->looked,
                         (double)c->others_seen / (double)c->others_looked, &err) == TB_OK &&
           p <= MISSED_BELOW;
}

/* same[i]: answer i is of somebody else, on a swatch this tester had too. */
static void cue_rates(struct tb_drill_tester *t, const struct tb_answers *a, struct tb_arena *mem)
{
    size_t n = tb_cue_count();
    bool *same = tb_arena_alloc(mem, a->n + 1);

    for (size_t i = 0; i < a->n; i++)
        same[i] = !is_of(&a->answered[i], t->name) && burned_too(a, t->name, a->answered[i].card->swatch);
    t->cue = tb_arena_alloc(mem, n * sizeof *t->cue);
    for (size_t c = 0; c < n; c++) {
        struct tb_drill_cue r = { 0 };
        struct tb_cue cue;

        tb_cue_at(&cue, (int)c);
        r.cue = cue.key;
        for (size_t i = 0; i < a->n; i++) {
            const struct tb_answered *x = &a->answered[i];

            if (!looked_at(&x->burn, r.cue))
                continue;
            if (is_of(x, t->name)) {
                r.looked++;
                r.seen += saw(&x->burn, r.cue);
            } else if (same[i]) {
                r.others_looked++;
                r.others_seen += saw(&x->burn, r.cue);
            }
        }
        r.missed = is_missed(&r);
        if (r.seen + r.others_seen > 0)
            t->cue[t->cues++] = r;
    }
}

/* The most frequent mistake of each class. */
static void mistakes(struct tb_drill_tester *t, const struct tb_answers *a, struct tb_arena *mem)
{
    t->mistake = tb_arena_alloc(mem, (a->classes + 1) * sizeof *t->mistake);
    for (size_t i = 0; i < a->classes; i++) {
        const double *row = &t->confusion[i * a->classes];
        double all = 0, most = 0;
        size_t taken = i;

        for (size_t j = 0; j < a->classes; j++) {
            all += row[j];
            if (j != i && row[j] > most) {
                most = row[j];
                taken = j;
            }
        }
        if (taken != i)
            t->mistake[t->mistakes++] =
                (struct tb_drill_mistake){ a->class_key[i], a->class_key[taken], lround(most), lround(all) };
    }
}

/* Both said of every cue of a channel both looked at whether they saw it: two by two, in the order of the burns. */
static tb_rc doubled(struct tb_drill_tester *t, const struct tb_answers *a, struct tb_book *book,
                     struct tb_arena *mem, struct tb_err *err)
{
    double table[4] = { 0 };
    tb_rc rc = TB_OK;

    for (size_t i = 0; i < a->pairs && rc == TB_OK; i++) {
        const struct tb_doubled *pair = &a->pair[i];
        struct tb_burn x, y;

        if (strcmp(pair->who_a, t->name) != 0 && strcmp(pair->who_b, t->name) != 0)
            continue;
        t->pairs++;
        if ((rc = tb_burn_find(&x, book, pair->burn_a, mem, err)) != TB_OK ||
            (rc = tb_burn_find(&y, book, pair->burn_b, mem, err)) != TB_OK)
            break;
        for (size_t c = 0; c < tb_cue_count(); c++) {
            struct tb_cue cue;

            tb_cue_at(&cue, (int)c);
            if (looked_at(&x, cue.key) && looked_at(&y, cue.key))
                table[2 * !saw(&x, cue.key) + !saw(&y, cue.key)] += 1;
        }
    }
    if (rc == TB_OK && table[0] + table[1] + table[2] + table[3] > 0)
        rc = tb_kappa_cohen(&t->doubled, table, 2, SURE, err);
    return rc;
}

tb_rc tb_drill_tester_score(struct tb_drill_tester *t, const struct tb_answers *a, const char *name,
                            struct tb_book *b, struct tb_arena *mem, struct tb_err *err)
{
    /* nothing answered is not the same as an agreement of zero */
    static const struct tb_kappa nothing = { NAN, NAN, NAN, NAN, NAN, NAN, NAN, NAN };
    tb_rc rc = TB_OK;

    *t = (struct tb_drill_tester){ .name = name, .kappa = nothing, .doubled = nothing };
    confusion(t, a, mem);
    cue_rates(t, a, mem);
    mistakes(t, a, mem);
    if (t->answered > 0 && a->classes > 1)
        rc = tb_kappa_cohen(&t->kappa, t->confusion, a->classes, SURE, err);
    return rc == TB_OK ? doubled(t, a, b, mem, err) : rc;
}
