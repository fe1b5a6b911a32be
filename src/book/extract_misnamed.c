/*
 * extract_misnamed.c - a delivery that was first booked under another supplier by mistake. Who that is is nothing to the supplier that
 * gets the case: the amendments that name it, its records and what was said of its spellings are kept back as leaves, or go with
 * the row of others that they stood in.
 */
#include "book/extract_impl.h"

#include <string.h>

/* Those that name others go before what they name. */
static const char *const misnamed[] = { "amendment", "supplier_same", "supplier" };

bool tb_misnamed_table(const char *table)
{
    for (size_t i = 0; i < TB_COUNT(misnamed); i++)
        if (strcmp(misnamed[i], table) == 0)
            return true;
    return false;
}

static const json_t *delivery_of(const json_t *facts)
{
    return json_array_get(json_object_get(facts, "delivery"), 0);
}

/* The last row of a table whose column has this text; NULL: none. Rows stand in the order of the journal. */
static const json_t *last_with(const json_t *facts, const char *table, const char *column, const char *text)
{
    const json_t *rows = json_object_get(facts, table), *row, *last = NULL;
    size_t i;

    json_array_foreach(rows, i, row)
    {
        if (!tb_kept_back(row) && strcmp(tb_row_text(row, column), text) == 0)
            last = row;
    }
    return last;
}

/* The supplier that this one is the same as, by what counts last. */
static const char *one_of(const json_t *facts, const char *supplier)
{
    const json_t *same = last_with(facts, "supplier_same", "supplier", supplier);

    return same ? tb_row_text(same, "same_as") : supplier;
}

static bool is_told(const json_t *facts, const char *supplier)
{
    return last_with(facts, "supplier", "id", supplier) != NULL;
}

/* Whose the goods are, by all that the facts say. */
static const char *supplier_now(const json_t *facts)
{
    const json_t *amended = last_with(facts, "amendment", "field", "supplier");

    return one_of(facts, tb_row_text(amended ? amended : delivery_of(facts), "supplier"));
}

static bool is_another(const json_t *facts, const char *supplier)
{
    return strcmp(one_of(facts, supplier), supplier_now(facts)) != 0;
}

static bool tells_another(const json_t *facts)
{
    const json_t *rows = json_object_get(facts, "supplier"), *row;
    size_t i;

    json_array_foreach(rows, i, row)
    {
        if (!tb_kept_back(row) && is_another(facts, tb_row_text(row, "id")))
            return true;
    }
    return false;
}

bool tb_is_misnamed(const json_t *facts, const char *table, const json_t *row)
{
    if (strcmp(table, "amendment") == 0)
        return strcmp(tb_row_text(row, "field"), "supplier") == 0 && tells_another(facts);
    if (strcmp(table, "supplier_same") == 0)
        return is_another(facts, tb_row_text(row, "supplier")) ||
               is_another(facts, tb_row_text(row, "same_as"));
    return strcmp(table, "supplier") == 0 && is_another(facts, tb_row_text(row, "id"));
}

/* Which rows of a table these are, all asked before the first is kept back. */
static size_t find(size_t *at, const json_t *facts, const char *table)
{
    const json_t *rows = json_object_get(facts, table), *row;
    size_t i, n = 0;

    json_array_foreach(rows, i, row)
    {
        if (!tb_kept_back(row) && tb_is_misnamed(facts, table, row))
            at[n++] = i;
    }
    return n;
}

void tb_extract_keep_back_misnamed(json_t *extract)
{
    const json_t *facts = json_object_get(extract, "facts");
    size_t *at[TB_COUNT(misnamed)], n[TB_COUNT(misnamed)];

    for (size_t t = 0; t < TB_COUNT(misnamed); t++) {
        at[t] = tb_array(size_t, json_array_size(json_object_get(facts, misnamed[t])) + 1);
        n[t] = find(at[t], facts, misnamed[t]);
    }
    for (size_t t = 0; t < TB_COUNT(misnamed); t++) {
        while (n[t] > 0)
            tb_extract_keep_back(extract, misnamed[t], at[t][--n[t]]);
        free(at[t]);
    }
}

/* The delivery names its first supplier by a key, of which nothing else is told: it stands under the one that is told. */
const char *tb_supplier_told(const json_t *facts, const char *supplier)
{
    const json_t *rows = json_object_get(facts, "supplier"), *row;
    size_t i;

    if (is_told(facts, supplier))
        return supplier;
    json_array_foreach(rows, i, row)
    {
        const char *same = tb_kept_back(row) ? "" : one_of(facts, tb_row_text(row, "id"));

        if (*same && is_told(facts, same))
            return same;
    }
    return supplier;
}

bool tb_may_be_misnamed(const json_t *facts, const struct tb_told_row *row, const char *table)
{
    const char *first = tb_row_text(delivery_of(facts), "supplier");

    if (is_told(facts, first) || !is_told(facts, tb_supplier_told(facts, first)))
        return false;
    return strcmp(table, "amendment") != 0 || !row || !row->full ||
           tb_verb_of(tb_row_text(row->full, "verb")) == TB_VERB_AMEND;
}
