/* Joint samples: retained swatches dealt to supplier, laboratory and own shelf. */
#include "book/stmt.h"
#include "tenterbook/dispute.h"

static tb_rc add_piece(struct tb_book *b, const char *sample, const struct tb_joint_piece *p,
                       struct tb_err *err)
{
    struct tb_joint_piece_fact f = { .sample = sample, .swatch = p->swatch, .holder = p->holder };
    char id[TB_ID_LEN + 1];

    tb_id_make(id);
    f.id = id;
    return tb_put_joint_piece(&f, b, err);
}

tb_rc tb_joint_sample_add(struct tb_joint_sample *j, struct tb_book *b, struct tb_arena *mem,
                          struct tb_err *err)
{
    tb_rc rc;

    j->serial = 0;
    rc = tb_ask_whole(&j->serial, tb_sql_joint_sample_last_serial(b, j->lot), err);
    if (rc != TB_OK && rc != TB_ENOTFOUND)
        return rc;
    j->serial++;
    j->id = tb_new_key(mem);
    j->dealt_at = tb_moment_now(b, mem);
    rc = tb_put_joint_sample(j, b, err);
    /* the database refuses a swatch that was dealt before: it cannot be in two hands */
    for (size_t i = 0; i < j->pieces && rc == TB_OK; i++)
        rc = add_piece(b, j->id, &j->piece[i], err);
    return rc;
}

tb_rc tb_joint_sample_list(struct tb_joint_sample **out, size_t *n, struct tb_book *b, const char *lot_id,
                           struct tb_arena *mem, struct tb_err *err)
{
    tb_rc rc = tb_all_joint_sample(out, n, tb_sql_joint_sample_of_lot(b, lot_id), mem, err);

    for (size_t i = 0; rc == TB_OK && i < *n; i++) {
        struct tb_joint_sample *j = &(*out)[i];

        rc = tb_all_joint_piece(&j->piece, &j->pieces, tb_sql_joint_piece_of_sample(b, j->id), mem, err);
    }
    return rc;
}
