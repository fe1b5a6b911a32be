/*
 * What the journal rows of an extract say that they recorded, taken to pieces: JSON inside a text, once for each row. Little is
 * kept of it, since it is anybody's, and a few bytes of JSON make many values.
 */
#include "book/extract_impl.h"

#include <stdlib.h>
#include <string.h>

/* The name as the statements have it, which stays; NULL: no table of this program. */
static const char *table_name(const char *table)
{
    const struct tb_sql_text *facts = tb_facts_of(table);

    return facts ? facts->name + strlen("facts_") : NULL;
}

/* False: this is not how a row says what it recorded in a table. */
static bool read_one(struct tb_told_content *out, const char *table, const json_t *said, int64_t rule)
{
    const char *digest = NULL;
    json_int_t rows = 0;

    out->table = table_name(table);
    if (!out->table ||
        json_unpack_ex((json_t *)said, NULL, JSON_STRICT, "{s:I, s:s}", "rows", &rows,
                       rule == TB_RULE_TABLES ? "sha256" : "root", &digest) != 0 ||
        rows < 1 || strlen(digest) != TB_DIGEST_HEX - 1)
        return false;
    out->rows = rows;
    (void)snprintf(out->digest, sizeof out->digest, "%s", digest);
    return true;
}

static void read_row(struct tb_told_row *row, struct tb_extract_proof *p)
{
    json_t *all = json_loads(tb_row_text(row->full, "content"), JSON_REJECT_DUPLICATES, NULL), *said;
    const char *table;
    bool good = json_is_object(all);

    row->content = tb_alloc(json_object_size(all) + 1, sizeof *row->content);
    json_object_foreach(all, table, said)
    {
        if (good && strcmp(table, TB_CONTENT_ACT) != 0 &&
            (good = read_one(&row->content[row->contents], table, said, row->rule)))
            row->contents++;
    }
    json_decref(all);
    if (!good)
        tb_extract_wrong(p, "what journal row %lld says that it recorded cannot be read",
                         (long long)row->number);
}

void tb_told_contents(struct tb_told *j, struct tb_extract_proof *p)
{
    for (size_t i = 0; i < j->n; i++)
        if (j->row[i].full)
            read_row(&j->row[i], p);
}

const struct tb_told_content *tb_told_of(const struct tb_told_row *row, const char *table)
{
    for (size_t i = 0; i < row->contents; i++)
        if (strcmp(row->content[i].table, table) == 0)
            return &row->content[i];
    return NULL;
}
