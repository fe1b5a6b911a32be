/* block.c - where the goods of another block begin, and which of two labels of one thing holds. */
#include "intake/rows.h"

#include "base/say.h"
#include "tenterbook/utf8.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* Whatever its case and accents. */
static bool same(const char *a, const char *b)
{
    return a == b || (a && b && tb_fold_same(a, b));
}

bool tb_said_heading(const struct tb_list_reader *r, size_t line)
{
    for (size_t i = 0; i < r->opts->lines; i++) {
        const struct tb_line_is *is = &r->opts->line[i];

        if (is->kind == TB_LINE_HEADING && is->line == line &&
            (!*is->sheet || strcmp(is->sheet, r->sheet_name) == 0))
            return true;
    }
    return false;
}

static const char *option_of(const struct tb_list_reader *r, enum tb_field f)
{
    return f == TB_FIELD_ARTICLE ? r->opts->article : f == TB_FIELD_COMPOSITION ? r->opts->declared : NULL;
}

/* Two labels in one row are told apart by no line. */
static void refuse_row(struct tb_list_reader *r, const struct tb_head_said *a, const struct tb_head_said *b)
{
    const struct tb_row at = { .line = a->line };

    tb_row_bad(r, &at, NULL,
               "the row says twice what the %s is, '%s' and '%s', and not of which bolts; write each above "
               "its own bolts, or say --total-line %s to leave the row out",
               _(tb_field_name(a->field)), tb_store_brief(r->list->store, a->value),
               tb_store_brief(r->list->store, b->value), tb_line_place(r, a->line));
}

static struct tb_question *ask_which(struct tb_list_reader *r, const struct tb_head_said *a,
                                     const struct tb_head_said *b)
{
    struct tb_list_store *s = r->list->store;
    const char *one = tb_line_place(r, a->line), *other = tb_line_place(r, b->line);

    return tb_list_ask(
        r->list, b->line,
        "line %zu says that the %s is '%s', line %zu that it is '%s', and no bolt stands between "
        "them; say --heading-line %s or --heading-line %s for the one that holds",
        a->line, _(tb_field_name(a->field)), tb_store_brief(s, a->value), b->line,
        tb_store_brief(s, b->value), one, other);
}

/*
 * The one of n values that holds for field f; NULL: none stands there, or an option says it. Two that differ are asked about; the last
 * is likely where the labels of an article differ ("Style: A1", "Quality: Poplin"), or where `nearest` says that it stands nearer to
 * the bolts.
 */
static const struct tb_head_said *choose(struct tb_list_reader *r, const struct tb_head_said *said, size_t n,
                                         enum tb_field f, bool nearest)
{
    const struct tb_head_said *first = NULL, *last = NULL, *chosen = NULL;
    bool differ = false;
    struct tb_question *q;

    for (size_t i = 0; i < n; i++) {
        if (said[i].field != f)
            continue;
        chosen = tb_said_heading(r, said[i].line) ? &said[i] : chosen;
        if (first && !same(first->value, said[i].value)) {
            last = &said[i];
            differ = differ || (f == TB_FIELD_ARTICLE && first->label && last->label &&
                                !same(first->label, last->label));
        }
        first = first ? first : &said[i];
    }
    if (!last || chosen || option_of(r, f))
        return chosen ? chosen : last ? NULL : first;
    if (first->line == last->line) {
        refuse_row(r, first, last);
        return last;
    }
    q = ask_which(r, first, last);
    for (size_t i = n; i-- > 0;)
        if (said[i].field == f)
            tb_list_answer(r->list, q, "heading-line", tb_line_place(r, said[i].line));
    if (q)
        q->open = !nearest && !differ;
    return last;
}

/* Of the values of each field in a title one is left. */
void tb_settle_title(struct tb_list_reader *r)
{
    struct tb_heads *t = &r->title;
    struct tb_head_said left[TB_HEADS_SAID_MOST];
    size_t n = 0;

    for (int f = 0; f < TB_FIELDS; f++) {
        const struct tb_head_said *one;
        bool any = false;

        for (size_t i = 0; i < t->saids && !any; i++)
            any = t->said[i].field == (enum tb_field)f;
        if (!any)
            continue;
        one = choose(r, t->said, t->saids, (enum tb_field)f, false);
        t->value[f] = one ? one->value : NULL;
        if (one) {
            tb_held_keep(r, one);
            left[n++] = *one;
        }
    }
    tb_heads_stand_in(t);
    memcpy(t->said, left, n * sizeof *left);
    t->saids = n;
}

