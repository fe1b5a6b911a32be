/* remarks.c - what a person should know of a list that was read: values that were filled in, computed, or are not there. */
#include "intake/rows.h"
#include "intake/shares.h"

#include <string.h>

/* Values that ran down from the row above are no secret. */
static void say_filled(struct tb_list_reader *r)
{
    for (size_t i = 0; i < r->layouts; i++)
        for (size_t k = 0; k < r->layout[i]->n; k++) {
            const struct tb_source_column *c = &r->layout[i]->column[k];

            if (c->filled && c->field >= TB_FIELD_ARTICLE && !c->below)
                tb_list_say(r->list,
                            c->filled == 1 ? "%zu empty cell in the column '%s' took the value above it"
                                           : "%zu empty cells in the column '%s' took the value above them",
                            c->filled, c->header);
            if (c->titled && c->field >= TB_FIELD_ARTICLE)
                tb_list_say(r->list,
                            c->titled == 1
                                ? "%zu empty cell in the column '%s' took what stands above the table, '%s'"
                                : "%zu empty cells in the column '%s' took what stands above the table, '%s'",
                            c->titled, c->header, tb_store_brief(r->list->store, r->title.value[c->field]));
        }
    if (r->rows->prices_differ)
        tb_list_say(r->list,
                    r->rows->prices_differ == 1
                        ? "%zu bolt has another price than its lot; the first price of a lot counts"
                        : "%zu bolts have another price than their lot; the first price of a lot counts",
                    r->rows->prices_differ);
}

/* Numbers of the program are on no ticket: somebody has to print them. */
static void say_numbered(struct tb_list_reader *r)
{
    size_t n = r->rows->numbered;

    if (n)
        tb_list_say(
            r->list,
            n == 1
                ? "%zu bolt has no number and is called T1 here; 'tenterbook tags LOT --bolts' prints its tag"
                : "%zu bolts have no number and are called T1, T2 ... here; 'tenterbook tags LOT --bolts' "
                  "prints their tags",
            n);
}

/* What is counted in kilograms has no length, or one that somebody computed. */
static void say_kilograms(struct tb_list_reader *r)
{
    size_t kg = 0, derived = 0, unknown = 0;

    for (size_t i = 0; i < r->list->lots; i++) {
        const struct tb_list_lot *t = &r->list->lot[i];

        derived += t->derived;
        unknown += t->unknown;
    }
    kg = derived + unknown;
    if (derived)
        tb_list_say(r->list,
                    derived == 1 ? "%zu of %zu bolts counted in kilograms has a length computed from its "
                                   "width and mass per area"
                                 : "%zu of %zu bolts counted in kilograms have lengths computed from their "
                                   "width and mass per area",
                    derived, kg);
    if (unknown)
        tb_list_say(
            r->list,
            unknown == 1
                ? "the length of %zu bolt counted in kilograms is not known, and is in no sum of metres"
                : "the lengths of %zu bolts counted in kilograms are not known, and are in no sum of metres",
            unknown);
}

static void say_no_width(struct tb_list_reader *r)
{
    size_t n = r->rows->no_width;

    if (n)
        tb_list_say(
            r->list,
            n == 1
                ? "%zu bolt has a mass along its length and no width: its mass per area is not known"
                : "%zu bolts have a mass along their length and no width: their mass per area is not known",
            n);
}

/* Silence beside declarations is mostly a cell that was forgotten. */
static void say_undeclared(struct tb_list_reader *r)
{
    const struct tb_packing_list *l = r->list;
    const char *first = NULL;
    size_t none = 0, given = r->rows->declared_by_option;

    if (given && given < l->bolts)
        tb_list_say(
            r->list,
            given == 1
                ? "%zu bolt declares nothing, beside others that do; it is taken to be what --declared says"
                : "%zu bolts declare nothing, beside others that do; they are taken to be what --declared "
                  "says",
            given);
    for (size_t i = 0; i < l->lots; i++) {
        none += !*l->lot[i].declared;
        if (!first && !*l->lot[i].declared)
            first = l->lot[i].article;
    }
    if (none && none < l->lots)
        tb_list_say(r->list,
                    none == 1
                        ? "%zu lot declares nothing, beside others that do ('%s'): ask the supplier"
                        : "%zu lots declare nothing, beside others that do (first '%s'): ask the supplier",
                    none, tb_store_brief(l->store, first));
}

/* Columns that were given are asked for again the next time, unless they are kept. */
static void say_kept(struct tb_list_reader *r)
{
    /* a name with a quotation mark would end the word of the command */
    if (r->opts->columns && r->list->deliveries && !strchr(r->list->delivery[0].supplier, '\''))
        tb_list_say(
            r->list,
            "to read the lists of this supplier like that from now on: tenterbook set 'columns:%s' '%s'",
            r->list->delivery[0].supplier, r->opts->columns);
}

/* What is left out may be the very thing that somebody looks for. */
static void say_unread(struct tb_list_reader *r)
{
    const char *column[8];
    size_t n = tb_unread_columns(r, column, TB_COUNT(column), TB_UNREAD_ANY);
    struct tb_text seen = { 0 };

    for (size_t i = 0; i < n; i++)
        tb_text_addf(&seen, "%s'%s'", i ? ", " : "", tb_store_brief(r->list->store, column[i]));
    if (n)
        tb_list_say(r->list,
                    "columns that are left out: %s (--map \"HEADER=FIELD\" says what one of them means)",
                    tb_text_str(&seen));
    tb_text_free(&seen);
}

void tb_list_remarks(struct tb_list_reader *r)
{
    tb_shares_say(r);
    tb_say_row_remarks(r);
    tb_say_loose(r);
    say_unread(r);
    tb_say_unread_labels(r);
    tb_held_tell(r);
    tb_say_not_read(r);
    tb_say_unplaced(r);
    say_filled(r);
    say_numbered(r);
    say_kilograms(r);
    tb_say_weights(r);
    say_no_width(r);
    say_kept(r);
    say_undeclared(r);
}
