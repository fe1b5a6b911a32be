/* sheet.c - rows out of a file: which reader it needs. */
#include "base/infile.h"
#include "base/sheet_in.h"

#include <errno.h>
#include <string.h>

#include <sodium.h>

/* Of the bytes as they are on the disk, so that any other program gives the same. */
tb_rc tb_file_digest(char out[TB_DIGEST_LEN + 1], const char *path, struct tb_err *err)
{
    unsigned char buf[65536], hash[crypto_hash_sha256_BYTES];
    crypto_hash_sha256_state state;
    FILE *f;
    size_t n;
    tb_rc rc = tb_in_open(&f, NULL, path, TB_SHEET_FILE_MOST, err);

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
static tb_rc read_kind(FILE *f, const struct tb_sheet_sink *sink, struct tb_err *err)
{
    unsigned char head[8] = { 0 };

    if (fread(head, 1, sizeof head, f) == 0)
        return ferror(f) ? tb_fail(err, TB_EIO, "the file cannot be read: %s", strerror(errno))
                         : tb_fail(err, TB_EFORMAT, "the file is empty");
    rewind(f);
    if (memcmp(head, "PK\x03\x04", 4) == 0 || memcmp(head, "PK\x05\x06", 4) == 0)
        return tb_sheet_apart(f, &tb_foreign_zip, sink, err);
    if (memcmp(head, "\xD0\xCF\x11\xE0", 4) == 0)
        return tb_sheet_apart(f, &tb_foreign_xls, sink, err);
    if (head[0] == '<')
        return tb_fail(err, TB_EFORMAT,
                       "this is a web page or another file of tags, whatever its name says; open it in a "
                       "spreadsheet, save it as .xlsx or CSV and give that");
    if (memcmp(head, "%PDF", 4) == 0)
        return tb_sheet_apart(f, &tb_foreign_pdf, sink, err);
    return tb_csv_read(f, sink, err);
}

tb_rc tb_sheet_read(const char *path, const struct tb_sheet_sink *sink, struct tb_err *err)
{
    FILE *f;
    tb_rc rc = tb_in_open(&f, NULL, path, TB_SHEET_FILE_MOST, err);

    if (rc != TB_OK)
        return rc;
    rc = read_kind(f, sink, err);
    (void)fclose(f);
    return rc;
}
