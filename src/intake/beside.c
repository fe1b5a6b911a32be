/* beside.c - tables side by side (Roll, Metres, Roll, Metres): their rows are handed on table by table. */
#include "intake/beside.h"

#include "intake/rows.h"

#include <stdlib.h>
#include <string.h>

static bool same_cell(const struct tb_row *row, size_t a, size_t b)
{
    if (!tb_row_filled(row, a) || !tb_row_filled(row, b))
        return !tb_row_filled(row, a) && !tb_row_filled(row, b);
    return strcmp(row->cell[a].text, row->cell[b].text) == 0;
}

static bool has_length(const struct tb_header_words *w, const struct tb_row *row, size_t from, size_t to)
{
    for (size_t i = from; i < to; i++) {
        struct tb_word_hit hit[TB_HITS_MOST];
        size_t n = tb_row_filled(row, i) ? tb_header_words_find(w, row->cell[i].text, hit) : 0;

        for (size_t k = 0; k < n; k++)
            if (hit[k].field == TB_FIELD_LENGTH || hit[k].field == TB_FIELD_WEIGHT_NET)
                return true;
    }
    return false;
}

/* From column `from` on the same words stand again and again, `width` columns apart, to the end of the row. */
static bool repeats(const struct tb_row *row, size_t from, size_t width, size_t end)
{
    size_t words = 0;

    for (size_t i = from; i < from + width; i++)
        words += tb_row_filled(row, i);
    if (words < 2)
        return false;
    for (size_t i = from + width; i < end; i++)
        if (!same_cell(row, i, i - width))
            return false;
    /* an empty column may stand between the tables and not behind the last */
    return (end - from + width - 1) / width >= 2 && (end - from) % width != 1;
}

static struct tb_row copy_of(struct tb_beside *b, const struct tb_row *row)
{
    struct tb_cell *cell = tb_arena_alloc(&b->mem, (row->n + 1) * sizeof *cell);

    for (size_t i = 0; i < row->n; i++) {
        cell[i] = row->cell[i];
        cell[i].text = tb_arena_strdup(&b->mem, row->cell[i].text);
    }
    return (struct tb_row){ row->line, cell, row->n, row->look };
}

void tb_beside_head(struct tb_beside *b, const struct tb_row *row)
{
    TB_PUSH_ROOM(b->head, b->heads, b->head_cap);
    b->head[b->heads++] = copy_of(b, row);
}

/* A header of tables side by side; their number, 0: it is none. */
static size_t look(struct tb_beside *b, const struct tb_header_words *w, const struct tb_row *row)
{
    struct tb_header_look k;
    size_t end = row->n < TB_COLUMNS_MOST ? row->n : TB_COLUMNS_MOST;

    while (end && !tb_row_filled(row, end - 1))
        end--;
    if (end < 4 ||
        tb_row_has_figures(row)) /* most rows are of bolts, and none of them is looked at word by word */
        return 0;
    tb_header_look_at(&k, w, row);
    if (k.figures || k.known < 2)
        return 0;
    for (size_t from = 0; from + 4 <= end; from++)
        for (size_t width = 2; tb_row_filled(row, from) && from + 2 * width <= end + 1; width++)
            if (repeats(row, from, width, end) && has_length(w, row, from, from + width)) {
                *b = (struct tb_beside){ .common = from, .width = width, .cells = end };
                return b->tables = (end - from + width - 1) / width;
            }
    return 0;
}

static tb_rc hand_on(struct tb_list_reader *r, const struct tb_row *row, struct tb_err *err)
{
    return r->second_pass ? tb_take_row(r, row, err) : tb_learn_row(r, row, err);
}

bool tb_beside_part(struct tb_cell cell[TB_COLUMNS_MOST], struct tb_row *out, const struct tb_beside *b,
                    const struct tb_row *row, size_t t)
{
    bool any = false;

    *out = (struct tb_row){ row->line, cell, b->common + b->width, row->look };
    for (size_t i = 0; i < out->n; i++) {
        size_t from = i < b->common ? i : i + t * b->width;

        cell[i] = from < row->n ? row->cell[from] : (struct tb_cell){ TB_CELL_EMPTY, "", 0 };
        any = any || (i >= b->common && cell[i].type != TB_CELL_EMPTY);
    }
    return any;
}

