/* What a token stands for: a fibre, a figure, or something beside them. */
#include "fibre/reader.h"

#include <string.h>

const struct tb_name *tb_row_of(const struct tb_token *t)
{
    return t->row < 0 ? NULL : &tb_name_table[t->row];
}

/* A word of the reader's own list has no row: then its kind alone tells. */
bool tb_names_fibre(const struct tb_token *t)
{
    const struct tb_name *row = tb_row_of(t);

    if (t->kind != TB_TOKEN_WORD)
        return false;
    switch (t->what) {
    case TB_WORD_MISNOMER: /* "bamboo" leaves the fibre open, "satin finish" is of no fibre */
        return !row || strcmp(row->means, "not_fibre") != 0;
    case TB_WORD_VAGUE: /* "synthetic" is some fibre, "soft" is no fibre at all */
        return row && strcmp(row->means, "class") == 0;
    case TB_WORD_CONSTRUCTION:
    case TB_WORD_MARK:
    case TB_WORD_PART:
    case TB_WORD_HEADER:
    case TB_WORD_FILLER:
    case TB_WORD_AND:
    case TB_WORD_PERCENT:
    case TB_WORD_UNKNOWN:
        return false;
    default:
        return true;
    }
}

bool tb_is_atom(const struct tb_token *t)
{
    return t->kind == TB_TOKEN_NUMBER || tb_names_fibre(t) ||
           (t->kind == TB_TOKEN_WORD && t->what == TB_WORD_UNKNOWN);
}

bool tb_is_short(const struct tb_token *t)
{
    return t->kind == TB_TOKEN_WORD && t->what == TB_WORD_FILLER && tb_row_of(t) &&
           tb_name_more[t->row].casing == TB_CASING_UPPER;
}
