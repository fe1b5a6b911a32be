/* What the migrations make: the digest of all its tables, views, triggers and indexes, so that a book need not run them to be known. */
#include "gen/sqlgen.h"

#include <string.h>

#include <sodium.h>
#include <sqlite3.h>

static _Noreturn void stop_sqlite(const char *what, sqlite3 *db)
{
    stop((struct place){ .file = what }, "%s", sqlite3_errmsg(db));
}

/* As the program itself makes a book: src/book/sqlite/shape.c. */
static sqlite3 *migrated(const struct book_sql *all)
{
    sqlite3 *db = NULL;

    if (sqlite3_open(":memory:", &db) != SQLITE_OK ||
        sqlite3_exec(db, "PRAGMA defer_foreign_keys = ON", NULL, NULL, NULL) != SQLITE_OK)
        stop_sqlite("migrations", db);
    for (size_t i = 0; i < all->migrations; i++)
        if (sqlite3_exec(db, all->migration[i].text, NULL, NULL, NULL) != SQLITE_OK)
            stop_sqlite(all->migration[i].name, db);
    return db;
}

/* Each text with its NUL, as src/book/sqlite/examine.c reads a schema. */
static void digest(unsigned char out[crypto_hash_sha256_BYTES], sqlite3 *db)
{
    crypto_hash_sha256_state hash;
    sqlite3_stmt *st = NULL;
    int code = sqlite3_prepare_v2(
        db, "SELECT type, name, tbl_name, coalesce(sql, '') FROM sqlite_schema ORDER BY type, name", -1, &st,
        NULL);

    (void)crypto_hash_sha256_init(&hash);
    while (code == SQLITE_OK || code == SQLITE_ROW) {
        code = sqlite3_step(st);
        for (int i = 0; i < 4 && code == SQLITE_ROW; i++) {
            const unsigned char *text = sqlite3_column_text(st, i);

            (void)crypto_hash_sha256_update(&hash, text, strlen((const char *)text) + 1);
        }
    }
    if (code != SQLITE_DONE)
        stop_sqlite("migrations", db);
    (void)sqlite3_finalize(st);
    (void)crypto_hash_sha256_final(&hash, out);
}

void write_shape(FILE *f, const struct book_sql *all)
{
    unsigned char made[crypto_hash_sha256_BYTES];
    sqlite3 *db = migrated(all);

    digest(made, db);
    (void)sqlite3_close(db);
    (void)fputs("\nconst unsigned char tb_schema_digest[32] = {", f);
    for (size_t i = 0; i < sizeof made; i++)
        (void)fprintf(f, "%s%u", i ? ", " : " ", made[i]);
    (void)fputs(" };\n", f);
}
