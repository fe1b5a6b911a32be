/*
 * People in an extract. Somebody is written down by the first record he makes, which is mostly of another lot: to tell that row, so
 * that a tree covers the name, would tell what was done of it. Each row that is told names who wrote it, and facts of it name the
 * same person by key. So the name is shown by those rows, and the first one is told as any other row of others is.
 */
#include "book/extract_impl.h"

#include <string.h>

/* --- whom the facts name --------------------------------------------------------------------------------------------- */

/* What the facts show of a name. */
enum shown {
    NOBODY,     /* no fact names this person */
    NOT_SHOWN,  /* one does, and no row that he wrote is here */
    SHOWN,      /* rows that he wrote have this name */
    OTHER_NAME, /* one has another */
};

/* A burn or test that was moved keeps who made it, and its row says who moved it. */
static bool is_the_writer(const char *column)
{
    return strcmp(column, "burned_by") != 0 && strcmp(column, "tested_by") != 0;
}

static bool is_person(const char *column)
{
    size_t n = strlen(column);

    return n > 3 && strcmp(column + n - 3, "_by") == 0;
}

static enum shown by_column(enum shown so_far, const struct tb_told *told, const json_t *row,
                            const char *column, const json_t *person)
{
    const struct tb_told_row *of = tb_told_at(told, tb_row_whole(row, "entry"));

    if (strcmp(tb_row_text(row, column), tb_row_text(person, "id")) != 0)
        return so_far;
    if (of && of->full && strcmp(tb_row_text(of->full, "person"), tb_row_text(person, "name")) == 0)
        return SHOWN;
    if (of && of->full && is_the_writer(column))
        return OTHER_NAME;
    return so_far == NOBODY ? NOT_SHOWN : so_far;
}

static enum shown is_shown(const json_t *facts, const struct tb_told *told, const json_t *person)
{
    enum shown shown = NOBODY;
    const char *table;
    json_t *rows;

    json_object_foreach((json_t *)facts, table, rows)
    {
        const struct tb_sql_text *columns = tb_facts_of(table);
        const json_t *row;
        size_t i;

        for (int c = 0; columns && c < columns->outs; c++) {
            if (!is_person(columns->out[c].name))
                continue;
            json_array_foreach(rows, i, row)
            {
                shown = by_column(shown, told, row, columns->out[c].name, person);
                if (shown == OTHER_NAME)
                    return shown;
            }
        }
    }
    return shown;
}

/* --- taking out ------------------------------------------------------------------------------------------------------ */

/* Rows of a table that this journal row recorded and that are kept back; `out`: take them out. */
static size_t kept_of(json_t *rows, int64_t entry, bool out)
{
    size_t n = 0;

    for (size_t i = json_array_size(rows); i > 0; i--) {
        const json_t *row = json_array_get(rows, i - 1);

        if (!tb_kept_back(row) || tb_row_whole(row, "entry") != entry)
            continue;
        n++;
        if (out)
            (void)json_array_remove(rows, i - 1);
    }
    return n;
}

/* Is the row not about the lot, and are no facts of it told but those of people? *kept: its facts that are kept back. */
static bool is_bare(size_t *kept, const json_t *facts, const struct tb_told_row *row)
{
    const char *table;
    json_t *rows;

    *kept = 0;
    if (!row->full || row->ours || row->rule == TB_RULE_TABLES)
        return false;
    json_object_foreach((json_t *)facts, table, rows)
    {
        size_t n = kept_of(rows, row->number, false);

        if (strcmp(table, "person") != 0 && (size_t)tb_rows_of_entry(rows, row->number) > n)
            return false;
        *kept += n;
    }
    return true;
}

/* Is the row there for the sake of somebody's name alone? */
static bool is_for_a_name(const json_t *facts, const struct tb_told_row *row)
{
    size_t kept;

    return is_bare(&kept, facts, row) && kept == 0;
}

/* Is it about nothing but a name that is kept back, and perhaps somebody's first record? */
static bool is_for_a_kept_name(const json_t *facts, const struct tb_told_row *row)
{
    size_t kept;

    return is_bare(&kept, facts, row) && kept > 0;
}

