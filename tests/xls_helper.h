/* Old workbooks made by hand: a stream of records, and the compound file around it. Shared by tests and a fuzzer. */
#ifndef XLS_HELPER_H
#define XLS_HELPER_H

#include "tenterbook/base.h"

#include <stdint.h>
#include <string.h>

/* Numbers as they lie in the file. */
static inline void le(struct tb_text *t, uint32_t v, size_t bytes)
{
    for (size_t i = 0; i < bytes; i++)
        tb_text_addc(t, (char)(v >> 8 * i & 0xFF));
}

static inline void le_at(struct tb_text *t, size_t at, uint32_t v)
{
    for (size_t i = 0; i < 4; i++)
        t->s[at + i] = (char)(v >> 8 * i & 0xFF);
}

static inline void le_double(struct tb_text *t, double v)
{
    uint64_t bits;

    memcpy(&bits, &v, sizeof bits);
    le(t, (uint32_t)bits, 4);
    le(t, (uint32_t)(bits >> 32), 4);
}

/* An entry of the directory. */
static inline void cfb_entry(struct tb_text *t, const char *name, unsigned kind, uint32_t first,
                             uint32_t bytes)
{
    size_t n = strlen(name), from = t->n;

    for (size_t i = 0; i < n; i++)
        le(t, (unsigned char)name[i], 2);
    while (t->n < from + 64)
        tb_text_addc(t, '\0');
    le(t, n ? (uint32_t)(2 * (n + 1)) : 0, 2);
    tb_text_addc(t, (char)kind);
    while (t->n < from + 116)
        tb_text_addc(t, '\0');
    le(t, first, 4);
    le(t, bytes, 4);
    le(t, 0, 4);
}

/* Around at most 60 kB: sector 0 holds the chains, sector 1 the directory, the rest one stream. */
static inline void make_cfb(struct tb_text *out, const char *name, const void *stream, size_t n)
{
    static const unsigned char head[] = { 0xD0, 0xCF, 0x11, 0xE0, 0xA1, 0xB1, 0x1A, 0xE1 };
    size_t bytes = n < 4096 ? 4096 : n, sectors = (bytes + 511) / 512;

    tb_text_clear(out);
    tb_text_addn(out, (const char *)head, sizeof head);
    while (out->n < 24)
        tb_text_addc(out, '\0');
    le(out, 0x3E | 3u << 16, 4);
    le(out, 0xFFFE | 9u << 16, 4);
    le(out, 6, 4);
    while (out->n < 44)
        tb_text_addc(out, '\0');
    le(out, 1, 4); /* sectors of chains */
    le(out, 1, 4); /* the directory */
    le(out, 0, 4);
    le(out, 4096, 4);       /* streams below are small */
    le(out, 0xFFFFFFFE, 4); /* there are none */
    le(out, 0, 4);
    le(out, 0xFFFFFFFE, 4);
    le(out, 0, 4);
    le(out, 0, 4); /* the sector of chains */
    while (out->n < 512)
        le(out, 0xFFFFFFFF, 4);
    le(out, 0xFFFFFFFD, 4);
    le(out, 0xFFFFFFFE, 4);
    for (size_t i = 0; i < 126; i++)
        le(out, i + 1 < sectors ? (uint32_t)i + 3 : i + 1 == sectors ? 0xFFFFFFFE : 0xFFFFFFFF, 4);
    cfb_entry(out, "Root Entry", 5, 0xFFFFFFFE, 0);
    cfb_entry(out, name, 2, 2, (uint32_t)bytes);
    cfb_entry(out, "", 0, 0, 0);
    cfb_entry(out, "", 0, 0, 0);
    tb_text_addn(out, stream, n);
    while (out->n < 1536 + sectors * 512)
        tb_text_addc(out, '\0');
}

#endif