/* What heads one of the tables is not said of the next: each begins with what stood above all of them. */
static void from_above(struct tb_beside *b, struct tb_list_rows *s)
{
    if (!b->kept) {
        memcpy(b->carry, s->carry, sizeof b->carry);
        memcpy(b->from_heading, s->from_heading, sizeof b->from_heading);
        b->kept = true;
    }
    memcpy(s->carry, b->carry, sizeof b->carry);
    memcpy(s->from_heading, b->from_heading, sizeof b->from_heading);
    memset(s->fresh, 0, sizeof s->fresh);
    s->heads = 0;
}

/* The rows that were held back: those of the first table, then those of the second, as they are read. */
static tb_rc flush(struct tb_list_reader *r, struct tb_err *err)
{
    struct tb_beside *b = r->beside;
    struct tb_cell cell[TB_COLUMNS_MOST];
    tb_rc rc = TB_OK;

    for (size_t t = 0; t < b->tables; t++) {
        r->beside_from = b->common;
        r->beside_shift = t * b->width;
        if (r->second_pass && r->now)
            tb_sum_mark(r->rows);
        if (r->second_pass && b->heads && b->rows)
            from_above(b, r->rows);
        for (size_t i = 0; i < b->heads + b->rows && rc == TB_OK && b->rows; i++) {
            const struct tb_row *row = i < b->heads ? &b->head[i] : &b->row[i - b->heads];
            struct tb_row one;

            if (!tb_beside_part(cell, &one, b, row, t))
                continue;
            if (r->second_pass && r->now)
                tb_beside_name_total(cell, &one, r, row, t);
            rc = hand_on(r, &one, err);
        }
    }
    r->beside_shift = 0;
    b->headed = b->rows ? b->heads : b->headed;
    b->rows = 0;
    return rc;
}

static void hold_back(struct tb_beside *b, const struct tb_row *row)
{
    TB_PUSH_ROOM(b->row, b->rows, b->cap);
    b->row[b->rows++] = copy_of(b, row);
}

/* Such a row stands before the rows of each table until their next header. */
static tb_rc take_heads(struct tb_list_reader *r, const struct tb_row *row, struct tb_err *err)
{
    tb_rc rc = flush(r, err);

    tb_beside_head(r->beside, row);
    return rc;
}

/* A row of figures in the tables; any other ends what was held back, and is one row. */
static bool is_body(const struct tb_beside *b, const struct tb_row *row)
{
    for (size_t i = b->common; i < row->n && i < b->cells + b->width; i++) {
        struct tb_figure f;

        if (row->cell[i].type == TB_CELL_NUMBER ||
            (row->cell[i].type == TB_CELL_TEXT && row->cell[i].text[0] >= '0' &&
             row->cell[i].text[0] <= '9' && tb_figure_scan(&f, row->cell[i].text)))
            return !tb_row_alone(row);
    }
    return false;
}

/* Cells behind the last table belong to none: something in the row has moved. A unit behind the last figure has not. */
static bool refuse_more(struct tb_list_reader *r, const struct tb_row *row)
{
    const struct tb_beside *b = r->beside;

    for (size_t i = b->common + b->tables * b->width; i < row->n; i++)
        if (row->cell[i].type != TB_CELL_EMPTY && !tb_header_is_unit(row->cell[i].text) && r->second_pass &&
            r->now) {
            tb_row_bad(
                r, row, NULL,
                "'%s' stands behind the last of the tables side by side; a cell of the row may be one too "
                "many, or hold the sign between cells without quotation marks",
                tb_store_brief(r->list->store, row->cell[i].text));
            return true;
        }
    return false;
}

