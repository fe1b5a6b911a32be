/* Doubts: what the reader asks instead of guessing, in sentences for a person. */
#include "fibre/fold.h"
#include "fibre/reader.h"
#include "tenterbook/utf8.h"

#include <stdlib.h>
#include <string.h>

#define SHOWN_MOST 60 /* bytes of a word that a sentence quotes */

/* Unknown words for which the nearest known one is looked up. It is the slowest thing the reader does, and a text
 * with more of them is not a declaration anyway. */
#define NEAREST_MOST 12

const char *tb_doubt_key(enum tb_doubt_kind kind)
{
    static const char *const key[TB_DOUBT_KINDS] = { "unknown_word", "ambiguous", "sum",
                                                     "no_percent",   "misnomer",  "abbreviation",
                                                     "trade_word",   "number",    "repeated",
                                                     "range",        "empty" };
    return key[kind];
}

bool tb_doubt_blocks(enum tb_doubt_kind kind)
{
    switch (kind) {
    case TB_DOUBT_MISNOMER: /* a misnomer that leaves the fibre open is doubted as ambiguous besides */
    case TB_DOUBT_ABBREVIATION:
    case TB_DOUBT_TRADE_WORD:
    case TB_DOUBT_REPEATED:
        return false;
    default:
        return true;
    }
}

void tb_doubt_add(struct tb_declaration *d, enum tb_doubt_kind kind, size_t at, size_t len,
                  const char *choices, const char *fmt, ...)
{
    struct tb_text say = { 0 };
    va_list ap;

    va_start(ap, fmt);
    tb_text_vsay(&say, fmt, ap);
    va_end(ap);
    TB_PUSH_ROOM(d->doubt, d->n, d->cap);
    d->doubt[d->n++] = (struct tb_doubt){ kind, at, len, tb_text_take(&say),
                                          choices && *choices ? tb_strdup(choices) : NULL };
}

/*
 * The row of a fibre's name that is fewest edits away from an unknown word; NULL when none is near. One edit for a
 * short word and three for a long one: more would offer words that have nothing to do with it.
 */
static const struct tb_name *nearest(const char *word, size_t len)
{
    char *folded = tb_fold_word(word, len);
    size_t n = strlen(folded), best = n <= 4 ? 1 : n <= 7 ? 2 : 3;
    const struct tb_name *found = NULL;
    uint64_t set = tb_fold_letters(folded);

    for (size_t i = 0; n >= 4 && n <= 40 && best && i < tb_name_table_n; i++) {
        const struct tb_name_more *m = &tb_name_more[i];
        size_t apart = m->length > n ? m->length - n : n - m->length, d;

        if (tb_name_table[i].fibre < 0 || m->rows == 0 || m->length < 3 || apart > best ||
            (size_t)__builtin_popcountll(set ^ m->letters) > 2 * best)
            continue; /* most rows are out by length or letters, before anything is compared */
        d = tb_edit_distance(folded, m->folded, best);
        if (d < best + !found) {
            found = &tb_name_table[i];
            best = d;
        }
    }
    free(folded);
    return found;
}

/* How much of a word a sentence quotes: not all of a long one, and never half a character. */
static int shown(const char *word, size_t len)
{
    size_t n = len > SHOWN_MOST ? SHOWN_MOST : len;

    while (n < len && n && ((unsigned char)word[n] & 0xC0) == 0x80)
        n--;
    return (int)n;
}

static void doubt_unknown(struct tb_declaration *d, const struct tb_token *t)
{
    const char *word = d->text + t->at;
    const struct tb_name *near = NULL;
    size_t asked = 0;
    int len = shown(word, t->len);

    for (size_t i = 0; i < d->n; i++)
        asked += d->doubt[i].kind == TB_DOUBT_UNKNOWN_WORD;
    if (asked < NEAREST_MOST)
        near = nearest(word, t->len);
    if (near)
        tb_doubt_add(d, TB_DOUBT_UNKNOWN_WORD, t->at, t->len, tb_fibre_at(near->fibre)->key,
                     "'%.*s' is not a known word; the nearest one is '%s' (%s)", len, word, near->word,
                     tb_fibre_at(near->fibre)->name);
    else
        tb_doubt_add(d, TB_DOUBT_UNKNOWN_WORD, t->at, t->len, NULL, "'%.*s' is not a known word", len, word);
}

/* "polyethylene|not_fibre" and "polyester+cotton" with names in the place of keys: a list, so that no sentence has to
 * be put together from pieces that another language would put in another order. */
static void list_choices(struct tb_text *out, const char *means)
{
    for (const char *p = means, *end; *p; p = *end ? end + 1 : end) {
        char *key;
        int fibre;

        end = p + strcspn(p, "|+");
        key = tb_strndup(p, (size_t)(end - p));
        fibre = tb_fibre_by_key(key);
        if (fibre >= 0)
            tb_text_add(out, tb_fibre_at(fibre)->name);
        else if (strcmp(key, "other_fibres") == 0)
            tb_text_say(out, "other fibres");
        else
            tb_text_say(out, "not a fibre");
        free(key);
        if (*end)
            tb_text_add(out, *end == '+' ? " + " : ", ");
    }
}

