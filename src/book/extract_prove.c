/* The proof of an extract: digests of its facts computed again, against what its journal rows say of them. */
#include "book/extract_impl.h"

#include <stdlib.h>
#include <string.h>

/* The facts of one table under one journal row: rows[first .. first + count) of the extract. */
struct group {
    const char *table;
    const struct tb_sql_text *columns;
    const json_t *rows;
    size_t first, count;
    int64_t entry;
};

/* Something of one table and one journal row, to be found by both: a tree, or a group that was met. */
struct keyed {
    const char *table;
    int64_t entry;
    const json_t *tree;
};

struct keyeds {
    struct keyed *item;
    size_t n, cap;
};

/* What all groups are held against. */
struct proving {
    struct tb_extract_proof *p;
    struct tb_told told;
    struct keyeds trees, met;
    struct tb_owneds owned;
    const char *lot_ref;
    struct tb_text record, room;
};

static int by_entry(const void *a, const void *b)
{
    const struct keyed *x = a, *y = b;
    int by = (x->entry > y->entry) - (x->entry < y->entry);

    return by ? by : strcmp(x->table, y->table);
}

static void add_keyed(struct keyeds *list, const char *table, int64_t entry, const json_t *tree)
{
    TB_PUSH_ROOM(list->item, list->n, list->cap);
    list->item[list->n++] = (struct keyed){ table, entry, tree };
}

/* By halving, in a list that is sorted: somebody else's file may have very many of both. */
static const struct keyed *find_keyed(const struct keyeds *list, const char *table, int64_t entry)
{
    const struct keyed key = { table, entry, NULL };

    return list->n ? bsearch(&key, list->item, list->n, sizeof key, by_entry) : NULL;
}

static void list_trees(struct proving *w, const json_t *trees)
{
    const json_t *tree;
    size_t i;

    json_array_foreach(trees, i, tree)
    {
        add_keyed(&w->trees, tb_row_text(tree, "table"), tb_row_whole(tree, "row"), tree);
    }
    if (w->trees.n)
        qsort(w->trees.item, w->trees.n, sizeof *w->trees.item, by_entry);
}

static bool about(const json_t *row, const char *lot_ref)
{
    return tb_subject_is_lot(tb_row_text(row, "subject"), lot_ref);
}

/* Facts that a digest computed again covers. */
static void covered(struct proving *w, const struct group *g)
{
    struct tb_extract_proof *p = w->p;

    TB_PUSH_ROOM(p->covered, p->coverings, p->room);
    p->covered[p->coverings++] = (struct tb_extract_covered){ g->entry, (int64_t)g->count };
    p->facts += (int64_t)g->count;
}

/* --- facts that do not add up ------------------------------------------------------------------------------------- */

static void not_recorded(struct proving *w, const struct group *g, const json_t *j)
{
    tb_extract_wrong(w->p, "journal row %lld (%s %s by %s, %s): a row of table %s is not what was recorded",
                     (long long)g->entry, tb_row_text(j, "verb"), tb_row_text(j, "subject"),
                     tb_row_text(j, "person"), tb_row_text(j, "at"), g->table);
}

static void other_count(struct proving *w, const char *table, int64_t want, size_t have, const json_t *j)
{
    tb_extract_wrong(w->p,
                     "journal row %lld (%s %s by %s, %s): %lld rows of table %s were recorded, %lld are here",
                     (long long)tb_row_whole(j, "number"), tb_row_text(j, "verb"), tb_row_text(j, "subject"),
                     tb_row_text(j, "person"), tb_row_text(j, "at"), (long long)want, table, (long long)have);
}

/* --- the rule of tables ------------------------------------------------------------------------------------------- */

static bool any_left_out(const struct group *g)
{
    for (size_t i = 0; i < g->count; i++)
        if (tb_left_out(json_object_get(json_array_get(g->rows, g->first + i), "bytes")))
            return true;
    return false;
}

