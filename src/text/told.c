/*
 * told.c - sentences that were kept in English, in the language of a paper: found again by the format each was made with.
 *
 * A format is a text with gaps. The text before the first gap and behind the last stands at the ends of the sentence, the others
 * between them in their order, each as early as it can; so whatever a file holds, looking takes as long as its length.
 */
#include "text/catalogue.h"

#include "tenterbook/tongue.h"

#include <ctype.h>
#include <stdlib.h>
#include <string.h>

#define GAPS_MOST 9
#define TOLD_MOST 4000  /* bytes: no sentence of this program is longer */
#define LETTERS_LEAST 8 /* of a format, so that "%s: %s" does not make everything */
#define DEEP_MOST 2     /* a phrase within a phrase */

struct gap {
    const char *at; /* in the sentence */
    size_t n;
};

struct made {
    const struct catalogue_row *row;
    struct gap gap[GAPS_MOST];
    size_t gaps, letters;
};

/* The length of a conversion at p; 0: there is none. */
static size_t conversion(const char *p)
{
    size_t n = 1;

    if (*p != '%' || p[1] == '%')
        return 0;
    n += strspn(p + n, "0123456789$.-+#hlzjt");
    return p[n] ? n + 1 : 0;
}

/* As much of a format as stands between two gaps, "%%" as it is printed; returns what is behind it. */
static const char *piece_of(struct tb_text *out, const char *format)
{
    const char *p = format;

    tb_text_clear(out);
    while (*p && !conversion(p)) {
        tb_text_addc(out, *p);
        p += p[0] == '%' && p[1] == '%' ? 2 : 1;
    }
    return p;
}

static size_t letters_in(const char *s)
{
    size_t n = 0;

    for (; *s; s++)
        n += isalpha((unsigned char)*s) != 0;
    return n;
}

static bool is_figure(const struct gap *g)
{
    return g->n > 0 && strspn(g->at, "0123456789.-") >= g->n;
}

/* Whether a gap holds what its conversion prints. */
static bool fills(const struct gap *g, const char *conversion_end)
{
    return conversion_end[-1] == 's' ? g->n > 0 : is_figure(g);
}

/* Where a piece stands between two places: the last at the end, another as early as it can; NULL: nowhere. */
static const char *find_piece(const struct tb_text *piece, const char *at, const char *end, bool last)
{
    size_t room = (size_t)(end - at);

    if (piece->n > room || (!piece->n && !last))
        return NULL;
    if (!last)
        return memmem(at, room, piece->s, piece->n);
    return !piece->n || memcmp(end - piece->n, piece->s, piece->n) == 0 ? end - piece->n : NULL;
}

/* Does this row make the sentence, and with what in its gaps? */
static bool makes(struct made *m, const struct catalogue_row *row, const char *told, size_t n)
{
    struct tb_text piece = { 0 };
    const char *f = piece_of(&piece, row->sentence), *at = told, *end = told + n;
    bool good = piece.n <= n && strncmp(told, tb_text_str(&piece), piece.n) == 0;

    *m = (struct made){ .row = row, .letters = letters_in(tb_text_str(&piece)) };
    at += good ? piece.n : 0;
    while (good && *f && m->gaps < GAPS_MOST) {
        const char *behind = f + conversion(f), *found;

        f = piece_of(&piece, behind);
        m->letters += letters_in(tb_text_str(&piece));
        found = find_piece(&piece, at, end, !*f);
        good = found != NULL;
        if (!good)
            break;
        m->gap[m->gaps] = (struct gap){ at, (size_t)(found - at) };
        good = fills(&m->gap[m->gaps++], behind);
        at = found + piece.n;
    }
    tb_text_free(&piece);
    return good && !*f && at == end;
}

/* The row with the most letters of its own among those that make it; false: none does. */
static bool find_maker(struct made *best, const struct catalogue *c, const char *told, size_t n)
{
    struct made m;

    *best = (struct made){ 0 };
    for (size_t i = 0; i < c->n; i++)
        if (!c->row[i].form[1] && makes(&m, &c->row[i], told, n) && m.letters >= LETTERS_LEAST &&
            (!best->row || m.letters > best->letters))
            *best = m;
    return best->row != NULL;
}

