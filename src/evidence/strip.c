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

/* One way, at the end; a run goes on as long as the chunk and what is shown stay the same. */
static void put_way(struct tb_layout *l, int *at, const int *steps)
{
    struct tb_chunk *c = &l->chunk[*at / TB_CHUNK];
    int lane = *at % TB_CHUNK;
    unsigned bits = shows(steps, l->roles);

    assert(*at < TB_CHUNKS_MOST * TB_CHUNK);
    for (int r = 0; r < l->roles; r++)
        c->steps[r][lane] = (unsigned char)steps[r];
    if (c->runs == 0 || c->run[c->runs - 1].shows != bits)
        c->run[c->runs++] = (struct tb_run){ lane, lane, bits };
    c->run[c->runs - 1].to = lane + 1;
    ++*at;
}

/* All ways whose shown roles are `bits`. */
static void put_ways(struct tb_layout *l, int *at, unsigned bits)
{
    int s[3];

    for (s[0] = 1; s[0] < TB_STEPS; s[0]++)
        for (s[1] = 1; s[0] + s[1] <= TB_STEPS; s[1]++) {
            s[2] = TB_STEPS - s[0] - s[1];
            if ((l->roles == 2) == (s[2] == 0) && shows(s, l->roles) == bits)
                put_way(l, at, s);
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
