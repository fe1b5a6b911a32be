/*
 * test_tamper.c - every way we know to change a book with other tools: each is found, or changes no answer.
 *
 * A book of each rule is tried: of tables, of trees, and of shares, with signatures and time stamps. At its end each test prints how many ways it tried and how
 * many were found.
 */
#include "book/extract_impl.h"
#include "tamper_helper.h"

static struct tampered t;

/* Texts carried out as a person with a shell would, with everything off that could hinder; each by a connection of its own. */
static bool tamper_sql(const char *const *sql, size_t n)
{
    bool good = true;

    for (size_t i = 0; i < n && sql[i] && good; i++) {
        sqlite3 *db = NULL;

        good = sqlite3_open(t.path, &db) == SQLITE_OK &&
               sqlite3_exec(
                   db,
                   "PRAGMA foreign_keys=OFF; PRAGMA ignore_check_constraints=ON; PRAGMA synchronous=OFF;"
                   "PRAGMA writable_schema=ON",
                   NULL, NULL, NULL) == SQLITE_OK &&
               sqlite3_exec(db, sql[i], NULL, NULL, NULL) == SQLITE_OK;
        if (!good)
            print_message("# %s: %s\n", sql[i], sqlite3_errmsg(db));
        (void)sqlite3_close(db);
    }
    return good;
}

static void changed_with(const char *what, const char *const *sql, size_t n)
{
    bool same;

    spit(t.path, t.bytes.s, t.bytes.n);
    if (!tamper_sql(sql, n))
        fail_msg("%s: cannot be tried", what);
    t.tried++;
    if (tampered_found(&t, &same))
        t.found++;
    else if (!same)
        fail_msg("not found, and an answer is another one: %s", what);
}

static void changed(const char *sql)
{
    changed_with(sql, &sql, 1);
}

static void TB_PRINTF(1, 2) changed_by(const char *fmt, ...)
{
    struct tb_text sql = { 0 };
    va_list ap;

    va_start(ap, fmt);
    tb_text_vaddf(&sql, fmt, ap);
    va_end(ap);
    changed(sql.s);
    tb_text_free(&sql);
}

static int columns_step; /* every column is changed, of older books every fourth */

static void on_books_from(size_t first, void (*try)(void), const char *ways)
{
    for (size_t i = first; i < TB_COUNT(tamper_books); i++) {
        columns_step = i == TAMPER_PRESENT ? 1 : 4;
        tampered_begin(&t, tamper_books[i]);
        try();
        print_message("# %s, %s: %d tried, %d found\n", tamper_books[i], ways, t.tried, t.found);
        tampered_end(&t);
    }
}

/* --- facts -------------------------------------------------------------------------------------------------------- */

#define ONE "WHERE rowid = (SELECT max(rowid) FROM %s)"

/* Another value, of the kind the column has where it can be. */
static void change_value(const char *table, const struct tb_sql_column *c)
{
    changed_by("UPDATE %s SET %s = CASE typeof(%s) WHEN 'text' THEN %s || 'x' WHEN 'blob' THEN x'00' WHEN "
               "'null' THEN "
               "'7' ELSE %s + 1 END " ONE,
               table, c->name, c->name, c->name, c->name, table);
}

/* The same value by other means: text behind its end, a word for a number, bytes for a text. */
static void change_kind(const char *table, const struct tb_sql_column *c)
{
    changed_by(
        "UPDATE %s SET %s = CASE typeof(%s) WHEN 'text' THEN %s || char(0) || 'more' ELSE 'word' END " ONE,
        table, c->name, c->name, c->name, table);
    changed_by("UPDATE %s SET %s = CASE typeof(%s) WHEN 'blob' THEN 'text' ELSE CAST(%s AS BLOB) END " ONE
               " AND %s IS NOT NULL",
               table, c->name, c->name, c->name, table, c->name);
}