/* What headings above this bolt say: once, and against what stands above the table where no bolt stands between. */
void tb_settle_heads(struct tb_list_reader *r)
{
    struct tb_list_rows *s = r->rows;
    struct tb_head_said both[2];
    const bool design = s->carry[TB_FIELD_DESIGN] && s->carry[TB_FIELD_ARTICLE] == s->carry[TB_FIELD_DESIGN];
    const bool band =
        s->carry[TB_FIELD_SHADE_GROUP] && s->carry[TB_FIELD_COLOUR] == s->carry[TB_FIELD_SHADE_GROUP];

    for (size_t i = 0; i < s->heads; i++) {
        enum tb_field f = s->head[i].field;
        const struct tb_head_said *one, *above = NULL;

        if (i && s->head[i - 1].field == f)
            continue;
        one = choose(r, s->head, s->heads, f, false);
        if (one)
            tb_held_keep(r, one);
        for (size_t k = 0; k < r->title.saids && s->sheet.bolts == 0; k++)
            if (r->title.said[k].field == f)
                above = &r->title.said[k];
        if (one && above) {
            both[0] = *above;
            both[1] = *one;
            one = choose(r, both, 2, f, true);
        }
        if (s->carry[f])
            s->carry[f] = one ? one->value : NULL;
    }
    if (design)
        s->carry[TB_FIELD_ARTICLE] = s->carry[TB_FIELD_DESIGN];
    if (band)
        s->carry[TB_FIELD_COLOUR] = s->carry[TB_FIELD_SHADE_GROUP];
    s->heads = 0;
}

/* Kept by field, so that each is looked at once. */
static void keep_said(struct tb_list_rows *s, const struct tb_head_said *said)
{
    size_t at = s->heads;

    if (s->heads == TB_HEADS_SAID_MOST)
        return;
    while (at && s->head[at - 1].field > said->field)
        at--;
    memmove(&s->head[at + 1], &s->head[at], (s->heads - at) * sizeof *s->head);
    s->head[at] = *said;
    s->heads++;
}

/* The goods above ended: what was said of them above the table is not said of another article. */
static void end_title(struct tb_list_reader *r, const struct tb_row *row, const char *article)
{
    static const enum tb_field told[] = { TB_FIELD_COLOUR, TB_FIELD_LOT, TB_FIELD_COMPOSITION };
    struct tb_list_store *store = r->list->store;
    struct tb_text seen = { 0 };

    for (size_t i = 0; i < TB_COUNT(told); i++)
        if (r->title.value[told[i]])
            tb_text_addf(&seen, "%s'%s'", seen.n ? ", " : "", tb_store_brief(store, r->title.value[told[i]]));
    if (seen.n)
        tb_list_say(r->list,
                    "line %zu begins the article '%s'; what stands above the table is not taken for it: %s",
                    row->line, tb_store_brief(store, article), tb_text_str(&seen));
    tb_text_free(&seen);
    for (int f = 0; f < TB_FIELDS; f++)
        if (tb_field_of_goods((enum tb_field)f))
            r->title.value[f] = NULL;
    r->title.saids = 0;
    r->rows->title_width = r->rows->title_mass = (struct tb_measure){ .value = NAN };
    r->rows->of_title = false;
}

