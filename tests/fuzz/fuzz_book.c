/*
 * A damaged book: the input is a list of changes, four bytes each, that say where in a good book (tests/books) a byte is
 * another. It is opened, proved and read by every statement that reads: each of these ends with an answer or a sentence.
 */
#include "bind_all.h"
#include "book/private.h"
#include "tenterbook/book.h"

#include <fcntl.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size);

static char folder[] = "/tmp/fuzz-book-XXXXXX", path[64], *good, *bad;
static size_t bytes;

static void must(bool holds)
{
    if (!holds)
        abort();
}

static void spit(const char *p)
{
    FILE *f = fopen(path, "wb");

    must(f != NULL && fwrite(p, 1, bytes, f) == bytes && fclose(f) == 0);
}

static char *slurp(const char *name)
{
    FILE *f = fopen(name, "rb");
    char *p;

    must(f != NULL && fseek(f, 0, SEEK_END) == 0);
    bytes = (size_t)ftell(f);
    rewind(f);
    p = tb_alloc(bytes, 1);
    must(fread(p, 1, bytes, f) == bytes && fclose(f) == 0);
    return p;
}

static void remove_logs(void)
{
    static const char *const tail[] = { "-wal", "-shm", "-journal" };

    for (size_t i = 0; i < TB_COUNT(tail); i++) {
        char name[80];

        (void)snprintf(name, sizeof name, "%s%s", path, tail[i]);
        (void)unlink(name);
    }
}

static void away(void)
{
    char command[80];

    (void)snprintf(command, sizeof command, "rm -rf %s", folder);
    (void)!system(command);
    free(good);
    free(bad);
}

/* It is brought up to date once, so that a try changes nothing before it is damaged. */
static void make_good(void)
{
    struct tb_book *b = NULL;
    struct tb_err err = { 0 };
    char *old = slurp(TB_SOURCE_DIR "/tests/books/shape-5.db");

    must(setenv("TENTERBOOK_CLOCK", "1795694400", 1) == 0 && mkdtemp(folder) != NULL);
    (void)snprintf(path, sizeof path, "%s/b.db", folder);
    (void)atexit(away);
    spit(old);
    free(old);
    must(tb_book_open(&b, path, NULL, &err) == TB_OK);
    tb_book_close(b);
    good = slurp(path);
    bad = tb_alloc(bytes, 1);
}

static void read_all(struct tb_book *b)
{
    struct tb_err err = { 0 };
    tb_rc rc;

    for (int sql = 0; sql < TB_SQL_COUNT; sql++) {
        const struct tb_sql_text *t = &tb_sql_table[sql];
        struct tb_stmt *q;

        if (!t->outs)
            continue;
        q = tb_query(b, (enum tb_sql)sql);
        bind_all(q, t, "M26-001.01", 1);
        while ((rc = tb_row(q, &err)) == TB_OK)
            for (int i = 0; i < t->outs; i++) {
                struct tb_value v;

                tb_col_value(&v, q, i);
            }
        must(rc == TB_ENOTFOUND || err.msg[0]);
        tb_done(q);
    }
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    struct tb_book *b = NULL;
    struct tb_err err = { 0 };
    struct tb_proof p;
    tb_rc rc;

    if (!good)
        make_good();
    memcpy(bad, good, bytes);
    for (; size >= 4; data += 4, size -= 4)
        bad[((size_t)data[0] << 16 | (size_t)data[1] << 8 | data[2]) % bytes] = (char)data[3];
    remove_logs();
    spit(bad);
    rc = tb_book_open(&b, path, NULL, &err);
    must(rc == TB_OK || err.msg[0]);
    if (rc == TB_OK) {
        must((rc = tb_book_prove(&p, b, &err)) == TB_OK || err.msg[0]);
        read_all(b);
    }
    tb_book_close(b);
    return 0;
}