/* One digest over all rows of the table: it cannot be computed where some belong to other lots, or bytes are left out. */
static void by_table(struct proving *w, const struct group *g, const json_t *j,
                     const struct tb_told_content *said)
{
    int64_t want = said ? said->rows : 0;
    crypto_hash_sha256_state hash;
    char hex[TB_DIGEST_HEX];

    (void)crypto_hash_sha256_init(&hash);
    for (size_t i = 0; i < g->count; i++) {
        tb_row_canon(&w->record, json_array_get(g->rows, g->first + i), g->columns, TB_RULE_TABLES, &w->room);
        (void)crypto_hash_sha256_update(&hash, (const unsigned char *)w->record.s, w->record.n);
    }
    tb_digest_end(hex, &hash);
    if ((int64_t)g->count == want && any_left_out(g))
        w->p->partly += (int64_t)g->count;
    else if ((int64_t)g->count == want && said && strcmp(said->digest, hex) == 0)
        covered(w, g);
    else if ((int64_t)g->count == want)
        not_recorded(w, g, j);
    else if ((int64_t)g->count > want || about(j, w->lot_ref))
        other_count(w, g->table, want, g->count, j);
    else
        w->p->partly += (int64_t)g->count;
}

/* --- the rule of trees -------------------------------------------------------------------------------------------- */

static const json_t *tree_of(const struct proving *w, const struct group *g)
{
    const struct keyed *k = find_keyed(&w->trees, g->table, g->entry);

    return k ? k->tree : NULL;
}

static void add_owned(struct proving *w, const struct group *g, size_t i, const unsigned char leaf[TB_HASH])
{
    struct tb_owneds *o = &w->owned;

    TB_PUSH_ROOM(o->item, o->n, o->cap);
    o->item[o->n] =
        (struct tb_owned){ g->entry, g->table, json_array_get(g->rows, g->first + i), o->n, { 0 } };
    memcpy(o->item[o->n++].leaf, leaf, TB_HASH);
}

/* The leaf of a fact that is told, from its nonce, which *nonce goes behind; of one kept back it is here. */
static bool leaf_of(unsigned char leaf[TB_HASH], struct proving *w, const struct group *g, size_t i,
                    const struct tb_text *nonces, size_t *nonce)
{
    const json_t *row = json_array_get(g->rows, g->first + i);

    if (tb_kept_back(row))
        return tb_kept_leaf(leaf, row);
    if (nonces->n < *nonce + TB_HASH)
        return false;
    tb_row_canon(&w->record, row, g->columns, TB_RULE_TREES, &w->room);
    tb_leaf(leaf, (const unsigned char *)nonces->s + *nonce, w->record.s, w->record.n);
    *nonce += TB_HASH;
    return true;
}

/* The root from the facts shown; false where the tree cannot be read or does not go with them. */
static bool root_of(unsigned char root[TB_HASH], struct proving *w, const struct group *g, const json_t *tree,
                    uint64_t of)
{
    const json_t *places = json_object_get(tree, "at");
    struct tb_text nonces = { 0 }, beside = { 0 };
    unsigned char *leaf = tb_alloc(g->count, TB_HASH);
    uint64_t *at = tb_alloc(g->count, sizeof *at);
    size_t nonce = 0;
    bool good = json_array_size(places) == g->count &&
                tb_base64_of_json(&nonces, json_object_get(tree, "nonces")) &&
                tb_base64_of_json(&beside, json_object_get(tree, "beside"));

    for (size_t i = 0; good && i < g->count; i++) {
        const json_t *place = json_array_get(places, i);

        good = json_is_integer(place) && json_integer_value(place) >= 0 &&
               leaf_of(leaf + i * TB_HASH, w, g, i, &nonces, &nonce);
        at[i] = (uint64_t)json_integer_value(place);
        if (good)
            add_owned(w, g, i, leaf + i * TB_HASH);
    }
    good = good && nonce == nonces.n &&
           tb_tree_from(root, of, leaf, at, g->count, tb_text_str(&beside), beside.n);
    free(leaf);
    free(at);
    tb_text_free(&nonces);
    tb_text_free(&beside);
    return good;
}

