/* Tables for a terminal: columns as wide as their text, rows that fold where the screen is narrow. */
#include "tenterbook/table.h"

#include "tenterbook/utf8.h"

#include <stdlib.h>
#include <string.h>
#include <sys/ioctl.h>
#include <unistd.h>

#define FOLD_INDENT 4    /* columns a row that goes on below is set in */
#define COLUMNS_LEAST 40 /* on less than this nothing is won by breaking lines */

size_t tb_screen_columns(void)
{
    struct winsize w = { 0 };

    if (!isatty(STDOUT_FILENO) || ioctl(STDOUT_FILENO, TIOCGWINSZ, &w) != 0 || w.ws_col < COLUMNS_LEAST)
        return 0;
    return w.ws_col;
}

void tb_table_begin(struct tb_table *t, size_t columns)
{
    *t = (struct tb_table){ .columns = columns };
}

/* A cell is one line of the terminal, whatever a supplier wrote: breaks and other controls become blanks. */
static void one_line(char *s)
{
    for (; s && *s; s++)
        if ((unsigned char)*s < ' ' || *s == 0x7f)
            *s = ' ';
}

void tb_table_head(struct tb_table *t, const char *const *head, size_t columns)
{
    tb_table_begin(t, columns);
    tb_table_add(t, head, columns);
}

void tb_table_add(struct tb_table *t, const char *const *text, size_t n)
{
    for (size_t i = 0; i < n; i++)
        tb_table_cell(t, "%s", text[i]);
}

void tb_table_cell(struct tb_table *t, const char *fmt, ...)
{
    va_list ap;

    TB_PUSH_ROOM(t->cell, t->cells, t->cap);
    t->cell[t->cells] = (struct tb_text){ 0 };
    va_start(ap, fmt);
    tb_text_vaddf(&t->cell[t->cells], fmt, ap);
    va_end(ap);
    one_line(t->cell[t->cells++].s);
}

/* Cut to at most `widest` columns; the last of them becomes an ellipsis. */
static void cut_cell(struct tb_text *cell, size_t widest)
{
    const char *s = tb_text_str(cell);
    size_t at = 0, n = strlen(s);
    struct tb_text t = { 0 };

    if (tb_utf8_columns(s) <= widest)
        return;
    while (at < n) {
        size_t used = tb_utf8_next(s + at, n - at, NULL);

        tb_text_addn(&t, s + at, used);
        if (tb_utf8_columns(t.s) > widest - 1) {
            t.n -= used;
            t.s[t.n] = '\0';
            break;
        }
        at += used;
    }
    tb_text_add(&t, "…");
    tb_text_free(cell);
    *cell = t;
}

/*
 * Which columns begin a line when a row is wider than the screen: the row goes on below, set in, every row at the same
 * column, so that what belongs together still stands under one another.
 */
static void fold_columns(bool *begins, const size_t *width, size_t columns, size_t screen)
{
    size_t used = width[0];

    for (size_t c = 1; c < columns; c++) {
        begins[c] = screen && used + 2 + width[c] > screen;
        used = begins[c] ? FOLD_INDENT + width[c] : used + 2 + width[c];
    }
}

static void print_cell(struct tb_text *line, const char *s, size_t width, bool right)
{
    int pad = (int)(width - tb_utf8_columns(s));

    tb_text_addf(line, "%*s%s%*s", right ? pad : 0, "", s, right ? 0 : pad, "");
}

/* Without the blanks at its end: the cells there are empty. */
static void print_line(FILE *out, struct tb_text *line)
{
    size_t n = line->n;

    while (n && line->s[n - 1] == ' ')
        n--;
    (void)fprintf(out, "%.*s\n", (int)n, n ? line->s : "");
    tb_text_clear(line);
}

/* Widths are counted over all rows before the first is printed; what is too wide is cut first. */
void tb_table_print(struct tb_table *t, FILE *out, const char *align, size_t widest)
{
    size_t *width = tb_array(size_t, t->columns + 1), screen = tb_screen_columns();
    bool *begins = tb_array(bool, t->columns + 1);
    struct tb_text line = { 0 };

    for (size_t i = 0; i < t->cells; i++) {
        size_t w;

        if (align[i % t->columns] != 'L')
            cut_cell(&t->cell[i], widest);
        w = tb_utf8_columns(tb_text_str(&t->cell[i]));
        if (w > width[i % t->columns])
            width[i % t->columns] = w;
    }
    fold_columns(begins, width, t->columns, screen);
    for (size_t i = 0; i < t->cells; i++) {
        size_t c = i % t->columns;
        bool last = c + 1 == t->columns, folds = !last && begins[c + 1];

        print_cell(&line, tb_text_str(&t->cell[i]), width[c], align[c] == 'r');
        if (!last && !folds) {
            tb_text_add(&line, "  ");
            continue;
        }
        print_line(out, &line);
        if (folds)
            tb_text_addf(&line, "%*s", FOLD_INDENT, "");
    }
    tb_text_free(&line);
    free(begins);
    free(width);
    tb_table_drop(t);
}

void tb_table_drop(struct tb_table *t)
{
    for (size_t i = 0; i < t->cells; i++)
        tb_text_free(&t->cell[i]);
    free(t->cell);
    *t = (struct tb_table){ 0 };
}
