/* A packing list into the book. */
#include "tenterbook/receive.h"
#include "tenterbook/utf8.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#define PROGRESS_EVERY 8192

double tb_price_per_metre(const struct tb_list_lot *lot)
{
    switch (lot->price_unit) {
    case TB_UNIT_M:
        return lot->price;
    case TB_UNIT_YD:
        return lot->price / 0.9144;
    case TB_UNIT_FT:
        return lot->price / 0.3048;
    default:
        return NAN; /* by weight: no price of a length */
    }
}

tb_rc tb_receive_seen(struct tb_book *b, const char *digest, struct tb_err *err)
{
    struct tb_arena mem = { 0 };
    struct tb_delivery d = { 0 };
    tb_rc rc = tb_delivery_by_file(&d, b, digest, &mem, err);

    if (rc == TB_OK)
        rc = tb_fail(err, TB_EEXISTS,
                     "this very file was taken in before, as %s on %.10s; --again takes it in once more",
                     d.ref, d.received_at);
    else if (rc == TB_ENOTFOUND)
        rc = TB_OK;
    tb_arena_free(&mem);
    return rc;
}

tb_rc tb_receive_words(struct tb_header_word **out, size_t *n, struct tb_book *b, struct tb_arena *mem,
                       struct tb_err *err)
{
    static const char prefix[] = "header:";
    struct tb_setting *setting;
    size_t settings;
    tb_rc rc = tb_setting_list(&setting, &settings, b, prefix, mem, err);

    *out = NULL;
    *n = 0;
    if (rc != TB_OK || settings == 0)
        return rc;
    *out = tb_arena_alloc(mem, settings * sizeof **out);
    for (size_t i = 0; i < settings; i++) {
        int field = tb_field_by_key(setting[i].value);

        if (!*setting[i].value)
            continue; /* set to nothing: forgotten again */
        if (field < 0)
            return tb_fail(
                err, TB_EINVAL,
                "the setting %s is '%s', which is no field of a packing list; set it to one of those that "
                "'tenterbook receive --help' lists",
                setting[i].name, setting[i].value);
        (*out)[(*n)++] = (struct tb_header_word){ setting[i].name + sizeof prefix - 1, (enum tb_field)field };
    }
    return TB_OK;
}

const char *tb_receive_remark(const char *said, struct tb_arena *mem)
{
    struct tb_text t = { 0 };
    const char *out;

    if (said && strcasestr(said, "examined"))
        return said;
    tb_text_addf(&t, "received unexamined%s%s", said && *said ? "; " : "", said ? said : "");
    out = tb_arena_strdup(mem, t.s);
    tb_text_free(&t);
    return out;
}

struct storing {
    struct tb_book *b;
    const struct tb_packing_list *list;
    const struct tb_receive_opts *opts;
    struct tb_arena *mem;
    struct tb_delivery *delivery;
    const char **lot_id;
    const char **ref, **lot_ref;
};

static tb_rc store_deliveries(struct storing *s, struct tb_err *err)
{
    const char *slash = strrchr(s->opts->file_name, '/');
    char today[TB_DAY_LEN + 1];
    struct tb_text subject = { 0 };
    tb_rc rc = TB_OK;

    tb_today(today);
    for (size_t i = 0; rc == TB_OK && i < s->list->deliveries; i++) {
        const struct tb_list_delivery *from = &s->list->delivery[i];
        struct tb_delivery *d = &s->delivery[i];
        const char *file = slash ? slash + 1 : s->opts->file_name;
        struct tb_supplier supplier;
        char *name;

        if ((rc = tb_supplier_ensure(&supplier, s->b, from->supplier, s->mem, err)) != TB_OK)
            break;
        name = tb_utf8_mend(file, strlen(file)); /* a folder takes any bytes for a name, the book does not */
        *d = (struct tb_delivery){ .supplier = supplier.id,
                                   .note = from->note,
                                   .order_no = from->order,
                                   .note_day = from->day[0] ? from->day : NULL,
                                   .arrived = s->opts->arrived ? s->opts->arrived : today,
                                   .file_name = tb_arena_strdup(s->mem, name),
                                   .file_digest = s->list->digest,
                                   .remark = tb_receive_remark(s->opts->remark, s->mem) };
        free(name);
        rc = tb_delivery_add(d, s->b, s->mem, err);
        s->ref[i] = d->ref;
        if (rc == TB_OK && i < 20)
            tb_text_addf(&subject, "%s%s", i ? " " : "", d->ref);
    }
    if (rc == TB_OK)
        tb_book_subject(s->b, tb_text_str(&subject));
    tb_text_free(&subject);
    return rc;
}

