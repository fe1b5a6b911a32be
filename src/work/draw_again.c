/* A recorded draw, drawn again from its seed and compared with what is recorded. */
#include "work/draw.h"

#include "base/say.h"

#include <stdlib.h>
#include <string.h>

/* Both lists are short, and in two orders: of lots as they are named now, and of lots by reference. */
static bool took(const struct tb_bolt *bolt, size_t n, const char *id)
{
    for (size_t i = 0; i < n; i++)
        if (strcmp(bolt[i].id, id) == 0)
            return true;
    return false;
}

/* What the draw took: those that count and those that are void since. */
struct taken {
    struct tb_bolt *bolt;
    struct tb_gone_bolt *gone;
    size_t n, gones;
};

static bool gone_since(const struct taken *t, const char *id)
{
    for (size_t i = 0; i < t->gones; i++)
        if (strcmp(t->gone[i].id, id) == 0)
            return true;
    return false;
}

static bool same_bolts(const struct tb_draw_outcome *out, const struct taken *t)
{
    if (out->n != t->n + t->gones)
        return false;
    for (size_t i = 0; i < out->n; i++)
        if (!took(t->bolt, t->n, out->drawn[i].bolt) && !gone_since(t, out->drawn[i].bolt))
            return false;
    return true;
}

static int by_number(const void *a, const void *b)
{
    const struct tb_bolt *x = a, *y = b;
    int c = strcmp(x->number, y->number);

    return c ? c : strcmp(x->id, y->id);
}

/* A bolt that is void since was one when the draw was made: the seed means the bolts of then. */
static tb_rc add_void(struct tb_piles *p, const struct tb_draw *r, struct tb_book *b, struct tb_arena *mem,
                      struct tb_err *err)
{
    tb_rc rc = TB_OK;

    for (size_t i = 0; i < p->n && rc == TB_OK; i++) {
        struct tb_pile *pile = &p->pile[i];
        struct tb_bolt *gone = NULL, *all;
        size_t n = 0;

        if ((rc = tb_bolts_void_since(&gone, &n, b, pile->lot.id, r->id, mem, err)) != TB_OK || n == 0)
            continue;
        all = tb_arena_alloc(mem, (pile->n + n) * sizeof *all);
        memcpy(all, pile->bolt, pile->n * sizeof *all);
        memcpy(all + pile->n, gone, n * sizeof *all);
        qsort(all, pile->n + n, sizeof *all, by_number);
        pile->bolt = all;
        pile->n += n;
        p->strata[i].bolts += (long)n;
        p->bolts += (long)n;
    }
    return rc;
}

/*
 * Bolts that were decided of before the draw were not drawn from. Programs of old did so: where only that makes up the number that
 * is recorded, the draw is one of those.
 */
static tb_rc as_it_was(struct tb_piles *p, const struct tb_draw *r, struct tb_book *b, struct tb_arena *mem,
                       struct tb_err *err)
{
    return p->bolts == r->bolts ? TB_OK : tb_piles_to_draw(p, b, r->id, mem, err);
}

/* --- another bolt in the place of each that is void --------------------------------------------------------------- */

/* Bolts of a pile that count and were not drawn, as they are ordered to be drawn; how many. */
static size_t undrawn(const struct tb_bolt **out, const struct tb_pile *pile, const struct taken *t,
                      struct tb_book *b, struct tb_arena *mem)
{
    size_t n = 0;

    for (size_t i = 0; i < pile->n; i++) {
        struct tb_bolt now;
        struct tb_err none;

        if (!took(t->bolt, t->n, pile->bolt[i].id) && !gone_since(t, pile->bolt[i].id) &&
            tb_bolt_find(&now, b, pile->lot.id, pile->bolt[i].number, mem, &none) == TB_OK &&
            strcmp(now.id, pile->bolt[i].id) == 0)
            out[n++] = &pile->bolt[i];
    }
    return n;
}

/* By the same seed, so that nobody chooses: "instead of" the lot is the label, and each void bolt takes the next place. */
static tb_rc replace(struct tb_draw_outcome *out, const struct tb_pile *pile, const struct taken *t,
                     const char *seed, struct tb_book *b, struct tb_arena *mem, struct tb_err *err)
{
    const struct tb_bolt **free_bolt = tb_arena_alloc(mem, (pile->n + 1) * sizeof *free_bolt);
    size_t n = undrawn(free_bolt, pile, t, b, mem), gone = 0, next = 0;
    long *place = tb_arena_alloc(mem, (n + 1) * sizeof *place);
    tb_rc rc = TB_OK;

    for (size_t i = 0; i < t->gones; i++)
        gone += strcmp(t->gone[i].lot, pile->lot.id) == 0;
    gone = gone < n ? gone : n;
    if (gone)
        rc = tb_pick(place, (long)n, (long)gone, seed, tb_arena_printf(mem, "instead of %s", pile->lot.ref),
                     err);
    for (size_t i = 0; i < out->n && rc == TB_OK; i++) {
        struct tb_drawn *d = &out->drawn[i];

        if (!gone_since(t, d->bolt) || strcmp(d->lot_ref, pile->lot.ref) != 0)
            continue;
        d->gone = true;
        d->instead = next < gone ? free_bolt[place[next] - 1]->number : "";
        next++;
    }
    return rc;
}

