/*
 * totals.c - total rows: recognised by their words or by their sum, checked against the bolts above them,
 * never bolts.
 */
#include "intake/rows.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

static bool near(double a, double b, size_t bolts)
{
    return fabs(a - b) <=
           0.005 * (double)bolts + 0.011; /* each bolt rounded to the centimetre, and the sum */
}

/* The nearest of the three: a block before a sheet, a sheet before the file. */
static const struct tb_list_sum *matching(const struct tb_list_rows *s, double metres)
{
    if (s->block.bolts && near(metres, s->block.metres, s->block.bolts))
        return &s->block;
    if (s->sheet.bolts && near(metres, s->sheet.metres, s->sheet.bolts))
        return &s->sheet;
    return s->file.bolts && near(metres, s->file.metres, s->file.bolts) ? &s->file : NULL;
}

/* A difference is reported and never mended: either figure may be the wrong one. */
static void check_sum(struct tb_list_reader *r, const struct tb_row *row, double metres)
{
    struct tb_list_rows *s = r->rows;
    const struct tb_list_sum *fits = matching(s, metres), *meant = s->block.bolts ? &s->block : &s->sheet;

    if (fits)
        r->list->totals++;
    else if (meant->bolts)
        tb_list_say(
            r->list,
            meant->bolts == 1
                ? "line %zu: the total says %.2f m, the %zu bolt above it has %.2f m: a difference of %+.2f m"
                : "line %zu: the total says %.2f m, the %zu bolts above it add up to %.2f m: a difference of "
                  "%+.2f m",
            row->line, metres, meant->bolts, meant->metres, metres - meant->metres);
}

/* A count of bolts in a total row, from its own column or the bolt column; 0 when there is none. */
static size_t count_in(const struct tb_list_reader *r, const struct tb_row *row)
{
    static const enum tb_field where[] = { TB_FIELD_COUNT, TB_FIELD_BOLT };

    for (size_t i = 0; i < TB_COUNT(where); i++) {
        const struct tb_source_column *c = r->now->of[where[i]];
        const struct tb_cell *cell = tb_cell_at(row, c);
        size_t n = cell && cell->type ? strspn(cell->text, "0123456789") : 0;

        if (n && n < 8 && (cell->text[n] == '\0' || cell->text[n] == ' '))
            return (size_t)strtoul(cell->text, NULL, 10);
    }
    return 0;
}

/* Any of the three counts may be meant. */
static void check_count(struct tb_list_reader *r, const struct tb_row *row)
{
    const struct tb_list_rows *s = r->rows;
    size_t n = count_in(r, row);

    if (n && n != s->block.bolts && n != s->sheet.bolts && n != s->file.bolts && s->sheet.bolts)
        tb_list_say(r->list,
                    n == 1 ? "line %zu: the total counts %zu bolt, above it there are %zu"
                           : "line %zu: the total counts %zu bolts, above it there are %zu",
                    row->line, n, s->block.bolts ? s->block.bolts : s->sheet.bolts);
}

static void close_block(struct tb_list_rows *s)
{
    s->block = (struct tb_list_sum){ 0 };
    s->block_start = true;
}

/* Looks for the words in the first two text cells; the first is remembered, as it mostly repeats. */
static bool has_words(struct tb_list_reader *r, const struct tb_row *row)
{
    struct tb_list_rows *s = r->rows;
    size_t looked = 0;

    for (size_t i = 0; i < row->n && looked < 2; i++) {
        const char *text = row->cell[i].text;

        if (row->cell[i].type != TB_CELL_TEXT || (text[0] >= '0' && text[0] <= '9'))
            continue;
        if (++looked == 1) {
            if (!s->first_cell || strcmp(s->first_cell, text) != 0) {
                s->first_cell = tb_store_text(r->list->store, text);
                s->first_cell_total = tb_header_word_is_total(r->words, text);
            }
            if (s->first_cell_total)
                return true;
        } else if (tb_header_word_is_total(r->words, text)) {
            return true;
        }
    }
    return false;
}

/* Text cells that say nothing but the bolt column and the length: an unnamed total has only figures. */
static bool only_figures(const struct tb_list_reader *r, const struct tb_row *row)
{
    for (size_t i = 0; i < r->now->n; i++) {
        const struct tb_source_column *c = &r->now->column[i];

        if (c->field != TB_FIELD_BOLT && c->field != TB_FIELD_LENGTH && c->field != TB_FIELD_COUNT &&
            c->field != TB_FIELD_UNIT && tb_cell_filled(row, c))
            return false;
    }
    return true;
}

/* A bolt whose row is as full as the rows of bolts are needs no look at its words. */
static bool plainly_a_bolt(const struct tb_list_reader *r, const struct tb_row *row)
{
    const struct tb_source_column *bolt = r->now->of[TB_FIELD_BOLT], *article = r->now->of[TB_FIELD_ARTICLE];
    const struct tb_list_rows *s = r->rows;
    const char *number;

    if (!tb_cell_filled(row, bolt) || !tb_cell_filled(row, r->now->of[TB_FIELD_LENGTH]))
        return false;
    number = tb_cell_at(row, bolt)->text;
    if (!strpbrk(number, "0123456789") || strchr(number, ' '))
        return false;
    for (size_t i = 0; i < row->n; i++) { /* the first text of the row is the one of the row above */
        const struct tb_cell *c = &row->cell[i];

        if (c->type != TB_CELL_TEXT || (c->text[0] >= '0' && c->text[0] <= '9'))
            continue;
        if (c == tb_cell_at(row, bolt))
            return article && tb_cell_filled(row, article) && article->index > i;
        return s->first_cell && !s->first_cell_total && strcmp(s->first_cell, c->text) == 0;
    }
    return false;
}

/* Words decide; without words the sum must fit, or a bolt would be lost. */
bool tb_take_total(struct tb_list_reader *r, const struct tb_row *row)
{
    struct tb_list_rows *s = r->rows;
    const struct tb_cell *cell = tb_cell_at(row, r->now->of[TB_FIELD_LENGTH]);
    bool filled = cell && cell->type, bolt = tb_cell_filled(row, r->now->of[TB_FIELD_BOLT]);
    double metres;

    if (plainly_a_bolt(r, row))
        return false;
    if (has_words(r, row)) {
        metres = filled ? tb_length_metres(r, row, cell) : NAN;
        if (!isnan(metres))
            check_sum(r, row, metres);
        check_count(r, row);
        close_block(s);
        return true;
    }
    if (!filled || !only_figures(r, row))
        return false;
    metres = tb_length_metres(r, row, cell);
    if (isnan(metres) || !matching(s, metres))
        return false;
    /* no words: a sum of two bolts or more, and a number of bolts where a bolt number would stand */
    if (bolt ? matching(s, metres)->bolts < 2 || count_in(r, row) != matching(s, metres)->bolts
             : s->sheet.bolts < 2)
        return false;
    r->list->totals++;
    close_block(s);
    return true;
}
