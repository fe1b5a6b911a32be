/* box.c - a summary beside a list ("Colour | Rolls | Metres"): no cell of it is of the bolt in its row. */
#include "intake/box.h"

#include "intake/rows.h"
#include "tenterbook/utf8.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* Columns of a header, and bit per enum tb_field that their words may mean. */
struct stretch {
    size_t from, to, words;
    uint64_t fields;
};
#define BIT(f) ((uint64_t)1 << (f))

static const uint64_t counts = BIT(TB_FIELD_LENGTH) | BIT(TB_FIELD_COUNT) | BIT(TB_FIELD_PACKAGE) |
                               BIT(TB_FIELD_LENGTH_GROSS) | BIT(TB_FIELD_WEIGHT_NET) |
                               BIT(TB_FIELD_WEIGHT_GROSS) | BIT(TB_FIELD_TOTAL);
static const uint64_t names = BIT(TB_FIELD_ARTICLE) | BIT(TB_FIELD_DESIGN) | BIT(TB_FIELD_COLOUR) |
                              BIT(TB_FIELD_SHADE_GROUP) | BIT(TB_FIELD_LOT);

/* What a header may mean; a word for a total that no column has is one of them. */
static uint64_t fields_of(const struct tb_header_words *w, const char *text)
{
    struct tb_word_hit hit[TB_HITS_MOST];
    size_t n = tb_header_words_find(w, text, hit);
    uint64_t fields = tb_header_word_total(w, text) ? BIT(TB_FIELD_TOTAL) : 0;

    for (size_t k = 0; k < n; k++)
        fields |= BIT(hit[k].field);
    return fields;
}

static struct stretch stretch_of(const struct tb_header_words *w, const struct tb_row *row, size_t from,
                                 size_t to)
{
    struct stretch s = { .from = from, .to = to };

    for (size_t i = from; i < to; i++)
        if (tb_row_filled(row, i)) {
            s.words++;
            s.fields |= fields_of(w, row->cell[i].text);
        }
    return s;
}

/* Does one of the first columns have the same word as column i? */
static bool stands_again(const struct tb_row *row, size_t from, size_t to, size_t i)
{
    for (size_t k = from; k < to; k++)
        if (tb_row_filled(row, k) && tb_fold_same(row->cell[k].text, row->cell[i].text))
            return true;
    return false;
}

static bool any_again(const struct tb_row *row, const struct stretch *list, const struct stretch *s)
{
    for (size_t i = s->from; i < s->to; i++)
        if (stands_again(row, list->from, list->to, i))
            return true;
    return false;
}

/* Does a person say what one of its headers means? Then it is no summary. */
static bool is_said(const struct tb_header_words *w, const struct tb_row *row, const struct stretch *s)
{
    for (size_t i = s->from; i < s->to; i++)
        if (tb_header_words_said(w, row->cell[i].text))
            return true;
    return false;
}

/* Numbers of bolts, and their lengths or weights. */
static bool is_list(const struct stretch *s)
{
    return (s->fields & BIT(TB_FIELD_BOLT)) &&
           (s->fields & (BIT(TB_FIELD_LENGTH) | BIT(TB_FIELD_WEIGHT_NET)));
}

/*
 * `s` beside the list: it names goods again, or lengths, and counts them; it numbers no bolts and says nothing of them that the list
 * does not. apart: an empty column stands between.
 */
static bool is_summary(const struct tb_header_words *w, const struct tb_row *row, const struct stretch *list,
                       const struct stretch *s, bool apart)
{
    const uint64_t bolts = BIT(TB_FIELD_BOLT), counted = BIT(TB_FIELD_COUNT) | BIT(TB_FIELD_TOTAL),
                   both = s->fields & list->fields & (names | BIT(TB_FIELD_LENGTH));
    uint64_t kept = s->fields & (BIT(TB_FIELD_PARTS + 1) - 2) & ~(counts | names | bolts);

    if (!is_list(list) || s->words < 2 || kept || is_said(w, row, s))
        return false;
    if ((s->fields & bolts) &&
        (!(s->fields & counts) || ((s->fields & BIT(TB_FIELD_LENGTH)) && !(s->fields & counted))))
        return false; /* it numbers bolts: another table */
    if (any_again(row, list, s))
        return (s->fields & (names | BIT(TB_FIELD_LENGTH))) && (apart || (s->fields & counted));
    return apart && ((both && (s->fields & counts & ~BIT(TB_FIELD_PACKAGE))) ||
                     ((s->fields & names) && (s->fields & counted)));
}

