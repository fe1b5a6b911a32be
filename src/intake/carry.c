/* carry.c - what runs down the rows of a table, and what a heading says of the rows below it. */
#include "intake/rows.h"

#include <math.h>
#include <string.h>

static const enum tb_field group_field[] = { TB_FIELD_COLOUR, TB_FIELD_LOT, TB_FIELD_COMPOSITION,
                                             TB_FIELD_ORIGIN, TB_FIELD_PRICE };

void tb_carry_article(struct tb_list_rows *s, const char *article, bool in_heading)
{
    if (article == (in_heading ? s->carry[TB_FIELD_ARTICLE] : s->article))
        return;
    for (size_t i = 0; i < TB_COUNT(group_field); i++) {
        enum tb_field f = group_field[i];

        if (!s->fresh[f] && (in_heading || !s->from_heading[f]))
            s->carry[f] = NULL;
    }
    s->width = s->mass = (struct tb_measure){ .value = NAN };
    s->article = article;
    if (in_heading)
        s->carry[TB_FIELD_ARTICLE] = article;
}

enum tb_parts tb_article_parts(struct tb_heads *h, const struct tb_list_reader *r, const char *article)
{
    const struct tb_table_layout *l = r->now;

    if (l->of[TB_FIELD_LOT] || l->of[TB_FIELD_COMPOSITION] || l->made_of_n[TB_FIELD_ARTICLE] != 1)
        return TB_PARTS_NOT;
    return tb_heads_parts(h, r->words, r->list->store, article);
}

/* A name without a label is taken, and said; where two of them stand nobody knows which is which. */
void tb_heads_say(struct tb_list_reader *r, const struct tb_row *row, const struct tb_heads *h)
{
    if (h->unclear)
        tb_row_bad(r, row, NULL,
                   "several headings in one cell, which cannot be told apart; write before each what it is "
                   "(Colour: ...)");
    else if (h->guessed)
        tb_list_say(r->list, "line %zu: '%s' is taken for the %s", row->line,
                    tb_store_brief(r->list->store, h->value[h->guessed]), tb_field_name(h->guessed));
}

/* Does the cell begin with a label of the goods? *whole: nothing else stands in it. */
static bool labels_goods(bool *whole, const struct tb_list_reader *r, const char *text)
{
    static const enum tb_field goods[] = { TB_FIELD_ARTICLE, TB_FIELD_DESIGN,      TB_FIELD_COLOUR,
                                           TB_FIELD_LOT,     TB_FIELD_SHADE_GROUP, TB_FIELD_COMPOSITION };
    size_t wide = 0;
    const char *colon = tb_colon_in(text, &wide);
    size_t n = colon ? (size_t)(colon - text) : strlen(text);
    struct tb_word_hit hit[TB_HITS_MOST];
    size_t hits;

    *whole = !colon || !colon[wide];
    while (n && text[n - 1] == ' ')
        n--;
    hits = n ? tb_header_words_exact(r->words, text, n, hit) : 0;
    for (size_t i = 0; i < hits; i++)
        for (size_t k = 0; k < TB_COUNT(goods); k++)
            if (hit[i].field == goods[k])
                return true;
    return false;
}

/* "4410" under the lengths may be the number of an article; what is near the sum of the bolts above is rather their total. */
static bool may_be_named(const struct tb_list_reader *r, const struct tb_row *row, const struct tb_cell *cell)
{
    double metres, all = r->rows ? r->rows->block.metres : 0;

    if (strpbrk(cell->text, ".,") || strchr(cell->text, ' '))
        return false;
    if (!r->second_pass)
        return true;
    metres = tb_length_metres(r, row, cell);
    return !tb_sum_of(r->rows, metres, 0).bolts && !(metres > 0.8 * all && metres < 1.25 * all);
}

/* "Order: 4410 | Dye lot: 771", "Order: | 4410": labels and what they say, one of them known at least, and no total. */
static bool all_labels(const struct tb_list_reader *r, const struct tb_row *row)
{
    bool known = false, open = false;

    for (size_t i = 0; i < row->n; i++) {
        const struct tb_cell *cell = &row->cell[i];
        size_t wide = 0;
        const char *colon = cell->type == TB_CELL_TEXT ? tb_colon_in(cell->text, &wide) : NULL;

        if (cell->type == TB_CELL_EMPTY || tb_is_page_number(cell->text))
            continue;
        if ((!colon && !open) || (cell->type == TB_CELL_TEXT && tb_header_word_total(r->words, cell->text)))
            return false;
        known = known || (colon && tb_label_field(r->words, cell->text, (size_t)(colon - cell->text)));
        open = colon && !colon[wide + strspn(colon + wide, " ")];
    }
    return known;
}

bool tb_row_heads(const struct tb_list_reader *r, const struct tb_row *row)
{
    const struct tb_cell *length = tb_cell_at(row, r->now->of[TB_FIELD_LENGTH]), *next = NULL;
    struct tb_word_hit hit[TB_HITS_MOST];
    bool measured = tb_cell_is_length(length), whole;
    size_t i = 0;

    while (i < row->n && row->cell[i].type == TB_CELL_EMPTY)
        i++;
    for (size_t k = i + 1; k < row->n && !next; k++)
        next = row->cell[k].type == TB_CELL_EMPTY ? NULL : &row->cell[k];
    if (i == row->n || row->cell[i].type != TB_CELL_TEXT)
        return false;
    if (!measured && next &&
        (tb_colon_in(row->cell[i].text, NULL)
             ? all_labels(r, row)
             : tb_label_field(r->words, row->cell[i].text, strlen(row->cell[i].text)) &&
                   tb_row_pairs(r->words, row)))
        return true;
    if ((measured && next != length) || !labels_goods(&whole, r, row->cell[i].text))
        return false;
    if (whole && (!next || tb_header_words_exact(r->words, next->text, strlen(next->text), hit)))
        return false;
    return !measured || (whole && may_be_named(r, row, length));
}

