/*
 * totals.c - total rows: known by their words, their sum or their count, checked against the bolts above them, never
 * bolts. What may be either is asked about. The rule is stated in docs/intake.md.
 */
#include "intake/totals.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#define RECAP_LOTS_MOST 500 /* longer lists are not looked through for each of their bolts */

enum verdict { BOLT, TOTAL, PART, DOUBT };

/* A number of bolts, from its own column or the bolt column, where words may stand around it. */
static size_t count_in(const struct tb_list_reader *r, const struct tb_row *row, enum tb_number_like number)
{
    static const enum tb_field where[] = { TB_FIELD_COUNT, TB_FIELD_BOLT };

    for (size_t i = 0; i < TB_COUNT(where); i++) {
        const struct tb_cell *cell = tb_cell_at(row, r->now->of[where[i]]);
        const char *digits = cell && cell->type ? cell->text + strcspn(cell->text, "0123456789") : "";
        size_t n = strspn(digits, "0123456789");

        if (i == 1 && number > TB_NUMBER_STRANGE && cell && (digits != cell->text || digits[n]))
            continue; /* "A12" is a number of its own */
        if (n && n < 8 && digits[0] != '0' && !strpbrk(digits + n, "0123456789"))
            return (size_t)strtoul(digits, NULL, 10);
    }
    return 0;
}

/* Every cell is looked at, but for what a column of remarks says of a plain bolt; most repeat the cell above, whose words are known. */
static enum tb_total_word words_in(struct tb_list_reader *r, const struct tb_row *row,
                                   const struct tb_look *k)
{
    uint64_t remarks = k->number == TB_NUMBER_PLAIN && k->like ? r->now->remarks : 0;
    enum tb_total_word found = TB_TOTAL_NOT;

    for (size_t i = 0; i < row->n && i < TB_COLUMNS_MOST; i++) {
        const char *text = row->cell[i].text;
        enum tb_total_word is;

        if (row->cell[i].type != TB_CELL_TEXT || (remarks & (uint64_t)1 << i))
            continue;
        if (strcmp(r->rows->word[i].text, text) == 0) {
            is = r->rows->word[i].is;
        } else {
            is = tb_header_word_total(r->words, text);
            if (strlen(text) < TB_WORD_KEPT) {
                (void)strcpy(r->rows->word[i].text, text);
                r->rows->word[i].is = is;
            }
        }
        found = is > found ? is : found;
    }
    return found;
}

/* Where numbers start again in every dye lot, that of the bolt above is meant. */
static bool number_again(const struct tb_list_reader *r, const char *number)
{
    const struct tb_packing_list *l = r->list;
    const char *dye_lot = l->bolts ? l->lot[l->bolt[l->bolts - 1].lot].dye_lot : "";
    struct tb_text t = { 0 };
    bool found;

    if (!l->bolts)
        return false;
    if (r->opts->number_by_lot && *dye_lot)
        tb_text_addf(&t, "%s/", dye_lot);
    tb_text_add(&t, number);
    found = tb_list_find_bolt(l, r->rows->delivery, t.s) != SIZE_MAX;
    tb_text_free(&t);
    return found;
}

/* In such a list "1" may be the first bolt of any lot. */
static bool begins_at_one(const struct tb_list_reader *r)
{
    const char *first = r->list->bolts ? r->list->bolt[0].number : "";
    size_t n = strlen(first);

    return n && (first[n - 1] == '0' || first[n - 1] == '1') &&
           (n == 1 || (r->opts->number_by_lot && first[n - 2] == '/'));
}

/* "L02" below bolts of "L01": where the next lot begins, not its total. */
static bool names_new_lot(const struct tb_list_reader *r, const struct tb_row *row)
{
    const struct tb_cell *cell = tb_cell_at(row, r->now->of[TB_FIELD_LOT]);
    const struct tb_packing_list *l = r->list;

    if (!cell || !cell->type || !l->bolts ||
        !tb_number_same_shape(cell->text, l->lot[l->bolt[l->bolts - 1].lot].dye_lot))
        return false;
    for (size_t i = 0; i < l->lots; i++)
        if (strcmp(l->lot[i].dye_lot, cell->text) == 0)
            return false;
    return true;
}

