/* Deliveries: what came in on one note. */
#include "book/named.h"
#include "book/stmt.h"
#include "tenterbook/limits.h"
#include "tenterbook/void.h"

#include <stdio.h>
#include <stdlib.h>

tb_rc tb_delivery_find(struct tb_delivery *out, struct tb_book *b, const char *ref, struct tb_arena *mem,
                       struct tb_err *err)
{
    const char *written = tb_ref_as_written(ref, mem);
    tb_rc rc = tb_one_delivery(out, tb_sql_delivery_by_ref(b, ref), mem, err);

    if (rc == TB_ENOTFOUND && written)
        rc = tb_one_delivery(out, tb_sql_delivery_by_ref(b, written), mem, err);
    if (rc != TB_ENOTFOUND)
        return rc;
    rc = tb_voided_refuse(b, written ? written : ref, tb_fail(err, rc, "there is no delivery %s", ref), err);
    return tb_nearest_offer(b, "delivery", NULL, ref, rc, err);
}

/* The reference number: site code, two digits of the year of arrival, counted through the year. */
static tb_rc next_ref(struct tb_delivery *d, struct tb_book *b, struct tb_arena *mem, struct tb_err *err)
{
    const struct tb_site *site = tb_book_site(b);
    char ref[40];
    tb_rc rc;

    /* the year of arrival, not of typing: what came in December and is recorded in January keeps its number */
    d->year = strtol(d->arrived, NULL, 10);
    if ((rc = tb_ask_whole(&d->serial, tb_sql_delivery_next_serial(b, site->id, d->year), err)) != TB_OK)
        return rc;
    (void)snprintf(ref, sizeof ref, "%s%02d-%03lld", site->code, (int)(d->year % 100), (long long)d->serial);
    d->ref = tb_arena_strdup(mem, ref);
    return TB_OK;
}

tb_rc tb_delivery_add(struct tb_delivery *d, struct tb_book *b, struct tb_arena *mem, struct tb_err *err)
{
    tb_rc rc;

    if (!tb_day_valid(d->arrived))
        return tb_fail(err, TB_EINVAL, "the day of arrival '%s' is not a valid date (YYYY-MM-DD)",
                       d->arrived ? d->arrived : "");
    if (d->note_day && !tb_day_valid(d->note_day))
        return tb_fail(err, TB_EINVAL, "the date of the note '%s' is not a valid date (YYYY-MM-DD)",
                       d->note_day);
    if (!tb_day_recorded(d->arrived) || (d->note_day && !tb_day_recorded(d->note_day)))
        return tb_fail(
            err, TB_EINVAL,
            "the day of arrival is %s and the date of the note is %s; the book takes days from %s to %s",
            d->arrived, d->note_day ? d->note_day : "-", TB_DAY_FIRST, TB_DAY_LAST);
    if ((rc = next_ref(d, b, mem, err)) != TB_OK)
        return rc;
    d->id = tb_new_key(mem);
    return tb_put_delivery(d, b, err);
}

tb_rc tb_delivery_sum(struct tb_delivery_goods *out, struct tb_book *b, const char *delivery_id,
                      struct tb_err *err)
{
    struct tb_arena mem = { 0 };
    tb_rc rc = tb_one_delivery_goods(out, tb_sql_delivery_goods(b, delivery_id), &mem, err);

    tb_arena_free(&mem);
    return rc;
}

tb_rc tb_lot_refs_of_delivery(const char ***out, size_t *n, struct tb_book *b, const char *delivery_id,
                              struct tb_arena *mem, struct tb_err *err)
{
    return tb_all_text(out, n, tb_sql_lot_refs_of_delivery(b, delivery_id), mem, err);
}
