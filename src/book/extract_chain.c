/* The journal rows of an extract: in themselves, one after the other, and against those of a book. */
#include "book/extract_impl.h"

#include <stdarg.h>
#include <string.h>

void tb_extract_wrong(struct tb_extract_proof *p, const char *fmt, ...)
{
    va_list ap;

    va_start(ap, fmt);
    tb_text_vsay(&p->wrong, fmt, ap);
    va_end(ap);
    tb_text_addc(&p->wrong, '\n');
}

/* --- rows of a journal ------------------------------------------------------------------------------------------ */

const char *tb_row_text(const json_t *row, const char *key)
{
    const char *s = json_string_value(json_object_get(row, key));

    return s ? s : "";
}

int64_t tb_row_number(const json_t *row)
{
    return json_integer_value(json_object_get(row, "number"));
}

bool tb_row_is_full(const json_t *row)
{
    return json_is_string(json_object_get(row, "content"));
}

/* By halving: a case file may hold thousands of journal rows, and each is asked for. */
const json_t *tb_row_at(const json_t *journal, int64_t number)
{
    size_t low = 0, high = json_array_size(journal);

    while (low < high) {
        size_t mid = (low + high) / 2;
        const json_t *row = json_array_get(journal, mid);

        if (tb_row_number(row) == number)
            return row;
        if (tb_row_number(row) < number)
            low = mid + 1;
        else
            high = mid;
    }
    return NULL;
}

/* --- in themselves ---------------------------------------------------------------------------------------------- */

static void check_digest(struct tb_extract_proof *p, const json_t *row)
{
    struct tb_journal_row j = { tb_row_number(row),          tb_row_text(row, "at"),
                                tb_row_text(row, "person"),  tb_row_text(row, "verb"),
                                tb_row_text(row, "subject"), tb_row_text(row, "content"),
                                tb_row_text(row, "before"),  tb_row_text(row, "digest") };
    char digest[TB_DIGEST_HEX];

    tb_journal_digest(digest, &j);
    if (strcmp(digest, j.digest) != 0)
        tb_extract_wrong(p, "journal row %lld (%s %s by %s, %s) itself was changed", (long long)j.number,
                         j.verb, j.subject, j.person, j.at);
    p->journal++;
}

/* From the lot's first row on there are no gaps: a row taken out shows. */
void tb_extract_check_chain(struct tb_extract_proof *p, const json_t *journal, int64_t since)
{
    const json_t *row, *before = NULL;
    size_t i;

    json_array_foreach(journal, i, row)
    {
        int64_t n = tb_row_number(row), m = before ? tb_row_number(before) : 0;

        if (tb_row_is_full(row))
            check_digest(p, row);
        else
            p->named++;
        if (before && n <= m)
            tb_extract_wrong(p, "journal row %lld stands after row %lld", (long long)n, (long long)m);
        else if (before && m >= since && n != m + 1)
            tb_extract_wrong(p, "the journal rows between %lld and %lld are missing", (long long)m,
                             (long long)n);
        else if (before && n == m + 1 && tb_row_is_full(row) &&
                 strcmp(tb_row_text(row, "before"), tb_row_text(before, "digest")) != 0)
            tb_extract_wrong(p, "journal row %lld does not follow the row before it: the chain is broken",
                             (long long)n);
        before = row;
    }
    p->last = before ? tb_row_number(before) : 0;
    (void)snprintf(p->digest, sizeof p->digest, "%s", before ? tb_row_text(before, "digest") : "");
}

/* --- against a book --------------------------------------------------------------------------------------------- */

/* One journal row of the book beside the extract. */
static void against_row(struct tb_extract_proof *p, size_t *met, const json_t *journal, const char *lot_ref,
                        const char *made, const struct tb_journal_row *j)
{
    const json_t *row = tb_row_at(journal, j->number);

    if (row) {
        ++*met;
        if (strcmp(j->digest, tb_row_text(row, "digest")) != 0)
            tb_extract_wrong(p, "journal row %lld is another one in the book", (long long)j->number);
    } else if (tb_extract_about(j->subject, lot_ref) && strcmp(j->at, made) < 0) {
        tb_extract_wrong(
            p,
            "journal row %lld of the book (%s %s by %s, %s) was written before the case was made, and is "
            "not in it",
            (long long)j->number, j->verb, j->subject, j->person, j->at);
    }
}

tb_rc tb_extract_against(struct tb_extract_proof *p, int64_t *later, const json_t *extract,
                         const char *lot_ref, const char *made, struct tb_book *b, struct tb_err *err)
{
    json_t *journal = json_object_get(extract, "journal");
    struct tb_stmt *q = tb_sql_journal_all(b);
    struct tb_journal_row j;
    struct tb_arena mem = { 0 };
    size_t met = 0;
    tb_rc rc;

    *later = 0;
    while ((rc = tb_next_journal_row(&j, q, &mem, err)) == TB_OK) {
        *later += j.number > p->last;
        against_row(p, &met, journal, lot_ref, made, &j);
        tb_arena_free(&mem);
    }
    tb_done(q);
    tb_arena_free(&mem);
    if (rc == TB_ENOTFOUND && met < json_array_size(journal))
        tb_extract_wrong(p, "%lld journal rows of the file are not in the book",
                         (long long)(json_array_size(journal) - met));
    return rc == TB_ENOTFOUND ? TB_OK : rc;
}
