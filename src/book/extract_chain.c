/*
 * The journal of an extract: is each row what its digest says, and does each follow the one before?
 *
 * It goes from the first row of the book to the last. Rows whose facts the extract holds are told in full, the rest by 32
 * bytes each: under the rule of trees the digest of what they say, so that the chain can be followed over them; under the
 * rule of tables their own digest, which cannot be computed again from so little.
 */
#include "book/extract_impl.h"

#include <stdarg.h>
#include <stdlib.h>
#include <string.h>

void tb_extract_wrong(struct tb_extract_proof *p, const char *fmt, ...)
{
    va_list ap;

    if (!p)
        return;
    va_start(ap, fmt);
    tb_text_vsay(&p->wrong, fmt, ap);
    va_end(ap);
    tb_text_addc(&p->wrong, '\n');
}

/* --- rows ------------------------------------------------------------------------------------------------------- */

struct tb_told_row *tb_told_add(struct tb_told *j, size_t *cap, int64_t number, int64_t rule,
                                const json_t *full)
{
    TB_PUSH_ROOM(j->row, j->n, *cap);
    j->row[j->n] = (struct tb_told_row){ .number = number, .rule = rule, .full = full };
    return &j->row[j->n++];
}

void tb_told_free(struct tb_told *j)
{
    for (size_t i = 0; i < j->n; i++)
        free(j->row[i].content);
    free(j->row);
    *j = (struct tb_told){ 0 };
}

/* By halving: a case file may hold thousands of journal rows, and each is asked for. */
const struct tb_told_row *tb_told_at(const struct tb_told *j, int64_t number)
{
    size_t low = 0, high = j->n;

    while (low < high) {
        size_t mid = (low + high) / 2;

        if (j->row[mid].number == number)
            return &j->row[mid];
        if (j->row[mid].number < number)
            low = mid + 1;
        else
            high = mid;
    }
    return NULL;
}

int64_t tb_told_reach(const struct tb_told *j, int64_t number)
{
    const struct tb_told_row *row = tb_told_at(j, number);

    if (!row || !row->follows)
        return row ? number + 1 : 0;
    while (row > j->row && row[-1].follows && row[-1].number == row->number - 1)
        row--;
    return row->number;
}

struct tb_journal_row tb_told_record(const json_t *row)
{
    return (struct tb_journal_row){ .number = tb_row_whole(row, "number"),
                                    .at = tb_row_text(row, "at"),
                                    .person = tb_row_text(row, "person"),
                                    .verb = tb_row_text(row, "verb"),
                                    .subject = tb_row_text(row, "subject"),
                                    .content = tb_row_text(row, "content"),
                                    .before = tb_row_text(row, "before"),
                                    .digest = tb_row_text(row, "digest"),
                                    .rule = json_object_get(row, "rule") ? tb_row_whole(row, "rule")
                                                                         : TB_RULE_TABLES,
                                    .salt = "",
                                    .aside = "",
                                    .about = "" };
}

/* --- the chain -------------------------------------------------------------------------------------------------- */

#define NUMBER_MOST                                                                                          \
    (INT64_MAX / 2) /* the file is anybody's: counting on from its numbers must not overflow */

/* The chain as far as it was followed. */
struct following {
    struct tb_told *told;
    size_t cap;
    struct tb_extract_proof *p; /* NULL: nobody wants to know */
    unsigned char last[TB_HASH];
    int64_t number, rule;
    const char *lot; /* the key of the lot that the extract is about */
};

/* The next row has this number and this rule: is that so? */
static struct tb_told_row *step(struct following *f, int64_t number, int64_t rule, const json_t *full)
{
    if (number > f->number + 1)
        tb_extract_wrong(f->p, "the journal rows between %lld and %lld are missing", (long long)f->number,
                         (long long)number);
    else if (number != f->number + 1)
        tb_extract_wrong(f->p, "journal row %lld stands after row %lld", (long long)number,
                         (long long)f->number);
    if (rule < f->rule || rule > TB_RULE_SHARES)
        tb_extract_wrong(
            f->p, "journal row %lld says that it keeps rule %lld, and the row before it keeps rule %lld",
            (long long)number, (long long)rule, (long long)f->rule);
    f->number = number > 0 && number < NUMBER_MOST ? number : f->number;
    f->rule = rule;
    return tb_told_add(f->told, &f->cap, number, rule, full);
}

