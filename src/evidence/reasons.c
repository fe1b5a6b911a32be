/* reasons.c - the cues that weighed most, as one phrase. */
#include "tenterbook/evidence.h"

#include <math.h>
#include <stdlib.h>

/* "9 to 1": decibans as odds a person can picture; no cue says more than the whole of what was tested. */
static void odds(struct tb_text *out, double db, const struct tb_bounds *bounds)
{
    double times = pow(10, fabs(db) / 10), most = exp(db > 0 ? bounds->high : -bounds->low);

    if (times >= most && !bounds->untested)
        tb_text_say(out, "over %.0f to 1", most);
    else if (times >= most)
        tb_text_say(out, "%.0f to 1", most);
    else if (times < 10)
        tb_text_say(out, "%.1f to 1", times);
    else
        tb_text_say(out, "%.0f to 1", times);
}

/* An item of a list, which names its part where the cloth was burned in parts. */
static void name_part(struct tb_text *out, enum tb_part_kind part)
{
    if (part != TB_PART_WHOLE)
        tb_text_addf(out, "%s: ", tb_part_key(part));
}

/* One burn showed it and another one did not. */
static bool seen_elsewhere(const struct tb_verdict *v, const struct tb_cue_weight *w)
{
    for (size_t i = 0; i < v->n_cue && w->sight != TB_SIGHT_SEEN; i++)
        if (v->cue[i].part == w->part && v->cue[i].cue == w->cue && v->cue[i].sight == TB_SIGHT_SEEN)
            return true;
    return false;
}

/* Seen or not, remembered or not: a translator gets each as a whole. */
static void say_cue(struct tb_text *out, const struct tb_verdict *v, const struct tb_cue_weight *w, double db)
{
    const struct tb_bounds *bounds = &v->bounds;
    struct tb_text o = { 0 };
    struct tb_cue c;

    tb_cue_at(&c, w->cue);
    odds(&o, db, bounds);
    name_part(out, w->part);
    if (w->sight == TB_SIGHT_SEEN && !c.memory)
        tb_text_say(out, "%s (%s), %s", c.meaning, c.key, o.s);
    else if (w->sight == TB_SIGHT_SEEN)
        tb_text_say(out, "%s (%s), %s, its figures are from memory", c.meaning, c.key, o.s);
    else if (seen_elsewhere(v, w))
        tb_text_say(out, "not seen in every burn: %s (%s), %s", c.meaning, c.key, o.s);
    else if (!c.memory)
        tb_text_say(out, "not seen: %s (%s), %s", c.meaning, c.key, o.s);
    else
        tb_text_say(out, "not seen: %s (%s), %s, its figures are from memory", c.meaning, c.key, o.s);
    tb_text_free(&o);
}

#define SAID_FROM_DB 0.5
#define DECIDES_FROM_DB 3 /* a factor of two */

/* Half a deciban is 12 percent either way: less is not worth a reader's time. */
static bool speaks(double db, int side)
{
    return (side > 0) == (db > 0) && fabs(db) >= SAID_FROM_DB;
}

static int by_alone(const void *a, const void *b)
{
    const struct tb_cue_weight *x = a, *y = b;
    double p = fabs(x->alone_db), q = fabs(y->alone_db);

    return p < q ? 1 : p > q ? -1 : x->cue != y->cue ? x->cue - y->cue : (int)x->part - (int)y->part;
}

/* Each cue by itself: what is said where none of them adds to the others. */
static void say_alone(struct tb_text *out, const struct tb_verdict *v, int side, size_t most)
{
    struct tb_cue_weight *cue = tb_array(struct tb_cue_weight, v->n_cue + 1);
    struct tb_text list = { 0 };
    size_t said = 0;

    for (size_t i = 0; i < v->n_cue; i++)
        cue[i] = v->cue[i];
    qsort(cue, v->n_cue, sizeof *cue, by_alone);
    for (size_t i = 0; i < v->n_cue && said < most; i++)
        if (speaks(cue[i].alone_db, side)) {
            tb_text_addf(&list, "%s", said++ ? "; " : "");
            say_cue(&list, v, &cue[i], cue[i].alone_db);
        }
    if (said)
        tb_text_say(out, "no single cue decides; each by itself: %s", list.s);
    tb_text_free(&list);
    free(cue);
}

/* Does some cue of this side change the verdict's ratio by itself? Where many say the same, none does. */
static bool decides(const struct tb_verdict *v, int side)
{
    for (size_t i = 0; i < v->n_cue; i++)
        if (speaks(v->cue[i].weight_db, side))
            return fabs(v->cue[i].weight_db) >= DECIDES_FROM_DB;
    return false;
}

/*
 * Beside a burn that showed it, leaving out that another one did not may lift the ratio either way: as a reason it is said on the
 * side where it stands by itself.
 */
static bool says_so(const struct tb_verdict *v, const struct tb_cue_weight *w, int side)
{
    return speaks(w->weight_db, side) && !(seen_elsewhere(v, w) && (side > 0) != (w->alone_db > 0));
}

/* The weights stand in falling order, so the first few are the weightiest. */
void tb_verdict_reasons(struct tb_text *out, const struct tb_verdict *v, int side, size_t most)
{
    bool points = (side > 0) == (v->ratio >= 1);
    size_t said = 0, before = out->n;

    if (points && !decides(v, side))
        say_alone(out, v, side, most);
    if (out->n > before)
        return;
    for (size_t i = 0; i < v->n_cue && said < most; i++)
        if (says_so(v, &v->cue[i], side)) {
            tb_text_addf(out, "%s", said++ ? "; " : "");
            say_cue(out, v, &v->cue[i], v->cue[i].weight_db);
        }
}
