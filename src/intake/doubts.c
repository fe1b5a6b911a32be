/* doubts.c - columns that nobody understands, and that cannot be left out unasked: another length, or what tells lots apart. */
#include "intake/reader.h"

#include <string.h>

#define BIT(field) ((uint64_t)1 << (field))

/* A column that is not understood, and what is known of it. */
struct doubt {
    const char *header;
    const struct tb_table_layout *table;
    const struct tb_content *holds;
    uint64_t hint; /* what the words in its header mean */
};

/* The table of that sheet whose bolts fill the column; NULL: none does. */
static const struct tb_table_layout *table_of(const struct tb_list_reader *r, const struct tb_list_column *c)
{
    for (size_t i = 0; i < r->layouts && c->column < TB_COLUMNS_MOST; i++) {
        const struct tb_table_layout *l = r->layout[i];

        if (!l->given && strcmp(l->sheet_name, c->sheet) == 0 &&
            l->content[c->column].filled * 2 >= l->habit.rows && l->content[c->column].filled)
            return l;
    }
    return NULL;
}

static const char *map_to(const struct tb_list_reader *r, const struct doubt *d, enum tb_field f)
{
    return tb_store_internf(r->list->store, "%s=%s", d->header, tb_field_key(f));
}

/* It is the field, or nothing; `open`: neither is likely. */
static void offer(struct tb_list_reader *r, const struct doubt *d, struct tb_question *q, enum tb_field f,
                  bool open)
{
    tb_list_answer(r->list, q, "map", map_to(r, d, f));
    tb_list_answer(r->list, q, "map", map_to(r, d, TB_FIELD_IGNORE));
    if (q)
        q->open = open;
}

/* Figures in all of its cells that are not a count of the rows. */
static bool measures(const struct doubt *d)
{
    const struct tb_content *c = d->holds;

    return c->figures == c->filled && c->counted * 5 < c->figures * 4;
}

/* "Mtrs" beside "Delivered": the one is the other without what was cut out. In yards and again in metres it is one length. */
static bool ask_near_length(struct tb_list_reader *r, const struct doubt *d)
{
    const struct tb_source_column *length = d->table->of[TB_FIELD_LENGTH];
    const struct tb_content *c = d->holds;
    size_t most = c->below > c->above ? c->below : c->above;
    bool measured = tb_header_words_unit(d->header) != TB_UNIT_NONE || (d->hint & BIT(TB_FIELD_LENGTH));
    struct tb_question *q;

    if (!length || length->weight || length->unit == TB_UNIT_KG || !measures(d) ||
        most * 10 < c->figures * 9 || (c->below == c->figures && c->above == c->figures) ||
        c->other_unit == c->figures || (c->figures < 2 && !measured) ||
        (!measured && c->changes * 2 < c->figures))
        return false;
    q = tb_list_ask(
        r->list, 0,
        "the figures in the column '%s' are nearly those of the length in '%s'; say --map \"%s=length\" "
        "if they are what counts, --map \"%s=ignore\" if they are not",
        d->header, length->header, d->header, d->header);
    offer(r, d, q, TB_FIELD_LENGTH, true);
    return true;
}

/* Goods are counted by their weight only where they have no length: figures that nobody understands may be one. */
static bool ask_length_or_weight(struct tb_list_reader *r, const struct doubt *d)
{
    static const uint64_t other = BIT(TB_FIELD_WIDTH) | BIT(TB_FIELD_MASS) | BIT(TB_FIELD_WEIGHT_NET) |
                                  BIT(TB_FIELD_WEIGHT_GROSS) | BIT(TB_FIELD_PRICE) | BIT(TB_FIELD_FAULTS);
    const struct tb_source_column *length = d->table->of[TB_FIELD_LENGTH];
    const struct tb_content *c = d->holds;
    bool likely = d->hint & BIT(TB_FIELD_LENGTH);
    struct tb_question *q;

    if (!length || !length->weight || !measures(d) || (!likely && (d->hint & other)) ||
        c->changes * 2 < c->figures || c->sum < 5 * (double)c->figures || c->sum > 3000 * (double)c->figures)
        return false;
    q = tb_list_ask(
        r->list, 0,
        "no column is understood as the length, and the column '%s' may be it; say --map \"%s=length\", or "
        "--map \"%s=ignore\" to count the goods by the weight in '%s'",
        d->header, d->header, d->header, length->header);
    offer(r, d, q, TB_FIELD_LENGTH, !likely);
    return true;
}

