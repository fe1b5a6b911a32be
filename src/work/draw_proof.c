/* What the burns of a draw prove so far: bolts judged one by one, counted, and bounded. */
#include "work/draw.h"

#include "tenterbook/work.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

static int by_text(const void *a, const void *b)
{
    return strcmp(*(const char *const *)a, *(const char *const *)b);
}

static int by_id(const void *a, const void *b)
{
    return strcmp(((const struct tb_bolt *)a)->id, ((const struct tb_bolt *)b)->id);
}

/* What is counted over the lots. Metres of bolts: room for all of them in each list. */
struct count {
    const struct tb_bolt *drawn; /* by id */
    size_t n_drawn;
    double *found; /* of the bolts shown false, those chosen by hand too */
    size_t n_found;
    double *other; /* of the bolts that may be false though nobody saw it */
    size_t n_other;
    long shown_false; /* bolts, of a known length or not */
};

/* What its own burns alone say of a bolt. */
static enum tb_verdict_kind alone(const struct tb_lot_verdict *v, const char *number)
{
    for (size_t i = 0; i < v->bolts; i++)
        if (strcmp(v->bolt[i].number, number) == 0)
            return v->bolt[i].kind;
    return TB_UNJUDGED;
}

/* Every bolt of a pile into the count. burnt are the ids of bolts burned, rising. */
static void count_bolts(struct tb_draw_proof *out, struct count *c, long *cut, const struct tb_pile *p,
                        const struct tb_lot_verdict *v, const char **burnt, size_t n_burnt)
{
    *cut = 0;
    for (size_t k = 0; k < p->n; k++) {
        const struct tb_bolt *bolt = &p->bolt[k];
        /* a bolt that was only tested without a flame was not burned, and does not count */
        bool burned = n_burnt && bsearch(&bolt->id, burnt, n_burnt, sizeof *burnt, by_text);
        bool counts = burned && c->n_drawn && bsearch(bolt, c->drawn, c->n_drawn, sizeof *c->drawn, by_id);
        enum tb_verdict_kind kind = burned ? alone(v, bolt->number) : TB_UNJUDGED;
        bool bad = kind == TB_CONTRADICTS, decided = bad || kind == TB_FITS;

        /* a burn that does not decide shows nothing: no bolt is found true by it */
        *cut += counts && decided;
        out->burned += counts;
        out->undecided += counts && !decided;
        out->found += counts && bad;
        c->shown_false += bad;
        if (isnan(bolt->metres)) {
            out->unknown++;
            continue;
        }
        out->metres += bolt->metres;
        if (bad)
            c->found[c->n_found++] = bolt->metres;
        else if (!decided || out->caught.one < 1) /* a burn that misses some leaves the bolt in doubt */
            c->other[c->n_other++] = bolt->metres;
    }
}

/* One lot: only bolts that were drawn at random and burned count for the others; *cut is how many. */
static tb_rc count_pile(struct tb_draw_proof *out, struct count *c, long *cut, const struct tb_pile *p,
                        const struct tb_evidence *ev, struct tb_book *b, struct tb_arena *mem,
                        struct tb_err *err)
{
    struct tb_lot_verdict v = { 0 };
    const char **burnt = NULL;
    size_t n_burnt = 0;
    tb_rc rc = tb_bench_judge(&v, b, &p->lot, ev, 0, TB_BOOK_NOW, err);

    if (rc == TB_OK && (rc = tb_bolts_burnt(&burnt, &n_burnt, b, p->lot.id, mem, err)) == TB_OK)
        count_bolts(out, c, cut, p, &v, burnt, n_burnt);
    tb_lot_verdict_free(&v);
    return rc;
}

static tb_rc count_all(struct tb_draw_proof *out, struct count *c, struct tb_piles *p, struct tb_book *b,
                       struct tb_arena *mem, struct tb_err *err)
{
    struct tb_bolt *bolt = NULL;
    struct tb_evidence *ev = NULL;
    tb_rc rc = tb_draw_bolts(&bolt, &c->n_drawn, b, out->draw.id, mem, err);