static void doubt_vague(struct tb_declaration *d, const struct tb_token *t, const char *means)
{
    const char *word = d->text + t->at;
    int len = shown(word, t->len);

    if (strcmp(means, "class") == 0)
        tb_doubt_add(d, TB_DOUBT_AMBIGUOUS, t->at, t->len, NULL,
                     "'%.*s' names a class of fibres, not one fibre: ask which fibre it is", len, word);
    else if (strcmp(means, "blend") == 0)
        tb_doubt_add(d, TB_DOUBT_NO_PERCENT, t->at, t->len, NULL,
                     "'%.*s' says that there is more than one fibre, but not how much of each", len, word);
    else if (strcmp(means, "bound") == 0)
        tb_doubt_add(d, TB_DOUBT_RANGE, t->at, t->len, NULL,
                     "'%.*s' makes the figure a limit, not a percentage", len, word);
    else
        tb_doubt_add(d, TB_DOUBT_MISNOMER, t->at, t->len, NULL, "'%.*s' is a property, not a fibre", len,
                     word);
}

/* A word with more than one reading. A misnomer says something wrong as well, and both are said. */
static void doubt_open(struct tb_declaration *d, const struct tb_token *t, const char *means)
{
    const char *word = d->text + t->at;
    int len = shown(word, t->len);
    struct tb_text choices = { 0 };

    list_choices(&choices, means);
    if (t->what == TB_WORD_MISNOMER)
        tb_doubt_add(d, TB_DOUBT_MISNOMER, t->at, t->len, means, "'%.*s' is not the name of a fibre", len,
                     word);
    if (t->what != TB_WORD_MISNOMER || strcmp(means, "not_fibre") != 0)
        tb_doubt_add(d, TB_DOUBT_AMBIGUOUS, t->at, t->len, means,
                     "'%.*s' may mean one of these: %s; ask the supplier", len, word, tb_text_str(&choices));
    tb_text_free(&choices);
}

/* AF and "PU coating" are codes too, besides naming other fibres or a part. */
static bool is_code(const struct tb_name *row)
{
    return row->kind == TB_WORD_CODE ||
           (!*row->lang && (row->kind == TB_WORD_OTHER || (row->kind == TB_WORD_PART && row->fibre >= 0)));
}

/* A word that is understood as a fibre, or as several, but which a label may not carry. */
static void doubt_read(struct tb_declaration *d, const struct tb_token *t, const struct tb_name *row)
{
    const char *word = d->text + t->at;
    int len = shown(word, t->len);
    struct tb_text means = { 0 };

    if (row->fibre >= 0)
        tb_text_add(&means, tb_fibre_at(row->fibre)->name);
    else
        list_choices(&means, t->what == TB_WORD_OTHER ? "other_fibres" : row->means);
    if (is_code(row))
        tb_doubt_add(d, TB_DOUBT_ABBREVIATION, t->at, t->len, NULL,
                     "'%.*s' is read as %s; a label must spell it out", len, word, tb_text_str(&means));
    else if (t->what == TB_WORD_TRADE_MARK)
        tb_doubt_add(d, TB_DOUBT_TRADE_WORD, t->at, t->len, NULL, "'%.*s' is a trade mark, read as %s", len,
                     word, tb_text_str(&means));
    else
        tb_doubt_add(d, TB_DOUBT_TRADE_WORD, t->at, t->len, NULL, "'%.*s' is a word of the trade, read as %s",
                     len, word, tb_text_str(&means));
    tb_text_free(&means);
}

void tb_doubt_word(struct tb_declaration *d, const struct tb_token *t)
{
    const struct tb_name *row = t->row < 0 ? NULL : &tb_name_table[t->row];

    if (!row) {
        doubt_unknown(d, t);
        return;
    }
    switch (is_code(row) ? TB_WORD_CODE : t->what) {
    case TB_WORD_CODE:
    case TB_WORD_TRADE_WORD:
    case TB_WORD_TRADE_MARK:
        doubt_read(d, t, row);
        break;
    case TB_WORD_CONSTRUCTION:
        tb_doubt_add(d, TB_DOUBT_MISNOMER, t->at, t->len, NULL,
                     "'%.*s' says how the cloth is made, not which fibre it is made of",
                     shown(d->text + t->at, t->len), d->text + t->at);
        break;
    case TB_WORD_MISNOMER:
    case TB_WORD_AMBIGUOUS:
        doubt_open(d, t, row->means);
        break;
    case TB_WORD_VAGUE:
        doubt_vague(d, t, row->means);
        break;
    default:
        break;
    }
}
