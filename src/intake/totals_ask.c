/* totals_ask.c - what is asked about a row that may be a total, a bolt, or more of the bolt above; the likely answer first. */
#include "intake/totals.h"

#include <math.h>
#include <string.h>

/* What the goods of the table are counted in. */
const char *tb_length_unit_key(const struct tb_list_reader *r)
{
    return tb_unit_key(r->now->of[TB_FIELD_LENGTH]->unit == TB_UNIT_KG ? TB_UNIT_KG : TB_UNIT_M);
}

/* The words of the row before its first figure: "Totaal" of "Totaal: 4 rollen". NULL: none to teach. */
static const char *word_to_teach(struct tb_list_reader *r, const struct tb_row *row, const struct tb_look *k)
{
    const struct tb_cell *cell = tb_cell_at(row, r->now->of[TB_FIELD_BOLT]);
    size_t n = cell ? strcspn(cell->text, "0123456789:=([") : 0;

    while (n && cell->text[n - 1] == ' ')
        n--;
    if (k->number != TB_NUMBER_STRANGE || n < 2 || n > 40)
        return NULL;
    return tb_store_intern(r->list->store, cell->text, n);
}

/* No more than the longest bolt, so rather a piece of cloth than a total of two: nobody knows. */
bool tb_may_be_cloth(const struct tb_look *k, const struct tb_list_reader *r)
{
    return k->numbered && k->number <= TB_NUMBER_STRANGE && !k->word && !k->sum.bolts && r->list->bolts &&
           k->metres <= r->rows->longest;
}

/* A number of its own, and no sum that agrees. */
bool tb_likely_bolt(const struct tb_look *k)
{
    return k->number >= TB_NUMBER_ODD && k->word == TB_TOTAL_NOT &&
           (k->sum.bolts
                ? k->sum.bolts == 1 && k->like && !k->again && !k->recap && !(k->count == 1 && !k->from_one)
                : !k->longer);
}

void tb_ask_total(struct tb_list_reader *r, const struct tb_row *row, const struct tb_look *k)
{
    struct tb_list_store *s = r->list->store;
    bool cloth = tb_may_be_cloth(k, r);
    const char *word = cloth ? NULL : word_to_teach(r, row, k);
    const char *map = word ? tb_store_internf(s, "%s=total", word) : NULL;
    const char *at = tb_row_place(r, row);
    const struct tb_cell *cell = tb_cell_at(row, r->now->of[TB_FIELD_LENGTH]);
    bool length = isnan(k->metres) || tb_cell_is_length(cell); /* else it is no bolt, whatever it is */
    struct tb_question *q;

    if ((map && tb_list_asked(r->list, "map", map)) || tb_list_asked(r->list, "total-line", at))
        return; /* one answer for all lines of that word */
    if (!length && !k->sum.bolts) {
        q = tb_list_ask(
            r->list, row->line,
            "line %zu: '%s' is not understood as a length, and is not the sum of the bolts above; say "
            "--total-line %s if it is no bolt",
            row->line, tb_store_brief(s, cell->text), at);
        tb_list_answer(r->list, q, "total-line", at);
        if (q)
            q->open = true;
        return;
    }
    if (isnan(k->metres))
        q = tb_list_ask(r->list, row->line,
                        "line %zu: is this a total, or a bolt? Say --total-line %s or --bolt-line %s",
                        row->line, at, at);
    else if (k->sum.bolts)
        q = tb_list_ask(r->list, row->line,
                        "line %zu: %.2f %s is what %zu of the bolts above add up to, and may be a bolt as "
                        "well; say --total-line %s or --bolt-line %s",
                        row->line, k->metres, tb_length_unit_key(r), k->sum.bolts, at, at);
    else if (!k->numbered)
        q = tb_list_ask(
            r->list, row->line,
            "line %zu: %.2f %s is unlike the bolts above, and not their sum; say --total-line %s if it is "
            "a total, --bolt-line %s if it is a bolt",
            row->line, k->metres, tb_length_unit_key(r), at, at);
    else if (k->number == TB_NUMBER_NONE)
        q = tb_list_ask(
            r->list, row->line,
            "line %zu: %.2f %s without a bolt number are not the sum of the bolts above; if it is a "
            "total that does not agree, say --total-line %s; if it is a bolt without a number, say "
            "--bolt-line %s, "
            "and it is given one; if it is a further length of the bolt above, say --part-line %s",
            row->line, k->metres, tb_length_unit_key(r), at, at, at);
    else if (cloth)
        q = tb_list_ask(
            r->list, row->line,
            "line %zu: '%s' with %.2f %s is unlike the other bolts, and not the sum of those above; "
            "say --total-line %s if it is a total, --bolt-line %s if it is a bolt, --part-line %s if it is a "
            "further "
            "length of the bolt above",
            row->line, tb_store_brief(s, tb_cell_at(row, r->now->of[TB_FIELD_BOLT])->text), k->metres,
            tb_length_unit_key(r), at, at, at);
    else
        q = tb_list_ask(
            r->list, row->line,
            "line %zu: '%s' with %.2f %s is unlike the other bolts, and not the sum of those above; "
            "say --total-line %s if it is a total, --bolt-line %s if it is a bolt",
            row->line, tb_store_brief(s, tb_cell_at(row, r->now->of[TB_FIELD_BOLT])->text), k->metres,
            tb_length_unit_key(r), at, at);
    if (map)
        tb_list_answer(r->list, q, "map", map);
    if (tb_likely_bolt(k))
        tb_list_answer(r->list, q, "bolt-line", at);
    tb_list_answer(r->list, q, "total-line", at);
    if (!tb_likely_bolt(k) && length)
        tb_list_answer(r->list, q, "bolt-line", at);
    if (cloth || (!k->sum.bolts && k->number == TB_NUMBER_NONE && k->numbered && !isnan(k->metres)))
        tb_list_answer(r->list, q, "part-line", at);
    /* one bolt of that name is what it says of itself too, unless totals stand above it already */
    if (q && (cloth || (k->like && !k->sum.bolts && !tb_likely_bolt(k)) ||
              (k->recap && k->sum.bolts == 1 && k->number > TB_NUMBER_STRANGE && r->rows->block.bolts)))
        q->open = true;
    if (cloth)
        tb_pend(r->rows, q, row->line, k->metres, false);
}
