/* Has the book what a packing list brings already, in other bytes? And whose name is written so that it only looks the same? */
#include "base/say.h"
#include "tenterbook/utf8.h"
#include "work/receive.h"

#include <stdlib.h>
#include <string.h>

#define BOLTS_LOOKED 200 /* spread over a delivery: it is mostly there, or it is not */

/* --- names -------------------------------------------------------------------------------------------------------- */

static bool look_alike(const char *a, const char *b)
{
    bool alike = false;

    for (int capitals = 0; capitals < 2 && !alike; capitals++) {
        char *x = tb_looks(a, capitals), *y = tb_looks(b, capitals);

        alike = strcmp(x, y) == 0;
        free(x);
        free(y);
    }
    return alike;
}

/* A name that is not in the book, beside all that are. */
static tb_rc check_name(const char *name, struct tb_book *b, struct tb_arena *mem, struct tb_err *err)
{
    struct tb_supplier *all;
    size_t n;
    tb_rc rc = tb_supplier_list(&all, &n, b, mem, err);

    for (size_t i = 0; i < n && rc == TB_OK; i++)
        if (look_alike(all[i].name, name))
            return tb_about(
                err,
                tb_fail(err, TB_EEXISTS,
                        "the supplier's name looks like '%s', who is in the book, and is written in "
                        "other letters; name that one, or say that this is another supplier",
                        all[i].name),
                "supplier another-supplier");
    return rc;
}

/* --- deliveries --------------------------------------------------------------------------------------------------- */

static tb_rc note_twin(struct tb_receive_twin *twin, struct tb_book *b, const struct tb_list_delivery *d,
                       struct tb_arena *mem, struct tb_err *err)
{
    struct tb_delivery_goods goods = { 0 };
    tb_rc rc = tb_delivery_sum(&goods, b, twin->there.id, err);

    (void)mem;
    twin->lots = goods.lots;
    twin->bolts = goods.bolts;
    twin->metres = goods.metres;
    twin->unknown = goods.unknown;
    twin->here = d;
    return rc;
}

tb_rc tb_receive_beside(struct tb_receive_twin *twin, struct tb_book *b, const char *ref,
                        struct tb_arena *mem, struct tb_err *err)
{
    tb_rc rc = tb_delivery_find(&twin->there, b, ref, mem, err);

    return rc == TB_OK ? note_twin(twin, b, NULL, mem, err) : rc;
}

static tb_rc same_note(struct tb_receive_twin *twin, struct tb_book *b, const struct tb_list_delivery *d,
                       const char *supplier, struct tb_arena *mem, struct tb_err *err)
{
    tb_rc rc = *d->note ? tb_delivery_of_note(&twin->there, b, supplier, d->note, mem, err) : TB_ENOTFOUND;

    if (rc != TB_OK)
        return rc == TB_ENOTFOUND ? TB_OK : rc;
    if ((rc = note_twin(twin, b, d, mem, err)) != TB_OK)
        return rc;
    return tb_about(
        err,
        tb_fail(err, TB_EEXISTS,
                "note %s of %s was taken in before, as %s; say why it comes again, if it is another "
                "delivery",
                d->note, twin->there.supplier_name, twin->there.ref),
        "again why");
}

/* How often each delivery of the book was met. */
struct met {
    const char *ref;
    size_t times;
};

static void meet(struct met *met, size_t *n, const char *ref, struct tb_arena *mem)
{
    size_t i = 0;

    while (i < *n && strcmp(met[i].ref, ref) != 0)
        i++;
    if (i == *n && *n < BOLTS_LOOKED)
        met[(*n)++] = (struct met){ tb_arena_strdup(mem, ref), 0 };
    if (i < *n)
        met[i].times++;
}

/* The delivery that most of the bolts looked at are of, with number and length; NULL: there is none. */
static tb_rc most_met(const char **ref, struct tb_receive_twin *twin, struct tb_book *b,
                      const struct tb_packing_list *l, uint32_t delivery, const char *supplier,
                      struct tb_arena *mem, struct tb_err *err)
{
    struct met met[BOLTS_LOOKED];
    size_t mets = 0, step = l->delivery[delivery].bolts / BOLTS_LOOKED + 1, place = 0;
    tb_rc rc = TB_OK;

