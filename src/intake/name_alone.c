/* name_alone.c - "NAVY" alone above bolts, where no column and no label names the colour: a heading, if somebody says so. */
#include "intake/rows.h"

#include <string.h>

#define NAME_MOST 30 /* bytes; what is longer is a sentence */
#define WORDS_MOST 3

/* A few words without figures or the signs of a sentence, where bolts have figures in their numbers. */
static bool may_name(const struct tb_list_reader *r, const char *text)
{
    const struct tb_bolt_habit *h = &r->now->habit;
    size_t n = strlen(text), words = 1;

    for (const char *c = text; (c = strchr(c, ' ')); c++)
        words++;
    return n >= 2 && n <= NAME_MOST && words <= WORDS_MOST && !strpbrk(text, "0123456789.!?:@,;") &&
           h->digits * 2 >= h->rows && !tb_is_ditto(text);
}

/* Would a colour be news, for bolts that stand below? The bolts above, if there are any, have one from such a heading too. */
static bool is_wanted(const struct tb_list_reader *r, size_t line)
{
    const struct tb_table_layout *l = r->now;

    return !r->beside && !r->given.lengths && !l->of[TB_FIELD_COLOUR] && !l->of[TB_FIELD_SHADE_GROUP] &&
           !r->title.value[TB_FIELD_COLOUR] && line < l->last_length &&
           (r->rows->sheet.bolts == 0 || r->rows->from_heading[TB_FIELD_COLOUR]);
}

static void ask(struct tb_list_reader *r, const struct tb_row *row, const char *text)
{
    const char *at = tb_row_place(r, row);
    bool article = r->now->of[TB_FIELD_ARTICLE] || r->now->of[TB_FIELD_DESIGN] ||
                   r->title.value[TB_FIELD_ARTICLE] || r->rows->carry[TB_FIELD_ARTICLE] || r->opts->article;
    struct tb_question *q = tb_list_ask(r->list, row->line,
                                        "line %zu says '%s' alone, above bolts, and nothing else names their "
                                        "colour; say --heading-line %s if "
                                        "that is it, --total-line %s to leave the row out",
                                        row->line, tb_store_brief(r->list->store, text), at, at);

    tb_list_answer(r->list, q, "heading-line", at);
    tb_list_answer(r->list, q, "total-line", at);
    if (q)
        q->open = !article; /* it may be the article as well */
}

bool tb_take_name_alone(struct tb_list_reader *r, const struct tb_row *row)
{
    const char *text = tb_cell_at(row, r->now->of[TB_FIELD_BOLT])->text;
    bool said = tb_said_heading(r, row->line);
    struct tb_heads h = { .line = row->line };

    if (!said && (!tb_row_alone(row) || !is_wanted(r, row->line) || !may_name(r, text)))
        return false;
    if (!said)
        ask(r, row, text);
    tb_sum_mark(r->rows);
    tb_heads_keep(&h, TB_FIELD_COLOUR, tb_store_text(r->list->store, text));
    tb_carry_from(r, row, &h);
    return true;
}
