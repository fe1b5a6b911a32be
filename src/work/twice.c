/* Has the book what a packing list brings already, in other bytes? */
#include "base/say.h"
#include "tenterbook/date.h"
#include "tenterbook/said.h"
#include "work/note_near.h"
#include "work/receive.h"
#include "work/supplier_name.h"

#include <stdlib.h>
#include <string.h>

#define DAYS_LOOKED                                                                                          \
    365 /* back for goods of other suppliers: an agent's copy of a mill's list comes soon after it */
#define BOLTS_OF_OTHERS 5 /* of fewer numbers and lengths two suppliers may have the same by chance */
#define SAME_METRES 0.005 /* lengths are written to the centimetre */
#define NEARLY                                                                                               \
    0.05 /* of a length: a list with net lengths comes after one with gross; common practice, no source */
#define COUNTED_ANEW 100
#define NEVER "9999-12-31"
#define BOLTS_LOOKED 200 /* spread over a delivery: it is mostly there, or it is not */

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

tb_rc tb_note_taken(struct tb_delivery *there, struct tb_book *b, const char *supplier, const char *note,
                    const char *except, struct tb_arena *mem, struct tb_err *err)
{
    tb_rc rc = *note ? tb_delivery_of_note(there, b, supplier, note, except, mem, err) : TB_ENOTFOUND;

    if (rc != TB_OK)
        return rc == TB_ENOTFOUND ? TB_OK : rc;
    return tb_about(
        err,
        tb_fail(err, TB_EEXISTS,
                "note %s of %s was taken in before, as %s; say why it comes again, if it is another "
                "delivery",
                note, there->supplier_name, there->ref),
        "again why");
}

static tb_rc same_note(struct tb_receive_twin *twin, struct tb_book *b, const struct tb_list_delivery *d,
                       const char *supplier, struct tb_arena *mem, struct tb_err *err)
{
    struct tb_err none = { 0 };
    tb_rc rc = tb_note_taken(&twin->there, b, supplier, d->note, NULL, mem, err), sums;

    if (rc != TB_EEXISTS)
        return rc;
    sums = note_twin(twin, b, d, mem, &none);
    if (sums != TB_OK)
        *err = none;
    return sums == TB_OK ? rc : sums;
}

tb_rc tb_note_nearly_taken(struct tb_delivery *there, struct tb_book *b, const char *supplier,
                           const char *note, const char *day, const char *except, struct tb_arena *mem,
                           struct tb_err *err)
{
    const struct tb_delivery_note *near = NULL;
    struct tb_delivery_note *all = NULL;
    size_t n = 0;
    tb_rc rc = *note ? tb_delivery_notes(&all, &n, b, supplier, mem, err) : TB_OK;

    for (size_t i = 0; i < n && rc == TB_OK && !near; i++) {
        enum tb_note_like like = tb_note_like(note, all[i].note);
        bool one_day = all[i].note_day && strcmp(all[i].note_day, day) == 0;

        if ((!except || strcmp(all[i].ref, except) != 0) &&
            (like == TB_NOTE_SAME || (like == TB_NOTE_NEAR && one_day)))
            near = &all[i];
    }
    if (!near || (rc = tb_delivery_find(there, b, near->ref, mem, err)) != TB_OK)
        return rc;
    return tb_about(
        err,
        tb_fail(err, TB_EEXISTS,
                "note %s of %s is written nearly like note %s, which was taken in before, as %s; say "
                "why it comes again, if it is another delivery",
                note, there->supplier_name, near->note, near->ref),
        "again why");
}

/* Nearly a note of the supplier: retyped with a word before it, or saved by a spreadsheet without the zeros before it. */
static tb_rc near_note(struct tb_receive_twin *twin, struct tb_book *b, const struct tb_list_delivery *d,
                       const char *supplier, struct tb_arena *mem, struct tb_err *err)
{
    struct tb_err none = { 0 };
    tb_rc rc = tb_note_nearly_taken(&twin->there, b, supplier, d->note, d->day, NULL, mem, err), sums;

    if (rc != TB_EEXISTS)
        return rc;
    if ((sums = note_twin(twin, b, d, mem, &none)) != TB_OK)
        *err = none;
    return sums == TB_OK ? rc : sums;
}

/* Whose goods these may be: the supplier's own, or of the one in the book who has nearly that name. "": of nobody known. */
static tb_rc whose(const char **id, struct tb_receive_outcome *out, struct tb_book *b, const char *name,
                   bool another, struct tb_arena *mem, struct tb_err *err)
{
    struct tb_name_noticed seen = { 0 };
    struct tb_supplier s = { 0 };
    tb_rc rc = tb_supplier_named(&s, &seen, b, name, another, mem, err);

    if (rc == TB_OK && seen.near)
        rc = tb_supplier_find(&s, b, seen.near, mem, err);
    out->seen = out->seen.near || out->seen.taken ? out->seen : seen;
    *id = s.id ? s.id : "";
    return rc;
}

tb_rc tb_receive_note_check(struct tb_book *b, const char *supplier, const char *note, const char *day,
                            struct tb_err *err)
{
    struct tb_list_delivery d = { .supplier = supplier, .note = note };
    struct tb_receive_outcome out = { 0 };
    struct tb_arena mem = { 0 };
    const char *id;
    tb_rc rc = tb_book_look(b, err);

