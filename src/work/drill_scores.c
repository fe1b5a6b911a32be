/* How testers do: the answered cards read, each tester scored, all of them compared on the same swatches. */
#include "work/drill_score.h"
#include "work/model.h"

#include <stdlib.h>
#include <string.h>

#define SURE 0.95 /* of the interval for agreement */

/* Place of a word in a list, added at its end when it is new. */
static size_t place_of(const char **list, size_t *n, const char *word)
{
    for (size_t i = 0; i < *n; i++)
        if (strcmp(list[i], word) == 0)
            return i;
    list[*n] = word;
    return (*n)++;
}

/* The answered cards into `a`, the classes and the counts into `out`; testers by name, in order of first answer. */
static tb_rc read_answers(struct tb_drill_scores *out, struct tb_answers *a, const char **tester,
                          const struct tb_card *card, struct tb_book *b, struct tb_arena *mem,
                          struct tb_err *err)
{
    tb_rc rc = TB_OK;

    a->answered = tb_arena_alloc(mem, (out->dealt + 1) * sizeof *a->answered);
    out->class_key = tb_arena_alloc(mem, (2 * out->dealt + 1) * sizeof *out->class_key);
    for (size_t i = 0; i < out->dealt && rc == TB_OK; i++) {
        struct tb_answered *x = &a->answered[a->n];

        if (!card[i].answer)
            continue;
        x->card = &card[i];
        x->truth = place_of(out->class_key, &out->classes, tb_drill_class_of(card[i].known));
        x->named = place_of(out->class_key, &out->classes, card[i].answer);
        (void)place_of(tester, &out->testers, card[i].tester);
        rc = tb_burn_find(&x->burn, b, card[i].burn, mem, err);
        a->n++;
    }
    out->answered = a->n;
    a->classes = out->classes;
    a->class_key = out->class_key;
    return rc == TB_OK ? tb_burns_doubled(&a->pair, &a->pairs, b, mem, err) : rc;
}

/* The latest answer of a tester on a swatch; NULL when there is none. */
static const struct tb_answered *latest(const struct tb_answers *a, const char *tester, const char *swatch)
{
    for (size_t i = a->n; i-- > 0;)
        if (strcmp(a->answered[i].card->tester, tester) == 0 &&
            strcmp(a->answered[i].card->swatch, swatch) == 0)
            return &a->answered[i];
    return NULL;
}

/* Whether everybody answered the swatch; their answers are added to a row of counts, one a class. */
static bool count_row(double *row, const struct tb_answers *a, const char *const *tester, size_t testers,
                      const char *swatch)
{
    for (size_t k = 0; k < testers; k++)
        if (!latest(a, tester[k], swatch))
            return false;
    for (size_t k = 0; k < testers; k++)
        row[latest(a, tester[k], swatch)->named] += 1;
    return true;
}

static tb_rc together(struct tb_drill_scores *out, const struct tb_answers *a, const char *const *tester,
                      struct tb_err *err)
{
    /* rows are swatches; no more of them than answers */
    double *counts = tb_array(double, a->n *(a->classes + 1) + 1);
    const char **done = (const char **)tb_alloc(a->n + 1, sizeof *done);
    size_t n = 0, seen = 0;
    tb_rc rc = TB_OK;

    for (size_t i = 0; i < a->n && out->testers > 1; i++) {
        const char *swatch = a->answered[i].card->swatch;
        size_t before = seen;

        if (place_of(done, &seen, swatch) == before)
            n += count_row(&counts[n * a->classes], a, tester, out->testers, swatch);
    }
    /* on one swatch, or where everything is of one class, agreement cannot be told from chance */
    out->swatches = n >= 2 && a->classes > 1 ? n : 0;
    if (out->swatches)
        rc = tb_kappa_fleiss(&out->together, counts, n, a->classes, SURE, err);
    free(counts);
    free(done);
    return rc;
}

static tb_rc score(struct tb_drill_scores *out, const struct tb_answers *a, const char *const *tester,
                   const char *only, struct tb_book *b, struct tb_arena *mem, struct tb_err *err)
{
    tb_rc rc = TB_OK;

    out->testers = only ? 1 : out->testers;
    out->tester = tb_arena_alloc(mem, (out->testers + 1) * sizeof *out->tester);
    for (size_t i = 0; i < out->testers && rc == TB_OK; i++)
        rc = tb_drill_tester_score(&out->tester[i], a, only ? only : tester[i], b, mem, err);
    if (rc == TB_OK && only && out->tester[0].answered == 0 && out->tester[0].pairs == 0)
        return tb_fail(err, TB_ENOTFOUND,
                       "%s: no card answered yet, and no bolt burned that another burned too", only);
    return rc;
}

static tb_rc read_scores(struct tb_drill_scores *out, struct tb_book *b, const char *only,
                         struct tb_arena *mem, struct tb_err *err)
{
    struct tb_answers a = { 0 };
    struct tb_card *card = NULL;
    const char **tester;
    tb_rc rc;

    *out = (struct tb_drill_scores){ 0 };
    if ((rc = tb_bench_error_read(&out->bench_error, &out->drilled, b, TB_BOOK_NOW, mem, err)) != TB_OK ||
        (rc = tb_card_list(&card, &out->dealt, b, mem, err)) != TB_OK)
        return rc;
    tester = tb_arena_alloc(mem, (out->dealt + 1) * sizeof *tester);
    if ((rc = read_answers(out, &a, tester, card, b, mem, err)) != TB_OK ||
        (rc = together(out, &a, tester, err)) != TB_OK)
        return rc;
    return score(out, &a, tester, only, b, mem, err);
}

tb_rc tb_drill_scores_read(struct tb_drill_scores *out, struct tb_book *b, const char *only,
                           struct tb_arena *mem, struct tb_err *err)
{
    tb_rc rc = tb_book_look(b, err);

    if (rc == TB_OK)
        rc = read_scores(out, b, only, mem, err);
    tb_book_look_away(b);
    return rc;
}
