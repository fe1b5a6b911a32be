/* Two numbers of notes that are one as it is copied, retyped or saved by a spreadsheet. */
#include "work/note_near.h"

#include <stdbool.h>
#include <string.h>

static bool digit(char c)
{
    return c >= '0' && c <= '9';
}

/* Bytes beyond ASCII are letters: every script writes words. */
static bool letter(char c)
{
    return (unsigned char)c >= 0x80 || (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z');
}

/* A run of digits without the zeros before it, or of letters; n is 0 behind the last. */
struct run {
    const char *s;
    size_t n;
};

static struct run next(const char **p, bool figures)
{
    struct run r;

    while (**p && !(figures ? digit(**p) : letter(**p)))
        ++*p;
    while (figures && **p == '0' && digit((*p)[1]))
        ++*p;
    r = (struct run){ *p, 0 };
    while (**p && (figures ? digit(**p) : letter(**p)))
        ++*p;
    r.n = (size_t)(*p - r.s);
    return r;
}

static char upper(char c)
{
    return c >= 'a' && c <= 'z' ? (char)(c - 'a' + 'A') : c;
}

static bool alike(struct run a, struct run b)
{
    if (a.n != b.n)
        return false;
    for (size_t i = 0; i < a.n; i++)
        if (upper(a.s[i]) != upper(b.s[i]))
            return false;
    return true;
}

/* How far the runs of two numbers go together. */
enum together { APART, ONE_GOES_ON, EQUAL };

static enum together compare(const char *a, const char *b, bool figures)
{
    for (;;) {
        struct run x = next(&a, figures), y = next(&b, figures);

        if (!x.n || !y.n)
            return x.n == y.n ? EQUAL : ONE_GOES_ON;
        if (!alike(x, y))
            return APART;
    }
}

static bool has(const char *s, bool figures)
{
    return next(&s, figures).n > 0;
}

enum tb_note_like tb_note_like(const char *a, const char *b)
{
    enum together figures, words;

    if (!has(a, true) || !has(b, true))
        return strcmp(a, b) == 0 ? TB_NOTE_SAME : TB_NOTE_OTHER;
    figures = compare(a, b, true);
    words = compare(a, b, false);
    if (figures == EQUAL && words == EQUAL)
        return TB_NOTE_SAME;
    if (figures != APART && (words == EQUAL || !has(a, false) || !has(b, false)))
        return TB_NOTE_NEAR;
    return TB_NOTE_OTHER;
}
