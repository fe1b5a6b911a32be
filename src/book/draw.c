/* Draws of bolts. */
#include "book/stmt.h"
#include "tenterbook/draws.h"

tb_rc tb_draw_add(struct tb_draw *d, struct tb_book *b, const char *const *bolt_id, size_t n,
                  struct tb_arena *mem, struct tb_err *err)
{
    tb_rc rc;

    d->id = tb_new_key(mem);
    d->drawn_at = tb_moment_now(b, mem);
    rc = tb_put_draw(d, b, err);
    for (size_t i = 0; i < n && rc == TB_OK; i++)
        rc = tb_put_draw_bolt(&(struct tb_draw_bolt_fact){ .draw = d->id, .bolt = bolt_id[i] }, b, err);
    return rc;
}

tb_rc tb_draw_latest(struct tb_draw *d, struct tb_book *b, const char *about, struct tb_arena *mem,
                     struct tb_err *err)
{
    tb_rc rc = tb_one_draw(d, tb_sql_draw_latest(b, about), mem, err);

    return rc == TB_ENOTFOUND ? tb_fail(err, rc, "no bolts were drawn from %s yet", about) : rc;
}
