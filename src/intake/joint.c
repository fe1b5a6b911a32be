/*
 * joint.c - names that two fields make: the article with its design, the colour with its shade band, wherever each of them
 * stands, in a column or in a heading.
 */
#include "intake/rows.h"

#include <string.h>

static const enum tb_field pair[][2] = { { TB_FIELD_ARTICLE, TB_FIELD_DESIGN },
                                         { TB_FIELD_COLOUR, TB_FIELD_SHADE_GROUP } };

enum tb_field tb_joint_part(enum tb_field f)
{
    for (size_t i = 0; i < TB_COUNT(pair); i++)
        if (pair[i][0] == f)
            return pair[i][1];
    return TB_FIELD_NONE;
}

/* It follows the part it stands in for, until the name itself is said. */
void tb_heads_stand_in(struct tb_heads *h)
{
    for (size_t i = 0; i < TB_COUNT(pair); i++) {
        enum tb_field name = pair[i][0];
        const char *part = h->value[pair[i][1]];

        if (part && (!h->value[name] || h->value[name] == h->standing[name]))
            h->value[name] = h->standing[name] = part;
    }
}

bool tb_heads_stands_in(const struct tb_heads *h, enum tb_field name)
{
    return h->value[name] && h->value[name] == h->standing[name];
}

/* Is the name of the bolts below known from elsewhere, so that a part said alone belongs to it? */
static bool is_named(const struct tb_list_reader *r, enum tb_field name)
{
    const struct tb_list_rows *s = r->rows;

    return r->now->of[name] || (s->carry[name] && s->carry[name] != s->carry[tb_joint_part(name)]) ||
           (!s->carry[name] && r->title.value[name] && !tb_heads_stands_in(&r->title, name));
}

/* The part of a name that ended is not a part of the next. */
static void end_part(struct tb_list_reader *r, enum tb_field name, enum tb_field part)
{
    struct tb_list_rows *s = r->rows;

    if (s->fresh[part])
        return;
    s->carry[part] = NULL;
    if (s->sheet.bolts && r->title.value[name])
        r->title.value[part] = NULL;
}

void tb_carry_parts(struct tb_list_reader *r, struct tb_heads *h)
{
    struct tb_list_rows *s = r->rows;

    for (size_t i = 0; i < TB_COUNT(pair); i++) {
        enum tb_field name = pair[i][0], part = pair[i][1];

        if (tb_heads_stands_in(h, name) && is_named(r, name))
            h->value[name] = NULL;
        if (h->value[name] && !h->value[part])
            end_part(r, name, part);
        if (h->value[part]) {
            s->carry[part] = h->value[part];
            s->from_heading[part] = s->fresh[part] = true;
        }
    }
}

const char *tb_joint(struct tb_list_store *s, enum tb_field name, const char *text, const char *part)
{
    if (!text || !part || text == part)
        return text ? text : part;
    return tb_store_internf(s, "%s%s%s", text, name == TB_FIELD_ARTICLE ? " / " : " ", part);
}
