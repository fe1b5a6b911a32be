/*
 * not_come.c - bolts that a list holds and that may not have come: below a heading that says so, or in rows that the workbook does not
 * show or strikes through. One question for all of a kind.
 */
#include "intake/rows.h"

#include "base/say.h"
#include "intake/remark_words.h"

#include <string.h>

#define LINES_NAMED 6 /* of the rows that a workbook does not show */

static bool said_line(const struct tb_list_reader *r, size_t line,
                      bool (*said)(const struct tb_list_reader *, const struct tb_row *))
{
    return said(r, &(struct tb_row){ .line = line });
}

/* "Sent with our note 4711" above the goods of note 4711: they came. */
static bool names_own_note(const struct tb_list_reader *r, const char *text)
{
    const char *note = r->opts->note ? r->opts->note : r->rows->last_note, *at = note && *note ? text : NULL;
    size_t n = at ? strlen(note) : 0;

    while (at && (at = strstr(at, note)) && strcspn(at + n, "0123456789") == 0)
        at++;
    return at != NULL;
}

/* The words of a row that say whether the goods below it came; NULL: there are none. */
static const char *words_above(enum tb_words_above *is, const struct tb_list_reader *r,
                               const struct tb_row *row)
{
    for (size_t i = 0; i < row->n && i < TB_COLUMNS_MOST; i++) {
        const char *text = row->cell[i].text;

        *is = row->cell[i].type == TB_CELL_TEXT ? tb_words_heading(text) : TB_ABOVE_NOTHING;
        if (*is == TB_ABOVE_EARLIER && names_own_note(r, text))
            *is = TB_ABOVE_CAME;
        if (*is != TB_ABOVE_NOTHING)
            return text;
    }
    return NULL;
}

/* A label of the goods with its value: it is read as well. */
static bool is_labelled(struct tb_list_reader *r, const struct tb_row *row)
{
    struct tb_heads h = { 0 };

    return tb_heads_take(&h, r->words, r->list->store, row) > 0;
}

/* No bolt of the list, and no length: words that stand above what follows. */
static bool is_heading(const struct tb_list_reader *r, const struct tb_row *row)
{
    const struct tb_cell *number = tb_cell_at(row, r->now->of[TB_FIELD_BOLT]);
    size_t cells = tb_row_cells(row);

    return cells && cells <= 2 && !tb_cell_filled(row, r->now->of[TB_FIELD_LENGTH]) &&
           !(number && number->type && tb_number_like(&r->now->habit, number->text) > TB_NUMBER_STRANGE);
}

bool tb_not_come_heading(struct tb_list_reader *r, const struct tb_row *row)
{
    struct tb_not_come *b = &r->rows->below_words;
    enum tb_words_above is = TB_ABOVE_NOTHING;
    const char *words = is_heading(r, row) ? words_above(&is, r, row) : NULL;
    bool labelled;

    if (is == TB_ABOVE_CAME) {
        tb_not_come_end(r);
        return false;
    }
    if (!words && !b->labelled)
        return false;
    if (!is_heading(r, row))
        return false;
    labelled = is_labelled(r, row);
    if (!words && !labelled)
        return false;
    tb_not_come_end(r);
    if (!words)
        return false;
    *b = (struct tb_not_come){ .said = tb_store_text(r->list->store, words),
                               .at = tb_row_place(r, row),
                               .line = row->line,
                               .labelled = labelled,
                               .counted_above = is != TB_ABOVE_UNCLEAR && r->rows->file.bolts &&
                                                r->rows->whole_total == r->rows->file.bolts };
    return !labelled && row->line < r->now->last_length;
}

/* One more bolt of which it is not known. */
static void add(struct tb_list_reader *r, const struct tb_row *row, struct tb_not_come *b)
{
    double v = tb_length_metres(r, row, tb_cell_at(row, r->now->of[TB_FIELD_LENGTH]));

    b->first = b->bolts ? b->first : row->line;
    b->last = row->line;
    b->bolts++;
    tb_pend(r->rows, b->q, row->line, v, true);
}

/* Below such a heading. */
static bool left_out_below(struct tb_list_reader *r, const struct tb_row *row)
{
    struct tb_not_come *b = &r->rows->below_words;

    if (!b->said || tb_said_bolt(r, row) || said_line(r, b->line, tb_said_bolt))
        return false;
    if (said_line(r, b->line, tb_said_total)) {
        b->left_out++;
        return true;
    }
    if (!b->bolts) {
        b->q = tb_list_ask(r->list, b->line, "line %zu says '%s' above bolts", b->line, b->said);
        tb_list_answer(r->list, b->q, "total-line", b->at);
        tb_list_answer(r->list, b->q, "bolt-line", b->at);
        if (b->q)
            b->q->open = !b->counted_above;
    }
    add(r, row, b);
    return false;
}

