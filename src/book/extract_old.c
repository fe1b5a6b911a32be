/*
 * The journal of an extract as it was made before there were trees: rows told one by one, in full or by number and digest,
 * with gaps before the lot came in. Case files are kept for years, and what they say stays true.
 */
#include "book/extract_impl.h"

#include <string.h>

static void check_digest(struct tb_extract_proof *p, const struct tb_journal_row *j)
{
    char digest[TB_DIGEST_HEX];

    tb_journal_digest(digest, j);
    if (strcmp(digest, j->digest) != 0)
        tb_extract_wrong(p, "journal row %lld (%s %s by %s, %s) itself was changed", (long long)j->number,
                         j->verb, j->subject, j->person, j->at);
}

/* From the lot's first row on there are no gaps: a row taken out shows. */
static void check_order(struct tb_extract_proof *p, const json_t *row, const json_t *before, int64_t since)
{
    int64_t n = tb_row_whole(row, "number"), m = tb_row_whole(before, "number");
    bool full = json_is_string(json_object_get(row, "content"));

    if (n <= m)
        tb_extract_wrong(p, "journal row %lld stands after row %lld", (long long)n, (long long)m);
    else if (m >= since && n != m + 1)
        tb_extract_wrong(p, "the journal rows between %lld and %lld are missing", (long long)m, (long long)n);
    else if (n == m + 1 && full && strcmp(tb_row_text(row, "before"), tb_row_text(before, "digest")) != 0)
        tb_extract_wrong(p, "journal row %lld does not follow the row before it: the chain is broken",
                         (long long)n);
}

void tb_told_read_old(struct tb_told *out, struct tb_extract_proof *p, const json_t *extract)
{
    const json_t *journal = json_object_get(extract, "journal"), *row, *before = NULL;
    const json_t *lot = json_array_get(json_object_get(json_object_get(extract, "facts"), "lot"), 0);
    struct tb_extract_proof nobody = { 0 }, *to = p ? p : &nobody;
    size_t i, cap = 0;

    json_array_foreach(journal, i, row)
    {
        struct tb_journal_row j = tb_told_record(row);
        bool full = json_is_string(json_object_get(row, "content"));
        struct tb_told_row *told = tb_told_add(out, &cap, j.number, TB_RULE_TABLES, full ? row : NULL);

        if (!tb_hash_of_hex(told->digest, j.digest))
            tb_extract_wrong(p, "journal row %lld has no digest", (long long)j.number);
        j.rule = TB_RULE_TABLES; /* whatever else it says */
        told->follows = full;
        if (full)
            check_digest(p, &j);
        to->journal += full;
        to->named += !full;
        if (before)
            check_order(p, row, before, tb_row_whole(lot, "entry"));
        before = row;
    }
    to->last = before ? tb_row_whole(before, "number") : 0;
    (void)snprintf(to->digest, sizeof to->digest, "%s", before ? tb_row_text(before, "digest") : "");
}
