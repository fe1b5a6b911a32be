/* header.c - the header of a table: is this row one, or the second row of one. */
#include "intake/header.h"

#include "intake/written.h"
#include "tenterbook/utf8.h"

#include <stdlib.h>
#include <string.h>

void tb_texts_free(struct tb_texts *t)
{
    for (size_t i = 0; i < t->n; i++)
        free(t->text[i]);
    free(t->text);
    *t = (struct tb_texts){ 0 };
}

/* A row is borrowed from the reader of the file, so what must outlive it is copied. */
void tb_texts_take(struct tb_texts *t, const struct tb_row *row)
{
    tb_texts_free(t);
    t->n = row->n;
    t->line = row->line;
    t->text = tb_array(char *, row->n);
    for (size_t i = 0; i < row->n; i++)
        if (row->cell[i].type != TB_CELL_EMPTY)
            t->text[i] = tb_strdup(row->cell[i].text);
}

/* A header has no figures in it, but a text may begin with one: "1st quality". */
static bool is_figure(const struct tb_cell *c)
{
    struct tb_figure f;

    return c->type == TB_CELL_NUMBER || c->type == TB_CELL_DAY ||
           (c->text[0] >= '0' && c->text[0] <= '9' && tb_figure_scan(&f, c->text) && f.rest_n == 0);
}

#define VALUE_DIGITS 3 /* of "CF 2026/1190", the number of an order; "1st quality" is a header */

static bool is_value(const char *text)
{
    size_t digits = 0;

    for (; *text; text++)
        digits += *text >= '0' && *text <= '9';
    return digits >= VALUE_DIGITS;
}

/* 200 filled cells are enough to tell, however wide the sheet is. */
void tb_header_look_at(struct tb_header_look *out, const struct tb_header_words *w, const struct tb_row *row)
{
    *out = (struct tb_header_look){ 0 };
    for (size_t i = 0; i < row->n && out->cells < 200; i++) {
        struct tb_word_hit hit[TB_HITS_MOST];
        size_t n;

        if (row->cell[i].type == TB_CELL_EMPTY)
            continue;
        out->cells++;
        if (is_figure(&row->cell[i])) {
            out->figures = true;
            continue;
        }
        n = tb_header_words_find(w, row->cell[i].text, hit);
        out->known += n > 0;
        out->value = out->value || (!n && is_value(row->cell[i].text));
        for (size_t k = 0; k < n; k++) {
            out->bolt = out->bolt || hit[k].field == TB_FIELD_BOLT;
            out->length = out->length || hit[k].field == TB_FIELD_LENGTH;
        }
    }
}

/* Bolts and lengths, or one of them among words that mostly are header words and no value. */
bool tb_header_is(const struct tb_header_look *k)
{
    if (k->figures || k->known < 2)
        return false;
    return (k->bolt && k->length) || ((k->bolt || k->length) && !k->value && k->known * 2 >= k->cells);
}

const char *tb_colon_in(const char *text, size_t *n)
{
    const char *plain = strchr(text, ':'), *wide = strstr(text, "\uFF1A");
    bool is_plain = plain && (!wide || plain < wide);

    if (n)
        *n = is_plain ? 1 : 3;
    return is_plain ? plain : wide;
}

/* Labels of a title have colons, or their values stand beside them. */
bool tb_header_may_be_upper(const struct tb_header_look *k, const struct tb_row *row)
{
    for (size_t i = 0; i < row->n; i++)
        if (row->cell[i].type != TB_CELL_EMPTY &&
            (tb_colon_in(row->cell[i].text, NULL) || is_value(row->cell[i].text)))
            return false;
    return !k->figures && k->known >= 3 && k->known * 3 >= k->cells * 2;
}

bool tb_header_is_unit(const char *s)
{
    size_t n = strlen(s);

    if (n > 2 && strchr("([", s[0]) && strchr(")]", s[n - 1])) {
        s++;
        n -= 2;
    }
    return tb_unit_find(TB_FIELD_LENGTH, s, n) || tb_unit_find(TB_FIELD_WIDTH, s, n) ||
           tb_unit_find(TB_FIELD_MASS, s, n) || tb_currency_find(s, n);
}

bool tb_row_alone(const struct tb_row *row)
{
    return tb_row_cells(row) == 1;
}

bool tb_row_has_figures(const struct tb_row *row)
{
    for (size_t i = 0; i < row->n; i++)
        if (row->cell[i].type == TB_CELL_NUMBER || row->cell[i].type == TB_CELL_DAY ||
            (row->cell[i].text[0] >= '0' && row->cell[i].text[0] <= '9'))
            return true;
    return false;
}

