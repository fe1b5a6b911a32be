/* scanned.c - what a reader of codes, or a hand that pasted, leaves around a name. */
#include "tenterbook/typed.h"

#include "tenterbook/utf8.h"

#include <ctype.h>
#include <string.h>

#define NO_BREAK_SPACE 0xA0

static bool is_noise(unsigned cp)
{
    return cp == ' ' || cp == NO_BREAK_SPACE || tb_utf8_unseen(cp);
}

/* Where a scanner is set to say which kind of code it read, "]C1" stands before the name (ISO/IEC 15424; memory). */
static size_t symbology(const char *s)
{
    return s[0] == ']' && isalpha((unsigned char)s[1]) && isalnum((unsigned char)s[2]) && s[3] ? 3 : 0;
}

/* Bytes of `s` without the noise at its end. */
static size_t without_end(const char *s)
{
    size_t end = 0;
    unsigned cp;

    for (size_t at = 0, n = strlen(s); at < n;) {
        at += tb_utf8_next(s + at, n - at, &cp);
        end = is_noise(cp) ? end : at;
    }
    return end;
}

const char *tb_scanned(const char *typed, struct tb_arena *mem)
{
    const char *s = typed;
    size_t n = strlen(s);
    unsigned cp;

    for (size_t used; n && (used = tb_utf8_next(s, n, &cp)) && is_noise(cp); n -= used)
        s += used;
    s += symbology(s);
    n = without_end(s);
    if (n > 2 && s[0] == '*' && s[n - 1] == '*') { /* start and stop of Code 39, which some readers hand on */
        s++;
        n -= 2;
    }
    return s == typed && !s[n] ? typed : tb_arena_printf(mem, "%.*s", (int)n, s);
}
