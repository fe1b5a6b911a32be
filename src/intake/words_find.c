/* words_find.c - what a header text means: the word, and beside it a unit or a second language. */
#include "intake/words.h"

#include "intake/written.h"

#include <string.h>

/* Each reading takes the unit that its own field measures in. */
static size_t with_unit(struct tb_word_hit hit[TB_HITS_MOST], size_t n, const char *unit, size_t len)
{
    for (size_t i = 0; i < n; i++) {
        const char *per = memchr(unit, '/', len); /* of "EUR/m" the length counts */
        enum tb_unit u = tb_unit_find(hit[i].field, unit, len);

        if (!u && per)
            u = tb_unit_find(hit[i].field, per + 1, len - (size_t)(per + 1 - unit));
        if (u)
            hit[i].unit = u;
    }
    return n;
}

bool tb_header_words_said(const struct tb_header_words *w, const char *text)
{
    struct tb_word_hit hit[TB_HITS_MOST];

    return tb_header_words_find(w, text, hit) && hit[0].site;
}

bool tb_header_words_no_length(const struct tb_header_words *w, const char *text, size_t *at, size_t *n)
{
    static const char ends[] = " ()[]{}/";
    struct tb_word_hit hit[TB_HITS_MOST];
    size_t end = strlen(text);

    while (end && strchr(ends, text[end - 1]))
        end--;
    for (*at = end; *at && !strchr(ends, text[*at - 1]);)
        --*at;
    *n = end - *at;
    if (!*at || !*n || tb_unit_find(TB_FIELD_LENGTH, text + *at, *n))
        return false;
    return tb_unit_find(TB_FIELD_WIDTH, text + *at, *n) || tb_unit_find(TB_FIELD_MASS, text + *at, *n) ||
           (tb_header_words_exact(w, text + *at, *n, hit) > 0 &&
            (hit[0].field == TB_FIELD_COUNT || hit[0].field == TB_FIELD_PACKAGE));
}

/* A bracket that holds a unit is never a second name. */
static bool any_unit(const char *s, size_t n)
{
    static const enum tb_field measured[] = { TB_FIELD_LENGTH, TB_FIELD_WIDTH, TB_FIELD_MASS };

    for (size_t i = 0; i < TB_COUNT(measured); i++)
        if (tb_unit_find(measured[i], s, n))
            return true;
    return tb_currency_find(s, n) != NULL;
}

/* What a name, a number or an order is called is not measured: "Lot metres", "Roll Yds", "Pedido (m)" are something else. */
static size_t measured(struct tb_word_hit hit[TB_HITS_MOST], size_t n, const char *unit, size_t len)
{
    static const enum tb_field named[] = { TB_FIELD_BOLT,   TB_FIELD_LOT,         TB_FIELD_ARTICLE,
                                           TB_FIELD_DESIGN, TB_FIELD_COLOUR,      TB_FIELD_ORDER,
                                           TB_FIELD_NOTE,   TB_FIELD_COMPOSITION, TB_FIELD_SHADE_GROUP };
    size_t kept = 0;

    if (!tb_unit_find(TB_FIELD_LENGTH, unit, len))
        return n;
    for (size_t i = 0; i < n; i++) {
        bool is_name = false;

        for (size_t k = 0; k < TB_COUNT(named); k++)
            is_name = is_name || hit[i].field == named[k];
        if (!is_name || hit[i].site)
            hit[kept++] = hit[i];
    }
    return kept;
}

/* Chinese, Japanese and Korean signs take three bytes, the first of them E3 to ED. */
static bool is_east_asian(unsigned char lead)
{
    return lead >= 0xE3 && lead < 0xEE;
}

/* A change of script inside a header is a change of language. */
static bool scripts_meet(const char *text, size_t at)
{
    size_t before = at - 1;

    if (((unsigned char)text[at] & 0xC0) == 0x80)
        return false;
    while (before && ((unsigned char)text[before] & 0xC0) == 0x80)
        before--;
    return is_east_asian((unsigned char)text[before]) != is_east_asian((unsigned char)text[at]);
}

/* "Artikel / Dessin", "Farbe/Nuance": one column for two parts of a name. The first of the two is what it is. */
static bool names_join(struct tb_word_hit *a, const struct tb_word_hit *b)
{
    static const enum tb_field part[][2] = { { TB_FIELD_ARTICLE, TB_FIELD_DESIGN },
                                             { TB_FIELD_COLOUR, TB_FIELD_SHADE_GROUP } };

    for (size_t i = 0; i < TB_COUNT(part); i++)
        if ((a->field == part[i][0] && b->field == part[i][1]) ||
            (a->field == part[i][1] && b->field == part[i][0])) {
            a->field = part[i][0];
            return true;
        }
    return false;
}

/* "Foo (m)", "Foo/m": what a word that nobody knows is measured in does not say what it is. */
static bool unit_after(const char *text, size_t from, size_t at)
{
    while (at > from && strchr(") ", text[at - 1]))
        at--;
    return from > 0 && any_unit(text + from, at - from);
}

/* Two languages in one header: halves at a slash, a line break or where Chinese meets Latin script. */
static size_t find_halves(const struct tb_header_words *w, const char *text,
                          struct tb_word_hit hit[TB_HITS_MOST])
{
    struct tb_word_hit half[TB_HITS_MOST];
    size_t from = 0, end = strlen(text), found = 0;

