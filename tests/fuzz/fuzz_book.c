/*
 * A damaged book: the input is a list of changes, four bytes each, that say where in a good book a byte is another. It is opened,
 * proved and looked at: each of these ends with an answer or a sentence.
 */
#include "tenterbook/book.h"
#include "tenterbook/goods.h"

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

static void away(void)
{
    static const char *const tail[] = { "", "-wal", "-shm", "-journal", ".key" };

    for (size_t i = 0; i < sizeof tail / sizeof *tail; i++) {
        char name[80];

        (void)snprintf(name, sizeof name, "%s%s", path, tail[i]);
        (void)unlink(name);
    }
    (void)rmdir(folder);
    free(good);
    free(bad);
}

static void make_good(void)
{
    struct tb_err err = { 0 };
    FILE *f;

    must(setenv("TENTERBOOK_CLOCK", "1793664000", 1) == 0 && mkdtemp(folder) != NULL);
    (void)snprintf(path, sizeof path, "%s/b.db", folder);
    must(tb_book_make(path, "M", "Mill Lane shed", "GB", "Ada Fell", &err) == TB_OK);
    must((f = fopen(path, "rb")) != NULL && fseek(f, 0, SEEK_END) == 0);
    bytes = (size_t)ftell(f);
    rewind(f);
    good = malloc(bytes);
    bad = malloc(bytes);
    must(good && bad && fread(good, 1, bytes, f) == bytes);
    (void)fclose(f);
    (void)atexit(away);
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    struct tb_book *b = NULL;
    struct tb_err err = { 0 };
    struct tb_proof p;
    FILE *f;
    tb_rc rc;

    if (!good)
        make_good();
    memcpy(bad, good, bytes);
    for (; size >= 4; data += 4, size -= 4)
        bad[((size_t)data[0] << 16 | (size_t)data[1] << 8 | data[2]) % bytes] = (char)data[3];
    must((f = fopen(path, "wb")) != NULL && fwrite(bad, 1, bytes, f) == bytes && fclose(f) == 0);
    rc = tb_book_open(&b, path, NULL, &err);
    must(rc == TB_OK || err.msg[0]);
    if (rc == TB_OK)
        must((rc = tb_book_prove(&p, b, &err)) == TB_OK || err.msg[0]);
    tb_book_close(b);
    return 0;
}