/* Another supplier or note than that of the bolts above: it cannot be a total of theirs. */
static bool another_delivery(const struct tb_list_reader *r, const struct tb_row *row, bool like)
{
    const struct tb_cell *note = tb_cell_at(row, r->now->of[TB_FIELD_NOTE]);
    const struct tb_cell *supplier = tb_cell_at(row, r->now->of[TB_FIELD_SUPPLIER]);
    const struct tb_list_rows *s = r->rows;

    if (note && note->type && s->last_note && strpbrk(note->text, "0123456789") &&
        strcmp(note->text, s->last_note) != 0)
        return true;
    return like && supplier && supplier->type && s->last_supplier &&
           strcmp(supplier->text, s->last_supplier) != 0;
}

static void look_at(struct tb_look *k, struct tb_list_reader *r, const struct tb_row *row)
{
    const struct tb_cell *cell = tb_cell_at(row, r->now->of[TB_FIELD_LENGTH]);
    const struct tb_cell *number = tb_cell_at(row, r->now->of[TB_FIELD_BOLT]);

    k->numbered = r->now->of[TB_FIELD_BOLT] != NULL;
    k->number = tb_number_like(&r->now->habit, number ? number->text : "");
    k->like = tb_row_like_bolts(&k->missing, &k->steady, r->now, row);
    k->metres = cell && cell->type ? tb_length_metres(r, row, cell) : NAN;
    if (!(k->metres > 0))
        k->metres = NAN;
    k->word = words_in(r, row, k);
    k->count = count_in(r, row, k->number);
    k->another = another_delivery(r, row, k->like);
    if (k->another)
        return;
    k->sum = tb_sum_of(r->rows, k->metres, k->count);
    if (!k->sum.bolts && r->rows->pendings && (k->number <= TB_NUMBER_STRANGE || k->word)) {
        k->sum = tb_sum_pending(r->rows, k->metres, k->count);
        k->pending = k->sum.bolts > 0;
    }
    if (!k->sum.bolts && k->number <= TB_NUMBER_STRANGE && !isnan(k->metres)) {
        k->sum = tb_sum_recap(r, row, k->metres);
        k->recap = k->sum.bolts > 0;
    }
    if (!k->sum.bolts && k->number > TB_NUMBER_STRANGE && k->count && k->count <= r->list->bolts &&
        r->list->lots <= RECAP_LOTS_MOST) {
        struct tb_list_sum named = tb_sum_named(r, row, k->metres);

        if (named.bolts ==
            k->count) { /* "Twill | sand | 2 | 81.0" at the foot: its bolts, and what they add up to */
            k->sum = named;
            k->recap = true;
        }
    }
    if (number && k->number == TB_NUMBER_PLAIN && (k->word || k->sum.bolts || k->count || !k->like))
        k->again = number_again(r, number->text);
    k->from_one = begins_at_one(r);
    k->new_lot = k->sum.bolts == 1 && k->count == 1 && k->like && names_new_lot(r, row);
    k->longer = k->metres > r->rows->longest * 1.5;
    k->counts = !isnan(k->metres) && k->metres == floor(k->metres) && k->metres < 1e6 &&
                tb_sum_counts(r->rows, (size_t)k->metres);
}

/* A word for a total in a row that could be a bolt is a word of its article ("Total Eclipse"), unless figures agree. */
static enum verdict judge_word(const struct tb_look *k, const struct tb_list_rows *s)
{
    bool one = k->sum.bolts == 1 && k->count == 1; /* "Total navy | 1 | 50.0" below the only bolt of navy */
    bool agrees = k->sum.bolts >= 2 || one || (k->again && tb_sum_counts(s, k->count)) ||
                  (k->word == TB_TOTAL_ALONE && (k->again || tb_sum_counts(s, k->count)));

