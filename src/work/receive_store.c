/* A packing list that was read, written down: deliveries, then lots with their declarations, then bolts. */
#include "tenterbook/attachment.h"
#include "work/receive.h"
#include "work/supplier_name.h"

#include <math.h>

#define PROGRESS_EVERY 8192
#define SUBJECTS_MOST 20 /* references named in the journal row; a row is no list */

struct storing {
    struct tb_book *b;
    const struct tb_receive_request *request;
    struct tb_receive_outcome *out;
    struct tb_arena *mem;
    struct tb_delivery *delivery;
    const char **lot_id;
};

static tb_rc store_deliveries(struct storing *s, struct tb_err *err)
{
    const struct tb_packing_list *list = &s->out->list;
    const char *file = tb_file_name(tb_receive_name(s->request), s->mem);
    struct tb_text subject = { 0 };
    tb_rc rc = TB_OK;

    for (size_t i = 0; rc == TB_OK && i < list->deliveries; i++) {
        const struct tb_list_delivery *from = &list->delivery[i];
        struct tb_delivery *d = &s->delivery[i];
        struct tb_supplier supplier;
        bool another = s->request->another;

        for (size_t k = 0; k < i && another; k++) /* of several notes the first one brought the supplier in */
            another = !tb_supplier_spelled(list->delivery[k].supplier, from->supplier);
        if ((rc = tb_supplier_store(&supplier, s->b, from->supplier, another, s->mem, err)) != TB_OK)
            break;
        *d = (struct tb_delivery){ .supplier = supplier.id,
                                   .note = from->note,
                                   .order_no = from->order,
                                   .note_day = from->day[0] ? from->day : NULL,
                                   .arrived = s->out->arrived,
                                   .file_name = file,
                                   .file_digest = list->digest,
                                   .remark = s->out->remark };
        rc = tb_delivery_add(d, s->b, s->mem, err);
        s->out->delivery[i] = d->ref;
        if (rc == TB_OK && i < SUBJECTS_MOST)
            tb_text_addf(&subject, "%s%s", i ? " " : "", d->ref);
    }
    if (rc == TB_OK)
        tb_book_subject(s->b, tb_text_str(&subject));
    tb_text_free(&subject);
    return rc;
}

/* A price a yard or a kilogram stays what the invoice says, so that what is shown multiplies. */
static tb_rc store_price(struct tb_book *b, const struct tb_list_lot *from, const char *lot_id,
                         struct tb_err *err)
{
    double metres = tb_unit_metres(from->price_unit);

    return tb_lot_price_add(&(struct tb_invoiced){ .price = from->price,
                                                   .unit = tb_unit_key(from->price_unit),
                                                   .unit_metres = metres > 0 ? metres : (double)NAN,
                                                   .currency = from->currency },
                            b, lot_id, err);
}

/* Numbers of lots begin at 1 in each delivery; the list may hold lots of several deliveries in any order. */
static tb_rc store_lots(struct storing *s, struct tb_err *err)
{
    const struct tb_packing_list *list = &s->out->list;
    int64_t *serial = tb_arena_alloc(s->mem, (list->deliveries + 1) * sizeof *serial);
    tb_rc rc = TB_OK;

    for (size_t i = 0; rc == TB_OK && i < list->lots; i++) {
        const struct tb_list_lot *from = &list->lot[i];
        double price = tb_price_per_metre(from);
        struct tb_lot lot = { .article = from->article,
                              .colour = from->shade,
                              .dye_lot = from->dye_lot,
                              .origin = from->origin,
                              .unit_price = price,
                              .currency = isnan(price) ? "" : from->currency,
                              .bolts = from->bolts,
                              .metres = from->unknown == from->bolts ? (double)NAN : from->metres,
                              .kg = from->kg,
                              .derived = from->derived,
                              .unknown = from->unknown,
                              .weight_kg = from->weight_kg,
                              .weighed = from->weighed };

        rc = tb_lot_add(&lot, s->b, &s->delivery[from->delivery], ++serial[from->delivery], s->mem, err);
        if (rc == TB_OK && !isnan(from->price) && from->price_unit != TB_UNIT_M)
            rc = store_price(s->b, from, lot.id, err);
        if (rc == TB_OK && *from->declared)
            rc = tb_declaration_add(s->b, lot.id, from->declared, from->declared_from, NULL, err);
        s->lot_id[i] = lot.id;
        s->out->lot[i] = lot.ref;
    }
    return rc;
}

/* The list keeps widths and masses in single precision; 144.78 must not come out as 144.779998779297. */
static double hundredths(float v)
{
    return round((double)v * 100) / 100;
}

/* A million bolts in one transaction: their index by number is built once, at the end. */
static tb_rc store_bolts(struct storing *s, struct tb_err *err)
{
    const struct tb_packing_list *l = &s->out->list;
    tb_rc rc = tb_bolts_begin(s->b, (int64_t)l->bolts, err);

    for (size_t i = 0; rc == TB_OK && i < l->bolts; i++) {
        const struct tb_list_bolt *from = &l->bolt[i];
        const struct tb_bolt bolt = { .lot = s->lot_id[from->lot],
                                      .number = from->number,
                                      .metres = from->metres,
                                      .width_cm = hundredths(from->width_cm),
                                      .mass_gm2 = hundredths(from->mass_gsm),
                                      .kg = from->kg,
                                      .derived = from->derived,
                                      .weight_kg = from->weight_kg,
                                      .said = from->said };

        rc = tb_bolt_add(&bolt, s->b, err);
        if (i % PROGRESS_EVERY == 0 && s->request->progress)
            s->request->progress(s->request->progress_arg, i, l->bolts);
    }
    return rc == TB_OK ? tb_bolts_end(s->b, err) : rc;
}

tb_rc tb_receive_store(struct tb_receive_outcome *out, struct tb_book *b,
                       const struct tb_receive_request *request, struct tb_arena *mem, struct tb_err *err)
{
    const struct tb_packing_list *list = &out->list;
    struct storing s = { .b = b, .request = request, .out = out, .mem = mem };
    tb_rc rc;

    s.delivery = tb_arena_alloc(mem, (list->deliveries + 1) * sizeof *s.delivery);
    s.lot_id = tb_arena_alloc(mem, (list->lots + 1) * sizeof *s.lot_id);
    out->delivery = tb_arena_alloc(mem, (list->deliveries + 1) * sizeof *out->delivery);
    out->lot = tb_arena_alloc(mem, (list->lots + 1) * sizeof *out->lot);
    rc = store_deliveries(&s, err);
    if (rc == TB_OK)
        rc = store_lots(&s, err);
    return rc == TB_OK ? store_bolts(&s, err) : rc;
}
