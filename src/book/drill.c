/* Known swatches dealt to testers, and what they answered. */
#include "book/db.h"
#include "tenterbook/draws.h"

#include <stdlib.h>
#include <string.h>

static tb_rc add_card(struct tb_book *b, const char *drill_id, int64_t serial, const char *swatch_id,
                      struct tb_err *err)
{
    struct tb_stmt *q = tb_query(b, TB_SQL_DRILL_CARD_ADD);
    char id[TB_ID_LEN + 1];

    tb_id_make(id);
    tb_bind_text(q, 1, id);
    tb_bind_text(q, 2, drill_id);
    tb_bind_whole(q, 3, serial);
    tb_bind_text(q, 4, swatch_id);
    tb_bind_whole(q, 5, tb_entry(b));
    return tb_run(q, err);
}

tb_rc tb_drill_add(int64_t *serial, struct tb_book *b, const char *tester, const char *seed,
                   const char *const *swatch_id, size_t n, struct tb_err *err)
{
    struct tb_stmt *q;
    char id[TB_ID_LEN + 1];
    tb_rc rc;

    *serial = 0;
    rc = tb_ask_whole(serial, tb_query(b, TB_SQL_DRILL_LAST_SERIAL), err);
    if (rc != TB_OK && rc != TB_ENOTFOUND)
        return rc;
    ++*serial;
    tb_id_make(id);
    q = tb_query(b, TB_SQL_DRILL_ADD);
    tb_bind_text(q, 1, id);
    tb_bind_whole(q, 2, *serial);
    tb_bind_text(q, 3, tester);
    tb_bind_text(q, 4, seed);
    tb_bind_text(q, 5, tb_book_now(b));
    tb_bind_text(q, 6, tb_book_person(b));
    tb_bind_whole(q, 7, tb_entry(b));
    rc = tb_run(q, err);
    for (size_t i = 0; i < n && rc == TB_OK; i++)
        rc = add_card(b, id, (int64_t)i + 1, swatch_id[i], err);
    return rc;
}

static void take_card(struct tb_card *c, struct tb_stmt *q, struct tb_arena *mem)
{
    c->id = tb_col_text(q, 0, mem);
    c->drill = tb_col_whole(q, 1);
    c->serial = tb_col_whole(q, 2);
    c->tester = tb_col_text(q, 3, mem);
    c->swatch = tb_col_text(q, 4, mem);
    c->tag = tb_col_text(q, 5, mem);
    c->part = tb_col_text(q, 6, mem);
    c->known = tb_col_text(q, 7, mem);
    c->answer = tb_col_text(q, 8, mem);
    c->burn = tb_col_text(q, 9, mem);
    c->dealt_at = tb_col_text(q, 10, mem);
}

tb_rc tb_card_find(struct tb_card *out, struct tb_book *b, int64_t drill, int64_t serial,
                   struct tb_arena *mem, struct tb_err *err)
{
    struct tb_stmt *q = tb_query(b, TB_SQL_DRILL_CARD_BY_NAME);
    tb_rc rc;

    tb_bind_whole(q, 1, drill);
    tb_bind_whole(q, 2, serial);
    rc = tb_row(q, err);
    if (rc == TB_OK)
        take_card(out, q, mem);
    tb_done(q);
    return rc == TB_ENOTFOUND
               ? tb_fail(err, rc, "no card %lld-%02lld was ever dealt", (long long)drill, (long long)serial)
               : rc;
}

tb_rc tb_card_list(struct tb_card **out, size_t *n, struct tb_book *b, struct tb_arena *mem,
                   struct tb_err *err)
{
    struct tb_stmt *q = tb_query(b, TB_SQL_DRILL_CARDS);
    tb_rc rc;

    TB_LIST(rc, out, n, q, struct tb_card, take_card, mem, err);
    return rc;
}

tb_rc tb_card_answer(struct tb_book *b, const struct tb_card *card, const char *answer, const char *burn_id,
                     struct tb_err *err)
{
    struct tb_stmt *q;
    char id[TB_ID_LEN + 1];

    if (card->answer)
        return tb_fail(err, TB_EEXISTS, "card %lld-%02lld was answered already; an answer is not changed",
                       (long long)card->drill, (long long)card->serial);
    q = tb_query(b, TB_SQL_DRILL_ANSWER_ADD);
    tb_id_make(id);
    tb_bind_text(q, 1, id);
    tb_bind_text(q, 2, card->id);
    tb_bind_text(q, 3, answer);
    tb_bind_text(q, 4, burn_id);
    tb_bind_whole(q, 5, tb_entry(b));
    return tb_run(q, err);
}

static void take_doubled(struct tb_doubled *d, struct tb_stmt *q, struct tb_arena *mem)
{
    d->burn_a = tb_col_text(q, 0, mem);
    d->who_a = tb_col_text(q, 1, mem);
    d->burn_b = tb_col_text(q, 2, mem);
    d->who_b = tb_col_text(q, 3, mem);
    d->bolt = tb_col_text(q, 4, mem);
    d->part = tb_col_text(q, 5, mem);
}

tb_rc tb_burns_doubled(struct tb_doubled **out, size_t *n, struct tb_book *b, struct tb_arena *mem,
                       struct tb_err *err)
{
    struct tb_stmt *q = tb_query(b, TB_SQL_BURNS_DOUBLED);
    tb_rc rc;

    TB_LIST(rc, out, n, q, struct tb_doubled, take_doubled, mem, err);
    return rc;
}
