/*
 * keys.h - bytes of a terminal in, keys out. It reads no terminal. An arrow or F5 is several bytes and one key; what a scanner types
 * is one key too, for nobody pressed the figures in it.
 */
#ifndef TENTERBOOK_TERMINAL_KEYS_H
#define TENTERBOOK_TERMINAL_KEYS_H

#include <stddef.h>

#define TB_KEYS_MOST 256     /* bytes that come at once */
#define TB_KEY_GONE (-1)     /* there is no terminal any more */
#define TB_KEY_OTHER 0x100   /* a key of several bytes: an arrow, Delete, F5 */
#define TB_KEY_SCANNED 0x101 /* a tag from a scanner, its Enter included */

/* What came at once; all zero before the first. */
struct tb_keys {
    unsigned char byte[TB_KEYS_MOST];
    size_t n, at; /* bytes, and how many of them are taken already */
};

/*
 * tb_keys_wait_ms - how long the next byte may be away from the last one and still be of the same key: a scanner types up to a
 * tenth of a second a byte. What no key is, such as the letters of a tag, may wait longer, since nobody waits for it to do something.
 */
int tb_keys_wait_ms(const struct tb_keys *k);
/* tb_keys_next - the next of them: a byte, TB_KEY_OTHER or TB_KEY_SCANNED; TB_KEY_GONE when all are taken. */
int tb_keys_next(struct tb_keys *k);

#endif
