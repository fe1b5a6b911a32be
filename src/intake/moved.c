/*
 * moved.c - a bolt whose cells are not what the columns hold on the other lines: a cell that is missing, or stands twice, has moved
 * those beside it. The rule is stated in docs/intake.md, "Every cell".
 */
#include "intake/rows.h"

#include <string.h>

#define ROWS_FEW 5   /* fewer bolts show no habit */
#define ROWS_EACH 16 /* of so many bolts one may be unlike the others by right */
#define TWIN_LEAST 3 /* bytes: "1" beside "1" is a number and a package */

/* What people count, and columns of remarks, may hold anything. */
static bool is_steady(enum tb_field f)
{
    return (f > TB_FIELD_NONE && f < TB_FIELD_PARTS && f != TB_FIELD_UNIT && f != TB_FIELD_PRICE &&
            f != TB_FIELD_CURRENCY) ||
           f == TB_FIELD_LENGTH_GROSS || f == TB_FIELD_LENGTH_ORDERED || f == TB_FIELD_WEIGHT_NET ||
           f == TB_FIELD_WEIGHT_GROSS;
}

static enum tb_cell_kind kind_of(const struct tb_cell *c)
{
    double v;

    if (!c || c->type == TB_CELL_EMPTY)
        return TB_KIND_EMPTY;
    if (c->type == TB_CELL_DAY)
        return TB_KIND_CODE;
    if (strchr(c->text, '%'))
        return tb_has_letter(c->text, strlen(c->text)) ? TB_KIND_SHARE : TB_KIND_PERCENT;
    if (tb_cell_figure(c, &v))
        return strpbrk(c->text, ".,") ? TB_KIND_FIGURE : TB_KIND_WHOLE;
    return strpbrk(c->text, "0123456789") ? TB_KIND_CODE : TB_KIND_WORDS;
}

/* The same text in two cells side by side. */
static bool is_twin(const struct tb_row *row, size_t i)
{
    const struct tb_cell *a = &row->cell[i - 1], *b = &row->cell[i];

    return a->type != TB_CELL_EMPTY && b->type != TB_CELL_EMPTY && strlen(b->text) >= TWIN_LEAST &&
           strcmp(a->text, b->text) == 0 && !tb_is_ditto(b->text);
}

/* A column that is not on the paper is mostly empty. In a list without header one that was left out by hand shows as well whether cells have moved. */
static bool is_held_to(const struct tb_table_layout *l, size_t i)
{
    return (is_steady((enum tb_field)l->meant[i]) && !(l->beyond & (uint64_t)1 << i)) ||
           (l->given && l->meant[i] == TB_FIELD_IGNORE);
}

/* First pass: rows that fill most of the columns; a total, or a row that leaves out what stands above, shows nothing. */
void tb_kinds_learn(struct tb_list_reader *r, const struct tb_row *row)
{
    struct tb_table_layout *l = r->now;
    size_t filled = 0, all = 0;

    for (size_t i = 0; i < TB_COLUMNS_MOST; i++) {
        all += is_held_to(l, i);
        filled += is_held_to(l, i) && tb_row_filled(row, i);
    }
    if (filled < all && tb_row_says_total(r, row))
        return;
    if (filled * 2 < all + 1) {
        l->short_rows++;
        return;
    }
    l->kind_rows++;
    for (size_t i = 0; i < TB_COLUMNS_MOST; i++) {
        const struct tb_cell *cell = i < row->n ? &row->cell[i] : NULL;

        if (cell && tb_is_ditto(cell->text))
            continue;
        l->content[i].kind[kind_of(cell)]++;
        l->content[i].twins += cell && i && is_twin(row, i);
    }
}

/* How many rows may be unlike the others by chance. */
static size_t odd_most(const struct tb_table_layout *l)
{
    return 1 + l->kind_rows / ROWS_EACH;
}

static enum tb_cell_kind usual_kind(const struct tb_table_layout *l, size_t i)
{
    enum tb_cell_kind usual = TB_KIND_EMPTY;

    for (int n = 0; n < TB_KINDS; n++)
        usual = l->content[i].kind[n] > l->content[i].kind[usual] ? (enum tb_cell_kind)n : usual;
    return usual;
}

/* What is left out anyway may be empty, unless a cell beside it could have stood there. */
static bool may_be_empty(const struct tb_table_layout *l, size_t i, enum tb_cell_kind usual)
{
    bool before = i && is_held_to(l, i - 1) && usual_kind(l, i - 1) == usual;
    bool behind = i + 1 < TB_COLUMNS_MOST && is_held_to(l, i + 1) && usual_kind(l, i + 1) == usual;

    return l->meant[i] > TB_FIELD_PARTS && !before && !behind;
}

static bool is_figure(enum tb_cell_kind kind)
{
    return kind == TB_KIND_FIGURE || kind == TB_KIND_WHOLE;
}

/* Three rows in four hold one kind in that column, and this row another that hardly any has; *usual: the one kind. */
static bool is_odd(const struct tb_table_layout *l, size_t i, enum tb_cell_kind kind,
                   enum tb_cell_kind *usual)
{
    const size_t *n = l->content[i].kind;
    size_t most;

