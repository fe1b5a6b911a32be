/* What a person is asked before a burn is recorded: what may be seen, and what an earlier burn of the book says. */
#include "base/say.h"
#include "tenterbook/act_bench.h"
#include "work/observe.h"

#include <stdlib.h>
#include <string.h>

tb_rc tb_burn_like(struct tb_observation *out, struct tb_book *b, const char *id, struct tb_arena *mem,
                   struct tb_err *err)
{
    struct tb_burn burn = { 0 };
    tb_rc rc = tb_burn_find(&burn, b, id, mem, err);

    if (rc == TB_OK)
        rc = tb_burn_observed(out, &burn, err);
    return rc == TB_OK ? tb_observation_could_not(out, burn.could_not, err) : rc;
}

/* Straight insertion: a channel has a handful of cues, and those that tell as much stay in the order of the table. */
static void in_order(int *cue, size_t n, const double *telling)
{
    for (size_t i = 1; i < n; i++)
        for (size_t k = i; k > 0 && telling[cue[k]] > telling[cue[k - 1]]; k--) {
            int before = cue[k - 1];

            cue[k - 1] = cue[k];
            cue[k] = before;
        }
}

/* Channels stay in the order of a burn, since what is gone in a second cannot be looked at later. */
static void arrange(struct tb_burn_guide *out, const double *telling)
{
    for (size_t i = 0; i < tb_channel_count(); i++) {
        struct tb_channel ch;
        size_t first = out->cues;

        tb_channel_at(&ch, (int)i);
        for (int c = ch.first; c < ch.first + ch.n && !ch.bench; c++)
            out->cue[out->cues++] = c;
        in_order(out->cue + first, out->cues - first, telling);
    }
}

static tb_rc read_telling(double *telling, struct tb_burn_guide *out, struct tb_book *b, struct tb_err *err)
{
    struct tb_evidence *ev = NULL;
    struct tb_declaration d;
    tb_rc rc = tb_bench_model(&ev, b, err);

    if (rc != TB_OK)
        return rc;
    tb_declaration_read(&d, out->declared, strlen(out->declared));
    rc = tb_evidence_telling(telling, ev, &d, out->swatch.part, err);
    tb_declaration_free(&d);
    tb_evidence_free(ev);
    return rc;
}

/* Whoever is about to burn a swatch a second time should know: mostly the tag was scanned twice. */
static tb_rc read_before(struct tb_burn_guide *out, struct tb_book *b, const char *like, struct tb_arena *mem,
                         struct tb_err *err)
{
    size_t n;
    tb_rc rc = tb_burn_list(&out->before, &n, b, out->swatch.lot, mem, err);

    for (size_t i = 0; rc == TB_OK && i < n; i++)
        if (strcmp(out->before[i].swatch, out->swatch.id) == 0 &&
            !(like && strcmp(out->before[i].id, like) == 0))
            out->before[out->befores++] = out->before[i];
    return rc;
}

tb_rc tb_burn_guide_read(struct tb_burn_guide *out, struct tb_book *b, const char *swatch, const char *like,
                         struct tb_arena *mem, struct tb_err *err)
{
    const struct tb_swatch *s = &out->swatch;
    double telling[TB_CUES_MOST];
    struct tb_lot lot;
    tb_rc rc;

    *out = (struct tb_burn_guide){ .declared = "", .also = -1 };
    if ((rc = tb_flame_check(b, err)) != TB_OK ||
        (rc = tb_swatch_find(&out->swatch, b, swatch, mem, err)) != TB_OK ||
        (rc = tb_bench_handling_check(b, s->known, s->lot_ref, TB_HANDLING_ANY, NULL, err)) != TB_OK)
        return rc;
    out->declared = s->known;
    if (s->lot && (rc = tb_lot_find(&lot, b, s->lot_ref, mem, err)) == TB_OK) {
        struct tb_declaration all = { 0 };

        rc = tb_lot_words(&all, b, &lot, err);
        out->also = all.also;
        tb_declaration_free(&all);
        out->declared = lot.declared;
    }
    if (rc == TB_OK)
        rc = read_before(out, b, like, mem, err);
    if (rc == TB_OK && like)
        rc = tb_burn_like(&out->seen, b, like, mem, err);
    if (rc == TB_OK && (rc = read_telling(telling, out, b, err)) == TB_OK)
        arrange(out, telling);
    return rc;
}
