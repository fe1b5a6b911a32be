/* not_read.c - words above, between and below the bolts that nothing was made of: they are listed, so that nothing is lost unseen. */
#include "intake/heads.h"
#include "intake/rows.h"

#include "tenterbook/utf8.h"

#include <stdlib.h>
#include <string.h>

#define SHORT 2 /* bytes: a sign or two say nothing */
#define SAID_MOST 12

/* Is one within the other, whatever their case and accents? */
static bool shares_words(const char *text, const char *value)
{
    char *a, *b;
    bool is;

    if (!value || !*value)
        return false;
    a = tb_fold(text, strlen(text));
    b = tb_fold(value, strlen(value));
    is = strstr(a, b) || strstr(b, a);
    free(a);
    free(b);
    return is;
}

/* Told elsewhere, or typed by the person who reads the list. */
static bool is_told(const struct tb_list_reader *r, const char *text)
{
    const char *const said[] = { r->opts->supplier, r->opts->note,     r->opts->order,
                                 r->opts->article,  r->opts->declared, r->pure.said };
    bool is = false;

    for (size_t i = 0; i < TB_COUNT(said) && !is; i++)
        is = said[i] && strlen(said[i]) > SHORT && shares_words(text, said[i]); /* "S" stands in any text */
    for (size_t i = 0; i < r->looses && !is; i++)
        is = shares_words(text, r->loose[i].said);
    for (size_t i = 0; i < r->unreads && !is; i++)
        is = shares_words(text, r->unread[i].label) || shares_words(text, r->unread[i].value);
    return is;
}

/* "Width (cm): 145" and its label alone: the figure is kept with its unit, and not as it stands there. */
static bool measures(const struct tb_list_reader *r, const struct tb_heads *h, const char *text)
{
    enum tb_field f = tb_head_label(h, r->words, text, strcspn(text, ":"));

    return tb_field_measured(f) && h->value[f];
}

static bool is_understood(const struct tb_list_reader *r, const char *text, const struct tb_heads *h)
{
    struct tb_word_hit hit[TB_HITS_MOST];
    struct tb_day_reading day;
    size_t n = strlen(text);

    if (h && measures(r, h, text))
        return true;
    if (n <= SHORT || strchr(text, '@') ||
        (strpbrk(text, ":0123456789") && tb_of_a_letter(text, strcspn(text, ":"))) ||
        tb_label_field(r->words, text, n) || tb_header_word_total(r->words, text) ||
        tb_day_find(&day, text, &n) != SIZE_MAX)
        return true;
    for (int f = 0; f < TB_FIELDS; f++)
        if (h && shares_words(text, h->value[f]))
            return true;
    return tb_header_words_exact(r->words, text, strlen(text), hit) > 0 || is_told(r, text);
}

void tb_not_read(struct tb_list_reader *r, const struct tb_row *row, const struct tb_heads *h)
{
    for (size_t i = 0; i < row->n && r->not_reads < TB_COUNT(r->not_read); i++) {
        const char *text = row->cell[i].text;
        bool again = false;

        if (row->cell[i].type != TB_CELL_TEXT || is_understood(r, text, h))
            continue;
        text = tb_store_brief(r->list->store, text);
        for (size_t k = 0; k < r->not_reads && !again; k++)
            again = strcmp(r->not_read[k], text) == 0;
        if (!again)
            r->not_read[r->not_reads++] = text;
    }
}

void tb_say_not_read(struct tb_list_reader *r)
{
    struct tb_text seen = { 0 };
    size_t n = 0;

    for (size_t i = 0; i < r->not_reads; i++)
        if (!tb_in_book(r->list, r->not_read[i]) && ++n <= SAID_MOST)
            tb_text_addf(&seen, "%s'%s'", n > 1 ? ", " : "", r->not_read[i]);
    if (n > SAID_MOST)
        tb_list_say(r->list, "not read, among others: %s", tb_text_str(&seen));
    else if (n)
        tb_list_say(r->list, "not read: %s", tb_text_str(&seen));
    tb_text_free(&seen);
}
