/* sheet_decode.c - text files of spreadsheets as UTF-8: which encoding, and the decoding chunk by chunk. */
#include "base/sheet_in.h"
#include "tenterbook/code_page.h"

#include <errno.h>
#include <iconv.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistr.h>

#define CHUNK 65536

struct tb_decoder {
    FILE *f;
    const char *encoding; /* static */
    iconv_t how;          /* NULL: it is UTF-8 */
    bool guessed;         /* Western for want of anything better */
    unsigned char raw[CHUNK + 4];
    size_t kept; /* bytes of an unfinished character at the start of raw */
    struct tb_text text;
};

const char *tb_decoder_encoding(const struct tb_decoder *d)
{
    return d->encoding;
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

/* Is the whole rest of the file UTF-8? Zero bytes would be, and are in no text but UTF-16. */
static bool all_utf8(FILE *f, unsigned char *raw)
{
    size_t kept = 0, n;

    while ((n = fread(raw + kept, 1, CHUNK, f)) > 0) {
        size_t all = kept + n, left = unfinished(raw, all);

        if (u8_check(raw, all - left) != NULL || memchr(raw, '\0', all))
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

static const char *const mark[][2] = { { "UTF-8", "\xEF\xBB\xBF" },
                                       { "UTF-16LE", "\xFF\xFE" },
                                       { "UTF-16BE", "\xFE\xFF" } };

/* A mark decides; without one UTF-16 shows by its zeros, and what is not UTF-8 throughout is in the Western code page. */
static void choose(struct tb_decoder *d)
{
    size_t n = fread(d->raw, 1, 4096, d->f);
    const char *found = NULL;
    long start = 0;

    for (size_t i = 0; i < TB_COUNT(mark); i++)
        if (n >= strlen(mark[i][1]) && memcmp(d->raw, mark[i][1], strlen(mark[i][1])) == 0) {
            found = mark[i][0];
            start = (long)strlen(mark[i][1]);
        }
    if (!found && looks_utf16(d->raw, n, true))
        found = "UTF-16LE";
    if (!found && looks_utf16(d->raw, n, false))
        found = "UTF-16BE";
    (void)fseek(d->f, start, SEEK_SET);
    if (!found)
        found = all_utf8(d->f, d->raw) ? "UTF-8" : TB_SHEET_WESTERN;
    d->encoding = found;
    d->guessed = strcmp(found, TB_SHEET_WESTERN) == 0;
    (void)fseek(d->f, start, SEEK_SET);
}

/* What somebody said counts, but not against the mark at the beginning of the file. */
static tb_rc obey(struct tb_decoder *d, const char *encoding, struct tb_err *err)
{
    const struct tb_code_page *page = tb_code_page_find(encoding);
    size_t n = fread(d->raw, 1, 4, d->f);
    long start = 0;

    if (!page)
        return tb_fail(err, TB_EINVAL, "'%s' is not a code page that is known here", encoding);
    d->encoding = page->name;
    for (size_t i = 0; i < TB_COUNT(mark); i++) {
        size_t len = strlen(mark[i][1]);

        if (n < len || memcmp(d->raw, mark[i][1], len) != 0)
            continue;
        if (strcmp(mark[i][0], page->name) != 0)
            return tb_fail(err, TB_EINVAL, "the file is marked as %s text, and --encoding says %s",
                           mark[i][0], page->name);
        start = (long)len;
    }
    (void)fseek(d->f, start, SEEK_SET);
    return TB_OK;
}

tb_rc tb_decoder_new(struct tb_decoder **out, FILE *f, const char *encoding, struct tb_err *err)
{
    struct tb_decoder *d = *out = tb_new(struct tb_decoder);
    tb_rc rc = TB_OK;

    d->f = f;
    if (encoding)
        rc = obey(d, encoding, err);
    else
        choose(d);
    if (rc != TB_OK || (!encoding && strcmp(d->encoding, "UTF-8") == 0))
        return rc; /* it was looked at from beginning to end */
    d->how = iconv_open("UTF-8", tb_code_page_find(d->encoding)->iconv);
    if ((intptr_t)d->how == -1) {
        d->how = NULL;
        return tb_fail(err, TB_EIO, "this machine cannot convert %s text", d->encoding);
    }
    return TB_OK;
}

/*
 * Decodes what is whole; answers how many bytes were used, or SIZE_MAX where no character stands. What is only taken for Western text
 * holds U+FFFD there: it is not refused before somebody has looked for its code page.
 */
static size_t decode(struct tb_decoder *d, size_t n)
{
    char *from = (char *)d->raw, buf[4096];
    size_t left = n;

    while (left) {
        char *to = buf;
        size_t room = sizeof buf, done = iconv(d->how, &from, &left, &to, &room);

        tb_text_addn(&d->text, buf, (size_t)(to - buf));
        if (done == (size_t)-1 && errno == EINVAL)
            break;
        if (done == (size_t)-1 && errno != E2BIG) {
            if (!d->guessed)
                return SIZE_MAX;
            tb_text_add(&d->text, "\xEF\xBF\xBD");
            from++;
            left--;
        }
    }
    return n - left;
}

/* A character may be cut at the end of a chunk: its bytes are kept for the next one. */
tb_rc tb_decoder_next(struct tb_decoder *d, const char **text, size_t *n, struct tb_err *err)
{
    size_t got = fread(d->raw + d->kept, 1, CHUNK, d->f), used;

    if (ferror(d->f))
        return tb_fail(err, TB_EIO, "the file cannot be read: %s", strerror(errno));
    got += d->kept;
    if (!d->how) {
        *text = (const char *)d->raw;
        *n = got;
        return TB_OK;
    }
    tb_text_clear(&d->text);
    used = decode(d, got);
    if (used == SIZE_MAX || got - used > 4 || (used == 0 && got > 0 && feof(d->f)))
        return tb_fail(err, TB_EFORMAT,
                       "the file is not %s text throughout; it is damaged, or in another encoding",
                       d->encoding);
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
    if (d->how)
        (void)iconv_close(d->how);
    tb_text_free(&d->text);
    free(d);
}
