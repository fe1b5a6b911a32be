/* delivery.c - the delivery a row belongs to: supplier, note, orders and the date of the note. */
#include "intake/rows.h"

#include <string.h>

#define DELIVERIES_MOST 2000

/* Where only some rows name it, the first that does not is asked about, and the rest follows its answer. */
static tb_rc ask_name(struct tb_list_reader *r, const struct tb_row *row, bool supplier, struct tb_err *err)
{
    const char *likely = tb_proposed(r, supplier ? TB_FIELD_SUPPLIER : TB_FIELD_NOTE);
    struct tb_question *q =
        tb_list_ask(r->list, row->line,
                    supplier ? "line %zu: the file does not name the supplier; say --supplier NAME"
                             : "line %zu: the file does not give the number of the delivery note; say --note "
                               "NUMBER",
                    row->line);

    if (likely)
        tb_list_answer(r->list, q, supplier ? "supplier" : "note", likely);
    if (q)
        q->proposed = likely != NULL;
    return tb_fail(err, TB_EINVAL, "%s", q ? q->ask : "");
}

/* What an option says counts before what the file says: a person read both. */
tb_rc tb_take_delivery(struct tb_list_reader *r, const struct tb_row *row, struct tb_err *err)
{
    static const enum tb_field of_note[] = { TB_FIELD_DAY, TB_FIELD_ORDER };
    struct tb_list_rows *s = r->rows;
    const char *supplier = r->opts->supplier ? r->opts->supplier : tb_group_text(r, row, TB_FIELD_SUPPLIER);
    const char *note;

    if (s->last_supplier && supplier != s->last_supplier)
        tb_carry_new_supplier(s);
    note = r->opts->note ? r->opts->note : tb_group_text(r, row, TB_FIELD_NOTE);
    if (!supplier || !note)
        return ask_name(r, row, supplier == NULL, err);
    if (supplier == s->last_supplier && note == s->last_note)
        return TB_OK;
    s->last_supplier = supplier;
    s->last_note = note;
    for (size_t i = 0; i < TB_COUNT(of_note);
         i++) /* another note: the date of the one above is not its date */
        if (!s->fresh[of_note[i]] && !tb_cell_filled(row, r->now->of[of_note[i]]))
            s->carry[of_note[i]] = NULL;
    if (r->list->deliveries >= DELIVERIES_MOST)
        return tb_fail(err, TB_EINVAL, "line %zu: the file holds more than %d deliveries; split it",
                       row->line, DELIVERIES_MOST);
    s->delivery = tb_list_put_delivery(r->list, tb_store_text(r->list->store, supplier),
                                       tb_store_text(r->list->store, note));
    return TB_OK;
}

/* Is the order among those listed, "PO 1, PO 7"? */
static bool listed(const char *orders, const char *order)
{
    size_t n = strlen(order);

    for (const char *at = orders; (at = strstr(at, order)) != NULL; at++)
        if ((at == orders || (at >= orders + 2 && at[-1] == ' ' && at[-2] == ',')) &&
            (at[n] == '\0' || at[n] == ','))
            return true;
    return false;
}

/* Several orders in one delivery are listed, as many as fit a line. */
void tb_take_order(struct tb_list_reader *r, const struct tb_row *row, struct tb_list_delivery *d)
{
    const char *order = r->opts->order ? r->opts->order : tb_group_text(r, row, TB_FIELD_ORDER);

    if (!order || order == d->order || listed(d->order, order) || strlen(d->order) + strlen(order) > 200)
        return;
    d->order = tb_store_internf(r->list->store, "%s%s%s", d->order, *d->order ? ", " : "", order);
}

static void bad_day(struct tb_list_reader *r, const struct tb_row *row, const char *text)
{
    const struct tb_source_column *c = r->now->of[TB_FIELD_DAY];
    const char *shown = tb_store_brief(r->list->store, text);

    if (r->day_order == 'm')
        tb_row_bad(r, row, c, "'%s' is not a date that can be read month first", shown);
    else if (r->day_order == 'y')
        tb_row_bad(r, row, c, "'%s' is not a date that can be read year first", shown);
    else
        tb_row_bad(r, row, c, "'%s' is not a date that can be read day first", shown);
}

/* A date above the table that nobody can read is no reason to refuse every bolt below it. */
static bool ask_day(struct tb_list_reader *r, const struct tb_row *row, const char *text)
{
    struct tb_day_reading one, other;
    struct tb_question *q;

    if (tb_list_asked(r->list, "without", NULL) || tb_list_asked(r->list, "note-date", NULL))
        return true;
    if (tb_day_two(&one, &other, text)) {
        q = tb_list_ask(
            r->list, row->line,
            "'%s' is %s in one language and %s in another; say --note-date with the day that is meant",
            tb_store_brief(r->list->store, text), one.ymd, other.ymd);
        tb_list_answer(r->list, q, "note-date", one.ymd);
        tb_list_answer(r->list, q, "note-date", other.ymd);
        if (q)
            q->open = true;
        return true;
    }
    q = tb_list_ask(
        r->list, row->line,
        "'%s' above line %zu is not a date that can be read; say --without note-date, or --note-date "
        "YYYY-MM-DD",
        tb_store_brief(r->list->store, text), row->line);
    tb_list_answer(r->list, q, "without", "note-date");
    return true;
}

/* The date of the note must be a date; the same text is read once. */
bool tb_take_day(struct tb_list_reader *r, const struct tb_row *row, struct tb_list_delivery *d)
{
    struct tb_list_rows *s = r->rows;
    const char *text = tb_group_text(r, row, TB_FIELD_DAY), *day;
    struct tb_day_reading reading, other;

    if (r->opts->day) {
        memcpy(d->day, r->opts->day, sizeof d->day);
        return true;
    }
    if (!text)
        return true;
    if (text != s->day_text) {
        day = tb_day_scan(&reading, text) ? tb_day_value(&reading, r->day_order) : NULL;
        if (!day && (!tb_cell_filled(row, r->now->of[TB_FIELD_DAY]) || tb_day_two(&reading, &other, text)))
            return ask_day(r, row, text);
        if (!day) {
            bad_day(r, row, text);
            return false;
        }
        s->day_text = text;
        memcpy(s->day, day, sizeof s->day);
    }
    if (!d->day[0])
        memcpy(d->day, s->day, sizeof d->day);
    else if (strcmp(d->day, s->day) != 0)
        tb_list_say(r->list, "line %zu: the delivery note %s is dated %s and %s; the first counts", row->line,
                    d->note, d->day, s->day);
    return true;
}
