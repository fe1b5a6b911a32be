/* Swatches: pieces cut from a bolt, or of cloth whose composition is known. */
#include "book/stmt.h"

#include <stdio.h>

tb_rc tb_swatch_find(struct tb_swatch *out, struct tb_book *b, const char *tag, struct tb_arena *mem,
                     struct tb_err *err)
{
    tb_rc rc = tb_one_swatch(out, tb_sql_swatch_by_tag(b, tag), mem, err);

    return rc == TB_ENOTFOUND ? tb_fail(err, rc, "there is no swatch %s in this book", tag) : rc;
}

tb_rc tb_swatch_list(struct tb_swatch **out, size_t *n, struct tb_book *b, const char *lot_id,
                     struct tb_arena *mem, struct tb_err *err)
{
    return tb_all_swatch(out, n, tb_sql_swatch_of_lot(b, lot_id), mem, err);
}

tb_rc tb_retained_list(struct tb_swatch **out, size_t *n, struct tb_book *b, const char *lot_id,
                       struct tb_arena *mem, struct tb_err *err)
{
    return tb_all_swatch(out, n, tb_sql_swatch_retained(b, lot_id), mem, err);
}

/* W26-014.02.03 for the third swatch of lot W26-014.02; W-K03 for the third known cloth of site W. */
static tb_rc next_tag(struct tb_swatch *s, struct tb_book *b, struct tb_arena *mem, struct tb_err *err)
{
    char tag[64];
    tb_rc rc;

    /* asked under the lock: two writers can never be given the same tag */
    s->serial = 0;
    rc = tb_ask_whole(&s->serial, tb_sql_swatch_last_serial(b, s->lot), err);
    if (rc != TB_OK && rc != TB_ENOTFOUND)
        return rc;
    s->serial++;
    if (s->lot)
        (void)snprintf(tag, sizeof tag, "%s.%02lld", s->lot_ref, (long long)s->serial);
    else
        (void)snprintf(tag, sizeof tag, "%s-K%02lld", tb_book_site(b)->code, (long long)s->serial);
    s->tag = tb_arena_strdup(mem, tag);
    return TB_OK;
}

tb_rc tb_swatch_add(struct tb_swatch *s, struct tb_book *b, struct tb_arena *mem, struct tb_err *err)
{
    tb_rc rc;

    if (s->cut_at && !tb_moment_valid(s->cut_at))
        return tb_fail(err, TB_EINVAL, "the moment of cutting '%s' is not valid (YYYY-MM-DDThh:mm:ssZ)",
                       s->cut_at);
    if ((rc = next_tag(s, b, mem, err)) != TB_OK)
        return rc;
    s->id = tb_new_key(mem);
    s->cut_at = s->cut_at ? s->cut_at : tb_moment_now(b, mem);
    return tb_put_swatch(s, b, err);
}