/* Keeps what a summary begins with. */
static void begin(struct tb_list_reader *r, const struct tb_row *row, const struct stretch *s, bool last,
                  size_t end)
{
    struct tb_box *b = r->box = tb_new(struct tb_box);

    *b = (struct tb_box){ .line = row->line, .from = s->from, .to = s->to, .last = last, .end = end };
    b->length = SIZE_MAX;
    b->first = tb_store_brief(r->list->store, row->cell[s->from].text);
    b->other = tb_store_brief(r->list->store, row->cell[s->to - 1].text);
    for (size_t i = s->from; i < s->to; i++)
        if (b->length == SIZE_MAX && (fields_of(r->words, row->cell[i].text) & BIT(TB_FIELD_LENGTH)))
            b->length = i;
    b->before = r->second_pass ? r->rows->file.metres : 0;
}

/* A summary that its columns have shown begins where they say. */
static const struct tb_box_seen *seen_at(const struct tb_list_reader *r, const struct tb_row *row)
{
    for (size_t i = 0; i < r->boxes; i++)
        if (r->box_seen[i].sheet == r->sheet.number && r->box_seen[i].line == row->line)
            return &r->box_seen[i];
    return NULL;
}

/* Is the row a header with a summary beside its list? */
static bool look(struct tb_list_reader *r, const struct tb_row *row)
{
    size_t n = row->n < TB_COLUMNS_MOST ? row->n : TB_COLUMNS_MOST, to;
    const struct tb_box_seen *seen = seen_at(r, row);

    while (n && !tb_row_filled(row, n - 1))
        n--;
    if (seen) {
        const struct stretch s = stretch_of(r->words, row, seen->from, n);

        begin(r, row, &s, true, seen->from);
        return true;
    }
    for (size_t i = 1; i + 1 < n; i++) {
        bool apart = !tb_row_filled(row, i - 1);
        struct stretch left, right;

        if (!tb_row_filled(row, i) || (!apart && !stands_again(row, 0, i, i)))
            continue;
        for (to = i; to < n && tb_row_filled(row, to); to++)
            ;
        left = stretch_of(r->words, row, 0, i);
        right = stretch_of(r->words, row, i, to);
        if (is_summary(r->words, row, &left, &right, apart)) {
            begin(r, row, &right, to == n, apart ? i - 1 : i);
            return true;
        }
        right.to = n;
        right = stretch_of(r->words, row, i, n);
        left.to = i - 1;
        if (apart && is_summary(r->words, row, &right, &left, true)) {
            begin(r, row, &left, false, 0);
            return true;
        }
    }
    return false;
}

/* Do the two fields make one name? */
static bool one_name(unsigned char a, unsigned char b)
{
    uint64_t both = BIT(a) | BIT(b), colour = BIT(TB_FIELD_COLOUR) | BIT(TB_FIELD_SHADE_GROUP),
             article = BIT(TB_FIELD_ARTICLE) | BIT(TB_FIELD_DESIGN);

    return a && b && (a == b ? (both & names) != 0 : both == colour || both == article);
}

/* Is the column filled in the first rows of bolts, and in none of the others? */
static bool is_leading(const struct tb_table_layout *l, size_t i)
{
    return l->content[i].filled == l->content[i].lead && l->content[i].filled < l->habit.rows;
}

/* Has the table numbers of bolts and lengths among its first n columns? */
static bool has_list(const struct tb_table_layout *l, size_t n)
{
    const struct tb_source_column *bolt = l->of[TB_FIELD_BOLT], *length = l->of[TB_FIELD_LENGTH];

    return bolt && length && bolt->index < n && length->index < n;
}

/* Does column i begin a summary: a name that stands before it too, and behind it nothing that the bolts below the first have? */
static bool begins_summary(const struct tb_table_layout *l, size_t i)
{
    bool again = false, any = false;

    for (size_t k = 0; k < i && !again; k++)
        again = one_name(l->meant[k], l->meant[i]);
    if (!again || !has_list(l, i))
        return false;
    for (size_t k = i; k < TB_COLUMNS_MOST; k++) {
        if (!is_leading(l, k))
            return false;
        any = any || l->content[k].filled;
    }
    return any;
}

