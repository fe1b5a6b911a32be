/* xls_rows.c - the cells of one sheet of an old workbook. */
#include "base/xls_in.h"
#include "base/xlsx_in.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* Writers may put cells down in any order, so they are gathered before the first row goes out. */
struct cell {
    uint32_t order; /* of its record: of two in one place the later one counts */
    uint16_t row, column, style;
    enum { A_NUMBER, A_TEXT, A_SHARED_TEXT } kind;
    union {
        double number;
        size_t text; /* where it begins; of those that cells share: which one it is */
    } is;
};

#define ROWS_MOST 65536
#define ROW_HIDDEN 0x20

struct rows {
    const struct tb_xls *x;
    struct cell *cell;
    size_t n, cap;
    struct tb_text text;
    uint64_t hidden[ROWS_MOST / 64];
    bool text_follows; /* the last formula came to a text, which stands in a record of its own */
};

static struct cell *add(struct rows *r, const unsigned char *p)
{
    struct cell *c;

    TB_PUSH_ROOM(r->cell, r->n, r->cap);
    c = &r->cell[r->n];
    *c = (struct cell){
        .order = (uint32_t)r->n, .row = tb_u16(p), .column = tb_u16(p + 2), .style = tb_u16(p + 4)
    };
    r->n++;
    return c;
}

static void add_number(struct rows *r, const unsigned char *p, double v)
{
    if (isfinite(v))
        add(r, p)->is.number = v;
}

static double f64(const unsigned char *p)
{
    uint64_t bits = (uint64_t)tb_u32(p) | (uint64_t)tb_u32(p + 4) << 32;
    double v;

    memcpy(&v, &bits, sizeof v);
    return v;
}

/* Thirty bits: of a whole number, or the upper ones of another; the lowest but one says which, the lowest that it is a hundredth. */
static double rk(const unsigned char *p)
{
    uint32_t bits = tb_u32(p);
    uint64_t high = (uint64_t)(bits & ~3u) << 32;
    double v;

    if (bits & 2)
        v = (int32_t)(bits & ~3u) / 4.0;
    else
        memcpy(&v, &high, sizeof v);
    return bits & 1 ? v / 100 : v;
}

static void add_words(struct rows *r, const unsigned char *p, const char *words)
{
    struct cell *c = add(r, p);

    c->kind = A_TEXT;
    c->is.text = r->text.n;
    tb_text_addn(&r->text, words, strlen(words) + 1);
}

/* A text that stands in the record, behind `before` bytes of it. */
static bool add_text(struct rows *r, const struct tb_biff *b, size_t before, const unsigned char *place,
                     size_t *at)
{
    struct tb_biff_text in = { r->x, { b->type, b->p + before, b->n - before }, *at };
    struct tb_text t = { 0 };
    bool good = tb_biff_text(&t, &in, 2);

    if (good)
        add_words(r, place, tb_text_str(&t));
    tb_text_free(&t);
    *at = in.at;
    return good;
}

/* What a cell says whose formula came to nothing. */
static const char *error_words(unsigned code)
{
    static const struct {
        unsigned code;
        const char *words;
    } error[] = { { 0x00, "#NULL!" }, { 0x07, "#DIV/0!" }, { 0x0F, "#VALUE!" }, { 0x17, "#REF!" },
                  { 0x1D, "#NAME?" }, { 0x24, "#NUM!" },   { 0x2A, "#N/A" } };

    for (size_t i = 0; i < TB_COUNT(error); i++)
        if (error[i].code == code)
            return error[i].words;
    return "#?";
}

static void add_truth(struct rows *r, const unsigned char *p, bool is_error, unsigned value)
{
    add_words(r, p, is_error ? error_words(value) : value ? "TRUE" : "FALSE");
}

/* What the formula came to when the workbook was written. */
static void add_formula(struct rows *r, const unsigned char *p)
{
    const unsigned char *v = p + 6;

    if (tb_u16(v + 6) != 0xFFFF)
        add_number(r, p, f64(v));
    else if (v[0] == 1 || v[0] == 2)
        add_truth(r, p, v[0] == 2, v[2]);
    else
        r->text_follows = v[0] == 0;
}

