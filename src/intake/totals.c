/*
 * totals.c - total rows: known by their words, their sum or their count, checked against the bolts above them, never
 * bolts. What may be either is asked about. The rule is stated in docs/intake.md.
 */
#include "intake/rows.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

enum verdict { BOLT, TOTAL, DOUBT };

/* A row as the rule looks at it. */
struct look {
    enum tb_number_like number;
    enum tb_total_word word;
    bool like;              /* it fills half of what the bolts fill */
    size_t steady, missing; /* what the bolts fill, and what of it is empty here */
    bool another;           /* it belongs to another delivery than the bolts above */
    bool from_one;          /* the numbers of the list begin at 1, or at 0 */
    bool new_lot;           /* it names a dye lot that no bolt above has, built like theirs */
    bool again;             /* its number stands on a bolt already */
    size_t count;           /* a number of bolts that it may state; 0: none */
    double metres;          /* NAN: no length */
    struct tb_list_sum sum; /* the group it adds up; 0 bolts: none */
    bool longer;            /* than any bolt so far, and by half */
    bool numbered;          /* the list numbers its bolts */
    bool counts;            /* its length is the number of bolts of a group */
    bool recap;             /* what it adds up stands further up: not the bolts since the last total */
};

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

/* Every cell is looked at; most repeat the cell above, whose words are known. */
static enum tb_total_word words_in(struct tb_list_reader *r, const struct tb_row *row)
{
    enum tb_total_word found = TB_TOTAL_NOT;

