/* sheet.c - rows out of a file: which reader it needs. */
#include "base/sheet_in.h"

#include <errno.h>
#include <stdio.h>
#include <string.h>
#include <sys/stat.h>

#include <sodium.h>

/* A pipe can be read once only, and a packing list is read twice. */
static tb_rc open_regular(FILE **out, const char *path, struct tb_err *err)
{
    struct stat st;
    FILE *f = fopen(path, "rb");

    if (!f)
        return tb_fail(err, TB_EIO, "the file cannot be opened: %s", strerror(errno));
    if (fstat(fileno(f), &st) != 0 || !S_ISREG(st.st_mode)) {
        (void)fclose(f);
        return tb_fail(err, TB_EINVAL, "this is not a file that can be read twice (a folder, a pipe?)");
    }
    *out = f;
    return TB_OK;
}

/* Of the bytes as they are on the disk, so that any other program gives the same. */
tb_rc tb_file_digest(char out[TB_DIGEST_LEN + 1], const char *path, struct tb_err *err)
{
    unsigned char buf[65536], hash[crypto_hash_sha256_BYTES];
    crypto_hash_sha256_state state;
    FILE *f;
    size_t n;
    tb_rc rc = open_regular(&f, path, err);

    if (rc != TB_OK)
        return rc;
    (void)crypto_hash_sha256_init(&state);
    while ((n = fread(buf, 1, sizeof buf, f)) > 0)
        (void)crypto_hash_sha256_update(&state, buf, n);
    if (ferror(f))
        rc = tb_fail(err, TB_EIO, "the file cannot be read: %s", strerror(errno));
    (void)fclose(f);
    if (rc != TB_OK)
        return rc;
    (void)crypto_hash_sha256_final(&state, hash);
    (void)sodium_bin2hex(out, TB_DIGEST_LEN + 1, hash, sizeof hash);
    return TB_OK;
}

/* By its first bytes: what people call a file says little of what is in it. */
tb_rc tb_sheet_read(const char *path, const struct tb_sheet_sink *sink, struct tb_err *err)
{
    unsigned char head[8] = { 0 };
    FILE *f;
    size_t n;
    tb_rc rc = open_regular(&f, path, err);

    if (rc != TB_OK)
        return rc;
    n = fread(head, 1, sizeof head, f);
    (void)fclose(f);
    if (n == 0)
        return tb_fail(err, TB_EFORMAT, "the file is empty");
    if (memcmp(head, "PK\x03\x04", 4) == 0 || memcmp(head, "PK\x05\x06", 4) == 0)
        return tb_xlsx_read(path, sink, err);
    if (memcmp(head, "\xD0\xCF\x11\xE0", 4) == 0)
        return tb_fail(err, TB_EFORMAT,
                       "this is an old .xls workbook, or one locked with a password; save it as .xlsx or CSV "
                       "without a password and give that");
    if (memcmp(head, "%PDF", 4) == 0)
        return tb_fail(err, TB_EFORMAT, "this is a PDF; a packing list is taken in as CSV or XLSX");
    return tb_csv_read(path, sink, err);
}
