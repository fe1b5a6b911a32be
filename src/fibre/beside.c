/*
 * Words that lie on the cloth rather than in it: a material beside a word for a coating is that coating, in whatever order
 * a language has them, and a word that may be a fibre or a finish is the finish where every figure has another fibre.
 */
#include "fibre/fold.h"
#include "fibre/reader.h"

#include <string.h>

#define FINISH "finish:"

/* What cloth is coated with, and names of the table for such a coating: spelled out, and by a code. */
static const struct {
    const char *fibre, *coating, *code;
} materials[] = { { "polyurethane", "polyurethane coating", "PU coating" },
                  { "chlorofibre", "polyvinyl chloride coating", "PVC coating" },
                  { "fluorofibre", "polytetrafluoroethylene coating", "PTFE coating" },
                  { "acrylic", "acrylic coating", "acrylic coating" } };

/* The row of a word that is a part and its fibre in one. */
static int row_of(const char *word)
{
    size_t n = 0;
    const struct tb_name *name = tb_name_find(word, strlen(word), &n);

    return n ? (int)(name - tb_name_table) : -1;
}

/* The coating that a word names the material of; PU is the code of elastane to some, but nobody coats cloth with that. */
static int coating_row(const struct tb_token *t)
{
    const struct tb_name *row = t->kind == TB_TOKEN_WORD ? tb_row_of(t) : NULL;

    for (size_t i = 0; row && i < TB_COUNT(materials); i++)
        if (row->kind == TB_WORD_AMBIGUOUS
                ? strncmp(row->means, materials[i].fibre, strlen(materials[i].fibre)) == 0
                : tb_names_fibre(t) && row->fibre == tb_fibre_by_key(materials[i].fibre))
            return row_of(*row->lang ? materials[i].coating : materials[i].code);
    return -1;
}

static bool is_coat(const struct tb_token *t)
{
    const struct tb_name *row = t->kind == TB_TOKEN_WORD ? tb_row_of(t) : NULL;

    return row && ((t->what == TB_WORD_PART && t->part == TB_PART_COATING && row->fibre < 0) ||
                   (t->what == TB_WORD_FILLER && strcmp(row->means, FINISH "coating") == 0));
}

/* "of", "with": what stands between a coating and its material. */
static bool is_link(const struct tb_token *t)
{
    const struct tb_name *row = t->kind == TB_TOKEN_WORD ? tb_row_of(t) : NULL;

    return t->kind == TB_TOKEN_DASH ||
           (row && t->what == TB_WORD_FILLER && (!*row->means || strcmp(row->means, "with") == 0));
}

static bool is_number(const struct tb_tokens *t, size_t i)
{
    return i < t->n && t->item[i].kind == TB_TOKEN_NUMBER;
}

/* Has the material at i a figure of its own? One before it that another fibre has not, or one behind it that no other fibre has. */
static bool has_figure(const struct tb_tokens *t, size_t i)
{
    bool before =
        i > 0 && is_number(t, i - 1) && !(i > 1 && tb_names_fibre(&t->item[i - 2]) && !is_number(t, i - 3));
    bool behind = is_number(t, i + 1) && !(i + 2 < t->n && tb_names_fibre(&t->item[i + 2]));

    return before || behind;
}

/* Tokens from .. to become one, which names the part and its fibre. */
static void join(struct tb_tokens *t, size_t from, size_t to, int row)
{
    struct tb_token *x = &t->item[from], *last = &t->item[to];

    x->len = last->at + last->len - x->at;
    x->row = row;
    x->what = tb_name_table[row].kind;
    x->part = tb_name_more[row].part;
    memmove(x + 1, last + 1, (t->n - to - 1) * sizeof *x);
    t->n -= to - from;
}

/* "PU-beschichtet", "涤纶100% PU涂层"; "powlekany PCW", "recubierto de poliuretano". */
static void join_coating(struct tb_tokens *t, size_t i)
{
    size_t before = i, behind = i + 1;

    while (before > 0 && i - before < 1 && t->item[before - 1].kind == TB_TOKEN_DASH)
        before--;
    while (behind < t->n && behind - i < 3 && is_link(&t->item[behind]))
        behind++;
    if (before > 0 && coating_row(&t->item[before - 1]) >= 0 && !has_figure(t, before - 1))
        join(t, before - 1, i, coating_row(&t->item[before - 1]));
    else if (behind < t->n && coating_row(&t->item[behind]) >= 0 && !has_figure(t, behind))
        join(t, i, behind, coating_row(&t->item[behind]));
}

/* How many fibres a word names: T/C is two. */
static size_t fibres_of(const struct tb_token *t)
{
    const struct tb_name *row = tb_row_of(t);
    size_t n = tb_names_fibre(t) ? 1 : 0;

    for (const char *p = n && row && !strchr(row->means, '|') ? row->means : ""; *p; p++)
        n += *p == '+';
    return n;
}

/* The row of a fibre's word by which it is a finish as well; -1. */
static int finish_row(const struct tb_token *t, const char *text)
{
    if (!tb_names_fibre(t))
        return -1;
    for (int r = t->row; r >= 0; r = tb_token_next_row(t, r, text, NULL))
        if (tb_name_table[r].kind == TB_WORD_FILLER &&
            strncmp(tb_name_table[r].means, FINISH, strlen(FINISH)) == 0)
            return r;
    return -1;
}

/* "100% polyester, metallised" is a polyester; "70% polyester 30% metallised" has a metallic fibre. */
static void take_finishes(struct tb_tokens *t, const char *text)
{
    size_t fibres = 0, figures = 0;

    for (size_t i = 0; i < t->n; i++) {
        figures += t->item[i].kind == TB_TOKEN_NUMBER;
        fibres += finish_row(&t->item[i], text) < 0 ? fibres_of(&t->item[i]) : 0;
    }
    for (size_t i = 0; i < t->n && fibres && figures <= fibres; i++) {
        int row = finish_row(&t->item[i], text);

        if (row >= 0) {
            t->item[i].row = row;
            t->item[i].what = TB_WORD_FILLER;
        }
    }
}

void tb_take_beside(struct tb_tokens *t, const char *text)
{
    take_finishes(t, text);
    for (size_t i = 0; i < t->n; i++)
        if (is_coat(&t->item[i]))
            join_coating(t, i);
}
