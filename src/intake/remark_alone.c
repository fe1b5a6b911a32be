/*
 * remark_alone.c - words alone under the article, the colour or the dye lot, between bolts: what the bolts below are called, or a remark.
 * Where a bolt below takes what stands above, a person says which.
 */
#include "intake/rows.h"

#include "base/say.h"

#include <string.h>

#define WORDS_MOST 3 /* more are a sentence */

/* The column of the only cell of the row, where it names goods; NULL: it names none, or is not alone. */
static const struct tb_source_column *named_alone(const struct tb_table_layout *l, const struct tb_row *row)
{
    static const enum tb_field goods[] = { TB_FIELD_ARTICLE, TB_FIELD_DESIGN, TB_FIELD_COLOUR,
                                           TB_FIELD_SHADE_GROUP, TB_FIELD_LOT };

    for (size_t k = 0; k < l->n && tb_row_alone(row); k++)
        for (size_t i = 0; i < TB_COUNT(goods); i++)
            if (l->column[k].field == goods[i] && tb_cell_filled(row, &l->column[k]))
                return &l->column[k];
    return NULL;
}

/* Does a word of it stand as the number of a bolt? */
static bool speaks_of_bolt(const struct tb_list_reader *r, const char *text)
{
    while (*text) {
        size_t n = strcspn(text, " ,.;:!()*");
        const char *word = tb_store_intern(r->list->store, text, n);

        if (n && strpbrk(word, "0123456789") &&
            tb_list_find_bolt(r->list, r->rows->delivery, word) != SIZE_MAX)
            return true;
        text += n + (text[n] != '\0');
    }
    return false;
}

static bool is_sentence(const struct tb_list_reader *r, const char *text)
{
    size_t words = 1, n = strlen(text);

    for (const char *c = text; (c = strchr(c, ' ')); c++)
        words++;
    return words > WORDS_MOST || strchr("*.!?", text[0]) || strchr(".!?*", text[n - 1]) ||
           speaks_of_bolt(r, text);
}

/* The texts that a field is made of run down as one. */
static enum tb_field name_of(const struct tb_source_column *c)
{
    return c->field == TB_FIELD_DESIGN        ? TB_FIELD_ARTICLE
           : c->field == TB_FIELD_SHADE_GROUP ? TB_FIELD_COLOUR
                                              : c->field;
}

bool tb_is_drawn(const struct tb_list_reader *r)
{
    return r->sheet.kind == TB_SHEET_PAPER || r->sheet.delimiter == ' ';
}

/* Where the bolts above have theirs in their own rows, a row that holds nothing else is another kind of row. */
bool tb_keep_alone(struct tb_list_reader *r, const struct tb_row *row)
{
    const struct tb_source_column *c = named_alone(r->now, row);
    struct tb_list_rows *s = r->rows;

    if (!c || tb_said_heading(r, row->line) || row->line >= r->now->last_length ||
        !(s->in_row[name_of(c)] || is_sentence(r, tb_cell_at(row, c)->text)))
        return false;
    s->alone = (struct tb_alone){ c, tb_store_text(r->list->store, tb_cell_at(row, c)->text),
                                  tb_row_place(r, row), row->line };
    return true;
}

static void ask(struct tb_list_reader *r, const struct tb_alone *a)
{
    struct tb_question *q = tb_list_ask(
        r->list, a->line,
        "line %zu: '%s' stands alone under '%s'; say --heading-line %s if the bolts below are called so, "
        "--total-line %s if it is a remark",
        a->line, tb_store_brief(r->list->store, a->text), a->column->header, a->at, a->at);

    tb_list_answer(r->list, q, "heading-line", a->at);
    tb_list_answer(r->list, q, "total-line", a->at);
    if (q)
        q->open = true;
}

/* In lines of text as far from one another as bolts are, such words may be the rest of the cell above them. */
static bool ask_rest(struct tb_list_reader *r, const struct tb_alone *a)
{
    struct tb_question *q;

    if (!tb_is_drawn(r) || is_sentence(r, a->text))
        return false;
    q = tb_list_ask(
        r->list, a->line,
        "line %zu: '%s' stands alone under '%s' between bolts that have their own there; if it is the "
        "rest of the cell above it, write it there, else say --total-line %s to leave it out",
        a->line, tb_store_brief(r->list->store, a->text), a->column->header, a->at);
    tb_list_answer(r->list, q, "total-line", a->at);
    if (q)
        q->open = true;
    return true;
}

/* A bolt with a name of its own shows that it was a remark. */
void tb_settle_alone(struct tb_list_reader *r, const struct tb_row *row)
{
    struct tb_list_rows *s = r->rows;
    const struct tb_alone a = s->alone;
    static const enum tb_field names[] = { TB_FIELD_ARTICLE, TB_FIELD_DESIGN, TB_FIELD_COLOUR,
                                           TB_FIELD_SHADE_GROUP, TB_FIELD_LOT };

    for (size_t k = 0; k < r->now->n; k++)
        for (size_t i = 0; i < TB_COUNT(names); i++)
            if (r->now->column[k].field == names[i] && tb_cell_filled(row, &r->now->column[k]))
                s->in_row[name_of(&r->now->column[k])] = true;
    if (!a.text)
        return;
    s->alone = (struct tb_alone){ 0 };
    if (!tb_cell_filled(row, a.column)) {
        ask(r, &a);
    } else if (!ask_rest(r, &a)) {
        struct tb_cell cell = { .type = TB_CELL_TEXT, .text = a.text };

        tb_not_read(r, &(struct tb_row){ .line = a.line, .cell = &cell, .n = 1 }, NULL);
    }
}

/* "Lot: slightly darker from here": words that no lot, colour or article is called by. */
static bool is_told(const struct tb_head_said *said)
{
    size_t words = 1;

    for (const char *c = said->value; (c = strchr(c, ' ')); c++)
        words++;
    if (strpbrk(said->value, "0123456789"))
        return false;
    if (said->field == TB_FIELD_LOT)
        return words > 1;
    return (said->field == TB_FIELD_COLOUR || said->field == TB_FIELD_ARTICLE) && words > WORDS_MOST &&
           said->value[0] >= 'a' && said->value[0] <= 'z';
}

bool tb_ask_told(struct tb_list_reader *r, const struct tb_row *row, const struct tb_heads *h)
{
    const char *at = tb_row_place(r, row);
    struct tb_question *q;
    size_t i = 0;

    while (i < h->saids && !is_told(&h->said[i]))
        i++;
    if (i == h->saids || !tb_row_alone(row) || !r->list->bolts || row->line >= r->now->last_length ||
        tb_said_heading(r, row->line))
        return false;
    q = tb_list_ask(
        r->list, row->line,
        "line %zu: '%s' may be a remark; say --heading-line %s if the %s of the bolts below is called so, "
        "--total-line %s if it is a remark",
        row->line, tb_store_brief(r->list->store, h->said[i].value), at, _(tb_field_name(h->said[i].field)),
        at);
    tb_list_answer(r->list, q, "heading-line", at);
    tb_list_answer(r->list, q, "total-line", at);
    if (q)
        q->open = true;
    return true;
}