static void by_tree(struct proving *w, const struct group *g, const json_t *j,
                    const struct tb_told_content *said)
{
    int64_t want = said ? said->rows : 0;
    unsigned char root[TB_HASH];
    char hex[TB_DIGEST_HEX] = "";

    if (want > 0 && root_of(root, w, g, tree_of(w, g), (uint64_t)want))
        tb_hash_hex(hex, root);
    if ((int64_t)g->count > want || ((int64_t)g->count < want && about(j, w->lot_ref)))
        other_count(w, g->table, want, g->count, j);
    else if (!*hex || strcmp(said->digest, hex) != 0)
        not_recorded(w, g, j);
    else
        covered(w, g);
}

/* --- all of them -------------------------------------------------------------------------------------------------- */

static void check_group(struct proving *w, const struct group *g)
{
    const struct tb_told_row *row = tb_told_at(&w->told, g->entry);
    const struct tb_told_content *said = row ? tb_told_of(row, g->table) : NULL;

    add_keyed(&w->met, g->table, g->entry, NULL);
    if (row && !row->full && strcmp(g->table, "person") == 0)
        return; /* tb_extract_people */
    if (!row || !row->full)
        tb_extract_wrong(w->p, "table %s holds %lld rows of journal row %lld, which is not there", g->table,
                         (long long)g->count, (long long)g->entry);
    else if (row->rule == TB_RULE_TABLES)
        by_table(w, g, row->full, said);
    else
        by_tree(w, g, row->full, said);
}

static tb_rc check_table(struct proving *w, const char *table, const json_t *rows, struct tb_err *err)
{
    struct group g = { .table = table, .columns = tb_facts_of(table), .rows = rows };
    const json_t *row;
    size_t i;

    if (!g.columns)
        return tb_fail(err, TB_EFORMAT, "the data hold a table '%s' that this program does not know", table);
    json_array_foreach(rows, i, row)
    {
        int64_t entry = tb_row_whole(row, "entry");

        if (g.count && entry < g.entry) {
            tb_extract_wrong(w->p, "the rows of table %s do not stand in the order of the journal", table);
            return TB_OK;
        }
        if (g.count && entry != g.entry) {
            check_group(w, &g);
            g.first = i;
            g.count = 0;
        }
        g.entry = entry;
        g.count++;
    }
    if (g.count)
        check_group(w, &g);
    return TB_OK;
}

/* A journal row about the lot whose facts are gone altogether. */
static void check_gone(struct proving *w, const json_t *facts)
{
    if (w->met.n)
        qsort(w->met.item, w->met.n, sizeof *w->met.item, by_entry);
    for (size_t i = 0; i < w->told.n; i++) {
        const struct tb_told_row *row = &w->told.row[i];

        for (size_t k = 0; k < row->contents; k++) {
            const char *table = row->content[k].table;

            if (about(row->full, w->lot_ref) && json_object_get(facts, table) &&
                !find_keyed(&w->met, table, row->number))
                other_count(w, table, row->content[k].rows, 0, row->full);
        }
    }
}

/* What the journal says was recorded of disputes, where the file does not tell of any: kept back by whoever made it, or cut out. */
static int64_t kept_back(const struct proving *w, const json_t *facts)
{
    int64_t rows = 0;

    if (tb_tells_disputes(facts))
        return 0;
    for (size_t i = 0; i < w->told.n; i++)
        for (size_t k = 0; k < w->told.row[i].contents; k++)
            if (about(w->told.row[i].full, w->lot_ref) &&
                tb_table_of_disputes(w->told.row[i].content[k].table))
                rows += w->told.row[i].content[k].rows;
    return rows;
}

static bool is_recorded(const struct tb_told *told, const char *table)
{
    for (size_t i = 0; i < told->n; i++)
        if (tb_told_of(&told->row[i], table))
            return true;
    return false;
}

/* Not in the files of all programs that told of time stamps. */
static bool came_later(const char *table)
{
    return tb_word_listed("bolt_mass lot_mass bolt_standing verdict_grade lot_price sending sending_piece "
                          "bolt_weight lot_weight",
                          table, strlen(table), " ");
}

/* Every table is there, if only empty: one that is missing would hide what was recorded in it. Programs that did not know a table
 * yet recorded nothing in it. */