/* The same for some of the bolts and other for the rest, as dye lots are; words without a digit may be colours. */
static bool groups(const struct doubt *d, bool no_colour)
{
    const struct tb_content *c = d->holds;

    return c->changes > 1 && c->changes * 3 <= c->filled * 2 && c->filled >= 3 && c->counted < c->filled &&
           (no_colour || c->digits * 2 > c->filled);
}

/* Bolts of two dye lots taken for one would be judged by the burn of one: what may tell them apart is asked about. */
static bool ask_lot(struct tb_list_reader *r, const struct doubt *d)
{
    static const uint64_t lot = BIT(TB_FIELD_LOT) | BIT(TB_FIELD_SHADE_GROUP), colour = BIT(TB_FIELD_COLOUR);
    bool likely_lot = !d->table->of[TB_FIELD_LOT] && (d->hint & lot),
         no_colour = !d->table->of[TB_FIELD_COLOUR] && !(r->said & colour),
         likely_colour = no_colour && (d->hint & colour);
    enum tb_field field = likely_lot ? TB_FIELD_LOT : likely_colour ? TB_FIELD_COLOUR : TB_FIELD_NONE;
    struct tb_question *q;

    if (d->table->of[TB_FIELD_LOT] || (r->said & BIT(TB_FIELD_LOT)) || (!field && !groups(d, no_colour)))
        return false;
    q = tb_list_ask(
        r->list, 0,
        "the column '%s' is not understood, and no column is the dye lot; say --map \"%s=lot\" if it tells "
        "dye lots apart, --map \"%s=colour\" if it names the colour, --map \"%s=ignore\" if neither",
        d->header, d->header, d->header, d->header);
    tb_list_answer(r->list, q, "map", map_to(r, d, field ? field : TB_FIELD_LOT));
    if (no_colour && field != TB_FIELD_COLOUR)
        tb_list_answer(r->list, q, "map", map_to(r, d, TB_FIELD_COLOUR));
    if (field == TB_FIELD_COLOUR)
        tb_list_answer(r->list, q, "map", map_to(r, d, TB_FIELD_LOT));
    tb_list_answer(r->list, q, "map", map_to(r, d, TB_FIELD_IGNORE));
    if (q)
        q->open = !field;
    return true;
}

/* Centimetres or inches measure a width, where nothing else is it; or the diameter of a tube, the repeat of a pattern. */
static bool ask_width(struct tb_list_reader *r, const struct doubt *d)
{
    enum tb_unit unit = tb_header_words_width(d->header);
    struct tb_question *q;

    if (!unit || d->table->of[TB_FIELD_WIDTH] || d->table->of[TB_FIELD_WIDTH_USABLE] || !measures(d))
        return false;
    q = tb_list_ask(
        r->list, 0,
        "the column '%s' names a unit of width, and no column is the width; say --map \"%s=width\" if it "
        "is, --map \"%s=ignore\" if it is not",
        d->header, d->header, d->header);
    offer(r, d, q, TB_FIELD_WIDTH, !(d->hint & BIT(TB_FIELD_WIDTH)));
    return true;
}

/* "Item" over 1, 2, 3 ...: the number of the row, and no article. A person who says that it is one has said it. */
static void ask_counted(struct tb_list_reader *r, const struct tb_table_layout *l)
{
    const struct tb_source_column *c = l->of[TB_FIELD_ARTICLE];
    const struct tb_content *holds = c ? &l->content[c->index] : NULL;
    const char *map;

    if (!c || l->given || holds->filled < 3 || holds->counted < holds->filled ||
        tb_header_words_said(r->words, c->header))
        return;
    map = tb_store_internf(r->list->store, "%s=ignore", c->header);
    if (!tb_list_asked(r->list, "map", map))
        tb_list_answer(
            r->list,
            tb_list_ask(r->list, l->line,
                        "the column '%s' only counts the rows, and would be the article; say --map "
                        "\"%s\", or --map \"%s=article\" if it is",
                        c->header, map, c->header),
            "map", map);
}

/* Other columns of names are asked for first: where the article is missing too, one of these may be it. */
void tb_ask_unread(struct tb_list_reader *r)
{
    for (size_t i = 0; i < r->layouts; i++)
        ask_counted(r, r->layout[i]);
    for (size_t i = 0; i < r->list->columns; i++) {
        const struct tb_list_column *c = &r->list->column[i];
        struct doubt d = { c->header, c->field || !*c->header ? NULL : table_of(r, c), NULL, 0 };

        if (!d.table || tb_list_asked_of(r->list, d.header))
            continue;
        d.holds = &d.table->content[c->column];
        d.hint = tb_header_words_hint(r->words, d.header);
        (void)(ask_near_length(r, &d) || ask_length_or_weight(r, &d) || ask_width(r, &d) || ask_lot(r, &d));
    }
}
