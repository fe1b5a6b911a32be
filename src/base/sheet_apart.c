/* sheet_apart.c - rows of a workbook out of a process apart: put together there, checked here as if a stranger sent them. */
#include "base/apart.h"
#include "base/sheet_in.h"
#include "tenterbook/utf8.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* A part is one sheet or one row, told by its first byte. */
enum { A_SHEET = 'S', A_ROW = 'R' };

struct reading {
    FILE *f;
    tb_sheet_reader *read;
    const struct tb_sheet_sink *sink;
    /* in the child */
    struct tb_apart *to;
    struct tb_text part;
    /* in the parent */
    struct tb_row_buf row;
    char *name; /* of the sheet, for as long as its rows come */
};

struct sheet_head {
    uint64_t number;
    uint32_t kind, hidden, name_n, beside;
};
struct row_head {
    uint64_t line;
    uint32_t cells, look;
};
struct cell_head {
    uint32_t type, n;
    double number;
};

/* --- in the child ----------------------------------------------------------------------------------------------- */

static tb_rc send_sheet(void *arg, const struct tb_sheet *sheet, bool *skip, struct tb_err *err)
{
    struct reading *r = arg;
    const struct sheet_head head = { sheet->number, sheet->kind, sheet->hidden, (uint32_t)strlen(sheet->name),
                                     sheet->beside };

    (void)err;
    tb_text_clear(&r->part);
    tb_text_addc(&r->part, A_SHEET);
    tb_piece_add(&r->part, &head, sizeof head);
    tb_piece_add(&r->part, sheet->name, head.name_n);
    *skip = tb_apart_ask(r->to, r->part.s, r->part.n);
    return TB_OK;
}

static tb_rc send_row(void *arg, const struct tb_row *row, struct tb_err *err)
{
    struct reading *r = arg;
    const struct row_head head = { row->line, (uint32_t)row->n, row->look };

    tb_text_clear(&r->part);
    tb_text_addc(&r->part, A_ROW);
    tb_piece_add(&r->part, &head, sizeof head);
    for (size_t i = 0; i < row->n; i++) {
        const struct tb_cell *c = &row->cell[i];
        const struct cell_head cell = { c->type, (uint32_t)strlen(c->text), c->number };

        tb_piece_add(&r->part, &cell, sizeof cell);
        tb_piece_add(&r->part, c->text, cell.n);
        if (r->part.n > TB_APART_PART_MOST)
            return tb_fail(err, TB_EFORMAT, "row %zu has more than %u bytes", row->line, TB_APART_PART_MOST);
    }
    tb_apart_send(r->to, r->part.s, r->part.n);
    return TB_OK;
}

static tb_rc in_child(struct tb_apart *to, void *arg, struct tb_err *err)
{
    struct reading *r = arg;
    const struct tb_sheet_sink sink = { r->sink->sheet ? send_sheet : NULL, send_row, r, NULL };
    tb_rc rc;

    r->to = to;
    rc = r->read(r->f, &sink, err);
    tb_text_free(&r->part);
    return rc;
}

/* --- in the parent ---------------------------------------------------------------------------------------------- */

static tb_rc no_row(struct tb_err *err)
{
    return tb_fail(err, TB_EFORMAT, "what was read of the workbook is not a table; it is damaged or hostile");
}

static tb_rc take_sheet(struct reading *r, struct tb_piece *p, bool *skip, struct tb_err *err)
{
    struct sheet_head head;
    struct tb_sheet sheet;
    const char *name;

    if (!tb_piece_take(p, &head, sizeof head) || head.kind > TB_SHEET_PAPER || !r->sink->sheet ||
        !(name = tb_piece_bytes(p, head.name_n)) || p->left || memchr(name, '\0', head.name_n) ||
        !tb_utf8_valid(name, head.name_n))
        return no_row(err);
    free(r->name);
    r->name = tb_strndup(name, head.name_n);
    sheet = (struct tb_sheet){ .kind = (enum tb_sheet_kind)head.kind,
                               .name = r->name,
                               .number = (size_t)head.number,
                               .hidden = head.hidden != 0,
                               .beside = head.beside != 0,
                               .encoding = "UTF-8" };
    return r->sink->sheet(r->sink->arg, &sheet, skip, err);
}

/* Is a cell what its type says? Its text is cleaned and trimmed once more where the row is put together. */
static bool is_cell(const struct cell_head *c, const char *text)
{
    if (memchr(text, '\0', c->n) || !tb_utf8_valid(text, c->n))
        return false;
    switch (c->type) {
    case TB_CELL_EMPTY:
        return c->n == 0;
    case TB_CELL_TEXT:
        return isnan(c->number);
    case TB_CELL_NUMBER:
    case TB_CELL_DAY:
        return !isinf(c->number);
    default:
        return false;
    }
}

static tb_rc take_row(struct reading *r, struct tb_piece *p, struct tb_err *err)
{
    struct row_head head;
    struct cell_head cell;
    const char *text;

    if (!tb_piece_take(p, &head, sizeof head) || head.cells > TB_SHEET_COLUMNS_MOST || head.line == 0 ||
        head.line > TB_SHEET_ROWS_MOST || head.look > TB_ROW_STRUCK)
        return no_row(err);
    tb_row_begin(&r->row);
    r->row.look = (enum tb_row_look)head.look;
    for (size_t i = 0; i < head.cells; i++)
        if (!tb_piece_take(p, &cell, sizeof cell) || cell.n > TB_SHEET_FIELD_MOST ||
            !(text = tb_piece_bytes(p, cell.n)) || !is_cell(&cell, text) ||
            !tb_row_put(&r->row, i, (enum tb_cell_type)cell.type, text, cell.n, cell.number))
            return no_row(err);
    return p->left ? no_row(err) : tb_row_emit(&r->row, (size_t)head.line, r->sink, err);
}

static tb_rc take(void *arg, const unsigned char *part, size_t n, bool *yes, struct tb_err *err)
{
    struct tb_piece p = { part, n };
    unsigned char kind;

    if (!tb_piece_take(&p, &kind, 1))
        return no_row(err);
    if (kind == A_SHEET)
        return take_sheet(arg, &p, yes, err);
    return kind == A_ROW ? take_row(arg, &p, err) : no_row(err);
}

tb_rc tb_sheet_apart(FILE *f, const struct tb_foreign *kind, const struct tb_sheet_sink *sink,
                     struct tb_err *err)
{
    struct reading r = { .f = f, .read = kind->read, .sink = sink };
    const struct tb_apart_job job = {
        .read = in_child, .take = take, .arg = &r, .file = fileno(f), .before = kind->before
    };
    tb_rc rc = tb_apart(&job, err);

    tb_row_free(&r.row);
    free(r.name);
    return rc;
}
