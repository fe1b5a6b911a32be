/* Lots and their bolts. */
#include "book/db.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static void take_lot(struct tb_lot *l, struct tb_stmt *q, struct tb_arena *mem)
{
    int c = 0;

    l->id = tb_col_text(q, c++, mem);
    l->ref = tb_col_text(q, c++, mem);
    l->delivery = tb_col_text(q, c++, mem);
    l->article = tb_col_text(q, c++, mem);
    l->colour = tb_col_text(q, c++, mem);
    l->dye_lot = tb_col_text(q, c++, mem);
    l->origin = tb_col_text(q, c++, mem);
    l->unit_price = tb_col_number(q, c++);
    l->currency = tb_col_text(q, c++, mem);
    l->bolts = tb_col_whole(q, c++);
    l->metres = tb_col_number(q, c++);
    l->delivery_ref = tb_col_text(q, c++, mem);
    l->arrived = tb_col_text(q, c++, mem);
    l->supplier = tb_col_text(q, c++, mem);
    l->supplier_name = tb_col_text(q, c++, mem);
    l->declared = tb_col_text(q, c++, mem);
    l->reading = tb_col_text(q, c++, mem);
    l->clear = tb_col_whole(q, c++) != 0;
    l->doubts = tb_col_text(q, c++, mem);
    l->declaration = tb_col_text(q, c++, mem);
    l->standing = tb_col_text(q, c++, mem);
    l->verdict = tb_col_text(q, c++, mem);
    l->log_ratio = tb_col_number(q, c++);
    l->bolts_burnt = tb_col_whole(q, c++);
    l->burns = tb_col_whole(q, c++);
}

static tb_rc lot_by_ref(struct tb_lot *out, struct tb_book *b, const char *ref, struct tb_arena *mem,
                        struct tb_err *err)
{
    struct tb_stmt *q = tb_query(b, TB_SQL_LOT_BY_REF);
    tb_rc rc;

    tb_bind_text(q, 1, ref);
    rc = tb_row(q, err);
    if (rc == TB_OK)
        take_lot(out, q, mem);
    tb_done(q);
    return rc;
}

/* The lot that has this bolt; several is a question to the person, not a choice of ours. */
static tb_rc ref_by_bolt(const char **ref, struct tb_book *b, const char *number, struct tb_arena *mem,
                         struct tb_err *err)
{
    struct tb_stmt *q = tb_query(b, TB_SQL_LOT_REFS_BY_BOLT);
    struct tb_text all = { 0 };
    size_t n = 0;
    tb_rc rc;

    tb_bind_text(q, 1, number);
    while ((rc = tb_row(q, err)) == TB_OK) {
        *ref = tb_col_text(q, 0, mem);
        tb_text_addf(&all, "%s%s", n++ ? ", " : "", *ref);
    }
    tb_done(q);
    if (rc == TB_ENOTFOUND)
        rc = n == 1  ? TB_OK
             : n > 1 ? tb_fail(err, TB_EINVAL, "bolt %s is in several lots: %s; name the lot", number, all.s)
                     : tb_fail(err, TB_ENOTFOUND, "there is no lot and no bolt %s in this book", number);
    tb_text_free(&all);
    return rc;
}

tb_rc tb_lot_find(struct tb_lot *out, struct tb_book *b, const char *ref_or_bolt, struct tb_arena *mem,
                  struct tb_err *err)
{
    const char *ref = NULL;
    tb_rc rc = lot_by_ref(out, b, ref_or_bolt, mem, err);

    if (rc != TB_ENOTFOUND)
        return rc;
    if ((rc = ref_by_bolt(&ref, b, ref_or_bolt, mem, err)) != TB_OK)
        return rc;
    return lot_by_ref(out, b, ref, mem, err);
}

tb_rc tb_lot_each(struct tb_book *b, const struct tb_lot_filter *filter, tb_lot_fn *fn, void *arg,
                  struct tb_err *err)
{
    static const struct tb_lot_filter everything = { 0 };
    const struct tb_lot_filter *f = filter ? filter : &everything;
    struct tb_stmt *q = tb_query(b, TB_SQL_LOT_WHERE);
    struct tb_arena mem = { 0 };
    tb_rc rc;

    tb_bind_text(q, 1, f->from);
    tb_bind_text(q, 2, f->until);
    tb_bind_text(q, 3, f->supplier);
    tb_bind_text(q, 4, f->standing);
    tb_bind_text(q, 5, f->delivery);
    while ((rc = tb_row(q, err)) == TB_OK) {
        struct tb_lot lot;

        tb_arena_free(&mem);
        take_lot(&lot, q, &mem);
        if ((rc = fn(arg, &lot, err)) != TB_OK)
            break;
    }
    tb_done(q);
    tb_arena_free(&mem);
    return rc == TB_ENOTFOUND ? TB_OK : rc;
}

