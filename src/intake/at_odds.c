/* at_odds.c - what a row says against what would be stored: goods that were not sent, another supplier or note than an option says. */
#include "intake/rows.h"

#include "intake/remark_words.h"

#include <string.h>

static bool is_read(const struct tb_table_layout *l, size_t index)
{
    for (size_t i = 0; i < l->n; i++)
        if (l->column[i].index == index && l->column[i].field != TB_FIELD_IGNORE)
            return true;
    return false;
}

/* A cell mostly repeats the one above, whose words are known. */
static bool says_not_sent(struct tb_list_rows *s, size_t column, const char *text)
{
    struct tb_unsent *u = &s->unsent[column];

    if (strcmp(u->text, text) == 0)
        return u->is;
    if (strlen(text) >= sizeof u->text)
        return tb_words_unsent(text);
    (void)strcpy(u->text, text);
    return u->is = tb_words_unsent(text);
}

/* What says so, outside the columns that are read; NULL: nothing does. */
static const char *not_sent_in(const struct tb_list_reader *r, const struct tb_row *row)
{
    for (size_t i = 0; i < row->n && i < TB_COLUMNS_MOST; i++)
        if (row->cell[i].type == TB_CELL_TEXT && !is_read(r->now, i) &&
            says_not_sent(r->rows, i, row->cell[i].text))
            return row->cell[i].text;
    return NULL;
}

void tb_ask_not_sent(struct tb_list_reader *r, const struct tb_row *row)
{
    const char *text = tb_said_bolt(r, row) ? NULL : not_sent_in(r, row), *at;
    struct tb_question *q;

    if (!text)
        return;
    at = tb_row_place(r, row);
    q = tb_list_ask(r->list, row->line,
                    "line %zu says '%s': say --total-line %s if the bolt did not come and is to be left out, "
                    "--bolt-line %s if it came",
                    row->line, tb_store_brief(r->list->store, text), at, at);
    tb_list_answer(r->list, q, "total-line", at);
    tb_list_answer(r->list, q, "bolt-line", at);
    if (q)
        q->open = true;
    tb_pend(r->rows, q, row->line, tb_length_metres(r, row, tb_cell_at(row, r->now->of[TB_FIELD_LENGTH])),
            true);
}

bool tb_left_unsent(struct tb_list_reader *r, const struct tb_row *row)
{
    const char *text = tb_said_total(r, row) ? not_sent_in(r, row) : NULL;

    if (!text)
        return false;
    tb_list_say(r->list, "line %zu says '%s', and is left out", row->line,
                tb_store_brief(r->list->store, text));
    return true;
}

void tb_note_below(struct tb_list_reader *r, const struct tb_row *row)
{
    const struct tb_source_column *c = r->now->of[TB_FIELD_COMPOSITION];

    if (r->rows->block_start || !tb_cell_filled(row, c) || tb_is_ditto(tb_cell_at(row, c)->text))
        return;
    r->rows->below = tb_store_text(r->list->store, tb_cell_at(row, c)->text);
    r->rows->below_line = row->line;
    r->rows->below_at = tb_row_place(r, row);
}

static void ask_below(struct tb_list_reader *r)
{
    const struct tb_list_rows *s = r->rows;
    struct tb_question *q = tb_list_ask(
        r->list, s->below_line,
        "line %zu has no bolt, and says '%s' in the column '%s'; if it is the end of the cell above, "
        "write it there; --total-line %s leaves the line out",
        s->below_line, tb_store_brief(r->list->store, s->below), r->now->of[TB_FIELD_COMPOSITION]->header,
        s->below_at);

    tb_list_answer(r->list, q, "total-line", s->below_at);
    if (q)
        q->open = true;
}

void tb_ask_below(struct tb_list_reader *r, const struct tb_row *row)
{
    const struct tb_source_column *c = r->now->of[TB_FIELD_COMPOSITION];
    struct tb_list_rows *s = r->rows;

    if (s->below && tb_cell_filled(row, c) && strcmp(tb_cell_at(row, c)->text, s->below) != 0)
        ask_below(r);
    s->below = NULL;
}

/* Below the last bolt there may be other words under that column; a share is the end of a composition. */
void tb_ask_below_end(struct tb_list_reader *r)
{
    const char *above = r->rows->carry[TB_FIELD_COMPOSITION];

    if (r->now && r->rows->below && strchr(r->rows->below, '%') &&
        !(above && strcmp(above, r->rows->below) == 0))
        ask_below(r);
    r->rows->below = NULL;
}

void tb_ask_named_twice(struct tb_list_reader *r, const struct tb_row *row)
{
    const struct {
        enum tb_field field;
        const char *said;
    } name[2] = { { TB_FIELD_SUPPLIER, r->opts->supplier }, { TB_FIELD_NOTE, r->opts->note } };

    for (size_t i = 0; i < TB_COUNT(name); i++) {
        const struct tb_source_column *c = r->now->of[name[i].field];
        const struct tb_cell *cell = tb_cell_at(row, c);
        const char *map;
        struct tb_question *q;

        if (!name[i].said || !cell || !cell->type || tb_is_ditto(cell->text))
            continue;
        if (!r->in_rows[i])
            r->in_rows[i] = tb_store_text(r->list->store, cell->text);
        map = tb_store_internf(r->list->store, "%s=ignore", c->header);
        if (strcmp(r->in_rows[i], cell->text) == 0 || tb_list_asked(r->list, "map", map))
            continue;
        q = tb_list_ask(
            r->list, row->line,
            i == 0 ? "the list names two suppliers, '%s' and '%s' (line %zu), and --supplier is one; leave "
                     "--supplier away, or say --map \"%s\" if all goods are from the one that it names"
                   : "the list names two notes, '%s' and '%s' (line %zu), and --note is one; leave --note "
                     "away, or say --map \"%s\" if all goods belong to the one that it names",
            tb_store_brief(r->list->store, r->in_rows[i]), tb_store_brief(r->list->store, cell->text),
            row->line, map);
        tb_list_answer(r->list, q, "map", map);
        if (q)
            q->open = true;
    }
}
