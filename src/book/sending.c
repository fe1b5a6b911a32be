/* Samples that went to a laboratory. */
#include "tenterbook/sending.h"
#include "book/stmt.h"
#include "tenterbook/date.h"

tb_rc tb_sending_add(struct tb_sending *s, struct tb_book *b, struct tb_arena *mem, struct tb_err *err)
{
    tb_rc rc;

    if (!tb_day_valid(s->sent_on))
        return tb_fail(err, TB_EINVAL, "'%s' is not a valid date (YYYY-MM-DD)", s->sent_on);
    s->id = tb_new_key(mem);
    s->recorded_at = tb_moment_now(b, mem);
    rc = tb_put_sending(s, b, err);
    for (size_t i = 0; i < s->pieces && rc == TB_OK; i++)
        rc = tb_put_sending_piece(
            &(struct tb_sending_piece_fact){ .sending = s->id, .swatch = s->piece[i].swatch }, b, err);
    return rc;
}

tb_rc tb_sending_list(struct tb_sending **out, size_t *n, struct tb_book *b, const char *lot_id,
                      struct tb_arena *mem, struct tb_err *err)
{
    tb_rc rc = tb_all_sending(out, n, tb_sql_sending_of_lot(b, lot_id), mem, err);

    for (size_t i = 0; rc == TB_OK && i < *n; i++) {
        struct tb_sending *s = &(*out)[i];

        rc = tb_all_sending_piece(&s->piece, &s->pieces, tb_sql_sending_piece_of_sending(b, s->id), mem, err);
    }
    return rc;
}

tb_rc tb_sending_is_void(bool *out, struct tb_book *b, const char *id, struct tb_err *err)
{
    int64_t n = 0;
    tb_rc rc = tb_ask_whole(&n, tb_sql_sending_voided(b, id), err);

    *out = n > 0;
    return rc;
}
