/* Swatches, burns with their cues, and bench tests. */
#include "book/db.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static void take_swatch(struct tb_swatch *s, struct tb_stmt *q, struct tb_arena *mem)
{
    const char **field[] = { &s->id,   &s->tag,    &s->lot,    &s->bolt,    &s->part,       &s->known,
                             &s->kept, &s->cut_at, &s->cut_by, &s->lot_ref, &s->bolt_number };

    for (int i = 0; i < (int)TB_COUNT(field); i++)
        *field[i] = tb_col_text(q, i, mem);
}

tb_rc tb_swatch_find(struct tb_swatch *out, struct tb_book *b, const char *tag, struct tb_arena *mem,
                     struct tb_err *err)
{
    struct tb_stmt *q = tb_query(b, TB_SQL_SWATCH_BY_TAG);
    tb_rc rc;

    tb_bind_text(q, 1, tag);
    rc = tb_row(q, err);
    if (rc == TB_OK)
        take_swatch(out, q, mem);
    tb_done(q);
    return rc == TB_ENOTFOUND ? tb_fail(err, rc, "there is no swatch %s in this book", tag) : rc;
}

tb_rc tb_swatch_list(struct tb_swatch **out, size_t *n, struct tb_book *b, const char *lot_id,
                     struct tb_arena *mem, struct tb_err *err)
{
    struct tb_stmt *q = tb_query(b, TB_SQL_SWATCH_OF_LOT);
    tb_rc rc;

    tb_bind_text(q, 1, lot_id);
    TB_LIST(rc, out, n, q, struct tb_swatch, take_swatch, mem, err);
    return rc;
}

/* W26-014.02.03 for the third swatch of lot W26-014.02; W-K03 for the third known cloth of site W. */
static tb_rc next_tag(struct tb_swatch *s, int64_t *serial, struct tb_book *b, struct tb_arena *mem,
                      struct tb_err *err)
{
    struct tb_stmt *q = tb_query(b, TB_SQL_SWATCH_LAST_SERIAL);
    char tag[64];
    tb_rc rc;

    *serial = 0;
    tb_bind_text(q, 1, s->lot);
    rc = tb_ask_whole(serial, q, err);
    if (rc != TB_OK && rc != TB_ENOTFOUND)
        return rc;
    ++*serial;
    if (s->lot)
        (void)snprintf(tag, sizeof tag, "%s.%02lld", s->lot_ref, (long long)*serial);
    else
        (void)snprintf(tag, sizeof tag, "%s-K%02lld", tb_book_site(b)->code, (long long)*serial);
    s->tag = tb_arena_strdup(mem, tag);
    return TB_OK;
}

tb_rc tb_swatch_add(struct tb_swatch *s, struct tb_book *b, struct tb_arena *mem, struct tb_err *err)
{
    char id[TB_ID_LEN + 1];
    struct tb_stmt *q;
    int64_t serial;
    tb_rc rc;

    if (s->cut_at && !tb_moment_valid(s->cut_at))
        return tb_fail(err, TB_EINVAL, "the moment of cutting '%s' is none (YYYY-MM-DDThh:mm:ssZ)",
                       s->cut_at);
    if ((rc = next_tag(s, &serial, b, mem, err)) != TB_OK)
        return rc;
    tb_id_make(id);
    s->id = tb_arena_strdup(mem, id);
    s->cut_at = s->cut_at ? s->cut_at : tb_arena_strdup(mem, tb_book_now(b));
    q = tb_query(b, TB_SQL_SWATCH_ADD);
    tb_bind_text(q, 1, s->id);
    tb_bind_text(q, 2, s->tag);
    tb_bind_text(q, 3, s->lot);
    tb_bind_text(q, 4, s->bolt);
    tb_bind_whole(q, 5, serial);
    tb_bind_text(q, 6, s->part);
    tb_bind_text(q, 7, s->known ? s->known : "");
    tb_bind_text(q, 8, s->kept ? s->kept : "");
    tb_bind_text(q, 9, s->cut_at);
    tb_bind_text(q, 10, tb_book_person(b));
    tb_bind_whole(q, 11, tb_entry(b));
    return tb_run(q, err);
}

static void take_burn(struct tb_burn *u, struct tb_stmt *q, struct tb_arena *mem)
{
    const char **field[] = { &u->id,        &u->swatch,      &u->looked,  &u->burned_at,
                             &u->burned_by, &u->recorded_at, &u->flame,   &u->note,
                             &u->replaces,  &u->at_hand,     &u->dead_at, &u->tag,
                             &u->part,      &u->bolt_number, &u->known,   &u->lot };

    for (int i = 0; i < (int)TB_COUNT(field); i++)
        *field[i] = tb_col_text(q, i, mem);
    u->sample_mm = tb_col_number(q, (int)TB_COUNT(field));
}

static void take_cue(struct tb_cue_seen *c, struct tb_stmt *q, struct tb_arena *mem)
{
    c->cue = tb_col_text(q, 0, mem);
    c->seen = tb_col_whole(q, 1) != 0;
}