    if (k->number < TB_NUMBER_PLAIN && !(k->number == TB_NUMBER_ODD && k->like))
        return TOTAL;
    if (k->word == TB_TOTAL_ALONE)
        return agrees || (!k->like && isnan(k->metres)) ? TOTAL : DOUBT;
    if (!agrees)
        return k->like ? BOLT : DOUBT;
    if (one && k->like && !k->again)
        return k->number == TB_NUMBER_PLAIN && k->from_one ? DOUBT : TOTAL;
    return k->again || k->sum.bolts == k->count || !k->like ? TOTAL : DOUBT;
}

/* No number, or words where the others have figures: it cannot be a bolt of this list. */
static enum verdict judge_numberless(const struct tb_look *k)
{
    if (k->sum.bolts >= 2)
        return k->number == TB_NUMBER_STRANGE && k->like && k->count && k->count != k->sum.bolts ? DOUBT
                                                                                                 : TOTAL;
    if (k->sum.bolts == 1)
        return k->like ? DOUBT : TOTAL;
    return k->counts && !k->like ? TOTAL : DOUBT;
}

/* Nobody has a number: what the bolts above add up to, or what is unlike them, is not taken for one more. */
static enum verdict judge_unnumbered(const struct tb_look *k, const struct tb_list_rows *s)
{
    if (k->sum.bolts >= 2)
        return k->like ? DOUBT : TOTAL;
    if (k->sum.bolts == 1 && !k->like)
        return TOTAL;
    return k->like && !(k->longer && s->file.bolts >= 2) ? BOLT : DOUBT;
}

/* A number of its own speaks for a bolt; a sum, or a number of bolts, against it. */
static enum verdict judge_numbered(const struct tb_look *k, const struct tb_list_rows *s)
{
    bool count = k->sum.bolts && k->count == k->sum.bolts;
    bool states = tb_sum_counts(s, k->count); /* a sum that does not agree states its bolts */

    if (k->number == TB_NUMBER_ODD) {
        if (k->sum.bolts >= 2)
            return count ? TOTAL : DOUBT;
        if (count)
            return k->like ? DOUBT : TOTAL;
        return k->like && !states ? BOLT : DOUBT;
    }
    if (k->sum.bolts >= 2) {
        if (count && (k->again || !k->like))
            return TOTAL;
        return count || k->again || !k->like ? DOUBT : BOLT;
    }
    /* one bolt, and "1" with its length under it */
    if (count && !k->new_lot && (k->missing || k->steady < 2 || k->again || !k->from_one))
        return k->again && !k->like ? TOTAL : DOUBT;
    return states && (k->missing || (k->count > 1 && (k->longer || k->again))) ? DOUBT : BOLT;
}

static enum verdict judge(const struct tb_look *k, const struct tb_list_reader *r)
{
    const struct tb_bolt_habit *h = &r->now->habit;
    enum verdict v;

    if (k->word)
        return judge_word(k, r->rows);
    if (isnan(k->metres) || (k->another && k->number >= TB_NUMBER_ODD))
        return BOLT; /* a row without a length is a heading, a remark, or a bad row */
    if (!k->numbered)
        return judge_unnumbered(k, r->rows);
    v = k->number <= TB_NUMBER_STRANGE ? judge_numberless(k) : judge_numbered(k, r->rows);
    /* where bolts are called by words, any word may be a bolt */
    return v == BOLT && k->sum.bolts >= 2 && h->digits * 4 < h->rows ? DOUBT : v;
}