/* What a row tells of its lots: a nonce and their tags. Their digest; and whether the lot of the extract is among them. */
static void read_about(unsigned char out[TB_HASH], struct tb_told_row *row, const struct following *f,
                       const char *nonce, const char *tags, size_t size)
{
    unsigned char tag[TB_HASH];

    tb_about_hash(out, tags, size);
    row->lots = size / TB_HASH;
    if (strlen(f->lot) != TB_ID_LEN)
        return;
    tb_about_tag(tag, (const unsigned char *)nonce, f->lot);
    for (uint64_t i = 0; i < row->lots; i++)
        if (memcmp(tag, tags + i * TB_HASH, TB_HASH) == 0) {
            row->ours = true;
            row->lot_at = i;
        }
}

/* The digest of a row told in full, by the rules of trees and shares; "" where it lacks something. */
static void link_full(char digest[TB_DIGEST_HEX], struct tb_told_row *row, const struct following *f,
                      const struct tb_journal_row *j)
{
    unsigned char nonce[TB_HASH], about[TB_HASH], header[TB_HASH];
    bool by_share = j->rule == TB_RULE_SHARES;
    struct tb_text tags = { 0 };

    if (tb_hash_of_hex(nonce, tb_row_text(row->full, "nonce")) &&
        (!by_share || tb_hash_of_hex(row->shares, tb_row_text(row->full, "shares"))) &&
        tb_base64_of_json(&tags, json_object_get(row->full, "about")) && tags.n >= TB_HASH &&
        tags.n % TB_HASH == 0) {
        read_about(about, row, f, tags.s, tags.s + TB_HASH, tags.n - TB_HASH);
        tb_journal_header(header, j, nonce);
        tb_journal_link(row->digest, f->last, about, by_share ? row->shares : NULL, header);
        tb_hash_hex(digest, row->digest);
    }
    tb_text_free(&tags);
}

/* A row told in full. The chain goes on from the digest it should have, so that it is named and not those behind it. */
static void follow_full(struct following *f, const json_t *item)
{
    struct tb_journal_row j = tb_told_record(item);
    struct tb_told_row *row = step(f, j.number, j.rule, item);
    char before[TB_DIGEST_HEX], digest[TB_DIGEST_HEX] = "";

    if (f->p)
        f->p->journal++;
    if (j.rule == TB_RULE_TABLES) {
        tb_hash_hex(before, f->last);
        if (strcmp(j.before, before) != 0)
            tb_extract_wrong(f->p, "journal row %lld does not follow the row before it: the chain is broken",
                             (long long)j.number);
        tb_journal_digest(digest, &j);
    } else {
        link_full(digest, row, f, &j);
    }
    if (strcmp(j.digest, digest) != 0 || !tb_hash_of_hex(row->digest, j.digest))
        tb_extract_wrong(f->p, "journal row %lld (%s %s by %s, %s) itself was changed", (long long)j.number,
                         j.verb, j.subject, j.person, j.at);
    row->follows = true;
    memcpy(f->last, row->digest, TB_HASH);
}

/* Rows of others under the rule of tables: 32 bytes each, their digests. */
static void follow_digests(struct following *f, const json_t *item)
{
    int64_t number = tb_row_whole(item, "number");
    struct tb_text bytes = { 0 };

    if (!tb_base64_of_json(&bytes, json_object_get(item, "digests")) || !bytes.n || bytes.n % TB_HASH)
        tb_extract_wrong(f->p, "the journal rows from %lld on cannot be read", (long long)number);
    else
        for (size_t i = 0; i < bytes.n; i += TB_HASH, number++) {
            struct tb_told_row *row = step(f, number, TB_RULE_TABLES, NULL);

            memcpy(row->digest, bytes.s + i, TB_HASH);
            memcpy(f->last, row->digest, TB_HASH);
            if (f->p)
                f->p->named++;
        }
    tb_text_free(&bytes);
}