static void try_facts(void)
{
    for (int i = 0; i < TB_SQL_COUNT; i++) {
        const struct tb_sql_text *s = &tb_sql_table[i];

        if (!s->fact[0])
            continue;
        for (int c = 0; c < s->ins; c += columns_step)
            change_value(s->fact, &s->in[c]);
        change_kind(s->fact, &s->in[i % s->ins]); /* one of its columns: what is seen of one is seen of all */
        changed_by("DELETE FROM %s " ONE, s->fact, s->fact);
        changed_by("DELETE FROM %s", s->fact);
        changed_by("CREATE TEMP TABLE two AS SELECT * FROM %s " ONE
                   "; UPDATE two SET id = 'vvvvvvvvvvvvvvvvvvvvvvvvvv';"
                   "INSERT OR REPLACE INTO %s SELECT * FROM two",
                   s->fact, s->fact, s->fact);
    }
}

static void every_changed_added_or_removed_fact_is_found(void **state)
{
    (void)state;
    on_books_from(0, try_facts, "facts");
}

/* --- the journal -------------------------------------------------------------------------------------------------- */

#define LAST "(SELECT max(number) FROM journal)"

static void try_journal(void)
{
    static const char *const ways[] = {
        "DELETE FROM journal WHERE number = 1",
        "DELETE FROM journal WHERE number = 5",
        "DELETE FROM journal WHERE number = " LAST,
        "DELETE FROM journal",
        "UPDATE journal SET number = 99 WHERE number = " LAST,
        "UPDATE journal SET number = number + 100",
        "UPDATE journal SET number = 0 WHERE number = 1",
        "UPDATE journal SET number = -1 WHERE number = 12; UPDATE journal SET number = 12 WHERE number = 13;"
        "UPDATE journal SET number = 13 WHERE number = -1",
        "UPDATE journal SET digest = '' WHERE number = " LAST,
        "UPDATE journal SET digest = '' WHERE number = 5",
        "UPDATE journal SET digest = replace(digest, substr(digest, 1, 1), 'x') WHERE number = " LAST,
        "INSERT INTO journal SELECT number + 1, at, person, verb, subject, content, digest, digest, rule, "
        "salt, about, aside FROM journal "
        "WHERE number = " LAST,
        "INSERT INTO journal SELECT " LAST
        " + 1, at, person, verb, subject, '{}', before, '', rule, salt, about, aside FROM "
        "journal "
        "WHERE number = " LAST,
        "UPDATE journal SET content = replace(content, '\"rows\":1', '\"rows\":2')",
        "UPDATE journal SET content = replace(content, '\"rows\":1', '\"rows\":1.0') WHERE number = " LAST,
        "UPDATE journal SET content = replace(content, '}}', '},\"nothing\":{\"rows\":0}}') WHERE number "
        "= " LAST,
        "UPDATE journal SET content = ' ' || content WHERE number = 2",
        "UPDATE journal SET content = '{}'",
        "UPDATE journal SET content = ''",
        "UPDATE journal SET rule = 3 - rule",
        "UPDATE journal SET rule = 3 - rule WHERE number = " LAST,
        "UPDATE journal SET rule = 3",
        "UPDATE journal SET rule = 0 WHERE number = 1",
        "UPDATE journal SET salt = printf('%064d', 7) WHERE number = " LAST,
        "UPDATE journal SET salt = 'x' WHERE number = 2",
        "UPDATE journal SET salt = '' WHERE number = 2 AND rule = 2",
        "UPDATE journal SET salt = upper(salt)",
        "UPDATE journal SET about = ''",
        "UPDATE journal SET about = (SELECT id FROM lot WHERE ref = 'M26-001.02') WHERE number = 5",
        "UPDATE journal SET about = about || ' ' WHERE number = 5",
        "UPDATE journal SET aside = ''",
        "UPDATE journal SET aside = '' WHERE number = " LAST,
        "UPDATE journal SET aside = '{}' WHERE number = 2",
        "UPDATE journal SET aside = aside || ' ' WHERE number = 5",
        "UPDATE journal SET aside = (SELECT aside FROM journal WHERE number = 2) WHERE number = 3",
        "UPDATE journal SET before = upper(before)",
        "UPDATE journal SET before = printf('%064d', 0) WHERE number = 3",
        "UPDATE journal SET at = '2026-10-01T00:00:00Z' WHERE number = 4",
        "UPDATE journal SET verb = 'judge', subject = 'M26-001.02' WHERE number = 5",
        "UPDATE journal SET rule = 2 WHERE rule = 3",
        "UPDATE journal SET rule = 2 WHERE number = " LAST,
        "UPDATE journal SET about = replace(about, substr(about, -5), '00000') WHERE number = 5",
    };

    for (size_t i = 0; i < TB_COUNT(ways); i++)
        changed(ways[i]);
    for (int c = 0; c < tb_sql_table[TB_SQL_JOURNAL_ADD].ins; c++) {
        change_value("journal", &tb_sql_table[TB_SQL_JOURNAL_ADD].in[c]);
        change_kind("journal", &tb_sql_table[TB_SQL_JOURNAL_ADD].in[c]);
    }
}