    for (size_t i = 0; i < row->n && i < TB_COLUMNS_MOST; i++) {
        const char *text = row->cell[i].text;
        enum tb_total_word is;

        if (row->cell[i].type != TB_CELL_TEXT)
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

static void look_at(struct look *k, struct tb_list_reader *r, const struct tb_row *row)
{
    const struct tb_cell *cell = tb_cell_at(row, r->now->of[TB_FIELD_LENGTH]);
    const struct tb_cell *number = tb_cell_at(row, r->now->of[TB_FIELD_BOLT]);

    k->numbered = r->now->of[TB_FIELD_BOLT] != NULL;
    k->number = tb_number_like(&r->now->habit, number ? number->text : "");
    k->like = tb_row_like_bolts(&k->missing, &k->steady, r->now, row);
    k->metres = cell && cell->type ? tb_length_metres(r, row, cell) : NAN;
    if (!(k->metres > 0))
        k->metres = NAN;
    k->word = words_in(r, row);
    k->count = count_in(r, row, k->number);
    k->another = another_delivery(r, row, k->like);
    if (k->another)
        return;
    k->sum = tb_sum_of(r->rows, k->metres, k->count);
    if (!k->sum.bolts && k->number <= TB_NUMBER_STRANGE && !isnan(k->metres)) {
        k->sum = tb_sum_recap(r, row, k->metres);
        k->recap = k->sum.bolts > 0;
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
static enum verdict judge_word(const struct look *k, const struct tb_list_rows *s)
{
    bool agrees = k->sum.bolts >= 2 || (k->again && tb_sum_counts(s, k->count)) ||
                  (k->word == TB_TOTAL_ALONE && (k->again || tb_sum_counts(s, k->count)));

    if (k->number < TB_NUMBER_PLAIN && !(k->number == TB_NUMBER_ODD && k->like))
        return TOTAL;
    if (k->word == TB_TOTAL_ALONE)
        return agrees || (!k->like && isnan(k->metres)) ? TOTAL : DOUBT;
    if (!agrees)
        return k->like ? BOLT : DOUBT;
    return k->again || k->sum.bolts == k->count || !k->like ? TOTAL : DOUBT;
}

/* No number, or words where the others have figures: it cannot be a bolt of this list. */
static enum verdict judge_numberless(const struct look *k)
{
    if (k->sum.bolts >= 2)
        return k->number == TB_NUMBER_STRANGE && k->like && k->count && k->count != k->sum.bolts ? DOUBT
                                                                                                 : TOTAL;
    if (k->sum.bolts == 1)
        return k->like ? DOUBT : TOTAL;
    return k->counts && !k->like ? TOTAL : DOUBT;
}

/* Nobody has a number: what the bolts above add up to, or what is unlike them, is not taken for one more. */
static enum verdict judge_unnumbered(const struct look *k, const struct tb_list_rows *s)
{
    if (k->sum.bolts >= 2)
        return k->like ? DOUBT : TOTAL;
    if (k->sum.bolts == 1 && !k->like)
        return TOTAL;
    return k->like && !(k->longer && s->file.bolts >= 2) ? BOLT : DOUBT;
}

/* A number of its own speaks for a bolt; a sum, or a number of bolts, against it. */
static enum verdict judge_numbered(const struct look *k, const struct tb_list_rows *s)
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

static enum verdict judge(const struct look *k, const struct tb_list_reader *r)
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

/* What the goods of the table are counted in. */
static const char *unit_of(const struct tb_list_reader *r)
{
    return tb_unit_key(r->now->of[TB_FIELD_LENGTH]->unit == TB_UNIT_KG ? TB_UNIT_KG : TB_UNIT_M);
}

/* A difference is reported and never mended: either figure may be the wrong one. */
static void check_sum(struct tb_list_reader *r, const struct tb_row *row, const struct look *k)
{
    struct tb_list_rows *s = r->rows;
    const struct tb_list_sum *meant = s->block.bolts ? &s->block : &s->sheet;

    if (k->sum.bolts)
        r->list->totals++;
    else if (meant->bolts && !isnan(k->metres) && !k->counts)
        tb_list_say(r->list,
                    meant->bolts == 1 ? "line %zu: the total says %.2f %s, the %zu bolt above it has "
                                        "%.2f %s: a difference of %+.2f %s"
                                      : "line %zu: the total says %.2f %s, the %zu bolts above it "
                                        "add up to %.2f %s: a difference of %+.2f %s",
                    row->line, k->metres, unit_of(r), meant->bolts, meant->metres, unit_of(r),
                    k->metres - meant->metres, unit_of(r));
    if (k->count && (k->word || !isnan(k->metres)) && s->sheet.bolts && !tb_sum_counts(s, k->count))
        tb_list_say(r->list,
                    k->count == 1 ? "line %zu: the total counts %zu bolt, above it there are %zu"
                                  : "line %zu: the total counts %zu bolts, above it there are %zu",
                    row->line, k->count, s->block.bolts ? s->block.bolts : s->sheet.bolts);
}

/* The words of the row before its first figure: "Totaal" of "Totaal: 4 rollen". NULL: none to teach. */
static const char *word_to_teach(struct tb_list_reader *r, const struct tb_row *row, const struct look *k)
{
    const struct tb_cell *cell = tb_cell_at(row, r->now->of[TB_FIELD_BOLT]);
    size_t n = cell ? strcspn(cell->text, "0123456789:=([") : 0;

    while (n && cell->text[n - 1] == ' ')
        n--;
    if (k->number != TB_NUMBER_STRANGE || n < 2 || n > 40)
        return NULL;
    return tb_store_intern(r->list->store, cell->text, n);
}

/* A number of its own, and no sum that agrees. */
static bool likely_bolt(const struct look *k)
{
    return k->number >= TB_NUMBER_ODD && k->word == TB_TOTAL_NOT &&
           (k->sum.bolts ? k->sum.bolts == 1 && k->like && !k->again : !k->longer);
}

static void ask(struct tb_list_reader *r, const struct tb_row *row, const struct look *k)
{
    struct tb_list_store *s = r->list->store;
    const char *word = word_to_teach(r, row, k);
    const char *map = word ? tb_store_internf(s, "%s=total", word) : NULL;
    const char *at = *r->sheet_name ? tb_store_internf(s, "%s:%zu", r->sheet_name, row->line)
                                    : tb_store_internf(s, "%zu", row->line);
    struct tb_question *q;

    if ((map && tb_list_asked(r->list, "map", map)) || tb_list_asked(r->list, "total-line", at))
        return; /* one answer for all lines of that word */
    if (isnan(k->metres))
        q = tb_list_ask(r->list, row->line,
                        "line %zu: is this a total, or a bolt? Say --total-line %s or --bolt-line %s",
                        row->line, at, at);
    else if (k->sum.bolts)
        q = tb_list_ask(r->list, row->line,
                        "line %zu: %.2f %s is what %zu of the bolts above add up to, and may be a bolt as "
                        "well; say --total-line %s or --bolt-line %s",
                        row->line, k->metres, unit_of(r), k->sum.bolts, at, at);
    else if (!k->numbered)
        q = tb_list_ask(
            r->list, row->line,
            "line %zu: %.2f %s is unlike the bolts above, and not their sum; say --total-line %s if it is "
            "a total, --bolt-line %s if it is a bolt",
            row->line, k->metres, unit_of(r), at, at);
    else if (k->number == TB_NUMBER_NONE)
        q = tb_list_ask(
            r->list, row->line,
            "line %zu: %.2f %s without a bolt number are not the sum of the bolts above; if it is a "
            "total that does not agree, say --total-line %s; if it is a bolt without a number, say "
            "--bolt-line %s, "
            "and it is given one",
            row->line, k->metres, unit_of(r), at, at);
    else
        q = tb_list_ask(
            r->list, row->line,
            "line %zu: '%s' with %.2f %s is unlike the other bolts, and not the sum of those above; "
            "say --total-line %s if it is a total, --bolt-line %s if it is a bolt",
            row->line, tb_store_brief(s, tb_cell_at(row, r->now->of[TB_FIELD_BOLT])->text), k->metres,
            unit_of(r), at, at);
    if (map)
        tb_list_answer(r->list, q, "map", map);
    if (likely_bolt(k))
        tb_list_answer(r->list, q, "bolt-line", at);
    tb_list_answer(r->list, q, "total-line", at);
    if (!likely_bolt(k))
        tb_list_answer(r->list, q, "bolt-line", at);
}

/* What a person said of this row; DOUBT: nothing. */
static enum verdict said_of(const struct tb_list_reader *r, const struct tb_row *row)
{
    for (size_t i = 0; i < r->opts->lines; i++) {
        const struct tb_line_is *is = &r->opts->line[i];

        if (is->line == row->line && (!*is->sheet || strcmp(is->sheet, r->sheet_name) == 0))
            return is->total ? TOTAL : BOLT;
    }
    return DOUBT;
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
    bool several = (r->given.lengths || r->beside) && tb_cell_filled(row, r->now->of[TB_FIELD_LENGTH]);

    return said == DOUBT || (said == TOTAL && several && judged == BOLT) ? judged : said;
}

/* The reading goes on as is likely, so that the questions after this one are the right ones. */
bool tb_take_total(struct tb_list_reader *r, const struct tb_row *row)
{
    struct look k = { 0 };
    enum verdict v;

    look_at(&k, r, row);
    v = said_of_one(r, row, judge(&k, r));
    if (v == DOUBT)
        ask(r, row, &k);
    if (v == BOLT || (v == DOUBT && likely_bolt(&k)))
        return false;
    if (v == TOTAL) {
        check_sum(r, row, &k);
        if (!tb_said_total(r, row) && !k.counts && !(k.sum.bolts && !k.recap))
            tb_ask_left_out(r, row, k.metres, k.count);
    }
    tb_sum_close(r->rows);
    return true;
}