/* As a row of others is told (extract_out.c): the digest of what it says, the root over its shares, the tags of its lots. */
static json_t *as_of_others(const struct tb_told_row *row)
{
    struct tb_journal_row j = tb_told_record(row->full);
    unsigned char nonce[TB_HASH] = { 0 }, header[TB_HASH];
    struct tb_text bytes = { 0 }, about = { 0 };
    json_t *told;

    (void)tb_hash_of_hex(nonce, tb_row_text(row->full, "nonce"));
    (void)tb_base64_of_json(&about, json_object_get(row->full, "about"));
    tb_journal_header(header, &j, nonce);
    tb_text_addn(&bytes, (const char *)header, TB_HASH);
    if (row->rule == TB_RULE_SHARES)
        tb_text_addn(&bytes, (const char *)row->shares, TB_HASH);
    tb_text_addn(&bytes, tb_text_str(&about), about.n);
    told = json_pack("{s:I, s:I, s:[o]}", "number", (json_int_t)row->number, "rule", (json_int_t)row->rule,
                     "rows", tb_base64_json(bytes.s, bytes.n));
    tb_text_free(&bytes);
    tb_text_free(&about);
    return told;
}

/* Two runs of rows of others that follow each other are one, so that nothing shows where a name was taken out. */
static void join(json_t *journal, size_t at)
{
    json_t *run = json_array_get(journal, at), *next = json_array_get(journal, at + 1);

    if (!json_object_get(run, "rows") || !json_object_get(next, "rows") ||
        tb_row_whole(run, "rule") != tb_row_whole(next, "rule"))
        return;
    (void)json_array_extend(json_object_get(run, "rows"), json_object_get(next, "rows"));
    (void)json_array_remove(journal, at + 1);
}

static void hide_row(json_t *extract, const struct tb_told_row *row)
{
    json_t *journal = json_object_get(extract, "journal"), *trees = json_object_get(extract, "trees");
    int64_t number = row->number;
    size_t at = 0;

    while (json_array_get(journal, at) != row->full)
        at++;
    (void)json_array_set_new(journal, at, as_of_others(row));
    join(journal, at);
    if (at > 0)
        join(journal, at - 1);
    for (size_t i = json_array_size(trees); i > 0; i--)
        if (tb_row_whole(json_array_get(trees, i - 1), "row") == number)
            (void)json_array_remove(trees, i - 1);
}

/* Facts that name people are of rows that stay as they are: the journal is read once. */
void tb_extract_hide_people(json_t *extract)
{
    const json_t *facts = json_object_get(extract, "facts");
    json_t *people = json_object_get(facts, "person");
    struct tb_told told;

    tb_told_read(&told, NULL, extract);
    for (size_t i = json_array_size(people); i > 0; i--) {
        const json_t *person = json_array_get(people, i - 1);
        const struct tb_told_row *row = tb_told_at(&told, tb_row_whole(person, "entry"));
        enum shown shown = is_shown(facts, &told, person);

        if (!row || (shown != SHOWN && shown != NOBODY) || (row->full && !is_for_a_name(facts, row)))
            continue;
        if (row->full)
            hide_row(extract, row);
        if (shown == NOBODY)
            (void)json_array_remove(people, i - 1);
    }
    tb_told_free(&told);
}

void tb_extract_hide_kept_names(json_t *extract)
{
    const json_t *facts = json_object_get(extract, "facts");
    struct tb_told told;

    tb_told_read(&told, NULL, extract);
    for (size_t i = 0; i < told.n; i++) {
        const char *table;
        json_t *rows;

        if (!is_for_a_kept_name(facts, &told.row[i]))
            continue;
        json_object_foreach((json_t *)facts, table, rows)
        {
            (void)kept_of(rows, told.row[i].number, true);
        }
        hide_row(extract, &told.row[i]);
    }
    tb_told_free(&told);
}

/* --- proving --------------------------------------------------------------------------------------------------------- */

void tb_extract_people(struct tb_extract_proof *p, const json_t *extract, const struct tb_told *told)
{
    const json_t *facts = json_object_get(extract, "facts"), *people = json_object_get(facts, "person"),
                 *person;
    size_t i;

    json_array_foreach(people, i, person)
    {
        const struct tb_told_row *row = tb_told_at(told, tb_row_whole(person, "entry"));

        if (row && !row->full && is_shown(facts, told, person) != SHOWN)
            tb_extract_wrong(p, "no journal row of the file shows that somebody is called %s",
                             tb_row_text(person, "name"));
    }
}

bool tb_names_nobody(const json_t *facts, const struct tb_told *told, const json_t *person)
{
    const struct tb_told_row *row = tb_told_at(told, tb_row_whole(person, "entry"));

    return row && !row->full && is_shown(facts, told, person) == NOBODY;
}
