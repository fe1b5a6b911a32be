/* icc.c - a profile of sRGB, written out: a few numbers, so that no file of another package decides over the bytes. */
#include "report/draw/icc.h"

#include <math.h>
#include <stdint.h>
#include <string.h>

#define HEADER 128
#define ENTRY 12 /* bytes of the table of tags for each */

/* Numbers are written with the high byte first. */
static void put32(struct tb_text *t, uint32_t v)
{
    for (int shift = 24; shift >= 0; shift -= 8)
        tb_text_addc(t, (char)(v >> shift & 255));
}

/* s15Fixed16Number: sixteen bits before the point, sixteen after it. */
static void put_fixed(struct tb_text *t, double v)
{
    put32(t, (uint32_t)(int32_t)lround(v * 65536));
}

static void put_fixeds(struct tb_text *t, const char *kind, const double *v, size_t n)
{
    tb_text_add(t, kind);
    put32(t, 0);
    for (size_t i = 0; i < n; i++)
        put_fixed(t, v[i]);
}

/* multiLocalizedUnicodeType with one text, of letters of ASCII alone. */
static void put_words(struct tb_text *t, const char *words)
{
    size_t n = strlen(words);

    tb_text_add(t, "mluc");
    put32(t, 0);
    put32(t, 1);
    put32(t, 12);
    tb_text_add(t, "enUS");
    put32(t, (uint32_t)(2 * n));
    put32(t, 28);
    for (size_t i = 0; i < n; i++) {
        tb_text_addc(t, '\0');
        tb_text_addc(t, words[i]);
    }
}

/* parametricCurveType, function 3: the straight foot and the power above it (IEC 61966-2-1, 4.2). */
static void put_curve(struct tb_text *t)
{
    static const double curve[] = { 2.4, 1 / 1.055, 0.055 / 1.055, 1 / 12.92, 0.04045 };

    tb_text_add(t, "para");
    put32(t, 0);
    put32(t, 3u << 16);
    for (size_t i = 0; i < TB_COUNT(curve); i++)
        put_fixed(t, curve[i]);
}

/* The body and the table grow side by side; the place of the body is known, since the table's size is. */
struct profile {
    struct tb_text table, body;
    size_t begin;
};

#define TAGS 10

/* Each begins at a multiple of four. */
static void name_tag(struct profile *p, const char *name, size_t from)
{
    tb_text_add(&p->table, name);
    put32(&p->table, (uint32_t)(p->begin + from));
    put32(&p->table, (uint32_t)(p->body.n - from));
}

static void pad(struct profile *p)
{
    while (p->body.n % 4)
        tb_text_addc(&p->body, '\0');
}

static void fill(struct profile *p)
{
    static const struct {
        const char *name;
        double v[3];
    } colour[] = { { "wtpt",
                     { 0.96420, 1.00000, 0.82490 } }, /* D50, of the space profiles are connected in */
                   { "rXYZ", { 0.43604, 0.22248, 0.01392 } },
                   { "gXYZ", { 0.38511, 0.71691, 0.09707 } },
                   { "bXYZ", { 0.14305, 0.06061, 0.71391 } } };
    static const double from_d65[] = { 1.04789,  0.02292,  -0.05022, 0.02958, 0.99048,
                                       -0.01708, -0.00925, 0.01507,  0.75168 };
    size_t from = 0;

    put_words(&p->body, "sRGB");
    name_tag(p, "desc", from);
    pad(p);
    from = p->body.n;
    put_words(&p->body, "No copyright, use freely");
    name_tag(p, "cprt", from);
    pad(p);
    for (size_t i = 0; i < TB_COUNT(colour); i++) {
        from = p->body.n;
        put_fixeds(&p->body, "XYZ ", colour[i].v, 3);
        name_tag(p, colour[i].name, from);
    }
    from = p->body.n;
    put_fixeds(&p->body, "sf32", from_d65, TB_COUNT(from_d65));
    name_tag(p, "chad", from);
    from = p->body.n;
    put_curve(&p->body);
    name_tag(p, "rTRC", from); /* one curve for all three */
    name_tag(p, "gTRC", from);
    name_tag(p, "bTRC", from);
}

/* The day is one of the standard, not of the clock. */
static void put_header(struct tb_text *t, size_t size)
{
    put32(t, (uint32_t)size);
    put32(t, 0);          /* no preferred module */
    put32(t, 0x04200000); /* version 4.2 */
    tb_text_add(t, "mntrRGB XYZ ");
    put32(t, 2005u << 16 | 1);
    put32(t, 1u << 16);
    put32(t, 0);
    tb_text_add(t, "acsp");
    for (int i = 0; i < 7; i++) /* platform, flags, maker, model, attributes (8 bytes), intent: perceptual */
        put32(t, 0);
    put_fixed(t, 0.96420);
    put_fixed(t, 1);
    put_fixed(t, 0.82490);
    while (t->n < HEADER)
        put32(t, 0);
}

void tb_icc_srgb(struct tb_text *out)
{
    struct profile p = { .begin = HEADER + 4 + (size_t)TAGS * ENTRY };
    struct tb_text all = { 0 };

    fill(&p);
    pad(&p);
    put_header(&all, p.begin + p.body.n);
    put32(&all, TAGS);
    tb_text_addn(&all, p.table.s, p.table.n);
    tb_text_addn(&all, p.body.s, p.body.n);
    tb_text_addn(out, all.s, all.n);
    tb_text_free(&p.table);
    tb_text_free(&p.body);
    tb_text_free(&all);
}
