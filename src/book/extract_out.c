/* Taking one lot out of the book as JSON. */
#include "book/extract_impl.h"

#include <stdlib.h>
#include <string.h>

#define PREFIX "extract_"

static bool is_extract(int sql)
{
    return strncmp(tb_sql_table[sql].name, PREFIX, strlen(PREFIX)) == 0;
}

/* A value as it is told: photographs beyond the room for them by their size alone, which with their digest is enough to prove
 * the record. */
static json_t *told(size_t *room, const struct tb_value *v)
{
    if (v->kind != TB_VALUE_BYTES)
        return tb_value_json(v);
    if (v->size > *room)
        return json_pack("{s:I}", "left_out", (json_int_t)v->size);
    *room -= v->size;
    return tb_value_json(v);
}

/* Rows as they are stored, member by member: the digests must come out the same from them. */
static tb_rc table_rows(json_t *facts, size_t *room, struct tb_book *b, int sql, const char *lot_id,
                        int64_t upto, struct tb_err *err)
{
    const struct tb_sql_text *text = &tb_sql_table[sql];
    const char *table = text->name + strlen(PREFIX);
    struct tb_stmt *q = tb_query(b, (enum tb_sql)sql);
    json_t *rows = json_array();
    tb_rc rc;

    tb_bind_text(q, 1, lot_id);
    if (text->ins > 1)
        tb_bind_whole(q, 2, upto);
    while ((rc = tb_row(q, err)) == TB_OK) {
        json_t *row = json_object();

        for (int c = 0; c < text->outs; c++) {
            struct tb_value v;

            tb_col_value(&v, q, c);
            if (json_object_set_new(row, text->out[c].name, told(room, &v)) != 0)
                rc = tb_fail(err, TB_EFORMAT, "a record of table %s holds text that is not UTF-8", table);
        }
        (void)json_array_append_new(rows, row);
        if (rc != TB_OK)
            break;
    }
    tb_done(q);
    (void)json_object_set_new(facts, table, rows);
    return rc == TB_ENOTFOUND ? TB_OK : rc;
}

tb_rc tb_extract_facts(json_t **out, struct tb_book *b, const char *lot_id, int64_t upto, struct tb_err *err)
{
    json_t *facts = json_object();
    size_t room = TB_EXTRACT_BYTES_MOST;
    tb_rc rc = TB_OK;

    for (int i = 0; i < TB_SQL_COUNT && rc == TB_OK; i++)
        if (is_extract(i))
            rc = table_rows(facts, &room, b, i, lot_id, upto, err);
    if (rc == TB_OK)
        *out = facts;
    else
        json_decref(facts);
    return rc;
}

/* --- the journal over them -------------------------------------------------------------------------------------- */

struct entries {
    int64_t *number;
    size_t n, cap;
};

static int by_number(const void *a, const void *b)
{
    int64_t x = *(const int64_t *)a, y = *(const int64_t *)b;

    return (x > y) - (x < y);
}

/* The journal rows that the facts name. */
static struct entries named_by(const json_t *facts)
{
    struct entries e = { 0 };
    const char *table;
    json_t *rows;

    json_object_foreach((json_t *)facts, table, rows)
    {
        const json_t *row;
        size_t i;

        json_array_foreach(rows, i, row)
        {
            TB_PUSH_ROOM(e.number, e.n, e.cap);
            e.number[e.n++] = tb_row_whole(row, "entry");
        }
    }
    if (e.n)
        qsort(e.number, e.n, sizeof *e.number, by_number);
    return e;
}

/* A run of rows that are told by digests. */
struct run {
    int64_t first, rule;
    struct tb_text digests; /* rule of tables */
    json_t *rows;           /* rules of trees and shares */
};

static void end_run(json_t *journal, struct run *r)
{
    if (r->digests.n)
        (void)json_array_append_new(journal,
                                    json_pack("{s:I, s:o}", "number", (json_int_t)r->first, "digests",
                                              tb_base64_json(r->digests.s, r->digests.n)));
    if (r->rows)
        (void)json_array_append_new(journal, json_pack("{s:I, s:I, s:o}", "number", (json_int_t)r->first,
                                                       "rule", (json_int_t)r->rule, "rows", r->rows));
    tb_text_clear(&r->digests);
    r->rows = NULL;
}

/* What a row says of its lots: a nonce and their tags, and their shares where its rule has them. */
struct about {
    struct tb_text tags, shares; /* tags: with the nonce before them */
    unsigned char root[TB_HASH];
};

