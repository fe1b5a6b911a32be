/* utf8.c - text as people compare it: characters, columns, folding, and how far two words are apart. */
#include "tenterbook/utf8.h"

#include "tenterbook/base.h"

#include <stdlib.h>
#include <string.h>
#include <unicase.h>
#include <unictype.h>
#include <uninorm.h>
#include <unistr.h>
#include <uniwidth.h>

bool tb_utf8_valid(const char *s, size_t n)
{
    return u8_check((const uint8_t *)s, n) == NULL;
}

/* A broken byte counts as one character, so that reading always goes on. */
size_t tb_utf8_next(const char *s, size_t n, unsigned *cp)
{
    ucs4_t c = 0xFFFD;
    int used = n ? u8_mbtoucr(&c, (const uint8_t *)s, n) : 0;

    if (used <= 0) {
        if (cp)
            *cp = 0xFFFD;
        return n ? 1 : 0;
    }
    if (cp)
        *cp = (unsigned)c;
    return (size_t)used;
}

/* Control characters have no width and add nothing. */
size_t tb_utf8_columns(const char *s)
{
    size_t n = strlen(s), columns = 0;

    for (size_t at = 0; at < n;) {
        unsigned cp;
        int w;

        at += tb_utf8_next(s + at, n - at, &cp);
        w = uc_width(cp, "UTF-8");
        columns += w > 0 ? (size_t)w : 0;
    }
    return columns;
}

bool tb_utf8_control(unsigned cp)
{
    return (cp < ' ' && cp != '\t' && cp != '\n' && cp != '\r') || (cp >= 0x7F && cp <= 0x9F);
}

bool tb_utf8_unseen(unsigned cp)
{
    if (cp >= ' ' && cp < 0x7F) /* most of all text */
        return false;
    return uc_is_general_category_withtable(cp, UC_CATEGORY_MASK_Cc | UC_CATEGORY_MASK_Cf |
                                                    UC_CATEGORY_MASK_Zl | UC_CATEGORY_MASK_Zp);
}

/* The bytes that may be shown from here on. */
static size_t seen(const char *s, size_t n, const char *keep)
{
    size_t at = 0;

    while (at < n) {
        unsigned cp;
        size_t used;

        if (s[at] >= ' ' && s[at] <= '~') { /* most of what is written, and much is */
            at++;
            continue;
        }
        used = tb_utf8_next(s + at, n - at, &cp);
        if ((tb_utf8_unseen(cp) && !(cp && cp < 0x80 && strchr(keep, (int)cp))) ||
            (cp == 0xFFFD && used == 1))
            break;
        at += used;
    }
    return at;
}

char *tb_utf8_shown(const char *s, size_t n, const char *keep)
{
    struct tb_text t = { 0 };
    size_t at = seen(s, n, keep);

    if (at == n)
        return NULL;
    tb_text_addn(&t, s, at);
    while (at < n) {
        size_t fine;

        tb_text_add(&t, "\xEF\xBF\xBD");
        at += tb_utf8_next(s + at, n - at, NULL);
        fine = seen(s + at, n - at, keep);
        tb_text_addn(&t, s + at, fine);
        at += fine;
    }
    return tb_text_take(&t);
}

/* Character by character, so that what is whole stays as it came. */
char *tb_utf8_mend(const char *s, size_t n)
{
    struct tb_text t = { 0 };

    for (size_t at = 0; at < n;) {
        unsigned cp;
        size_t used = tb_utf8_next(s + at, n - at, &cp);

        if (cp == 0xFFFD)
            tb_text_add(&t, "\xEF\xBF\xBD");
        else
            tb_text_addn(&t, s + at, used);
        at += used;
    }
    return tb_text_take(&t);
}

/* Accents go by decomposition: what is left of a letter is the letter. */
static char *fold(const char *s, size_t n, bool accents)
{
    char *valid = tb_utf8_mend(s, n); /* the library calls below cannot fail on it */
    size_t len = 0, at = 0, vn = strlen(valid);
    uint8_t *folded =
        u8_casefold((const uint8_t *)valid, vn, NULL, accents ? UNINORM_NFKC : UNINORM_NFKD, NULL, &len);
    struct tb_text out = { 0 };
    bool space = true; /* also drops leading spaces */

    free(valid);
    if (!folded) /* the text is valid: nothing else can be the matter */
        tb_no_memory();
    while (at < len) {
        unsigned cp;
        size_t used = tb_utf8_next((const char *)folded + at, len - at, &cp);

        if (cp == ' ' || cp == '\t' || cp == '\n' || cp == '\r' || cp == 0xA0 || uc_is_space(cp)) {
            if (!space)
                tb_text_addc(&out, ' ');
            space = true;
        } else if (accents || uc_combining_class(cp) == 0) {
            tb_text_addn(&out, (const char *)folded + at, used);
            space = false;
        }
        at += used;
    }
    free(folded);
    if (out.n && out.s[out.n - 1] == ' ')
        out.s[--out.n] = '\0';
    return tb_text_take(&out);
}

char *tb_fold(const char *s, size_t n)
{
    return fold(s, n, false);
}

bool tb_fold_same(const char *a, const char *b)
{
    char *one = tb_fold(a, strlen(a)), *other = tb_fold(b, strlen(b));
    bool same = strcmp(one, other) == 0;

    free(one);
    free(other);
    return same;
}

char *tb_fold_accented(const char *s, size_t n)
{
    return fold(s, n, true);
}

/* Three rows of the usual table; it ends as soon as no entry of a row can still come below the limit. */
size_t tb_edit_distance(const char *a, const char *b, size_t most)
{
    size_t n = strlen(a), m = strlen(b), best;
    size_t *block, *before, *row, *last, answer;

    if ((n > m ? n - m : m - n) > most)
        return most + 1;
    block = before = tb_array(size_t, 3 * (m + 1));
    last = before + (m + 1);
    row = last + (m + 1);
    for (size_t j = 0; j <= m; j++)
        last[j] = j;
    for (size_t i = 1; i <= n; i++) {
        size_t *spare;

        row[0] = i;
        best = i;
        for (size_t j = 1; j <= m; j++) {
            size_t v = last[j - 1] + (a[i - 1] != b[j - 1]);

            if (last[j] + 1 < v)
                v = last[j] + 1;
            if (row[j - 1] + 1 < v)
                v = row[j - 1] + 1;
            if (i > 1 && j > 1 && a[i - 1] == b[j - 2] && a[i - 2] == b[j - 1] && before[j - 2] + 1 < v)
                v = before[j - 2] + 1;
            row[j] = v;
            best = v < best ? v : best;
        }
        if (best > most) {
            last[m] = most + 1;
            break;
        }
        spare = before, before = last, last = row, row = spare;
    }
    answer = last[m];
    free(block);
    return answer > most ? most + 1 : answer;
}