static void check_tables(struct proving *w, const json_t *extract)
{
    const json_t *facts = json_object_get(extract, "facts"), *head = json_object_get(extract, "head");
    bool older = !json_object_get(head, "stamps"), disputes = tb_tells_disputes(facts);

    for (int i = 0; i < TB_SQL_COUNT; i++) {
        bool is_one = strncmp(tb_sql_table[i].name, "extract_", 8) == 0;
        const char *table = is_one ? tb_sql_table[i].name + 8 : "";

        if (is_one && (disputes || !tb_table_of_disputes(table)) &&
            !json_is_array(json_object_get(facts, table)) &&
            ((!older && !came_later(table)) || is_recorded(&w->told, table)))
            tb_extract_wrong(w->p, "the file does not tell what table %s holds of the lot", table);
    }
}

/* Told by its size alone; the program does so where no room is left for it, and nowhere else. */
static void check_left_out(struct tb_extract_proof *p, const json_t *row, size_t room)
{
    int64_t size = tb_row_whole(json_object_get(row, "bytes"), "left_out");

    p->absent++;
    if (size <= (int64_t)room)
        tb_extract_wrong(
            p,
            "the photograph or paper %s of %lld bytes is left out for its size, and there was room for "
            "it",
            tb_row_text(row, "name"), (long long)size);
}

/* A photograph's own digest is a fact beside its bytes: they must agree, whoever computed the rest. */
static void check_attachments(struct proving *w, const json_t *rows)
{
    size_t i, room = TB_EXTRACT_BYTES_MOST;
    const json_t *row;

    json_array_foreach(rows, i, row)
    {
        char hex[TB_DIGEST_HEX];
        struct tb_value v;

        if (tb_kept_back(row))
            continue;
        if (tb_left_out(json_object_get(row, "bytes"))) {
            check_left_out(w->p, row, room);
            continue;
        }
        (void)tb_value_of_json(&v, json_object_get(row, "bytes"), &w->room);
        room -= v.kind == TB_VALUE_BYTES && v.size <= room ? v.size : 0;
        tb_digest_of(hex, v.kind == TB_VALUE_BYTES ? v.bytes : "", v.kind == TB_VALUE_BYTES ? v.size : 0);
        if (strcmp(hex, tb_row_text(row, "sha256")) != 0)
            tb_extract_wrong(w->p, "the photograph or paper %s is not the one that was recorded",
                             tb_row_text(row, "name"));
    }
}

tb_rc tb_extract_prove(struct tb_extract_proof *out, const json_t *extract, const char *lot_ref,
                       struct tb_err *err)
{
    json_t *facts = json_object_get(extract, "facts"), *rows;
    struct proving w = { .p = out, .lot_ref = lot_ref };
    const char *table;
    tb_rc rc = TB_OK;

    *out = (struct tb_extract_proof){ 0 };
    tb_told_read(&w.told, out, extract);
    tb_told_contents(&w.told, out);
    list_trees(&w, json_object_get(extract, "trees"));
    json_object_foreach(facts, table, rows)
    {
        if (rc == TB_OK)
            rc = check_table(&w, table, rows, err);
    }
    check_gone(&w, facts);
    out->kept_back = kept_back(&w, facts);
    if (json_object_get(extract, "head")) /* older programs left out tables that they did not know */
        check_tables(&w, extract);
    check_attachments(&w, json_object_get(facts, "attachment"));
    tb_extract_kept(out, extract, &w.told);
    tb_extract_people(out, extract, &w.told);
    if (rc == TB_OK)
        rc = tb_extract_whole(out, extract, &w.told, &w.owned, lot_ref, err);
    free(w.owned.item);
    tb_told_free(&w.told);
    free(w.trees.item);
    free(w.met.item);
    tb_text_free(&w.record);
    tb_text_free(&w.room);
    return rc;
}

void tb_extract_proof_free(struct tb_extract_proof *p)
{
    tb_text_free(&p->wrong);
    tb_text_free(&p->newer);
    free(p->covered);
    free(p->stamp);
}