static tb_rc pick_again(struct tb_draw_outcome *out, struct tb_piles *p, const struct tb_draw *r,
                        struct tb_arena *mem, struct tb_err *err)
{
    tb_rc rc;

    if (r->bolts != p->bolts && !p->voids)
        return tb_fail(err, TB_EREFUSED,
                       _n("%s had %lld bolt when it was drawn from and has %ld now",
                          "%s had %lld bolts when it was drawn from and has %ld now", r->bolts),
                       p->about, (long long)r->bolts, p->bolts);
    /* spread as the draw was: the number is recorded, its parts follow from the lots */
    if ((!p->voids && (rc = tb_spread(p->strata, p->n, (long)r->cut, err)) != TB_OK) ||
        (rc = tb_piles_pick(p, r->seed, mem, err)) != TB_OK)
        return rc;
    *out = (struct tb_draw_outcome){
        .about = p->about, .seed = r->seed, .before = p->before, .befores = p->befores, .recorded = true
    };
    out->handling = tb_piles_handling(p);
    out->last = tb_piles_last_draw(p);
    tb_piles_drawn(out, p, mem);
    return TB_OK;
}

static size_t in_lot(const struct taken *t, const char *lot)
{
    size_t n = 0;

    for (size_t i = 0; i < t->n; i++)
        n += strcmp(t->bolt[i].lot, lot) == 0;
    for (size_t i = 0; i < t->gones; i++)
        n += strcmp(t->gone[i].lot, lot) == 0;
    return n;
}

static bool has_pile(const struct tb_piles *p, const char *lot)
{
    for (size_t i = 0; i < p->n; i++)
        if (strcmp(p->pile[i].lot.id, lot) == 0)
            return true;
    return false;
}

/* Where lots are void since, each of the others is drawn from anew by itself: how many of its bolts were drawn is recorded. */
static void keep_lots(struct tb_piles *p, struct taken *t)
{
    size_t kept = 0;

    for (size_t i = 0; i < t->gones; i++)
        if (has_pile(p, t->gone[i].lot))
            t->gone[kept++] = t->gone[i];
    t->gones = kept;
    for (size_t i = 0; i < p->n; i++)
        p->strata[i].cut = (long)in_lot(t, p->pile[i].lot.id);
}

/* References of a draw, separated by spaces. */
static size_t names_of(const char ***out, const char *about, struct tb_arena *mem)
{
    size_t n = 0;

    *out = tb_arena_alloc(mem, (strlen(about) + 1) * sizeof **out);
    for (const char *s = about; *s; s += *s == ' ') {
        size_t len = strcspn(s, " ");

        (*out)[n++] = tb_arena_strndup(mem, s, len);
        s += len;
    }
    return n;
}

/* The draw about these names; where there is none, the last in which their bolts were drawn together with others. */
static tb_rc find_draw(struct tb_piles *p, struct tb_draw *r, struct tb_book *b, const char *const *name,
                       size_t names, struct tb_arena *mem, struct tb_err *err)
{
    const struct tb_draw *last;
    const char **of;
    tb_rc rc = tb_piles_drawn_from(p, b, name, names, mem, err);

    if (rc != TB_OK || (rc = tb_draw_latest(r, b, p->about, mem, err)) != TB_ENOTFOUND ||
        !(last = tb_piles_last_draw(p)))
        return rc;
    *r = *last;
    names = names_of(&of, last->about, mem);
    return tb_piles_drawn_from(p, b, of, names, mem, err);
}

static tb_rc draw_again(struct tb_draw_outcome *out, struct tb_draw *r, struct tb_book *b,
                        const char *const *name, size_t names, struct tb_arena *mem, struct tb_err *err)
{
    struct tb_piles p;
    struct taken t = { 0 };
    tb_rc rc;

    if ((rc = find_draw(&p, r, b, name, names, mem, err)) != TB_OK)
        return rc;
    /* a draw is of so many bolts: among more or fewer the seed means others, and nothing can be compared */
    if ((rc = tb_draw_bolts(&t.bolt, &t.n, b, r->id, mem, err)) != TB_OK ||
        (rc = tb_draw_bolts_gone(&t.gone, &t.gones, b, r->id, mem, err)) != TB_OK ||
        (rc = add_void(&p, r, b, mem, err)) != TB_OK || (rc = as_it_was(&p, r, b, mem, err)) != TB_OK)
        return rc;
    if (p.voids)
        keep_lots(&p, &t);
    if ((rc = pick_again(out, &p, r, mem, err)) != TB_OK)
        return rc;
    if (!same_bolts(out, &t))
        return tb_fail(err, TB_EREFUSED,
                       _n("seed %s does not draw the %zu bolt recorded for %s",
                          "seed %s does not draw the %zu bolts recorded for %s", t.n + t.gones),
                       r->seed, t.n + t.gones, p.about);
    for (size_t i = 0; i < p.n && rc == TB_OK; i++)
        rc = replace(out, &p.pile[i], &t, r->seed, b, mem, err);
    return rc;
}

tb_rc tb_draw_again(struct tb_draw_outcome *out, struct tb_draw *record, struct tb_book *b,
                    const char *const *name, size_t names, struct tb_arena *mem, struct tb_err *err)
{
    tb_rc rc = tb_book_look(b, err);

    if (rc == TB_OK)
        rc = draw_again(out, record, b, name, names, mem, err);
    tb_book_look_away(b);
    return rc;
}