static void every_change_of_the_journal_is_found(void **state)
{
    (void)state;
    on_books_from(0, try_journal, "journal");
}

/* --- signatures --------------------------------------------------------------------------------------------------- */

/* Signatures are beside the facts, so that no digest covers them: each that is there must be one. */
static void try_signatures(void)
{
    static const char *const ways[] = {
        "UPDATE signature SET signature = replace(signature, substr(signature, 1, 1), 'x')",
        "UPDATE signature SET signature = upper(signature)",
        "UPDATE signature SET signature = signature || '0'",
        "UPDATE signature SET signature = signature || char(0) || '0' WHERE number = " LAST,
        "UPDATE signature SET signature = CAST(signature AS BLOB) WHERE number = 7",
        "UPDATE signature SET signature = '' WHERE number = 7",
        "UPDATE signature SET signature = printf('%0128d', 0) WHERE number = 7",
        "UPDATE signature SET signature = (SELECT signature FROM signature WHERE number = 6) WHERE number = "
        "7",
        "DELETE FROM signature WHERE number = 7; UPDATE signature SET number = 7 WHERE number = 6",
        "UPDATE signature SET number = number + 100",
        "UPDATE signing_key SET public = (SELECT max(public) FROM signing_key)",
        "UPDATE signing_key SET public = upper(public)",
        "UPDATE signing_key SET handover = ''",
        "UPDATE signing_key SET handover = 'x' WHERE handover = ''",
        "UPDATE signing_key SET entry = entry - 1 WHERE handover <> ''",
        "UPDATE time_stamp SET at = '2026-10-05T12:00:00Z'",
        "UPDATE time_stamp SET number = number - 1",
        "UPDATE time_stamp SET reply = substr(reply, 1, 100)",
        "UPDATE time_stamp SET reply = (SELECT max(reply) FROM time_stamp)",
    };

    for (size_t i = 0; i < TB_COUNT(ways); i++)
        changed(ways[i]);
    assert_int_equal(t.found, t.tried);
}

static void every_change_of_a_signature_key_or_time_stamp_is_found(void **state)
{
    (void)state;
    on_books_from(TAMPER_PRESENT, try_signatures, "signatures");
}

/* --- the shape ---------------------------------------------------------------------------------------------------- */

