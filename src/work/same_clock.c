/* What becomes of the days to tell a supplier when two spellings are made one, or parted. */
#include "work/same.h"

#include "tenterbook/lot_claim.h"

#include <string.h>

struct walk {
    struct tb_clocks *to;
    struct tb_arena *mem;
};

static tb_rc take(void *arg, const struct tb_lot *lot, struct tb_err *err)
{
    struct walk *w = arg;
    struct tb_clocks *c = w->to;

    (void)err;
    TB_ARENA_ROOM(w->mem, c->lot, c->n, c->cap);
    c->lot[c->n++] = (struct tb_clock_moved){ .lot = tb_arena_strdup(w->mem, lot->ref) };
    return TB_OK;
}

static tb_rc days_of(const char **arrival, const char **hidden, struct tb_job *j, const char *ref)
{
    struct tb_lot lot;
    struct tb_claim c;
    char today[TB_DAY_LEN + 1];
    tb_rc rc = tb_lot_find(&lot, j->b, ref, j->mem, j->err);

    tb_today(today);
    if (rc != TB_OK || (rc = tb_claim_of_lot(&c, j->b, &lot, today, j->mem, j->err)) != TB_OK)
        return rc;
    *arrival = tb_arena_strdup(j->mem, c.clock.arrival.day);
    *hidden = tb_arena_strdup(j->mem, c.clock.discovery.day);
    return TB_OK;
}

tb_rc tb_clocks_before(struct tb_clocks *out, struct tb_job *j, const char *supplier_id)
{
    struct walk w = { out, j->mem };
    tb_rc rc = tb_lot_each(j->b, &(struct tb_lot_filter){ .supplier = supplier_id }, take, &w, j->err);

    for (size_t i = 0; i < out->n && rc == TB_OK; i++)
        rc = days_of(&out->lot[i].arrival_was, &out->lot[i].hidden_was, j, out->lot[i].lot);
    return rc;
}

tb_rc tb_clocks_moved(struct tb_same_outcome *out, struct tb_clocks *before, struct tb_job *j)
{
    tb_rc rc = TB_OK;

    out->moved = before->lot;
    out->moveds = 0;
    for (size_t i = 0; i < before->n && rc == TB_OK; i++) {
        struct tb_clock_moved *m = &before->lot[i];

        rc = days_of(&m->arrival, &m->hidden, j, m->lot);
        if (rc == TB_OK && (strcmp(m->arrival, m->arrival_was) != 0 || strcmp(m->hidden, m->hidden_was) != 0))
            out->moved[out->moveds++] = *m;
    }
    return rc;
}

tb_rc tb_set_for(struct tb_set_for *out, struct tb_job *j, const char *supplier_id)
{
    struct tb_supplier_term *all;
    size_t n;
    tb_rc rc = tb_supplier_terms(&all, &n, j->b, supplier_id, j->mem, j->err);

    *out = (struct tb_set_for){ 0 };
    if (rc == TB_OK && n && all[0].supplier)
        out->terms = all[0];
    return rc == TB_OK ? tb_address_of(&out->address, j->b, supplier_id, j->mem, j->err) : rc;
}