static tb_rc store_lots(struct storing *s, struct tb_err *err)
{
    int64_t *serial = tb_arena_alloc(s->mem, (s->list->deliveries + 1) * sizeof *serial);
    tb_rc rc = TB_OK;

    for (size_t i = 0; rc == TB_OK && i < s->list->lots; i++) {
        const struct tb_list_lot *from = &s->list->lot[i];
        double price = tb_price_per_metre(from);
        struct tb_lot lot = { .article = from->article,
                              .colour = from->shade,
                              .dye_lot = from->dye_lot,
                              .origin = from->origin,
                              .unit_price = price,
                              .currency = isnan(price) ? "" : from->currency,
                              .bolts = from->bolts,
                              .metres = from->metres };

        rc = tb_lot_add(&lot, s->b, &s->delivery[from->delivery], ++serial[from->delivery], s->mem, err);
        if (rc == TB_OK && *from->declared)
            rc = tb_declaration_add(s->b, lot.id, from->declared, from->declared_from, NULL, err);
        s->lot_id[i] = lot.id;
        s->lot_ref[i] = lot.ref;
    }
    return rc;
}

/* The list keeps widths and masses in single precision; 144.78 must not come out as 144.779998779297. */
static double hundredths(float v)
{
    return round((double)v * 100) / 100;
}

static tb_rc store_bolts(struct storing *s, struct tb_err *err)
{
    const struct tb_packing_list *l = s->list;
    tb_rc rc = tb_bolts_begin(s->b, (int64_t)l->bolts, err);

    for (size_t i = 0; rc == TB_OK && i < l->bolts; i++) {
        const struct tb_list_bolt *from = &l->bolt[i];
        const struct tb_bolt bolt = { .lot = s->lot_id[from->lot],
                                      .number = from->number,
                                      .metres = from->metres,
                                      .width_cm = hundredths(from->width_cm),
                                      .mass_gm2 = hundredths(from->mass_gsm),
                                      .said = from->said };

        rc = tb_bolt_add(&bolt, s->b, err);
        if (i % PROGRESS_EVERY == 0 && s->opts->progress)
            s->opts->progress(s->opts->progress_arg, i, l->bolts);
    }
    return rc == TB_OK ? tb_bolts_end(s->b, err) : rc;
}

tb_rc tb_receive(const char ***ref, const char ***lot, struct tb_book *b, const struct tb_packing_list *list,
                 const struct tb_receive_opts *opts, struct tb_arena *mem, struct tb_err *err)
{
    struct storing s = { .b = b, .list = list, .opts = opts, .mem = mem };
    tb_rc rc = tb_book_begin(b, opts->who, "receive", err);

    if (rc != TB_OK)
        return rc;
    s.delivery = tb_arena_alloc(mem, (list->deliveries + 1) * sizeof *s.delivery);
    s.ref = tb_arena_alloc(mem, (list->deliveries + 1) * sizeof *s.ref);
    s.lot_id = tb_arena_alloc(mem, (list->lots + 1) * sizeof *s.lot_id);
    s.lot_ref = tb_arena_alloc(mem, (list->lots + 1) * sizeof *s.lot_ref);
    /* looked up inside the transaction: two people may receive the same file at the same moment */
    rc = opts->again ? TB_OK : tb_receive_seen(b, list->digest, err);
    if (rc == TB_OK)
        rc = store_deliveries(&s, err);
    if (rc == TB_OK)
        rc = store_lots(&s, err);
    if (rc == TB_OK)
        rc = store_bolts(&s, err);
    if (rc == TB_OK)
        rc = tb_book_commit(b, err);
    if (rc != TB_OK) {
        tb_book_rollback(b);
        return rc;
    }
    *ref = s.ref;
    *lot = s.lot_ref;
    return TB_OK;
}
