/* Deliveries, and what their lots are declared to be. */
#include "book/db.h"
#include "tenterbook/fibre.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static void take_delivery(struct tb_delivery *d, struct tb_stmt *q, struct tb_arena *mem)
{
    const char **field[] = { &d->id,        &d->ref,         &d->supplier, &d->supplier_name, &d->note,
                             &d->order_no,  &d->note_day,    &d->arrived,  &d->received_at,   &d->received_by,
                             &d->file_name, &d->file_digest, &d->remark };

    for (int i = 0; i < (int)TB_COUNT(field); i++)
        *field[i] = tb_col_text(q, i, mem);
}

static tb_rc one_delivery(struct tb_delivery *out, struct tb_stmt *q, const char *key, struct tb_arena *mem,
                          struct tb_err *err)
{
    tb_rc rc;

    tb_bind_text(q, 1, key);
    rc = tb_row(q, err);
    if (rc == TB_OK)
        take_delivery(out, q, mem);
    tb_done(q);
    return rc;
}

tb_rc tb_delivery_by_file(struct tb_delivery *out, struct tb_book *b, const char *digest,
                          struct tb_arena *mem, struct tb_err *err)
{
    return one_delivery(out, tb_query(b, TB_SQL_DELIVERY_BY_DIGEST), digest, mem, err);
}

tb_rc tb_delivery_find(struct tb_delivery *out, struct tb_book *b, const char *ref, struct tb_arena *mem,
                       struct tb_err *err)
{
    tb_rc rc = one_delivery(out, tb_query(b, TB_SQL_DELIVERY_BY_REF), ref, mem, err);

    return rc == TB_ENOTFOUND ? tb_fail(err, rc, "there is no delivery %s", ref) : rc;
}

tb_rc tb_delivery_list(struct tb_delivery **out, size_t *n, struct tb_book *b, const char *from,
                       const char *until, struct tb_arena *mem, struct tb_err *err)
{
    struct tb_stmt *q = tb_query(b, TB_SQL_DELIVERY_BETWEEN);
    tb_rc rc;

    tb_bind_text(q, 1, from);
    tb_bind_text(q, 2, until);
    TB_LIST(rc, out, n, q, struct tb_delivery, take_delivery, mem, err);
    return rc;
}

/* The reference number: site code, two digits of the year of arrival, counted through the year. */
static tb_rc next_ref(struct tb_delivery *d, int64_t *year, int64_t *serial, struct tb_book *b,
                      struct tb_arena *mem, struct tb_err *err)
{
    struct tb_stmt *q = tb_query(b, TB_SQL_DELIVERY_LAST_SERIAL);
    char ref[40];
    tb_rc rc;

    *year = strtol(d->arrived, NULL, 10);
    *serial = 0;
    tb_bind_text(q, 1, tb_book_site(b)->id);
    tb_bind_whole(q, 2, *year);
    rc = tb_ask_whole(serial, q, err);
    if (rc != TB_OK && rc != TB_ENOTFOUND)
        return rc;
    ++*serial;
    (void)snprintf(ref, sizeof ref, "%s%02d-%03lld", tb_book_site(b)->code, (int)(*year % 100),
                   (long long)*serial);
    d->ref = tb_arena_strdup(mem, ref);
    return TB_OK;
}

static void or_empty(const char **field)
{
    if (!*field)
        *field = "";
}

