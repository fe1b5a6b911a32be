/* An extract held against what was noted of its book elsewhere: rows, the key that signed the last one, time stamps. */
#include "book/extract_impl.h"
#include "book/key.h"

#include <stdlib.h>
#include <string.h>

static const json_t *keys_of(const json_t *extract)
{
    return json_object_get(json_object_get(extract, "head"), "keys");
}

/* The keys that the file tells. False where one is of no row up to the last, or their rows do not rise. */
static bool read_keys(struct tb_signing_key *key, const json_t *list, int64_t last)
{
    int64_t before = 0;
    bool good = true;
    const json_t *one;
    size_t i;

    json_array_foreach(list, i, one)
    {
        key[i] = (struct tb_signing_key){ .public = tb_row_text(one, "public"),
                                          .handover = tb_row_text(one, "handover"),
                                          .entry = tb_row_whole(one, "entry") };
        good = good && key[i].entry > before && key[i].entry <= last;
        before = key[i].entry;
    }
    return good;
}

/*
 * A digest that was noted or signed covers what leads to it without a break. What stands before a row that is told by its digest
 * alone can be anything, and only a book shows it. False: the file tells of such rows, from *first to *last.
 */
static bool reaches(int64_t *first, int64_t *last, const struct tb_extract_proof *p,
                    const struct tb_told *told, int64_t number)
{
    int64_t from = tb_told_reach(told, number);

    *first = *last = 0;
    for (size_t i = 0; i < told->n && told->row[i].number < from; i++)
        if (told->row[i].full) {
            *first = *first ? *first : told->row[i].number;
            *last = told->row[i].number;
        }
    return !*first || p->beside_book;
}

static void check_keys(struct tb_extract_proof *p, const struct tb_keys *k, bool rising)
{
    const struct tb_signing_key *key = tb_keys_misfit(k);

    if (!rising)
        tb_extract_wrong(p,
                         "the file tells signing keys of journal rows that do not rise up to its last, %lld",
                         (long long)p->last);
    else if (key)
        tb_extract_wrong(
            p, "journal row %lld takes another signing key, and the key before it did not vouch for it",
            (long long)key->entry);
}

static void check_signature(struct tb_extract_proof *p, const struct tb_told *told, const json_t *extract,
                            const struct tb_keys *k, const char *known)
{
    const char *signature = tb_row_text(json_object_get(extract, "head"), "signature");
    const struct tb_signing_key *key = tb_key_at(k, p->last);
    const char *public = key ? key->public : "";
    int64_t first, last;
    bool met = false;

    if (*signature && !tb_head_signed(signature, public, p->last, p->digest))
        tb_extract_wrong(p, "the signature of journal row %lld, the last of the file, does not fit",
                         (long long)p->last);
    else if (known && !*signature)
        tb_extract_wrong(p, "journal row %lld, the last of the file, is not signed", (long long)p->last);
    else if (known && (tb_keys_untrusted(&met, k, p->last, known) || !met))
        tb_extract_wrong(p, "the last row is signed by the key %s, and the known key did not vouch for it",
                         public);
    else if (known && !reaches(&first, &last, p, told, p->last))
        tb_extract_wrong(
            p,
            "the signature of journal row %lld shows nothing of what the file tells of rows %lld to %lld: "
            "an older program told too little of the rows behind them. The book shows them: "
            "--against BOOK",
            (long long)p->last, (long long)first, (long long)last);
}

static void check_anchor(struct tb_extract_proof *p, const struct tb_told *told, const json_t *extract,
                         const struct tb_keys *keys, const struct tb_anchor *a)
{
    const json_t *site = json_array_get(json_object_get(json_object_get(extract, "facts"), "site"), 0);
    const struct tb_told_row *row = tb_told_at(told, a->number);
    const struct tb_signing_key *key = tb_key_at(keys, a->number);
    char hex[TB_DIGEST_HEX];
    int64_t first, last;

    if (!row) {
        p->beyond++;
        return;
    }
    tb_hash_hex(hex, row->digest);
    if (strcmp(hex, a->digest) != 0)
        tb_extract_wrong(
            p,
            "journal row %lld has the digest %s in the file, and another one was noted elsewhere: the "
            "book was written anew up to that row, or the note is of another book",
            (long long)a->number, hex);
    else if (*a->site && strcmp(a->site, tb_row_text(site, "code")) != 0)
        tb_extract_wrong(p, "the note is of a book of site %s, and the file of one of site %s", a->site,
                         tb_row_text(site, "code"));
    else if (*a->key && (!key || strcmp(a->key, key->public) != 0))
        tb_extract_wrong(p, "the note of journal row %lld is signed by a key that did not count then",
                         (long long)a->number);
    else if (!reaches(&first, &last, p, told, a->number))
        tb_extract_wrong(
            p,
            "the note of journal row %lld shows nothing of what the file tells of rows %lld to %lld: "
            "an older program told too little of the rows behind them. The book shows them: "
            "--against BOOK",
            (long long)a->number, (long long)first, (long long)last);
}

tb_rc tb_extract_held(struct tb_extract_proof *p, const json_t *extract, const struct tb_held *held,
                      struct tb_err *err)
{
    const json_t *list = keys_of(extract);
    struct tb_signing_key *key = tb_alloc(json_array_size(list) + 1, sizeof *key);
    const struct tb_keys keys = { key, json_array_size(list) };
    struct tb_told told;
    tb_rc rc;

    tb_told_read(&told, NULL, extract);
    check_keys(p, &keys, read_keys(key, list, p->last));
    check_signature(p, &told, extract, &keys, held->key);
    for (size_t i = 0; i < held->anchors; i++)
        check_anchor(p, &told, extract, &keys, &held->anchor[i]);
    rc = tb_extract_stamped(p, extract, &told, held->authority, err);
    tb_told_free(&told);
    free(key);
    return rc;
}