/* "gross m" is "gross" and the unit after it. */
size_t tb_header_core(const char *low)
{
    const char *space = strrchr(low, ' ');

    return space && tb_header_is_unit(space + 1) ? (size_t)(space - low) : strlen(low);
}

/* "153,5 m" */
static bool is_measure(const struct tb_cell *c)
{
    struct tb_figure f;

    return is_figure(c) || (c->text[0] >= '0' && c->text[0] <= '9' && tb_figure_scan(&f, c->text) &&
                            tb_unit_find(TB_FIELD_LENGTH, f.rest, f.rest_n));
}

/* A unit, a word, a word for "number", or anything with a unit after it. */
static bool is_lower_half(const struct tb_header_words *w, const char *text)
{
    struct tb_word_hit hit[TB_HITS_MOST];

    return tb_header_is_unit(text) || tb_header_words_find(w, text, hit) || tb_header_word_is_number(text) ||
           tb_header_core(text) < strlen(text);
}

/* Two thirds of it must be units or header words: a first row of bolts never is. */
bool tb_header_second(const struct tb_header_words *w, const struct tb_row *row)
{
    size_t known = 0, cells = 0;

    for (size_t i = 0; i < row->n; i++) {
        const char *text = row->cell[i].text;

        if (row->cell[i].type == TB_CELL_EMPTY)
            continue;
        if (is_measure(&row->cell[i]) || tb_is_ditto(text) || tb_colon_in(text, NULL))
            return false;
        cells++;
        known += is_lower_half(w, text);
    }
    return known > 0 && known * 3 >= cells * 2;
}

/* The column in which the header cell over column i begins; SIZE_MAX: none stands over it or left of it. */
static size_t merged_from(const struct tb_texts *first, size_t i)
{
    for (size_t k = i < first->n ? i + 1 : first->n; k > 0; k--)
        if (first->text[k - 1])
            return k - 1;
    return SIZE_MAX;
}

bool tb_header_below_merged(const struct tb_texts *first, const struct tb_row *row)
{
    bool below = false;

    for (size_t i = 0; i < row->n; i++) {
        const struct tb_cell *c = &row->cell[i];
        size_t from;

        if (c->type == TB_CELL_EMPTY)
            continue;
        if (c->type != TB_CELL_TEXT || strpbrk(c->text, "0123456789") || tb_colon_in(c->text, NULL) ||
            tb_is_ditto(c->text))
            return false;
        from = merged_from(first, i);
        below = below || (from != SIZE_MAX && from + 1 == i && row->cell[from].type != TB_CELL_EMPTY);
    }
    return below;
}

void tb_header_keep(struct tb_table_layout *l, struct tb_list_store *s, const struct tb_texts *first,
                    const struct tb_row *second)
{
    for (size_t i = 0; i < TB_COLUMNS_MOST; i++) {
        if (i < first->n && first->text[i])
            l->head[0][i] = tb_store_text(s, first->text[i]);
        if (second && tb_row_filled(second, i))
            l->head[1][i] = tb_store_text(s, second->cell[i].text);
    }
}

static bool same_words(const char *a, const char *b)
{
    if (strcmp(a, b) == 0)
        return true;
    if (b[0] >= '0' && b[0] <= '9') /* as in most rows */
        return false;
    return tb_fold_same(a, b);
}

static bool is_read(const struct tb_table_layout *l, size_t index)
{
    for (size_t i = 0; i < l->n; i++)
        if (l->column[i].index == index && l->column[i].field != TB_FIELD_IGNORE)
            return true;
    return false;
}

/* One cell that is read otherwise makes it another header: its figures may be yards, or another column's. */
static bool same_half(const struct tb_table_layout *l, const char *const *head,
                      const struct tb_header_words *w, const struct tb_row *row)
{
    struct tb_word_hit hit[TB_HITS_MOST];
    size_t same = 0;

    for (size_t i = 0; i < TB_COLUMNS_MOST; i++) {
        const char *text = tb_row_filled(row, i) ? row->cell[i].text : NULL;

        if (text && head[i] && same_words(head[i], text))
            same++;
        else if ((text || head[i]) && (is_read(l, i) || (text && tb_header_words_find(w, text, hit))))
            return false;
    }
    return same > 0;
}

bool tb_header_same(const struct tb_table_layout *l, const struct tb_header_words *w,
                    const struct tb_row *row)
{
    return same_half(l, l->head[0], w, row) || same_half(l, l->head[1], w, row);
}
