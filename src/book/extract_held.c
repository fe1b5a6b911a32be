/* An extract held against what was noted of its book elsewhere: rows, the key that signed the last one, time stamps. */
#include "book/extract_impl.h"
#include "book/key.h"

#include <string.h>

static const json_t *keys_of(const json_t *extract)
{
    return json_object_get(json_object_get(extract, "head"), "keys");
}

/* The key that counted for a row; "" where the extract does not tell one. */
static const char *key_at(const json_t *extract, int64_t number)
{
    const char *out = "";
    const json_t *key;
    size_t i;

    json_array_foreach(keys_of(extract), i, key)
    {
        if (tb_row_whole(key, "entry") <= number)
            out = tb_row_text(key, "public");
    }
    return out;
}

/* From the known key on, over each that the one before vouched for. Whoever made the file up has no such signatures. */
static bool is_trusted(const json_t *extract, const char *known)
{
    const char *before = "";
    bool trusted = false;
    const json_t *key;
    size_t i;

    json_array_foreach(keys_of(extract), i, key)
    {
        const char *public = tb_row_text(key, "public");

        trusted = strcmp(public, known) == 0 ||
                  (trusted && tb_key_vouched(tb_row_text(key, "handover"), before, public));
        before = public;
    }
    return trusted;
}

static void check_signature(struct tb_extract_proof *p, const json_t *extract, const char *known)
{
    const char *signature = tb_row_text(json_object_get(extract, "head"), "signature");
    const char *key = key_at(extract, p->last);

    if (*signature && !tb_head_signed(signature, key, p->last, p->digest))
        tb_extract_wrong(p, "the signature of journal row %lld, the last of the file, does not fit",
                         (long long)p->last);
    else if (known && !*signature)
        tb_extract_wrong(p, "journal row %lld, the last of the file, is not signed", (long long)p->last);
    else if (known && !is_trusted(extract, known))
        tb_extract_wrong(p, "the last row is signed by the key %s, and the known key did not vouch for it",
                         key);
}

static void check_anchor(struct tb_extract_proof *p, const struct tb_told *told, const json_t *extract,
                         const struct tb_anchor *a)
{
    const json_t *site = json_array_get(json_object_get(json_object_get(extract, "facts"), "site"), 0);
    const struct tb_told_row *row = tb_told_at(told, a->number);
    const char *key = key_at(extract, a->number);
    char hex[TB_DIGEST_HEX];

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
    else if (*a->key && *key && strcmp(a->key, key) != 0)
        tb_extract_wrong(p, "the note of journal row %lld is signed by a key that did not count then",
                         (long long)a->number);
}

tb_rc tb_extract_held(struct tb_extract_proof *p, const json_t *extract, const struct tb_held *held,
                      struct tb_err *err)
{
    struct tb_told told;
    tb_rc rc;

    tb_told_read(&told, NULL, extract);
    check_signature(p, extract, held->key);
    for (size_t i = 0; i < held->anchors; i++)
        check_anchor(p, &told, extract, &held->anchor[i]);
    rc = tb_extract_stamped(p, extract, &told, held->authority, err);
    tb_told_free(&told);
    return rc;
}
