/* held.c - what a heading says of the goods and no bolt has got: it is asked about or told, and never lost. */
#include "intake/rows.h"

#include "tenterbook/utf8.h"

#include <stdlib.h>
#include <string.h>

void tb_held_keep(struct tb_list_reader *r, const struct tb_head_said *said)
{
    if (said->field == TB_FIELD_WIDTH || said->field == TB_FIELD_WIDTH_USABLE || said->field == TB_FIELD_MASS)
        return;
    for (size_t i = 0; i < r->helds; i++)
        if (r->held_said[i].field == said->field && r->held_said[i].value == said->value)
            return;
    if (r->helds < TB_COUNT(r->held_said))
        r->held_said[r->helds++] = *said;
}

/* Whatever its case and accents. */
static bool holds(const char *text, const char *folded)
{
    char *in = tb_fold(text, strlen(text));
    bool found = strstr(in, folded) != NULL;

    free(in);
    return found;
}

bool tb_in_book(const struct tb_packing_list *l, const char *text)
{
    char *value = tb_fold(text, strlen(text));
    bool found = false;

    for (size_t i = 0; i < l->deliveries && !found; i++)
        found = holds(l->delivery[i].supplier, value) || holds(l->delivery[i].note, value) ||
                holds(l->delivery[i].order, value);
    for (size_t i = 0; i < l->lots && !found; i++)
        found = holds(l->lot[i].article, value) || holds(l->lot[i].shade, value) ||
                holds(l->lot[i].dye_lot, value) || holds(l->lot[i].declared, value);
    free(value);
    return found;
}

/* The column that holds what the heading says as well, unless somebody said what it means; NULL: none does. */
static const char *column_of(const struct tb_list_reader *r, enum tb_field f)
{
    for (size_t i = 0; i < r->layouts; i++) {
        const struct tb_source_column *c = r->layout[i]->of[f];
        bool said = r->layout[i]->given || !c || strchr(c->header, '=') || strchr(c->header, '"');

        for (size_t k = 0; k < r->opts->words && !said; k++)
            said = strcmp(r->opts->word[k].word, c->header) == 0;
        if (!said)
            return c->header;
    }
    return NULL;
}

/* Two values that no bolt has got would make one lot of two kinds of goods. */
static void ask(struct tb_list_reader *r, const struct tb_head_said *a, const struct tb_head_said *b,
                const char *header)
{
    struct tb_list_store *s = r->list->store;
    enum tb_field part = tb_joint_part(a->field);
    const char *join = tb_store_internf(s, "%s=%s", header, tb_field_key(part));
    const char *leave = tb_store_internf(s, "%s=ignore", header);
    const char *column = tb_store_internf(s, "%s=%s", header, tb_field_key(a->field));
    struct tb_question *q = tb_list_ask(
        r->list, a->line,
        "line %zu says that the %s is '%s', line %zu that it is '%s', and the column '%s' says "
        "it as well; say --map \"%s\" to keep both, --map \"%s\" if the headings hold, --map \"%s\" "
        "if the column holds",
        a->line, tb_field_name(a->field), tb_store_brief(s, a->value), b->line, tb_store_brief(s, b->value),
        header, join, leave, column);

    tb_list_answer(r->list, q, "map", join);
    tb_list_answer(r->list, q, "map", leave);
    tb_list_answer(r->list, q, "map", column);
}

void tb_held_tell(struct tb_list_reader *r)
{
    const struct tb_head_said *first[TB_FIELDS] = { NULL };
    bool asked[TB_FIELDS] = { false };
    struct tb_text seen = { 0 };

    for (size_t i = 0; i < r->rows->heads; i++) /* below the last bolt */
        tb_held_keep(r, &r->rows->head[i]);
    for (size_t i = 0; i < r->helds; i++) {
        const struct tb_head_said *said = &r->held_said[i];
        enum tb_field f = said->field;
        const char *header;

        if (tb_in_book(r->list, said->value))
            continue;
        if (seen.n < 600)
            tb_text_addf(&seen, "%s'%s' (%s)", seen.n ? ", " : "",
                         tb_store_brief(r->list->store, said->value), tb_line_place(r, said->line));
        header = tb_joint_part(f) ? column_of(r, f) : NULL;
        if (first[f] && header && !asked[f]) {
            ask(r, first[f], said, header);
            asked[f] = true;
        }
        first[f] = first[f] ? first[f] : said;
    }
    if (seen.n)
        tb_list_say(r->list, "said above bolts and kept for none, with its line: %s", tb_text_str(&seen));
    tb_text_free(&seen);
}
