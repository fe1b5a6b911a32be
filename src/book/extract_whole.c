/*
 * Is all of the lot in its extract? What a journal row recorded of one lot has a digest of its own, its share, and the row
 * names the root over the shares of all its lots: the facts that are here must give the share of this one.
 */
#include "book/extract_impl.h"

#include <stdlib.h>
#include <string.h>

/* --- which lot a fact is of --------------------------------------------------------------------------------------- */

/* Every fact of the extract by its key. */
struct known {
    const char *id, *table;
    const json_t *row;
};
struct knowns {
    struct known *item;
    size_t n, cap;
};

static int by_id(const void *a, const void *b)
{
    return strcmp(((const struct known *)a)->id, ((const struct known *)b)->id);
}

static void list_known(struct knowns *out, const json_t *facts)
{
    const char *table;
    json_t *rows;

    json_object_foreach((json_t *)facts, table, rows)
    {
        const json_t *row;
        size_t i;

        json_array_foreach(rows, i, row)
        {
            if (tb_kept_back(row))
                continue;
            TB_PUSH_ROOM(out->item, out->n, out->cap);
            out->item[out->n++] = (struct known){ tb_row_text(row, "id"), table, row };
        }
    }
    if (out->n)
        qsort(out->item, out->n, sizeof *out->item, by_id);
}

/* As tb_lot_of_owner asks a book; the file is anybody's, so that facts may name each other in a circle. */
static const char *lot_of(const struct knowns *all, const char *table, const json_t *row)
{
    const struct tb_owner *o = tb_owner_of(table);
    const struct known *k;

    for (int steps = 0; o && !o->direct && steps < 4; steps++) {
        const struct known key = { .id = tb_row_text(row, o->column) };

        k = all->n ? bsearch(&key, all->item, all->n, sizeof key, by_id) : NULL;
        o = k ? tb_owner_of(k->table) : NULL;
        row = k ? k->row : NULL;
    }
    return o && o->direct ? tb_row_text(row, o->column) : "";
}

/* --- the share of the lot in each row ------------------------------------------------------------------------------ */

static int in_order(const void *a, const void *b)
{
    const struct tb_owned *x = a, *y = b;
    int by = (x->entry > y->entry) - (x->entry < y->entry);

    by = by ? by : strcmp(x->table, y->table);
    return by ? by : (x->seq > y->seq) - (x->seq < y->seq);
}

struct whole {
    struct tb_extract_proof *p;
    struct knowns known;
    const struct tb_owneds *owned;
    const char *lot, *lot_ref;
    struct tb_shares share;
};

/* Facts of one journal row, from *at on, which goes behind them. */
static void add_facts(struct whole *w, size_t *at, int64_t entry)
{
    const struct tb_owned *f;
    const struct tb_owner *o;

    tb_shares_clear(&w->share);
    tb_shares_lot(&w->share, w->lot);
    for (; *at < w->owned->n && (f = &w->owned->item[*at])->entry <= entry; ++*at)
        if (f->entry == entry && (o = tb_owner_of(f->table)) && o->told &&
            (tb_kept_back(f->row) || strcmp(lot_of(&w->known, f->table, f->row), w->lot) == 0))
            tb_shares_fact(&w->share, w->lot, f->table, f->leaf);
}

static bool fits(struct whole *w, const struct tb_told_row *row)
{
    unsigned char share[TB_HASH], root[TB_HASH];
    struct tb_text beside = { 0 };
    bool good;

    tb_shares_one(share, &w->share);
    good = tb_base64_of_json(&beside, json_object_get(row->full, "beside")) &&
           tb_tree_from(root, row->lots, share, &row->lot_at, 1, tb_text_str(&beside), beside.n) &&
           memcmp(root, row->shares, TB_HASH) == 0;
    tb_text_free(&beside);
    return good;
}