bool tb_box_show(struct tb_list_reader *r, const struct tb_table_layout *l)
{
    if (l->given || r->boxes == TB_COUNT(r->box_seen))
        return false;
    for (size_t i = 1; i < l->cells && i < TB_COLUMNS_MOST; i++) {
        const char *header = l->head[1][i] ? l->head[1][i] : l->head[0][i];

        if (!header || tb_header_words_said(r->words, header) || !begins_summary(l, i))
            continue;
        r->box_seen[r->boxes++] = (struct tb_box_seen){ l->sheet, l->line, i };
        return true;
    }
    return false;
}

/* What a summary declares is said of some of the goods: of which, a person says. */
static void learn_declared(struct tb_list_reader *r, const struct tb_row *row)
{
    const struct tb_box *b = r->box;
    struct tb_cell cell[TB_COLUMNS_MOST];
    size_t n = 0;

    for (size_t i = b->from; i < row->n && i < TB_COLUMNS_MOST && (b->last || i < b->to); i++)
        cell[n++] = row->cell[i];
    if (n)
        tb_learn_loose(r, &(struct tb_row){ row->line, cell, n, row->look });
}

static void cut(struct tb_box *b, const struct tb_row *row, struct tb_row *out)
{
    size_t n = row->n < TB_COLUMNS_MOST ? row->n : TB_COLUMNS_MOST;

    memcpy(b->cell, row->cell, n * sizeof *b->cell);
    for (size_t i = b->from; i < n && (b->last || i < b->to); i++)
        b->cell[i] = (struct tb_cell){ TB_CELL_EMPTY, "", 0 };
    while (b->last && n > b->end && b->cell[n - 1].type == TB_CELL_EMPTY)
        n--;
    *out = (struct tb_row){ row->line, b->cell, n, row->look };
}

/* What it adds up to is held to the bolts; a difference is told, and neither is mended. */
static void tell(struct tb_list_reader *r)
{
    const struct tb_box *b = r->box;
    double bolts = r->rows->file.metres - b->before;
    bool agrees = false;

    if (!r->now)
        return;
    for (size_t i = b->from; i < b->to; i++)
        agrees = agrees || (b->sum[i] > 0 && fabs(b->sum[i] - bolts) < 0.011);
    r->list->totals += agrees;
    tb_list_say(r->list,
                "the columns '%s' to '%s' stand beside the list of line %zu and are not read: they are taken "
                "for a summary of it",
                b->first, b->other, b->line);
    if (agrees || b->length == SIZE_MAX || !(b->sum[b->length] > 0))
        return;
    r->list->totals_off++;
    tb_list_say(r->list, "this summary adds up to %.2f %s, and the bolts to %.2f %s", b->sum[b->length],
                tb_length_unit_key(r), bolts, tb_length_unit_key(r));
}

void tb_box_end(struct tb_list_reader *r)
{
    if (r->box && r->second_pass)
        tell(r);
    free(r->box);
    r->box = NULL;
}

const struct tb_row *tb_box_row(struct tb_list_reader *r, const struct tb_row *row, struct tb_row *out)
{
    struct tb_header_look k;
    bool heads = false;

    if (!tb_row_has_figures(row)) {
        tb_header_look_at(&k, r->words, row);
        heads = tb_header_is(&k);
    }
    if (heads) {
        tb_box_end(r);
        if (!look(r, row))
            return row;
    }
    if (!r->box)
        return row;
    cut(r->box, row, out);
    return out;
}

void tb_box_learn(struct tb_list_reader *r, const struct tb_row *row)
{
    struct tb_box *b = r->box;

    if (!b || row->line == b->line)
        return;
    if (!r->second_pass)
        learn_declared(r, row);
    if (!r->second_pass || !r->now)
        return;
    for (size_t i = b->from; i < b->to && i < row->n; i++)
        if (row->cell[i].type == TB_CELL_TEXT && tb_header_word_total(r->words, row->cell[i].text))
            return;
    for (size_t i = b->from; i < b->to && i < row->n; i++)
        if (tb_cell_is_length(&row->cell[i]))
            b->sum[i] += tb_length_metres(r, row, &row->cell[i]);
}
