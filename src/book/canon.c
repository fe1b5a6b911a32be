/*
 * The canonical form of values, the input of every digest in the journal. It is part of the file format:
 * text T<bytes>:<text>, whole numbers I<decimal>; real numbers R<16 hex digits of the IEEE 754 bits>; bytes
 * B<bytes>:<bytes> or S<bytes>:<SHA-256 as 64 hex digits>, nothing N. Each ends with a semicolon.
 */
#include "book/private.h"

#include <math.h>
#include <string.h>

/* Decimal digits of v, without printf: this runs for every value of every bolt. */
static void add_decimal(struct tb_text *t, uint64_t v)
{
    char digit[20];
    size_t n = sizeof digit;

    do
        digit[--n] = (char)('0' + v % 10);
    while (v /= 10);
    tb_text_addn(t, digit + n, sizeof digit - n);
}

static void add_counted(struct tb_text *t, char kind, size_t n, const void *p, size_t size)
{
    tb_text_addc(t, kind);
    add_decimal(t, n);
    tb_text_addc(t, ':');
    tb_text_addn(t, p, size);
    tb_text_addc(t, ';');
}

/* By their digest a fact can be checked where its photograph did not come along. */
void tb_canon_bytes(struct tb_text *t, const void *p, size_t n, int64_t rule)
{
    char hex[TB_DIGEST_HEX];

    if (rule == TB_RULE_TABLES) {
        add_counted(t, 'B', n, p, n);
    } else {
        tb_digest_of(hex, p, n);
        tb_canon_digest(t, n, hex);
    }
}

void tb_canon_digest(struct tb_text *t, size_t n, const char *hex)
{
    add_counted(t, 'S', n, hex, strlen(hex));
}

/* n bytes, whatever they are. */
static void canon_textn(struct tb_text *t, const char *s, size_t n)
{
    add_counted(t, 'T', n, s, n);
}

void tb_canon_text(struct tb_text *t, const char *s)
{
    if (s)
        canon_textn(t, s, strlen(s));
    else
        tb_text_addn(t, "N;", 2);
}

void tb_canon_whole(struct tb_text *t, int64_t v)
{
    tb_text_addc(t, 'I');
    if (v < 0)
        tb_text_addc(t, '-');
    add_decimal(t, v < 0 ? 0 - (uint64_t)v : (uint64_t)v);
    tb_text_addc(t, ';');
}

void tb_canon_number(struct tb_text *t, double v)
{
    static const char hex[] = "0123456789abcdef";
    char digit[16];
    uint64_t bits;

    if (isnan(v)) {
        tb_text_addn(t, "N;", 2);
        return;
    }
    v += 0.0; /* the database does not keep the sign of zero */
    memcpy(&bits, &v, sizeof bits);
    for (int i = 15; i >= 0; i--, bits >>= 4)
        digit[i] = hex[bits & 15];
    tb_text_addc(t, 'R');
    tb_text_addn(t, digit, sizeof digit);
    tb_text_addc(t, ';');
}

void tb_canon_value(struct tb_text *t, const struct tb_value *v, int64_t rule)
{
    switch (v->kind) {
    case TB_VALUE_TEXT:
        canon_textn(t, v->text, v->size); /* all of it: a NUL may hide what stands behind it */
        break;
    case TB_VALUE_WHOLE:
        tb_canon_whole(t, v->whole);
        break;
    case TB_VALUE_NUMBER:
        tb_canon_number(t, v->number);
        break;
    case TB_VALUE_BYTES:
        tb_canon_bytes(t, v->bytes, v->size, rule);
        break;
    case TB_VALUE_NOTHING:
        tb_canon_text(t, NULL);
    }
}
