/* keys.c - which bytes of a terminal are one key. */
#include "terminal/keys.h"

#include <stdbool.h>

#define ESCAPE 0x1b
#define SCAN_LEAST                                                                                           \
    5 /* letters and figures at once: W-K05 is the shortest tag, and nobody presses so many keys at once */

static bool between(int c, int first, int last)
{
    return c >= first && c <= last;
}

static int byte_at(const struct tb_keys *k, size_t i)
{
    return i < k->n ? k->byte[i] : TB_KEY_GONE;
}

/* Bytes of an escape sequence (ECMA-48, 5.4): ESC [ with what is before @, to one of @ to ~; or ESC O and a letter. */
static size_t escape_length(const struct tb_keys *k, size_t at)
{
    size_t i = at + 1;

    if (byte_at(k, i) == 'O')
        return between(byte_at(k, i + 1), '@', '~') ? 3 : 2;
    if (byte_at(k, i) != '[')
        return between(byte_at(k, i), ' ', '~') ? 2 : 1;
    for (i++; between(byte_at(k, i), ' ', '?'); i++)
        ;
    return i - at + (between(byte_at(k, i), '@', '~') ? 1 : 0);
}

static bool in_tag(int c)
{
    return between(c, '0', '9') || between(c, 'A', 'Z') || between(c, 'a', 'z') || c == '-' || c == '.';
}

/* Bytes of a scanned tag with the key behind it; 0: it is none. A key that is held down is the same byte all along. */
static size_t scan_length(const struct tb_keys *k, size_t at)
{
    size_t i = at;
    bool differ = false;
    int end;

    for (; in_tag(byte_at(k, i)); i++)
        differ |= k->byte[i] != k->byte[at];
    end = byte_at(k, i);
    if (i - at < SCAN_LEAST || !differ)
        return 0;
    return i - at + (end == '\r' || end == '\n' || end == '\t' ? 1 : 0);
}

#define KEY_MS 30   /* bytes of one key are not further apart */
#define SCAN_MS 120 /* nor those of a slow scanner */
#define TAG_MS 250  /* nor those of a very slow one, once they can be nothing but a tag */

int tb_keys_wait_ms(const struct tb_keys *k)
{
    size_t from = k->n;
    bool tag = false;

    for (; from > 0 && in_tag(k->byte[from - 1]); from--)
        tag |= !between(k->byte[from - 1], '0', '9') && k->byte[from - 1] != 'q' && k->byte[from - 1] != 'Q';
    if (from == k->n || (from > 0 && (k->byte[from - 1] == '[' || k->byte[from - 1] == ESCAPE)))
        return KEY_MS;
    return tag ? TAG_MS : SCAN_MS;
}

int tb_keys_next(struct tb_keys *k)
{
    size_t n;

    if (k->at >= k->n)
        return TB_KEY_GONE;
    if (k->byte[k->at] == ESCAPE) {
        k->at += escape_length(k, k->at);
        return TB_KEY_OTHER;
    }
    if ((n = scan_length(k, k->at)) > 0) {
        k->at += n;
        return TB_KEY_SCANNED;
    }
    return k->byte[k->at++];
}
