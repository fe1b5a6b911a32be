/* Earlier draws of the same lots, and where a seed comes from. */
#include "cli/sampling/draw_before.h"

#include "cli/sampling/draw.h"
#include "cli/show.h"

#include <stdlib.h>
#include <string.h>

#define MADE_LEN 16 /* hexadecimal digits of a seed the program made */

tb_rc draw_before_add(struct draw_before *d, struct tb_book *b, const char *lot_id, struct tb_arena *mem,
                      struct tb_err *err)
{
    struct tb_draw *list = NULL;
    size_t n = 0, had = d->n;
    tb_rc rc = tb_draws_of_lot(&list, &n, b, lot_id, mem, err);

    for (size_t i = 0; i < n && rc == TB_OK; i++) {
        bool there = false;

        for (size_t k = 0; k < had && !there; k++)
            there = strcmp(d->draw[k].id, list[i].id) == 0;
        if (there)
            continue;
        TB_PUSH_ROOM(d->draw, d->n, d->cap);
        d->draw[d->n++] = list[i];
    }
    return rc;
}

const struct tb_draw *draw_before_last(const struct draw_before *d)
{
    const struct tb_draw *last = NULL;

    for (size_t i = 0; i < d->n; i++)
        if (!last || strcmp(d->draw[i].drawn_at, last->drawn_at) >= 0)
            last = &d->draw[i];
    return last;
}

void draw_before_free(struct draw_before *d)
{
    free(d->draw);
}

void draw_seed_try(char out[17])
{
    draw_seed_make(out);
    for (int i = 0; i < 4; i++)
        out[i] = "try-"[i];
}

bool draw_seed_by_hand(const char *seed)
{
    return strlen(seed) != MADE_LEN || strspn(seed, "0123456789abcdef") != MADE_LEN;
}

tb_rc draw_seed_kind(enum draw_seed *kind, const char *given, const struct draw_before *d, struct tb_err *err)
{
    *kind = given ? DRAW_SEED_GIVEN : DRAW_SEED_MADE;
    for (size_t i = 0; i < d->n && given; i++)
        if (strcmp(d->draw[i].seed, given) == 0)
            *kind = DRAW_SEED_EARLIER;
    if (*kind == DRAW_SEED_GIVEN && !draw_seed_by_hand(given))
        return tb_fail(err, TB_EREFUSED,
                       "seed %s looks like one that was made for a draw, and no draw of these bolts has it; "
                       "leave --seed out and one is made",
                       given);
    return TB_OK;
}

void draw_before_say(FILE *out, const struct draw_before *d, enum draw_seed kind)
{
    const struct tb_draw *last = draw_before_last(d);

    if (last)
        (void)fprintf(
            out,
            _n("They were drawn from before: %zu draw, by %s on %.10s with seed %s. Every draw "
               "stands in the journal.\n",
               "They were drawn from before: %zu draws, the last by %s on %.10s with seed %s. Every "
               "draw stands in the journal.\n",
               d->n),
            d->n, last->drawn_by, last->drawn_at, last->seed);
    if (kind == DRAW_SEED_GIVEN)
        (void)fputs(_("The seed was given by hand: whoever tries several can choose among the bolts.\n"),
                    out);
}
