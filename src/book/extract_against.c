/* An extract beside a book: every journal row and every fact of both. */
#include "book/extract_impl.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* --- the journal -------------------------------------------------------------------------------------------------- */

/* What the lot is called, and when its extract was taken. */
struct of_lot {
    const char *id, *ref, *made;
    /* the latest moment, before the extract was taken, that a row of the book up to the extract's last says */
    char latest[TB_MOMENT_LEN + 1];
};

static void note_latest(struct of_lot *lot, const char *at)
{
    if (strcmp(at, lot->latest) > 0 && strcmp(at, lot->made) <= 0)
        (void)snprintf(lot->latest, sizeof lot->latest, "%s", at);
}

/*
 * Rows follow each other by number; the clock that dates them can be set back. So a later row that says it is from before the
 * rows of the extract shows a clock set back and no more. One that says it is from between those and the moment the extract was
 * taken is one that the extract should have.
 */
static bool left_out(const struct tb_extract_proof *p, const struct of_lot *lot,
                     const struct tb_journal_row *j)
{
    return j->number <= p->last || (strcmp(j->at, lot->latest) >= 0 && strcmp(j->at, lot->made) < 0);
}

/* One journal row of the book beside the extract. */
static void against_row(struct tb_extract_proof *p, size_t *met, const struct tb_told *told,
                        struct of_lot *lot, const struct tb_journal_row *j)
{
    const struct tb_told_row *row = tb_told_at(told, j->number);
    char hex[TB_DIGEST_HEX];

    if (j->number <= p->last)
        note_latest(lot, j->at);
    if (row) {
        ++*met;
        tb_hash_hex(hex, row->digest);
        if (strcmp(j->digest, hex) != 0)
            tb_extract_wrong(p, "journal row %lld is another one in the book", (long long)j->number);
    } else if (!tb_subject_is_lot(j->subject, lot->ref) && !(*lot->id && strstr(j->about, lot->id))) {
        return;
    } else if (left_out(p, lot, j)) {
        tb_extract_wrong(
            p,
            "journal row %lld of the book (%s %s by %s, %s) was written before the case was made, and is "
            "not in it",
            (long long)j->number, j->verb, j->subject, j->person, j->at);
    } else {
        p->newer_rows++;
        tb_text_say(&p->newer, "journal row %lld (%s %s by %s, %s)\n", (long long)j->number, j->verb,
                    j->subject, j->person, j->at);
    }
}

static tb_rc against_journal(struct tb_extract_proof *p, int64_t *later, const struct tb_told *told,
                             struct of_lot *lot, struct tb_book *b, struct tb_err *err)
{
    struct tb_stmt *q = tb_sql_journal_all(b);
    struct tb_journal_row j;
    struct tb_arena mem = { 0 };
    size_t met = 0;
    tb_rc rc;

    while ((rc = tb_next_journal_row(&j, q, &mem, err)) == TB_OK) {
        *later += j.number > p->last;
        against_row(p, &met, told, lot, &j);
        tb_arena_free(&mem);
    }
    tb_done(q);
    tb_arena_free(&mem);
    if (rc == TB_ENOTFOUND && met < told->n)
        tb_extract_wrong(p, "%lld journal rows of the file are not in the book", (long long)(told->n - met));
    return rc == TB_ENOTFOUND ? TB_OK : rc;
}

/* --- the facts ---------------------------------------------------------------------------------------------------- */

/* A row and its key, to be found by it. */
struct keyed {
    const char *id;
    const json_t *row;
};

static int by_id(const void *a, const void *b)
{
    return strcmp(((const struct keyed *)a)->id, ((const struct keyed *)b)->id);
}

static struct keyed *by_key(const json_t *rows)
{
    struct keyed *list = tb_alloc(json_array_size(rows) + 1, sizeof *list);
    const json_t *row;
    size_t i;

    json_array_foreach(rows, i, row)
    {
        list[i] = (struct keyed){ tb_row_text(row, "id"), row };
    }
    qsort(list, json_array_size(rows), sizeof *list, by_id);
    return list;
}

/* What one of them holds of a table beside the other: each row of `mine` is looked up among `other`. */
struct beside {
    const char *table;
    const struct tb_sql_text *columns;
    const json_t *mine;
    const struct keyed *other;
    size_t others;
    const json_t *facts, *file; /* of the book, of the file */
    const struct tb_told *told; /* the journal of the file */
};

static const json_t *found(const struct beside *s, const json_t *row)
{
    struct keyed key = { tb_row_text(row, "id"), NULL };
    const struct keyed *k = s->others ? bsearch(&key, s->other, s->others, sizeof key, by_id) : NULL;

    return k ? k->row : NULL;
}

