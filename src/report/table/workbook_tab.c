/* workbook_tab.c - the rows of a sheet: begun, ended, on the next worksheet when one is full. */
#include "report/table/workbook_impl.h"

#include <assert.h>
#include <stdlib.h>

#define PIECE_BYTES_MOST 3000000000.0 /* of XML, so that no part of the file outgrows 32 bits */
#define LOOK_EVERY 16384              /* rows between two looks at the size */
#define LINE_POINTS 13.5              /* height of a line of the body */
#define GROUP_POINTS 18.0             /* of a heading among the records */
#define LINES_MOST 30                 /* a row of a spreadsheet is at most 409 points high */

size_t tb_tab_rows(const struct tb_tab *s)
{
    return s->rows;
}

void tb_tab_note(struct tb_tab *s, tb_rc rc)
{
    if (s->rc == TB_OK)
        s->rc = rc;
}

void tb_tab_take(struct tb_tab *s, lxw_error e)
{
    if (e && s->rc == TB_OK)
        tb_tab_note(s, tb_lxw(&s->fault, e, s->w->file->path));
}

struct piece *tb_tab_here(struct tb_tab *s)
{
    return &s->piece[s->pieces - 1];
}

/* Looked at now and then only: asking the file for its size at every row would be slow. */
static bool full(struct tb_tab *s)
{
    struct piece *p = tb_tab_here(s);
    size_t have = (size_t)(s->row - p->first);

    if (s->plan.layout != TB_LAYOUT_LIST || s->rc != TB_OK)
        return false;
    if (have >= tb_piece_room(s))
        return true;
    return have && have % LOOK_EVERY == 0 && p->ws->optimize_tmpfile &&
           (double)ftello(p->ws->optimize_tmpfile) > PIECE_BYTES_MOST;
}

void tb_tab_row_begin(struct tb_tab *s)
{
    if (full(s)) {
        tb_rc rc = tb_piece_end(s, true, &s->fault);

        if (rc == TB_OK)
            rc = tb_piece_begin(s, &s->fault);
        tb_tab_note(s, rc);
    }
    if (s->plan.layout == TB_LAYOUT_FORM && s->csv)
        tb_csv_text(s->csv, true, s->section ? s->section : "");
}

/* How many lines a page holds is known only where the program that prints does not choose their height. */
static void set_height(struct tb_tab *s, double points)
{
    tb_tab_take(s, worksheet_set_row(tb_tab_here(s)->ws, s->row, points, NULL));
}

/*
 * Faults of all its cells come up here, once and with the row named; a full disk is seen as soon as the stream says so.
 */
tb_rc tb_tab_row(struct tb_tab *s, struct tb_err *err)
{
    struct piece *p;

    while (s->at < s->plan.columns)
        tb_put_none(s);
    s->at = 0;
    if (s->csv)
        tb_csv_line(s->csv);
    p = tb_tab_here(s);
    if (s->plan.grouped)
        set_height(s, LINE_POINTS);
    if (s->lines > 1)
        tb_tab_take(s, worksheet_set_row(
                           p->ws, s->row,
                           LINE_POINTS * (double)(s->lines < LINES_MOST ? s->lines : LINES_MOST), NULL));
    s->lines = 0;
    if (!s->summing) {
        p->last = s->row;
        s->rows++;
    }
    s->row++;
    if (s->summing)
        s->csv = s->twin ? s->twin->f : NULL;
    s->summing = false;
    if (s->rc == TB_OK && p->ws->optimize_tmpfile && ferror(p->ws->optimize_tmpfile))
        tb_tab_note(s, tb_fail(&s->fault, TB_EIO, "the disk is full or failed"));
    if (s->rc == TB_OK && s->csv && ferror(s->csv))
        tb_tab_note(s, tb_fail(&s->fault, TB_EIO, "the disk is full or failed"));
    if (s->rc == TB_OK)
        return TB_OK;
    *err = s->fault;
    return tb_within(err, s->rc, "sheet %s, row %lu", p->tab, (unsigned long)s->row);
}

/* The heading runs over all columns, so that its rule does. */
tb_rc tb_tab_section(struct tb_tab *s, const char *heading, struct tb_err *err)
{
    struct look l = { .role = LOOK_SECTION };
    lxw_worksheet *ws = tb_tab_here(s)->ws;
    lxw_error e = LXW_NO_ERROR;

    assert(s->plan.layout == TB_LAYOUT_FORM && s->at == 0 && !s->ended);
    free(s->section);
    s->section = tb_strdup(tb_tab_clean(s, heading));
    s->row++; /* a line of air */
    for (size_t i = 0; i < s->plan.columns && !e; i++)
        e = i == 0 ? worksheet_write_string(ws, s->row, 0, s->section, tb_look(s->w, &l))
                   : worksheet_write_blank(ws, s->row, (lxw_col_t)i, tb_look(s->w, &l));
    s->row++;
    return tb_lxw(err, e, s->w->file->path);
}

/* --- between the records of a list ----------------------------------------------------------------------------- */

tb_rc tb_tab_group(struct tb_tab *s, const char *heading, struct tb_err *err)
{
    struct look l = { .role = LOOK_SECTION };
    size_t wide = s->plan.printed ? s->plan.printed : s->plan.columns;
    lxw_worksheet *ws = tb_tab_here(s)->ws;
    lxw_error e = LXW_NO_ERROR;

    assert(s->plan.grouped && s->at == 0 && !s->ended);
    for (size_t i = 0; i < wide && !e; i++)
        e = i == 0 ? worksheet_write_string(ws, s->row, 0, tb_tab_clean(s, heading), tb_look(s->w, &l))
                   : worksheet_write_blank(ws, s->row, (lxw_col_t)i, tb_look(s->w, &l));
    set_height(s, GROUP_POINTS);
    s->row++;
    return tb_lxw(err, e, s->w->file->path);
}

/* Its cells are those of a row, but for the twin, which holds records alone. */
void tb_tab_sum(struct tb_tab *s)
{
    assert(s->plan.grouped && s->at == 0);
    s->summing = true;
    s->csv = NULL;
}

tb_rc tb_tab_remark(struct tb_tab *s, const char *words, struct tb_err *err)
{
    struct look l = { .role = LOOK_NOTE };
    lxw_error e;

    assert(s->plan.grouped && s->at == 0);
    e = worksheet_write_string(tb_tab_here(s)->ws, s->row, 0, tb_tab_clean(s, words), tb_look(s->w, &l));
    tb_tab_space(s, 1);
    return tb_lxw(err, e, s->w->file->path);
}

void tb_tab_space(struct tb_tab *s, size_t rows)
{
    assert(s->plan.grouped && s->at == 0);
    for (; rows > 0; rows--, s->row++)
        set_height(s, LINE_POINTS);
}

size_t tb_tab_next(const struct tb_tab *s)
{
    return (size_t)(s->row - s->piece[s->pieces - 1].first);
}

#define BREAKS_MOST 1023

void tb_tab_break(struct tb_tab *s)
{
    if (!s->page)
        s->page = tb_array(lxw_row_t, BREAKS_MOST + 1);
    if (s->pages < BREAKS_MOST)
        s->page[s->pages++] = s->row;
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
    tb_text_free(&s->scratch);
    free(s->piece);
    free(s->page);
    free(s->section);
    free(s->col);
    free(s);
}
