/* legend.c - the first pass: what may be a small table that tells something of goods by their names. */
#include "intake/legend.h"

#include "intake/rows.h"

#include <stdlib.h>
#include <string.h>

bool tb_legend_names(enum tb_field f)
{
    return f == TB_FIELD_ARTICLE || f == TB_FIELD_DESIGN || f == TB_FIELD_COLOUR || f == TB_FIELD_LOT ||
           f == TB_FIELD_SHADE_GROUP;
}

const char *tb_legend_text(const struct tb_legend *g, size_t i, size_t k)
{
    return g->text[g->aside ? k * g->rows + i : i * g->columns + k];
}

static bool tells(enum tb_field f)
{
    return tb_field_of_goods(f) || f == TB_FIELD_MASS_LINEAR;
}

static bool has(const struct tb_legend *g, enum tb_field f)
{
    for (size_t i = 0; i < g->columns; i++)
        if (g->column[i].field == f)
            return true;
    return false;
}

/* Of the readings of one header the first that says something of goods and is free. */
static void keep_column(struct tb_legend *g, const struct tb_guess *word, size_t at)
{
    for (size_t k = 0; k < word->n; k++)
        if (tells(word->hit[k].field) && !has(g, word->hit[k].field)) {
            if (g->columns < TB_LEGEND_COLUMNS_MOST)
                g->column[g->columns++] =
                    (struct tb_legend_column){ word->hit[k].field, word->hit[k].unit, word->header, at };
            return;
        }
}

/* Names of goods, and something that is told of them. */
static bool tells_by_names(const struct tb_legend *g)
{
    bool name = false;

    for (size_t i = 0; i < g->columns; i++)
        name = name || tb_legend_names(g->column[i].field);
    return name && g->columns >= 2;
}

/* Words alone, without figures and colons, and no labels with their values. */
static bool may_head(const struct tb_list_reader *r, const struct tb_row *row)
{
    size_t cells = 0;

    if (tb_row_has_figures(row))
        return false;
    for (size_t i = 0; i < row->n; i++) {
        if (row->cell[i].type == TB_CELL_EMPTY)
            continue;
        if (i >= TB_COLUMNS_MOST || row->cell[i].type != TB_CELL_TEXT || tb_colon_in(row->cell[i].text, NULL))
            return false;
        cells++;
    }
    return cells >= 2 && !tb_row_pairs(r->words, row);
}

static void note_word(struct tb_legend *g, const struct tb_guess *word, bool *bolt)
{
    for (size_t k = 0; k < word->n; k++) {
        enum tb_field f = word->hit[k].field;

        *bolt = *bolt || f == TB_FIELD_BOLT;
        g->measured = g->measured || f == TB_FIELD_LENGTH || f == TB_FIELD_WEIGHT_NET;
        g->counted = g->counted || f == TB_FIELD_COUNT || f == TB_FIELD_PACKAGE || f == TB_FIELD_TOTAL;
    }
}

/* The header of such a table: at least half of it are words that are known, and it heads no list of bolts. */
static bool is_header(struct tb_list_reader *r, const struct tb_row *row, struct tb_legend *g)
{
    struct tb_texts first = { 0 };
    size_t cells = 0, known = 0;
    bool bolt = false;

    if (!may_head(r, row))
        return false;
    tb_texts_take(&first, row);
    for (size_t i = 0; i < row->n; i++) {
        struct tb_guess word = { 0 };

        if (!tb_row_filled(row, i))
            continue;
        tb_guess_column(&word, r->words, r->list->store, &first, NULL, i);
        g->filled |= (uint64_t)1 << i;
        cells++;
        known += word.n > 0;
        note_word(g, &word, &bolt);
        keep_column(g, &word, i);
    }
    tb_texts_free(&first);
    return tells_by_names(g) && known * 2 >= cells && !(bolt && g->measured);
}

/* The field of a row that lies on its side, "Colour | Navy | Stone"; TB_FIELD_NONE: it is none. */
static enum tb_field label_aside(const struct tb_list_reader *r, const struct tb_row *row, size_t *at)
{
    struct tb_word_hit hit[TB_HITS_MOST];
    const char *text;
    enum tb_field f;

    for (*at = 0; *at < row->n && !tb_row_filled(row, *at);)
        ++*at;
    if (*at >= row->n || row->n > TB_COLUMNS_MOST || row->cell[*at].type != TB_CELL_TEXT ||
        tb_row_cells(row) < 3 || tb_row_pairs(r->words, row))
        return TB_FIELD_NONE;
    text = row->cell[*at].text;
    f = tb_label_field(r->words, text, strlen(text));
    if (!f && tb_header_words_exact(r->words, text, strcspn(text, ":"), hit))
        f = TB_FIELD_IGNORE;
    for (size_t i = *at + 1; i < row->n; i++) {
        text = row->cell[i].text;
        if (row->cell[i].type == TB_CELL_TEXT &&
            (tb_colon_in(text, NULL) || tb_header_words_exact(r->words, text, strlen(text), hit)))
            return TB_FIELD_NONE;
    }
    return f;
}

static uint64_t filled_of(const struct tb_row *row)
{
    uint64_t filled = 0;

    for (size_t i = 0; i < row->n && i < TB_COLUMNS_MOST; i++)
        filled |= tb_row_filled(row, i) ? (uint64_t)1 << i : 0;
    return filled;
}

