/* finish.c - what finishes, coatings and loadings make of a burn: the channels they silence, the cues they make. */
#include "evidence/likelihood.h"

#include "gen/ref_finish.h"
#include "gen/ref_finish_effect.h"

#include <assert.h>
#include <string.h>

#define SHOWN 0.0999 /* 10 % of the mass, and what adding up shares may lose */

/* Fibres and classes of the table, separated by |; * is every one. */
static bool names(const char *list, const struct tb_evidence *ev, int fibre)
{
    const char *key = tb_fibre_at(ev->fibre[fibre])->key, *class = ev->class_key[fibre];

    return strcmp(list, "*") == 0 || tb_word_listed(list, key, strlen(key), "|") ||
           tb_word_listed(list, class, strlen(class), "|");
}

/* A row of the table, its words looked up: for every fibre that would take longer than all else here. */
struct row {
    const struct tb_ref_finish_effect *r;
    int cue, channel; /* cue -1: the channel is silenced */
    bool memory;
};

/* Those of one finish; returns how many. `row` has room for the table. */
static size_t rows_of(struct row *row, int finish)
{
    const char *key = tb_finish_key(finish);
    size_t n = 0;

    for (size_t i = 0; i < tb_ref_finish_effect_n; i++) {
        const struct tb_ref_finish_effect *r = &tb_ref_finish_effect[i];
        int cue;

        if (strcmp(r->finish, key) != 0)
            continue;
        cue = tb_cue_by_key(r->of);
        row[n++] =
            (struct row){ r, cue, cue < 0 ? tb_channel_by_key(r->of) : -1, strcmp(r->status, "memory") == 0 };
    }
    return n;
}

/* All that the table says of one finish on one fibre; rows from memory only where the declaration names it. */
static bool effects_of(struct tb_effects *out, const struct tb_evidence *ev, const struct row *row, size_t n,
                       int fibre, bool named)
{
    bool any = false;

    memset(out, 0, sizeof *out);
    for (size_t i = 0; i < n; i++) {
        int cue = row[i].cue;

        if ((row[i].memory && !named) || !names(row[i].r->fibres, ev, fibre))
            continue;
        any = true;
        out->memory |= row[i].memory;
        if (cue < 0)
            out->silent[row[i].channel] = true;
        else if (row[i].r->chance > out->make[cue])
            out->make[cue] = row[i].r->chance;
    }
    return any;
}

static bool are_same(const struct tb_effects *a, const struct tb_effects *b)
{
    for (int c = 0; c < TB_CUES_MOST; c++)
        if (a->make[c] < b->make[c] || a->make[c] > b->make[c])
            return false;
    return memcmp(a->silent, b->silent, sizeof a->silent) == 0 && a->memory == b->memory;
}

/* Many fibres of a class share what a finish does to them. */
static int number_of(struct tb_evidence *ev, const struct tb_effects *e)
{
    for (int i = 0; i < ev->n_effects; i++)
        if (are_same(&ev->effects[i], e))
            return i;
    assert(ev->n_effects < TB_EFFECTS_MOST);
    ev->effects[ev->n_effects] = *e;
    return ev->n_effects++;
}

void tb_finish_take(struct tb_evidence *ev)
{
    struct tb_arena mem = { 0 };
    struct row *row = tb_arena_alloc(&mem, tb_ref_finish_effect_n * sizeof *row);

    for (size_t z = 0; z < tb_ref_finish_n; z++) {
        size_t n = rows_of(row, (int)z);

        for (int f = 0; f < ev->fibres; f++)
            for (int named = 0; named < 2; named++) {
                struct tb_effects e;
                bool any = effects_of(&e, ev, row, n, f, named);

                ev->finish[z].of[named][f] = any ? number_of(ev, &e) : -1;
            }
    }
    for (size_t z = 0; z < tb_ref_finish_n; z++) {
        ev->finish[z].unnamed = tb_ref_finish[z].unnamed;
        for (int f = 0; f < ev->fibres; f++)
            if (ev->finish[z].of[0][f] >= 0)
                ev->unnamed[f] += tb_ref_finish[z].unnamed;
    }
    tb_arena_free(&mem);
}

bool tb_finish_on(const struct tb_evidence *ev, int finish, bool named, const struct tb_blend *b)
{
    bool on = false;

    for (int i = 0; i < b->n; i++)
        on |= b->share[i] >= SHOWN && ev->finish[finish].of[named][b->fibre[i]] >= 0;
    return on;
}

double tb_finish_chance(const struct tb_evidence *ev, const struct tb_blend *b, int cue, double p)
{
    const struct tb_cue_model *m = &ev->cue[cue];
    bool silent = false;
    double make = 0;

    for (int i = 0; i < b->n; i++) {
        int at = ev->finish[b->finish - 1].of[b->named][b->fibre[i]];

        if (b->share[i] < SHOWN || at < 0)
            continue;
        silent |= ev->effects[at].silent[m->channel];
        make = ev->effects[at].make[cue] > make ? ev->effects[at].make[cue] : make;
    }
    return 1 - (1 - (silent && !m->telling ? m->base : p)) * (1 - make);
}
