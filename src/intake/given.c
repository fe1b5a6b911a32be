/* given.c - the columns of a list without header, as somebody gave them. */
#include "intake/given.h"

#include "base/say.h"

#include <stdlib.h>
#include <string.h>

/* Names join where two columns have one; of figures there is one. */
static bool may_repeat(enum tb_field f)
{
    return f == TB_FIELD_NONE || f == TB_FIELD_ARTICLE || f == TB_FIELD_DESIGN || f == TB_FIELD_COLOUR ||
           f == TB_FIELD_LOT || f == TB_FIELD_SHADE_GROUP;
}

static tb_rc take_field(struct tb_given *g, enum tb_field f, const char *key, struct tb_err *err)
{
    for (size_t i = 0; i < g->n; i++)
        if (g->field[i] == f && !may_repeat(f))
            return tb_fail(err, TB_EINVAL, "--columns names '%s' twice", key);
    if (g->n == TB_COLUMNS_MOST)
        return tb_fail(err, TB_EINVAL, "--columns names more than %d columns", TB_COLUMNS_MOST);
    g->field[g->n++] = f;
    return TB_OK;
}

static tb_rc refuse_word(const char *word, struct tb_err *err)
{
    struct tb_text keys = { 0 };
    tb_rc rc;

    for (int f = TB_FIELD_NONE + 1; f <= TB_FIELD_PARTS; f++)
        tb_text_addf(&keys, "%s ", tb_field_key((enum tb_field)f));
    rc = tb_fail(
        err, TB_EINVAL,
        "--columns does not know '%s'; it takes these, separated by commas: %sweight_net, - for a "
        "column that is "
        "left out, and length* or length*10 for lengths side by side, with total behind them for their sum",
        word, keys.s);
    tb_text_free(&keys);
    return rc;
}

/* "length*", "length*10". False: it is not that. */
static bool take_lengths(struct tb_given *g, const char *word)
{
    const char *many = word + strlen("length*");
    size_t n = strncmp(word, "length*", strlen("length*")) == 0 ? strspn(many, "0123456789") : 0;

    if (strncmp(word, "length*", strlen("length*")) != 0 || many[n] || n > 3 || g->lengths)
        return false;
    g->grid = g->n;
    g->lengths = n ? (size_t)strtoul(many, NULL, 10) : SIZE_MAX;
    return g->lengths > 0;
}

static tb_rc take_word(struct tb_given *g, const char *word, struct tb_err *err)
{
    int field = tb_field_by_key(word);

    if (g->lengths == SIZE_MAX)
        return tb_fail(err, TB_EINVAL,
                       "--columns: length* goes to the end of the row; say how many: length*10");
    if (field == TB_FIELD_TOTAL && g->lengths && !g->total) {
        g->total = g->n;
        return take_field(g, TB_FIELD_NONE, word, err);
    }
    if (strcmp(word, "-") == 0 || field == TB_FIELD_IGNORE)
        return take_field(g, TB_FIELD_NONE, word, err);
    if (take_lengths(g, word))
        return take_field(g, TB_FIELD_LENGTH, "length", err);
    if (field <= 0 || (field > TB_FIELD_PARTS && field != TB_FIELD_WEIGHT_NET))
        return refuse_word(word, err);
    return take_field(g, (enum tb_field)field, word, err);
}

static bool has(const struct tb_given *g, enum tb_field f)
{
    for (size_t i = 0; i < g->n; i++)
        if (g->field[i] == f)
            return true;
    return false;
}

/* Goods without a length are counted by their weight; beside a length it is what each bolt weighs. */
static tb_rc settle_weight(struct tb_given *g, struct tb_err *err)
{
    if (g->lengths && has(g, TB_FIELD_WEIGHT_NET))
        return tb_fail(err, TB_EINVAL,
                       "--columns: weight_net is the weight of one bolt, and length* makes several of a row");
    for (size_t i = 0; !has(g, TB_FIELD_LENGTH) && i < g->n; i++)
        if (g->field[i] == TB_FIELD_WEIGHT_NET) {
            g->field[i] = TB_FIELD_LENGTH;
            g->weight = true;
        }
    return TB_OK;
}

tb_rc tb_given_read(struct tb_given *g, const char *text, struct tb_err *err)
{
    char *copy = tb_strdup(text), *save = NULL;
    tb_rc rc = TB_OK;

    *g = (struct tb_given){ 0 };
    for (char *word = strtok_r(copy, ", ", &save); word && rc == TB_OK; word = strtok_r(NULL, ", ", &save))
        rc = take_word(g, word, err);
    free(copy);
    if (rc == TB_OK)
        rc = settle_weight(g, err);
    if (rc == TB_OK && !has(g, TB_FIELD_LENGTH))
        rc = tb_fail(err, TB_EINVAL,
                     "--columns is '%s'; it must say where the length stands (or weight_net, for goods "
                     "counted in kilograms)",
                     text);
    return rc;
}

/* A column without a header is called by its letter, as a spreadsheet does. */
void tb_given_layout(struct tb_table_layout *out, const struct tb_given *g, struct tb_packing_list *list)
{
    for (size_t i = 0; i < g->n; i++) {
        struct tb_source_column *c = &out->column[out->n];
        char letters[8];
        bool weighs;
        size_t at = g->lengths && g->lengths != SIZE_MAX && i > g->grid ? i + g->lengths - 1 : i;

        tb_column_letters(letters, at);
        weighs = g->field[i] == TB_FIELD_WEIGHT_NET || (g->weight && g->field[i] == TB_FIELD_LENGTH);
        *c = (struct tb_source_column){ .field = g->field[i],
                                        .index = i,
                                        .header = tb_store_text(list->store, letters),
                                        .weight = g->weight && g->field[i] == TB_FIELD_LENGTH,
                                        .unit = weighs ? TB_UNIT_KG : TB_UNIT_NONE,
                                        .decimal = '.',
                                        .unit_mask = ~0u };
        tb_list_put_column(list, &(struct tb_list_column){ out->sheet_name, at, c->header,
                                                           g->field[i] ? g->field[i] : TB_FIELD_IGNORE,
                                                           c->unit, g->field[i] == TB_FIELD_WEIGHT_NET });
        out->meant[i] = (unsigned char)(g->field[i]                 ? g->field[i]
                                        : g->lengths && i > g->grid ? TB_FIELD_TOTAL
                                                                    : TB_FIELD_IGNORE);
        if (!g->field[i])
            continue;
        out->n++;
        if (!out->of[c->field])
            out->of[c->field] = c;
    }
    tb_header_join(out);
}