    *ref = NULL;
    twin->same = twin->looked = 0;
    for (size_t i = 0; i < l->bolts && rc == TB_OK; i++) {
        const char **of;
        size_t n;

        if (l->lot[l->bolt[i].lot].delivery != delivery || place++ % step)
            continue;
        twin->looked++;
        rc = tb_deliveries_of_bolt(&of, &n, b, supplier, l->bolt[i].number, l->bolt[i].metres, mem, err);
        for (size_t k = 0; rc == TB_OK && k < n; k++)
            meet(met, &mets, of[k], mem);
    }
    for (size_t i = 0; i < mets; i++)
        if (met[i].times > twin->same && 2 * met[i].times > twin->looked) {
            twin->same = met[i].times;
            *ref = met[i].ref;
        }
    return rc;
}

static tb_rc same_bolts(struct tb_receive_twin *twin, struct tb_book *b, const struct tb_packing_list *l,
                        uint32_t delivery, const char *supplier, struct tb_arena *mem, struct tb_err *err)
{
    const char *ref;
    tb_rc rc = most_met(&ref, twin, b, l, delivery, supplier, mem, err);

    if (rc != TB_OK || !ref)
        return rc;
    if ((rc = tb_delivery_find(&twin->there, b, ref, mem, err)) != TB_OK ||
        (rc = note_twin(twin, b, &l->delivery[delivery], mem, err)) != TB_OK)
        return rc;
    return tb_about(
        err,
        tb_fail(err, TB_EEXISTS,
                "%zu of %zu bolts looked at have the numbers and lengths of those of %s; say why they "
                "come again, if it is another delivery",
                twin->same, twin->looked, ref),
        "again why");
}

bool tb_receive_explained(const struct tb_receive_request *r)
{
    return r->again && r->why && *r->why;
}

/* The very same file was asked about before. */
static tb_rc is_known(bool *out, const struct tb_packing_list *l, struct tb_book *b, struct tb_arena *mem,
                      struct tb_err *err)
{
    struct tb_delivery d;
    tb_rc rc = tb_delivery_by_file(&d, b, l->digest, mem, err);

    *out = rc == TB_OK;
    return rc == TB_ENOTFOUND ? TB_OK : rc;
}

/* A name that is not in the book. *like is the supplier in it who has nearly that name: its goods may be the same; else untouched. */
static tb_rc new_supplier(struct tb_supplier *like, struct tb_receive_outcome *out, struct tb_book *b,
                          const char *name, bool another, struct tb_arena *mem, struct tb_err *err)
{
    tb_rc rc = another ? TB_OK : check_name(name, b, mem, err);

    if (rc != TB_OK || another || (rc = tb_receive_near(out, b, name, mem, err)) != TB_OK || !out->near ||
        strcmp(out->near_to, name) != 0)
        return rc;
    return tb_supplier_find(like, b, out->near, mem, err);
}

tb_rc tb_receive_twice(struct tb_receive_outcome *out, struct tb_book *b, const struct tb_receive_request *r,
                       struct tb_arena *mem, struct tb_err *err)
{
    const struct tb_packing_list *l = &out->list;
    bool known = false;
    tb_rc rc = is_known(&known, l, b, mem, err);

    for (uint32_t i = 0; i < l->deliveries && rc == TB_OK; i++) {
        const struct tb_list_delivery *d = &l->delivery[i];
        struct tb_supplier s = { 0 };

        rc = tb_supplier_find(&s, b, d->supplier, mem, err);
        if (rc == TB_ENOTFOUND &&
            (rc = new_supplier(&s, out, b, d->supplier, r->another, mem, err)) == TB_OK && !s.id)
            continue;
        if (rc == TB_OK && !known && !tb_receive_explained(r) &&
            (rc = same_note(&out->twin, b, d, s.id, mem, err)) == TB_OK)
            rc = same_bolts(&out->twin, b, l, i, s.id, mem, err);
    }
    if (rc == TB_OK)
        out->twin = (struct tb_receive_twin){ 0 };
    return rc;
}
