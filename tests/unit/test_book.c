/* The book: statements keep their contracts, facts are covered by the journal, tampering shows. */
#include "book/sqlite/sqlite_impl.h"
#include "tenterbook/book.h"

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include <cmocka.h>

#define OK(call)                                                                                             \
    do {                                                                                                     \
        tb_rc rc_ = (call);                                                                                  \
        if (rc_ != TB_OK)                                                                                    \
            fail_msg("%s: %d %s (%s)", #call, (int)rc_, err.msg, err.detail);                                \
    } while (0)

struct scene {
    char dir[64], path[96];
    struct tb_book *book;
    struct tb_arena mem;
    struct tb_delivery delivery;
    struct tb_lot lot;
};

static struct tb_err err;

/* A book with one delivery of one lot of three bolts. */
static int make_scene(void **state)
{
    struct scene *s = tb_new(struct scene);
    struct tb_supplier supplier;

    (void)snprintf(s->dir, sizeof s->dir, "/tmp/tenterbook-test-XXXXXX");
    assert_non_null(mkdtemp(s->dir));
    (void)snprintf(s->path, sizeof s->path, "%s/a.book", s->dir);
    OK(tb_book_make(s->path, "W", "Westgate shed", "GB", "Ada Fell", &err));
    OK(tb_book_open(&s->book, s->path, NULL, &err));
    OK(tb_book_begin(s->book, "Ada Fell", "receive", &err));
    OK(tb_supplier_ensure(&supplier, s->book, "Harrow Mill", &s->mem, &err));
    s->delivery = (struct tb_delivery){ .supplier = supplier.id, .note = "N-1", .arrived = "2026-10-05" };
    OK(tb_delivery_add(&s->delivery, s->book, &s->mem, &err));
    s->lot = (struct tb_lot){
        .article = "Plain 40", .unit_price = 3.25, .currency = "EUR", .bolts = 3, .metres = 150
    };
    OK(tb_lot_add(&s->lot, s->book, &s->delivery, 1, &s->mem, &err));
    for (int i = 0; i < 3; i++) {
        char number[16];
        struct tb_bolt bolt = {
            .lot = s->lot.id, .number = number, .metres = 50, .width_cm = 150, .mass_gm2 = (double)NAN
        };

        (void)snprintf(number, sizeof number, "00%d", i + 1);
        OK(tb_bolt_add(&bolt, s->book, &err));
    }
    tb_book_subject(s->book, s->delivery.ref);
    OK(tb_book_commit(s->book, &err));
    *state = s;
    return 0;
}

static int drop_scene(void **state)
{
    struct scene *s = *state;
    char command[128];

    tb_book_close(s->book);
    tb_arena_free(&s->mem);
    (void)snprintf(command, sizeof command, "rm -rf '%s'", s->dir);
    (void)!system(command);
    free(s);
    return 0;
}

static void add_burn(struct scene *s, const char *cue, const char *replaces)
{
    struct tb_swatch swatch = { .lot = s->lot.id, .lot_ref = s->lot.ref, .part = TB_PART_WHOLE };
    struct tb_cue_seen seen = { cue, true };
    struct tb_burn burn = { .looked = "smoke", .cue = &seen, .cues = 1, .replaces = replaces };
    struct tb_bolt bolt;

    OK(tb_book_begin(s->book, "Ben Ito", "burn", &err));
    if (replaces) {
        struct tb_burn old = { 0 };

        OK(tb_burn_find(&old, s->book, replaces, &s->mem, &err));
        burn.swatch = old.swatch;
    } else {
        OK(tb_bolt_find(&bolt, s->book, s->lot.id, "002", &s->mem, &err));
        swatch.bolt = bolt.id;
        OK(tb_swatch_add(&swatch, s->book, &s->mem, &err));
        burn.swatch = swatch.id;
    }
    OK(tb_burn_add(&burn, s->book, &s->mem, &err));
    OK(tb_book_commit(s->book, &err));
}

/* The declared type of a column, where it is one of a table: expressions have none. */
static enum tb_sql_kind kind_of(const char *declared)
{
    return strcmp(declared, "BIGINT") == 0             ? TB_KIND_WHOLE
           : strcmp(declared, "DOUBLE PRECISION") == 0 ? TB_KIND_NUMBER
           : strcmp(declared, "BYTEA") == 0            ? TB_KIND_BYTES
                                                       : TB_KIND_TEXT;
}

static void every_statement_prepares_and_keeps_its_contract(void **state)
{
    struct scene *s = *state;

    for (int i = 0; i < TB_SQL_COUNT; i++) {
        const struct tb_sql_text *t = &tb_sql_table[i];
        sqlite3_stmt *st = NULL;

        if (sqlite3_prepare_v2(s->book->db->db, t->text, -1, &st, NULL) != SQLITE_OK)
            fail_msg("%s: %s", t->name, sqlite3_errmsg(s->book->db->db));
        if (sqlite3_column_count(st) != t->outs)
            fail_msg("%s: gives %d columns, the contract says %d", t->name, sqlite3_column_count(st),
                     t->outs);
        if (sqlite3_bind_parameter_count(st) != t->ins)
            fail_msg("%s: has %d parameters, the contract says %d", t->name, sqlite3_bind_parameter_count(st),
                     t->ins);
        for (int c = 0; c < t->outs; c++) {
            const char *name = sqlite3_column_name(st, c), *declared = sqlite3_column_decltype(st, c);

            if (strcmp(t->out[c].name, name) != 0)
                fail_msg("%s: column %d is '%s', the contract says '%s'", t->name, c + 1, name,
                         t->out[c].name);
            if (declared && kind_of(declared) != t->out[c].kind)
                fail_msg("%s: column %s is stored as %s", t->name, name, declared);
        }
        (void)sqlite3_finalize(st);
    }
}

/* The proof reads a table in the order in which its INSERT binds it, and all of it. */
static void every_fact_is_bound_and_proved_as_its_table_is_made(void **state)
{
    struct scene *s = *state;
    size_t facts = 0;

    for (int i = 0; i < TB_SQL_COUNT; i++) {
        const struct tb_sql_text *t = &tb_sql_table[i], *proof = NULL;
        char name[80];
        sqlite3_stmt *st = NULL;
        int n = 0;

        if (!t->fact[0])
            continue;
        facts++;
        (void)snprintf(name, sizeof name, "facts_%s", t->fact);
        for (int k = 0; k < TB_SQL_COUNT; k++)
            if (strcmp(tb_sql_table[k].name, name) == 0)
                proof = &tb_sql_table[k];
        if (!proof)
            fail_msg("%s has no statement %s in sql/query/facts.sql", t->fact, name);
        assert_int_equal(proof->outs, t->ins);
        (void)snprintf(name, sizeof name, "PRAGMA table_info(%s)", t->fact);
        assert_int_equal(sqlite3_prepare_v2(s->book->db->db, name, -1, &st, NULL), SQLITE_OK);
        for (; sqlite3_step(st) == SQLITE_ROW; n++) {
            const char *column = (const char *)sqlite3_column_text(st, 1);

            assert_true(n < t->ins);
            assert_string_equal(column, t->in[n].name);
            assert_string_equal(column, proof->out[n].name);
            if (kind_of((const char *)sqlite3_column_text(st, 2)) != t->in[n].kind)
                fail_msg("%s: column %s is of another kind in its table", t->name, column);
            if (t->in[n].null == (sqlite3_column_int(st, 3) != 0))
                fail_msg("%s: column %s may be left out in one of contract and table", t->name, column);
        }
        assert_int_equal(n, t->ins);
        (void)sqlite3_finalize(st);
    }
    assert_int_equal(facts, s->book->tables);
}

/* Every table of the schema but the journal and the signatures of its rows has an entry column and is proved. */
static void no_table_escapes_the_journal(void **state)
{
    struct scene *s = *state;
    sqlite3_stmt *st = NULL;
    size_t n = 0;

    assert_int_equal(sqlite3_prepare_v2(s->book->db->db,
                                        "SELECT name FROM sqlite_master WHERE type='table' AND name NOT LIKE "
                                        "'sqlite_%' AND name NOT IN ('journal', 'signature')",
                                        -1, &st, NULL),
                     SQLITE_OK);
    while (sqlite3_step(st) == SQLITE_ROW) {
        bool proved = false;

        for (size_t i = 0; i < s->book->tables; i++)
            proved = proved || strcmp(s->book->table[i].name, (const char *)sqlite3_column_text(st, 0)) == 0;
        if (!proved)
            fail_msg("table %s is not covered: no INSERT in sql/query says '-- fact: %s'",
                     sqlite3_column_text(st, 0), sqlite3_column_text(st, 0));
        n++;
    }
    (void)sqlite3_finalize(st);
    assert_int_equal(n, s->book->tables);
}

static void references_count_up_by_site_year_delivery_and_lot(void **state)
{
    struct scene *s = *state;
    struct tb_delivery d = { .supplier = s->delivery.supplier, .arrived = "2026-12-31" };
    struct tb_delivery next = { .supplier = s->delivery.supplier, .arrived = "2027-01-02" };

    assert_string_equal(s->delivery.ref, "W26-001");
    assert_string_equal(s->lot.ref, "W26-001.01");
    OK(tb_book_begin(s->book, "Ada Fell", "receive", &err));
    OK(tb_delivery_add(&d, s->book, &s->mem, &err));
    OK(tb_delivery_add(&next, s->book, &s->mem, &err));
    OK(tb_book_commit(s->book, &err));
    assert_string_equal(d.ref, "W26-002");
    assert_string_equal(next.ref, "W27-001");
}

static void a_lot_is_found_by_its_reference_or_by_a_bolt_number(void **state)
{
    struct scene *s = *state;
    struct tb_lot lot;

    OK(tb_lot_find(&lot, s->book, "W26-001.01", &s->mem, &err));
    assert_string_equal(lot.supplier_name, "Harrow Mill");
    assert_int_equal(lot.standing, TB_WAITING);
    assert_int_equal(lot.bolts, 3);
    OK(tb_lot_find(&lot, s->book, "003", &s->mem, &err));
    assert_string_equal(lot.ref, "W26-001.01");
    assert_int_equal(tb_lot_find(&lot, s->book, "W26-009.01", &s->mem, &err), TB_ENOTFOUND);
    assert_string_equal(err.msg,
                        "there is no lot and no bolt W26-009.01 in this book; did you mean W26-001.01?");
}

static void a_supplier_is_one_whatever_its_case_and_accents(void **state)
{
    struct scene *s = *state;
    struct tb_supplier a, b;

    OK(tb_book_begin(s->book, "Ada Fell", "receive", &err));
    OK(tb_supplier_ensure(&a, s->book, "Tejidos Peñasol", &s->mem, &err));
    OK(tb_supplier_ensure(&b, s->book, "  TEJIDOS  penasol ", &s->mem, &err));
    assert_string_equal(a.id, b.id);
    assert_int_equal(tb_supplier_ensure(&a, s->book, "   ", &s->mem, &err), TB_EINVAL);
    tb_book_rollback(s->book);
    assert_int_equal(tb_supplier_find(&a, s->book, "Tejidos Penasol", &s->mem, &err), TB_ENOTFOUND);
}

static void a_corrected_burn_no_longer_counts_and_stays_in_the_book(void **state)
{
    struct scene *s = *state;
    struct tb_burn *burn;
    struct tb_lot lot;
    size_t n;

    add_burn(s, "smoke:black", NULL);
    OK(tb_burn_list(&burn, &n, s->book, s->lot.id, &s->mem, &err));
    assert_int_equal(n, 1);
    assert_string_equal(burn[0].tag, "W26-001.01.01");
    assert_string_equal(burn[0].burned_by, "Ben Ito");
    add_burn(s, "smoke:grey", burn[0].id);
    OK(tb_lot_find(&lot, s->book, s->lot.ref, &s->mem, &err));
    assert_int_equal(lot.burns, 1);
    assert_int_equal(lot.bolts_burnt, 1);
    {
        struct tb_burn *now;
        struct tb_burn again = { .swatch = burn[0].swatch, .looked = "smoke", .replaces = burn[0].id };

        OK(tb_burn_list(&now, &n, s->book, s->lot.id, &s->mem, &err));
        assert_int_equal(n, 1);
        assert_string_equal(now[0].cue[0].cue, "smoke:grey");
        OK(tb_book_begin(s->book, "Ben Ito", "burn", &err));
        assert_int_equal(tb_burn_add(&again, s->book, &s->mem, &err), TB_EINVAL); /* corrected already */
        tb_book_rollback(s->book);
    }
}

static void prove(struct scene *s, struct tb_proof *p)
{
    OK(tb_book_prove(p, s->book, &err));
}

static void an_honest_book_is_proved(void **state)
{
    struct scene *s = *state;
    struct tb_proof p;

    add_burn(s, "smoke:black", NULL);
    prove(s, &p);
    assert_int_equal(p.first_bad, 0);
    assert_int_equal(p.rows, 3);
    assert_int_equal(
        p.facts,
        3 + 6 + 4); /* site, person, key; supplier, delivery, lot, 3 bolts; person, swatch, burn, cue */
}

/* What a person with the sqlite3 shell could do, and where it shows. */
static void any_edit_with_a_shell_is_found_and_named(void **state)
{
    static const struct {
        const char *sql;
        int64_t bad;
        const char *why;
    } edit[] = {
        { "UPDATE bolt SET metres = 51 WHERE number = '002'", 2,
          "a row of table bolt is not what was recorded" },
        { "DELETE FROM bolt WHERE number = '003'", 2, "3 rows of table bolt were recorded, 2 are there" },
        { "UPDATE cue_seen SET cue = 'smoke:grey'", 3, "a row of table cue_seen is not what was recorded" },
        { "INSERT INTO setting VALUES ('aaaaaaaaaaaaaaaaaaaaaaaaaa', 'x', 'y', 2)", 2,
          "0 rows of table setting were recorded, 1 are there" },
        { "PRAGMA foreign_keys=OFF; INSERT INTO setting VALUES ('aaaaaaaaaaaaaaaaaaaaaaaaaa', 'x', 'y', 9)",
          9, "names journal row 9, which does not exist" },
        { "UPDATE journal SET person = 'Nobody' WHERE number = 2", 2, "itself was changed" },
        { "PRAGMA foreign_keys=OFF; DELETE FROM journal WHERE number = 2", 2, "journal row 2 is missing" },
        { "UPDATE lot SET unit_price = NULL", 2, "a row of table lot is not what was recorded" },
        { "UPDATE bolt SET number = '0O1' WHERE number = '001'", 2,
          "a row of table bolt is not what was recorded" },
        { "PRAGMA foreign_keys=OFF; UPDATE bolt SET entry = 3 WHERE number = '001'", 2,
          "3 rows of table bolt were recorded, 2 are there" },
    };
    struct scene *s = *state;

    add_burn(s, "smoke:black", NULL);
    for (size_t i = 0; i < TB_COUNT(edit); i++) {
        struct tb_proof p, kept;

        char copy[128];
        struct tb_book *other = NULL;

        (void)snprintf(copy, sizeof copy, "%s/copy-%zu", s->dir, i);
        OK(tb_book_keep(&kept, s->book, copy, &err));
        OK(tb_book_open(&other, copy, NULL, &err));
        assert_int_equal(sqlite3_exec(other->db->db, edit[i].sql, NULL, NULL, NULL), SQLITE_OK);
        OK(tb_book_prove(&p, other, &err));
        tb_book_close(other);
        if (p.first_bad != edit[i].bad || !strstr(p.why, edit[i].why))
            fail_msg("%s: found at %lld: %s", edit[i].sql, (long long)p.first_bad, p.why);
    }
}

static void run_sql(const char *path, const char *sql)
{
    sqlite3 *db;
    char *why = NULL;

    assert_int_equal(sqlite3_open(path, &db), SQLITE_OK);
    if (sqlite3_exec(db, sql, NULL, NULL, &why) != SQLITE_OK)
        fail_msg("%s: %s", sql, why);
    (void)sqlite3_close(db);
}

static void a_copy_that_would_not_prove_is_not_made(void **state)
{
    struct scene *s = *state;
    struct tb_proof kept;
    char copy[128];

    assert_int_equal(
        sqlite3_exec(s->book->db->db, "UPDATE bolt SET metres = 51 WHERE number = '002'", NULL, NULL, NULL),
        SQLITE_OK);
    (void)snprintf(copy, sizeof copy, "%s/copy", s->dir);
    assert_int_equal(tb_book_keep(&kept, s->book, copy, &err), TB_EFORMAT);
    assert_non_null(strstr(err.msg, "a row of table bolt is not what was recorded"));
    assert_int_equal(access(copy, F_OK), -1);
}

/* Running the migrations takes longer than all else that opening does. */
static void a_book_of_our_shape_is_known_without_the_migrations(void **state)
{
    struct scene *s = *state;
    struct tb_text wrong = { 0 };

    OK(tb_db_shape(&wrong, s->book->db, &err));
    assert_int_equal(wrong.n, 0);
    assert_int_equal(s->book->db->version, (int64_t)tb_migration_n);
    assert_int_equal(s->book->db->shape.n, 0);
}

static void a_book_of_another_shape_is_refused_with_the_way_out(void **state)
{
    static const struct {
        const char *sql, *why;
    } other[] = {
        { "CREATE VIEW more AS SELECT 1", "holds the view more, which no program of ours made" },
        { "CREATE TRIGGER more AFTER INSERT ON burn BEGIN DELETE FROM cue_seen; END",
          "holds the trigger more" },
        { "DROP INDEX burn_by_swatch", "lacks the index burn_by_swatch; restore the last copy" },
        { "DROP VIEW burn_now; CREATE VIEW burn_now AS SELECT * FROM burn", "holds another view burn_now" },
        { "ALTER TABLE lot ADD COLUMN more TEXT", "holds another table lot" },
    };
    struct scene *s = *state;

    for (size_t i = 0; i < TB_COUNT(other); i++) {
        struct tb_proof kept;
        struct tb_book *b = NULL;
        char copy[128];

        (void)snprintf(copy, sizeof copy, "%s/copy-%zu", s->dir, i);
        OK(tb_book_keep(&kept, s->book, copy, &err));
        run_sql(copy, other[i].sql);
        assert_int_equal(tb_book_open(&b, copy, NULL, &err), TB_EFORMAT);
        if (!strstr(err.msg, other[i].why))
            fail_msg("%s: %s", other[i].sql, err.msg);
    }
}

static void what_is_not_committed_was_never_there(void **state)
{
    struct scene *s = *state;
    struct tb_proof p;

    OK(tb_book_begin(s->book, "Cy Brook", "set", &err));
    OK(tb_setting_set(s->book, "flame", "yes", &err));
    tb_book_rollback(s->book);
    prove(s, &p);
    assert_int_equal(p.first_bad, 0);
    assert_int_equal(p.rows, 2);
    {
        const char *v;

        OK(tb_setting_get(&v, s->book, "flame", TB_BOOK_NOW, &s->mem, &err));
        assert_string_equal(v, "");
    }
}

static void the_latest_value_of_a_setting_counts(void **state)
{
    struct scene *s = *state;
    struct tb_setting *list;
    const char *v;
    size_t n;

    for (int i = 0; i < 2; i++) {
        OK(tb_book_begin(s->book, "Cy Brook", "set", &err));
        OK(tb_setting_set(s->book, "flame", i ? "no" : "yes", &err));
        OK(tb_book_commit(s->book, &err));
    }
    OK(tb_setting_get(&v, s->book, "flame", TB_BOOK_NOW, &s->mem, &err));
    assert_string_equal(v, "no");
    OK(tb_setting_list(&list, &n, s->book, "fl", &s->mem, &err));
    assert_int_equal(n, 1);
    assert_string_equal(list[0].value, "no");
}

static void files_that_are_no_books_are_refused(void **state)
{
    struct scene *s = *state;
    struct tb_book *b = NULL;
    char path[96];
    FILE *f;

    (void)snprintf(path, sizeof path, "%s/plain.txt", s->dir);
    assert_non_null(f = fopen(path, "w"));
    for (int i = 0; i < 1000; i++)
        (void)fputs("not a book at all\n", f);
    (void)fclose(f);
    assert_int_equal(tb_book_open(&b, path, NULL, &err), TB_EFORMAT);
    assert_int_equal(tb_book_open(&b, "/nonexistent/book", NULL, &err), TB_ENOTFOUND);
    assert_int_equal(tb_book_make(s->path, "W", "x", "", "Ada", &err), TB_EEXISTS);
    assert_int_equal(tb_book_make("/tmp/never", "toolong", "x", "", "Ada", &err), TB_EINVAL);
    assert_int_equal(access("/tmp/never", F_OK), -1);
    assert_null(b);
}

static void a_newer_book_is_refused_with_a_sentence(void **state)
{
    struct scene *s = *state;
    struct tb_book *b = NULL;

    assert_int_equal(sqlite3_exec(s->book->db->db, "PRAGMA user_version = 9999", NULL, NULL, NULL),
                     SQLITE_OK);
    assert_int_equal(tb_book_open(&b, s->path, NULL, &err), TB_EREFUSED);
    assert_non_null(strstr(err.msg, "newer Tenterbook"));
}

/* Opened, brought up to date after a copy, proved by the rule it was written with; what comes next has the new one. */
static void grows_old_gracefully(const char *path, int64_t rows)
{
    char *copy = NULL;
    struct tb_book *b = NULL;
    struct tb_proof p;
    struct stat st;

    OK(tb_book_open(&b, path, &copy, &err));
    assert_non_null(copy);
    assert_int_equal(stat(copy, &st), 0);
    OK(tb_book_prove(&p, b, &err));
    assert_string_equal(p.why, "");
    assert_int_equal(p.first_bad, 0);
    assert_int_equal(p.rows, rows);
    assert_int_equal(p.by_table, rows);
    OK(tb_book_begin(b, "Cy Brook", "set", &err));
    OK(tb_setting_set(b, "flame", "no", &err));
    OK(tb_book_commit(b, &err));
    OK(tb_book_prove(&p, b, &err));
    assert_true(p.fits);
    assert_int_equal(p.rows, rows + 1);
    assert_int_equal(p.by_table, rows);
    free(copy);
    tb_book_close(b);
}

static void copy_of_old(struct scene *s, char path[96])
{
    char command[512];

    (void)snprintf(path, 96, "%s/four.book", s->dir);
    (void)snprintf(command, sizeof command, "cp '%s/tests/books/shape-4.db' '%s'", TB_SOURCE_DIR, path);
    assert_int_equal(system(command), 0);
}

/* tests/books/make_old.sh says how it was made, by the last program that knew only one digest for each table. */
static void an_old_book_is_upgraded_after_a_copy_and_proves_by_its_own_rule(void **state)
{
    struct scene *s = *state;
    char path[96];

    copy_of_old(s, path);
    grows_old_gracefully(path, 23);
}

/* As the first migration alone made it, with the first rows of the other one: new, set, receive. */
static void a_book_of_the_first_shape_is_upgraded_too(void **state)
{
    static const char *const tables[] = { "site",     "setting", "person",      "supplier",
                                          "delivery", "lot",     "declaration", "bolt" };
    struct scene *s = *state;
    struct tb_text sql = { 0 };
    char path[96], four[96];

    copy_of_old(s, four);
    (void)snprintf(path, sizeof path, "%s/one.book", s->dir);
    tb_text_addf(&sql,
                 "%s; PRAGMA application_id = %d; PRAGMA user_version = 1; ATTACH '%s' AS n;"
                 "INSERT INTO journal SELECT * FROM n.journal WHERE number < 4;",
                 tb_migration_table[0].text, TB_APPLICATION_ID, four);
    for (size_t i = 0; i < TB_COUNT(tables); i++)
        tb_text_addf(&sql, "INSERT INTO %s SELECT * FROM n.%s WHERE entry < 4;", tables[i], tables[i]);
    run_sql(path, sql.s);
    tb_text_free(&sql);
    grows_old_gracefully(path, 3);
}

static void a_second_writer_waits_and_is_told(void **state)
{
    struct scene *s = *state;
    struct tb_book *other = NULL;

    OK(tb_book_open(&other, s->path, NULL, &err));
    OK(tb_book_begin(s->book, "Ada Fell", "set", &err));
    other->db->waited_ms = TB_WAIT_SECONDS * 1000; /* as if the wait had run out */
    assert_int_equal(sqlite3_exec(other->db->db, "BEGIN IMMEDIATE", NULL, NULL, NULL), SQLITE_BUSY);
    assert_int_equal(tb_sqlite_failed(&err, other->db->db, SQLITE_BUSY), TB_EBUSY);
    assert_non_null(strstr(err.msg, "somebody else is still writing"));
    tb_book_rollback(s->book);
    OK(tb_book_begin(other, "Ben Ito", "set", &err));
    tb_book_rollback(other);
    tb_book_close(other);
}

static void bulk_loading_leaves_the_index_as_it_was(void **state)
{
    struct scene *s = *state;
    struct tb_lot lot = { .article = "Bulk", .bolts = 25000, .metres = 25000, .unit_price = (double)NAN };
    struct tb_lot found;
    struct tb_proof p;

    OK(tb_book_begin(s->book, "Ada Fell", "receive", &err));
    OK(tb_lot_add(&lot, s->book, &s->delivery, 2, &s->mem, &err));
    OK(tb_bolts_begin(s->book, 25000, &err));
    for (int i = 0; i < 25000; i++) {
        char number[16];
        struct tb_bolt bolt = {
            .lot = lot.id, .number = number, .metres = 1, .width_cm = (double)NAN, .mass_gm2 = (double)NAN
        };

        (void)snprintf(number, sizeof number, "Z%d", i);
        OK(tb_bolt_add(&bolt, s->book, &err));
    }
    OK(tb_bolts_end(s->book, &err));
    OK(tb_book_commit(s->book, &err));
    OK(tb_lot_find(&found, s->book, "Z24999", &s->mem, &err));
    assert_string_equal(found.ref, "W26-001.02");
    prove(s, &p);
    assert_int_equal(p.first_bad, 0);
}

static void attachments_come_back_byte_for_byte(void **state)
{
    struct scene *s = *state;
    static const char photo[] = "\x89PNG\0\x01\x02";
    struct tb_attachment a = { .about = "lot",
                               .subject = s->lot.id,
                               .name = "front.png",
                               .media = "image/png",
                               .bytes = photo,
                               .size = sizeof photo };
    struct tb_attachment *list, back;
    size_t n;

    OK(tb_book_begin(s->book, "Ada Fell", "attach", &err));
    OK(tb_attachment_add(&a, s->book, &s->mem, &err));
    OK(tb_book_commit(s->book, &err));
    OK(tb_attachment_list(&list, &n, s->book, s->lot.id, &s->mem, &err));
    assert_int_equal(n, 1);
    assert_int_equal(list[0].size, sizeof photo);
    OK(tb_attachment_load(&back, s->book, list[0].id, &s->mem, &err));
    assert_memory_equal(back.bytes, photo, sizeof photo);
}

/* The schema checks the word; whoever switches that off can still not make the program take it for another. */
static void a_word_that_is_not_in_its_set_is_refused_on_reading(void **state)
{
    struct scene *s = *state;
    struct tb_standing st = { .lot = s->lot.id, .standing = TB_HELD };
    struct tb_lot lot;

    OK(tb_book_begin(s->book, "Ada Fell", "settle", &err));
    OK(tb_standing_add(&st, s->book, &s->mem, &err));
    OK(tb_book_commit(s->book, &err));
    assert_int_equal(
        sqlite3_exec(s->book->db->db,
                     "PRAGMA ignore_check_constraints=ON; UPDATE standing SET standing = 'burnt'", NULL, NULL,
                     NULL),
        SQLITE_OK);
    assert_int_equal(tb_lot_find(&lot, s->book, s->lot.ref, &s->mem, &err), TB_EFORMAT);
    assert_string_equal(err.msg,
                        "the book holds the word 'burnt', which this program does not know; prove the book");
}

static void a_standing_that_is_not_said_is_refused(void **state)
{
    struct scene *s = *state;
    struct tb_standing st = { .lot = s->lot.id };

    OK(tb_book_begin(s->book, "Ada Fell", "settle", &err));
    assert_int_equal(tb_standing_add(&st, s->book, &s->mem, &err), TB_EINVAL);
    tb_book_rollback(s->book);
}

int main(void)
{
#define SCENE(f) cmocka_unit_test_setup_teardown(f, make_scene, drop_scene)
    const struct CMUnitTest tests[] = {
        SCENE(every_statement_prepares_and_keeps_its_contract),
        SCENE(every_fact_is_bound_and_proved_as_its_table_is_made),
        SCENE(no_table_escapes_the_journal),
        SCENE(references_count_up_by_site_year_delivery_and_lot),
        SCENE(a_lot_is_found_by_its_reference_or_by_a_bolt_number),
        SCENE(a_supplier_is_one_whatever_its_case_and_accents),
        SCENE(a_corrected_burn_no_longer_counts_and_stays_in_the_book),
        SCENE(an_honest_book_is_proved),
        SCENE(any_edit_with_a_shell_is_found_and_named),
        SCENE(a_copy_that_would_not_prove_is_not_made),
        SCENE(a_book_of_our_shape_is_known_without_the_migrations),
        SCENE(a_book_of_another_shape_is_refused_with_the_way_out),
        SCENE(what_is_not_committed_was_never_there),
        SCENE(the_latest_value_of_a_setting_counts),
        SCENE(files_that_are_no_books_are_refused),
        SCENE(a_newer_book_is_refused_with_a_sentence),
        SCENE(an_old_book_is_upgraded_after_a_copy_and_proves_by_its_own_rule),
        SCENE(a_book_of_the_first_shape_is_upgraded_too),
        SCENE(a_second_writer_waits_and_is_told),
        SCENE(bulk_loading_leaves_the_index_as_it_was),
        SCENE(attachments_come_back_byte_for_byte),
        SCENE(a_word_that_is_not_in_its_set_is_refused_on_reading),
        SCENE(a_standing_that_is_not_said_is_refused),
    };

    return sodium_init() < 0 ? 1 : cmocka_run_group_tests(tests, NULL, NULL);
}
