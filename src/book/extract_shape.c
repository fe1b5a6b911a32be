/*
 * What an extract looks like before anything of it is believed: exactly the members that the program writes, each of its kind.
 *
 * Several readers go over the same data: digests, the book in memory, the pages. What one of them would pass over and another
 * read, a member too many or a value told in two ways, could show two people two cases; so there is no such thing here.
 */
#include "book/extract_impl.h"
#include "tenterbook/date.h"

#include <string.h>

#define TEXT_MOST                                                                                            \
    (64u << 10) /* bytes of a text; programs of today take 16,000, of old ones no limit is known */
#define CONTENT_MOST (16u << 10) /* bytes of what a journal row says; with all tables it has some 5,000 */

/* These members and no others, by a format of json_unpack. */
#define IS(json, ...)                                                                                        \
    (json_unpack_ex((json_t *)(json), NULL, JSON_VALIDATE_ONLY | JSON_STRICT, __VA_ARGS__) == 0)

/* --- facts -------------------------------------------------------------------------------------------------------- */

static bool is_bytes(const json_t *v)
{
    return IS(v, "{s:s}", "base64") || (IS(v, "{s:I}", "left_out") && tb_row_whole(v, "left_out") >= 0);
}

/* A text; where it is a moment, one that can be read. What goes onto pages is not longer than anything that can be recorded. */
static bool is_text(const json_t *v, const char *column)
{
    const char *text = json_string_value(v);
    size_t n = strlen(column);

    if (json_string_length(v) > TEXT_MOST && strcmp(column, "detail") != 0)
        return false;
    return text && (n < 3 || strcmp(column + n - 3, "_at") != 0 || !*text || tb_moment_valid(text));
}

static bool is_value(const json_t *v, const struct tb_sql_column *c)
{
    if (json_is_null(v))
        return c->null;
    switch (c->kind) {
    case TB_KIND_TEXT:
        return is_text(v, c->name);
    case TB_KIND_WHOLE:
        return json_is_integer(v);
    case TB_KIND_NUMBER:
        return json_is_real(v);
    case TB_KIND_BYTES:
        return is_bytes(v);
    }
    return false;
}

static bool is_kept(const json_t *row, const char *table)
{
    unsigned char leaf[TB_HASH];

    return tb_kept_table(table) && IS(row, "{s:I, s:s}", "entry", "kept_back") && tb_kept_leaf(leaf, row);
}

static bool is_row(const json_t *row, const struct tb_sql_text *columns)
{
    bool good = json_object_size(row) == (size_t)columns->outs;

    for (int c = 0; c < columns->outs && good; c++)
        good = is_value(json_object_get(row, columns->out[c].name), &columns->out[c]);
    return good;
}

/* Both tables of disputes are there since the form that tells them, and neither before. */
static bool tells_as_its_form(const json_t *facts, int form)
{
    return form < TB_EXTRACT_FORM_DISPUTES
               ? !tb_tells_disputes(facts)
               : json_object_get(facts, "dispute") && json_object_get(facts, "dispute_step");
}

static tb_rc check_facts(const json_t *facts, int form, bool keeps, struct tb_err *err)
{
    const char *table;
    json_t *rows;

    json_object_foreach((json_t *)facts, table, rows)
    {
        const struct tb_sql_text *columns = tb_facts_of(table);
        const json_t *row;
        size_t i;

        if (!columns)
            return tb_fail(err, TB_EFORMAT, "the data hold a table '%s' that this program does not know",
                           table);
        if (!json_is_array(rows))
            return tb_fail(err, TB_EFORMAT, "the data hold no list of the records of table %s", table);
        json_array_foreach(rows, i, row)
        {
            if (!is_row(row, columns) && !(keeps && is_kept(row, table)))
                return tb_fail(err, TB_EFORMAT,
                               "the data hold a record of table %s with another member, or another kind of "
                               "value, than such records have",
                               table);
        }
    }
    if (!tells_as_its_form(facts, form))
        return tb_fail(err, TB_EFORMAT, "the data tell of disputes otherwise than cases of their form do");
    return json_array_size(json_object_get(facts, "lot")) == 1 &&
                   json_array_size(json_object_get(facts, "site")) == 1
               ? TB_OK
               : tb_fail(err, TB_EFORMAT, "the data are not of one lot of one site");
}

/* --- the journal -------------------------------------------------------------------------------------------------- */

#define WORDS "s:s, s:s, s:s, s:s, s:s, s:s"
#define WORDS_OF "at", "person", "verb", "subject", "content", "digest"

