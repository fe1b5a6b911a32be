/* box.c - a summary beside a list ("Colour | Rolls | Metres", behind an empty column): no cell of it is of the bolt in its row. */
#include "intake/box.h"

#include "intake/rows.h"
#include "tenterbook/utf8.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* Filled cells beside each other, and bit per enum tb_field that their words may mean. */
struct stretch {
    size_t from, to, words;
    uint64_t fields;
};
#define STRETCHES_MOST 8
#define BIT(f) ((uint64_t)1 << (f))

static const uint64_t counts = BIT(TB_FIELD_LENGTH) | BIT(TB_FIELD_COUNT) | BIT(TB_FIELD_PACKAGE) |
                               BIT(TB_FIELD_LENGTH_GROSS) | BIT(TB_FIELD_WEIGHT_NET) |
                               BIT(TB_FIELD_WEIGHT_GROSS) | BIT(TB_FIELD_TOTAL);
static const uint64_t names = BIT(TB_FIELD_ARTICLE) | BIT(TB_FIELD_DESIGN) | BIT(TB_FIELD_COLOUR) |
                              BIT(TB_FIELD_SHADE_GROUP) | BIT(TB_FIELD_LOT);

static bool filled(const struct tb_row *row, size_t i)
{
    return i < row->n && row->cell[i].type != TB_CELL_EMPTY;
}

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

/* The stretches of a header; 0: there are too many, or one alone. */
static size_t stretches(struct stretch out[STRETCHES_MOST], const struct tb_header_words *w,
                        const struct tb_row *row)
{
    size_t n = 0;

    for (size_t i = 0; i < row->n; i++) {
        if (!filled(row, i))
            continue;
        if (i == 0 || !filled(row, i - 1)) {
            if (n == STRETCHES_MOST || i >= TB_COLUMNS_MOST)
                return 0;
            out[n++] = (struct stretch){ .from = i };
        }
        out[n - 1].to = i + 1;
        out[n - 1].words++;
        out[n - 1].fields |= fields_of(w, row->cell[i].text);
    }
    return n > 1 ? n : 0;
}

static bool same_word(const struct tb_row *row, const struct stretch *a, const struct stretch *b)
{
    for (size_t i = a->from; i < a->to; i++)
        for (size_t k = b->from; k < b->to; k++)
            if (tb_fold_same(row->cell[i].text, row->cell[k].text))
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

/*
 * `s` beside the stretch with bolts and lengths: it names goods again, or lengths, and counts them; it numbers no bolts and says nothing
 * of them that the list does not.
 */
static bool is_summary(const struct tb_header_words *w, const struct tb_row *row, const struct stretch *list,
                       const struct stretch *s)
{
    const uint64_t bolts = BIT(TB_FIELD_BOLT);
    uint64_t kept = s->fields & (BIT(TB_FIELD_PARTS + 1) - 2) & ~(counts | names | bolts);
    bool again = same_word(row, list, s), counted = (s->fields & counts & ~BIT(TB_FIELD_PACKAGE)) != 0;

    if (s->words < 2 || kept || is_said(w, row, s) || ((s->fields & bolts) && !(s->fields & counts)))
        return false;
    if ((s->fields & bolts) && (s->fields & BIT(TB_FIELD_LENGTH)) &&
        !(s->fields & (BIT(TB_FIELD_COUNT) | BIT(TB_FIELD_TOTAL))))
        return false; /* it numbers bolts: another table */
    return again ? (s->fields & (names | BIT(TB_FIELD_LENGTH))) != 0
                 : counted && (s->fields & list->fields & (names | BIT(TB_FIELD_LENGTH)));
}

/* The one stretch with numbers of bolts and lengths; n: there is none, or several. */
static size_t list_in(const struct stretch *s, size_t n)
{
    const uint64_t both = BIT(TB_FIELD_BOLT) | BIT(TB_FIELD_LENGTH);
    size_t found = n;

    for (size_t i = 0; i < n; i++)
        if ((s[i].fields & both) == both && !(s[i].fields & (BIT(TB_FIELD_COUNT) | BIT(TB_FIELD_TOTAL)))) {
            if (found < n)
                return n;
            found = i;
        }
    return found;
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

/* Is the row a header with a summary beside its list? */
static bool look(struct tb_list_reader *r, const struct tb_row *row)
{
    struct stretch s[STRETCHES_MOST];
    size_t n, list;

    if (row->n < 4 || tb_row_has_figures(row) || (n = stretches(s, r->words, row)) == 0 ||
        (list = list_in(s, n)) == n)
        return false;
    for (size_t i = 0; i < n; i++)
        if (i != list && is_summary(r->words, row, &s[list], &s[i])) {
            begin(r, row, &s[i], i + 1 == n, i ? s[i - 1].to : 0);
            return true;
        }
    return false;
}

static void cut(struct tb_box *b, const struct tb_row *row, struct tb_row *out)
{
    size_t n = row->n < TB_COLUMNS_MOST ? row->n : TB_COLUMNS_MOST;

    memcpy(b->cell, row->cell, n * sizeof *b->cell);
    for (size_t i = b->from; i < n && (b->last || i < b->to); i++)
        b->cell[i] = (struct tb_cell){ TB_CELL_EMPTY, "", 0 };
    while (b->last && n > b->end && b->cell[n - 1].type == TB_CELL_EMPTY)
        n--;
    *out = (struct tb_row){ row->line, b->cell, n };
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
                "the columns '%s' to '%s' stand beside the list of line %zu, behind an empty column, and are "
                "not read: they are taken for a summary of it",
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

    if (!b || !r->second_pass || !r->now || row->line == b->line)
        return;
    for (size_t i = b->from; i < b->to && i < row->n; i++)
        if (row->cell[i].type == TB_CELL_TEXT && tb_header_word_total(r->words, row->cell[i].text))
            return;
    for (size_t i = b->from; i < b->to && i < row->n; i++)
        if (tb_cell_is_length(&row->cell[i]))
            b->sum[i] += tb_length_metres(r, row, &row->cell[i]);
}