static void say_below(struct tb_list_reader *r, const struct tb_not_come *b)
{
    struct tb_text t = { 0 };

    if (b->left_out)
        tb_list_say(r->list,
                    b->left_out == 1 ? "line %zu says '%s', and the %zu bolt below it is left out"
                                     : "line %zu says '%s', and the %zu bolts below it are left out",
                    b->line, tb_store_brief(r->list->store, b->said), b->left_out);
    if (!b->q)
        return;
    if (b->bolts == 1)
        tb_text_say(
            &t,
            "line %zu says '%s' above %zu bolt (line %zu): say --total-line %s if it did not come and is "
            "to be left out, --bolt-line %s if it came",
            b->line, tb_store_brief(r->list->store, b->said), b->bolts, b->first, b->at, b->at);
    else
        tb_text_say(
            &t,
            "line %zu says '%s' above %zu bolts (lines %zu to %zu): say --total-line %s if they did not "
            "come and are to be left out, --bolt-line %s if they came",
            b->line, tb_store_brief(r->list->store, b->said), b->bolts, b->first, b->last, b->at, b->at);
    b->q->ask = tb_store_keep(r->list->store, tb_text_str(&t), t.n);
    tb_text_free(&t);
}

void tb_not_come_end(struct tb_list_reader *r)
{
    if (r->rows->below_words.said)
        say_below(r, &r->rows->below_words);
    r->rows->below_words = (struct tb_not_come){ 0 };
}

void tb_not_come_total(struct tb_list_reader *r, struct tb_list_sum sum)
{
    struct tb_list_rows *s = r->rows;
    struct tb_not_come *b = &s->below_words;

    if (sum.bolts != s->file.bolts && sum.bolts != s->sheet.bolts)
        return;
    s->whole_total = s->file.bolts;
    if (b->q && b->bolts) { /* it counts them: nobody knows */
        tb_answer_first(b->q, false);
        b->q->open = true;
    }
}

/* What is answered once for all rows that a workbook hides, or strikes through. */
static const struct {
    const char *option, *left_one, *left, *ask_one, *ask;
} look[] = {
    { "hidden-rows", N_("%zu bolt stands in a row that the workbook does not show (%s), and is left out"),
      N_("%zu bolts stand in rows that the workbook does not show (%s), and are left out"),
      N_("%zu bolt stands in a row that the workbook does not show (%s): say --hidden-rows leave if it did "
         "not "
         "come and is to be left out, --hidden-rows take if it came"),
      N_("%zu bolts stand in rows that the workbook does not show (%s): say --hidden-rows leave if they did "
         "not "
         "come and are to be left out, --hidden-rows take if they came") },
    { "struck-rows", N_("%zu bolt stands in a row that is struck through (%s), and is left out"),
      N_("%zu bolts stand in rows that are struck through (%s), and are left out"),
      N_("%zu bolt stands in a row that is struck through (%s): say --struck-rows leave if it did not come "
         "and "
         "is to be left out, --struck-rows take if it came"),
      N_("%zu bolts stand in rows that are struck through (%s): say --struck-rows leave if they did not come "
         "and "
         "are to be left out, --struck-rows take if they came") },
};

static void name_line(struct tb_list_reader *r, const struct tb_row *row, struct tb_not_come *b)
{
    size_t n = b->bolts + b->left_out;

    if (n < LINES_NAMED)
        b->said = n ? tb_store_internf(r->list->store, "%s, %s", b->said, tb_row_place(r, row))
                    : tb_row_place(r, row);
    else if (n == LINES_NAMED)
        b->said = tb_store_internf(r->list->store, "%s ...", b->said);
}

static bool left_out_unseen(struct tb_list_reader *r, const struct tb_row *row)
{
    size_t kind = row->look == TB_ROW_STRUCK;
    char way = kind ? r->opts->struck_rows : r->opts->hidden_rows;
    struct tb_not_come *b = &r->unseen[kind];

    if (row->look == TB_ROW_SHOWN || way == 't' || tb_said_bolt(r, row))
        return false;
    name_line(r, row, b);
    if (way == 'l') {
        b->left_out++;
        return true;
    }
    if (!b->bolts) {
        b->q = tb_list_ask(r->list, row->line, look[kind].ask_one, (size_t)1, b->said);
        tb_list_answer(r->list, b->q, look[kind].option, "leave");
        tb_list_answer(r->list, b->q, look[kind].option, "take");
        if (b->q)
            b->q->open = true;
    }
    add(r, row, b);
    return false;
}

void tb_unseen_end(struct tb_list_reader *r)
{
    for (size_t i = 0; i < TB_COUNT(r->unseen); i++) {
        const struct tb_not_come *b = &r->unseen[i];
        struct tb_text t = { 0 };

        if (b->left_out)
            tb_list_say(r->list, b->left_out == 1 ? look[i].left_one : look[i].left, b->left_out, b->said);
        if (!b->q)
            continue;
        tb_text_say(&t, b->bolts == 1 ? look[i].ask_one : look[i].ask, b->bolts, b->said);
        b->q->ask = tb_store_keep(r->list->store, tb_text_str(&t), t.n);
        tb_text_free(&t);
    }
}

bool tb_not_come(struct tb_list_reader *r, const struct tb_row *row)
{
    return left_out_unseen(r, row) || left_out_below(r, row);
}