/* Each object of the schema taken away, and each index and view made anew as something else. */
static void try_objects(void)
{
    sqlite3 *db;
    sqlite3_stmt *st;
    struct tb_text names = { 0 };
    char *line, *rest = NULL;

    assert_int_equal(sqlite3_open(t.whole, &db), SQLITE_OK);
    assert_int_equal(
        sqlite3_prepare_v2(db, "SELECT type, name FROM sqlite_schema WHERE sql IS NOT NULL", -1, &st, NULL),
        SQLITE_OK);
    while (sqlite3_step(st) == SQLITE_ROW)
        tb_text_addf(&names, "%s %s\n", (const char *)sqlite3_column_text(st, 0),
                     (const char *)sqlite3_column_text(st, 1));
    (void)sqlite3_finalize(st);
    (void)sqlite3_close(db);
    assert_true(names.n > 0);
    for (line = strtok_r(names.s, "\n", &rest); line; line = strtok_r(NULL, "\n", &rest)) {
        const char *name = strchr(line, ' ') + 1;

        changed_by("DROP %s", line); /* index bolt_by_lot */
        changed_by("UPDATE sqlite_schema SET sql = sql || ' ' WHERE name = '%s'", name);
    }
    tb_text_free(&names);
}

static void try_shape(void)
{
    static const char *const ways[] = {
        "CREATE VIEW lots AS SELECT * FROM lot",
        "CREATE TABLE more (a)",
        "CREATE INDEX more ON bolt (metres)",
        "CREATE TRIGGER more AFTER INSERT ON burn BEGIN DELETE FROM cue_seen; END",
        "CREATE TRIGGER more INSTEAD OF INSERT ON lot_now BEGIN SELECT 1; END",
        "CREATE VIRTUAL TABLE more USING fts5(a)",
        "ALTER TABLE lot ADD COLUMN more TEXT",
        "ALTER TABLE lot ADD COLUMN more AS (ref || 'x')",
        "ALTER TABLE lot RENAME COLUMN colour TO color",
        "ALTER TABLE bench_test RENAME TO other_test",
        "ANALYZE",
        "DROP VIEW burn_now; CREATE VIEW burn_now AS SELECT b.* FROM burn b WHERE b.note <> 'x'",
        "DROP VIEW burn_now; CREATE TABLE burn_now AS SELECT * FROM burn",
        "DROP VIEW lot_said; CREATE VIEW lot_said AS SELECT l.id AS lot, NULL AS declaration, '' AS said, "
        "1 AS clear, NULL AS judged, 'fits' AS verdict, NULL AS log_ratio, NULL AS judged_at, '' AS detail, "
        "'fits' AS grade, NULL AS lowest, NULL AS highest, 0 AS one_look, '' AS against, 0 AS analyses, "
        "0 AS tests FROM lot l",
        "UPDATE sqlite_schema SET sql = replace(sql, 'relabel', 'received') WHERE name = 'lot_said'",
        "UPDATE sqlite_schema SET sql = replace(sql, 'NOT EXISTS', 'EXISTS') WHERE type = 'view'",
        "UPDATE sqlite_schema SET sql = replace(sql, 'BIGINT', 'TEXT') WHERE name = 'journal'",
        "UPDATE sqlite_schema SET sql = replace(sql, 'DOUBLE PRECISION', 'BIGINT') WHERE name = 'lot'",
        "UPDATE sqlite_schema SET sql = replace(sql, 'article', 'ARTICLE') WHERE name = 'lot'",
        "UPDATE sqlite_schema SET sql = replace(replace(sql, 'article ', 'colour_ '), 'colour ', 'article ') "
        "WHERE name = 'lot'",
        "UPDATE sqlite_schema SET tbl_name = 'bolt' WHERE name = 'burn_by_swatch'",
        "UPDATE sqlite_schema SET name = 'bolt_by_lots' WHERE name = 'bolt_by_lot'",
        "UPDATE sqlite_schema SET rootpage = (SELECT rootpage FROM sqlite_schema WHERE name = 'bolt_by_lot') "
        "WHERE name = "
        "'bolt_by_number'",
        "UPDATE sqlite_schema SET rootpage = (SELECT rootpage FROM sqlite_schema WHERE name = 'swatch') "
        "WHERE name = 'bolt'",
        "UPDATE sqlite_schema SET rootpage = 9999 WHERE name = 'bolt'",
        "UPDATE sqlite_schema SET sql = 'rubbish' WHERE name = 'bolt'",
        "PRAGMA user_version = 4",
        "PRAGMA user_version = 3",
        "PRAGMA user_version = 0",
        "PRAGMA user_version = -1",
        "PRAGMA user_version = 6000",
        "PRAGMA application_id = 0",
        "PRAGMA application_id = 7",
        /* nothing of what is there changes: these need not be found */
        "PRAGMA journal_mode = DELETE",
        "VACUUM",
        "PRAGMA journal_mode = DELETE; PRAGMA page_size = 8192; VACUUM",
        "PRAGMA auto_vacuum = FULL; VACUUM",
        "PRAGMA schema_version = 77",
        "REINDEX",
    };
    /* a bolt that its index does not show, or shows under another number: lists and single questions would differ */
    static const char *const hidden[][3] = {
        { "UPDATE sqlite_schema SET sql = sql || ' WHERE number <> ''B1''' WHERE name = 'bolt_by_number'",
          "REINDEX bolt_by_number",
          "UPDATE sqlite_schema SET sql = 'CREATE INDEX bolt_by_number ON bolt (number)' WHERE name = "
          "'bolt_by_number'" },
        { "UPDATE sqlite_schema SET sql = 'CREATE INDEX bolt_by_number ON bolt (lot)' WHERE name = "
          "'bolt_by_number'",
          "REINDEX bolt_by_number",
          "UPDATE sqlite_schema SET sql = 'CREATE INDEX bolt_by_number ON bolt (number)' WHERE name = "
          "'bolt_by_number'" },
        { "UPDATE sqlite_schema SET sql = sql || ' WHERE looked <> ''smoke odour''' WHERE name = "
          "'burn_by_swatch'",
          "UPDATE sqlite_schema SET sql = sql || ' AND id < ''0''' WHERE name = 'burn_by_swatch'; ",
          "REINDEX burn_by_swatch" },
    };

    for (size_t i = 0; i < TB_COUNT(ways); i++)
        changed(ways[i]);
    for (size_t i = 0; i < TB_COUNT(hidden); i++)
        changed_with(hidden[i][0], hidden[i], TB_COUNT(hidden[i]));
    try_objects();
}

