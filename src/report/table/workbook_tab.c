/* workbook_tab.c - rows and cells: each cell once, to the worksheet and to its CSV twin. */
#include "report/table/workbook_impl.h"

#include "tenterbook/date.h"
#include "tenterbook/utf8.h"

#include <assert.h>
#include <ctype.h>
#include <inttypes.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#define CELL_MOST 32767               /* characters a cell holds */
#define PIECE_BYTES_MOST 3000000000.0 /* of XML, so that no part of the file outgrows 32 bits */
#define LOOK_EVERY 16384              /* rows between two looks at the size */
#define LINE_POINTS 13.5              /* height of a line of the body */
#define LINES_MOST 30                 /* a row of a spreadsheet is at most 409 points high */
#define DAYS_TO_1970 25569            /* serial number of 1970-01-01 in a spreadsheet */

size_t tb_tab_rows(const struct tb_tab *s)
{
    return s->rows;
}

/* --- faults ----------------------------------------------------------------------------------------------- */

static void note(struct tb_tab *s, tb_rc rc)
{
    if (s->rc == TB_OK)
        s->rc = rc;
}

static void take(struct tb_tab *s, lxw_error e)
{
    if (e && s->rc == TB_OK)
        note(s, tb_lxw(&s->fault, e, s->w->file.path));
}

/* --- the place of the next cell ------------------------------------------------------------------------------- */

static struct piece *here(struct tb_tab *s)
{
    return &s->piece[s->pieces - 1];
}

static bool full(struct tb_tab *s)
{
    struct piece *p = here(s);
    size_t have = (size_t)(s->row - p->first);

    if (s->plan.layout != TB_LAYOUT_LIST || s->rc != TB_OK)
        return false;
    if (have >= tb_piece_room(s))
        return true;
    return have && have % LOOK_EVERY == 0 && p->ws->optimize_tmpfile &&
           (double)ftello(p->ws->optimize_tmpfile) > PIECE_BYTES_MOST;
}

static void begin_row(struct tb_tab *s)
{
    if (full(s)) {
        tb_rc rc = tb_piece_end(s, true, &s->fault);

        if (rc == TB_OK)
            rc = tb_piece_begin(s, &s->fault);
        note(s, rc);
    }
    if (s->plan.layout == TB_LAYOUT_FORM && s->csv.f)
        tb_csv_text(s->csv.f, true, s->section ? s->section : "");
}

/* The column the next cell belongs to. */
static struct column *next(struct tb_tab *s, enum tb_column_type type)
{
    struct column *c;

    assert(!s->ended && s->at < s->plan.columns);
    c = &s->col[s->at];
    assert(type == TB_COL_ANY || c->plan.type == TB_COL_ANY || c->plan.type == type);
    (void)type;
    if (s->at == 0)
        begin_row(s);
    return c;
}

static bool csv_first(const struct tb_tab *s)
{
    return s->at == 0 && s->plan.layout == TB_LAYOUT_LIST;
}

static lxw_format *dress(struct tb_tab *s, struct column *c, enum tb_column_type type)
{
    struct look l = { .role = LOOK_BODY, .type = type, .tone = s->tone, .wrap = c->plan.wrap };
    lxw_format **kept = &c->body[s->tone];

    l.decimals = s->decimals == DECIMALS_OF_COLUMN ? c->plan.decimals : s->decimals;
    l.indent = s->at > 0;
    if (c->plan.type == TB_COL_ANY)
        return tb_look(s->w, &l);
    if (!*kept)
        *kept = tb_look(s->w, &l);
    return *kept;
}

static void done(struct tb_tab *s)
{
    s->at++;
    s->tone = TB_TONE_PLAIN;
    s->decimals = DECIMALS_OF_COLUMN;
}

void tb_put_tone(struct tb_tab *s, enum tb_tone tone)
{
    s->tone = tone;
}

void tb_put_decimals(struct tb_tab *s, int decimals)
{
    s->decimals = decimals;
}

void tb_put_none(struct tb_tab *s)
{
    struct column *c = next(s, TB_COL_ANY);

    take(s, worksheet_write_blank(here(s)->ws, s->row, (lxw_col_t)s->at, dress(s, c, c->plan.type)));
    if (s->csv.f)
        tb_csv_plain(s->csv.f, csv_first(s), "");
    done(s);
}

/* --- words ------------------------------------------------------------------------------------------------- */

static const char *clean(struct tb_tab *s, const char *text)
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

void tb_put_text(struct tb_tab *s, const char *text)
{
    struct tb_text fitted = { 0 };
    struct column *c;
    size_t n;

    if (!text || !*text) {
        tb_put_none(s);
        return;
    }
    c = next(s, TB_COL_TEXT);
    text = clean(s, text);
    if (s->csv.f)
        tb_csv_text(s->csv.f, csv_first(s), text);
    n = strlen(text);
    if (n > CELL_MOST || strstr(text, "_x")) {
        fit_cell(&fitted, text, n);
        text = fitted.s;
    }
    take(s, worksheet_write_string(here(s)->ws, s->row, (lxw_col_t)s->at, text, dress(s, c, TB_COL_TEXT)));
    if (c->plan.wrap)
        count_lines(s, text, c->plan.width);
    tb_text_free(&fitted);
    done(s);
}

