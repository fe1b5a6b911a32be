/* xls_book.c - the first part of an old workbook: which sheets there are, how cells are shown, and the texts they share. */
#include "base/xls_in.h"
#include "base/xlsx_in.h"

#include <stdlib.h>
#include <string.h>

#define SHEETS_MOST 1000
#define STYLES_MOST 65536
#define FORMATS_MOST 10000

bool tb_biff_next(struct tb_biff *r, const struct tb_xls *x, size_t *at)
{
    size_t left = x->stream.n - *at;
    const unsigned char *p = left < 4 ? NULL : (const unsigned char *)x->stream.s + *at;

    if (!p || left - 4 < tb_u16(p + 2))
        return false;
    *r = (struct tb_biff){ tb_u16(p), p + 4, tb_u16(p + 2) };
    *at += 4 + r->n;
    return true;
}

static bool add_sheet(struct tb_xls *x, const struct tb_biff *r)
{
    struct tb_biff_text in = { x, { r->type, r->p + 6, r->n < 6 ? 0 : r->n - 6 }, x->stream.n };
    struct tb_text name = { 0 };
    struct tb_xls_sheet *s;

    if (r->n < 6 || !tb_biff_text(&name, &in, 1)) {
        tb_text_free(&name);
        return false;
    }
    TB_PUSH_ROOM(x->sheet, x->sheets, x->sheet_cap);
    s = &x->sheet[x->sheets++];
    *s = (struct tb_xls_sheet){
        .at = tb_u32(r->p), .hidden = (r->p[4] & 3) != 0, .cells = r->p[5] == 0, .name = tb_text_take(&name)
    };
    return true;
}

static bool add_format(struct tb_xls *x, const struct tb_biff *r)
{
    struct tb_biff_text in = { x, { r->type, r->p + 2, r->n < 2 ? 0 : r->n - 2 }, x->stream.n };
    struct tb_text code = { 0 };
    bool good = r->n >= 2 && tb_biff_text(&code, &in, 2);

    if (good && x->formats < FORMATS_MOST) {
        TB_PUSH_ROOM(x->format, x->formats, x->format_cap);
        x->format[x->formats++] = (struct tb_xls_format){ tb_u16(r->p), tb_style_custom(tb_text_str(&code)) };
    }
    tb_text_free(&code);
    return good;
}

#define FONT_STRUCK 0x0008
#define FONT_LEFT_OUT 4 /* no font has this number: the ones behind it count one more */

static bool add_font(struct tb_xls *x, const struct tb_biff *r)
{
    if (r->n < 4)
        return false;
    if (x->fonts < STYLES_MOST) {
        TB_PUSH_ROOM(x->font, x->fonts, x->font_cap);
        x->font[x->fonts++] = (tb_u16(r->p + 2) & FONT_STRUCK) != 0;
    }
    return true;
}

/* Formats by number come before the cell formats that use them, and so do fonts. */
static bool add_style(struct tb_xls *x, const struct tb_biff *r)
{
    unsigned id, font;
    unsigned char style;

    if (r->n < 4)
        return false;
    font = tb_u16(r->p);
    font -= font > FONT_LEFT_OUT;
    id = tb_u16(r->p + 2);
    style = tb_style_builtin(id);
    for (size_t i = 0; i < x->formats; i++)
        if (x->format[i].id == id)
            style = x->format[i].style;
    if (x->styles < STYLES_MOST) {
        TB_PUSH_ROOM(x->struck, x->styles, x->struck_cap);
        x->struck[x->styles] = font < x->fonts && x->font[font];
        TB_PUSH_ROOM(x->style, x->styles, x->style_cap);
        x->style[x->styles++] = style;
    }
    return true;
}

/* The texts go on in the records that follow, anywhere between two of their characters. */
static bool add_strings(struct tb_xls *x, const struct tb_biff *r, size_t *at)
{
    struct tb_biff_text in = { x, *r, *at };
    uint32_t n = r->n < 8 ? 0 : tb_u32(r->p + 4);
    bool good = r->n >= 8;

    in.now.p += good ? 8 : 0;
    in.now.n -= good ? 8 : 0;
    for (uint32_t i = 0; good && i < n; i++) {
        TB_PUSH_ROOM(x->string, x->strings, x->string_cap);
        x->string[x->strings++] = x->text.n;
        good = tb_biff_text(&x->text, &in, 2) && x->text.n < TB_SHEET_STRINGS_MOST;
        tb_text_addc(&x->text, '\0');
    }
    *at = in.at;
    return good;
}

static bool take(struct tb_xls *x, const struct tb_biff *r, size_t *at)
{
    switch (r->type) {
    case TB_BIFF_1904:
        x->epoch1904 = r->n >= 2 && tb_u16(r->p) == 1;
        return true;
    case TB_BIFF_SHEET:
        return add_sheet(x, r);
    case TB_BIFF_FONT:
        return add_font(x, r);
    case TB_BIFF_FORMAT:
        return add_format(x, r);
    case TB_BIFF_XF:
        return add_style(x, r);
    case TB_BIFF_SST:
        return add_strings(x, r, at);
    default:
        return true;
    }
}

tb_rc tb_xls_globals(struct tb_xls *x, struct tb_err *err)
{
    struct tb_biff r;
    size_t at = 0;
    bool good = tb_biff_next(&r, x, &at) && r.type == TB_BIFF_BOF && r.n >= 2;

    if (good && tb_u16(r.p) != 0x0600)
        return tb_fail(err, TB_EFORMAT,
                       "the .xls workbook is of a kind older than 1997; open it in a spreadsheet, save it as "
                       ".xlsx or CSV and give that");
    while (good && (good = tb_biff_next(&r, x, &at)) && r.type != TB_BIFF_EOF) {
        if (r.type == TB_BIFF_LOCKED)
            return tb_xlsx_locked(err);
        good = take(x, &r, &at);
        if (x->sheets > SHEETS_MOST)
            return tb_fail(err, TB_EFORMAT, "the workbook has more than %d sheets", SHEETS_MOST);
    }
    if (!good)
        return tb_fail(err, TB_EFORMAT, "the records of the workbook do not hang together; it is damaged");
    return x->sheets ? TB_OK : tb_fail(err, TB_EFORMAT, "the workbook has no sheet");
}