static const char *cell_text(struct tb_list_reader *r, const struct tb_row *row, size_t i)
{
    return tb_row_filled(row, i) && !tb_is_ditto(row->cell[i].text)
               ? tb_store_text(r->list->store, row->cell[i].text)
               : NULL;
}

static void push(struct tb_legend *g, const char *text)
{
    TB_PUSH_ROOM(g->text, g->texts, g->cap);
    g->text[g->texts++] = text;
}

/* A row that lies on its side is a column of the others: what each of its cells says is kept behind those of the rows above. */
static bool take_aside(struct tb_list_reader *r, const struct tb_row *row, struct tb_legend *g)
{
    size_t at;
    enum tb_field f = label_aside(r, row, &at);
    const char *label;

    if (f == TB_FIELD_IGNORE && g->columns && g->filled == filled_of(row))
        return true; /* "Rolls | 1 | 2" */
    if (!tells(f) || has(g, f) || g->columns == TB_LEGEND_COLUMNS_MOST ||
        (g->columns && g->filled != filled_of(row)))
        return false;
    label = row->cell[at].text;
    g->filled = filled_of(row);
    g->column[g->columns++] =
        (struct tb_legend_column){ f, TB_UNIT_NONE,
                                   tb_store_intern(r->list->store, label, strcspn(label, ":")), 0 };
    g->rows = 0;
    for (size_t i = at + 1; i < row->n; i++)
        if (tb_row_filled(row, i)) {
            push(g, cell_text(r, row, i));
            g->rows++;
        }
    return true;
}

/* What is left empty in the first column is the name above it; a ditto mark is so in every column. */
static void take_texts(struct tb_list_reader *r, const struct tb_row *row, struct tb_legend *g)
{
    for (size_t i = 0; i < g->columns; i++) {
        size_t at = g->column[i].at;
        const char *text = cell_text(r, row, at);

        if (!text && g->rows && (i == 0 || tb_row_filled(row, at)))
            text = g->text[g->texts - g->columns];
        push(g, text);
    }
    g->rows++;
}

/* Does the row go on with the table: values below its headers, and nothing beside them? */
static bool goes_on(struct tb_list_reader *r, const struct tb_row *row, struct tb_legend *g)
{
    uint64_t filled = filled_of(row);
    struct tb_header_look k;
    size_t named = 0;

    if (row->n > TB_COLUMNS_MOST || (filled & ~g->filled) || tb_row_cells(row) < 2 ||
        g->rows == TB_LEGEND_ROWS_MOST || tb_row_pairs(r->words, row))
        return false;
    if (tb_row_says_total(r, row))
        return true;
    tb_header_look_at(&k, r->words, row);
    if (k.known >= 2)
        return false;
    for (size_t i = 0; i < row->n; i++)
        if (row->cell[i].type == TB_CELL_TEXT && tb_colon_in(row->cell[i].text, NULL))
            return false;
    for (size_t i = 0; i < g->columns; i++)
        named += (filled >> g->column[i].at) & 1;
    if (!named)
        return false;
    take_texts(r, row, g);
    return true;
}

/* A table without rows is none, nor is one row that lies on its side. */
static void close_last(struct tb_legends *all)
{
    struct tb_legend *g = &all->legend[all->n - 1];

    all->open = false;
    if (g->rows && tells_by_names(g))
        return;
    free(g->text);
    *g = (struct tb_legend){ 0 };
    all->n--;
}

void tb_legend_learn_end(struct tb_legends *all)
{
    if (all->open)
        close_last(all);
}

static bool begin(struct tb_list_reader *r, const struct tb_row *row)
{
    struct tb_legend g = { .sheet = r->sheet.number, .line = row->line, .last = row->line };

    if (!is_header(r, row, &g)) {
        g.columns = 0;
        g.filled = 0;
        g.aside = take_aside(r, row, &g);
        if (!g.aside)
            return false;
    }
    if (!r->legends)
        r->legends = tb_new(struct tb_legends);
    if (r->legends->n == TB_LEGENDS_MOST) {
        free(g.text);
        return false;
    }
    g.place = tb_row_place(r, row);
    g.left = tb_said_total(r, row);
    r->legends->legend[r->legends->n++] = g;
    return r->legends->open = true;
}

void tb_legend_learn(struct tb_list_reader *r, const struct tb_row *row)
{
    struct tb_legends *all = r->legends;

    if (all && all->open) {
        struct tb_legend *g = &all->legend[all->n - 1];

        if (g->sheet == r->sheet.number && row->line == g->last + 1 &&
            (g->aside ? take_aside(r, row, g) : goes_on(r, row, g))) {
            g->last = row->line;
            return;
        }
        close_last(all);
    }
    for (size_t i = 0; all && i < all->n; i++)
        if (all->legend[i].sheet == r->sheet.number && row->line >= all->legend[i].line &&
            row->line <= all->legend[i].last)
            return; /* known from an earlier pass */
    (void)begin(r, row);
}

void tb_legends_free(struct tb_legends *all)
{
    for (size_t i = 0; all && i < all->n; i++)
        free(all->legend[i].text);
    free(all);
}