/* One row of others: the digest of what it says, a nonce, and of each of its lots a tag, which must not be that of ours. */
static void follow_other(struct following *f, int64_t number, int64_t rule, const json_t *item,
                         struct tb_text *bytes)
{
    struct tb_told_row *row = step(f, number, rule, NULL);
    size_t before = rule == TB_RULE_SHARES ? 2 * TB_HASH : TB_HASH; /* the tags' nonce */
    unsigned char about[TB_HASH];

    if (!tb_base64_of_json(bytes, item) || bytes->n < before + TB_HASH || bytes->n % TB_HASH) {
        tb_extract_wrong(f->p, "the journal rows from %lld on cannot be read", (long long)number);
        return;
    }
    read_about(about, row, f, bytes->s + before, bytes->s + before + TB_HASH, bytes->n - before - TB_HASH);
    tb_journal_link(row->digest, f->last, about,
                    rule == TB_RULE_SHARES ? (const unsigned char *)bytes->s + TB_HASH : NULL,
                    (const unsigned char *)bytes->s);
    row->follows = true;
    memcpy(f->last, row->digest, TB_HASH);
    if (row->ours)
        tb_extract_wrong(f->p,
                         "journal row %lld recorded something of this lot, and the file does not tell what",
                         (long long)number);
    if (f->p)
        f->p->journal++;
}

static void follow_run(struct following *f, const json_t *item)
{
    int64_t number = tb_row_whole(item, "number");
    int64_t rule = json_object_get(item, "rule") ? tb_row_whole(item, "rule") : TB_RULE_TREES;
    const json_t *rows = json_object_get(item, "rows"), *row;
    struct tb_text bytes = { 0 };
    size_t i;

    if (number < 1 || number > NUMBER_MOST || rule < TB_RULE_TREES)
        tb_extract_wrong(f->p, "the journal rows from %lld on cannot be read", (long long)number);
    else if (json_is_array(rows))
        json_array_foreach(rows, i, row)
        {
            follow_other(f, number + (int64_t)i, rule, row, &bytes);
        }
    else
        follow_digests(f, item);
    tb_text_free(&bytes);
}

static void check_head(struct following *f, const json_t *head)
{
    char hex[TB_DIGEST_HEX];

    tb_hash_hex(hex, f->last);
    if (tb_row_whole(head, "number") != f->number || strcmp(tb_row_text(head, "digest"), hex) != 0)
        tb_extract_wrong(
            f->p,
            "the journal does not end in row %lld with the digest that the file names: a row of it was "
            "changed, added or taken out",
            (long long)tb_row_whole(head, "number"));
    if (f->p) {
        f->p->last = f->number;
        (void)snprintf(f->p->digest, sizeof f->p->digest, "%s", hex);
    }
}

void tb_told_read(struct tb_told *out, struct tb_extract_proof *p, const json_t *extract)
{
    const json_t *journal = json_object_get(extract, "journal"), *head = json_object_get(extract, "head"),
                 *item;
    const json_t *lot = json_array_get(json_object_get(json_object_get(extract, "facts"), "lot"), 0);
    struct following f = { .told = out, .p = p, .rule = TB_RULE_TABLES, .lot = tb_row_text(lot, "id") };
    size_t i;

    *out = (struct tb_told){ 0 };
    if (!head) {
        tb_told_read_old(out, p, extract);
        return;
    }
    json_array_foreach(journal, i, item)
    {
        if (json_is_string(json_object_get(item, "content")))
            follow_full(&f, item);
        else
            follow_run(&f, item);
    }
    check_head(&f, head);
}