/* That keys and salt are such was seen when the book was proved. */
static void read_about(struct about *out, const struct tb_journal_row *j)
{
    unsigned char salt[TB_HASH], nonce[TB_HASH];

    *out = (struct about){ 0 };
    (void)tb_hash_of_hex(salt, j->salt);
    tb_about_nonce(nonce, salt);
    tb_text_addn(&out->tags, (const char *)nonce, TB_HASH);
    (void)tb_about_tags(&out->tags, j->rule == TB_RULE_SHARES ? &out->shares : NULL, nonce, j->about);
    tb_shares_root(out->root, tb_text_str(&out->shares), out->shares.n);
}

static void free_about(struct about *a)
{
    tb_text_free(&a->tags);
    tb_text_free(&a->shares);
}

static json_t *other_row(const struct tb_journal_row *j)
{
    unsigned char salt[TB_HASH], nonce[TB_HASH], header[TB_HASH];
    struct tb_text bytes = { 0 };
    struct about about;
    json_t *row;

    (void)tb_hash_of_hex(salt, j->salt);
    tb_journal_nonce(nonce, salt);
    tb_journal_header(header, j, nonce);
    tb_text_addn(&bytes, (const char *)header, TB_HASH);
    read_about(&about, j);
    if (j->rule == TB_RULE_SHARES)
        tb_text_addn(&bytes, (const char *)about.root, TB_HASH);
    tb_text_addn(&bytes, about.tags.s, about.tags.n);
    row = tb_base64_json(bytes.s, bytes.n);
    tb_text_free(&bytes);
    free_about(&about);
    return row;
}

static void add_to_run(json_t *journal, struct run *r, const struct tb_journal_row *j)
{
    unsigned char hash[TB_HASH];

    if (r->rule != j->rule)
        end_run(journal, r);
    if (!r->digests.n && !r->rows) {
        r->first = j->number;
        r->rule = j->rule;
        r->rows = j->rule >= TB_RULE_TREES ? json_array() : NULL;
    }
    if (j->rule >= TB_RULE_TREES)
        (void)json_array_append_new(r->rows, other_row(j));
    else if (tb_hash_of_hex(hash, j->digest))
        tb_text_addn(&r->digests, (const char *)hash, TB_HASH);
}

/* The root over the shares; of the share of this lot, which follows from the facts, what stands beside it in their tree. */
static void add_shares(json_t *row, const struct about *a, const struct tb_journal_row *j, const char *lot_id)
{
    const char *ours = strstr(j->about, lot_id);
    struct tb_text beside = { 0 };
    char hex[TB_DIGEST_HEX];
    uint64_t at;

    tb_hash_hex(hex, a->root);
    (void)json_object_set_new(row, "shares", json_string(hex));
    if (!ours)
        return;
    at = (uint64_t)(ours - j->about) / (TB_ID_LEN + TB_DIGEST_HEX + 1);
    tb_tree_beside(&beside, (const unsigned char *)a->shares.s, a->shares.n / TB_HASH, &at, 1);
    (void)json_object_set_new(row, "beside", tb_base64_json(tb_text_str(&beside), beside.n));
    tb_text_free(&beside);
}

/* Without the salt: from it, facts that stay behind could be guessed at. */
static json_t *full_row(const struct tb_journal_row *j, const char *lot_id)
{
    unsigned char salt[TB_HASH], nonce[TB_HASH];
    char hex[TB_DIGEST_HEX];
    struct about about;
    json_t *row = json_pack("{s:I, s:I, s:s, s:s, s:s, s:s, s:s, s:s}", "number", (json_int_t)j->number,
                            "rule", (json_int_t)j->rule, "at", j->at, "person", j->person, "verb", j->verb,
                            "subject", j->subject, "content", j->content, "digest", j->digest);

    if (j->rule == TB_RULE_TABLES) {
        (void)json_object_set_new(row, "before", json_string(j->before));
    } else if (tb_hash_of_hex(salt, j->salt)) {
        tb_journal_nonce(nonce, salt);
        tb_hash_hex(hex, nonce);
        (void)json_object_set_new(row, "nonce", json_string(hex));
        read_about(&about, j);
        (void)json_object_set_new(row, "about", tb_base64_json(about.tags.s, about.tags.n));
        if (j->rule == TB_RULE_SHARES)
            add_shares(row, &about, j, lot_id);
        free_about(&about);
    }
    return row;
}

