/*
 * Time stamps in an extract: which of the book's go with a lot, and whether a file has those that the book gives it.
 *
 * A stamp of a row covers that row and every one before. So of all the stamps of a book few say something of a lot that no other
 * says: for each of its rows that which shows the earliest moment. Readers trust different authorities; each counts for itself.
 */
#include "book/extract_impl.h"
#include "book/stamp.h"

#include <stdlib.h>
#include <string.h>

/* --- taking out -------------------------------------------------------------------------------------------------- */

/* Rows that recorded one of the facts, from the row on that the lot came with; facts of one table come in their order. */
struct rows {
    int64_t *number;
    size_t n, cap;
};

static struct rows rows_of(const json_t *facts)
{
    int64_t from = tb_row_whole(json_array_get(json_object_get(facts, "lot"), 0), "entry");
    struct rows out = { 0 };
    const json_t *row;
    const char *table;
    json_t *rows;
    size_t i;

    json_object_foreach((json_t *)facts, table, rows)
    {
        json_array_foreach(rows, i, row)
        {
            int64_t entry = tb_row_whole(row, "entry");

            if (entry < from || (out.n && out.number[out.n - 1] == entry))
                continue;
            TB_PUSH_ROOM(out.number, out.n, out.cap);
            out.number[out.n++] = entry;
        }
    }
    return out;
}

/* The last of them up to `number`; 0: there is none. */
static int64_t row_covered(const struct rows *rows, int64_t number)
{
    int64_t out = 0;

    for (size_t i = 0; i < rows->n; i++)
        if (rows->number[i] <= number && rows->number[i] > out)
            out = rows->number[i];
    return out;
}

/* Does none of the same authority show an earlier moment for this row? Of the same moment the first counts. */
static bool is_earliest(const struct tb_stamps *all, size_t at, int64_t row, int64_t upto)
{
    const struct tb_stamped *one = &all->seen[at].shown;

    for (size_t i = 0; i < all->n; i++) {
        const struct tb_stamped *other = &all->seen[i].shown;
        int earlier = strcmp(other->at, one->at);

        if (i != at && all->stored[i].entry <= upto && all->stored[i].number >= row &&
            strcmp(other->by, one->by) == 0 && (earlier < 0 || (earlier == 0 && i < at)))
            return false;
    }
    return true;
}

static json_t *stamp_json(const struct tb_time_stamp *s, const struct tb_stamped *shown)
{
    return json_pack("{s:I, s:s, s:s, s:s, s:o}", "number", (json_int_t)s->number, "at", shown->at, "by",
                     shown->by, "serial", shown->serial, "reply", tb_base64_json(s->reply, s->size));
}

static tb_rc pick(json_t *out, const struct tb_stamps *all, const struct rows *rows, int64_t upto,
                  struct tb_err *err)
{
    for (size_t i = 0; i < all->n; i++) {
        const struct tb_time_stamp *s = &all->stored[i];
        int64_t row = s->entry <= upto ? row_covered(rows, s->number) : 0;

        if (!tb_stamp_fits(s, &all->seen[i]))
            return tb_fail(err, TB_EFORMAT, "the time stamp of journal row %lld does not fit the book",
                           (long long)s->number);
        if (row && is_earliest(all, i, row, upto))
            (void)json_array_append_new(out, stamp_json(s, &all->seen[i].shown));
    }
    return TB_OK;
}

tb_rc tb_extract_stamps(json_t **out, struct tb_book *b, const json_t *facts, int64_t upto,
                        struct tb_err *err)
{
    struct tb_arena mem = { 0 };
    struct tb_stamps all;
    struct rows rows = rows_of(facts);
    json_t *list = json_array();
    tb_rc rc = tb_stamps_read(&all, b, NULL, &mem, err);

    if (rc == TB_OK && (rc = pick(list, &all, &rows, upto, err)) == TB_OK)
        *out = list;
    else
        json_decref(list);
    free(rows.number);
    tb_arena_free(&mem);
    return rc;
}

/* --- beside a book ------------------------------------------------------------------------------------------------ */

static bool is_among(const json_t *list, const json_t *stamp)
{
    const json_t *other;
    size_t i;

    json_array_foreach(list, i, other)
    {
        if (tb_row_whole(other, "number") == tb_row_whole(stamp, "number") &&
            strcmp(tb_row_text(other, "reply"), tb_row_text(stamp, "reply")) == 0)
            return true;
    }
    return false;
}

/* Whatever form the file claims: to set it back to one that tells none would hide them. */
void tb_stamps_against(struct tb_extract_proof *p, const json_t *extract, const json_t *ours)
{
    const json_t *told = json_object_get(json_object_get(extract, "head"), "stamps"), *stamp;
    size_t i;

    json_array_foreach(ours, i, stamp)
    {
        if (!is_among(told, stamp))
            tb_extract_wrong(p,
                             "the book held a time stamp of journal row %lld that shows %s when the case was "
                             "made, and it is not in the file",
                             (long long)tb_row_whole(stamp, "number"), tb_row_text(stamp, "at"));
    }
    json_array_foreach(told, i, stamp)
    {
        if (!is_among(ours, stamp))
            tb_extract_wrong(p,
                             "the file holds a time stamp of journal row %lld that the book does not give it",
                             (long long)tb_row_whole(stamp, "number"));
    }
}
