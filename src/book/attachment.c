/* Photographs and papers kept inside the book, by the digest of their bytes. */
#include "book/private.h"

tb_rc tb_attachment_add(struct tb_attachment *a, struct tb_book *b, struct tb_arena *mem, struct tb_err *err)
{
    char digest[TB_DIGEST_HEX];

    if (a->size == 0)
        return tb_fail(err, TB_EINVAL, "%s is empty", a->name);
    /* computed here and never taken from a caller: the case is checked by it */
    tb_digest_of(digest, a->bytes, a->size);
    a->id = tb_new_key(mem);
    a->sha256 = tb_arena_strdup(mem, digest);
    return tb_put_attachment(a, b, err);
}

tb_rc tb_attachment_load(struct tb_attachment *out, struct tb_book *b, const char *id, struct tb_arena *mem,
                         struct tb_err *err)
{
    tb_rc rc = tb_one_attachment(out, tb_sql_attachment_by_id(b, id), mem, err);

    if (rc == TB_OK)
        rc = tb_ask_bytes(&out->bytes, &out->size, tb_sql_attachment_bytes(b, id), mem, err);
    return rc == TB_ENOTFOUND ? tb_fail(err, rc, "there is no attachment %s in this book", id) : rc;
}