static void every_other_shape_is_found_or_changes_no_answer(void **state)
{
    (void)state;
    on_books_from(TAMPER_PRESENT, try_shape, "shape"); /* the same of all once they are open */
}

/* --- what only a digest that is known elsewhere shows --------------------------------------------------------------- */

/* The root over all facts of a table in a journal row, computed as the program does. */
static void new_root(char hex[TB_DIGEST_HEX], struct tb_book *b, enum tb_sql facts, const char *table,
                     const struct tb_journal_row *j)
{
    unsigned char salt[TB_HASH], nonce[TB_HASH], leaf[TB_HASH], root[TB_HASH];
    const struct tb_sql_text *text = &tb_sql_table[facts];
    struct tb_stmt *q = tb_query(b, facts);
    struct tb_text record = { 0 };
    struct tb_tree tree = { 0 };

    assert_true(tb_hash_of_hex(salt, j->salt));
    while (tb_row(q, &err) == TB_OK) {
        if (tb_col_whole(q, text->outs - 1) != j->number)
            continue;
        tb_text_clear(&record);
        for (int i = 0; i < text->outs; i++) {
            struct tb_value v;

            tb_col_value(&v, q, i);
            tb_canon_value(&record, &v, TB_RULE_TREES);
        }
        tb_fact_nonce(nonce, salt, table, tree.n);
        tb_leaf(leaf, nonce, record.s, record.n);
        tb_tree_add(&tree, leaf);
    }
    tb_done(q);
    tb_text_free(&record);
    tb_tree_root(root, &tree);
    tb_hash_hex(hex, root);
}

