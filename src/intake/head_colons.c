/* head_colons.c - labels that end in a colon, several of them in one cell. */
#include "intake/heads.h"

#include <string.h>

static size_t colon_at(const char *s)
{
    return *s == ':' ? 1 : strncmp(s, "\xEF\xBC\x9A", 3) == 0 ? 3 : 0; /* U+FF1A, full-width */
}

/* "Shade" of "Poplin / Shade": the label of a part, where the whole is none. */
static size_t part_start(const char *s, size_t from, size_t colon)
{
    size_t at = colon;

    while (at > from + 2 && !(s[at - 1] == ' ' && s[at - 2] == '/' && s[at - 3] == ' '))
        at--;
    return at > from + 2 ? at : from;
}

/* "Dye lot" of "Poplin 40s Dye lot": the longest end that is a label, where a value stands before it. */
static size_t end_start(const struct tb_header_words *w, const char *s, size_t from, size_t colon)
{
    for (size_t at = from + 1; at < colon; at++)
        if (s[at - 1] == ' ' && tb_label_field(w, s + at, colon - at))
            return at;
    return from;
}

/* Where the label before a colon begins: after a line break, semicolon, comma, vertical bar or two spaces. */
static size_t label_start(const char *s, size_t from, size_t colon)
{
    size_t at = colon;

    while (at > from && s[at - 1] == ' ') /* "Artikel      : Loden" */
        at--;
    while (at > from) {
        char c = s[at - 1];

        if (c == '\n' || c == ';' || c == ',' || c == '|' || c == '\t')
            break;
        if (c == ' ' && at - 1 > from && s[at - 2] == ' ')
            break;
        at--;
    }
    return at;
}

/* "Poplin 40s / Shade: ivory": the name before the first label is the article. */
static void take_name(struct tb_heads *h, struct tb_list_store *s, const char *text, size_t n)
{
    if (h->value[TB_FIELD_ARTICLE])
        return;
    tb_head_set(h, s, TB_FIELD_ARTICLE, text, n);
    h->guessed = h->value[TB_FIELD_ARTICLE] ? TB_FIELD_ARTICLE : h->guessed;
}

/* The value of a label ends where the next begins, without the end of a sentence. */
static size_t take_value(struct tb_heads *h, const struct tb_header_words *w, struct tb_list_store *s,
                         enum tb_field f, const char *label, const char *text, size_t from, size_t to)
{
    while (to > from && strchr(" .", text[to - 1]))
        to--;
    while (from < to && text[from] == ' ')
        from++;
    if (f == TB_FIELD_ORDER && tb_head_is_quantity(w, label, strlen(label), text + from, to - from))
        return 0;
    h->label = label;
    tb_head_set(h, s, f, text + from, to - from);
    return 1;
}

/* Is the text before a colon, from a separator on, words? "PO Date" of "PO #: 771   PO Date: 08/03/2026" ends the number. */
static bool is_words(const char *s, size_t n)
{
    size_t letters = 0;

    for (size_t i = 0; i < n; i++)
        letters += (unsigned char)s[i] >= 0x80 || ((s[i] | 0x20) >= 'a' && (s[i] | 0x20) <= 'z');
    return n <= 40 && letters >= 2;
}

/* Labels with colons inside one cell. *open is the last label when nothing follows it in the cell. */
size_t tb_head_colons(struct tb_heads *h, const struct tb_header_words *w, struct tb_list_store *s,
                      const char *text, enum tb_field *open)
{
    enum tb_field field = TB_FIELD_NONE;
    size_t from = 0, value = 0, found = 0, n = strlen(text);
    const char *named = NULL;

    *open = TB_FIELD_NONE;
    for (size_t i = 0; i < n; i++) {
        size_t wide = colon_at(text + i), start, parted;
        enum tb_field f;

        if (!wide)
            continue;
        parted = start = label_start(text, from, i);
        f = tb_head_label(h, w, text + start, i - start);
        if (!f && (start = part_start(text, start, i)) > from &&
            (f = tb_head_label(h, w, text + start, i - start)) && !field)
            take_name(h, s, text, start);
        if (!f && field && parted > value && is_words(text + parted, i - parted)) {
            found += take_value(h, w, s, field, named, text, value, parted);
            field = TB_FIELD_NONE; /* of a label that nobody knows nothing is kept */
            from = value = i + wide;
            continue;
        }
        if (!f && field && (start = end_start(w, text, start, i)) > from)
            f = tb_head_label(h, w, text + start, i - start);
        if (!f)
            continue;
        if (field && start > value)
            found += take_value(h, w, s, field, named, text, value, start);
        field = f;
        named = tb_store_intern(s, text + start, i - start);
        from = value = i + wide;
    }
    h->label = named;
    if (field && strspn(text + value, " ") < n - value) {
        size_t skip = strspn(text + value, " ");

        if (field == TB_FIELD_ORDER &&
            tb_head_is_quantity(w, named, strlen(named), text + value + skip, n - value - skip))
            return found;
        tb_head_set(h, s, field, text + value, n - value);
        found++;
    } else {
        *open = field;
    }
    return found;
}
