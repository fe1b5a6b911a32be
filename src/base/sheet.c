/* Rows out of a file: which reader, and the row both of them build. */
#include "sheet_in.h"

#include "tenterbook/utf8.h"

#include <errno.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>

#include <sodium.h>

void tb_row_begin(struct tb_row_buf *b)
{
    if (!b->cap) {
        b->cap = 1024;
        b->text = tb_alloc(b->cap, 1);
    }
    b->text[0] = '\0'; /* offset 0 is the empty text */
    b->n = 1;
    b->cells = 0;
}

static void grow_cells(struct tb_row_buf *b, size_t want)
{
    if (want > b->cell_cap) {
        b->cell_cap = want * 2;
        b->cell = tb_realloc(b->cell, b->cell_cap, sizeof *b->cell);
        b->at = tb_realloc(b->at, b->cell_cap, sizeof *b->at);
    }
    while (b->cells < want) {
        b->cell[b->cells] = (struct tb_cell){ TB_CELL_EMPTY, "", NAN };
        b->at[b->cells++] = 0;
    }
}

/* Length of the blank at s (1 to 3 bytes: ASCII blanks, no-break space, ideographic space), 0 when none. */
static size_t blank_at(const char *s, size_t n)
{
    if (*s == ' ' || *s == '\t' || *s == '\n' || *s == '\r')
        return 1;
    if (n >= 2 && memcmp(s, "\xC2\xA0", 2) == 0)
        return 2;
    return n >= 3 && memcmp(s, "\xE3\x80\x80", 3) == 0 ? 3 : 0;
}

static void trim(const char **text, size_t *n)
{
    size_t w;

    while (*n && (w = blank_at(*text, *n)) > 0) {
        *text += w;
        *n -= w;
    }
    /* most texts end in a letter or a digit; the last byte of every blank is one of these */
    for (bool more = *n && ((unsigned char)(*text)[*n - 1] <= ' ' || (unsigned char)(*text)[*n - 1] == 0xA0 ||
                            (unsigned char)(*text)[*n - 1] == 0x80);
         more && *n;) {
        more = false;
        for (size_t k = 1; k <= 3 && k <= *n && !more; k++)
            if (blank_at(*text + *n - k, k) == k) {
                *n -= k;
                more = true;
            }
    }
}

/* A terminal obeys control characters, and XML has none: they become blanks; tabs and line ends stay. */
static void blank_controls(char *s, size_t n)
{
    for (size_t i = 0; i < n; i++) {
        unsigned char c = (unsigned char)s[i], next = i + 1 < n ? (unsigned char)s[i + 1] : 0;

        if (c == 0xC2 && next >= 0x80 && next <= 0x9F) /* U+0080 to U+009F */
            s[i] = s[i + 1] = ' ';
        else if (c < 0x80 && tb_utf8_control(c))
            s[i] = ' ';
    }
}

bool tb_row_put(struct tb_row_buf *b, size_t column, enum tb_cell_type type, const char *text, size_t n,
                double number)
{
    if (column >= TB_SHEET_COLUMNS_MOST)
        return false;
    if (column >= b->cells)
        grow_cells(b, column + 1);
    if (b->n + n + 1 > b->cap) {
        while (b->n + n + 1 > b->cap)
            b->cap *= 2;
        b->text = tb_realloc(b->text, b->cap, 1);
    }
    memcpy(b->text + b->n, text, n);
    text = b->text + b->n;
    blank_controls(b->text + b->n, n);
    trim(&text, &n);
    if (!n)
        return true;
    b->at[column] = (size_t)(text - b->text);
    b->n = b->at[column];
    b->text[b->n + n] = '\0';
    b->cell[column].type = type;
    b->cell[column].number = number;
    b->n += n + 1;
    return true;
}

tb_rc tb_row_emit(struct tb_row_buf *b, size_t line, const struct tb_sheet_sink *sink, struct tb_err *err)
{
    struct tb_row row = { line, b->cell, b->cells };

    for (size_t i = 0; i < b->cells; i++)
        b->cell[i].text = b->text + b->at[i];
    return sink->row(sink->arg, &row, err);
}

void tb_row_free(struct tb_row_buf *b)
{
    free(b->text);
    free(b->cell);
    free(b->at);
    *b = (struct tb_row_buf){ 0 };
}

void tb_column_letters(char out[8], size_t column)
{
    char back[8];
    size_t n = 0, k = 0;

    for (column++; column && n < sizeof back - 1; column = (column - 1) / 26)
        back[n++] = (char)('A' + (column - 1) % 26);
    while (n)
        out[k++] = back[--n];
    out[k] = '\0';
}

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
