/* declares.c - is this text a composition? A percentage with a fibre that is known, wherever it stands. */
#include "intake/header.h"

#include "tenterbook/fibre.h"
#include "tenterbook/utf8.h"
#include "tenterbook/words.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#define DECLARES_MOST 400 /* bytes: what is longer is prose */

bool tb_has_letter(const char *s, size_t n)
{
    for (size_t i = 0; i < n; i++)
        if ((unsigned char)s[i] >= 0x80 || (s[i] >= 'a' && s[i] <= 'z') || (s[i] >= 'A' && s[i] <= 'Z'))
            return true;
    return false;
}

/* Of "65/35", at the stroke; "R-771/26" is a number of something. */
static bool may_be_shares(const char *text, const char *stroke)
{
    const char *from = stroke;

    while (from > text && from[-1] >= '0' && from[-1] <= '9')
        from--;
    return from < stroke && stroke[1] >= '0' && stroke[1] <= '9' && strtoul(from, NULL, 10) <= 100 &&
           strtoul(stroke + 1, NULL, 10) <= 100;
}

/* Most cells hold neither "%" nor "65/35": reading them all as compositions would be felt. */
static bool worth_reading(const char *text, size_t n)
{
    if (n < 3 || n > DECLARES_MOST || !tb_has_letter(text, n))
        return false;
    if (strchr(text, '%') || strstr(text, "\xEF\xBC\x85")) /* U+FF05, full-width */
        return true;
    for (const char *s = strchr(text, '/'); s; s = strchr(s + 1, '/'))
        if (may_be_shares(text, s))
            return true;
    return false;
}

/* A share that was read; or, where the shares are not clear ("70% ny uld"), the plain name of a fibre. */
static bool has_share(const struct tb_declaration *d)
{
    for (size_t i = 0; i < d->words; i++)
        if (d->word[i].fibre >= 0 && d->word[i].kind <= TB_WORD_SYNONYM)
            return true;
    for (size_t p = 0; p < d->comp.n; p++)
        for (size_t k = 0; k < d->comp.part[p].n; k++)
            if (d->comp.part[p].share[k].fibre >= 0 && !isnan(d->comp.part[p].share[k].percent))
                return true;
    return false;
}

static bool digit(char c)
{
    return c >= '0' && c <= '9';
}

/* "100", "62,5", "65/35": where the figures begin that end at n; n: none end there. */
static size_t figures_before(const char *s, size_t n)
{
    while (n && (digit(s[n - 1]) || (n > 1 && strchr(".,/:-", s[n - 1]) && digit(s[n - 2]) && digit(s[n]))))
        n--;
    return n;
}

/* The share before the first fibre: "100% cotton", "%100 PAMUK", "65/35 polyester cotton". */
static size_t share_before(const char *s, size_t fibre)
{
    size_t at = fibre, figures;

    while (at && strchr(" -", s[at - 1]))
        at--;
    at -= at && s[at - 1] == '%';
    while (at && s[at - 1] == ' ')
        at--;
    if ((figures = figures_before(s, at)) == at)
        return fibre;
    return figures - (figures && s[figures - 1] == '%');
}

/* The share behind the last fibre: "PES 65%", "T/C 65/35". A figure alone is another measure. */
static size_t share_behind(const char *s, size_t end)
{
    size_t at = end + strspn(s + end, " :-(%"), figures = at + strspn(s + at, "0123456789.,/:");

    if (figures == at)
        return end;
    at = figures + strspn(s + figures, " ");
    if (s[at] == '%')
        return at + 1;
    return memchr(s + end, '/', figures - end) || memchr(s + end, '%', figures - end) ? figures : end;
}

/* "Cotton Voile dyed, 100% Cotton": a fibre in the name of an article, with a comma before the first share. */
static bool is_of_name(const struct tb_declaration *d, size_t i, const char *text)
{
    size_t end = d->word[i].at + d->word[i].len;

    if (share_before(text, d->word[i].at) != d->word[i].at || share_behind(text, end) != end)
        return false;
    for (size_t k = i + 1; k < d->words; k++) {
        size_t share = share_before(text, d->word[k].at);

        if (d->word[k].fibre >= 0 && share > end && share < d->word[k].at)
            return memchr(text + end, ',', share - end) && tb_has_letter(text + end, share - end);
        if (d->word[k].fibre >= 0)
            return false;
    }
    return false;
}

/* "100% Super 110s Wool": a text that begins with a share begins the composition, whatever words stand before the fibre. */
static size_t share_at_start(const char *s, size_t fibre)
{
    size_t n = strspn(s, "0123456789");

    return n && s[n] == '%' && n < fibre && fibre - n <= 24 && !memchr(s + n, ',', fibre - n) ? 0 : fibre;
}

/* From the share before the first fibre to the one behind the last. */
static void bounds(struct tb_stretch *out, const struct tb_declaration *d, const char *text, size_t n)
{
    size_t from = n, to = 0;

    for (size_t i = 0; i < d->words; i++)
        if (d->word[i].fibre >= 0 && !is_of_name(d, i, text)) {
            from = d->word[i].at < from ? d->word[i].at : from;
            to = d->word[i].at + d->word[i].len;
        }
    *out = (struct tb_stretch){ n, 0 };
    if (from >= to)
        return;
    out->at = share_before(text, from);
    if (out->at == from)
        out->at = share_at_start(text, from);
    out->n = share_behind(text, to) - out->at;
}

bool tb_declares(struct tb_stretch *out, const char *text)
{
    size_t n = strlen(text);
    struct tb_declaration d;
    bool found;

    *out = (struct tb_stretch){ 0, 0 };
    if (!worth_reading(text, n))
        return false;
    tb_declaration_read(&d, text, n);
    found = has_share(&d);
    if (found)
        bounds(out, &d, text, n);
    tb_declaration_free(&d);
    return found && out->n > 0;
}

bool tb_names_pure(const char *text)
{
    static const char pure[] = "pure all rein reine reiner pura puro puur ren rena";
    size_t n = strlen(text);
    bool is = false;
    char *folded;

    if (n < 6 || n > DECLARES_MOST || !tb_has_letter(text, n))
        return false;
    folded = tb_fold(text, n);
    for (const char *s = folded; *s && !is;) {
        size_t word = strcspn(s, " ,.;:()/");

        is = word && tb_word_listed(pure, s, word, " ");
        s += word + (s[word] != '\0');
    }
    free(folded);
    if (!is)
        return false;
    return tb_holds_fibre(text);
}

bool tb_holds_fibre(const char *text)
{
    size_t n = strlen(text);
    struct tb_declaration d;
    bool fibre = false;

    if (n < 3 || n > DECLARES_MOST || !tb_has_letter(text, n))
        return false;
    tb_declaration_read(&d, text, n);
    for (size_t i = 0; i < d.words; i++)
        fibre = fibre || (d.word[i].fibre >= 0 && d.word[i].kind <= TB_WORD_SYNONYM);
    tb_declaration_free(&d);
    return fibre;
}

bool tb_declares_wholly(const struct tb_stretch *s, const char *text)
{
    return !tb_has_letter(text, s->at) && !tb_has_letter(text + s->at + s->n, strlen(text) - s->at - s->n);
}
