/* row.c - one row of a table while its cells come in, in any order. */
#include "base/sheet_in.h"

#include "tenterbook/utf8.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

void tb_row_begin(struct tb_row_buf *b)
{
    if (!b->cap) {
        b->cap = 1024;
        b->text = tb_alloc(b->cap, 1);
    }
    b->text[0] = '\0'; /* offset 0 is the empty text */
    b->n = 1;
    b->cells = 0;
    b->look = TB_ROW_SHOWN;
    b->filled = b->struck = 0;
}

void tb_row_count(struct tb_row_buf *b, bool struck)
{
    b->filled++;
    b->struck += struck;
}

/* Columns may come out of order, so the cells between are filled in as empty. */
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

/* Bytes of the white space at s (1 to 3: ASCII, no-break space, ideographic space); 0: none stands there. */
static size_t space_at(const char *s, size_t n)
{
    if (*s == ' ' || *s == '\t' || *s == '\n' || *s == '\r')
        return 1;
    if (n >= 2 && memcmp(s, "\xC2\xA0", 2) == 0)
        return 2;
    return n >= 3 && memcmp(s, "\xE3\x80\x80", 3) == 0 ? 3 : 0;
}

/* From both ends; what stands inside a cell is kept as it came. */
static void trim(const char **text, size_t *n)
{
    size_t w;

    while (*n && (w = space_at(*text, *n)) > 0) {
        *text += w;
        *n -= w;
    }
    /* most texts end in a letter or a digit; the last byte of all white space is one of these */
    for (bool more = *n && ((unsigned char)(*text)[*n - 1] <= ' ' || (unsigned char)(*text)[*n - 1] == 0xA0 ||
                            (unsigned char)(*text)[*n - 1] == 0x80);
         more && *n;) {
        more = false;
        for (size_t k = 1; k <= 3 && k <= *n && !more; k++)
            if (space_at(*text + *n - k, k) == k) {
                *n -= k;
                more = true;
            }
    }
}

/* A terminal obeys control characters, and XML has none: they become spaces; tabs and line ends stay. */
static void space_controls(char *s, size_t n)
{
    for (size_t i = 0; i < n; i++) {
        unsigned char c = (unsigned char)s[i], next = i + 1 < n ? (unsigned char)s[i + 1] : 0;

        if (c == 0xC2 && next >= 0x80 && next <= 0x9F) /* U+0080 to U+009F */
            s[i] = s[i + 1] = ' ';
        else if (c < 0x80 && tb_utf8_control(c))
            s[i] = ' ';
    }
}

/* The text is copied before it is cleaned, since it belongs to the reader of the file. */
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
    space_controls(b->text + b->n, n);
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

/* Only now do cells point into the buffer: it may have moved while the row grew. */
tb_rc tb_row_emit(struct tb_row_buf *b, size_t line, const struct tb_sheet_sink *sink, struct tb_err *err)
{
    struct tb_row row = { line, b->cell, b->cells,
                          b->look == TB_ROW_SHOWN && b->filled && b->struck == b->filled ? TB_ROW_STRUCK
                                                                                         : b->look };

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

void tb_number_text(char out[TB_NUMBER_TEXT], double v)
{
    if (fabs(v) < TB_WHOLE_MOST && v == floor(v))
        (void)snprintf(out, TB_NUMBER_TEXT, "%.0f", v);
    else
        (void)snprintf(out, TB_NUMBER_TEXT, "%.15g", v);
}

/* Letters count from 1 and have no zero, hence the minus one at every place. */
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
