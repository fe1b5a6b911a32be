/* went_back.c - which bolts of a lot went back, when, and what they were invoiced at. */
#include "tenterbook/lot_story.h"

#include <math.h>
#include <string.h>

/* What was decided of a bolt alone, and is in force; NULL: it stands as its lot. */
static const struct tb_bolt_standing *single_of(const struct tb_lot_story *s, const struct tb_bolt *b)
{
    for (size_t i = s->singles; i > 0; i--)
        if (s->single[i - 1].counts && strcmp(s->single[i - 1].bolt, b->id) == 0)
            return &s->single[i - 1];
    return NULL;
}

/* When the lot went back, as it stands; NULL: it does not stand so. */
static const char *whole_back(const struct tb_lot_story *s)
{
    const char *at = NULL;

    for (size_t i = 0; i < s->standings && s->lot.standing == TB_RETURNED; i++)
        if (s->standing[i].standing == TB_RETURNED && !s->standing[i].gone)
            at = s->standing[i].settled_at;
    return at;
}

/*
 * What of a bolt was not cut off before it went back. Whoever says no metres used the whole bolt: nothing of it goes back with its lot;
 * where it is sent back alone, something of it is left, and nobody knows how much.
 */
static double left_of(const struct tb_lot_story *s, const struct tb_bolt *b, bool alone)
{
    double cut = tb_bolt_cut_off(s->claim.use, s->claim.uses, b->id);

    if (tb_bolt_used_whole(s->claim.use, s->claim.uses, b->id))
        return alone ? (double)NAN : 0;
    if (cut > 0 && isnan(b->metres))
        return NAN;
    return cut > 0 ? fmax(0, b->metres - cut) / b->metres : 1;
}

/* In units of the invoice; NAN where that of a bolt is not known. */
static double quantity_of(const struct tb_invoiced *in, const struct tb_bolt *b)
{
    return !isnan(in->unit_metres) ? b->metres / in->unit_metres
           : b->kg > 0             ? b->kg
           : b->weight_kg > 0      ? b->weight_kg
                                   : (double)NAN;
}

void tb_story_went_back(struct tb_went_back *out, const struct tb_lot_story *s, struct tb_arena *mem)
{
    const char *whole = whole_back(s);
    bool cut = false;

    *out = (struct tb_went_back){ .bolt = tb_arena_alloc(mem, (s->bolts + 1) * sizeof *out->bolt) };
    for (size_t i = 0; i < s->bolts; i++) {
        const struct tb_bolt_standing *single = single_of(s, &s->bolt[i]);
        const char *at = single ? single->standing == TB_RETURNED ? single->settled_at : NULL : whole;
        double left = left_of(s, &s->bolt[i], single != NULL);

        if (!at || left <= 0) /* of one that was used up nothing went back */
            continue;
        cut = cut || !(left >= 1);
        out->bolt[out->n++] =
            (struct tb_bolt_back){ &s->bolt[i], tb_arena_strndup(mem, at, TB_DAY_LEN), left };
        out->cut_off += left < 1 ? (1 - left) * s->bolt[i].metres : isnan(left) ? left : 0;
        out->quantity += left * quantity_of(&s->invoiced, &s->bolt[i]);
    }
    out->whole = out->n == s->bolts && !cut;
    out->value = s->invoiced.price * out->quantity;
}

double tb_credit_awaited(const struct tb_lot_story *s, const struct tb_dispute *open, struct tb_arena *mem)
{
    struct tb_went_back back;

    if (!tb_nothing_credited(open, &s->lot))
        return 0;
    tb_story_went_back(&back, s, mem);
    return back.value - (open ? tb_dispute_recovered(open, s->invoiced.currency) : 0);
}

bool tb_credit_came_in(const struct tb_lot_story *s, const struct tb_dispute *open)
{
    const struct tb_dispute_step *agreed = open ? tb_dispute_last(open, TB_AGREED) : NULL;
    struct tb_arena mem = { 0 };
    bool in = agreed && tb_nothing_credited(open, &s->lot) && tb_credit_is_all(agreed, &s->lot) &&
              tb_credit_awaited(s, open, &mem) < TB_CENT / 2;

    tb_arena_free(&mem);
    return in;
}
