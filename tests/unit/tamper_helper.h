/*
 * tamper_helper.h - a small book that somebody changes behind the program's back: copies of it, and whether it shows.
 *
 * A change is found where the book is refused when it is opened or does not prove. One that is not found must change no
 * answer: everything that the statements of the program give is held against what they gave before.
 */
#ifndef TENTERBOOK_TESTS_TAMPER_HELPER_H
#define TENTERBOOK_TESTS_TAMPER_HELPER_H

#include "bind_all.h"
#include "book/sqlite/sqlite_impl.h"
#include "tenterbook/book.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include <cmocka.h>

/* tests/books: one of programs that knew one digest for each table, one with a tree for each, and one with shares of lots, two
 * signing keys and time stamps. They hold all kinds of facts that there were. */
static const char *const tamper_books[] = { "shape-4.db", "shape-5.db", "shape-10.db" };
#define TAMPER_PRESENT (TB_COUNT(tamper_books) - 1) /* the one of the present rule */

struct tampered {
    char dir[64], whole[96],
        path[96];               /* whole: brought up to date and proved; path: the copy that is changed */
    struct tb_text bytes;       /* of whole */
    char digest[TB_DIGEST_HEX]; /* of its last journal row */
    char *answers;
    int tried, found;
};

static struct tb_err err;

static void slurp(struct tb_text *out, const char *path)
{
    FILE *f = fopen(path, "rb");
    char buffer[65536];
    size_t n;

    assert_non_null(f);
    tb_text_clear(out);
    while ((n = fread(buffer, 1, sizeof buffer, f)) > 0)
        tb_text_addn(out, buffer, n);
    assert_int_equal(fclose(f), 0);
}

static void spit(const char *path, const char *bytes, size_t n)
{
    static const char *const tails[] = { "-wal", "-shm" };
    char other[128];
    FILE *f = fopen(path, "wb");

    assert_non_null(f);
    assert_int_equal(fwrite(bytes, 1, n, f), n);
    assert_int_equal(fclose(f), 0);
    for (size_t i = 0; i < TB_COUNT(tails); i++) {
        (void)snprintf(other, sizeof other, "%s%s", path, tails[i]);
        (void)unlink(other);
    }
}

/* --- answers ------------------------------------------------------------------------------------------------------ */

/* Everything the program could be told: a lot by key and by reference, a bolt, nothing, a day. */
static const char *const asked[] = { "@LOT", "M26-001.01", "M26-001.02", "M26-001",
                                     "B1",   "flame",      "",           "2026-10-05" };

/* As the program reads them: a text up to its NUL. False where reading fails, which no list hides. */
static bool add_rows(struct tb_text *out, struct tb_book *b, int sql, const char *text)
{
    const struct tb_sql_text *t = &tb_sql_table[sql];
    struct tb_stmt *q = tb_query(b, (enum tb_sql)sql);
    tb_rc rc;

    bind_all(q, t, text, 1000000);
    while ((rc = tb_row(q, &err)) == TB_OK)
        for (int i = 0; i < t->outs; i++) {
            struct tb_value v;

            tb_col_value(&v, q, i);
            if (v.kind == TB_VALUE_TEXT)
                v.size = strlen(v.text);
            tb_canon_value(out, &v, TB_RULE_TREES);
        }
    tb_done(q);
    tb_text_addc(out, '\n');
    return rc == TB_ENOTFOUND;
}

/* What every statement that reads gives; NULL where one of them cannot. */
static char *answers_of(struct tb_book *b)
{
    struct tb_text out = { 0 };
    struct tb_arena mem = { 0 };
    const char *lot = "";
    bool good = tb_ask_text(&lot, tb_query(b, TB_SQL_FACTS_LOT), &mem, &err) == TB_OK;

    for (int sql = 0; sql < TB_SQL_COUNT && good; sql++)
        for (size_t k = 0; k < TB_COUNT(asked) && good && tb_sql_table[sql].outs; k++) {
            good = add_rows(&out, b, sql, asked[k][0] == '@' ? lot : asked[k]);
            if (!tb_sql_table[sql].ins)
                break;
        }
    tb_arena_free(&mem);
    if (good)
        return tb_text_take(&out);
    tb_text_free(&out);
    return NULL;
}

/* --- a book and its copies ------------------------------------------------------------------------------------------ */

static void tampered_begin(struct tampered *t, const char *book)
{
    struct tb_book *b = NULL;
    struct tb_proof p;
    char path[512];

    *t = (struct tampered){ .dir = "/tmp/test_tamper_XXXXXX" };
    if (access("/dev/shm", W_OK) == 0)
        (void)snprintf(t->dir, sizeof t->dir,
                       "/dev/shm/test_tamper_XXXXXX"); /* hundreds of copies need no disk */
    assert_non_null(mkdtemp(t->dir));
    (void)snprintf(t->whole, sizeof t->whole, "%s/whole.db", t->dir);
    (void)snprintf(t->path, sizeof t->path, "%s/changed.db", t->dir);
    (void)snprintf(path, sizeof path, "%s/tests/books/%s", TB_SOURCE_DIR, book);
    slurp(&t->bytes, path);
    spit(t->whole, t->bytes.s, t->bytes.n);
    if (tb_book_open(&b, t->whole, NULL, &err) != TB_OK || tb_book_prove(&p, b, &err) != TB_OK || !p.fits)
        fail_msg("%s: %s %s", book, err.msg, p.why);
    (void)snprintf(t->digest, sizeof t->digest, "%s", p.digest);
    t->answers = answers_of(b);
    assert_non_null(t->answers);
    tb_book_close(b); /* the log goes into the file */
    slurp(&t->bytes, t->whole);
}

static void tampered_end(struct tampered *t)
{
    char command[128];

    (void)snprintf(command, sizeof command, "rm -rf '%s'", t->dir);
    assert_int_equal(system(command), 0);
    tb_text_free(&t->bytes);
    free(t->answers);
}

/* Is it found? Where not, whether every answer is the same is told. */
static bool tampered_found(const struct tampered *t, bool *same)
{
    struct tb_book *b = NULL;
    struct tb_proof p = { 0 };
    bool found =
        tb_book_open(&b, t->path, NULL, &err) != TB_OK || tb_book_prove(&p, b, &err) != TB_OK || !p.fits;
    char *now;

    *same = true;
    if (!found) {
        now = answers_of(b);
        *same = now && strcmp(now, t->answers) == 0;
        free(now);
    }
    tb_book_close(b);
    return found;
}

#endif
