/* workbook_words.c - cells of words: valid, cut to what a cell holds, never taken for a code. */
#include "report/table/workbook_impl.h"

#include "tenterbook/utf8.h"

#include <ctype.h>
#include <stdlib.h>
#include <string.h>

#define CELL_MOST 32767 /* characters a cell holds */

/* Nearly all text is valid already, and is not copied then. */
const char *tb_tab_clean(struct tb_tab *s, const char *text)
{
    size_t n = strlen(text);
    char *mended;

    if (tb_utf8_valid(text, n))
        return text;
    mended = tb_utf8_mend(text, n);
    tb_text_clear(&s->scratch);
    tb_text_add(&s->scratch, mended);
    free(mended);
    return tb_text_str(&s->scratch);
}

/* Bytes of the first `most` characters, as a spreadsheet counts them: those beyond U+FFFF count twice. */
static size_t bytes_of(const char *text, size_t n, size_t most)
{
    size_t i = 0, units = 0;

    while (i < n) {
        unsigned cp;
        size_t step = tb_utf8_next(text + i, n - i, &cp);

        units += cp > 0xFFFF ? 2 : 1;
        if (units > most)
            break;
        i += step;
    }
    return i;
}

/* "_x0041_" means the letter A inside a workbook (ECMA-376 part 1, 22.4.2.4 ST_Xstring). */
static bool is_code(const char *s)
{
    return s[0] == '_' && s[1] == 'x' && isxdigit((unsigned char)s[2]) && isxdigit((unsigned char)s[3]) &&
           isxdigit((unsigned char)s[4]) && isxdigit((unsigned char)s[5]) && s[6] == '_';
}

/* The words as a cell takes them: cut to size, and words that look like a code kept words. */
static void fit_cell(struct tb_text *out, const char *text, size_t n)
{
    size_t codes = 0, room, keep;

    for (const char *c = strstr(text, "_x"); c; c = strstr(c + 1, "_x"))
        codes += is_code(c);
    /* the library counts what is written, six characters more for each code */
    room = codes * 6 < CELL_MOST ? CELL_MOST - codes * 6 : 1;
    keep = bytes_of(text, n, room);
    if (keep < n)
        keep = bytes_of(text, n, room - 1);
    for (size_t i = 0; i < keep; i++) {
        if (is_code(text + i))
            tb_text_add(out, "_x005F");
        tb_text_addc(out, text[i]);
    }
    if (keep < n)
        tb_text_add(out, "\xE2\x80\xA6");
}

/* Spreadsheets differ in when they fit a row to its words: the row is told how many lines it needs. */
static void count_lines(struct tb_tab *s, const char *text, double width)
{
    double room = width * (width < 40 ? 1.0 : 1.1); /* words end before the edge; long lines even out */
    size_t lines = 0;

    for (const char *c = text; c; c = strchr(c, '\n') ? strchr(c, '\n') + 1 : NULL) {
        char *line = tb_strndup(c, strcspn(c, "\n"));

        lines += 1 + (size_t)((double)tb_utf8_columns(line) / room);
        free(line);
    }
    if (lines > s->lines)
        s->lines = lines;
}

/* The twin gets the words as they are; only the worksheet has limits and codes of its own. */
void tb_put_text(struct tb_tab *s, const char *text)
{
    struct tb_text fitted = { 0 };
    struct column *c;
    size_t n;

    if (!text || !*text) {
        tb_put_none(s);
        return;
    }
    c = tb_cell_next(s, TB_COL_TEXT);
    text = tb_tab_clean(s, text);
    if (s->csv)
        tb_csv_text(s->csv, tb_cell_first(s), text);
    n = strlen(text);
    if (n > CELL_MOST || strstr(text, "_x")) {
        fit_cell(&fitted, text, n);
        text = fitted.s;
    }
    tb_tab_take(s, worksheet_write_string(tb_tab_here(s)->ws, s->row, (lxw_col_t)s->at, text,
                                          tb_cell_look(s, c, TB_COL_TEXT)));
    if (c->plan.wrap)
        count_lines(s, text, c->plan.width);
    tb_text_free(&fitted);
    tb_cell_done(s);
}