/* A difference is reported and never mended: either figure may be the wrong one. */
static void check_sum(struct tb_list_reader *r, const struct tb_row *row, const struct tb_look *k)
{
    struct tb_list_rows *s = r->rows;
    const struct tb_list_sum *meant = s->block.bolts ? &s->block : &s->sheet;

    if (k->sum.bolts)
        r->list->totals++;
    else if (meant->bolts && !isnan(k->metres) && !k->counts) {
        r->list->totals_off++;
        tb_list_say(r->list,
                    meant->bolts == 1 ? "line %zu: the total says %.2f %s, the %zu bolt above it has "
                                        "%.2f %s: a difference of %+.2f %s"
                                      : "line %zu: the total says %.2f %s, the %zu bolts above it "
                                        "add up to %.2f %s: a difference of %+.2f %s",
                    row->line, k->metres, tb_length_unit_key(r), meant->bolts, meant->metres,
                    tb_length_unit_key(r), k->metres - meant->metres, tb_length_unit_key(r));
    }
    tb_check_weight(r, row, k->sum.bolts ? &k->sum : meant);
    if (k->count && (k->word || !isnan(k->metres)) && s->sheet.bolts && !tb_sum_counts(s, k->count))
        tb_list_say(r->list,
                    k->count == 1 ? "line %zu: the total counts %zu bolt, above it there are %zu"
                                  : "line %zu: the total counts %zu bolts, above it there are %zu",
                    row->line, k->count, s->block.bolts ? s->block.bolts : s->sheet.bolts);
}

/* What a person said of this row; DOUBT: nothing. */
static enum verdict said_of(const struct tb_list_reader *r, const struct tb_row *row)
{
    for (size_t i = 0; i < r->opts->lines; i++) {
        const struct tb_line_is *is = &r->opts->line[i];

        if (is->kind != TB_LINE_HEADING && is->line == row->line &&
            (!*is->sheet || strcmp(is->sheet, r->sheet_name) == 0))
            return is->kind == TB_LINE_TOTAL ? TOTAL : is->kind == TB_LINE_PART ? PART : BOLT;
    }
    return DOUBT;
}

bool tb_said_part(const struct tb_list_reader *r, const struct tb_row *row)
{
    return said_of(r, row) == PART;
}

bool tb_said_bolt(const struct tb_list_reader *r, const struct tb_row *row)
{
    return said_of(r, row) == BOLT;
}

bool tb_said_total(const struct tb_list_reader *r, const struct tb_row *row)
{
    return said_of(r, row) == TOTAL;
}

/* Of lengths side by side the answer is about the one that was asked about, or about what has no length. */
static enum verdict said_of_one(const struct tb_list_reader *r, const struct tb_row *row, enum verdict judged)
{
    enum verdict said = said_of(r, row);
    const struct tb_cell *length = tb_cell_at(row, r->now->of[TB_FIELD_LENGTH]);
    bool several = (r->beside && length && length->type) || (r->given.lengths && tb_cell_is_length(length));

    return said == DOUBT || (said == TOTAL && several && judged == BOLT) ? judged : said;
}

/* The reading goes on as is likely, so that the questions after this one are the right ones. */
bool tb_take_total(struct tb_list_reader *r, const struct tb_row *row)
{
    struct tb_look k = { 0 };
    enum verdict v;

    look_at(&k, r, row);
    v = said_of_one(r, row, judge(&k, r));
    if (said_of(r, row) == DOUBT && !k.word && !k.another && !k.sum.bolts && tb_ask_again(r, row, k.metres))
        return true;
    if (v == DOUBT)
        tb_ask_total(r, row, &k);
    if (v == BOLT || (v == DOUBT && tb_likely_bolt(&k)))
        return false;
    if (v == DOUBT && tb_may_be_cloth(&k, r)) {
        tb_sum_mark(r->rows); /* a total or cloth: a group may end here or go on */
        return true;
    }
    if (v == TOTAL) {
        check_sum(r, row, &k);
        if (isnan(k.metres) && !k.count)
            (void)tb_hold_figures(r, row);
        if (k.pending)
            tb_pending_settle(r, row->line, k.count, k.sum);
        else if (k.sum.bolts && !k.recap)
            tb_pending_counted(r->rows);
        if (k.sum.bolts && !k.pending && !k.recap)
            tb_not_come_total(r, k.sum);
        if (!tb_said_total(r, row) && !k.counts && !(k.sum.bolts && !k.recap))
            tb_ask_left_out(r, row, k.metres, k.count);
    }
    tb_sum_close(r->rows);
    return true;
}
