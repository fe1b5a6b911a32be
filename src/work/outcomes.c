/* outcomes.c - how the lots of suppliers turned out, by what is concluded of them. */
#include "tenterbook/concluded.h"

#include "tenterbook/bench.h"
#include "tenterbook/draws.h"

#include <math.h>
#include <string.h>

enum tb_turned_out tb_outcome_of(const struct tb_concluded *c)
{
    return c->kind == TB_DOES_NOT ? TB_OUTCOME_WRONG
           : c->kind == TB_OPEN   ? TB_OUTCOME_OPEN
                                  : TB_OUTCOME_RIGHT;
}

struct walking {
    struct tb_book *book;
    struct tb_arena *mem;
    struct tb_lot_result *result;
    size_t n, cap;
    struct tb_supplier_tally *tally;
    size_t tallies;
};

/* A laboratory answered to words, part by part and market by market: all of that is read. Of the bench its word is enough here too. */
static tb_rc conclude_analysed(struct tb_concluded *out, const struct walking *w,
                               const struct tb_lot_word *word, struct tb_arena *mem, struct tb_err *err)
{
    const struct tb_lot_said said = { .lot = word->lot,
                                      .ref = word->ref,
                                      .said = word->said,
                                      .clear = word->clear,
                                      .verdict = word->verdict,
                                      .log_ratio = NAN,
                                      .analyses = word->analyses };

    return tb_said_concluded(out, w->book, &said, mem, err);
}

/*
 * What is concluded is let go of at once: a record has thousands of lots. Of the bench the word of its verdict is enough for it.
 */
static tb_rc outcome_of(enum tb_turned_out *out, const struct walking *w, const struct tb_lot_word *word,
                        struct tb_err *err)
{
    const struct tb_known known = { .said = word->said,
                                    .clear = word->clear,
                                    .verdict = { .kind = word->verdict, .log_ratio = NAN } };
    struct tb_arena passing = { 0 };
    struct tb_concluded c = { 0 };
    tb_rc rc = word->analyses ? conclude_analysed(&c, w, word, &passing, err)
                              : tb_conclude(&c, &known, &passing, err);

    *out = rc == TB_OK ? tb_outcome_of(&c) : TB_OUTCOME_OPEN;
    tb_arena_free(&passing);
    return rc;
}

static tb_rc add_result(void *arg, const struct tb_lot_word *word, struct tb_err *err)
{
    struct walking *w = arg;
    enum tb_turned_out outcome;
    tb_rc rc = outcome_of(&outcome, w, word, err);

    if (rc != TB_OK)
        return rc;
    TB_ARENA_ROOM(w->mem, w->result, w->n, w->cap);
    w->result[w->n++] = (struct tb_lot_result){ tb_arena_strdup(w->mem, word->ref),
                                                tb_arena_strdup(w->mem, word->arrived), outcome };
    return TB_OK;
}

tb_rc tb_supplier_lots(struct tb_lot_result **out, size_t *n, struct tb_book *b, const char *supplier_id,
                       struct tb_arena *mem, struct tb_err *err)
{
    struct walking w = { .book = b, .mem = mem };
    tb_rc rc = tb_lot_word_each(b, supplier_id, add_result, &w, err);

    *out = w.result;
    *n = w.n;
    return rc;
}

/* A site has some dozens of suppliers. */
static tb_rc count(void *arg, const struct tb_lot_word *word, struct tb_err *err)
{
    struct walking *w = arg;
    enum tb_turned_out outcome;
    tb_rc rc = outcome_of(&outcome, w, word, err);

    for (size_t i = 0; i < w->tallies && rc == TB_OK; i++)
        if (strcmp(w->tally[i].supplier, word->supplier) == 0) {
            w->tally[i].right_lots += outcome == TB_OUTCOME_RIGHT ? word->lots : 0;
            w->tally[i].wrong_lots += outcome == TB_OUTCOME_WRONG ? word->lots : 0;
        }
    return rc;
}

tb_rc tb_supplier_tallies(struct tb_supplier_tally **out, size_t *n, struct tb_book *b, struct tb_arena *mem,
                          struct tb_err *err)
{
    struct walking w = { .book = b, .mem = mem };
    tb_rc rc = tb_suppliers_known(&w.tally, &w.tallies, b, mem, err);

    if (rc == TB_OK)
        rc = tb_lot_word_alike(b, count, &w, err);
    *out = w.tally;
    *n = w.tallies;
    return rc;
}
