/* Rows of a statement: one by one, the first, all of them, or their only column. */
#include "book/stmt.h"

#include <stdlib.h>
#include <string.h>

tb_rc tb_next(void *row, tb_row_fn *read, struct tb_stmt *q, struct tb_arena *mem, struct tb_err *err)
{
    tb_rc rc = tb_row(q, err);

    return rc == TB_OK ? read(row, q, mem, err) : rc;
}

tb_rc tb_one(void *row, tb_row_fn *read, struct tb_stmt *q, struct tb_arena *mem, struct tb_err *err)
{
    tb_rc rc = tb_next(row, read, q, mem, err);

    tb_done(q);
    return rc;
}

tb_rc tb_all(void **rows, size_t *n, size_t size, tb_row_fn *read, struct tb_stmt *q, struct tb_arena *mem,
             struct tb_err *err)
{
    char *list = NULL;
    size_t have = 0, room = 0;
    tb_rc rc = TB_OK;

    while (rc == TB_OK) {
        if (have == room)
            list = tb_realloc(list, room = room ? 2 * room : 8, size);
        if ((rc = tb_next(list + have * size, read, q, mem, err)) == TB_OK)
            have++;
    }
    tb_done(q);
    /* into the arena at once at its end: growing there would leave every smaller array behind */
    if (rc == TB_ENOTFOUND) {
        *rows = tb_arena_alloc(mem, have * size + 1);
        if (have)
            memcpy(*rows, list, have * size);
        *n = have;
        rc = TB_OK;
    }
    free(list);
    return rc;
}

/* --- one column ------------------------------------------------------------------------------------------------- */

/* TB_ENOTFOUND where there is no row or nothing in it. */
static tb_rc ask(struct tb_stmt *q, struct tb_err *err)
{
    tb_rc rc = tb_row(q, err);

    return rc == TB_OK && tb_col_null(q, 0) ? TB_ENOTFOUND : rc;
}

tb_rc tb_ask_whole(int64_t *out, struct tb_stmt *q, struct tb_err *err)
{
    tb_rc rc = ask(q, err);

    if (rc == TB_OK)
        *out = tb_col_whole(q, 0);
    tb_done(q);
    return rc;
}

tb_rc tb_ask_number(double *out, struct tb_stmt *q, struct tb_err *err)
{
    tb_rc rc = ask(q, err);

    if (rc == TB_OK)
        *out = tb_col_number(q, 0);
    tb_done(q);
    return rc;
}

tb_rc tb_ask_text(const char **out, struct tb_stmt *q, struct tb_arena *mem, struct tb_err *err)
{
    tb_rc rc = ask(q, err);

    if (rc == TB_OK)
        *out = tb_col_text(q, 0, mem);
    tb_done(q);
    return rc;
}

tb_rc tb_ask_bytes(const void **out, size_t *size, struct tb_stmt *q, struct tb_arena *mem,
                   struct tb_err *err)
{
    tb_rc rc = tb_row(q, err);

    if (rc == TB_OK)
        *out = tb_col_bytes(q, 0, size, mem);
    tb_done(q);
    return rc;
}

static tb_rc read_text(void *row, struct tb_stmt *q, struct tb_arena *mem, struct tb_err *err)
{
    (void)err;
    *(const char **)row = tb_col_text(q, 0, mem);
    return TB_OK;
}

tb_rc tb_all_text(const char ***out, size_t *n, struct tb_stmt *q, struct tb_arena *mem, struct tb_err *err)
{
    void *rows = NULL;
    tb_rc rc = tb_all(&rows, n, sizeof **out, read_text, q, mem, err);

    if (rc == TB_OK)
        *out = rows;
    return rc;
}

/* --- what a new record is given ----------------------------------------------------------------------------------- */

const char *tb_new_key(struct tb_arena *mem)
{
    char id[TB_ID_LEN + 1];

    tb_id_make(id);
    return tb_arena_strdup(mem, id);
}

const char *tb_moment_now(const struct tb_book *b, struct tb_arena *mem)
{
    return tb_arena_strdup(mem, tb_book_now(b));
}
