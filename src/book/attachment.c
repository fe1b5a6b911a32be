/* Photographs and papers kept inside the book, by the digest of their bytes. */
#include "book/db.h"

#include <sodium.h>
#include <stdlib.h>
#include <string.h>

tb_rc tb_attachment_add(struct tb_attachment *a, struct tb_book *b, struct tb_arena *mem, struct tb_err *err)
{
    struct tb_stmt *q;
    unsigned char sum[crypto_hash_sha256_BYTES];
    char id[TB_ID_LEN + 1], hex[2 * sizeof sum + 1];

    if (a->size == 0)
        return tb_fail(err, TB_EINVAL, "%s is empty", a->name);
    (void)crypto_hash_sha256(sum, a->bytes, a->size);
    (void)sodium_bin2hex(hex, sizeof hex, sum, sizeof sum);
    tb_id_make(id);
    a->id = tb_arena_strdup(mem, id);
    a->sha256 = tb_arena_strdup(mem, hex);
    q = tb_query(b, TB_SQL_ATTACHMENT_ADD);
    tb_bind_text(q, 1, a->id);
    tb_bind_text(q, 2, a->about);
    tb_bind_text(q, 3, a->subject);
    tb_bind_text(q, 4, a->name);
    tb_bind_text(q, 5, a->media);
    tb_bind_text(q, 6, a->sha256);
    tb_bind_bytes(q, 7, a->bytes, a->size);
    tb_bind_whole(q, 8, tb_entry(b));
    return tb_run(q, err);
}

static void take_head(struct tb_attachment *a, struct tb_stmt *q, struct tb_arena *mem)
{
    const char **field[] = { &a->id, &a->about, &a->subject, &a->name, &a->media, &a->sha256 };

    for (int i = 0; i < (int)TB_COUNT(field); i++)
        *field[i] = tb_col_text(q, i, mem);
}

static void take_listed(struct tb_attachment *a, struct tb_stmt *q, struct tb_arena *mem)
{
    take_head(a, q, mem);
    a->size = (size_t)tb_col_whole(q, 6);
}

tb_rc tb_attachment_list(struct tb_attachment **out, size_t *n, struct tb_book *b, const char *subject,
                         struct tb_arena *mem, struct tb_err *err)
{
    struct tb_stmt *q = tb_query(b, TB_SQL_ATTACHMENT_OF_SUBJECT);
    tb_rc rc;

    tb_bind_text(q, 1, subject);
    TB_LIST(rc, out, n, q, struct tb_attachment, take_listed, mem, err);
    return rc;
}

tb_rc tb_attachment_load(struct tb_attachment *out, struct tb_book *b, const char *id, struct tb_arena *mem,
                         struct tb_err *err)
{
    struct tb_stmt *q = tb_query(b, TB_SQL_ATTACHMENT_BY_ID);
    tb_rc rc;

    tb_bind_text(q, 1, id);
    rc = tb_row(q, err);
    if (rc == TB_OK) {
        const void *p;
        void *copy;

        take_head(out, q, mem);
        p = tb_col_bytes(q, 6, &out->size);
        copy = tb_arena_alloc(mem, out->size + 1);
        if (out->size)
            memcpy(copy, p, out->size);
        out->bytes = copy;
    }
    tb_done(q);
    return rc == TB_ENOTFOUND ? tb_fail(err, rc, "there is no attachment %s in this book", id) : rc;
}
