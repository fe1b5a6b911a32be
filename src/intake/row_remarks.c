/* row_remarks.c - what rows say of their bolts beside the columns that are read: a person should see it. */
#include "intake/remark_words.h"
#include "intake/rows.h"

#include <string.h>

/* A column of remarks; or words in a column that nobody understands, and that only some of the bolts fill. */
static bool remarks_in(const struct tb_table_layout *l, size_t column)
{
    uint64_t bit = (uint64_t)1 << column;

    return (l->remarks & bit) ||
           (!l->given && !(l->known & bit) && l->content[column].filled * 2 <= l->habit.rows);
}

static void keep(struct tb_list_reader *r, const struct tb_row *row, const char *text, const char *bolt)
{
    const char *said = tb_store_text(r->list->store, text);

    for (size_t i = 0; i < r->remarks; i++)
        if (r->remark[i].text == said) {
            r->remark[i].bolts++;
            return;
        }
    if (r->remarks == TB_ROW_REMARKS_MOST)
        r->remarks_more++;
    else
        r->remark[r->remarks++] = (struct tb_row_remark){ said, bolt, row->line, 1 };
}

void tb_keep_remarks(struct tb_list_reader *r, const struct tb_row *row, const char *bolt)
{
    for (size_t i = 0; i < row->n && i < TB_COLUMNS_MOST; i++) {
        const char *text = row->cell[i].text;

        if (row->cell[i].type == TB_CELL_TEXT && remarks_in(r->now, i) && tb_has_letter(text, strlen(text)) &&
            !tb_is_ditto(text) && !tb_header_is_unit(text) && !tb_words_praise(text))
            keep(r, row, text, bolt);
    }
}

void tb_say_row_remarks(struct tb_list_reader *r)
{
    for (size_t i = 0; i < r->remarks; i++) {
        const struct tb_row_remark *m = &r->remark[i];

        if (m->bolts == 1)
            tb_list_say(r->list, "line %zu says of bolt %s: '%s'", m->line, m->bolt,
                        tb_store_brief(r->list->store, m->text));
        else
            tb_list_say(r->list, "%zu bolts, the first of them %s on line %zu, have the remark '%s'",
                        m->bolts, m->bolt, m->line, tb_store_brief(r->list->store, m->text));
    }
    if (r->remarks_more)
        tb_list_say(r->list,
                    r->remarks_more == 1 ? "%zu more bolt has a remark" : "%zu more bolts have other remarks",
                    r->remarks_more);
}