/* A row of figures under the tables: held back with theirs, or read when all of them were. */
static tb_rc take_figures(struct tb_list_reader *r, const struct tb_row *row, struct tb_err *err)
{
    bool under = r->second_pass && r->now && r->beside->rows;
    struct tb_cell cell[TB_COLUMNS_MOST];
    struct tb_row one;
    size_t t = under ? tb_beside_total(cell, &one, r, row) : SIZE_MAX;
    tb_rc rc;

    if (t == SIZE_MAX) {
        hold_back(r->beside, row);
        return TB_OK;
    }
    if ((rc = flush(r, err)) != TB_OK)
        return rc;
    r->beside_shift = t * r->beside->width;
    rc = hand_on(r, &one, err);
    r->beside_shift = 0;
    return rc;
}

static void free_one(struct tb_beside **one)
{
    if (*one) {
        tb_arena_free(&(*one)->mem);
        free((*one)->row);
        free((*one)->head);
        free(*one);
    }
    *one = NULL;
}

void tb_beside_free(struct tb_list_reader *r)
{
    free_one(&r->beside);
    free_one(&r->above);
}

/* Rows that waited for a header of tables side by side, which did not come. */
static tb_rc let_go(struct tb_list_reader *r, struct tb_err *err)
{
    struct tb_beside *above = r->above;
    tb_rc rc = TB_OK;

    r->above = NULL;
    for (size_t i = 0; above && i < above->rows && rc == TB_OK; i++)
        rc = hand_on(r, &above->row[i], err);
    free_one(&above);
    return rc;
}

tb_rc tb_beside_end(struct tb_list_reader *r, struct tb_err *err)
{
    tb_rc rc = let_go(r, err);

    if (rc == TB_OK && r->beside)
        rc = flush(r, err);
    tb_beside_free(r);
    return rc;
}

/* The header of other tables; headings below the rows of those before are theirs. */
static tb_rc begin(struct tb_list_reader *r, const struct tb_beside *found, const struct tb_row *row,
                   struct tb_err *err)
{
    struct tb_beside *before = r->beside, *above = r->above;
    struct tb_cell cell[TB_COLUMNS_MOST];
    struct tb_row one;
    tb_rc rc = before ? flush(r, err) : TB_OK;

    r->beside = tb_new(struct tb_beside);
    *r->beside = *found;
    r->above = NULL;
    for (size_t i = before ? before->headed : 0; before && i < before->heads; i++)
        tb_beside_head(r->beside, &before->head[i]);
    free_one(&before);
    if (rc == TB_OK && above)
        rc = tb_beside_sort(r, above, hand_on, err);
    free_one(&above);
    (void)tb_beside_part(cell, &one, r->beside, row, 0);
    return rc == TB_OK ? hand_on(r, &one, err) : rc;
}

/* A row waits where it may be a heading of tables whose header is still to come. */
static bool waits(struct tb_list_reader *r, const struct tb_row *row)
{
    if (!tb_beside_may_head(r->above, row) || (r->now && tb_cell_filled(row, r->now->of[TB_FIELD_LENGTH])))
        return false;
    if (!r->above)
        r->above = tb_new(struct tb_beside);
    hold_back(r->above, row);
    return true;
}

tb_rc tb_beside_row(struct tb_list_reader *r, const struct tb_row *row, struct tb_err *err)
{
    struct tb_beside found;
    struct tb_header_look k;
    tb_rc rc;

    if (look(&found, r->words, row))
        return begin(r, &found, row, err);
    if (!r->beside) {
        if (waits(r, row))
            return TB_OK;
        rc = let_go(r, err);
        return rc == TB_OK ? hand_on(r, row, err) : rc;
    }
    if (is_body(r->beside, row))
        return refuse_more(r, row) ? TB_OK : take_figures(r, row, err);
    if (tb_beside_heads_each(r, row))
        return take_heads(r, row, err);
    tb_header_look_at(&k, r->words, row);
    if (tb_header_is(&k)) /* another table, alone */
        rc = tb_beside_end(r, err);
    else
        rc = flush(r, err);
    if (r->beside)
        r->beside->kept = false;
    return rc == TB_OK ? hand_on(r, row, err) : rc;
}