/* --- figures ----------------------------------------------------------------------------------------------- */

static void put_figure(struct tb_tab *s, double x, enum tb_column_type type, const char *csv)
{
    struct column *c = next(s, type);

    c->sum += x;
    take(s, worksheet_write_number(here(s)->ws, s->row, (lxw_col_t)s->at, x, dress(s, c, type)));
    if (s->csv.f)
        tb_csv_plain(s->csv.f, csv_first(s), csv);
    done(s);
}

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
 * 15 digits: what was typed in comes out as it was typed. Figures with up to three decimals, nearly all there
 * are, go without the library, which takes a good part of the time of a long list.
 */
static void figures(char out[32], double x)
{
    double scaled = x * 1000, whole = nearbyint(scaled);
    char *end = out + 31, *at = end;
    uint64_t v, rest;

    if (fabs(whole) > 1e12 || whole / 1000 != x || (x == 0 && signbit(x))) {
        (void)snprintf(out, 32, "%.15g", x);
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

void tb_put_count(struct tb_tab *s, int64_t n)
{
    char csv[32];

    if (n > -1000000000 && n < 1000000000)
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

static void put_serial(struct tb_tab *s, const char *iso, enum tb_column_type type, bool good)
{
    double serial = 0;

    if (good)
        serial = (double)(tb_day_number(iso) + DAYS_TO_1970);
    else if (s->rc == TB_OK)
        note(s, tb_fail(&s->fault, TB_EINVAL, "%s is not a date", iso));
    if (good && type == TB_COL_MOMENT)
        serial +=
            (double)(((iso[11] - '0') * 10 + iso[12] - '0') * 3600 +
                     ((iso[14] - '0') * 10 + iso[15] - '0') * 60 + (iso[17] - '0') * 10 + iso[18] - '0') /
            86400.0;
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

void tb_put_formula(struct tb_tab *s, const char *formula, double x, enum tb_column_type as)
{
    struct column *c = next(s, as);
    char csv[32] = "";

    c->sum += isfinite(x) ? x : 0;
    if (isfinite(x)) {
        figures(csv, x);
        take(s,
             worksheet_write_formula_num(here(s)->ws, s->row, (lxw_col_t)s->at, formula, dress(s, c, as), x));
    } else {
        take(s, worksheet_write_formula_str(here(s)->ws, s->row, (lxw_col_t)s->at, formula, dress(s, c, as),
                                            ""));
    }
    if (s->csv.f)
        tb_csv_plain(s->csv.f, csv_first(s), csv);
    done(s);
}

/* --- rows -------------------------------------------------------------------------------------------------- */

tb_rc tb_tab_row(struct tb_tab *s, struct tb_err *err)
{
    struct piece *p;

    while (s->at < s->plan.columns)
        tb_put_none(s);
    s->at = 0;
    if (s->csv.f)
        tb_csv_line(s->csv.f);
    p = here(s);
    if (s->lines > 1)
        take(s,
             worksheet_set_row(p->ws, s->row,
                               LINE_POINTS * (double)(s->lines < LINES_MOST ? s->lines : LINES_MOST), NULL));
    s->lines = 0;
    p->last = s->row++;
    s->rows++;
    if (s->rc == TB_OK && p->ws->optimize_tmpfile && ferror(p->ws->optimize_tmpfile))
        note(s, tb_fail(&s->fault, TB_EIO, "the disk is full or failed"));
    if (s->rc == TB_OK && s->csv.f && ferror(s->csv.f))
        note(s, tb_fail(&s->fault, TB_EIO, "the disk is full or failed"));
    if (s->rc == TB_OK)
        return TB_OK;
    *err = s->fault;
    return tb_within(err, s->rc, "sheet %s, row %lu", p->tab, (unsigned long)s->row);
}

tb_rc tb_tab_section(struct tb_tab *s, const char *heading, struct tb_err *err)
{
    struct look l = { .role = LOOK_SECTION };
    lxw_worksheet *ws = here(s)->ws;
    lxw_error e = LXW_NO_ERROR;

    assert(s->plan.layout == TB_LAYOUT_FORM && s->at == 0 && !s->ended);
    free(s->section);
    s->section = tb_strdup(clean(s, heading));
    s->row++; /* a line of air */
    for (size_t i = 0; i < s->plan.columns && !e; i++)
        e = i == 0 ? worksheet_write_string(ws, s->row, 0, s->section, tb_look(s->w, &l))
                   : worksheet_write_blank(ws, s->row, (lxw_col_t)i, tb_look(s->w, &l));
    s->row++;
    return tb_lxw(err, e, s->w->file.path);
}

tb_rc tb_tab_end(struct tb_tab *s, struct tb_err *err)
{
    if (s->ended)
        return TB_OK;
    assert(s->at == 0);
    s->ended = true;
    return tb_piece_end(s, false, err);
}

void tb_tab_free(struct tb_tab *s)
{
    if (!s)
        return;
    for (size_t i = 0; i < s->pieces; i++)
        free(s->piece[i].tab);
    tb_outfile_drop(&s->csv);
    tb_text_free(&s->scratch);
    free(s->piece);
    free(s->section);
    free(s->col);
    free(s);
}
