/* What was written down wrongly of a delivery, put right: the old value stays in the book. */
#include "tenterbook/act_amend.h"

#include "base/say.h"
#include "work/act.h"
#include "work/amend_odds.h"
#include "work/moment.h"
#include "work/supplier_name.h"

#include <string.h>

#define FIELDS 7 /* that can be amended */

struct amending {
    struct tb_amendment field[FIELDS];
    size_t n;
    struct tb_supplier supplier; /* that it is of now; id NULL: a new one, or it stays */
    struct tb_lot *lot;          /* that count; what is used of them is in mem */
    struct tb_unit_change *unit; /* of each; NULL: the unit stays */
    size_t lots, cap;
    struct tb_arena *mem;
};

static tb_rc take_lot(void *arg, const struct tb_lot *lot, struct tb_err *err)
{
    struct amending *w = arg;

    (void)err;
    TB_ARENA_ROOM(w->mem, w->lot, w->lots, w->cap);
    w->lot[w->lots] = *lot;
    w->lot[w->lots].id = tb_arena_strdup(w->mem, lot->id);
    w->lot[w->lots].ref = tb_arena_strdup(w->mem, lot->ref);
    w->lot[w->lots].arrived = tb_arena_strdup(w->mem, lot->arrived);
    w->lots++;
    return TB_OK;
}

/* What changes; what is so already is not recorded. */
static void change(struct amending *w, const char *field, const char *old, const char *new)
{
    if (new &&strcmp(new, old) != 0)
        w->field[w->n++] = (struct tb_amendment){ .field = field, .old = old, .new = new };
}

static tb_rc check_days(const struct tb_amend_request *r, struct tb_job *j)
{
    const char *day;
    tb_rc rc = TB_OK;

    if (r->arrived && (!tb_day_valid(r->arrived) || !tb_day_recorded(r->arrived)))
        return tb_fail(j->err, TB_EINVAL, "the day of arrival '%s' is not a valid date (YYYY-MM-DD)",
                       r->arrived);
    if (r->arrived && (rc = tb_past_day(&day, r->arrived, j->mem, j->err)) != TB_OK)
        return tb_within(j->err, rc, "goods that are still to come were not received");
    if (r->note_day && *r->note_day && (!tb_day_valid(r->note_day) || !tb_day_recorded(r->note_day)))
        return tb_fail(j->err, TB_EINVAL, "the date of the note '%s' is not a valid date (YYYY-MM-DD)",
                       r->note_day);
    if (r->unit && strcmp(r->unit, "yd") != 0 && strcmp(r->unit, "m") != 0 && strcmp(r->unit, "read") != 0)
        return tb_about(
            j->err,
            tb_fail(j->err, TB_EINVAL,
                    "'%s' is not a unit to amend; it is yd (they were yards), m (they were metres) "
                    "or read (as they were read)",
                    r->unit),
            "unit");
    return TB_OK;
}

/* That goods were received unexamined was so, whatever else is said of them now. */
static const char *remark_of(const char *now, const char *old, struct tb_arena *mem)
{
    if (!now || strncmp(old, TB_UNEXAMINED, strlen(TB_UNEXAMINED)) != 0 || strcasestr(now, "examined"))
        return now;
    return *now ? tb_arena_printf(mem, TB_UNEXAMINED "; %s", now) : TB_UNEXAMINED;
}

/* Whoever it is now may have a delivery with its note: nobody could tell the two apart. */
static tb_rc check_supplier(struct tb_job *j, const struct tb_delivery *d)
{
    const struct tb_amend_request *r = j->request;
    struct tb_amend_outcome *out = j->out;
    struct amending *w = j->own;
    const char *note = r->note ? r->note : d->note, *id = d->supplier, *day;
    struct tb_delivery there;
    tb_rc rc;

    if (r->supplier) {
        if ((rc = tb_supplier_named(&w->supplier, &out->seen, j->b, r->supplier, r->another, j->mem,
                                    j->err)) != TB_OK)
            return rc;
        out->fresh = !w->supplier.id;
        id = w->supplier.id;
        change(w, "supplier", d->supplier_name, out->fresh ? r->supplier : w->supplier.name);
    }
    if (r->again || !id || (!r->supplier && !r->note))
        return TB_OK;
    if ((rc = tb_note_taken(&there, j->b, id, note, d->id, j->mem, j->err)) != TB_OK)
        return rc;
    day = r->note_day ? r->note_day : d->note_day ? d->note_day : "";
    return tb_note_nearly_taken(&there, j->b, id, note, day, d->ref, j->mem, j->err);
}