static bool is_told_in_full(const json_t *j, int form)
{
    if (json_string_length(json_object_get(j, "content")) > CONTENT_MOST)
        return false;
    if (form < TB_EXTRACT_FORM_TREES)
        return IS(j, "{s:I, s:s, " WORDS "}", "number", "before", WORDS_OF);
    switch (tb_row_whole(j, "rule")) {
    case TB_RULE_TABLES:
        return IS(j, "{s:I, s:I, s:s, " WORDS "}", "number", "rule", "before", WORDS_OF);
    case TB_RULE_TREES:
        return IS(j, "{s:I, s:I, s:s, s:s, " WORDS "}", "number", "rule", "nonce", "about", WORDS_OF);
    case TB_RULE_SHARES:
        return form >= TB_EXTRACT_FORM_SHARES && IS(j, "{s:I, s:I, s:s, s:s, s:s, s?s, " WORDS "}", "number",
                                                    "rule", "nonce", "about", "shares", "beside", WORDS_OF);
    default:
        return false;
    }
}

/* Rows of others; of which rule is told since there are two with such rows. */
static bool is_run(const json_t *j, int form)
{
    int64_t most = form >= TB_EXTRACT_FORM_SHARES ? TB_RULE_SHARES : TB_RULE_TREES;

    if (form < TB_EXTRACT_FORM_TREES)
        return IS(j, "{s:I, s:s}", "number", "digest");
    return IS(j, "{s:I, s:s}", "number", "digests") ||
           (IS(j, "{s:I, s?I, s:o}", "number", "rule", "rows") && json_is_array(json_object_get(j, "rows")) &&
            tb_row_whole(j, "rule") <= most);
}

static tb_rc check_journal(const json_t *journal, int form, struct tb_err *err)
{
    const json_t *j;
    size_t i;

    json_array_foreach(journal, i, j)
    {
        if (!is_told_in_full(j, form) && !is_run(j, form))
            return tb_fail(err, TB_EFORMAT,
                           "the data tell of journal row %lld otherwise than cases of their form do",
                           (long long)tb_row_whole(j, "number"));
    }
    return TB_OK;
}

/* --- what goes with them ------------------------------------------------------------------------------------------- */

static bool are_trees(const json_t *trees)
{
    const json_t *t;
    bool good = json_is_array(trees);
    size_t i;

    json_array_foreach(trees, i, t)
    {
        good = good && IS(t, "{s:I, s:s, s:o, s:s, s:s}", "row", "table", "at", "nonces", "beside") &&
               json_is_array(json_object_get(t, "at"));
    }
    return good;
}

/* Signature and keys came within the form of trees. */
static bool is_head(const json_t *head, int form)
{
    const json_t *list = json_object_get(head, "keys"), *one;
    bool good = form >= TB_EXTRACT_FORM_STAMPS
                    ? IS(head, "{s:I, s:s, s:s, s:o, s:o}", "number", "digest", "signature", "keys", "stamps")
                    : IS(head, "{s:I, s:s, s?s, s?o}", "number", "digest", "signature", "keys");
    size_t i;

    json_array_foreach(list, i, one)
    {
        good = good && IS(one, "{s:s, s:s, s:I}", "public", "handover", "entry");
    }
    list = json_object_get(head, "stamps");
    json_array_foreach(list, i, one)
    {
        good = good && IS(one, "{s:I, s:s, s:s, s:s, s:s}", "number", "at", "by", "serial", "reply");
    }
    return good && (form < TB_EXTRACT_FORM_STAMPS || json_is_array(list)) &&
           (!json_object_get(head, "keys") || json_is_array(json_object_get(head, "keys")));
}

tb_rc tb_extract_shape(const json_t *extract, int form, struct tb_err *err)
{
    const json_t *facts = json_object_get(extract, "facts"), *journal = json_object_get(extract, "journal");
    bool keeps = form & TB_EXTRACT_KEEPS;
    bool good = (form &= ~TB_EXTRACT_KEEPS) < TB_EXTRACT_FORM_TREES
                    ? IS(extract, "{s:o, s:o}", "facts", "journal")
                    : IS(extract, "{s:o, s:o, s:o, s:o}", "facts", "journal", "trees", "head") &&
                          are_trees(json_object_get(extract, "trees")) &&
                          is_head(json_object_get(extract, "head"), form);
    tb_rc rc;

    /* the same rows have one form */
    if (!good || !json_is_object(facts) || !json_is_array(journal) ||
        (keeps && (form < TB_EXTRACT_FORM_STAMPS || !tb_extract_keeps_back(extract))))
        return tb_fail(err, TB_EFORMAT, "the data are not those of a case");
    rc = check_facts(facts, form, keeps, err);
    return rc == TB_OK ? check_journal(journal, form, err) : rc;
}