static bool told_in(struct tb_text *out, enum tb_tongue to, const char *told, size_t n, int deep);

/* "70 % cotton" */
static bool share_in(struct tb_text *out, enum tb_tongue to, const char *item)
{
    size_t figure = strspn(item, "0123456789.");
    const char *fibre = item + figure + 3;
    char *share;

    if (!figure || strncmp(item + figure, " % ", 3) != 0 || tb_tr(to, fibre) == fibre)
        return false;
    share = tb_strndup(item, figure);
    tb_tongue_point(share, to);
    tb_text_addf(out, tb_tr(to, "%s %% %s"), share, tb_tr(to, fibre));
    free(share);
    return true;
}

/* A list, a word, a share or a phrase; a name stays as it is. */
static void item_in(struct tb_text *out, enum tb_tongue to, const char *item, int deep)
{
    static const char *const between[] = { TR_("; "), TR_(", ") };
    const char *whole = tb_tr(to, item);

    if (whole != item) {
        tb_text_add(out, whole);
        return;
    }
    if (share_in(out, to, item) || (deep < DEEP_MOST && told_in(out, to, item, strlen(item), deep + 1)))
        return;
    for (size_t i = 0; i < TB_COUNT(between); i++) {
        const char *at = strstr(item, between[i]);

        if (!at)
            continue;
        char *first = tb_strndup(item, (size_t)(at - item));

        item_in(out, to, first, deep);
        tb_text_add(out, tb_tr(to, between[i]));
        item_in(out, to, at + strlen(between[i]), deep);
        free(first);
        return;
    }
    tb_text_add(out, item);
}

static void fill_gap(struct tb_text *out, enum tb_tongue to, const struct gap *g, int deep)
{
    char *text = tb_strndup(g->at, g->n);

    if (is_figure(g)) {
        tb_tongue_point(text, to);
        tb_text_add(out, text);
    } else {
        item_in(out, to, text, deep);
    }
    free(text);
}

/* The translation with the gaps filled, in its own order where it numbers them. */
static void put_made(struct tb_text *out, enum tb_tongue to, const struct made *m, int deep)
{
    struct tb_text piece = { 0 };
    const char *f = m->row->form[0];
    size_t next = 0;

    while (*(f = piece_of(&piece, f)) || piece.n) {
        size_t numbered = strspn(f + (*f != '\0'), "0123456789");
        size_t which = numbered && f[1 + numbered] == '$' ? (size_t)strtoul(f + 1, NULL, 10) - 1 : next++;

        tb_text_add(out, tb_text_str(&piece));
        if (*f && which < m->gaps)
            fill_gap(out, to, &m->gap[which], deep);
        f += *f ? conversion(f) : 0;
    }
    tb_text_free(&piece);
}

static bool told_in(struct tb_text *out, enum tb_tongue to, const char *told, size_t n, int deep)
{
    struct made m;

    if (n > TOLD_MOST || !find_maker(&m, tb_catalogue((int)to), told, n))
        return false;
    put_made(out, to, &m, deep);
    return true;
}

/* Two sentences that were kept as one are told one behind the other: the longest beginning first. */
bool tb_tr_told(struct tb_text *out, enum tb_tongue to, const char *told)
{
    size_t n = strlen(told);
    struct tb_text rest = { 0 };

    if (tb_tongue_as_kept(to)) {
        tb_text_add(out, told);
        return true;
    }
    if (!n || told_in(out, to, told, n, 0))
        return true;
    for (size_t k = n; n <= TOLD_MOST && k-- > 2;)
        if (told[k] == ' ' && strchr(".:", told[k - 1]) && told_in(&rest, to, told, k, 0)) {
            struct tb_text behind = { 0 };
            bool known = tb_tr_told(&behind, to, told + k + 1);

            tb_text_addf(out, tb_tr(to, "%s %s"), rest.s, tb_text_str(&behind));
            tb_text_free(&behind);
            tb_text_free(&rest);
            return known;
        }
    tb_text_add(out, told);
    return false;
}