/*
 * Lists may differ in what their figures were taken for, so each lot has its own way. What a list says of itself is known to
 * nobody here but by what it was read as: whoever says otherwise sees first what comes of it.
 */
static tb_rc change_unit(struct tb_job *j)
{
    const struct tb_amend_request *r = j->request;
    struct tb_amend_outcome *out = j->out;
    struct amending *w = j->own;
    bool differs = false, anew = false;
    tb_rc rc = TB_OK;

    w->unit = tb_arena_alloc(j->mem, (w->lots + 1) * sizeof *w->unit);
    out->metres_was = out->metres = 0;
    for (size_t i = 0; i < w->lots && rc == TB_OK; i++) {
        const struct tb_unit_change *u = &w->unit[i];

        if ((rc = tb_unit_change_of(&w->unit[i], j, &w->lot[i], r->unit)) != TB_OK)
            return rc;
        if (strcmp(u->old, u->new) != 0 && !differs) {
            change(w, "unit", u->old, u->new);
            differs = true;
        }
        anew = anew || (strcmp(u->old, u->new) != 0 && strcmp(u->new, "read") != 0);
        if (!out->odds && (rc = tb_odds_of_unit(&out->odds, j, &w->lot[i], u)) != TB_OK)
            return rc;
        out->metres_was += u->metres_was;
        out->metres += u->metres;
    }
    out->unit = differs;
    if (rc == TB_OK && anew && !r->knowing)
        rc = tb_about(
            j->err,
            tb_fail(j->err, TB_EREFUSED,
                    "the list of %s was read in another unit, and its lengths come to %.2f m so far; "
                    "with its figures in %s they come to %.2f m, and prices follow%s%s; say that the list "
                    "means that",
                    out->delivery.ref, out->metres_was, r->unit, out->metres, out->odds ? "; " : "",
                    out->odds ? out->odds : ""),
            "yes");
    return rc;
}

/* A day of arrival after something was done with the goods: one of the two is a slip. */
static tb_rc check_arrival(struct tb_job *j)
{
    const struct tb_amend_request *r = j->request;
    struct tb_amend_outcome *out = j->out;
    struct amending *w = j->own;
    const char *odds = NULL;
    tb_rc rc = TB_OK;

    for (size_t i = 0; i < w->lots && rc == TB_OK && !odds; i++)
        rc = tb_odds_of_day(&odds, j, &w->lot[i], r->arrived);
    if (rc == TB_OK && odds && !r->knowing)
        rc = tb_about(j->err,
                      tb_fail(j->err, TB_EREFUSED,
                              "%s, and delivery %s would have arrived only on %s; say that both are known",
                              odds, out->delivery.ref, r->arrived),
                      "yes");
    if (odds)
        out->odds = tb_arena_printf(j->mem, _("%s, before the goods came"), odds);
    return rc;
}

static tb_rc find_changes(struct tb_job *j, const struct tb_delivery *d)
{
    const struct tb_amend_request *r = j->request;
    struct amending *w = j->own;
    tb_rc rc;

    change(w, "arrived", d->arrived, r->arrived);
    change(w, "note", d->note, r->note);
    change(w, "order", d->order_no, r->order);
    change(w, "note_day", d->note_day ? d->note_day : "", r->note_day);
    change(w, "remark", d->remark, remark_of(r->remark, d->remark, j->mem));
    if (r->unit && (rc = change_unit(j)) != TB_OK)
        return rc;
    if (r->arrived && (rc = check_arrival(j)) != TB_OK)
        return rc;
    if ((rc = check_supplier(j, d)) != TB_OK)
        return rc;
    return w->n ? TB_OK : tb_fail(j->err, TB_EINVAL, "delivery %s is so already: nothing is amended", d->ref);
}

static bool asks_nothing(const struct tb_amend_request *r)
{
    return !r->arrived && !r->note && !r->order && !r->note_day && !r->remark && !r->supplier && !r->unit;
}

