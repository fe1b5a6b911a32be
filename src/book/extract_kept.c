/*
 * What a case keeps back of its lot: a label of our own and the verdicts on it, another supplier under whom it was booked by mistake
 * (extract_misnamed.c), and on demand the dispute. In place of such a row
 * stands its leaf, so that tree and share come out as they did; what it says cannot be guessed from that.
 *
 * Whoever makes a case could keep back what is unwelcome. So a reader takes a row that is kept back only where the rows that are
 * told say by themselves that it is one of these.
 */
#include "book/extract_impl.h"

#include "tenterbook/goods.h"
#include "tenterbook/standing.h"

#include <string.h>

#define KEPT "kept_back"

bool tb_kept_back(const json_t *row)
{
    return json_object_get(row, KEPT) != NULL;
}

bool tb_kept_leaf(unsigned char leaf[TB_HASH], const json_t *row)
{
    return tb_hash_of_hex(leaf, tb_row_text(row, KEPT));
}

static bool is_listed(const char *tables, const char *table)
{
    return tb_word_listed(tables, table, strlen(table), " ");
}

bool tb_kept_table(const char *table)
{
    return tb_misnamed_table(table) ||
           is_listed("declaration declaration_why verdict verdict_grade voiding attachment", table);
}

/* --- which rows these are ------------------------------------------------------------------------------------------ */

static bool is_by_us(const json_t *declaration)
{
    return tb_kept_back(declaration) ||
           strcmp(tb_row_text(declaration, "origin"), tb_word(&tb_origin_words, TB_ORIGIN_RELABEL)) == 0;
}

/* The words that counted after a journal row: those of a label of ours? */
static bool ours_count(const json_t *facts, int64_t entry)
{
    const json_t *rows = json_object_get(facts, "declaration"), *row;
    bool ours = false;
    size_t i;

    json_array_foreach(rows, i, row)
    {
        if (tb_row_whole(row, "entry") <= entry)
            ours = is_by_us(row);
    }
    return ours;
}

/* The row of a table with this text in a column; NULL: none. */
static const json_t *row_with(const json_t *rows, const char *column, const char *text)
{
    const json_t *row;
    size_t i;

    json_array_foreach(rows, i, row)
    {
        if (strcmp(tb_row_text(row, column), text) == 0)
            return row;
    }
    return NULL;
}

bool tb_is_ours(const json_t *facts, const char *table, const json_t *row)
{
    if (strcmp(table, "declaration") == 0)
        return is_by_us(row);
    if (strcmp(table, "declaration_why") == 0)
        return is_by_us(
            row_with(json_object_get(facts, "declaration"), "id", tb_row_text(row, "declaration")));
    return is_listed("verdict verdict_grade", table) && ours_count(facts, tb_row_whole(row, "entry"));
}

bool tb_is_of_disputes(const json_t *facts, const char *table, const json_t *row)
{
    if (strcmp(table, "voiding") == 0)
        return strcmp(tb_row_text(row, "about"), "dispute_step") == 0;
    return strcmp(table, "attachment") == 0 &&
           row_with(json_object_get(facts, "dispute_step"), "document", tb_row_text(row, "id"));
}

/* --- keeping back -------------------------------------------------------------------------------------------------- */

static json_t *tree_at(const json_t *extract, const char *table, int64_t entry)
{
    json_t *trees = json_object_get(extract, "trees"), *tree;
    size_t i;

    json_array_foreach(trees, i, tree)
    {
        if (tb_row_whole(tree, "row") == entry && strcmp(tb_row_text(tree, "table"), table) == 0)
            return tree;
    }
    return NULL;
}

/* The place of a row among those of its table and journal row that are told, so that each has a nonce. */
static size_t place(const json_t *rows, size_t at)
{
    int64_t entry = tb_row_whole(json_array_get(rows, at), "entry");
    size_t n = 0;

    while (at > 0 && tb_row_whole(json_array_get(rows, --at), "entry") == entry)
        n += !tb_kept_back(json_array_get(rows, at));
    return n;
}

