/* xls_text.c - texts of an old workbook, which may go on from record to record. */
#include "base/xls_in.h"

#include <unistr.h>

/* A record holds 8224 bytes; what goes on stands in one that says so. */
static bool fill(struct tb_biff_text *in)
{
    struct tb_biff next;
    size_t at = in->at;

    while (in->now.n == 0) {
        if (!tb_biff_next(&next, in->x, &at) || next.type != TB_BIFF_CONTINUE)
            return false;
        in->now = next;
        in->at = at;
    }
    return true;
}

static bool byte(struct tb_biff_text *in, unsigned *out)
{
    if (!fill(in))
        return false;
    *out = *in->now.p++;
    in->now.n--;
    return true;
}

static bool number(struct tb_biff_text *in, size_t bytes, uint32_t *out)
{
    unsigned b;

    *out = 0;
    for (size_t i = 0; i < bytes; i++) {
        if (!byte(in, &b))
            return false;
        *out |= (uint32_t)b << 8 * i;
    }
    return true;
}

static bool skip(struct tb_biff_text *in, uint64_t n)
{
    while (n > 0) {
        size_t some;

        if (!fill(in))
            return false;
        some = n < in->now.n ? (size_t)n : in->now.n;
        in->now.p += some;
        in->now.n -= some;
        n -= some;
    }
    return true;
}

/* Half of a character that has no other half cannot be written as UTF-8: it is shown as one that is missing. */
static void add(struct tb_text *out, uint32_t c)
{
    uint8_t buf[4];
    int n = u8_uctomb(buf, c >= 0xD800 && c <= 0xDFFF ? 0xFFFD : c, sizeof buf);

    tb_text_addn(out, (const char *)buf, n > 0 ? (size_t)n : 0);
}

/* Where a text goes on, its characters may become wider or narrower: a byte says so. A NUL in it would end it. */
static bool characters(struct tb_text *out, struct tb_biff_text *in, uint32_t n, bool wide)
{
    uint32_t c, high = 0;

    for (uint32_t i = 0; i < n; i++) {
        if (in->now.n == 0) {
            unsigned flags;

            if (!byte(in, &flags))
                return false;
            wide = flags & 1;
        }
        if (!number(in, wide ? 2 : 1, &c))
            return false;
        if (high && c >= 0xDC00 && c <= 0xDFFF) {
            add(out, 0x10000 + ((high - 0xD800) << 10) + (c - 0xDC00));
            high = 0;
            continue;
        }
        if (high)
            add(out, high);
        high = c >= 0xD800 && c <= 0xDBFF ? c : 0;
        if (!high)
            add(out, c ? c : ' ');
    }
    if (high)
        add(out, high);
    return true;
}

bool tb_biff_text(struct tb_text *out, struct tb_biff_text *in, size_t length)
{
    uint32_t n, runs = 0, more = 0;
    unsigned flags;

    if (!number(in, length, &n) || !byte(in, &flags) || ((flags & 8) && !number(in, 2, &runs)) ||
        ((flags & 4) && !number(in, 4, &more)))
        return false;
    /* pieces of other fonts, and the phonetic reading, are not the text */
    return characters(out, in, n, flags & 1) && skip(in, 4ull * runs + more);
}