tb_rc tb_lot_add(struct tb_lot *lot, struct tb_book *b, const struct tb_delivery *d, int64_t serial,
                 struct tb_arena *mem, struct tb_err *err)
{
    struct tb_stmt *q = tb_query(b, TB_SQL_LOT_ADD);
    char id[TB_ID_LEN + 1], ref[48];

    tb_id_make(id);
    (void)snprintf(ref, sizeof ref, "%s.%02lld", d->ref, (long long)serial);
    lot->id = tb_arena_strdup(mem, id);
    lot->ref = tb_arena_strdup(mem, ref);
    lot->delivery = d->id;
    tb_bind_text(q, 1, lot->id);
    tb_bind_text(q, 2, lot->ref);
    tb_bind_text(q, 3, lot->delivery);
    tb_bind_whole(q, 4, serial);
    tb_bind_text(q, 5, lot->article ? lot->article : "");
    tb_bind_text(q, 6, lot->colour ? lot->colour : "");
    tb_bind_text(q, 7, lot->dye_lot ? lot->dye_lot : "");
    tb_bind_text(q, 8, lot->origin ? lot->origin : "");
    tb_bind_number(q, 9, lot->unit_price);
    tb_bind_text(q, 10, lot->currency ? lot->currency : "");
    tb_bind_whole(q, 11, lot->bolts);
    tb_bind_number(q, 12, lot->metres);
    tb_bind_whole(q, 13, tb_entry(b));
    return tb_run(q, err);
}

tb_rc tb_bolt_add(const struct tb_bolt *bolt, struct tb_book *b, struct tb_err *err)
{
    struct tb_stmt *q;
    char id[TB_ID_LEN + 1];

    if (!(bolt->metres > 0 && isfinite(bolt->metres)))
        return tb_fail(err, TB_EINVAL, "bolt %s is %g m long; a length is above 0", bolt->number,
                       bolt->metres);
    q = tb_query(b, TB_SQL_BOLT_ADD);
    tb_id_make(id);
    tb_bind_text(q, 1, id);
    tb_bind_text(q, 2, bolt->lot);
    tb_bind_text(q, 3, bolt->number);
    tb_bind_number(q, 4, bolt->metres);
    tb_bind_number(q, 5, bolt->width_cm);
    tb_bind_number(q, 6, bolt->mass_gm2);
    tb_bind_text(q, 7, bolt->said ? bolt->said : "");
    tb_bind_whole(q, 8, tb_entry(b));
    return tb_run(q, err);
}

void tb_take_bolt(struct tb_bolt *o, struct tb_stmt *q, struct tb_arena *mem)
{
    o->id = tb_col_text(q, 0, mem);
    o->lot = tb_col_text(q, 1, mem);
    o->number = tb_col_text(q, 2, mem);
    o->metres = tb_col_number(q, 3);
    o->width_cm = tb_col_number(q, 4);
    o->mass_gm2 = tb_col_number(q, 5);
    o->said = tb_col_text(q, 6, mem);
    o->lot_ref = tb_col_text(q, 7, mem);
}

tb_rc tb_bolt_list(struct tb_bolt **out, size_t *n, struct tb_book *b, const char *lot_id,
                   struct tb_arena *mem, struct tb_err *err)
{
    struct tb_stmt *q = tb_query(b, TB_SQL_BOLT_OF_LOT);
    tb_rc rc;

    tb_bind_text(q, 1, lot_id);
    TB_LIST(rc, out, n, q, struct tb_bolt, tb_take_bolt, mem, err);
    return rc;
}

tb_rc tb_bolt_find(struct tb_bolt *out, struct tb_book *b, const char *lot_id, const char *number,
                   struct tb_arena *mem, struct tb_err *err)
{
    struct tb_stmt *q = tb_query(b, TB_SQL_BOLT_BY_LOT_AND_NUMBER);
    tb_rc rc;

    tb_bind_text(q, 1, lot_id);
    tb_bind_text(q, 2, number);
    rc = tb_row(q, err);
    if (rc == TB_OK)
        tb_take_bolt(out, q, mem);
    tb_done(q);
    return rc == TB_ENOTFOUND ? tb_fail(err, rc, "the lot has no bolt %s", number) : rc;
}
