/* Joint samples: retained swatches dealt to supplier, laboratory and own shelf. */
#include "book/stmt.h"
#include "tenterbook/dispute.h"

tb_rc tb_joint_sample_add(struct tb_joint_sample *j, struct tb_book *b, struct tb_arena *mem,
                          struct tb_err *err)
{
    tb_rc rc = tb_ask_whole(&j->serial, tb_sql_joint_sample_next_serial(b, j->lot), err);

    if (rc != TB_OK)
        return rc;
    j->id = tb_new_key(mem);
    j->dealt_at = tb_moment_now(b, mem);
    rc = tb_put_joint_sample(j, b, err);
    /* the database refuses a swatch that was dealt before: it cannot be in two hands */
    for (size_t i = 0; i < j->pieces && rc == TB_OK; i++) {
        const struct tb_joint_piece_fact f = { .sample = j->id,
                                               .swatch = j->piece[i].swatch,
                                               .holder = j->piece[i].holder };

        rc = tb_put_joint_piece(&f, b, err);
    }
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
