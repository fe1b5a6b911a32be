/* declares.c - is this text a composition? A percentage with a fibre that is known, wherever it stands. */
#include "intake/header.h"

#include "tenterbook/fibre.h"

#include <math.h>
#include <string.h>

#define DECLARES_MOST 400 /* bytes: what is longer is prose */

static bool has_letter(const char *s, size_t n)
{
    for (size_t i = 0; i < n; i++)
        if ((unsigned char)s[i] >= 0x80 || (s[i] >= 'a' && s[i] <= 'z') || (s[i] >= 'A' && s[i] <= 'Z'))
            return true;
    return false;
}

/* Most cells hold neither "%" nor "65/35": reading them all as compositions would be felt. */
static bool worth_reading(const char *text, size_t n)
{
    if (n < 3 || n > DECLARES_MOST || !has_letter(text, n))
        return false;
    if (strchr(text, '%') || strstr(text, "\xEF\xBC\x85")) /* U+FF05, full-width */
        return true;
    for (const char *s = strchr(text, '/'); s; s = strchr(s + 1, '/'))
        if (s > text && s[-1] >= '0' && s[-1] <= '9' && s[1] >= '0' && s[1] <= '9')
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

/* From the share before the first fibre to the one behind the last. */
static void bounds(struct tb_stretch *out, const struct tb_declaration *d, const char *text, size_t n)
{
    size_t from = n, to = 0;

    for (size_t i = 0; i < d->words; i++)
        if (d->word[i].fibre >= 0) {
            from = d->word[i].at < from ? d->word[i].at : from;
            to = d->word[i].at + d->word[i].len;
        }
    *out = (struct tb_stretch){ n, 0 };
    if (from >= to)
        return;
    out->at = share_before(text, from);
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

bool tb_declares_wholly(const struct tb_stretch *s, const char *text)
{
    return !has_letter(text, s->at) && !has_letter(text + s->at + s->n, strlen(text) - s->at - s->n);
}
