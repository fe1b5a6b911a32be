/* Draws of bolts. */
#include "book/db.h"
#include "tenterbook/draws.h"

#include <stdlib.h>
#include <string.h>

static tb_rc add_bolt(struct tb_book *b, const char *draw_id, const char *bolt_id, struct tb_err *err)
{
    struct tb_stmt *q = tb_query(b, TB_SQL_DRAW_BOLT_ADD);
    char id[TB_ID_LEN + 1];

    tb_id_make(id);
    tb_bind_text(q, 1, id);
    tb_bind_text(q, 2, draw_id);
    tb_bind_text(q, 3, bolt_id);
    tb_bind_whole(q, 4, tb_entry(b));
    return tb_run(q, err);
}

tb_rc tb_draw_add(struct tb_draw *d, struct tb_book *b, const char *const *bolt_id, size_t n,
                  struct tb_arena *mem, struct tb_err *err)
{
    struct tb_stmt *q = tb_query(b, TB_SQL_DRAW_ADD);
    char id[TB_ID_LEN + 1];
    tb_rc rc;

    tb_id_make(id);
    d->id = tb_arena_strdup(mem, id);
    d->drawn_at = tb_arena_strdup(mem, tb_book_now(b));
    tb_bind_text(q, 1, d->id);
    tb_bind_text(q, 2, d->about);
    tb_bind_text(q, 3, d->plan);
    tb_bind_whole(q, 4, d->bolts);
    tb_bind_whole(q, 5, d->cut);
    tb_bind_whole(q, 6, d->bad);
    tb_bind_number(q, 7, d->chance);
    tb_bind_number(q, 8, d->sure);
    tb_bind_number(q, 9, d->catch_one);
    tb_bind_text(q, 10, d->catch_from);
    tb_bind_number(q, 11, d->aql);
    tb_bind_text(q, 12, d->level);
    tb_bind_text(q, 13, d->inspection);
    tb_bind_whole(q, 14, d->accept);
    tb_bind_whole(q, 15, d->refuse);
    tb_bind_text(q, 16, d->seed);
    tb_bind_text(q, 17, d->drawn_at);
    tb_bind_text(q, 18, tb_book_person(b));
    tb_bind_whole(q, 19, tb_entry(b));
    rc = tb_run(q, err);
    for (size_t i = 0; i < n && rc == TB_OK; i++)
        rc = add_bolt(b, d->id, bolt_id[i], err);
    return rc;
}

tb_rc tb_draw_latest(struct tb_draw *d, struct tb_book *b, const char *about, struct tb_arena *mem,
                     struct tb_err *err)
{
    struct tb_stmt *q = tb_query(b, TB_SQL_DRAW_LATEST);
    tb_rc rc;

    tb_bind_text(q, 1, about);
    if ((rc = tb_row(q, err)) == TB_OK) {
        int c = 0;

        d->id = tb_col_text(q, c++, mem);
        d->about = tb_col_text(q, c++, mem);
        d->plan = tb_col_text(q, c++, mem);
        d->bolts = tb_col_whole(q, c++);
        d->cut = tb_col_whole(q, c++);
        d->bad = tb_col_whole(q, c++);
        d->chance = tb_col_number(q, c++);
        d->sure = tb_col_number(q, c++);
        d->catch_one = tb_col_number(q, c++);
        d->catch_from = tb_col_text(q, c++, mem);
        d->aql = tb_col_number(q, c++);
        d->level = tb_col_text(q, c++, mem);
        d->inspection = tb_col_text(q, c++, mem);
        d->accept = tb_col_whole(q, c++);
        d->refuse = tb_col_whole(q, c++);
        d->seed = tb_col_text(q, c++, mem);
        d->drawn_at = tb_col_text(q, c++, mem);
        d->drawn_by = tb_col_text(q, c++, mem);
    }
    tb_done(q);
    return rc == TB_ENOTFOUND ? tb_fail(err, rc, "no bolts were drawn from %s yet", about) : rc;
}

static void take_draw(struct tb_draw *d, struct tb_stmt *q, struct tb_arena *mem)
{
    d->id = tb_col_text(q, 0, mem);
    d->about = tb_col_text(q, 1, mem);
    d->seed = tb_col_text(q, 2, mem);
    d->drawn_at = tb_col_text(q, 3, mem);
    d->drawn_by = tb_col_text(q, 4, mem);
}

tb_rc tb_draws_of_lot(struct tb_draw **out, size_t *n, struct tb_book *b, const char *lot_id,
                      struct tb_arena *mem, struct tb_err *err)
{
    struct tb_stmt *q = tb_query(b, TB_SQL_DRAWS_OF_LOT);
    tb_rc rc;

    tb_bind_text(q, 1, lot_id);
    TB_LIST(rc, out, n, q, struct tb_draw, take_draw, mem, err);
    return rc;
}

tb_rc tb_draw_bolts(struct tb_bolt **out, size_t *n, struct tb_book *b, const char *draw_id,
                    struct tb_arena *mem, struct tb_err *err)
{
    struct tb_stmt *q = tb_query(b, TB_SQL_DRAW_BOLTS);
    tb_rc rc;

    tb_bind_text(q, 1, draw_id);
    TB_LIST(rc, out, n, q, struct tb_bolt, tb_take_bolt, mem, err);
    return rc;
}

static void take_id(const char **o, struct tb_stmt *q, struct tb_arena *mem)
{
    *o = tb_col_text(q, 0, mem);
}

tb_rc tb_bolts_burnt(const char ***out, size_t *n, struct tb_book *b, const char *lot_id,
                     struct tb_arena *mem, struct tb_err *err)
{
    struct tb_stmt *q = tb_query(b, TB_SQL_BOLTS_BURNT_OF_LOT);
    tb_rc rc;

    tb_bind_text(q, 1, lot_id);
    TB_LIST(rc, out, n, q, const char *, take_id, mem, err);
    return rc;
}
