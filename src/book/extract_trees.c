/*
 * The trees of an extract: for the facts of one table under one journal row, what a reader needs to compute the root that the
 * row names, without a word about the facts beside them.
 *
 * They are taken while the whole book is proved, which reads every fact anyway: no case is made of a book that does not.
 */
#include "book/extract_impl.h"
#include "book/prove_impl.h"

#include <stdlib.h>
#include <string.h>

/* The facts of one table under one journal row; those in `rows` from `first` on are in the extract. */
struct grove {
    const char *table;
    int64_t entry;
    const json_t *rows;
    size_t first, count, shown; /* count: in the extract; shown: of these met while proving */
    unsigned char *leaf;
    size_t leaves, room;
    uint64_t *at;
    struct tb_text nonces;
};

struct groves {
    struct grove *grove;
    size_t n, cap;
    /* where the fact before belonged */
    const char *table;
    int64_t entry;
    struct grove *last;
};

static int in_order(const void *a, const void *b)
{
    const struct grove *x = a, *y = b;
    int by = (x->entry > y->entry) - (x->entry < y->entry);

    return by ? by : strcmp(x->table, y->table);
}

/* The rows of a table come in the order of the journal. */
static void list_groves(struct groves *all, const json_t *facts)
{
    const char *table;
    json_t *rows;

    json_object_foreach((json_t *)facts, table, rows)
    {
        const json_t *row;
        size_t i;

        json_array_foreach(rows, i, row)
        {
            int64_t entry = tb_row_whole(row, "entry");
            struct grove *g = i ? &all->grove[all->n - 1] : NULL;

            if (!g || g->entry != entry) {
                TB_PUSH_ROOM(all->grove, all->n, all->cap);
                all->grove[all->n++] =
                    (struct grove){ .table = table, .entry = entry, .rows = rows, .first = i };
                g = &all->grove[all->n - 1];
            }
            g->count++;
        }
    }
    if (all->n)
        qsort(all->grove, all->n, sizeof *all->grove, in_order);
}

static struct grove *grove_of(struct groves *all, const struct tb_met_fact *f)
{
    struct grove key = { .table = f->table, .entry = f->entry };

    if (f->table != all->table || f->entry != all->entry) {
        all->last = all->n ? bsearch(&key, all->grove, all->n, sizeof key, in_order) : NULL;
        all->table = f->table;
        all->entry = f->entry;
    }
    return all->last;
}

static void meet(void *arg, const struct tb_met_fact *f)
{
    struct grove *g = grove_of(arg, f);
    const json_t *next;

    if (!g)
        return;
    if (g->leaves == g->room) {
        g->room = g->room ? 2 * g->room : 64;
        g->leaf = tb_realloc(g->leaf, g->room, TB_HASH);
    }
    memcpy(g->leaf + g->leaves++ * TB_HASH, f->leaf, TB_HASH);
    next = g->shown < g->count ? json_array_get(g->rows, g->first + g->shown) : NULL;
    if (next && strcmp(tb_row_text(next, "id"), f->id) == 0) {
        g->at = tb_realloc(g->at, g->shown + 1, sizeof *g->at);
        g->at[g->shown++] = f->at;
        tb_text_addn(&g->nonces, (const char *)f->nonce, TB_HASH);
    }
}

static json_t *tree_json(const struct grove *g)
{
    struct tb_text beside = { 0 };
    json_t *at = json_array(), *j;

    for (size_t i = 0; i < g->shown; i++)
        (void)json_array_append_new(at, json_integer((json_int_t)g->at[i]));
    tb_tree_beside(&beside, g->leaf, g->leaves, g->at, g->shown);
    j = json_pack("{s:I, s:s, s:o, s:o, s:o}", "row", (json_int_t)g->entry, "table", g->table, "at", at,
                  "nonces", tb_base64_json(g->nonces.s, g->nonces.n), "beside",
                  tb_base64_json(tb_text_str(&beside), beside.n));
    tb_text_free(&beside);
    return j;
}

/* No leaf met: the row is one of the rule of tables. */
static json_t *trees_json(const struct groves *all)
{
    json_t *trees = json_array();

    for (size_t i = 0; i < all->n; i++)
        if (all->grove[i].shown)
            (void)json_array_append_new(trees, tree_json(&all->grove[i]));
    return trees;
}

tb_rc tb_extract_trees(json_t **out, struct tb_book *b, const json_t *facts, struct tb_err *err)
{
    struct groves all = { 0 };
    struct tb_proof p;
    tb_rc rc;

    list_groves(&all, facts);
    rc = tb_prove_meeting(&p, b, meet, &all, err);
    if (rc == TB_OK && !p.fits)
        rc = tb_fail(err, TB_EFORMAT, "the book does not fit its journal, and no case is made of it: %s",
                     p.why);
    if (rc == TB_OK)
        *out = trees_json(&all);
    for (size_t i = 0; i < all.n; i++) {
        free(all.grove[i].leaf);
        free(all.grove[i].at);
        tb_text_free(&all.grove[i].nonces);
    }
    free(all.grove);
    return rc;
}
