/* What was concluded about a lot, and what was decided. */
#include "book/db.h"

#include <stdlib.h>
#include <string.h>

tb_rc tb_judged_add(struct tb_judged *v, struct tb_book *b, struct tb_arena *mem, struct tb_err *err)
{
    struct tb_stmt *q = tb_query(b, TB_SQL_VERDICT_ADD);
    char id[TB_ID_LEN + 1];

    tb_id_make(id);
    v->id = tb_arena_strdup(mem, id);
    v->judged_at = tb_arena_strdup(mem, tb_book_now(b));
    tb_bind_text(q, 1, v->id);
    tb_bind_text(q, 2, v->lot);
    tb_bind_text(q, 3, v->verdict);
    tb_bind_number(q, 4, v->log_ratio);
    tb_bind_whole(q, 5, v->bolts_burnt);
    tb_bind_whole(q, 6, v->bolts);
    tb_bind_text(q, 7, v->reference);
    tb_bind_text(q, 8, v->detail);
    tb_bind_text(q, 9, v->judged_at);
    tb_bind_text(q, 10, tb_book_person(b));
    tb_bind_whole(q, 11, tb_entry(b));
    return tb_run(q, err);
}

static void take_judged(struct tb_judged *v, struct tb_stmt *q, struct tb_arena *mem)
{
    v->id = tb_col_text(q, 0, mem);
    v->lot = tb_col_text(q, 1, mem);
    v->verdict = tb_col_text(q, 2, mem);
    v->log_ratio = tb_col_number(q, 3);
    v->bolts_burnt = tb_col_whole(q, 4);
    v->bolts = tb_col_whole(q, 5);
    v->reference = tb_col_text(q, 6, mem);
    v->detail = tb_col_text(q, 7, mem);
    v->judged_at = tb_col_text(q, 8, mem);
    v->judged_by = tb_col_text(q, 9, mem);
    v->entry = tb_col_whole(q, 10);
}

tb_rc tb_judged_latest(struct tb_judged *out, struct tb_book *b, const char *lot_id, struct tb_arena *mem,
                       struct tb_err *err)
{
    struct tb_stmt *q = tb_query(b, TB_SQL_VERDICT_LATEST);
    tb_rc rc;

    tb_bind_text(q, 1, lot_id);
    rc = tb_row(q, err);
    if (rc == TB_OK)
        take_judged(out, q, mem);
    tb_done(q);
    return rc;
}

tb_rc tb_judged_list(struct tb_judged **out, size_t *n, struct tb_book *b, const char *lot_id,
                     struct tb_arena *mem, struct tb_err *err)
{
    struct tb_stmt *q = tb_query(b, TB_SQL_VERDICT_OF_LOT);
    tb_rc rc;

    tb_bind_text(q, 1, lot_id);
    TB_LIST(rc, out, n, q, struct tb_judged, take_judged, mem, err);
    return rc;
}

bool tb_standing_valid(const char *standing)
{
    static const char *const known[] = { "waiting", "held", "released", "relabelled", "returned" };

    for (size_t i = 0; i < TB_COUNT(known); i++)
        if (strcmp(known[i], standing) == 0)
            return true;
    return false;
}

tb_rc tb_standing_add(struct tb_standing *s, struct tb_book *b, struct tb_arena *mem, struct tb_err *err)
{
    struct tb_stmt *q;
    char id[TB_ID_LEN + 1];

    if (!tb_standing_valid(s->standing))
        return tb_fail(err, TB_EINVAL,
                       "'%s' is no standing; a lot is waiting, held, released, relabelled or returned",
                       s->standing);
    tb_id_make(id);
    s->id = tb_arena_strdup(mem, id);
    s->settled_at = s->settled_at ? s->settled_at : tb_arena_strdup(mem, tb_book_now(b));
    q = tb_query(b, TB_SQL_STANDING_ADD);
    tb_bind_text(q, 1, s->id);
    tb_bind_text(q, 2, s->lot);
    tb_bind_text(q, 3, s->standing);
    tb_bind_text(q, 4, s->why ? s->why : "");
    tb_bind_text(q, 5, s->old_words ? s->old_words : "");
    tb_bind_text(q, 6, s->new_words ? s->new_words : "");
    tb_bind_text(q, 7, s->goods_of ? s->goods_of : "");
    tb_bind_text(q, 8, s->settled_at);
    tb_bind_text(q, 9, tb_book_person(b));
    tb_bind_whole(q, 10, tb_entry(b));
    return tb_run(q, err);
}

static void take_standing(struct tb_standing *s, struct tb_stmt *q, struct tb_arena *mem)
{
    const char **field[] = { &s->id,        &s->lot,      &s->standing,   &s->why,       &s->old_words,
                             &s->new_words, &s->goods_of, &s->settled_at, &s->settled_by };

    for (int i = 0; i < (int)TB_COUNT(field); i++)
        *field[i] = tb_col_text(q, i, mem);
}

tb_rc tb_standing_list(struct tb_standing **out, size_t *n, struct tb_book *b, const char *lot_id,
                       struct tb_arena *mem, struct tb_err *err)
{
    struct tb_stmt *q = tb_query(b, TB_SQL_STANDING_OF_LOT);
    tb_rc rc;

    tb_bind_text(q, 1, lot_id);
    TB_LIST(rc, out, n, q, struct tb_standing, take_standing, mem, err);
    return rc;
}