static tb_rc load_cues(struct tb_burn *u, struct tb_book *b, struct tb_arena *mem, struct tb_err *err)
{
    struct tb_stmt *q = tb_query(b, TB_SQL_CUE_SEEN_OF_BURN);
    tb_rc rc;

    tb_bind_text(q, 1, u->id);
    TB_LIST(rc, &u->cue, &u->cues, q, struct tb_cue_seen, take_cue, mem, err);
    return rc;
}

tb_rc tb_burn_list_upto(struct tb_burn **out, size_t *n, struct tb_book *b, const char *lot_id, int64_t upto,
                        struct tb_arena *mem, struct tb_err *err)
{
    struct tb_stmt *q = tb_query(b, TB_SQL_BURN_OF_LOT);
    tb_rc rc;

    tb_bind_text(q, 1, lot_id);
    tb_bind_whole(q, 2, upto);
    TB_LIST(rc, out, n, q, struct tb_burn, take_burn, mem, err);
    for (size_t i = 0; rc == TB_OK && i < *n; i++)
        rc = load_cues(&(*out)[i], b, mem, err);
    return rc;
}

tb_rc tb_burn_list(struct tb_burn **out, size_t *n, struct tb_book *b, const char *lot_id,
                   struct tb_arena *mem, struct tb_err *err)
{
    return tb_burn_list_upto(out, n, b, lot_id, TB_BOOK_NOW, mem, err);
}

tb_rc tb_burn_find(struct tb_burn *out, struct tb_book *b, const char *id, struct tb_arena *mem,
                   struct tb_err *err)
{
    struct tb_stmt *q = tb_query(b, TB_SQL_BURN_BY_ID);
    tb_rc rc;

    tb_bind_text(q, 1, id);
    rc = tb_row(q, err);
    if (rc == TB_OK)
        take_burn(out, q, mem);
    tb_done(q);
    if (rc == TB_ENOTFOUND)
        return tb_fail(err, rc, "there is no burn %s in this book", id);
    return rc == TB_OK ? load_cues(out, b, mem, err) : rc;
}

tb_rc tb_burn_count_at(int64_t *out, struct tb_book *b, const char *bolt_id, const char *part,
                       const char *burned_at, struct tb_err *err)
{
    struct tb_stmt *q = tb_query(b, TB_SQL_BURN_AT);

    tb_bind_text(q, 1, bolt_id);
    tb_bind_text(q, 2, part);
    tb_bind_text(q, 3, burned_at);
    return tb_ask_whole(out, q, err);
}

/* A correction corrects a burn of the same swatch, once: the next correction corrects the correction. */
static tb_rc check_replaced(const struct tb_burn *u, struct tb_book *b, struct tb_arena *mem,
                            struct tb_err *err)
{
    struct tb_stmt *q;
    struct tb_burn old = { 0 };
    int64_t n = 0;
    tb_rc rc;

    if (!u->replaces)
        return TB_OK;
    if ((rc = tb_burn_find(&old, b, u->replaces, mem, err)) != TB_OK)
        return rc;
    if (strcmp(old.swatch, u->swatch) != 0)
        return tb_fail(err, TB_EINVAL, "burn %s is of swatch %s; a correction stays with its swatch",
                       u->replaces, old.tag);
    q = tb_query(b, TB_SQL_BURN_IS_CORRECTED);
    tb_bind_text(q, 1, u->replaces);
    if ((rc = tb_ask_whole(&n, q, err)) != TB_OK)
        return rc;
    return n == 0 ? TB_OK
                  : tb_fail(err, TB_EINVAL, "burn %s was corrected already; correct the later record",
                            u->replaces);
}

static tb_rc add_cue(struct tb_book *b, const char *burn, const struct tb_cue_seen *cue, struct tb_err *err)
{
    struct tb_stmt *q = tb_query(b, TB_SQL_CUE_SEEN_ADD);
    char id[TB_ID_LEN + 1];

    tb_id_make(id);
    tb_bind_text(q, 1, id);
    tb_bind_text(q, 2, burn);
    tb_bind_text(q, 3, cue->cue);
    tb_bind_whole(q, 4, cue->seen);
    tb_bind_whole(q, 5, tb_entry(b));
    return tb_run(q, err);
}

