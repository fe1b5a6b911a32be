/* parts.c - several headings in one cell, without colons: "Art. 4410 / Navy / Lot 7731 100% cotton". */
#include "intake/heads.h"

#include <string.h>

/* Fields whose label may stand before its value without a colon. */
static bool may_head(enum tb_field f)
{
    return f == TB_FIELD_ARTICLE || f == TB_FIELD_DESIGN || f == TB_FIELD_COLOUR || f == TB_FIELD_LOT;
}

/* Common practice, no source. */
bool tb_word_tells(const char *word, size_t n)
{
    static const char verbs[] =
        "is are was ist sind est sont es son e sono \u00e8 \u00e9 s\u00e3o \u00e4r er on jest je";

    return n && tb_word_listed(verbs, word, n, " ");
}

/* "Lot 7731": the longest beginning that is such a label, and where its value begins; TB_FIELD_NONE: there is none. */
static enum tb_field label_of(const struct tb_header_words *w, const char *s, size_t n, size_t *value)
{
    for (size_t at = n; at > 1; at--) {
        struct tb_word_hit hit[TB_HITS_MOST];
        size_t found;

        if (s[at - 1] != ' ' && s[at - 1] != '.' && s[at - 1] != '#' && s[at - 1] != ':')
            continue;
        if (at == n || s[at] == ' ' || tb_word_tells(s + at, strcspn(s + at, " ")))
            continue; /* the value begins with a sign of its own */
        found = tb_header_words_exact(w, s, at, hit);
        for (size_t i = 0; i < found; i++)
            if (may_head(hit[i].field)) {
                *value = at;
                return hit[i].field;
            }
    }
    return TB_FIELD_NONE;
}

const char *tb_heads_labelled(const struct tb_header_words *w, struct tb_list_store *s, const char *text)
{
    size_t value = 0, n = strlen(text), label;

    if (n > 60 || !label_of(w, text, n, &value))
        return NULL;
    for (label = value; label && strchr(" .#:", text[label - 1]); label--)
        ;
    return tb_store_internf(s, "%.*s: %s", (int)label, text, text + value);
}

/* Bytes of the separator at s: " / ", "|", ";", a line break, two spaces, " - "; 0: none stands there. */
static size_t separator(const char *s)
{
    static const char *const mark[] = { " / ", " | ", "|", ";", "\n", "  ", " - ", ", " };

    for (size_t i = 0; i < TB_COUNT(mark); i++)
        if (strncmp(s, mark[i], strlen(mark[i])) == 0)
            return strlen(mark[i]);
    return 0;
}

/* Where the figure before a percent sign begins ("100% cotton", "%100 PAMUK"); n: there is no percentage. */
static size_t percentage(const char *s, size_t n)
{
    const char *sign = memchr(s, '%', n);
    size_t at = sign ? (size_t)(sign - s) : n;

    while (sign && at && s[at - 1] == ' ')
        at--;
    while (sign && at && (s[at - 1] == '.' || s[at - 1] == ',' || (s[at - 1] >= '0' && s[at - 1] <= '9')))
        at--;
    return at;
}

struct cutting {
    const struct tb_header_words *w;
    struct tb_list_store *store;
    struct tb_heads *h;
    size_t labels, loose, twice;
    const char *loose_text, *composition; /* where it begins in the cell; NULL: not yet */
    size_t composition_n;
};

static void put(struct cutting *c, enum tb_field f, const char *s, size_t n)
{
    while (n && s[n - 1] == ' ')
        n--;
    n = tb_head_without_stop(s, n);
    c->twice += c->h->value[f] != NULL;
    c->h->value[f] = tb_store_intern(c->store, s, n);
}

/* "Your order ML-4410" beside what the goods are called. */
static bool is_order(struct cutting *c, const char *s, size_t n)
{
    struct tb_cell cell = { .type = TB_CELL_TEXT, .text = tb_store_intern(c->store, s, n) };
    struct tb_row row = { .cell = &cell, .n = 1 };

    if (c->h->value[TB_FIELD_ORDER])
        return false;
    tb_head_order(c->h, c->w, c->store, &row);
    return c->h->value[TB_FIELD_ORDER] != NULL;
}

/* One part: a label with its value, or a name, and the composition that may follow it. */
static void take_part(struct cutting *c, const char *s, size_t n)
{
    size_t at, value = 0;
    enum tb_field f;

    while (n && *s == ' ') {
        s++;
        n--;
    }
    f = label_of(c->w, s, n, &value);
    at = percentage(s, n);
    if (!f && at == n && is_order(c, s, n))
        return;
    if (!f && c->composition) { /* "60% cotton / 40% linen": the composition goes on */
        c->composition_n = (size_t)(s + n - c->composition);
        return;
    }
    if (at < n) {
        c->twice += c->composition != NULL;
        c->composition = s + at;
        c->composition_n = n - at;
        n = at;
    }
    while (n && s[n - 1] == ' ')
        n--;
    if (f && value < n) {
        put(c, f, s + value, n - value);
        c->labels++;
    } else if (n) {
        c->loose++;
        c->loose_text = tb_store_intern(c->store, s, n);
    }
}

/* A single name without a label is the colour of an article that has one, or the article. */
static bool take_loose(struct cutting *c)
{
    enum tb_field f =
        c->h->value[TB_FIELD_ARTICLE] || c->h->value[TB_FIELD_DESIGN] ? TB_FIELD_COLOUR : TB_FIELD_ARTICLE;

    if (c->loose == 0)
        return true;
    if (c->loose > 1 || c->h->value[f])
        return false;
    c->h->value[f] = c->loose_text;
    c->h->guessed = f;
    return true;
}

enum tb_parts tb_heads_parts(struct tb_heads *h, const struct tb_header_words *w, struct tb_list_store *s,
                             const char *text)
{
    struct tb_heads found = { 0 };
    struct cutting c = { .w = w, .store = s, .h = &found };
    size_t n = strlen(text), from = 0;

    for (size_t i = 0; i <= n && n < 400; i++) {
        size_t wide = i < n ? separator(text + i) : 1;

        if (!wide)
            continue;
        if (i > from)
            take_part(&c, text + from, i - from);
        from = i + wide;
        i = from - 1;
    }
    if (c.labels + (c.composition != NULL) < 2 || c.labels == 0)
        return TB_PARTS_NOT;
    if (c.twice || !take_loose(&c))
        return TB_PARTS_UNCLEAR;
    if (c.composition)
        put(&c, TB_FIELD_COMPOSITION, c.composition, c.composition_n);
    for (int f = 0; f < TB_FIELDS; f++)
        if (found.value[f])
            tb_heads_keep(h, (enum tb_field)f, found.value[f]);
    h->guessed = found.guessed;
    return TB_PARTS_TAKEN;
}