static char *with_root(const char *content, const char *table, const char *root)
{
    json_t *j = json_loads(content, 0, NULL);
    char *text;

    assert_int_equal(json_object_set_new(json_object_get(j, table), "root", json_string(root)), 0);
    text = json_dumps(j, JSON_COMPACT | JSON_SORT_KEYS);
    json_decref(j);
    return text;
}

/* A cue is changed in row 5, and every row from there on is written anew so that it goes with it. */
static void rewrite(struct tb_book *b)
{
    struct tb_arena mem = { 0 };
    struct tb_journal_row *row;
    char digest[TB_DIGEST_HEX] = "", root[TB_DIGEST_HEX];
    size_t n;

    assert_int_equal(sqlite3_exec(b->db->db,
                                  "UPDATE cue_seen SET cue = 'smoke:white' WHERE cue = 'smoke:black'", NULL,
                                  NULL, NULL),
                     SQLITE_OK);
    assert_int_equal(tb_journal_list(&row, &n, b, "", &mem, &err), TB_OK);
    for (size_t i = 4; i < n; i++) {
        struct tb_journal_row j = row[i];
        char *content = NULL, *sql;

        if (i == 4) {
            new_root(root, b, TB_SQL_FACTS_CUE_SEEN, "cue_seen", &j);
            j.content = content = with_root(j.content, "cue_seen", root);
        } else {
            j.before = digest;
        }
        {
            char next[TB_DIGEST_HEX];

            tb_journal_digest(next, &j);
            sql = sqlite3_mprintf(
                "UPDATE journal SET content = %Q, before = %Q, digest = %Q WHERE number = %lld", j.content,
                j.before, next, (long long)j.number);
            assert_int_equal(sqlite3_exec(b->db->db, sql, NULL, NULL, NULL), SQLITE_OK);
            sqlite3_free(sql);
            (void)snprintf(digest, sizeof digest, "%s", next);
        }
        free(content);
    }
    tb_arena_free(&mem);
}

/* Every row from `from` on is written anew so that it follows the one before; what was signed goes. */
static void chain_anew(struct tb_book *b, int64_t from)
{
    struct tb_arena mem = { 0 };
    struct tb_journal_row *row;
    char before[TB_DIGEST_HEX], digest[TB_DIGEST_HEX];
    size_t n;

    assert_int_equal(tb_journal_list(&row, &n, b, "", &mem, &err), TB_OK);
    assert_int_equal(sqlite3_exec(b->db->db, "DELETE FROM signature", NULL, NULL, NULL), SQLITE_OK);
    for (size_t i = (size_t)from - 1; i < n; i++) {
        char *sql;

        if (i >= (size_t)from)
            row[i].before = before;
        tb_journal_digest(digest, &row[i]);
        sql = sqlite3_mprintf("UPDATE journal SET before = %Q, digest = %Q WHERE number = %lld",
                              row[i].before, digest, (long long)row[i].number);
        memcpy(before, digest, sizeof before);
        assert_int_equal(sqlite3_exec(b->db->db, sql, NULL, NULL, NULL), SQLITE_OK);
        sqlite3_free(sql);
    }
    tb_arena_free(&mem);
}

/* Whoever writes a row anew with digests that go with it: which lots it names, and what it says of each, must still be what its
 * facts give. */
