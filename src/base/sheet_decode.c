/* sheet_decode.c - text files of spreadsheets as UTF-8: which encoding, and the decoding chunk by chunk. */
#include "base/sheet_in.h"

#include <errno.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistr.h>

#define CHUNK 65536

enum encoding { UTF8, UTF16LE, UTF16BE, WINDOWS1252 };

struct tb_decoder {
    FILE *f;
    enum encoding encoding;
    unsigned char raw[CHUNK + 4];
    size_t kept; /* bytes of an unfinished character at the start of raw */
    struct tb_text text;
};

const char *tb_decoder_encoding(const struct tb_decoder *d)
{
    static const char *const name[] = { "UTF-8", "UTF-16LE", "UTF-16BE", "Windows-1252" };

    return name[d->encoding];
}

/* Bytes at the end of s that begin a character and do not finish it (0 to 3). */
static size_t unfinished(const unsigned char *s, size_t n)
{
    for (size_t back = 1; back <= 3 && back <= n; back++) {
        unsigned char c = s[n - back];

        if ((c & 0xC0) == 0x80)
            continue;
        return c >= 0xF0 ? (back < 4 ? back : 0) : c >= 0xE0 ? (back < 3 ? back : 0) : c >= 0xC0 && back < 2;
    }
    return 0;
}

/* Is the whole rest of the file UTF-8? */
static bool all_utf8(FILE *f, unsigned char *raw)
{
    size_t kept = 0, n;

    while ((n = fread(raw + kept, 1, CHUNK, f)) > 0) {
        size_t all = kept + n, left = unfinished(raw, all);

        if (u8_check(raw, all - left) != NULL)
            return false;
        memmove(raw, raw + all - left, left);
        kept = left;
    }
    return kept == 0;
}

/* UTF-16 without a mark: text of the Latin block has a zero in every other byte. */
static bool looks_utf16(const unsigned char *s, size_t n, bool little)
{
    size_t zero[2] = { 0, 0 }, pairs = n / 2;

    for (size_t i = 0; i < pairs * 2; i++)
        zero[i % 2] += s[i] == 0;
    return pairs >= 2 && zero[little] * 5 >= pairs * 2 && zero[!little] * 20 <= pairs;
}

/* A mark decides; without one UTF-16 shows by its zeros, and what is not UTF-8 throughout is Windows-1252. */
static void choose(struct tb_decoder *d)
{
    size_t n = fread(d->raw, 1, 4096, d->f);
    long start = 0;

    if (n >= 3 && memcmp(d->raw, "\xEF\xBB\xBF", 3) == 0) {
        start = 3;
    } else if (n >= 2 && memcmp(d->raw, "\xFF\xFE", 2) == 0) {
        d->encoding = UTF16LE;
        start = 2;
    } else if (n >= 2 && memcmp(d->raw, "\xFE\xFF", 2) == 0) {
        d->encoding = UTF16BE;
        start = 2;
    } else if (looks_utf16(d->raw, n, true)) {
        d->encoding = UTF16LE;
    } else if (looks_utf16(d->raw, n, false)) {
        d->encoding = UTF16BE;
    }
    (void)fseek(d->f, start, SEEK_SET);
    if (d->encoding == UTF8 && !all_utf8(d->f, d->raw))
        d->encoding = WINDOWS1252;
    (void)fseek(d->f, start, SEEK_SET);
}

struct tb_decoder *tb_decoder_new(FILE *f)
{
    struct tb_decoder *d = tb_new(struct tb_decoder);

    d->f = f;
    choose(d);
    return d;
}

/* What cannot be written as UTF-8 adds nothing; lone surrogates are refused before they come here. */
static void add_character(struct tb_text *t, unsigned c)
{
    uint8_t buf[4];
    int n = u8_uctomb(buf, c, sizeof buf);

    tb_text_addn(t, (const char *)buf, n > 0 ? (size_t)n : 0);
}

/* The upper half of ISO 8859-1 with the printable characters Windows puts at 0x80 to 0x9F. */
static void decode_1252(struct tb_text *t, const unsigned char *s, size_t n)
{
    static const uint16_t high[32] = { 0x20AC, 0x81,   0x201A, 0x0192, 0x201E, 0x2026, 0x2020, 0x2021,
                                       0x02C6, 0x2030, 0x0160, 0x2039, 0x0152, 0x8D,   0x017D, 0x8F,
                                       0x90,   0x2018, 0x2019, 0x201C, 0x201D, 0x2022, 0x2013, 0x2014,
                                       0x02DC, 0x2122, 0x0161, 0x203A, 0x0153, 0x9D,   0x017E, 0x0178 };

    for (size_t i = 0, from = 0; i <= n; i++) {
        if (i < n && s[i] < 0x80)
            continue;
        tb_text_addn(t, (const char *)s + from, i - from);
        if (i < n)
            add_character(t, s[i] >= 0x80 && s[i] < 0xA0 ? high[s[i] - 0x80] : s[i]);
        from = i + 1;
    }
}

/* Decodes what is whole; answers how many bytes were used, or SIZE_MAX for a lone surrogate. */
static size_t decode_utf16(struct tb_text *t, const unsigned char *s, size_t n, bool little)
{
    size_t at = 0;

    while (at + 2 <= n) {
        unsigned c = (unsigned)s[at + !little] | (unsigned)s[at + little] << 8, low;

        if (c >= 0xD800 && c < 0xDC00) {
            if (at + 4 > n)
                return at;
            low = (unsigned)s[at + 2 + !little] | (unsigned)s[at + 2 + little] << 8;
            if (low < 0xDC00 || low > 0xDFFF)
                return SIZE_MAX;
            c = 0x10000 + ((c - 0xD800) << 10) + (low - 0xDC00);
            at += 2;
        } else if (c >= 0xDC00 && c <= 0xDFFF) {
            return SIZE_MAX;
        }
        add_character(t, c);
        at += 2;
    }
    return at;
}

/* A character may be cut at the end of a chunk: its bytes are kept for the next one. */
tb_rc tb_decoder_next(struct tb_decoder *d, const char **text, size_t *n, struct tb_err *err)
{
    size_t got = fread(d->raw + d->kept, 1, CHUNK, d->f), used;

    if (ferror(d->f))
        return tb_fail(err, TB_EIO, "the file cannot be read: %s", strerror(errno));
    got += d->kept;
    if (d->encoding == UTF8) {
        *text = (const char *)d->raw;
        *n = got;
        return TB_OK;
    }
    tb_text_clear(&d->text);
    if (d->encoding == WINDOWS1252) {
        decode_1252(&d->text, d->raw, got);
        used = got;
    } else {
        used = decode_utf16(&d->text, d->raw, got, d->encoding == UTF16LE);
        if (used == SIZE_MAX || (used == 0 && got > 0 && feof(d->f)))
            return tb_fail(err, TB_EFORMAT, "the file begins as UTF-16 text and is damaged further on");
    }
    memmove(d->raw, d->raw + used, got - used);
    d->kept = got - used;
    *text = tb_text_str(&d->text);
    *n = d->text.n;
    return TB_OK;
}

void tb_decoder_close(struct tb_decoder *d)
{
    if (!d)
        return;
    tb_text_free(&d->text);
    free(d);
}
