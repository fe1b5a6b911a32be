/*
 * figure.c - numbers as people write them: both readings of commas and points, sums of parts, ranges, what
 * stands around.
 */
#include "intake/written.h"

#include "tenterbook/utf8.h"

#include <ctype.h>
#include <math.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#define DIGITS_MOST 15 /* what a double holds exactly, and more than any packing list needs */

static bool digit(char c)
{
    return c >= '0' && c <= '9';
}

/*
 * One number, read with `decimal` as the decimal sign: the other sign, spaces and apostrophes may separate
 * thousands, in groups of three after a first group that is not zero. NAN when that is not how it is written.
 */
static double read_one(const char *s, size_t n, char decimal)
{
    static const double ten[] = { 1,   1e1, 1e2,  1e3,  1e4,  1e5,  1e6,  1e7,
                                  1e8, 1e9, 1e10, 1e11, 1e12, 1e13, 1e14, 1e15 };
    uint64_t whole = 0;
    size_t digits = 0, group = 0, groups = 0, after = 0;
    bool fraction = false;
    char sep = 0;

    for (size_t i = 0; i < n; i++) {
        char c = s[i];

        if (digit(c)) {
            if (++digits > DIGITS_MOST)
                return NAN;
            whole = whole * 10 + (uint64_t)(c - '0');
            group++;
            after += fraction;
        } else if (c == decimal && !fraction) {
            if (groups && group != 3)
                return NAN;
            fraction = true;
        } else if (fraction || (sep && c != sep) || group == 0 ||
                   (groups ? group != 3 : group > 3 || s[0] == '0')) {
            return NAN;
        } else {
            sep = c;
            groups++;
            group = 0;
        }
    }
    if (!digits || (!fraction && groups && group != 3))
        return NAN;
    return (double)whole / ten[after]; /* both exact, so the quotient is the nearest double */
}

/* Spaces separate thousands only before exactly three digits. */
static bool separates_thousands(const char *s, size_t i)
{
    size_t k = 0;

    if ((s[i] != ' ' && s[i] != '\'') || i == 0 || !digit(s[i - 1]))
        return false;
    while (digit(s[i + 1 + k]))
        k++;
    return k == 3;
}

/* Bytes of the number that begins at s. */
static size_t extent(const char *s)
{
    size_t i = 0;

    while (s[i] && (digit(s[i]) || s[i] == '.' || s[i] == ',' || separates_thousands(s, i)))
        i++;
    while (i && !digit(s[i - 1]) && i > 1 && !digit(s[i - 2])) /* "12.," keeps one sign at most */
        i--;
    return i;
}

struct one {
    double point, comma;
};

/* Both readings are made at once: which sign is the decimal one is settled later, for the column. */
static bool take_one(const char **s, struct one *out)
{
    const char *p = *s;
    double sign = 1;
    size_t n;

    if (*p == '-' || *p == '+') {
        sign = *p == '-' ? -1 : 1;
        for (p++; *p == ' '; p++)
            ;
    }
    if (!digit(*p) && !((*p == '.' || *p == ',') && digit(p[1])))
        return false;
    n = extent(p);
    out->point = sign * read_one(p, n, '.');
    out->comma = sign * read_one(p, n, ',');
    *s = p + n;
    return !(isnan(out->point) && isnan(out->comma));
}

static const char *skip_spaces(const char *s)
{
    while (*s == ' ')
        s++;
    return s;
}

/* "58/60", "57-58", "57–58", "11~15": the end of a range. A unit sign may stand between: 58"/60". */
static void take_range(struct tb_figure *f, const char **s)
{
    const char *p = skip_spaces(*s);
    struct one high;

    if (*p == '"')
        p = skip_spaces(p + 1);
    if (*p == '-' || *p == '/' || *p == '~')
        p++;
    else if (strncmp(p, "\u2013", 3) == 0)
        p += 3;
    else
        return;
    p = skip_spaces(p);
    if (!digit(*p) || !take_one(&p, &high))
        return;
    f->range = true;
    f->point_high = high.point;
    f->comma_high = high.comma;
    *s = p;
}

/* "50+30" is one bolt in two pieces. */
static bool take_sum(struct tb_figure *f, const char **s)
{
    struct one more;

    while (*skip_spaces(*s) == '+') {
        const char *p = skip_spaces(skip_spaces(*s) + 1);

        if (!digit(*p) || !take_one(&p, &more) || ++f->parts > TB_FIGURE_PARTS_MOST)
            return false;
        f->point += more.point;
        f->comma += more.comma;
        *s = p;
    }
    return true;
}

/* Text before the number: a currency, never a digit. */
static const char *first_digit(const char *s)
{
    while (*s && !digit(*s) && !((*s == '.' || *s == ',' || *s == '-' || *s == '+') && digit(s[1])))
        s++;
    return s;
}

/* Text between the digits makes it something else than a number, such as a code. */
static bool scan_plain(struct tb_figure *out, const char *text)
{
    const char *s = first_digit(text);
    struct one one;

    *out = (struct tb_figure){ .parts = 1, .point_high = NAN, .comma_high = NAN, .before = text };
    out->before_n = (size_t)(s - text);
    if (!*s || !take_one(&s, &one))
        return false;
    out->point = one.point;
    out->comma = one.comma;
    take_range(out, &s);
    if (!out->range && !take_sum(out, &s))
        return false;
    if (isnan(out->point) && isnan(out->comma))
        return false;
    out->rest = skip_spaces(s);
    out->rest_n = strlen(out->rest);
    for (size_t i = 0; i < out->rest_n; i++) /* "12 of 30" is no number; "g/m2", "oz/yd2" hold their 2 */
        if (digit(out->rest[i]) && !(out->rest[i] == '2' && i &&
                                     (isalpha((unsigned char)out->rest[i - 1]) || out->rest[i - 1] == '^')))
            return false;
    return true;
}

/* Most figures are plain ASCII, and folding each of a hundred thousand would be felt. */
bool tb_figure_scan(struct tb_figure *out, const char *text)
{
    bool plain = true;
    char *folded;
    static _Thread_local char kept[256];

    if (*text == '=') /* "= 125.6 m": what stands before it comes to that */
        text = skip_spaces(text + 1);
    for (const char *c = text; *c && plain; c++)
        plain = (unsigned char)*c < 0x80;
    if (plain)
        return scan_plain(out, text);
    /* full-width digits, no-break spaces, minus signs: made plain first; the result outlives this call */
    folded = tb_fold(text, strlen(text));
    for (char *minus; (minus = strstr(folded, "\u2212"));) {
        *minus = '-';
        memmove(minus + 1, minus + 3, strlen(minus + 3) + 1);
    }
    if (strlen(folded) >= sizeof kept) {
        free(folded);
        return false;
    }
    (void)strcpy(kept, folded);
    free(folded);
    return scan_plain(out, kept);
}

double tb_figure_value(const struct tb_figure *f, char decimal)
{
    return decimal == ',' ? f->comma : f->point;
}

double tb_figure_high(const struct tb_figure *f, char decimal)
{
    return decimal == ',' ? f->comma_high : f->point_high;
}