/* Each kind has a length below which it is none. */
static bool take(struct rows *r, const struct tb_biff *b, const unsigned char **formula, size_t *at)
{
    static const struct {
        unsigned type;
        size_t least;
    } kind[] = {
        { TB_BIFF_LABELSST, 10 }, { TB_BIFF_LABEL, 9 },    { TB_BIFF_RSTRING, 9 },
        { TB_BIFF_NUMBER, 14 },   { TB_BIFF_RK, 10 },      { TB_BIFF_BOOLERR, 8 },
        { TB_BIFF_MULRK, 6 },     { TB_BIFF_FORMULA, 14 }, { TB_BIFF_ROW, 16 },
    };
    struct cell *c;

    for (size_t i = 0; i < TB_COUNT(kind); i++)
        if (b->type == kind[i].type && b->n < kind[i].least)
            return false;
    switch (b->type) {
    case TB_BIFF_LABELSST:
        c = add(r, b->p);
        c->kind = A_SHARED_TEXT;
        c->is.text = tb_u32(b->p + 6);
        return c->is.text < r->x->strings;
    case TB_BIFF_LABEL:
    case TB_BIFF_RSTRING:
        return add_text(r, b, 6, b->p, at);
    case TB_BIFF_NUMBER:
        add_number(r, b->p, f64(b->p + 6));
        return true;
    case TB_BIFF_ROW:
        if (b->p[12] & ROW_HIDDEN)
            r->hidden[tb_u16(b->p) / 64] |= (uint64_t)1 << tb_u16(b->p) % 64;
        return true;
    case TB_BIFF_RK:
        add_number(r, b->p, rk(b->p + 6));
        return true;
    case TB_BIFF_BOOLERR:
        add_truth(r, b->p, b->p[7] != 0, b->p[6]);
        return true;
    case TB_BIFF_MULRK:
        for (size_t i = 0; 4 + 6 * (i + 1) + 2 <= b->n; i++) {
            uint16_t column = (uint16_t)(tb_u16(b->p + 2) + i);
            const unsigned char *p = b->p + 4 + 6 * i;
            unsigned char place[6] = {
                b->p[0], b->p[1], (unsigned char)(column & 0xFF), (unsigned char)(column >> 8), p[0], p[1]
            };

            add_number(r, place, rk(p + 2));
        }
        return true;
    case TB_BIFF_FORMULA:
        *formula = b->p;
        add_formula(r, b->p);
        return true;
    case TB_BIFF_STRING:
        if (!r->text_follows)
            return true;
        r->text_follows = false;
        return add_text(r, b, 0, *formula, at);
    default:
        return true;
    }
}

/* A chart on the sheet has records of its own between a beginning and an end. */
static bool gather(struct rows *r, size_t at)
{
    const unsigned char *formula = NULL;
    struct tb_biff b;
    size_t deep = 0;
    bool good = at < r->x->stream.n && tb_biff_next(&b, r->x, &at) && b.type == TB_BIFF_BOF;

    while (good && (good = tb_biff_next(&b, r->x, &at)) && (b.type != TB_BIFF_EOF || deep)) {
        if (b.type == TB_BIFF_BOF)
            deep++;
        else if (b.type == TB_BIFF_EOF)
            deep--;
        else if (!deep)
            good = take(r, &b, &formula, &at);
    }
    return good;
}

static int by_place(const void *a, const void *b)
{
    const struct cell *x = a, *y = b;

    if (x->row != y->row)
        return x->row < y->row ? -1 : 1;
    if (x->column != y->column)
        return x->column < y->column ? -1 : 1;
    return x->order < y->order ? -1 : 1;
}

static void put(struct tb_row_buf *row, const struct rows *r, const struct cell *c)
{
    const char *text;

    tb_row_count(row, c->style < r->x->styles && r->x->struck[c->style]);
    if (c->kind == A_NUMBER) {
        tb_style_put(row, c->column, c->style < r->x->styles ? r->x->style[c->style] : TB_STYLE_NUMBER,
                     r->x->epoch1904, c->is.number);
        return;
    }
    text = c->kind == A_TEXT ? r->text.s + c->is.text : r->x->text.s + r->x->string[c->is.text];
    (void)tb_row_put(row, c->column, TB_CELL_TEXT, text, strlen(text), NAN);
}

tb_rc tb_xls_rows(const struct tb_xls *x, const struct tb_xls_sheet *sheet, const struct tb_sheet_sink *sink,
                  struct tb_err *err)
{
    struct rows r = { .x = x };
    struct tb_row_buf row = { 0 };
    tb_rc rc = TB_OK;

    if (!gather(&r, sheet->at))
        rc = tb_fail(err, TB_EFORMAT, "the sheet '%s' of the workbook cannot be read; it is damaged",
                     sheet->name);
    else if (r.n)
        qsort(r.cell, r.n, sizeof *r.cell, by_place);
    for (size_t i = 0; rc == TB_OK && i < r.n;) {
        uint16_t line = r.cell[i].row;

        tb_row_begin(&row);
        if (r.hidden[line / 64] & (uint64_t)1 << line % 64)
            row.look = TB_ROW_HIDDEN;
        for (; i < r.n && r.cell[i].row == line; i++)
            put(&row, &r, &r.cell[i]);
        if (row.cells)
            rc = tb_row_emit(&row, line + 1u, sink, err);
    }
    tb_row_free(&row);
    tb_text_free(&r.text);
    free(r.cell);
    return rc;
}
