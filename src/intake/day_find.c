/* day_find.c - a day inside a text: "Lieferschein 5512 vom 17.09.2026", "nr 118/2026 z dnia 3 września 2026". */
#include "intake/written.h"

#include <string.h>

#define TEXT_MOST 300 /* bytes: what is longer is prose */
#define TOKENS_MOST 8 /* of a day: "2026 m. rugsejo 18 d" */

static bool digit(char c)
{
    return c >= '0' && c <= '9';
}

static bool letter(char c)
{
    return (unsigned char)c >= 0x80 || (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z');
}

/* A token is a run of figures, a run of letters, or one sign; a Chinese, Japanese or Korean letter ends a run of figures. */
static size_t token_end(const char *s, size_t at)
{
    if (digit(s[at]))
        while (digit(s[at]))
            at++;
    else if (letter(s[at]))
        while (letter(s[at]))
            at++;
    else
        at++;
    return at;
}

/* "12/3/2026" of "A12/3/2026-B" is no day but a part of a number. */
static bool stands_alone(const char *s, size_t from, size_t to)
{
    char before = from ? s[from - 1] : ' ', after = s[to];

    if (strchr("/-_", before) && before != ' ')
        return false;
    if ((digit(before) || (letter(before) && (unsigned char)before < 0x80)) ||
        (before == '.' && from > 1 && digit(s[from - 2])))
        return false;
    return !digit(after) && !(after && strchr("/-_", after)) && !(after == '.' && digit(s[to + 1])) &&
           !(letter(after) && (unsigned char)after < 0x80);
}

/* Eight figures in a row, or a short year between hyphens or spaces, are as often the number of a note. */
static bool plain_day(const char *s, size_t n)
{
    size_t run = 0, longest = 0;
    bool divided = false;

    for (size_t i = 0; i < n; i++) {
        run = digit(s[i]) ? run + 1 : 0;
        longest = run > longest ? run : longest;
        divided = divided || s[i] == '.' || s[i] == '/' || letter(s[i]);
    }
    return longest <= 4 && (longest == 4 || divided);
}

/* The longest day that begins here; 0: none does. */
static size_t day_at(struct tb_day_reading *out, const char *s, size_t from)
{
    size_t end = from, best = 0;

    for (size_t k = 0; k < 2 * TOKENS_MOST && s[end] && end - from < 40; k++) {
        struct tb_day_reading day;
        char part[48];

        end = token_end(s, end);
        if (end - from >= sizeof part)
            break;
        if (s[end - 1] == ' ' || s[end - 1] == ',' || end - from < 6)
            continue;
        memcpy(part, s + from, end - from);
        part[end - from] = '\0';
        if (plain_day(part, end - from) && stands_alone(s, from, end) && tb_day_scan(&day, part)) {
            best = end - from;
            *out = day;
        }
    }
    return best;
}

size_t tb_day_find(struct tb_day_reading *out, const char *text, size_t *n)
{
    size_t len = strlen(text);

    for (size_t at = 0; at < len && len <= TEXT_MOST; at = token_end(text, at)) {
        size_t next = token_end(text, at), more;

        if (!(digit(text[at]) || letter(text[at])) || !(*n = day_at(out, text, at)))
            continue;
        while (text[next] == ' ' || text[next] == '.')
            next++;
        if (letter(text[at]) && (more = day_at(out, text, next)) > 0 && next + more == at + *n)
            continue; /* "of 12 March 2026" begins with a small word */
        return at;
    }
    return *n = 0, SIZE_MAX;
}
