/*
 * touching.c - what a table that is only drawn leaves open: words of two columns that touch, and figures under no header.
 *
 * Nothing is proposed then: what was taken for one cell may be two, and a likely answer would take in wrong bolts.
 */
#include "intake/reader.h"

#include <stdio.h>
#include <string.h>

#define WORDS_MOST 8 /* of one header */

/* Have two readings a field in common? */
static bool same_field(const struct tb_word_hit *a, size_t n, const struct tb_word_hit *b, size_t m)
{
    for (size_t i = 0; i < n; i++)
        for (size_t k = 0; k < m; k++)
            if (a[i].field == b[k].field)
                return true;
    return false;
}

static size_t find_words(const char *text, const char *begin[WORDS_MOST], const char *end[WORDS_MOST])
{
    size_t n = 0;

    for (const char *s = text + strspn(text, " \n"); *s && n < WORDS_MOST; s += strspn(s, " \n")) {
        begin[n] = s;
        s += strcspn(s, " \n");
        end[n++] = s;
    }
    return n;
}

/* The longest run of words from this one on that is a header by itself; 0: none is. */
static size_t longest(const struct tb_header_words *w, const char *const *begin, const char *const *end,
                      size_t n, struct tb_word_hit hit[TB_HITS_MOST], size_t *hits)
{
    for (size_t k = n; k > 0; k--) {
        char word[64];
        size_t len = (size_t)(end[k - 1] - begin[0]);

        if (len >= sizeof word)
            continue;
        (void)snprintf(word, sizeof word, "%.*s", (int)len, begin[0]);
        if (!tb_header_word_is_number(word) && (*hits = tb_header_words_exact(w, word, len, hit)) > 0)
            return k;
    }
    return 0;
}

/* "Colour Composition": no header that is known, but two that are stand in it. */
static bool names_two(const struct tb_header_words *w, const char *text)
{
    const char *begin[WORDS_MOST], *end[WORDS_MOST];
    struct tb_word_hit hit[TB_HITS_MOST], first[TB_HITS_MOST];
    size_t n, firsts = 0, hits = 0;

    if (tb_header_words_find(w, text, hit))
        return false;
    n = find_words(text, begin, end);
    for (size_t i = 0, used; i < n; i += used ? used : 1) {
        used = longest(w, begin + i, end + i, n - i, hit, &hits);
        if (used && firsts && !same_field(first, firsts, hit, hits))
            return true;
        if (used && !firsts) {
            memcpy(first, hit, hits * sizeof *hit);
            firsts = hits;
        }
    }
    return false;
}

/* What stands in both rows over a column, as its header is called; NULL: nothing does. */
static const char *header_of(struct tb_list_reader *r, const struct tb_table_layout *l, size_t i)
{
    const char *high = l->head[0][i], *low = l->head[1][i], *kept;
    struct tb_text t = { 0 };

    for (size_t k = 0; k < l->n; k++)
        if (l->column[k].index == i)
            return l->column[k].header;
    if (!high && !low)
        return NULL;
    tb_text_addf(&t, "%s%s%s", high ? high : "", high && low ? " " : "", low ? low : "");
    for (size_t k = 0; k < t.n; k++)
        t.s[k] = t.s[k] == '\n' ? ' ' : t.s[k];
    kept = tb_store_intern(r->list->store, t.s, t.n);
    tb_text_free(&t);
    return kept;
}

static void ask_two(struct tb_list_reader *r, size_t line, const char *header)
{
    const char *map = tb_store_internf(r->list->store, "%s=ignore", header);
    struct tb_question *q;

    if (tb_list_asked(r->list, "map", map))
        return;
    q = tb_list_ask(
        r->list, line,
        "the header '%s' names two columns, whose words touch on paper; ask for the list as a workbook "
        "or type it (receive --by-hand), else say --map \"HEADER=FIELD\" for what both hold",
        header);
    tb_list_answer(r->list, q, "map", map);
    if (q)
        q->open = true;
}

/* Two figures at the start, of which the first is no share, or a figure alone behind the last fibre. */
static bool figure_beside(const char *text)
{
    static const char figure[] = "0123456789.,";
    size_t n = strspn(text, figure), gap = strspn(text + n, " ");
    const char *end = strrchr(text, ' ');

    return strchr(text, '%') && ((n && gap && text[n + gap] >= '0' && text[n + gap] <= '9') ||
                                 (end && end[1] && !end[1 + strspn(end + 1, figure)]));
}

/* "148 100% cotton": the figure of the column beside it. */
static void ask_figure(struct tb_list_reader *r, const struct tb_table_layout *l)
{
    const struct tb_source_column *c = l->of[TB_FIELD_COMPOSITION];
    const char *last = c ? l->content[c->index].last : "", *map;
    struct tb_question *q;

    if (!c || !figure_beside(last))
        return;
    map = tb_store_internf(r->list->store, "%s=ignore", c->header);
    if (tb_list_asked(r->list, "map", map))
        return;
    q = tb_list_ask(r->list, l->line,
                    "what the column '%s' declares has a figure at its end ('%s') that may be of the column "
                    "beside it, where they touch on paper; ask for the list as a workbook or type it "
                    "(receive --by-hand), "
                    "else say --map \"%s\" and --declared TEXT",
                    c->header, tb_store_brief(r->list->store, last), map);
    tb_list_answer(r->list, q, "map", map);
    if (q)
        q->open = true;
}