static tb_rc plan(struct tb_job *j)
{
    const struct tb_amend_request *r = j->request;
    struct tb_amend_outcome *out = j->out;
    struct amending *w = j->own;
    tb_rc rc;

    *out = (struct tb_amend_outcome){ 0 };
    *w = (struct amending){ .mem = j->mem };
    if (asks_nothing(r))
        return tb_fail(j->err, TB_EINVAL, "say what is amended of delivery %s", r->delivery);
    if (!r->why || !*r->why)
        return tb_about(
            j->err, tb_fail(j->err, TB_EINVAL, "say why it is amended: what stood there stays too"), "why");
    if (r->supplier && !*r->supplier)
        return tb_fail(j->err, TB_EINVAL, "the supplier has no name");
    if ((rc = tb_delivery_find(&out->delivery, j->b, r->delivery, j->mem, j->err)) != TB_OK ||
        (rc = check_days(r, j)) != TB_OK ||
        (rc = tb_lot_each(j->b, &(struct tb_lot_filter){ .delivery = out->delivery.id }, take_lot, w,
                          j->err)) != TB_OK)
        return rc;
    j->subject = out->delivery.ref;
    return find_changes(j, &out->delivery);
}

/* One row for each lot: its share shows what was amended of the delivery it came with. */
static tb_rc write_field(struct tb_job *j, struct tb_amendment *a)
{
    struct tb_amend_outcome *out = j->out;
    const struct amending *w = j->own;
    tb_rc rc = TB_OK;

    a->delivery = out->delivery.id;
    a->why = ((const struct tb_amend_request *)j->request)->why;
    for (size_t i = 0; i < w->lots && rc == TB_OK; i++) {
        a->lot = w->lot[i].id;
        if (strcmp(a->field, "unit") == 0) {
            if (strcmp(w->unit[i].old, w->unit[i].new) == 0)
                continue;
            a->old = w->unit[i].old;
            a->new = w->unit[i].new;
        }
        rc = tb_amendment_add(a, j->b, j->mem, j->err);
    }
    return rc;
}

static tb_rc write(struct tb_job *j)
{
    const struct tb_amend_request *r = j->request;
    struct tb_amend_outcome *out = j->out;
    struct amending *w = j->own;
    tb_rc rc = TB_OK;

    for (size_t i = 0; i < w->n && rc == TB_OK; i++) {
        bool supplier = strcmp(w->field[i].field, "supplier") == 0;

        if (supplier && out->fresh)
            rc = tb_supplier_store(&w->supplier, j->b, w->field[i].new, r->another, j->mem, j->err);
        if (supplier)
            w->field[i].supplier = w->supplier.id;
        if (rc == TB_OK)
            rc = write_field(j, &w->field[i]);
    }
    out->amendment = w->field;
    out->amendments = w->n;
    out->lots = w->lots;
    return rc == TB_OK ? tb_delivery_find(&out->delivery, j->b, out->delivery.ref, j->mem, j->err) : rc;
}

static const struct tb_said said[] = {
    TB_SAYS(tb_amend_request, delivery, N_("the delivery")),
    TB_SAYS_WHY(tb_amend_request),
    TB_SAYS(tb_amend_request, arrived, N_("the day of arrival")),
    TB_SAYS(tb_amend_request, note, N_("the number of the note")),
    TB_SAYS(tb_amend_request, order, N_("the number of the order")),
    TB_SAYS(tb_amend_request, note_day, N_("the date of the note")),
    TB_SAYS(tb_amend_request, remark, N_("the remark")),
    TB_SAYS(tb_amend_request, supplier, N_("the supplier")),
    TB_SAYS(tb_amend_request, unit, N_("the unit")),
    TB_SAYS_NO_MORE,
};

tb_rc tb_act_amend(struct tb_amend_outcome *out, const struct tb_actor *actor,
                   const struct tb_amend_request *request, struct tb_arena *mem, struct tb_err *err)
{
    static const struct tb_act act = { .verb = TB_VERB_AMEND,
                                       .plan = plan,
                                       .write = write,
                                       .size = sizeof(struct tb_amend_request),
                                       .said = said };
    struct amending *own = tb_arena_alloc(mem, sizeof *own);

    *out = (struct tb_amend_outcome){ 0 };
    return tb_act_do(&act, &(struct tb_job){ .request = request, .out = out, .mem = mem, .own = own }, actor,
                     err);
}
