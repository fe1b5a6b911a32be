/* workbook_figures.c - cells of figures, days and formulas, and their digits in the twin. */
#include "report/table/workbook_impl.h"

#include "tenterbook/date.h"
#include "tenterbook/figure.h"

#include <inttypes.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#define PLAIN_MOST                                                                                           \
    1e12 /* thousandths up to which a double counts without loss and its digits are written here */
#define COUNT_PLAIN_MOST 1000000000

/* Written from the end, at least so many digits, with zeros in front. */
static char *whole_digits(char *end, uint64_t v, int least)
{
    do {
        *--end = (char)('0' + v % 10);
        v /= 10;
        least--;
    } while (v || least > 0);
    return end;
}

/*
 * Of a figure as tb_figure answers it: what was typed in comes out as it was typed. Figures with up to three decimals, nearly all there
 * are, go without the library, which takes a good part of the time of a long list.
 */
static void figures(char out[32], double x)
{
    double scaled = x * 1000, whole = nearbyint(scaled);
    char *end = out + 31, *at = end;
    uint64_t v, rest;

    if (fabs(whole) > PLAIN_MOST || whole / 1000 != x || (x == 0 && signbit(x))) {
        (void)snprintf(out, 32, "%.*g", tb_figure_digits(), x);
        return;
    }
    v = (uint64_t)fabs(whole);
    *end = '\0';
    rest = v % 1000;
    if (rest) {
        int digits = 3;

        for (; rest % 10 == 0; rest /= 10)
            digits--;
        at = whole_digits(at, rest, digits);
        *--at = '.';
    }
    at = whole_digits(at, v / 1000, 1);
    if (whole < 0)
        *--at = '-';
    memmove(out, at, (size_t)(end - at) + 1);
}

/* Every figure is summed as it comes: the total is known without a second pass over the rows. */
static void put_figure(struct tb_tab *s, double x, enum tb_column_type type, const char *csv)
{
    struct column *c = tb_cell_next(s, type);

    c->sum += x;
    tb_tab_take(
        s, worksheet_write_number(tb_tab_here(s)->ws, s->row, (lxw_col_t)s->at, x, tb_cell_look(s, c, type)));
    if (s->csv)
        tb_csv_plain(s->csv, tb_cell_first(s), csv);
    tb_cell_done(s);
}

/* Counts beyond what a double holds exactly keep all their digits in the twin. */
void tb_put_count(struct tb_tab *s, int64_t n)
{
    char csv[32];

    if (n > -COUNT_PLAIN_MOST && n < COUNT_PLAIN_MOST)
        figures(csv, (double)n);
    else
        (void)snprintf(csv, sizeof csv, "%" PRId64, n);
    put_figure(s, (double)n, TB_COL_COUNT, csv);
}

static void put_real(struct tb_tab *s, double x, enum tb_column_type type)
{
    char csv[32];

    if (!isfinite(x)) {
        tb_put_none(s);
        return;
    }
    x = tb_figure(x);
    figures(csv, x);
    put_figure(s, x, type, csv);
}

void tb_put_number(struct tb_tab *s, double x)
{
    put_real(s, x, TB_COL_NUMBER);
}

void tb_put_share(struct tb_tab *s, double x)
{
    put_real(s, x, TB_COL_SHARE);
}

/* A spreadsheet counts days since 1899-12-30, and the time of day as a part of one. */
static void put_serial(struct tb_tab *s, const char *iso, enum tb_column_type type, bool good)
{
    double serial = 0;

    if (good)
        serial = (double)(tb_day_number(iso) + TB_SHEET_1970);
    else if (s->rc == TB_OK)
        tb_tab_note(s, tb_fail(&s->fault, TB_EINVAL, "%s is not a date", iso));
    if (good && type == TB_COL_MOMENT)
        serial += (double)tb_moment_seconds(iso) / 86400.0;
    put_figure(s, serial, type, iso);
}

void tb_put_day(struct tb_tab *s, const char *day)
{
    if (!day || !*day)
        tb_put_none(s);
    else
        put_serial(s, day, TB_COL_DAY, tb_day_valid(day));
}

void tb_put_moment(struct tb_tab *s, const char *moment)
{
    if (!moment || !*moment)
        tb_put_none(s);
    else
        put_serial(s, moment, TB_COL_MOMENT, tb_moment_valid(moment));
}

/* A formula without a value is text to the library: a number would show as 0. */
void tb_put_formula(struct tb_tab *s, double x, enum tb_column_type as, const char *fmt, ...)
{
    struct column *c = tb_cell_next(s, as);
    struct tb_text formula = { 0 };
    char csv[32] = "";
    lxw_worksheet *ws = tb_tab_here(s)->ws;
    lxw_format *look = tb_cell_look(s, c, as);
    lxw_col_t at = (lxw_col_t)s->at;
    va_list ap;

    va_start(ap, fmt);
    tb_text_vaddf(&formula, fmt, ap);
    va_end(ap);
    if (isfinite(x)) {
        x = tb_figure(x);
        c->sum += x;
        figures(csv, x);
        tb_tab_take(s, worksheet_write_formula_num(ws, s->row, at, tb_text_str(&formula), look, x));
    } else {
        tb_tab_take(s, worksheet_write_formula_str(ws, s->row, at, tb_text_str(&formula), look, ""));
    }
    if (s->csv)
        tb_csv_plain(s->csv, tb_cell_first(s), csv);
    tb_text_free(&formula);
    tb_cell_done(s);
}
