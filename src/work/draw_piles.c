/* The lots a person names to draw from: their bolts, earlier draws of them, and places drawn in each. */
#include "work/draw.h"

#include "tenterbook/fibre.h"
#include "tenterbook/work.h"

#include <stdlib.h>
#include <string.h>

/* The piles while the names are gone through. */
struct gathering {
    struct tb_book *book;
    struct tb_arena *mem;
    struct tb_piles *out;
    struct tb_text about;
    size_t cap, before_cap;
    bool drawn; /* a draw that was made: a lot may be void since */
};

/* By bytes, not by any language's order: everybody has to come to the same order. */
static int by_number(const void *a, const void *b)
{
    const struct tb_bolt *x = a, *y = b;
    int c = strcmp(x->number, y->number);

    return c ? c : strcmp(x->id, y->id);
}

/* A draw from several lots is found at each of them, and counts once. */
static tb_rc add_earlier(struct gathering *g, const char *lot_id, struct tb_err *err)
{
    struct tb_piles *p = g->out;
    struct tb_draw *list = NULL;
    size_t n = 0, had = p->befores;
    tb_rc rc = tb_draws_of_lot(&list, &n, g->book, lot_id, g->mem, err);

    for (size_t i = 0; i < n && rc == TB_OK; i++) {
        bool there = false;

        for (size_t k = 0; k < had && !there; k++)
            there = strcmp(p->before[k].id, list[i].id) == 0;
        if (there)
            continue;
        TB_ARENA_ROOM(g->mem, p->before, p->befores, g->before_cap);
        p->before[p->befores++] = list[i];
    }
    return rc;
}

static tb_rc add_lot(struct gathering *g, const char *ref, struct tb_err *err)
{
    struct tb_piles *out = g->out;
    struct tb_pile *p;
    tb_rc rc;

    TB_ARENA_ROOM(g->mem, out->pile, out->n, g->cap);
    p = &out->pile[out->n];
    if ((rc = tb_lot_find(&p->lot, g->book, ref, g->mem, err)) != TB_OK)
        return rc;
    for (size_t i = 0; i < out->n; i++)
        if (strcmp(out->pile[i].lot.id, p->lot.id) == 0)
            return tb_fail(err, TB_EEXISTS, "lot %s is named twice", p->lot.ref);
    out->n++;
    if ((rc = tb_lot_handling(&p->handling, g->book, &p->lot, err)) != TB_OK ||
        (rc = tb_bolt_list(&p->bolt, &p->n, g->book, p->lot.id, g->mem, err)) != TB_OK)
        return rc;
    if (p->n == 0)
        return tb_fail(err, TB_EINVAL, "lot %s has no bolts to draw from", p->lot.ref);
    /* the order anybody can make again from the tickets: a seed means the same bolts for everybody */
    qsort(p->bolt, p->n, sizeof *p->bolt, by_number);
    return add_earlier(g, p->lot.id, err);
}

/* References first, lots after: a lot that the walk over a delivery hands out lasts for that call only. */
struct refs {
    struct tb_arena *mem;
    const char **ref;
    size_t n, cap;
};

static tb_rc take_ref(void *arg, const struct tb_lot *lot, struct tb_err *err)
{
    struct refs *r = arg;

    (void)err;
    TB_ARENA_ROOM(r->mem, r->ref, r->n, r->cap);
    r->ref[r->n++] = tb_arena_strdup(r->mem, lot->ref);
    return TB_OK;
}

/* Every lot of a delivery: its shades and dye lots. */
static tb_rc add_delivery(struct gathering *g, const struct tb_delivery *d, struct tb_err *err)
{
    struct tb_lot_filter f = { .delivery = d->id };
    struct refs r = { .mem = g->mem };
    tb_rc rc = tb_lot_each(g->book, &f, take_ref, &r, err);

    for (size_t i = 0; i < r.n && rc == TB_OK; i++)
        rc = add_lot(g, r.ref[i], err);
    return rc;
}

/* A lot that is void since was drawn from with the others: what is said of them stays to be asked. */
static tb_rc add_void_lot(struct gathering *g, const char **ref, const char *name, struct tb_err *err)
{
    struct tb_lot lot;
    tb_rc rc = tb_lot_ever(&lot, g->book, name, g->mem, err);

    if (rc == TB_OK) {
        *ref = lot.ref;
        g->out->voids++;
    }
    return rc;
}

/* However a lot was called, the draw is recorded about its own reference. */
static tb_rc add_named(struct gathering *g, const char *name, struct tb_err *err)
{
    struct tb_delivery delivery;
    struct tb_err other = { 0 };
    const char *ref = NULL;
    tb_rc rc = tb_delivery_find(&delivery, g->book, name, g->mem, &other);

    if (rc == TB_OK) {
        ref = delivery.ref;
        rc = add_delivery(g, &delivery, err);
    } else if (rc == TB_ENOTFOUND) {
        rc = add_lot(g, name, err);
        ref = rc == TB_OK ? g->out->pile[g->out->n - 1].lot.ref : NULL;
    } else if (rc == TB_EREFUSED && g->drawn && add_void_lot(g, &ref, name, err) == TB_OK) {
        rc = TB_OK;
    } else {
        *err = other;
    }
    if (ref)
        tb_text_addf(&g->about, "%s%s", g->about.n ? " " : "", ref);
    return rc;
}

