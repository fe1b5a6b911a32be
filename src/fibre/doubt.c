/* Doubts: what the reader asks instead of guessing, in sentences for a person. */
#include "fibre/fold.h"
#include "fibre/reader.h"
#include "tenterbook/utf8.h"

#include <stdlib.h>
#include <string.h>

#define NEAREST_MOST 12 /* unknown words for which a nearest word is looked up: the rest are rubbish anyway */

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

const char *tb_word_kind_key(enum tb_word_kind kind)
{
    static const char *const key[TB_WORD_KINDS] = { "legal",      "synonym",  "code",         "trade_word",
                                                    "trade_mark", "misnomer", "construction", "vague",
                                                    "ambiguous",  "other",    "undetermined", "mark",
                                                    "part",       "header",   "filler",       "and",
                                                    "percent",    "unknown" };
    return key[kind];
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

/* The fibre word with the fewest edits; NULL when none is near. */
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
            continue;
        d = tb_edit_distance(folded, m->folded, best);
        if (d < best + !found) {
            found = &tb_name_table[i];
            best = d;
        }
    }
    free(folded);
    return found;
}

static void doubt_unknown(struct tb_declaration *d, const struct tb_token *t)
{
    size_t asked = 0;
    const struct tb_name *near = NULL;
    int len = t->len > 60 ? 60 : (int)t->len;

    for (size_t i = 0; i < d->n; i++)
        asked += d->doubt[i].kind == TB_DOUBT_UNKNOWN_WORD;
    if (asked < NEAREST_MOST)
        near = nearest(d->text + t->at, t->len);
    if (near)
        tb_doubt_add(d, TB_DOUBT_UNKNOWN_WORD, t->at, t->len, tb_fibre_at(near->fibre)->key,
                     "'%.*s' is no word we know; the nearest is '%s' (%s)", len, d->text + t->at, near->word,
                     tb_fibre_at(near->fibre)->name);
    else
        tb_doubt_add(d, TB_DOUBT_UNKNOWN_WORD, t->at, t->len, NULL, "'%.*s' is no word we know", len,
                     d->text + t->at);
}

/* "polyethylene|not_fibre" as people say it. */
static void say_choices(struct tb_text *out, const char *means)
{
    const char *name;

    for (const char *p = means, *end; *p; p = *end ? end + 1 : end) {
        char key[64];
        int fibre;

        end = p + strcspn(p, "|+");
        (void)strncpy(key, p, sizeof key - 1);
        key[(size_t)(end - p) < sizeof key ? (size_t)(end - p) : sizeof key - 1] = '\0';
        fibre = tb_fibre_by_key(key);
        name = fibre >= 0                         ? tb_fibre_at(fibre)->name
               : strcmp(key, "other_fibres") == 0 ? "other fibres"
                                                  : "no fibre at all";
        tb_text_add(out, name);
        if (*end)
            tb_text_add(out, *end == '+' ? " with " : strchr(end + 1, '|') ? ", " : " or ");
    }
}

static void doubt_vague(struct tb_declaration *d, const struct tb_token *t, const char *means)
{
    int len = (int)t->len;
    const char *word = d->text + t->at;

    if (strcmp(means, "class") == 0)
        tb_doubt_add(d, TB_DOUBT_AMBIGUOUS, t->at, t->len, NULL,
                     "'%.*s' names a class, not a fibre: which fibre is it", len, word);
    else if (strcmp(means, "blend") == 0)
        tb_doubt_add(d, TB_DOUBT_NO_PERCENT, t->at, t->len, NULL,
                     "'%.*s' says that there is more than one fibre, not how much of each", len, word);
    else if (strcmp(means, "bound") == 0)
        tb_doubt_add(d, TB_DOUBT_RANGE, t->at, t->len, NULL,
                     "'%.*s' makes the figure a bound, not a percentage", len, word);
    else
        tb_doubt_add(d, TB_DOUBT_MISNOMER, t->at, t->len, NULL, "'%.*s' is a property, not a fibre", len,
                     word);
}

static void doubt_open(struct tb_declaration *d, const struct tb_token *t, const struct tb_name *row)
{
    struct tb_text choices = { 0 };

    say_choices(&choices, row->means);
    if (t->what == TB_WORD_MISNOMER)
        tb_doubt_add(d, TB_DOUBT_MISNOMER, t->at, t->len, row->means, "'%.*s' is not the name of a fibre",
                     (int)t->len, d->text + t->at);
    if (t->what != TB_WORD_MISNOMER || strcmp(row->means, "not_fibre") != 0)
        tb_doubt_add(d, TB_DOUBT_AMBIGUOUS, t->at, t->len, row->means, "'%.*s' may mean %s: ask the supplier",
                     (int)t->len, d->text + t->at, tb_text_str(&choices));
    tb_text_free(&choices);
}

/* AF and "PU coating" are codes too, besides naming other fibres or a part. */
static bool is_code(const struct tb_name *row)
{
    return row->kind == TB_WORD_CODE ||
           (!*row->lang && (row->kind == TB_WORD_OTHER || (row->kind == TB_WORD_PART && row->fibre >= 0)));
}

void tb_doubt_word(struct tb_declaration *d, const struct tb_token *t)
{
    const struct tb_name *row = t->row < 0 ? NULL : &tb_name_table[t->row];
    const char *word = d->text + t->at;
    int len = (int)t->len;
    struct tb_text means = { 0 };

    if (!row) {
        doubt_unknown(d, t);
        return;
    }
    if (row->fibre >= 0)
        tb_text_add(&means, tb_fibre_at(row->fibre)->name);
    else if (t->what != TB_WORD_OTHER)
        say_choices(&means, row->means);
    if (t->what == TB_WORD_OTHER)
        tb_text_add(&means, "other fibres");
    switch (is_code(row) ? TB_WORD_CODE : t->what) {
    case TB_WORD_CODE:
        tb_doubt_add(d, TB_DOUBT_ABBREVIATION, t->at, t->len, NULL,
                     "'%.*s' is read as %s; a label must spell it out", len, word, tb_text_str(&means));
        break;
    case TB_WORD_TRADE_WORD:
    case TB_WORD_TRADE_MARK:
        tb_doubt_add(d, TB_DOUBT_TRADE_WORD, t->at, t->len, NULL, "'%.*s' is a trade %s, read as %s", len,
                     word, t->what == TB_WORD_TRADE_MARK ? "mark" : "word", tb_text_str(&means));
        break;
    case TB_WORD_CONSTRUCTION:
        tb_doubt_add(d, TB_DOUBT_MISNOMER, t->at, t->len, NULL,
                     "'%.*s' says how the cloth is made, not of what fibre", len, word);
        break;
    case TB_WORD_MISNOMER:
    case TB_WORD_AMBIGUOUS:
        doubt_open(d, t, row);
        break;
    case TB_WORD_VAGUE:
        doubt_vague(d, t, row->means);
        break;
    default:
        break;
    }
    tb_text_free(&means);
}