/* Its nonce goes with it: what a row says could be tried by it. Rows of the rule of tables have no tree, and stay. */
void tb_extract_keep_back(json_t *extract, const char *table, size_t at)
{
    json_t *rows = json_object_get(json_object_get(extract, "facts"), table);
    const json_t *row = json_array_get(rows, at);
    json_t *tree = tree_at(extract, table, tb_row_whole(row, "entry"));
    struct tb_text nonces = { 0 }, canon = { 0 }, room = { 0 };
    size_t from = place(rows, at) * TB_HASH;
    unsigned char leaf[TB_HASH];
    char hex[TB_DIGEST_HEX];

    if (tree && tb_base64_of_json(&nonces, json_object_get(tree, "nonces")) && nonces.n >= from + TB_HASH) {
        tb_row_canon(&canon, row, tb_facts_of(table), TB_RULE_TREES, &room);
        tb_leaf(leaf, (const unsigned char *)nonces.s + from, canon.s, canon.n);
        tb_hash_hex(hex, leaf);
        (void)json_array_set_new(
            rows, at, json_pack("{s:I, s:s}", "entry", (json_int_t)tb_row_whole(row, "entry"), KEPT, hex));
        memmove(nonces.s + from, nonces.s + from + TB_HASH, nonces.n - from - TB_HASH);
        (void)json_object_set_new(tree, "nonces", tb_base64_json(nonces.s, nonces.n - TB_HASH));
    }
    tb_text_free(&nonces);
    tb_text_free(&canon);
    tb_text_free(&room);
}

/* `of` is asked of the facts as they are, and a row that was kept back does not answer any more: the last rows go first. */
static void keep_all(json_t *extract, const char *const *table, size_t tables, tb_is_kept_fn *of)
{
    json_t *facts = json_object_get(extract, "facts");

    for (size_t t = 0; t < tables; t++) {
        const json_t *rows = json_object_get(facts, table[t]);

        for (size_t i = json_array_size(rows); i > 0; i--) {
            const json_t *row = json_array_get(rows, i - 1);

            if (!tb_kept_back(row) && of(facts, table[t], row))
                tb_extract_keep_back(extract, table[t], i - 1);
        }
    }
}

void tb_extract_keep_back_ours(json_t *extract)
{
    static const char *const table[] = { "declaration_why", "verdict_grade", "verdict", "declaration" };

    keep_all(extract, table, TB_COUNT(table), tb_is_ours);
}

void tb_extract_keep_back_disputes(json_t *extract)
{
    static const char *const table[] = { "voiding", "attachment" };
    json_t *facts = json_object_get(extract, "facts"), *trees = json_object_get(extract, "trees");

    keep_all(extract, table, TB_COUNT(table), tb_is_of_disputes);
    (void)json_object_del(facts, "dispute");
    (void)json_object_del(facts, "dispute_step");
    for (size_t i = json_array_size(trees); i > 0; i--)
        if (tb_table_of_disputes(tb_row_text(json_array_get(trees, i - 1), "table")))
            (void)json_array_remove(trees, i - 1);
    tb_extract_hide_people(extract);
}

/* --- what a file keeps back ----------------------------------------------------------------------------------------- */

static size_t kept_of(const json_t *rows)
{
    const json_t *row;
    size_t i, n = 0;

    json_array_foreach(rows, i, row)
    {
        n += tb_kept_back(row);
    }
    return n;
}

bool tb_extract_keeps_back(const json_t *extract)
{
    const char *table;
    json_t *rows;

    json_object_foreach(json_object_get(extract, "facts"), table, rows)
    {
        if (kept_of(rows))
            return true;
    }
    return false;
}

bool tb_extract_own_words(const json_t *extract)
{
    return ours_count(json_object_get(extract, "facts"), INT64_MAX);
}