    for (size_t at = 1; at <= end; at++) {
        bool cut = at == end || text[at] == '/' || text[at] == '\n' || text[at] == '|' || text[at] == '(' ||
                   scripts_meet(text, at);
        size_t n, both = 0;

        if (!cut)
            continue;
        n = tb_header_words_exact(w, text + from, at - from, half);
        if (n && !found && !unit_after(text, from, at)) {
            memcpy(hit, half, n * sizeof *hit);
            found = n;
        } else if (n && found) { /* only readings both halves allow */
            for (size_t i = 0; i < found; i++)
                for (size_t k = 0; k < n; k++)
                    if (hit[i].field == half[k].field)
                        hit[both++] = hit[i];
            if (!both && !names_join(&hit[0], &half[0]))
                return 0;
            found = both ? both : 1;
        } else if (found) {
            (void)with_unit(hit, found, text + from, at - from);
        }
        from = at + (at < end && strchr("/\n|(", text[at]) != NULL);
    }
    return found;
}

/* "Length (m)", "Breite [cm]": the text outside the brackets, the unit inside. */
static size_t find_bracketed(const struct tb_header_words *w, const char *text,
                             struct tb_word_hit hit[TB_HITS_MOST])
{
    const char *open = strpbrk(text, "([{"), *close;
    struct tb_text outside = { 0 };
    size_t n;

    if (!open || !(close = strpbrk(open, ")]}")))
        return 0;
    tb_text_addn(&outside, text, (size_t)(open - text));
    tb_text_addc(&outside, ' ');
    tb_text_add(&outside, close + 1);
    n = tb_header_words_exact(w, outside.s, outside.n, hit);
    if (!n)
        n = find_halves(w, outside.s, hit); /* "Breite/Width (cm)" */
    if (n)
        n = measured(hit, with_unit(hit, n, open + 1, (size_t)(close - open - 1)), open + 1,
                     (size_t)(close - open - 1));
    else if (!any_unit(open + 1, (size_t)(close - open - 1)))
        n = tb_header_words_exact(w, open + 1, (size_t)(close - open - 1), hit); /* "布幅 (Width)" */
    tb_text_free(&outside);
    return n;
}

/* "Breite in cm", "Length m", "Price EUR/m": the last word, or the last two, are the unit. */
static size_t find_trailing(const struct tb_header_words *w, const char *text,
                            struct tb_word_hit hit[TB_HITS_MOST])
{
    size_t end = strlen(text);

    for (size_t at = end; at > 1; at--) {
        size_t head = at - 1, n;

        if (text[at - 1] != ' ' && text[at - 1] != '/' && text[at - 1] != '\n')
            continue;
        if (!any_unit(text + at, end - at))
            continue;
        while (head && strchr(" \n,/", text[head - 1]))
            head--;
        if (head > 3 && (strncmp(text + head - 3, " in", 3) == 0 || strncmp(text + head - 3, " en", 3) == 0 ||
                         strncmp(text + head - 3, " em", 3) == 0))
            head -= 3;
        if (head && (n = tb_header_words_exact(w, text, head, hit)) > 0)
            return measured(hit, with_unit(hit, n, text + at, end - at), text + at, end - at);
    }
    return 0;
}

static enum tb_unit unit_of_word(const char *word, size_t n, bool last)
{
    static const char yardage[] = "yardage";
    enum tb_unit u = n > 1 || (last && *word != 'y' && *word != 'Y')
                         ? tb_unit_find(TB_FIELD_LENGTH, word, n)
                         : TB_UNIT_NONE; /* "Peso y metros": not a yard */

    if (n == sizeof yardage - 1)
        for (size_t i = 0; (word[i] | 0x20) == yardage[i];)
            if (++i == n)
                return TB_UNIT_YD;
    return u;
}

enum tb_unit tb_header_words_unit(const char *text)
{
    static const char between[] = " \n\t()[]{}/|.,;:-_=#'\"";
    enum tb_unit named = TB_UNIT_NONE;

    for (const char *s = text + strspn(text, between); *s;) {
        size_t n = strcspn(s, between), gap = strspn(s + n, between);
        enum tb_unit u = unit_of_word(s, n, s[n + gap] == '\0');

        if (u && named && u != named)
            return TB_UNIT_NONE;
        named = u ? u : named;
        s += n + gap;
    }
    return named;
}

/* What somebody says a column means does not change what its header says it is measured in. */
static size_t keep_unit(struct tb_word_hit hit[TB_HITS_MOST], size_t n, const char *text)
{
    for (size_t i = 0; i < n; i++)
        if (hit[i].site && !hit[i].unit)
            hit[i].unit = hit[i].field == TB_FIELD_LENGTH  ? tb_header_words_unit(text)
                          : hit[i].field == TB_FIELD_WIDTH ? tb_header_words_width(text)
                          : hit[i].field == TB_FIELD_PRICE ? tb_price_words_unit(text, strlen(text))
                                                           : TB_UNIT_NONE;
    return n;
}

/* From the strictest way to the loosest, so that a whole word is never taken apart. */
size_t tb_header_words_find(const struct tb_header_words *w, const char *text,
                            struct tb_word_hit hit[TB_HITS_MOST])
{
    size_t n = strlen(text);

    if (n == 0 || n > 160)
        return 0;
    if ((n = tb_header_words_exact(w, text, n, hit)) > 0)
        return keep_unit(hit, n, text);
    if ((n = tb_header_words_price(w, text, hit)) > 0)
        return n;
    if ((n = find_bracketed(w, text, hit)) > 0)
        return n;
    if ((n = find_trailing(w, text, hit)) > 0)
        return n;
    return find_halves(w, text, hit);
}
