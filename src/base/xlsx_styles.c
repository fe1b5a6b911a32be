/* xlsx_styles.c - which cell formats of a workbook show a day, which pad a number with zeros, and which strike a text through. */
#include "base/xlsx_in.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define STYLES_MOST 65536
#define FORMATS_MOST 10000

struct formats {
    struct format {
        unsigned id;
        unsigned char style;
    } * format;
    size_t n, cap;
    bool *struck; /* per font: a line goes through it */
    size_t fonts, font_cap;
    bool in_fonts, in_cell_formats;
};

/* Formats every spreadsheet knows by number (ECMA-376 part 1, 18.8.30; 27 to 36 and 50 to 58 East Asian). */
unsigned char tb_style_builtin(unsigned id)
{
    bool day = (id >= 14 && id <= 17) || id == 22 || (id >= 27 && id <= 31) || id == 36 ||
               (id >= 50 && id <= 54) || id == 57 || id == 58;

    return day ? TB_STYLE_DAY : TB_STYLE_NUMBER;
}

/* 0.00" yds": the unit stands in the format, and in no cell. */
static unsigned char style_unit(const char *code)
{
    static const struct {
        const char *word;
        unsigned char style;
    } unit[] = { { "yd", TB_STYLE_YD },    { "yds", TB_STYLE_YD },   { "yard", TB_STYLE_YD },
                 { "yards", TB_STYLE_YD }, { "m", TB_STYLE_M },      { "mt", TB_STYLE_M },
                 { "mts", TB_STYLE_M },    { "mtr", TB_STYLE_M },    { "mtrs", TB_STYLE_M },
                 { "metre", TB_STYLE_M },  { "metres", TB_STYLE_M }, { "meter", TB_STYLE_M },
                 { "meters", TB_STYLE_M }, { "metri", TB_STYLE_M },  { "kg", TB_STYLE_KG },
                 { "kgs", TB_STYLE_KG } };
    char word[16];
    size_t n = 0;
    bool quoted = false;

    for (const char *c = code; *c && (*c != ';' || quoted); c++) {
        bool escaped = !quoted && *c == '\\' && c[1];

        quoted = *c == '"' ? !quoted : quoted;
        c += escaped;
        if ((quoted || escaped) && !strchr("\" .", *c) && n < sizeof word - 1)
            word[n++] = (char)(*c >= 'A' && *c <= 'Z' ? *c + 32 : *c);
    }
    word[n] = '\0';
    for (size_t i = 0; i < TB_COUNT(unit); i++)
        if (strcmp(word, unit[i].word) == 0)
            return unit[i].style;
    return TB_STYLE_NUMBER;
}

/* A custom format shows a day when a day or a year stands outside quotes, escapes and brackets. */
unsigned char tb_style_custom(const char *code)
{
    size_t zeros = strspn(code, "0");

    if (zeros > 1 && zeros < 100 && code[zeros] == '\0')
        return (unsigned char)(TB_STYLE_PAD + zeros);
    for (const char *c = code; *c && *c != ';'; c++) {
        if (*c == '"' || *c == '[') {
            const char *close = strchr(c + 1, *c == '"' ? '"' : ']');

            if (!close)
                break;
            c = close;
        } else if ((*c == '\\' || *c == '_' || *c == '*') && c[1]) {
            c++;
        } else if (strchr("dDyYeE", *c) && !((*c == 'e' || *c == 'E') && (c[1] == '+' || c[1] == '-'))) {
            return strncmp(code, "General", 7) == 0 ? TB_STYLE_NUMBER : TB_STYLE_DAY;
        }
    }
    return style_unit(code);
}

/* Fonts come before the cell formats that use them. */
static void font_start(struct formats *f, const char *name, const char **attr)
{
    const char *off = tb_xml_attr(attr, "val");

    if (strcmp(name, "font") == 0 && f->fonts < STYLES_MOST) {
        TB_PUSH_ROOM(f->struck, f->fonts, f->font_cap);
        f->struck[f->fonts++] = false;
    } else if (strcmp(name, "strike") == 0 && f->fonts) {
        f->struck[f->fonts - 1] = !off || (strcmp(off, "0") != 0 && strcmp(off, "false") != 0);
    }
}

static void add_struck(struct tb_xlsx *x, const struct formats *f, const char **attr)
{
    const char *font = tb_xml_attr(attr, "fontId");
    unsigned long i = font ? strtoul(font, NULL, 10) : 0;

    TB_PUSH_ROOM(x->struck, x->styles, x->struck_cap);
    x->struck[x->styles] = i < f->fonts && f->struck[i];
}