    if (rc != TB_OK)
        return rc;
    if (c->n_drawn > 1)
        qsort(bolt, c->n_drawn, sizeof *bolt, by_id);
    c->drawn = bolt;
    out->drawn = (long)c->n_drawn;
    c->found = tb_arena_alloc(mem, (size_t)(p->bolts + 1) * sizeof *c->found);
    c->other = tb_arena_alloc(mem, (size_t)(p->bolts + 1) * sizeof *c->other);
    rc = tb_bench_model(&ev, b, err);
    for (size_t i = 0; i < p->n && rc == TB_OK; i++)
        rc = count_pile(out, c, &p->strata[i].cut, &p->pile[i], ev, b, mem, err);
    tb_evidence_free(ev);
    out->besides = (long)c->n_found - out->found;
    return rc;
}

/* Bolts of these lots may have been drawn under another name: the delivery of a lot, or some of its lots. */
static tb_rc not_drawn(const struct tb_piles *p, struct tb_err *err)
{
    const struct tb_draw *last = tb_piles_last_draw(p);

    if (last)
        return tb_about(err,
                        tb_fail(err, TB_EREFUSED,
                                "bolts of %s were drawn together with others; ask what the draw of %s proves",
                                p->about, last->about),
                        "proof");
    return tb_fail(err, TB_EREFUSED,
                   "no bolts were drawn from %s at random: bolts chosen by hand prove nothing of the others",
                   p->about);
}

/* The draw at issue, and how well its burns show a false bolt. */
static tb_rc find_draw(struct tb_draw_proof *out, const struct tb_piles *p, struct tb_book *b,
                       const struct tb_draw_proof_request *r, struct tb_arena *mem, struct tb_err *err)
{
    tb_rc rc = tb_draw_latest(&out->draw, b, p->about, mem, err);

    if (rc == TB_ENOTFOUND)
        return not_drawn(p, err);
    out->about = p->about;
    out->before = p->before;
    out->befores = p->befores;
    out->sure = r->sure > 0 ? r->sure : TB_SURE_DEFAULT;
    if (r->catch_one > 0)
        tb_catch_give(&out->caught, r->catch_one);
    else
        out->caught = (struct tb_catch){ .one = out->draw.catch_one,
                                         .from = TB_CATCH_EARLIER,
                                         .words = out->draw.catch_from ? out->draw.catch_from : "" };
    return rc;
}

static tb_rc prove(struct tb_draw_proof *out, struct tb_book *b, const struct tb_draw_proof_request *r,
                   struct tb_arena *mem, struct tb_err *err)
{
    struct tb_piles p;
    struct count c = { 0 };
    tb_rc rc;

    *out = (struct tb_draw_proof){ 0 };
    /* count_all() sets the strata to the bolts whose burns decide: the sample is as large as that, not as planned */
    if ((rc = tb_piles_drawn_from(&p, b, r->name, r->names, mem, err)) != TB_OK ||
        (rc = find_draw(out, &p, b, r, mem, err)) != TB_OK ||
        (rc = tb_piles_to_draw(&p, b, out->draw.id, mem, err)) != TB_OK ||
        (rc = tb_draw_bolts_gone(&out->gone, &out->gones, b, out->draw.id, mem, err)) != TB_OK ||
        (rc = count_all(out, &c, &p, b, mem, err)) != TB_OK ||
        (rc = tb_proof_most_spread(&out->most_false, p.strata, p.n, out->found, out->caught.one, out->sure,
                                   err)) != TB_OK)
        return rc;
    out->bolts = p.bolts;
    /* the bound counts drawn bolts; those seen false otherwise are known too */
    if (out->most_false < c.shown_false)
        out->most_false = c.shown_false;
    if (out->unknown) { /* any of the false ones may be among those */
        out->most_metres = NAN;
        return TB_OK;
    }
    return tb_proof_metres(&out->most_metres, out->most_false, c.found, c.n_found, c.other, c.n_other, err);
}

tb_rc tb_draw_prove(struct tb_draw_proof *out, struct tb_book *b, const struct tb_draw_proof_request *request,
                    struct tb_arena *mem, struct tb_err *err)
{
    tb_rc rc = tb_book_look(b, err);

    if (rc == TB_OK)
        rc = prove(out, b, request, mem, err);
    tb_book_look_away(b);
    return rc;
}
