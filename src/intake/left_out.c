/* left_out.c - a total that is that of the bolts above it without one of them: was that one sent? */
#include "intake/rows.h"

#include <math.h>
#include <string.h>

/* A total that lacks exactly one of the bolts above it: was that one not sent? */
void tb_ask_left_out(struct tb_list_reader *r, const struct tb_row *row, double metres, size_t count)
{
    const struct tb_packing_list *l = r->list;
    const struct tb_list_sum *block = &r->rows->block;
    const struct tb_list_bolt *out = NULL;
    size_t n = 0;
    const char *at;
    struct tb_question *q;

    if (isnan(metres) || block->bolts < 3 || block->bolts > l->bolts)
        return;
    for (size_t i = l->bolts - block->bolts; i < l->bolts; i++) {
        double v = l->bolt[i].kg > 0 ? l->bolt[i].kg : l->bolt[i].metres;

        if (fabs(block->metres - v - metres) <= 0.011) {
            out = &l->bolt[i];
            n++;
        }
    }
    if (n == 0 || out->sheet != r->rows->sheet_index || (count && count != block->bolts - 1))
        return;
    at = *r->sheet_name ? tb_store_internf(l->store, "%s:%u", r->sheet_name, out->line)
                        : tb_store_internf(l->store, "%u", out->line);
    for (size_t i = 0; i < r->opts->lines; i++)
        if (r->opts->line[i].line == out->line && r->opts->line[i].kind != TB_LINE_HEADING)
            return;
    q = tb_list_ask(
        r->list, row->line,
        "line %zu: the total is that of the bolts above it without the bolt '%s' of line %u; say --bolt-line "
        "%s if that came too, --total-line %s if it did not",
        row->line, out->number, out->line, at, at);
    tb_list_answer(r->list, q, "bolt-line", at);
    tb_list_answer(r->list, q, "total-line", at);
    if (q)
        q->open = true;
}