static tb_rc gather(struct tb_piles *out, struct tb_book *b, const char *const *name, size_t names,
                    bool drawn, struct tb_arena *mem, struct tb_err *err)
{
    struct gathering g = { .book = b, .mem = mem, .out = out, .drawn = drawn };
    tb_rc rc = TB_OK;

    *out = (struct tb_piles){ 0 };
    for (size_t i = 0; i < names && rc == TB_OK; i++)
        rc = add_named(&g, name[i], err);
    out->about = tb_arena_take(mem, &g.about);
    if (rc == TB_OK && out->n == 0)
        rc = tb_fail(err, TB_EINVAL, "%s has no lots to draw from", out->about);
    out->strata = tb_arena_alloc(mem, (out->n + 1) * sizeof *out->strata);
    for (size_t i = 0; i < out->n; i++) {
        out->strata[i].bolts = (long)out->pile[i].n;
        out->bolts += (long)out->pile[i].n;
    }
    return rc;
}

tb_rc tb_piles_gather(struct tb_piles *out, struct tb_book *b, const char *const *name, size_t names,
                      struct tb_arena *mem, struct tb_err *err)
{
    return gather(out, b, name, names, false, mem, err);
}

tb_rc tb_piles_drawn_from(struct tb_piles *out, struct tb_book *b, const char *const *name, size_t names,
                          struct tb_arena *mem, struct tb_err *err)
{
    return gather(out, b, name, names, names > 1, mem, err);
}

tb_rc tb_piles_without_least(struct tb_piles *out, struct tb_left_out *left, size_t *lefts,
                             const struct tb_piles *p, struct tb_book *b, struct tb_arena *mem,
                             struct tb_err *err)
{
    const char **ref = tb_arena_alloc(mem, (p->n + 1) * sizeof *ref);
    double least = tb_catch_least(p)->one;
    size_t n = 0, kept = 0;
    tb_rc rc;

    *out = (struct tb_piles){ 0 };
    for (size_t i = 0; i < p->n; i++)
        if (p->pile[i].caught.one > least)
            ref[n++] = p->pile[i].lot.ref;
    if (n == 0)
        return TB_OK;
    /* found anew by their references: the draw is about them, and tells of their earlier draws only */
    if ((rc = tb_piles_gather(out, b, ref, n, mem, err)) != TB_OK ||
        (rc = tb_piles_to_draw(out, b, NULL, mem, err)) != TB_OK)
        return rc;
    for (size_t i = 0; i < p->n; i++) {
        const struct tb_pile *pile = &p->pile[i];

        if (pile->caught.one > least)
            out->pile[kept++].caught = pile->caught;
        else
            left[(*lefts)++] =
                (struct tb_left_out){ pile->lot.ref, pile->lot.declared, pile->caught, TB_HANDLING_ANY };
    }
    return TB_OK;
}

const struct tb_draw *tb_piles_last_draw(const struct tb_piles *p)
{
    const struct tb_draw *last = NULL;

    /* of two in one second the later in the list: each lot's draws are in the order they were recorded */
    for (size_t i = 0; i < p->befores; i++)
        if (!last || strcmp(p->before[i].drawn_at, last->drawn_at) >= 0)
            last = &p->before[i];
    return last;
}

tb_rc tb_piles_pick(struct tb_piles *p, const char *seed, struct tb_arena *mem, struct tb_err *err)
{
    tb_rc rc = TB_OK;

    for (size_t i = 0; i < p->n && rc == TB_OK; i++) {
        struct tb_pile *pile = &p->pile[i];

        /* the lot's reference is the label: lots of one seed are drawn independently */
        pile->place = tb_arena_alloc(mem, ((size_t)p->strata[i].cut + 1) * sizeof *pile->place);
        rc = tb_pick(pile->place, (long)pile->n, p->strata[i].cut, seed, pile->lot.ref, err);
    }
    return rc;
}

/* Parts that must be burned apart, whole cloth being one; returns how many. */
static size_t parts_of(const char **out, const struct tb_lot *lot, struct tb_arena *mem)
{
    struct tb_declaration d;
    struct tb_text t = { 0 };
    size_t n;

    tb_declaration_read(&d, lot->declared, strlen(lot->declared));
    n = d.comp.n ? d.comp.n : 1;
    for (size_t i = 0; i < d.comp.n; i++)
        tb_text_addf(&t, "%s%s", i ? ", " : "", tb_part_key(d.comp.part[i].kind));
    *out = t.n ? tb_arena_take(mem, &t) : tb_part_key(TB_PART_WHOLE);
    tb_declaration_free(&d);
    return n;
}

unsigned tb_piles_handling(const struct tb_piles *p)
{
    unsigned bits = 0;

    for (size_t i = 0; i < p->n; i++)
        bits |= 1u << p->pile[i].handling;
    return bits;
}

void tb_piles_drawn(struct tb_draw_outcome *out, const struct tb_piles *p, struct tb_arena *mem)
{
    size_t most = 1;

    for (size_t i = 0; i < p->n; i++)
        most += (size_t)p->strata[i].cut;
    out->drawn = tb_arena_alloc(mem, most * sizeof *out->drawn);
    for (size_t i = 0; i < p->n; i++) {
        const struct tb_pile *pile = &p->pile[i];
        const char *parts;
        size_t n = parts_of(&parts, &pile->lot, mem);

        out->swatches += pile->handling == TB_HANDLING_LABORATORY ? 0 : n * (size_t)p->strata[i].cut;
        for (long k = 0; k < p->strata[i].cut; k++) {
            const struct tb_bolt *bolt = &pile->bolt[pile->place[k] - 1];

            out->drawn[out->n++] =
                (struct tb_drawn){ bolt->id,      pile->lot.ref,  bolt->number, parts, bolt->metres,
                                   bolt->derived, pile->handling, false,        "" };
        }
    }
}
