/* Draws of bolts. */
#include "book/stmt.h"
#include "tenterbook/draws.h"

static tb_rc add_bolt(struct tb_book *b, const char *draw_id, const char *bolt_id, struct tb_err *err)
{
    char id[TB_ID_LEN + 1];

    tb_id_make(id);
    return tb_put_draw_bolt(&(struct tb_draw_bolt_fact){ .id = id, .draw = draw_id, .bolt = bolt_id }, b,
                            err);
}

tb_rc tb_draw_add(struct tb_draw *d, struct tb_book *b, const char *const *bolt_id, size_t n,
                  struct tb_arena *mem, struct tb_err *err)
{
    tb_rc rc;

    d->id = tb_new_key(mem);
    d->drawn_at = tb_moment_now(b, mem);
    rc = tb_put_draw(d, b, err);
    for (size_t i = 0; i < n && rc == TB_OK; i++)
        rc = add_bolt(b, d->id, bolt_id[i], err);
    return rc;
}

tb_rc tb_draw_latest(struct tb_draw *d, struct tb_book *b, const char *about, struct tb_arena *mem,
                     struct tb_err *err)
{
    tb_rc rc = tb_one_draw(d, tb_sql_draw_latest(b, about), mem, err);

    return rc == TB_ENOTFOUND ? tb_fail(err, rc, "no bolts were drawn from %s yet", about) : rc;
}

tb_rc tb_draws_of_lot(struct tb_draw **out, size_t *n, struct tb_book *b, const char *lot_id,
                      struct tb_arena *mem, struct tb_err *err)
{
    return tb_all_draw(out, n, tb_sql_draws_of_lot(b, lot_id), mem, err);
}

tb_rc tb_draw_bolts(struct tb_bolt **out, size_t *n, struct tb_book *b, const char *draw_id,
                    struct tb_arena *mem, struct tb_err *err)
{
    return tb_all_bolt(out, n, tb_sql_draw_bolts(b, draw_id), mem, err);
}