    (void)snprintf(d.day, sizeof d.day, "%s", day);
    if (rc == TB_OK && (rc = whose(&id, &out, b, supplier, false, &mem, err)) == TB_OK &&
        (rc = same_note(&out.twin, b, &d, id, &mem, err)) == TB_OK)
        rc = near_note(&out.twin, b, &d, id, &mem, err);
    tb_book_look_away(b);
    tb_arena_free(&mem);
    return rc;
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

/* Many mills count their bolts from 1 in each delivery: such a number names none. By our own rule one below 100, or of as few as twice the bolts. */
static bool counted_anew(const char *number, int64_t bolts)
{
    size_t n = strlen(number), at = n;
    long long value;

    while (at > 0 && number[at - 1] >= '0' && number[at - 1] <= '9')
        at--;
    value = at < n ? atoll(number + at) : 0;
    return value < COUNTED_ANEW || value <= 2 * bolts;
}

/* What bolts of a list are looked for. */
struct search {
    const char *supplier, *since; /* of the supplier, and of anybody since a day */
    size_t least;                 /* so many at least are the same */
    bool nearly;                  /* lengths need be the same nearly, as net and gross are */
};

/*
 * The delivery that most of the bolts looked at are of, with number and length, of the supplier or of anybody since a day; NULL: there
 * is none.
 */
static tb_rc most_met(const char **ref, struct tb_receive_twin *twin, struct tb_book *b,
                      const struct tb_packing_list *l, uint32_t delivery, const struct search *s,
                      struct tb_arena *mem, struct tb_err *err)
{
    struct met met[BOLTS_LOOKED];
    size_t mets = 0, step = l->delivery[delivery].bolts / BOLTS_LOOKED + 1, place = 0;
    tb_rc rc = TB_OK;

    *ref = NULL;
    twin->same = twin->looked = 0;
    for (size_t i = 0; i < l->bolts && rc == TB_OK; i++) {
        double metres = l->bolt[i].metres, within = s->nearly ? NEARLY * metres : SAME_METRES;
        const char **of;
        size_t n = 0;

        if (l->lot[l->bolt[i].lot].delivery != delivery || place++ % step)
            continue;
        twin->looked++;
        if (!s->nearly || !counted_anew(l->bolt[i].number, (int64_t)l->delivery[delivery].bolts))
            rc = tb_deliveries_of_bolt(&of, &n, b, s->supplier, l->bolt[i].number, metres - within,
                                       metres + within, s->since, mem, err);
        for (size_t k = 0; rc == TB_OK && k < n; k++)
            meet(met, &mets, of[k], mem);
    }
    for (size_t i = 0; i < mets; i++)
        if (met[i].times >= s->least && met[i].times > twin->same && 2 * met[i].times > twin->looked) {
            twin->same = met[i].times;
            *ref = met[i].ref;
        }
    return rc;
}

static tb_rc same_bolts(struct tb_receive_twin *twin, struct tb_book *b, const struct tb_receive_outcome *o,
                        uint32_t delivery, const char *supplier, struct tb_arena *mem, struct tb_err *err)
{
    const struct tb_packing_list *l = &o->list;
    char since[TB_DAY_LEN + 1];
    const struct search searches[] = { { supplier, NEVER, 1, false },
                                       { supplier, since, BOLTS_OF_OTHERS, false },
                                       { supplier, NEVER, 2, true } };
    const struct search *s = searches;
    const char *ref = NULL;
    tb_rc rc = TB_OK;

    tb_day_from_number(since, tb_day_number(o->arrived) - DAYS_LOOKED);
    for (; s < searches + TB_COUNT(searches) && rc == TB_OK && !ref; s++)
        rc = most_met(&ref, twin, b, l, delivery, s, mem, err);
    if (rc != TB_OK || !ref)
        return rc;
    if ((rc = tb_delivery_find(&twin->there, b, ref, mem, err)) != TB_OK ||
        (rc = note_twin(twin, b, &l->delivery[delivery], mem, err)) != TB_OK)
        return rc;
    return tb_about(
        err,
        tb_fail(err, TB_EEXISTS,
                s[-1].nearly
                    ? N_("%zu of %zu bolts looked at have the numbers and nearly the lengths of those of %s, "
                         "from %s; say why they come again, if it is another delivery")
                    : N_("%zu of %zu bolts looked at have the numbers and lengths of those of %s, from %s; "
                         "say why they come again, if it is another delivery"),
                twin->same, twin->looked, ref, twin->there.supplier_name),
        "again why");
}

bool tb_receive_explained(const struct tb_receive_request *r)
{
    return r->again && tb_reason_told(r->why);
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

tb_rc tb_receive_twice(struct tb_receive_outcome *out, struct tb_book *b, const struct tb_receive_request *r,
                       struct tb_arena *mem, struct tb_err *err)
{
    const struct tb_packing_list *l = &out->list;
    bool known = false;
    tb_rc rc = is_known(&known, l, b, mem, err);

    for (uint32_t i = 0; i < l->deliveries && rc == TB_OK; i++) {
        const struct tb_list_delivery *d = &l->delivery[i];
        const char *id;

        rc = whose(&id, out, b, d->supplier, r->another, mem, err);
        if (rc == TB_OK && !known && !tb_receive_explained(r) &&
            (rc = same_note(&out->twin, b, d, id, mem, err)) == TB_OK &&
            (rc = near_note(&out->twin, b, d, id, mem, err)) == TB_OK)
            rc = same_bolts(&out->twin, b, out, i, id, mem, err);
    }
    if (rc == TB_OK)
        out->twin = (struct tb_receive_twin){ 0 };
    return rc;
}
