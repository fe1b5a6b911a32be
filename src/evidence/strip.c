/* strip.c - the ways to share out a cloth, in chunks, and the compositions of one chunk, strip by strip. */
#include "evidence/strip.h"

#include <assert.h>
#include <string.h>

/* Bit r: the role holds enough to show. */
static unsigned shows(const int *steps, int roles)
{
    unsigned bits = 0;

    assert(roles <= 3);
    for (int r = 0; r < roles; r++)
        bits |= steps[r] >= TB_SHOWN_STEPS ? 1u << r : 0;
    return bits;
}

/*
 * Ways of three fibres that stand for more than themselves, in any order of the fibres. Those of 10 % and more of each: 18 of 120, by
 * which every polynomial of the shares up to the fourth degree has the sum it has over all; those with 5 % of one: 6 of 16,
 * likewise. 5 % of two is one way.
 */
static const struct {
    int steps[3]; /* rising */
    double weight;
} STANDS_FOR[] = {
    { { 2, 2, 16 }, 2.06 },          { { 2, 6, 12 }, 5.67 },
    { { 3, 4, 13 }, 4.592 },         { { 4, 8, 8 }, 17.416 },
    { { 1, 2, 17 }, 124.0 / 117.0 }, { { 1, 4, 15 }, 44.0 / 13.0 },
    { { 1, 8, 11 }, 32.0 / 9.0 },    { { 1, 1, 18 }, 1 },
};

static void in_order(int *a, int *b)
{
    int was = *a;

    if (*a > *b) {
        *a = *b;
        *b = was;
    }
}

/* How many ways of the grid one stands for; 0: another one stands for it. */
static double weight_of(const int *steps, int roles)
{
    int s[3] = { steps[0], steps[1], steps[2] };

    if (roles == 2)
        return 1;
    in_order(&s[0], &s[1]);
    in_order(&s[1], &s[2]);
    in_order(&s[0], &s[1]);
    for (size_t i = 0; i < sizeof STANDS_FOR / sizeof *STANDS_FOR; i++)
        if (memcmp(s, STANDS_FOR[i].steps, sizeof s) == 0)
            return STANDS_FOR[i].weight;
    return 0;
}

/* One way, at the end, and in the padding until the next one comes; a run goes on as long as the chunk and what is shown stay the same. */
static void put_way(struct tb_layout *l, int *at, const int *steps, double weight)
{
    struct tb_chunk *c = &l->chunk[*at / TB_CHUNK];
    unsigned bits = shows(steps, l->roles);

    assert(*at < TB_CHUNKS_MOST * TB_CHUNK);
    for (int r = 0; r < l->roles; r++)
        for (int lane = c->ways; lane < TB_CHUNK; lane++)
            c->steps[r][lane] = (unsigned char)steps[r];
    if (c->runs == 0 || c->run[c->runs - 1].shows != bits)
        c->run[c->runs++] = (struct tb_run){ .shows = bits };
    c->run[c->runs - 1].weight[c->ways++] = weight;
    ++*at;
}

/* All ways whose shown roles are `bits`. */
static void put_ways(struct tb_layout *l, int *at, unsigned bits)
{
    int s[3];

    for (s[0] = 1; s[0] < TB_STEPS; s[0]++)
        for (s[1] = 1; s[0] + s[1] <= TB_STEPS; s[1]++) {
            s[2] = TB_STEPS - s[0] - s[1];
            if ((l->roles == 2) == (s[2] == 0) && shows(s, l->roles) == bits && weight_of(s, l->roles) > 0)
                put_way(l, at, s, weight_of(s, l->roles));
        }
}

/* Ways that show the same come together, so that few chunks are mixed. */
void tb_layout_make(struct tb_layout *out, int roles)
{
    int at = 0;

    memset(out, 0, sizeof *out);
    out->roles = roles;
    for (unsigned bits = (1u << roles) - 1; bits > 0; bits--)
        put_ways(out, &at, bits);
    out->chunks = (at + TB_CHUNK - 1) / TB_CHUNK;
}

/* What is left for the last fibre; false when nothing is. */
static bool strip_here(struct tb_strip *s, int fibres)
{
    s->first = (s->layout->roles == 2 ? s->i : s->j) + 1;
    s->n = fibres - s->first;
    return s->n > 0;
}

bool tb_strip_first(struct tb_strip *out, const struct tb_layout *layout, int fibres)
{
    *out = (struct tb_strip){ .layout = layout, .j = layout->roles == 2 ? -1 : 1 };
    return strip_here(out, fibres);
}

/* The last index that may grow grows first, then the one before it, then the chunk. */
bool tb_strip_next(struct tb_strip *s, int fibres)
{
    if (s->layout->roles == 3) {
        s->j++;
        if (strip_here(s, fibres))
            return true;
        s->j = s->i + 2;
    }
    s->i++;
    if (strip_here(s, fibres))
        return true;
    s->i = 0;
    s->j = s->layout->roles == 2 ? -1 : 1;
    s->chunk++;
    return s->chunk < s->layout->chunks && strip_here(s, fibres);
}