/* The fields of a table as they are understood, with "-" for what is left out. */
static const char *fields_of(struct tb_list_reader *r, const struct tb_table_layout *l, size_t most)
{
    struct tb_text t = { 0 };
    const char *kept;

    for (size_t i = 0; i <= most; i++) {
        const char *key = "-";

        for (size_t k = 0; k < l->n; k++)
            if (l->column[k].index == i && l->column[k].field && l->column[k].field <= TB_FIELD_PARTS)
                key = tb_field_key(l->column[k].field);
        tb_text_addf(&t, "%s%s", i ? "," : "", key);
    }
    kept = tb_store_intern(r->list->store, t.s, t.n);
    tb_text_free(&t);
    return kept;
}

/* A column that rows fill, and over which no header stands: the end of a cell, or a box beside the table. */
static void ask_bare(struct tb_list_reader *r, const struct tb_table_layout *l)
{
    const struct tb_source_column *length = l->of[TB_FIELD_LENGTH];
    size_t bare = SIZE_MAX, last = 0, beyond = TB_COLUMNS_MOST;
    struct tb_question *q;

    for (size_t k = 0; k < l->n; k++)
        beyond = l->column[k].below ? l->column[k].index : beyond;
    for (size_t i = beyond; i > 0; i--) {
        last = last || !l->content[i - 1].filled ? last : i - 1;
        if (l->content[i - 1].filled && !l->head[0][i - 1] && !l->head[1][i - 1] &&
            !(length && length->seen && length->index + 1 == i - 1))
            bare = i - 1;
    }
    if (bare == SIZE_MAX || bare >= 26)
        return;
    q = tb_list_ask(
        r->list, l->line,
        "no header stands over the column '%c', which rows fill ('%s'); if its words belong to the column "
        "beside it, ask for the list as a workbook or type it (receive --by-hand), else say --columns with "
        "the fields of all columns in their order, - for one that is left out",
        (char)('A' + bare), tb_store_brief(r->list->store, l->content[bare].before));
    tb_list_answer(r->list, q, "columns", fields_of(r, l, last));
    if (q)
        q->open = true;
}

/* "1 T1" under "Roll No.", and nothing under "Item" beside it: two cells that touch. */
static void ask_unfilled(struct tb_list_reader *r, const struct tb_table_layout *l)
{
    const struct tb_source_column *bolt = l->of[TB_FIELD_BOLT];

    for (size_t i = 0; bolt && strchr(l->content[bolt->index].last, ' ') && i < TB_COLUMNS_MOST; i++) {
        const char *header = header_of(r, l, i), *map;
        struct tb_question *q;

        if (!header || l->content[i].filled || (i + 1 != bolt->index && i != bolt->index + 1))
            continue;
        map = tb_store_internf(r->list->store, "%s=ignore", header);
        if (tb_header_words_said(r->words, header) || tb_list_asked(r->list, "map", map))
            continue;
        q = tb_list_ask(
            r->list, l->line,
            "no row fills the column '%s', and the bolt numbers beside it hold two words ('%s'); if one "
            "of them is of that column, ask for the list as a workbook or type it (receive --by-hand), "
            "else say --map \"%s\"",
            header, tb_store_brief(r->list->store, l->content[bolt->index].last), map);
        tb_list_answer(r->list, q, "map", map);
        if (q)
            q->open = true;
    }
}

/* That there are no numbers, or what columns without a header hold, is a guess where a header was not understood. */
static void open_guesses(struct tb_packing_list *l)
{
    for (size_t i = 0; i < l->questions; i++) {
        struct tb_question *q = &l->question[i];

        for (size_t k = 0; k < q->answers; k++)
            q->open = q->open || strcmp(q->answer[k].option, "columns") == 0 ||
                      (strcmp(q->answer[k].option, "without") == 0 &&
                       strcmp(q->answer[k].value, "bolt-numbers") == 0);
    }
}

void tb_ask_touching(struct tb_list_reader *r)
{
    bool drawn = r->sheet.kind == TB_SHEET_PAPER;

    if (!drawn && r->sheet.delimiter != ' ')
        return;
    for (size_t i = 0; i < r->layouts; i++) {
        const struct tb_table_layout *l = r->layout[i];
        const char *header;

        for (size_t k = 0; k < TB_COLUMNS_MOST && !l->given; k++)
            if ((header = header_of(r, l, k)) && names_two(r->words, header))
                ask_two(r, l->line, header);
        ask_figure(r, l);
        if (!l->given)
            ask_unfilled(r, l);
        if (!l->given)
            ask_bare(r, l);
    }
    for (size_t i = 0; !r->layouts && i < r->best.n; i++)
        if (r->best.text[i] && names_two(r->words, r->best.text[i]))
            ask_two(r, r->best.line, tb_store_text(r->list->store, r->best.text[i]));
    if (drawn)
        open_guesses(r->list);
}