tb_rc tb_burn_add(struct tb_burn *u, struct tb_book *b, struct tb_arena *mem, struct tb_err *err)
{
    char id[TB_ID_LEN + 1];
    struct tb_stmt *q;
    tb_rc rc = check_replaced(u, b, mem, err);

    if (rc != TB_OK)
        return rc;
    if (u->burned_at && !tb_moment_valid(u->burned_at))
        return tb_fail(err, TB_EINVAL, "the moment of the burn '%s' is none (YYYY-MM-DDThh:mm:ssZ)",
                       u->burned_at);
    if (u->dead_at && !tb_moment_valid(u->dead_at))
        return tb_fail(err, TB_EINVAL, "the moment the residue was dead '%s' is none (YYYY-MM-DDThh:mm:ssZ)",
                       u->dead_at);
    tb_id_make(id);
    u->id = tb_arena_strdup(mem, id);
    u->recorded_at = tb_arena_strdup(mem, tb_book_now(b));
    u->burned_at = u->burned_at ? u->burned_at : u->recorded_at;
    q = tb_query(b, TB_SQL_BURN_ADD);
    tb_bind_text(q, 1, u->id);
    tb_bind_text(q, 2, u->swatch);
    tb_bind_text(q, 3, u->looked);
    tb_bind_text(q, 4, u->burned_at);
    tb_bind_text(q, 5, tb_book_person(b));
    tb_bind_text(q, 6, u->recorded_at);
    tb_bind_text(q, 7, u->flame ? u->flame : "");
    tb_bind_number(q, 8, u->sample_mm);
    tb_bind_text(q, 9, u->at_hand ? u->at_hand : "");
    tb_bind_text(q, 10, u->dead_at);
    tb_bind_text(q, 11, u->note ? u->note : "");
    tb_bind_text(q, 12, u->replaces);
    tb_bind_whole(q, 13, tb_entry(b));
    rc = tb_run(q, err);
    for (size_t i = 0; rc == TB_OK && i < u->cues; i++)
        rc = add_cue(b, u->id, &u->cue[i], err);
    return rc;
}

/* As for burns: a correction stays with its swatch, and a record is corrected once. */
static tb_rc check_test_replaced(const struct tb_bench_test *t, struct tb_book *b, struct tb_arena *mem,
                                 struct tb_err *err)
{
    struct tb_stmt *q;
    const char *swatch = NULL, *tag = NULL;
    int64_t corrections = 0;
    tb_rc rc;

    if (!t->replaces)
        return TB_OK;
    q = tb_query(b, TB_SQL_BENCH_TEST_REPLACED);
    tb_bind_text(q, 1, t->replaces);
    rc = tb_row(q, err);
    if (rc == TB_OK) {
        swatch = tb_col_text(q, 0, mem);
        tag = tb_col_text(q, 1, mem);
        corrections = tb_col_whole(q, 2);
    }
    tb_done(q);
    if (rc == TB_ENOTFOUND)
        return tb_fail(err, rc, "there is no test %s in this book", t->replaces);
    if (rc == TB_OK && strcmp(swatch, t->swatch) != 0)
        return tb_fail(err, TB_EINVAL, "test %s is of swatch %s; a correction stays with its swatch",
                       t->replaces, tag);
    if (rc == TB_OK && corrections > 0)
        return tb_fail(err, TB_EINVAL, "test %s was corrected already; correct the later record",
                       t->replaces);
    return rc;
}

tb_rc tb_bench_test_add(struct tb_bench_test *t, struct tb_book *b, struct tb_arena *mem, struct tb_err *err)
{
    struct tb_stmt *q;
    char id[TB_ID_LEN + 1];
    tb_rc rc = check_test_replaced(t, b, mem, err);

    if (rc != TB_OK)
        return rc;
    if (t->tested_at && !tb_moment_valid(t->tested_at))
        return tb_fail(err, TB_EINVAL, "the moment of the test '%s' is none (YYYY-MM-DDThh:mm:ssZ)",
                       t->tested_at);
    tb_id_make(id);
    t->id = tb_arena_strdup(mem, id);
    t->tested_at = t->tested_at ? t->tested_at : tb_arena_strdup(mem, tb_book_now(b));
    q = tb_query(b, TB_SQL_BENCH_TEST_ADD);
    tb_bind_text(q, 1, t->id);
    tb_bind_text(q, 2, t->swatch);
    tb_bind_text(q, 3, t->test);
    tb_bind_text(q, 4, t->result);
    tb_bind_text(q, 5, t->tested_at);
    tb_bind_text(q, 6, tb_book_person(b));
    tb_bind_text(q, 7, t->note ? t->note : "");
    tb_bind_text(q, 8, t->replaces);
    tb_bind_whole(q, 9, tb_entry(b));
    return tb_run(q, err);
}

static void take_test(struct tb_bench_test *t, struct tb_stmt *q, struct tb_arena *mem)
{
    const char **field[] = { &t->id,        &t->swatch, &t->test,     &t->result, &t->tested_at,
                             &t->tested_by, &t->note,   &t->replaces, &t->tag,    &t->part };

    for (int i = 0; i < (int)TB_COUNT(field); i++)
        *field[i] = tb_col_text(q, i, mem);
}

tb_rc tb_bench_test_list_upto(struct tb_bench_test **out, size_t *n, struct tb_book *b, const char *lot_id,
                              int64_t upto, struct tb_arena *mem, struct tb_err *err)
{
    struct tb_stmt *q = tb_query(b, TB_SQL_BENCH_TEST_OF_LOT);
    tb_rc rc;

    tb_bind_text(q, 1, lot_id);
    tb_bind_whole(q, 2, upto);
    TB_LIST(rc, out, n, q, struct tb_bench_test, take_test, mem, err);
    return rc;
}

tb_rc tb_bench_test_list(struct tb_bench_test **out, size_t *n, struct tb_book *b, const char *lot_id,
                         struct tb_arena *mem, struct tb_err *err)
{
    return tb_bench_test_list_upto(out, n, b, lot_id, TB_BOOK_NOW, mem, err);
}
