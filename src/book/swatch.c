/* Swatches: pieces cut from a bolt, or of cloth whose composition is known. */
#include "book/named.h"
#include "book/stmt.h"
#include "tenterbook/void.h"

#include <stdio.h>

/* Who types or scans the number of a bolt means its swatch, and has to say which. */
static tb_rc refuse(struct tb_book *b, const char *tag, struct tb_arena *mem, struct tb_err *err)
{
    struct tb_text all = { 0 };
    const char **of;
    size_t n;
    tb_rc rc = tb_all_text(&of, &n, tb_sql_swatch_tags_of_bolt(b, tag), mem, err);

    if (rc != TB_OK)
        return rc;
    if (n == 0)
        return tb_fail(err, TB_ENOTFOUND, "there is no swatch %s in this book", tag);
    for (size_t i = 0; i < n; i++)
        tb_text_addf(&all, "%s%s", i ? ", " : "", of[i]);
    rc = tb_fail(err, TB_ENOTFOUND, "%s is a bolt and no swatch; cut from it: %s", tag, all.s);
    tb_text_free(&all);
    return rc;
}

tb_rc tb_swatch_find(struct tb_swatch *out, struct tb_book *b, const char *tag, struct tb_arena *mem,
                     struct tb_err *err)
{
    const char *written = tb_ref_as_written(tag, mem);
    tb_rc rc = tb_one_swatch(out, tb_sql_swatch_by_tag(b, tag), mem, err);

    if (rc == TB_ENOTFOUND && written)
        rc = tb_one_swatch(out, tb_sql_swatch_by_tag(b, written), mem, err);
    if (rc != TB_ENOTFOUND)
        return rc;
    rc = tb_voided_refuse(b, written ? written : tag, refuse(b, tag, mem, err), err);
    return tb_nearest_offer(b, "swatch", NULL, tag, rc, err);
}

tb_rc tb_swatch_waiting(const char *const **tag, size_t *n, struct tb_book *b, const char *bolt_id,
                        enum tb_part_kind part, struct tb_arena *mem, struct tb_err *err)
{
    const char **all = NULL;
    tb_rc rc = tb_all_text(&all, n, tb_sql_swatch_waiting_of_bolt(b, bolt_id, part), mem, err);

    *tag = all;
    return rc;
}

/* W26-014.02.03 for the third swatch of lot W26-014.02; W-K03 for the third known cloth of site W. */
static tb_rc next_tag(struct tb_swatch *s, struct tb_book *b, struct tb_arena *mem, struct tb_err *err)
{
    char tag[64];
    /* asked under the lock: two writers can never be given the same tag */
    tb_rc rc = tb_ask_whole(&s->serial, tb_sql_swatch_next_serial(b, s->lot), err);

    if (rc != TB_OK)
        return rc;
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