static void lots_and_shares_of_a_row_that_was_written_anew_are_those_of_its_facts(void **state)
{
    static const struct {
        const char *sql, *want;
    } tries[] = {
        { "SELECT 1", "" }, /* written anew as it was, it proves */
        { "UPDATE journal SET about = substr(about, 1, 27) || printf('%064d', 0) WHERE number = 5",
          "names other lots or other shares of them than its facts give" },
        { "UPDATE journal SET about = '' WHERE number = 5",
          "names other lots or other shares of them than its facts give" },
        { "UPDATE journal SET about = (SELECT id FROM lot WHERE ref = 'M26-001.02') || substr(about, 27) "
          "WHERE "
          "number = 5",
          "names other lots or other shares of them than its facts give" },
    };

    (void)state;
    tampered_begin(&t, tamper_books[TAMPER_PRESENT]);
    for (size_t i = 0; i < TB_COUNT(tries); i++) {
        struct tb_book *b = NULL;
        struct tb_proof p;

        spit(t.path, t.bytes.s, t.bytes.n);
        assert_int_equal(tb_book_open(&b, t.path, NULL, &err), TB_OK);
        assert_int_equal(sqlite3_exec(b->db->db, tries[i].sql, NULL, NULL, NULL), SQLITE_OK);
        chain_anew(b, 5);
        assert_int_equal(tb_book_prove(&p, b, &err), TB_OK);
        if (*tries[i].want ? !strstr(p.why, tries[i].want) : !p.fits)
            fail_msg("%s: '%s'", tries[i].sql, p.why);
        tb_book_close(b);
    }
    tampered_end(&t);
}

/* The end of the journal cut off together with its facts. */
static void cut_off(struct tb_book *b)
{
    struct tb_text sql = { 0 };

    tb_text_add(&sql, "PRAGMA foreign_keys=OFF; DELETE FROM journal WHERE number > 20;");
    for (size_t i = 0; i < b->tables; i++)
        tb_text_addf(&sql, "DELETE FROM %s WHERE entry > 20;", b->table[i].name);
    assert_int_equal(sqlite3_exec(b->db->db, sql.s, NULL, NULL, NULL), SQLITE_OK);
    tb_text_free(&sql);
}

/* Both prove, as docs/book.md says: what shows them is a digest kept elsewhere, or a case made before. */
static void a_journal_written_anew_or_cut_off_shows_against_an_earlier_digest_or_case(void **state)
{
    static void (*const ways[])(struct tb_book *) = { rewrite, cut_off };
    json_t *before = NULL;
    struct tb_book *b = NULL;

    (void)state;
    tampered_begin(&t, "shape-5.db");
    assert_int_equal(tb_book_open(&b, t.whole, NULL, &err), TB_OK);
    assert_int_equal(tb_extract_lot(&before, b, "M26-001.01", &err), TB_OK);
    tb_book_close(b);
    for (size_t i = 0; i < TB_COUNT(ways); i++) {
        struct tb_extract_proof p;
        struct tb_proof whole;
        int64_t later;

        spit(t.path, t.bytes.s, t.bytes.n);
        assert_int_equal(tb_book_open(&b, t.path, NULL, &err), TB_OK);
        ways[i](b);
        assert_int_equal(tb_book_prove(&whole, b, &err), TB_OK);
        assert_string_equal(whole.why, "");
        assert_string_not_equal(whole.digest, t.digest);
        assert_int_equal(tb_extract_prove(&p, before, "M26-001.01", &err), TB_OK);
        assert_string_equal(tb_text_str(&p.wrong), "");
        assert_int_equal(
            tb_extract_against(&p, &later, before, "M26-001.01", "2999-01-01T00:00:00Z", b, &err), TB_OK);
        assert_non_null(
            strstr(tb_text_str(&p.wrong), i == 0 ? "journal row 5 is another one in the book"
                                                 : "3 journal rows of the file are not in the book"));
        tb_extract_proof_free(&p);
        tb_book_close(b);
    }
    json_decref(before);
    tampered_end(&t);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_changed_added_or_removed_fact_is_found),
        cmocka_unit_test(every_change_of_the_journal_is_found),
        cmocka_unit_test(every_change_of_a_signature_key_or_time_stamp_is_found),
        cmocka_unit_test(lots_and_shares_of_a_row_that_was_written_anew_are_those_of_its_facts),
        cmocka_unit_test(every_other_shape_is_found_or_changes_no_answer),
        cmocka_unit_test(a_journal_written_anew_or_cut_off_shows_against_an_earlier_digest_or_case),
    };

    return cmocka_run_group_tests(tests, NULL, NULL);
}