static void check_share(struct whole *w, size_t *at, const struct tb_told_row *row)
{
    add_facts(w, at, row->number);
    if (row->ours && !fits(w, row))
        tb_extract_wrong(
            w->p,
            "journal row %lld (%s %s by %s, %s): what it recorded of this lot is not what is here: a "
            "fact was left out, added or changed",
            (long long)row->number, tb_row_text(row->full, "verb"), tb_row_text(row->full, "subject"),
            tb_row_text(row->full, "person"), tb_row_text(row->full, "at"));
}

/* --- what older rules show ----------------------------------------------------------------------------------------- */

/* A row that recorded more than is here: the rest may be of other lots, which the row does not show. */
static bool is_shared(const struct whole *w, const json_t *facts, const struct tb_told_row *row)
{
    if (!row->ours || tb_subject_is_lot(tb_row_text(row->full, "subject"), w->lot_ref))
        return false;
    for (size_t i = 0; i < row->contents; i++) {
        const json_t *rows = json_object_get(facts, row->content[i].table);

        if (tb_owner_of(row->content[i].table) && rows &&
            tb_rows_of_entry(rows, row->number) < row->content[i].rows)
            return true;
    }
    return false;
}

/* A lot says with how many bolts it came, whatever the rule. */
static void check_bolts(const struct whole *w, const json_t *facts, const json_t *lot)
{
    int64_t came = tb_row_whole(lot, "bolts"),
            told = tb_rows_of_entry(json_object_get(facts, "bolt"), tb_row_whole(lot, "entry"));

    if (lot && came != told)
        tb_extract_wrong(w->p, "the lot came with %lld bolts, and the file tells %lld of them",
                         (long long)came, (long long)told);
}

/* --- others' facts, and facts that others name --------------------------------------------------------------------- */

static void check_others(const struct whole *w)
{
    for (size_t i = 0; i < w->known.n; i++) {
        const char *lot = lot_of(&w->known, w->known.item[i].table, w->known.item[i].row);

        if (*lot && strcmp(lot, w->lot) != 0)
            tb_extract_wrong(w->p, "the file holds a row of table %s that is of another lot",
                             w->known.item[i].table);
        if (i && strcmp(w->known.item[i].id, w->known.item[i - 1].id) == 0)
            tb_extract_wrong(w->p, "the file holds a row of table %s twice", w->known.item[i].table);
    }
}

/* A person or a supplier is of no lot; that one is missing shows where a fact names it. */
static tb_rc check_references(const struct whole *w, const json_t *extract, struct tb_err *err)
{
    struct tb_text wrong = { 0 };
    struct tb_book *b = NULL;
    tb_rc rc = TB_OK;

    if (w->p->wrong.n)
        return TB_OK;
    if (tb_extract_book(&b, extract, err) != TB_OK)
        tb_extract_wrong(w->p, "%s", err->msg);
    else if ((rc = tb_db_pages(&wrong, b->db, err)) == TB_OK && wrong.n)
        tb_text_addf(&w->p->wrong, "%s\n", wrong.s);
    tb_text_free(&wrong);
    tb_book_close(b);
    return rc;
}

tb_rc tb_extract_whole(struct tb_extract_proof *p, const json_t *extract, const struct tb_told *told,
                       struct tb_owneds *owned, const char *lot_ref, struct tb_err *err)
{
    const json_t *facts = json_object_get(extract, "facts");
    const json_t *lot = json_array_get(json_object_get(facts, "lot"), 0);
    struct whole w = { .p = p, .owned = owned, .lot = tb_row_text(lot, "id"), .lot_ref = lot_ref };
    size_t at = 0;
    tb_rc rc;

    if (owned->n)
        qsort(owned->item, owned->n, sizeof *owned->item, in_order);
    list_known(&w.known, facts);
    for (size_t i = 0; i < told->n; i++) {
        if (!told->row[i].full)
            continue;
        if (told->row[i].rule == TB_RULE_SHARES)
            check_share(&w, &at, &told->row[i]);
        else if (told->row[i].rule == TB_RULE_TREES)
            p->shared += is_shared(&w, facts, &told->row[i]);
    }
    check_bolts(&w, facts, lot);
    check_others(&w);
    rc = check_references(&w, extract, err);
    free(w.known.item);
    tb_shares_free(&w.share);
    return rc;
}
