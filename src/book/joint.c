/* Joint samples: retained swatches dealt to supplier, laboratory and own shelf. */
#include "book/db.h"
#include "tenterbook/dispute.h"

#include <stdlib.h>
#include <string.h>

static tb_rc add_piece(struct tb_book *b, const char *sample, const struct tb_joint_piece *p,
                       struct tb_err *err)
{
    struct tb_stmt *q = tb_query(b, TB_SQL_JOINT_PIECE_ADD);
    char id[TB_ID_LEN + 1];

    tb_id_make(id);
    tb_bind_text(q, 1, id);
    tb_bind_text(q, 2, sample);
    tb_bind_text(q, 3, p->swatch);
    tb_bind_text(q, 4, p->holder);
    tb_bind_whole(q, 5, tb_entry(b));
    return tb_run(q, err);
}

static tb_rc next_serial(int64_t *out, struct tb_book *b, const char *lot_id, struct tb_err *err)
{
    struct tb_stmt *q = tb_query(b, TB_SQL_JOINT_SAMPLE_LAST_SERIAL);
    tb_rc rc;

    *out = 0;
    tb_bind_text(q, 1, lot_id);
    rc = tb_ask_whole(out, q, err);
    ++*out;
    return rc == TB_ENOTFOUND ? TB_OK : rc;
}

tb_rc tb_joint_sample_add(struct tb_joint_sample *j, struct tb_book *b, struct tb_arena *mem,
                          struct tb_err *err)
{
    struct tb_stmt *q;
    char id[TB_ID_LEN + 1];
    tb_rc rc = next_serial(&j->serial, b, j->lot, err);

    if (rc != TB_OK)
        return rc;
    tb_id_make(id);
    j->id = tb_arena_strdup(mem, id);
    j->dealt_at = tb_arena_strdup(mem, tb_book_now(b));
    q = tb_query(b, TB_SQL_JOINT_SAMPLE_ADD);
    tb_bind_text(q, 1, j->id);
    tb_bind_text(q, 2, j->lot);
    tb_bind_whole(q, 3, j->serial);
    tb_bind_whole(q, 4, j->swatches);
    tb_bind_whole(q, 5, j->each);
    tb_bind_text(q, 6, j->seed);
    tb_bind_text(q, 7, j->laboratory ? j->laboratory : "");
    tb_bind_text(q, 8, j->rule ? j->rule : "");
    tb_bind_text(q, 9, j->present ? j->present : "");
    tb_bind_text(q, 10, j->dealt_at);
    tb_bind_text(q, 11, tb_book_person(b));
    tb_bind_whole(q, 12, tb_entry(b));
    rc = tb_run(q, err);
    for (size_t i = 0; i < j->pieces && rc == TB_OK; i++)
        rc = add_piece(b, j->id, &j->piece[i], err);
    return rc;
}

static void take_piece(struct tb_joint_piece *p, struct tb_stmt *q, struct tb_arena *mem)
{
    const char **field[] = { &p->swatch, &p->holder, &p->tag, &p->part, &p->bolt_number, &p->kept };

    for (int i = 0; i < (int)TB_COUNT(field); i++)
        *field[i] = tb_col_text(q, i, mem);
}

static void take_sample(struct tb_joint_sample *j, struct tb_stmt *q, struct tb_arena *mem)
{
    const char **text[] = { &j->seed, &j->laboratory, &j->rule, &j->present, &j->dealt_at, &j->dealt_by };

    j->id = tb_col_text(q, 0, mem);
    j->lot = tb_col_text(q, 1, mem);
    j->serial = tb_col_whole(q, 2);
    j->swatches = tb_col_whole(q, 3);
    j->each = tb_col_whole(q, 4);
    for (int i = 0; i < (int)TB_COUNT(text); i++)
        *text[i] = tb_col_text(q, 5 + i, mem);
}

tb_rc tb_joint_sample_list(struct tb_joint_sample **out, size_t *n, struct tb_book *b, const char *lot_id,
                           struct tb_arena *mem, struct tb_err *err)
{
    struct tb_stmt *q = tb_query(b, TB_SQL_JOINT_SAMPLE_OF_LOT);
    tb_rc rc;

    tb_bind_text(q, 1, lot_id);
    TB_LIST(rc, out, n, q, struct tb_joint_sample, take_sample, mem, err);
    for (size_t i = 0; rc == TB_OK && i < *n; i++) {
        struct tb_joint_sample *j = &(*out)[i];

        q = tb_query(b, TB_SQL_JOINT_PIECE_OF_SAMPLE);
        tb_bind_text(q, 1, j->id);
        TB_LIST(rc, &j->piece, &j->pieces, q, struct tb_joint_piece, take_piece, mem, err);
    }
    return rc;
}

static void take_swatch(struct tb_swatch *s, struct tb_stmt *q, struct tb_arena *mem)
{
    const char **field[] = { &s->id,   &s->tag,    &s->lot,    &s->bolt,    &s->part,       &s->known,
                             &s->kept, &s->cut_at, &s->cut_by, &s->lot_ref, &s->bolt_number };

    for (int i = 0; i < (int)TB_COUNT(field); i++)
        *field[i] = tb_col_text(q, i, mem);
}

tb_rc tb_retained_list(struct tb_swatch **out, size_t *n, struct tb_book *b, const char *lot_id,
                       struct tb_arena *mem, struct tb_err *err)
{
    struct tb_stmt *q = tb_query(b, TB_SQL_SWATCH_RETAINED);
    tb_rc rc;

    tb_bind_text(q, 1, lot_id);
    TB_LIST(rc, out, n, q, struct tb_swatch, take_swatch, mem, err);
    return rc;
}