/* A dye lot is one of a colour: where a heading names another colour and no lot, the one of the colour above is not its lot. */
static void end_lot(struct tb_list_reader *r, const struct tb_row *row, const char *colour)
{
    struct tb_list_rows *s = r->rows;
    bool own = s->carry[TB_FIELD_LOT] && s->from_heading[TB_FIELD_LOT];
    const char *before =
        s->carry[TB_FIELD_COLOUR] ? s->carry[TB_FIELD_COLOUR] : r->title.value[TB_FIELD_COLOUR];
    const char *lot = own ? s->carry[TB_FIELD_LOT] : r->title.value[TB_FIELD_LOT];

    if (!before || same(before, colour) || !lot || s->fresh[TB_FIELD_LOT] || s->sheet.bolts == 0 ||
        (!own && !r->title.value[TB_FIELD_COLOUR]))
        return;
    tb_list_say(r->list,
                "line %zu names the colour '%s' and no dye lot; the dye lot '%s' of the colour above is not "
                "taken for it",
                row->line, tb_store_brief(r->list->store, colour), tb_store_brief(r->list->store, lot));
    if (own)
        s->carry[TB_FIELD_LOT] = NULL;
    else
        r->title.value[TB_FIELD_LOT] = NULL;
}

/* Another composition under the same article is told, as the article may have been forgotten. */
static void tell_article(struct tb_list_reader *r, const struct tb_row *row, const char *declared)
{
    struct tb_list_rows *s = r->rows;
    const char *article =
        s->carry[TB_FIELD_ARTICLE] ? s->carry[TB_FIELD_ARTICLE] : r->title.value[TB_FIELD_ARTICLE];
    const char *before = s->carry[TB_FIELD_COMPOSITION] ? s->carry[TB_FIELD_COMPOSITION]
                                                        : r->title.value[TB_FIELD_COMPOSITION];

    if (article && before && !same(before, declared) && s->sheet.bolts && !s->fresh[TB_FIELD_ARTICLE] &&
        !r->now->of[TB_FIELD_ARTICLE])
        tb_list_say(
            r->list,
            "line %zu declares '%s' and names no article; the article is taken to be '%s', as above it",
            row->line, tb_store_brief(r->list->store, declared), tb_store_brief(r->list->store, article));
}

/* Widths and masses are read where what stands above a table is. */
static void take_measures(struct tb_list_reader *r, const struct tb_heads *h)
{
    static const enum tb_field measured[] = { TB_FIELD_WIDTH, TB_FIELD_WIDTH_USABLE, TB_FIELD_MASS };
    bool any = false;

    for (size_t i = 0; i < TB_COUNT(measured); i++)
        if (h->value[measured[i]]) {
            r->title.value[measured[i]] = h->value[measured[i]];
            any = true;
        }
    if (any) {
        r->rows->width = r->rows->mass = (struct tb_measure){ .value = NAN };
        tb_title_measures(r);
    }
}

/* The article first: another article ends what ran down from the one before it. */
void tb_carry_from(struct tb_list_reader *r, const struct tb_row *row, const struct tb_heads *said)
{
    static const enum tb_field field[] = { TB_FIELD_SUPPLIER,   TB_FIELD_NOTE,   TB_FIELD_DAY,
                                           TB_FIELD_ORDER,      TB_FIELD_COLOUR, TB_FIELD_LOT,
                                           TB_FIELD_ORIGIN,     TB_FIELD_PRICE,  TB_FIELD_CURRENCY,
                                           TB_FIELD_COMPOSITION };
    struct tb_list_rows *s = r->rows;
    struct tb_heads heads = *said, *h = &heads;
    const char *article;

    tb_carry_parts(r, h);
    article = h->value[TB_FIELD_ARTICLE];
    for (size_t i = 0; i < h->saids; i++)
        keep_said(s, &h->said[i]);
    if (article) {
        if (s->of_title && !same(article, r->title.value[TB_FIELD_ARTICLE]))
            end_title(r, row, article);
        tb_carry_article(s, article, true);
        s->fresh[TB_FIELD_ARTICLE] = true;
    }
    if (h->value[TB_FIELD_COLOUR] && !h->value[TB_FIELD_LOT])
        end_lot(r, row, h->value[TB_FIELD_COLOUR]);
    if (h->value[TB_FIELD_COMPOSITION] && !article)
        tell_article(r, row, h->value[TB_FIELD_COMPOSITION]);
    for (size_t i = 0; i < TB_COUNT(field); i++)
        if (h->value[field[i]]) {
            s->carry[field[i]] = h->value[field[i]];
            s->from_heading[field[i]] = s->fresh[field[i]] = true;
        }
    take_measures(r, h);
}
