/* A recorded draw, drawn again from its seed and compared with what is recorded. */
#include "work/draw.h"

#include "base/say.h"

#include <string.h>

/* Both lists are short, and in two orders: of lots as they are named now, and of lots by reference. */
static bool took(const struct tb_bolt *bolt, size_t n, const char *id)
{
    for (size_t i = 0; i < n; i++)
        if (strcmp(bolt[i].id, id) == 0)
            return true;
    return false;
}

static bool same_bolts(const struct tb_draw_outcome *out, const struct tb_bolt *bolt, size_t n)
{
    if (out->n != n)
        return false;
    for (size_t i = 0; i < n; i++)
        if (!took(bolt, n, out->drawn[i].bolt))
            return false;
    return true;
}

/* A bolt that was recorded by mistake is no bolt to draw, and was one when the draw was made. */
static tb_rc refuse_void(const struct tb_draw *r, const struct tb_piles *p, struct tb_book *b,
                         struct tb_arena *mem, struct tb_err *err)
{
    struct tb_gone_bolt *gone;
    size_t n = 0;
    tb_rc rc = tb_draw_bolts_gone(&gone, &n, b, r->id, mem, err);

    if (rc != TB_OK || n == 0)
        return rc;
    return tb_fail(
        err, TB_EREFUSED,
        _n("%s had %lld bolt when it was drawn from and has %ld now; bolt %s, which was drawn, is void "
           "since; "
           "once that is taken back, it can be drawn from again",
           "%s had %lld bolts when it was drawn from and has %ld now; bolt %s, which was drawn, is void "
           "since; once that is taken back, it can be drawn from again",
           r->bolts),
        p->about, (long long)r->bolts, p->bolts, gone[0].number);
}

static tb_rc draw_again(struct tb_draw_outcome *out, struct tb_draw *r, struct tb_book *b,
                        const char *const *name, size_t names, struct tb_arena *mem, struct tb_err *err)
{
    struct tb_piles p;
    struct tb_bolt *bolt = NULL;
    size_t n = 0;
    tb_rc rc;

    if ((rc = tb_piles_gather(&p, b, name, names, mem, err)) != TB_OK ||
        (rc = tb_draw_latest(r, b, p.about, mem, err)) != TB_OK ||
        (rc = tb_draw_bolts(&bolt, &n, b, r->id, mem, err)) != TB_OK)
        return rc;
    /* a draw is of so many bolts: among more or fewer the seed means others, and nothing can be compared */
    if (r->bolts != p.bolts && (rc = refuse_void(r, &p, b, mem, err)) != TB_OK)
        return rc;
    if (r->bolts != p.bolts)
        return tb_fail(err, TB_EREFUSED,
                       _n("%s had %lld bolt when it was drawn from and has %ld now",
                          "%s had %lld bolts when it was drawn from and has %ld now", r->bolts),
                       p.about, (long long)r->bolts, p.bolts);
    /* spread as the draw was: the number is recorded, its parts follow from the lots */
    if ((rc = tb_spread(p.strata, p.n, (long)r->cut, err)) != TB_OK ||
        (rc = tb_piles_pick(&p, r->seed, mem, err)) != TB_OK)
        return rc;
    *out = (struct tb_draw_outcome){
        .about = p.about, .seed = r->seed, .before = p.before, .befores = p.befores, .recorded = true
    };
    out->handling = tb_piles_handling(&p);
    out->last = tb_piles_last_draw(&p);
    tb_piles_drawn(out, &p, mem);
    if (!same_bolts(out, bolt, n))
        return tb_fail(err, TB_EREFUSED,
                       _n("seed %s does not draw the %zu bolt recorded for %s",
                          "seed %s does not draw the %zu bolts recorded for %s", n),
                       r->seed, n, p.about);
    return TB_OK;
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
