/*
 * Folding: what makes no difference between two spellings of a word is taken away. One character at a time, so that
 * the place in the text is never lost; what Unicode does not call an accent is in a list of our own.
 */
#include "fibre/fold.h"

#include "tenterbook/base.h"
#include "tenterbook/utf8.h"

#include <errno.h>
#include <stdbool.h>
#include <stdlib.h>
#include <string.h>
#include <unicase.h>
#include <unictype.h>
#include <uninorm.h>

/* Letters with a stroke or a hook are no accented letters to Unicode, but keyboards without them leave it out. */
static const char *plain(unsigned cp)
{
    static const struct {
        const char *as;
        unsigned cp[9]; /* 0 ends them */
    } said[] = {
        { "l", { 0x142, 0x141 } }, /* with stroke */
        { "o", { 0xF8, 0xD8 } },
        { "d", { 0x111, 0x110 } },
        { "ae", { 0xE6, 0xC6 } },
        { "i", { 0x131 } },                                                        /* dotless */
        { "-", { 0x2010, 0x2011, 0x2012, 0x2013, 0x2014, 0x2015, 0x2212, 0xAD } }, /* dashes, minus */
        { "'", { 0x2018, 0x2019, 0xB4 } },                                         /* quotation marks */
        { "\"", { 0x201C, 0x201D, 0x201E, 0xAB, 0xBB } },
        { "\x02", { 0xB1 } },                      /* plus-minus: one byte of our own */
        { ",", { 0x201A, 0x3001, 0x2022, 0xB7 } }, /* low quote, ideographic comma, bullets: they separate */
        { ";", { 0x3002 } },                       /* ideographic full stop */
        { "/", { 0x2044, 0x2215 } },               /* fraction slash, division slash */
        { " ", { 0xAE, 0x2122, 0xA9, 0xB0 } }, /* signs of a trade mark, degree: say nothing of the fibre */
        { "~", { 0x301C, 0x223C } },           /* wave dash */
    };

    for (size_t i = 0; i < TB_COUNT(said); i++)
        for (const unsigned *c = said[i].cp; *c; c++)
            if (*c == cp)
                return said[i].as;
    return NULL;
}

/* By the rules of Unicode: compatibility forms apart, case folded, combining marks dropped. */
static size_t fold_wide(const char *s, size_t n, char *out)
{
    uint8_t room[TB_FOLD_MOST], *folded;
    size_t len = sizeof room, made = 0;

    errno = 0;
    folded = u8_casefold((const uint8_t *)s, n, NULL, UNINORM_NFKD, room, &len);
    if (!folded && errno == ENOMEM) /* the room above is enough for nearly every character */
        tb_no_memory();
    for (size_t at = 0; folded && at < len;) {
        unsigned cp;
        size_t used = tb_utf8_next((const char *)folded + at, len - at, &cp);

        if (uc_combining_class((ucs4_t)cp) == 0 && made + used <= TB_FOLD_MOST) {
            memcpy(out + made, folded + at, used);
            made += used;
        }
        at += used;
    }
    if (folded != room)
        free(folded);
    return made;
}

size_t tb_fold_char(const char *s, size_t n, size_t *used, char *out)
{
    unsigned char b = (unsigned char)*s;
    const char *p;
    unsigned cp;

    if (b < 0x80) {
        *used = 1;
        *out = (char)(b >= 'A' && b <= 'Z'                              ? b + 32
                      : b == '\n' || b == '\r'                          ? '\n'
                      : b == '\t' || b == '\v' || b == '\f' || b == ' ' ? ' '
                      : b < ' ' || b == 0x7F                            ? 1
                      : b == '`'                                        ? '\''
                                                                        : b);
        return 1;
    }
    *used = tb_utf8_next(s, n, &cp);
    if (cp == 0xFFFD) {
        *out = 1;
        return 1;
    }
    if ((p = plain(cp)))
        return (size_t)(stpcpy(out, p) - out);
    if (uc_is_space((ucs4_t)cp) || cp == 0xA0 || cp == 0xFEFF || cp == 0x200B) {
        *out = ' ';
        return 1;
    }
    if (!uc_is_general_category(
            (ucs4_t)cp, uc_general_category_or(UC_LETTER, uc_general_category_or(UC_MARK, UC_NUMBER)))) {
        size_t made = fold_wide(s, *used, out);

        if (made && (unsigned char)out[0] < 0x80)
            return made; /* full-width % : and the like */
        *out = 1;
        return 1;
    }
    return fold_wide(s, *used, out);
}

char *tb_fold_word(const char *s, size_t n)
{
    struct tb_text t = { 0 };
    bool space = true;

    for (size_t at = 0, used; at < n; at += used) {
        char part[TB_FOLD_MOST];
        size_t made = tb_fold_char(s + at, n - at, &used, part);

        if (made == 1 && strchr(" -'.,\n", part[0])) {
            if (!space)
                tb_text_addc(&t, ' ');
            space = true;
        } else if (made) {
            tb_text_addn(&t, part, made);
            space = false;
        }
    }
    if (t.n && t.s[t.n - 1] == ' ')
        t.s[--t.n] = '\0';
    return tb_text_take(&t);
}