/* A row with neither bolt nor length: the heading of a block, or words that belong to nobody. */
void tb_take_heading(struct tb_list_reader *r, const struct tb_row *row)
{
    struct tb_list_rows *s = r->rows;
    struct tb_heads h = { 0 };
    size_t cells, mapped = 0;
    const char *article, *alone;

    if (tb_heads_take(&h, r->words, r->list->store, row) > 0) {
        if (tb_ask_told(r, row, &h))
            return;
        tb_heads_say(r, row, &h);
        tb_not_read(r, row, &h);
        tb_carry_from(r, row, &h);
        return;
    }
    cells = tb_row_cells(row);
    for (size_t k = 0; k < r->now->n; k++)
        mapped += tb_cell_filled(row, &r->now->column[k]);
    if (tb_hold_figures(r, row))
        return;
    if (tb_is_drawn(r) && tb_keep_alone(r, row)) /* it may be the rest of the cell above it */
        return;
    if (mapped == 0 || (cells == 1 && !s->block_start && s->article_in_row)) { /* a footnote */
        tb_not_read(r, row, NULL);
        return;
    }
    if (tb_keep_alone(r, row))
        return;
    article = tb_field_text(r, row, TB_FIELD_ARTICLE);
    alone = article ? article : tb_field_text(r, row, TB_FIELD_COLOUR);
    alone = alone ? alone : tb_field_text(r, row, TB_FIELD_LOT);
    if (cells == 1 && (!alone || (strlen(alone) > 60 && !tb_said_heading(r, row->line)))) {
        tb_not_read(r, row, NULL);
        return;
    }
    h = (struct tb_heads){ 0 };
    h.value[r->now->of[TB_FIELD_ARTICLE] ? TB_FIELD_ARTICLE : TB_FIELD_DESIGN] = article;
    for (enum tb_field f = TB_FIELD_SUPPLIER; f <= TB_FIELD_CURRENCY; f++)
        if (f != TB_FIELD_ARTICLE && f != TB_FIELD_DESIGN && r->now->of[f] &&
            !(f == TB_FIELD_SHADE_GROUP && r->now->of[TB_FIELD_COLOUR]))
            h.value[f] = tb_field_text(r, row, f);
    tb_not_read(r, row, NULL);
    tb_heads_stand_in(&h);
    tb_carry_from(r, row, &h);
    s->from_heading[TB_FIELD_COMPOSITION] = h.value[TB_FIELD_COMPOSITION] != NULL;
}

/* The cell, else what runs down from above, else the title. *cell: it is the cell. */
static const char *one_text(struct tb_list_reader *r, const struct tb_row *row, enum tb_field f, bool *cell)
{
    struct tb_list_rows *s = r->rows;
    const char *text = r->now->of[f] ? tb_field_text(r, row, f) : NULL;

    *cell = text != NULL;
    if (text) {
        s->carry[f] = text;
        s->from_heading[f] = false;
        return text;
    }
    if (s->carry[f] && !r->opts->whole_rows) {
        if (r->now->of[f] && !s->from_heading[f])
            r->now->of[f]->filled++;
        return s->carry[f];
    }
    if (r->title.value[f] && r->now->of[f])
        r->now->of[f]->titled++;
    return r->title.value[f];
}

/* An article with its design, a colour with its shade band. Where both have columns, a row has them joined already. */
static const char *named_text(struct tb_list_reader *r, const struct tb_row *row, enum tb_field f)
{
    enum tb_field part = tb_joint_part(f);
    bool both = r->now->of[f] && r->now->of[part], cell, part_cell = false;
    const char *text, *more;

    text = one_text(r, row, f, &cell);
    more = both && !r->rows->from_heading[f] && (cell || r->rows->carry[f])
               ? NULL
               : one_text(r, row, part, &part_cell);
    if (tb_heads_stands_in(&r->title, f) && text == r->title.value[f] && more)
        text = NULL;
    text = tb_joint(r->list->store, f, text, more);
    if (f == TB_FIELD_ARTICLE && (cell || part_cell))
        tb_carry_article(r->rows, text, false);
    return text;
}

const char *tb_group_text(struct tb_list_reader *r, const struct tb_row *row, enum tb_field f)
{
    bool cell;

    if (r->opts->without & (uint64_t)1 << f)
        return NULL;
    return tb_joint_part(f) ? named_text(r, row, f) : one_text(r, row, f, &cell);
}

/*
 * Another supplier: what the one above delivered under, sold and declared is not theirs; what a heading said
 * holds on.
 */
void tb_carry_new_supplier(struct tb_list_rows *s)
{
    static const enum tb_field of_delivery[] = { TB_FIELD_NOTE, TB_FIELD_DAY, TB_FIELD_ORDER,
                                                 TB_FIELD_ARTICLE };

    for (size_t i = 0; i < TB_COUNT(of_delivery) + TB_COUNT(group_field); i++) {
        enum tb_field f = i < TB_COUNT(of_delivery) ? of_delivery[i] : group_field[i - TB_COUNT(of_delivery)];

        if (!s->fresh[f] && !s->from_heading[f])
            s->carry[f] = NULL;
    }
    s->width = s->mass = (struct tb_measure){ .value = NAN };
}