json_t *tb_kept_unnamed(const json_t *facts, const char *table, const json_t *row)
{
    const char *column = strcmp(table, "declaration") == 0 ? "replaces"
                         : strcmp(table, "analysis") == 0  ? "declaration"
                                                           : "";
    const json_t *said = json_object_get(facts, "declaration");
    json_t *copy = json_copy((json_t *)row);

    if (*tb_row_text(row, column) && kept_of(said) && !row_with(said, "id", tb_row_text(row, column)))
        (void)json_object_set_new(copy, column, json_null());
    if (strcmp(table, "delivery") == 0)
        (void)json_object_set_new(copy, "supplier",
                                  json_string(tb_supplier_told(facts, tb_row_text(row, "supplier"))));
    return copy;
}

/* --- whether it may --------------------------------------------------------------------------------------------------- */

/* The last journal row up to this one that relabelled the lot; 0: none did. */
static int64_t last_label(const json_t *facts, int64_t upto)
{
    const json_t *list = json_object_get(facts, "standing"), *row;
    int64_t label = 0;
    size_t i;

    json_array_foreach(list, i, row)
    {
        int64_t at = tb_row_whole(row, "entry");

        if (at <= upto && at > label &&
            strcmp(tb_row_text(row, "standing"), tb_standing_key(TB_RELABELLED)) == 0)
            label = at;
    }
    return label;
}

/* Was the lot relabelled up to this row, and did the supplier say nothing since? */
static bool after_a_label(const json_t *facts, int64_t entry)
{
    const json_t *list = json_object_get(facts, "declaration"), *row;
    int64_t label = last_label(facts, entry), at;
    size_t i;

    json_array_foreach(list, i, row)
    {
        if ((at = tb_row_whole(row, "entry")) > label && at <= entry && !is_by_us(row))
            return false;
    }
    return label > 0;
}

/* Of what is void, the row says nothing else: with a burn goes its verdict, which such a row may have recorded. */
static bool is_of_a_dispute(const json_t *facts, const struct tb_told_row *row, const char *table)
{
    bool voids = strcmp(table, "voiding") == 0;

    if (tb_tells_disputes(facts) || !row)
        return false;
    if (!voids)
        return tb_told_of(row, "dispute_step") != NULL;
    for (size_t i = 0; i < row->contents; i++)
        if (!is_listed("voiding person", row->content[i].table))
            return false;
    return tb_verb_of(tb_row_text(row->full, "verb")) == TB_VERB_VOID;
}

static void check_row(struct tb_extract_proof *p, const json_t *facts, const struct tb_told *told,
                      const char *table, const json_t *row)
{
    int64_t entry = tb_row_whole(row, "entry");
    bool of_dispute = is_listed("voiding attachment", table), of_supplier = tb_misnamed_table(table),
         may = of_supplier  ? tb_may_be_misnamed(facts, tb_told_at(told, entry), table)
               : of_dispute ? is_of_a_dispute(facts, tb_told_at(told, entry), table)
               : is_listed("declaration declaration_why", table) ? last_label(facts, entry) == entry
                                                                 : after_a_label(facts, entry);

    if (!may || !tb_kept_table(table))
        tb_extract_wrong(p,
                         "journal row %lld: the file keeps back a row of table %s that is of no label of the "
                         "buyer's own, of no dispute and of no other supplier",
                         (long long)entry, table);
    p->kept_back += of_dispute;
    p->misnamed += of_supplier;
    p->ours += !of_dispute && !of_supplier;
}

void tb_extract_kept(struct tb_extract_proof *p, const json_t *extract, const struct tb_told *told)
{
    const json_t *facts = json_object_get(extract, "facts"), *row;
    const char *table;
    json_t *rows;
    size_t i;

    json_object_foreach((json_t *)facts, table, rows)
    {
        json_array_foreach(rows, i, row)
        {
            if (tb_kept_back(row))
                check_row(p, facts, told, table, row);
        }
    }
}