tb_rc tb_delivery_add(struct tb_delivery *d, struct tb_book *b, struct tb_arena *mem, struct tb_err *err)
{
    char id[TB_ID_LEN + 1];
    int64_t year, serial;
    struct tb_stmt *q;
    tb_rc rc;

    if (!tb_day_valid(d->arrived))
        return tb_fail(err, TB_EINVAL, "the day of arrival '%s' is no day (YYYY-MM-DD)",
                       d->arrived ? d->arrived : "");
    if (d->note_day && !tb_day_valid(d->note_day))
        return tb_fail(err, TB_EINVAL, "the date of the note '%s' is no day (YYYY-MM-DD)", d->note_day);
    if ((rc = next_ref(d, &year, &serial, b, mem, err)) != TB_OK)
        return rc;
    for (const char **f[] = { &d->note, &d->order_no, &d->file_name, &d->file_digest, &d->remark }, ***p = f;
         p < f + TB_COUNT(f); p++)
        or_empty(*p);
    tb_id_make(id);
    d->id = tb_arena_strdup(mem, id);
    q = tb_query(b, TB_SQL_DELIVERY_ADD);
    tb_bind_text(q, 1, d->id);
    tb_bind_text(q, 2, d->ref);
    tb_bind_text(q, 3, tb_book_site(b)->id);
    tb_bind_whole(q, 4, year);
    tb_bind_whole(q, 5, serial);
    tb_bind_text(q, 6, d->supplier);
    tb_bind_text(q, 7, d->note);
    tb_bind_text(q, 8, d->order_no);
    tb_bind_text(q, 9, d->note_day);
    tb_bind_text(q, 10, d->arrived);
    tb_bind_text(q, 11, tb_book_now(b));
    tb_bind_text(q, 12, tb_book_person(b));
    tb_bind_text(q, 13, d->file_name);
    tb_bind_text(q, 14, d->file_digest);
    tb_bind_text(q, 15, d->remark);
    tb_bind_whole(q, 16, tb_entry(b));
    return tb_run(q, err);
}

tb_rc tb_declaration_add(struct tb_book *b, const char *lot_id, const char *text, const char *origin,
                         const char *replaces, struct tb_err *err)
{
    struct tb_stmt *q = tb_query(b, TB_SQL_DECLARATION_ADD);
    struct tb_text reading = { 0 }, doubts = { 0 };
    struct tb_declaration d = { 0 };
    char id[TB_ID_LEN + 1];
    tb_rc rc;

    tb_declaration_read(&d, text, strlen(text));
    tb_composition_print(&reading, &d.comp);
    for (size_t i = 0; i < d.n; i++)
        tb_text_addf(&doubts, "%s%s", i ? "\n" : "", d.doubt[i].say);
    tb_id_make(id);
    tb_bind_text(q, 1, id);
    tb_bind_text(q, 2, lot_id);
    tb_bind_text(q, 3, text);
    tb_bind_text(q, 4, tb_text_str(&reading));
    tb_bind_whole(q, 5, tb_declaration_clear(&d));
    tb_bind_text(q, 6, tb_text_str(&doubts));
    tb_bind_text(q, 7, origin);
    tb_bind_text(q, 8, replaces);
    tb_bind_whole(q, 9, tb_entry(b));
    rc = tb_run(q, err);
    tb_declaration_free(&d);
    tb_text_free(&reading);
    tb_text_free(&doubts);
    return rc;
}

static void take_declared(struct tb_declared *c, struct tb_stmt *q, struct tb_arena *mem)
{
    c->id = tb_col_text(q, 0, mem);
    c->text = tb_col_text(q, 1, mem);
    c->reading = tb_col_text(q, 2, mem);
    c->doubts = tb_col_text(q, 3, mem);
    c->origin = tb_col_text(q, 4, mem);
    c->replaces = tb_col_text(q, 5, mem);
    c->clear = tb_col_whole(q, 6) != 0;
    c->at = tb_col_text(q, 7, mem);
    c->person = tb_col_text(q, 8, mem);
}

tb_rc tb_declaration_list(struct tb_declared **out, size_t *n, struct tb_book *b, const char *lot_id,
                          struct tb_arena *mem, struct tb_err *err)
{
    struct tb_stmt *q = tb_query(b, TB_SQL_DECLARATION_HISTORY);
    tb_rc rc;

    tb_bind_text(q, 1, lot_id);
    TB_LIST(rc, out, n, q, struct tb_declared, take_declared, mem, err);
    return rc;
}

tb_rc tb_declaration_upto(const char **text, struct tb_book *b, const char *lot_id, int64_t upto,
                          struct tb_arena *mem, struct tb_err *err)
{
    struct tb_stmt *q = tb_query(b, TB_SQL_DECLARATION_OF_LOT);
    tb_rc rc;

    tb_bind_text(q, 1, lot_id);
    tb_bind_whole(q, 2, upto);
    rc = tb_row(q, err);
    if (rc == TB_OK || rc == TB_ENOTFOUND) {
        *text = rc == TB_OK ? tb_col_text(q, 1, mem) : "";
        rc = TB_OK;
    }
    tb_done(q);
    return rc;
}
