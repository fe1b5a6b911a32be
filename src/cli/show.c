/* What several commands print: tables in columns, and the sentences they share. */
#include "cli/show.h"

#include "cli/screen.h"
#include "tenterbook/date.h"
#include "tenterbook/utf8.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#define FOLD_INDENT 4 /* columns a row that goes on below is set in */

tb_rc tb_print_json(struct tb_ctx *ctx, json_t *json, struct tb_err *err)
{
    int bad = json_dumpf(json, ctx->out, JSON_INDENT(1) | JSON_REAL_PRECISION(17));

    json_decref(json);
    return bad || fputc('\n', ctx->out) == EOF ? tb_fail(err, TB_EIO, "the output could not be written")
                                               : TB_OK;
}

#define LOT(member, key) TB_JSON_AS(struct tb_lot, member, key)
TB_JSON_MEMBERS(lot_members, LOT(ref, "lot"), LOT(delivery_ref, "delivery"), LOT(arrived, "arrived"),
                LOT(supplier_name, "supplier"), LOT(article, "article"), LOT(colour, "colour"),
                LOT(dye_lot, "dye_lot"), LOT(origin, "origin"), LOT(unit_price, "unit_price"),
                LOT(currency, "currency"), LOT(bolts, "bolts"), LOT(bolts_burnt, "bolts_burnt"),
                LOT(burns, "burns"), LOT(metres, "metres"), LOT(declared, "declared"),
                LOT(reading, "reading"), LOT(clear, "clear"), LOT(doubts, "doubts"),
                TB_JSON_SOME_WORD_AS(struct tb_lot, verdict, "verdict", &tb_verdict_words),
                LOT(log_ratio, "log_ratio"),
                TB_JSON_WORD_AS(struct tb_lot, standing, "standing", &tb_standing_words));

json_t *tb_json_lot(const struct tb_lot *lot)
{
    return tb_json_of(lot_members, lot);
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

void tb_table_print(struct tb_table *t, FILE *out, const char *align, size_t widest)
{
    size_t *width = tb_array(size_t, t->columns + 1), screen = tb_screen_columns();
    bool *begins = tb_array(bool, t->columns + 1);
    struct tb_text line = { 0 };

    for (size_t i = 0; i < t->cells; i++) {
        size_t w;

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

tb_rc tb_opt_moment(const char **out, const struct tb_ctx *ctx, const char *name, struct tb_arena *mem,
                    struct tb_err *err)
{
    char option[32];

    (void)snprintf(option, sizeof option, "--%s", name);
    return tb_past_moment(out, option, tb_opt(ctx, name), mem, err);
}

tb_rc tb_opt_day(const char **out, const struct tb_ctx *ctx, const char *name, struct tb_err *err)
{
    const char *text = tb_opt(ctx, name);

    if (text && !tb_day_valid(text))
        return tb_fail(err, TB_EINVAL, "--%s is '%s'; it takes a day like 2026-10-05", name, text);
    if (text)
        *out = text;
    return TB_OK;
}

tb_rc tb_ctx_begin(struct tb_ctx *ctx, const char *verb, struct tb_err *err)
{
    return tb_book_begin(ctx->book, ctx->who, verb, err);
}