/* Rows that recorded something of the lot in full; of all others, from the first to the last, as little as keeps the chain. */
static tb_rc journal_rows(json_t *journal, json_t **head, const json_t *facts, struct tb_book *b,
                          const char *lot_id, struct tb_err *err)
{
    struct tb_stmt *q = tb_sql_journal_all(b);
    struct entries ours = named_by(facts);
    struct run run = { 0 };
    struct tb_journal_row j;
    struct tb_arena mem = { 0 };
    tb_rc rc;

    while ((rc = tb_next_journal_row(&j, q, &mem, err)) == TB_OK) {
        if (strstr(j.about, lot_id) ||
            (ours.n && bsearch(&j.number, ours.number, ours.n, sizeof j.number, by_number))) {
            end_run(journal, &run);
            (void)json_array_append_new(journal, full_row(&j, lot_id));
        } else {
            add_to_run(journal, &run, &j);
        }
        json_decref(*head);
        *head = json_pack("{s:I, s:s}", "number", (json_int_t)j.number, "digest", j.digest);
        tb_arena_free(&mem);
    }
    end_run(journal, &run);
    tb_done(q);
    tb_arena_free(&mem);
    tb_text_free(&run.digests);
    free(ours.number);
    return rc == TB_ENOTFOUND ? TB_OK : rc;
}

/* The signature of the last row, and the keys that a reader who knows one of them goes along to the one that made it. */
static tb_rc signed_head(json_t *head, struct tb_book *b, struct tb_err *err)
{
    struct tb_arena mem = { 0 };
    struct tb_signing_key *key = NULL;
    json_t *keys = json_array();
    const char *signature = "";
    size_t n = 0;
    tb_rc rc = tb_ask_text(&signature, tb_sql_signature_of(b, tb_row_whole(head, "number")), &mem, err);

    if (rc == TB_OK || rc == TB_ENOTFOUND)
        rc = tb_signing_key_list(&key, &n, b, &mem, err);
    for (size_t i = 0; i < n; i++)
        (void)json_array_append_new(keys, json_pack("{s:s, s:s, s:I}", "public", key[i].public, "handover",
                                                    key[i].handover, "entry", (json_int_t)key[i].entry));
    (void)json_object_set_new(head, "signature", json_string(signature));
    (void)json_object_set_new(head, "keys", keys);
    tb_arena_free(&mem);
    return rc;
}

/* The moments by which rows of the lot were there, as authorities outside say. */
static tb_rc stamped_head(json_t *head, struct tb_book *b, const json_t *facts, struct tb_err *err)
{
    json_t *stamps = NULL;
    tb_rc rc = tb_extract_stamps(&stamps, b, facts, tb_row_whole(head, "number"), err);

    if (rc == TB_OK)
        (void)json_object_set_new(head, "stamps", stamps);
    return rc;
}

/* --- all of it -------------------------------------------------------------------------------------------------- */

static tb_rc take_out(json_t **out, struct tb_book *b, const struct tb_lot *lot, struct tb_err *err)
{
    json_t *facts = NULL, *trees = NULL, *journal = json_array(), *head = NULL;
    tb_rc rc = tb_extract_facts(&facts, b, lot->id, INT64_MAX, err);

    if (rc == TB_OK && (rc = tb_extract_trees(&trees, b, facts, err)) == TB_OK)
        rc = journal_rows(journal, &head, facts, b, lot->id, err);
    if (rc == TB_OK)
        rc = signed_head(head, b, err);
    if (rc == TB_OK)
        rc = stamped_head(head, b, facts, err);
    if (rc == TB_OK)
        *out = json_pack("{s:O, s:O, s:O, s:O}", "facts", facts, "trees", trees, "journal", journal, "head",
                         head);
    json_decref(facts);
    json_decref(trees);
    json_decref(journal);
    json_decref(head);
    return rc;
}

tb_rc tb_extract_lot(json_t **out, struct tb_book *b, const char *lot_ref, struct tb_err *err)
{
    struct tb_arena mem = { 0 };
    struct tb_lot lot;
    tb_rc rc = tb_book_look(b, err);

    if (rc != TB_OK)
        return rc;
    if ((rc = tb_lot_find(&lot, b, lot_ref, &mem, err)) == TB_OK)
        rc = take_out(out, b, &lot, err);
    if (rc == TB_OK) {
        tb_extract_keep_back_ours(*out);
        tb_extract_keep_back_misnamed(*out);
        tb_extract_hide_kept_names(*out);
        tb_extract_hide_people(*out);
    }
    tb_book_look_away(b);
    tb_arena_free(&mem);
    return rc;
}