    *usual = usual_kind(l, i);
    most = is_figure(*usual) && !is_figure(kind) ? n[TB_KIND_FIGURE] + n[TB_KIND_WHOLE] : n[*usual];
    if (kind == TB_KIND_EMPTY && l->short_rows > odd_most(l))
        return false; /* the rows leave out what stands above */
    return kind != *usual && n[kind] <= odd_most(l) && most * 4 >= l->kind_rows * 3;
}

/* What a name or a number is called by: a figure with decimals is none. */
static bool is_name(enum tb_field f)
{
    return f == TB_FIELD_BOLT || f == TB_FIELD_ARTICLE || f == TB_FIELD_COLOUR || f == TB_FIELD_LOT;
}

/* Words are no figures, and figures no words; a code may be a word or a whole number as well, and a length may be one. */
static bool is_strong(const struct tb_table_layout *l, size_t i, enum tb_cell_kind kind,
                      enum tb_cell_kind usual)
{
    bool figure = is_figure(kind) != is_figure(usual);
    bool code = kind == TB_KIND_CODE || usual == TB_KIND_CODE;

    if (kind == TB_KIND_EMPTY)
        return !may_be_empty(l, i, usual);
    if (kind == TB_KIND_FIGURE && is_name((enum tb_field)l->meant[i]))
        return true;
    return usual == TB_KIND_EMPTY || kind == TB_KIND_PERCENT || (figure && !code) ||
           (code && (kind == TB_KIND_SHARE || usual == TB_KIND_SHARE));
}

/* A mark that nothing ends: "58"" is inches, and a mark alone says what stands above. */
static bool is_unended(const struct tb_cell *c)
{
    const char *mark = strchr(c->text, '"');

    return c->type == TB_CELL_TEXT && mark && !strchr(mark + 1, '"') && !tb_is_ditto(c->text) &&
           (mark == c->text || mark[-1] < '0' || mark[-1] > '9');
}

/* What hardly any other row has: a mark without its end, one text in two columns, a cell behind the columns that were given. */
static bool is_plain_to_see(const struct tb_table_layout *l, const struct tb_row *row, size_t i)
{
    if (i >= row->n || row->cell[i].type == TB_CELL_EMPTY)
        return false;
    if (!l->meant[i])
        return l->given && l->kind_rows >= ROWS_FEW && l->content[i].filled <= odd_most(l);
    return is_unended(&row->cell[i]) || (i && is_held_to(l, i - 1) && is_twin(row, i) &&
                                         l->kind_rows >= ROWS_FEW && l->content[i].twins <= odd_most(l));
}

/* A workbook drops the zeros behind 52.0. */
static bool is_round(const struct tb_cell *cell, enum tb_cell_kind kind, enum tb_cell_kind usual)
{
    return cell && cell->type == TB_CELL_NUMBER && kind == TB_KIND_WHOLE && usual == TB_KIND_FIGURE;
}

/* The column that shows it; SIZE_MAX: none does. */
static size_t odd_column(const struct tb_table_layout *l, const struct tb_row *row)
{
    size_t odd = SIZE_MAX, n = 0;
    bool strong = false;

    for (size_t i = 0; i < TB_COLUMNS_MOST; i++) {
        const struct tb_cell *cell = i < row->n ? &row->cell[i] : NULL;
        enum tb_cell_kind usual, kind = kind_of(cell);

        if ((l->meant[i] && !is_held_to(l, i)) || (cell && tb_is_ditto(cell->text)))
            continue;
        if (is_plain_to_see(l, row, i))
            return i;
        if (!l->meant[i] || l->kind_rows < ROWS_FEW || !is_odd(l, i, kind, &usual) ||
            is_round(cell, kind, usual))
            continue;
        odd = odd == SIZE_MAX || (!strong && is_strong(l, i, kind, usual)) ? i : odd;
        strong = strong || is_strong(l, i, kind, usual);
        n++;
    }
    return strong || n >= 2 ? odd : SIZE_MAX;
}

/* As it is called in the file, or by its letter. */
static const char *name_of(struct tb_list_reader *r, size_t i)
{
    const struct tb_table_layout *l = r->now;
    char letters[8];

    for (size_t k = 0; k < 2 && !l->given; k++)
        if (l->head[k][i])
            return l->head[k][i];
    tb_column_letters(letters, i);
    return tb_store_text(r->list->store, letters);
}

void tb_ask_moved(struct tb_list_reader *r, const struct tb_row *row)
{
    size_t i = tb_said_bolt(r, row) ? SIZE_MAX : odd_column(r->now, row);
    const char *at;
    struct tb_question *q;

    if (i == SIZE_MAX)
        return;
    at = tb_row_place(r, row);
    if (tb_row_filled(row, i))
        q = tb_list_ask(
            r->list, row->line,
            "line %zu: '%s' under '%s' is not what stands there on the other lines; a cell of the row may "
            "be missing, or be one too many. Mend the file, or say --bolt-line %s if the row is right",
            row->line, tb_store_brief(r->list->store, row->cell[i].text), name_of(r, i), at);
    else
        q = tb_list_ask(
            r->list, row->line,
            "line %zu: nothing stands under '%s', where the other lines hold something; a cell of the row "
            "may be missing. Mend the file, or say --bolt-line %s if the row is right",
            row->line, name_of(r, i), at);
    tb_list_answer(r->list, q, "bolt-line", at);
    if (q)
        q->open = true;
}