/* Formats by number come before the cell formats that use them. */
static void style_start(struct tb_xml *m, const char *name, const char **attr)
{
    struct formats *f = m->arg;
    struct tb_xlsx *x = m->x;
    const char *id = tb_xml_attr(attr, "numFmtId"), *code = tb_xml_attr(attr, "formatCode");
    unsigned number = id ? (unsigned)strtoul(id, NULL, 10) : 0;

    if (f->in_fonts)
        font_start(f, name, attr);
    else if (strcmp(name, "fonts") == 0)
        f->in_fonts = true;
    if (strcmp(name, "cellXfs") == 0) {
        f->in_cell_formats = true;
    } else if (strcmp(name, "numFmt") == 0 && id && code && f->n < FORMATS_MOST) {
        TB_PUSH_ROOM(f->format, f->n, f->cap);
        f->format[f->n++] = (struct format){ number, tb_style_custom(code) };
    } else if (strcmp(name, "xf") == 0 && f->in_cell_formats && x->styles < STYLES_MOST) {
        unsigned char style = tb_style_builtin(number);

        for (size_t i = 0; i < f->n; i++)
            if (f->format[i].id == number)
                style = f->format[i].style;
        add_struck(x, f, attr);
        TB_PUSH_ROOM(x->style, x->styles, x->style_cap);
        x->style[x->styles++] = style;
    }
}

/* Formats with the same tag stand in other lists, which say nothing of cells. */
static void style_end(struct tb_xml *m, const char *name)
{
    struct formats *f = m->arg;

    if (strcmp(name, "cellXfs") == 0)
        f->in_cell_formats = false;
    else if (strcmp(name, "fonts") == 0)
        f->in_fonts = false;
}

tb_rc tb_xlsx_styles(struct tb_xlsx *x)
{
    struct formats f = { 0 };
    struct tb_xml m = { .start = style_start, .end = style_end, .arg = &f };
    tb_rc rc = x->styles_part ? tb_xml_part(x, &m, x->styles_part) : TB_OK;

    free(f.format);
    free(f.struck);
    return rc == TB_ENOTFOUND ? TB_OK : rc; /* a workbook without styles shows no days */
}

/* Serial days: 1 is 1900-01-01 and 60 the 29 February 1900 that never was; or 0 is 1904-01-01. */
static bool day_of_serial(char out[TB_DAY_LEN + 1], double serial, bool epoch1904)
{
    long n;

    if (!(serial >= (epoch1904 ? 0 : 1)) || serial > 400000)
        return false;
    n = (long)floor(serial);
    if (epoch1904)
        n += tb_day_number("1904-01-01");
    else
        n += tb_day_number("1899-12-31") - (n >= 60);
    tb_day_from_number(out, n);
    return true;
}

/* As a person sees it. Three decimals get a fourth, so that nobody takes the point for a sign of thousands. */
static void put_with_unit(struct tb_row_buf *row, size_t column, unsigned char style, double v)
{
    char number[TB_NUMBER_TEXT], out[TB_NUMBER_TEXT + 8];
    const char *point;

    tb_number_text(number, v);
    point = strchr(number, '.');
    (void)snprintf(out, sizeof out, "%s%s %s", number, point && strlen(point) == 4 ? "0" : "",
                   style == TB_STYLE_YD  ? "yd"
                   : style == TB_STYLE_M ? "m"
                                         : "kg");
    (void)tb_row_put(row, column, TB_CELL_TEXT, out, strlen(out), (double)NAN);
}

/* The style decides whether the number is a day, a padded number or a plain one. */
void tb_style_put(struct tb_row_buf *row, size_t column, unsigned char style, bool epoch1904, double v)
{
    char out[TB_NUMBER_TEXT], day[TB_DAY_LEN + 1];

    if (style == TB_STYLE_DAY && day_of_serial(day, v, epoch1904)) {
        (void)tb_row_put(row, column, TB_CELL_DAY, day, strlen(day), v);
        return;
    }
    if (style >= TB_STYLE_YD) {
        put_with_unit(row, column, style, v);
        return;
    }
    if (style > TB_STYLE_PAD && v >= 0 && v < TB_WHOLE_MOST && v == floor(v))
        (void)snprintf(out, sizeof out, "%0*.0f", style - TB_STYLE_PAD, v);
    else
        tb_number_text(out, v);
    (void)tb_row_put(row, column, TB_CELL_NUMBER, out, strlen(out), v);
}