/* Does the file keep a row of this journal row back, and may it, by what the book says? */
static bool is_kept(const struct beside *s, const json_t *row)
{
    int64_t entry = tb_row_whole(row, "entry");
    bool misnamed = tb_is_misnamed(s->facts, s->table, row),
         may = misnamed || tb_is_ours(s->facts, s->table, row) ||
               (!tb_tells_disputes(s->file) && tb_is_of_disputes(s->facts, s->table, row));
    const struct tb_told_row *told = tb_told_at(s->told, entry);

    if (strcmp(s->table, "person") == 0)
        return tb_names_nobody(s->file, s->told, row);
    if (misnamed && told && !told->full) /* it went with the row of others that it stood in */
        return true;
    for (size_t i = 0; may && i < s->others; i++)
        if (tb_kept_back(s->other[i].row) && tb_row_whole(s->other[i].row, "entry") == entry)
            return true;
    return false;
}

/* Facts of the book that the file should hold. */
static void book_in_file(struct tb_extract_proof *p, const struct beside *s)
{
    const json_t *row;
    size_t i;

    json_array_foreach(s->mine, i, row)
    {
        if (tb_row_whole(row, "entry") <= p->last && !found(s, row) && !is_kept(s, row))
            tb_extract_wrong(
                p,
                "journal row %lld of the book recorded a row of table %s about this lot that is not in "
                "the file",
                (long long)tb_row_whole(row, "entry"), s->table);
    }
}

static void file_in_book(struct tb_extract_proof *p, const struct beside *s)
{
    struct tb_text a = { 0 }, b = { 0 }, room = { 0 };
    const json_t *row, *other;
    size_t i;

    json_array_foreach(s->mine, i, row)
    {
        if (tb_kept_back(row))
            continue;
        if (!(other = found(s, row))) {
            tb_extract_wrong(
                p, "a row of table %s of the file, said to be of journal row %lld, is not in the book",
                s->table, (long long)tb_row_whole(row, "entry"));
            continue;
        }
        tb_row_canon(&a, row, s->columns, TB_RULE_TREES, &room);
        tb_row_canon(&b, other, s->columns, TB_RULE_TREES, &room);
        if (a.n != b.n || memcmp(a.s, b.s, a.n) != 0)
            tb_extract_wrong(p, "a row of table %s of journal row %lld is another one in the book", s->table,
                             (long long)tb_row_whole(row, "entry"));
        p->compared++;
    }
    tb_text_free(&a);
    tb_text_free(&b);
    tb_text_free(&room);
}

static void against_table(struct tb_extract_proof *p, const char *table, const struct tb_told *told,
                          const json_t *file, const json_t *book)
{
    const json_t *theirs = json_object_get(file, table), *rows = json_object_get(book, table);
    struct keyed *mine = by_key(rows), *other = by_key(theirs);
    const struct beside
        of_book = { table, tb_facts_of(table), rows, other, json_array_size(theirs), book, file, told },
        of_file = { .table = table,
                    .columns = tb_facts_of(table),
                    .mine = theirs,
                    .other = mine,
                    .others = json_array_size(rows) };

    book_in_file(p, &of_book);
    file_in_book(p, &of_file);
    free(mine);
    free(other);
}

/* An older program kept disputes back: such a file lacks nothing. */
static void against_facts(struct tb_extract_proof *p, const struct tb_told *told, const json_t *file,
                          const json_t *book)
{
    const char *table;
    json_t *rows;

    json_object_foreach((json_t *)book, table, rows)
    {
        if (tb_tells_disputes(file) || !tb_table_of_disputes(table))
            against_table(p, table, told, file, book);
    }
}

tb_rc tb_extract_against(struct tb_extract_proof *p, int64_t *later, const json_t *extract,
                         const char *lot_ref, const char *made, struct tb_book *b, struct tb_err *err)
{
    const json_t *facts = json_object_get(extract, "facts");
    struct of_lot lot = { .id = tb_row_text(json_array_get(json_object_get(facts, "lot"), 0), "id"),
                          .ref = lot_ref,
                          .made = made };
    struct tb_told told;
    json_t *ours = NULL, *stamps = NULL;
    tb_rc rc = tb_book_look(b, err);

    *later = 0;
    p->beside_book = true;
    if (rc != TB_OK)
        return rc;
    tb_told_read(&told, NULL, extract);
    if ((rc = against_journal(p, later, &told, &lot, b, err)) == TB_OK &&
        (rc = tb_extract_facts(&ours, b, lot.id, p->last, err)) == TB_OK) {
        against_facts(p, &told, facts, ours);
        if ((rc = tb_extract_stamps(&stamps, b, ours, p->last, err)) == TB_OK)
            tb_stamps_against(p, extract, stamps);
    }
    tb_book_look_away(b);
    json_decref(ours);
    json_decref(stamps);
    tb_told_free(&told);
    return rc;
}
