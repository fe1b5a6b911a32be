/* The lots a person names to draw from: their bolts, earlier draws of them, and places drawn in each. */
#include "work/draw.h"

#include "tenterbook/fibre.h"

#include <stdlib.h>
#include <string.h>

/* Lists that grow while the names are gone through; they end up in the arena. */
struct gathering {
    struct tb_book *book;
    struct tb_arena *mem;
    struct tb_text about;
    struct tb_pile *pile;
    size_t n, cap;
    struct tb_draw *before;
    size_t befores, before_cap;
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
    struct tb_draw *list = NULL;
    size_t n = 0, had = g->befores;
    tb_rc rc = tb_draws_of_lot(&list, &n, g->book, lot_id, g->mem, err);

    for (size_t i = 0; i < n && rc == TB_OK; i++) {
        bool there = false;

        for (size_t k = 0; k < had && !there; k++)
            there = strcmp(g->before[k].id, list[i].id) == 0;
        if (there)
            continue;
        TB_PUSH_ROOM(g->before, g->befores, g->before_cap);
        g->before[g->befores++] = list[i];
    }
    return rc;
}

static tb_rc add_lot(struct gathering *g, const char *ref, struct tb_err *err)
{
    struct tb_pile *p;
    tb_rc rc;

    TB_PUSH_ROOM(g->pile, g->n, g->cap);
    p = &g->pile[g->n];
    memset(p, 0, sizeof *p);
    if ((rc = tb_lot_find(&p->lot, g->book, ref, g->mem, err)) != TB_OK)
        return rc;
    for (size_t i = 0; i < g->n; i++)
        if (strcmp(g->pile[i].lot.id, p->lot.id) == 0)
            return tb_fail(err, TB_EEXISTS, "lot %s is named twice", p->lot.ref);
    g->n++;
    if ((rc = tb_bolt_list(&p->bolt, &p->n, g->book, p->lot.id, g->mem, err)) != TB_OK)
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
    TB_PUSH_ROOM(r->ref, r->n, r->cap);
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
    free(r.ref);
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
        ref = rc == TB_OK ? g->pile[g->n - 1].lot.ref : NULL;
    } else {
        *err = other;
    }
    if (ref)
        tb_text_addf(&g->about, "%s%s", g->about.n ? " " : "", ref);
    return rc;
}

/* A list as it is in the end, in the arena. */
static void *kept(struct tb_arena *mem, const void *list, size_t n, size_t size)
{
    void *copy = tb_arena_alloc(mem, (n + 1) * size);

    if (n)
        memcpy(copy, list, n * size);
    return copy;
}

static void settle(struct tb_piles *out, struct gathering *g)
{
    *out = (struct tb_piles){ .about = tb_arena_take(g->mem, &g->about),
                              .pile = kept(g->mem, g->pile, g->n, sizeof *g->pile),
                              .strata = tb_arena_alloc(g->mem, (g->n + 1) * sizeof *out->strata),
                              .n = g->n,
                              .before = kept(g->mem, g->before, g->befores, sizeof *g->before),
                              .befores = g->befores };
    for (size_t i = 0; i < out->n; i++) {
        out->strata[i].bolts = (long)out->pile[i].n;
        out->bolts += (long)out->pile[i].n;
    }
}

tb_rc tb_piles_gather(struct tb_piles *out, struct tb_book *b, const char *const *name, size_t names,
                      struct tb_arena *mem, struct tb_err *err)
{
    struct gathering g = { .book = b, .mem = mem };
    tb_rc rc = TB_OK;

    for (size_t i = 0; i < names && rc == TB_OK; i++)
        rc = add_named(&g, name[i], err);
    if (rc == TB_OK && g.n == 0)
        rc = tb_fail(err, TB_EINVAL, "%s has no lots to draw from", tb_text_str(&g.about));
    if (rc == TB_OK)
        settle(out, &g);
    free(g.pile);
    free(g.before);
    tb_text_free(&g.about);
    return rc;
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

void tb_piles_drawn(struct tb_draw_outcome *out, const struct tb_piles *p, struct tb_arena *mem)
{
    size_t most = 1;

    for (size_t i = 0; i < p->n; i++)
        most += (size_t)p->strata[i].cut;
    out->drawn = tb_arena_alloc(mem, most * sizeof *out->drawn);
    for (size_t i = 0; i < p->n; i++) {
        const struct tb_pile *pile = &p->pile[i];
        const char *parts;

        out->swatches += parts_of(&parts, &pile->lot, mem) * (size_t)p->strata[i].cut;
        for (long k = 0; k < p->strata[i].cut; k++) {
            const struct tb_bolt *bolt = &pile->bolt[pile->place[k] - 1];

            out->drawn[out->n++] =
                (struct tb_drawn){ bolt->id, pile->lot.ref, bolt->number, parts, bolt->metres };
        }
    }
}
