/* The journal: its rows read, its digests computed. docs/book.md says what each digest is over. */
#include "book/private.h"

#include <stdio.h>
#include <string.h>

/* The row before the first one has 64 zeros for a digest. */
tb_rc tb_book_end(struct tb_journal_head *out, struct tb_book *b, struct tb_arena *mem, struct tb_err *err)
{
    tb_rc rc = tb_one_journal_head(out, tb_sql_journal_head(b), mem, err);

    if (rc != TB_ENOTFOUND)
        return rc;
    *out = (struct tb_journal_head){ .digest =
                                         "0000000000000000000000000000000000000000000000000000000000000000",
                                     .at = "" };
    return TB_OK;
}

tb_rc tb_book_head(int64_t *number, char digest[65], struct tb_book *b, struct tb_err *err)
{
    struct tb_arena mem = { 0 };
    struct tb_journal_head head;
    tb_rc rc = tb_book_end(&head, b, &mem, err);

    if (rc == TB_OK) {
        *number = head.number;
        (void)snprintf(digest, TB_DIGEST_HEX, "%s", head.digest);
    }
    tb_arena_free(&mem);
    return rc;
}

void tb_digest_end(char out[TB_DIGEST_HEX], crypto_hash_sha256_state *hash)
{
    unsigned char sum[crypto_hash_sha256_BYTES];

    (void)crypto_hash_sha256_final(hash, sum);
    (void)sodium_bin2hex(out, TB_DIGEST_HEX, sum, sizeof sum);
}

void tb_digest_of(char out[TB_DIGEST_HEX], const void *bytes, size_t n)
{
    unsigned char sum[TB_HASH];

    tb_hash_behind(sum, "", 0, bytes, n);
    tb_hash_hex(out, sum);
}

void tb_hash_hex(char out[TB_DIGEST_HEX], const unsigned char hash[TB_HASH])
{
    (void)sodium_bin2hex(out, TB_DIGEST_HEX, hash, TB_HASH);
}

/* Small letters only: there is one way to write a hash, so that nothing changes without being seen. */
bool tb_hash_of_hex(unsigned char out[TB_HASH], const char *hex)
{
    unsigned char hash[TB_HASH];
    char again[TB_DIGEST_HEX];
    size_t n = 0;

    if (strlen(hex) != 2 * TB_HASH ||
        sodium_hex2bin(hash, sizeof hash, hex, 2 * TB_HASH, NULL, &n, NULL) != 0 || n != TB_HASH)
        return false;
    tb_hash_hex(again, hash);
    if (strcmp(again, hex) != 0)
        return false;
    memcpy(out, hash, TB_HASH);
    return true;
}

/* --- digests of rows: part of the file format, never to be changed ------------------------------------------------ */

/* Every column but the digest itself, in the order of the first shape's table. */
static void digest_tables(char out[TB_DIGEST_HEX], const struct tb_journal_row *row)
{
    const char *const text[] = { row->at, row->person, row->verb, row->subject, row->content, row->before };
    struct tb_text t = { 0 };

    tb_canon_whole(&t, row->number);
    for (size_t i = 0; i < TB_COUNT(text); i++)
        tb_canon_text(&t, text[i]);
    tb_digest_of(out, t.s, t.n);
    tb_text_free(&t);
}

void tb_fact_nonce(unsigned char out[TB_HASH], const unsigned char salt[TB_HASH], const char *table,
                   uint64_t at)
{
    crypto_hash_sha256_state hash;
    unsigned char number[8];

    for (int i = 7; i >= 0; i--, at >>= 8)
        number[i] = (unsigned char)at;
    (void)crypto_hash_sha256_init(&hash);
    (void)crypto_hash_sha256_update(&hash, salt, TB_HASH);
    (void)crypto_hash_sha256_update(&hash, (const unsigned char *)table, strlen(table));
    (void)crypto_hash_sha256_update(&hash, number, sizeof number);
    (void)crypto_hash_sha256_final(&hash, out);
}

void tb_journal_nonce(unsigned char out[TB_HASH], const unsigned char salt[TB_HASH])
{
    tb_fact_nonce(out, salt, "journal", 0);
}

void tb_journal_header(unsigned char out[TB_HASH], const struct tb_journal_row *row,
                       const unsigned char nonce[TB_HASH])
{
    const char *const text[] = { row->at, row->person, row->verb, row->subject, row->content };
    struct tb_text t = { 0 };

    tb_canon_bytes(&t, nonce, TB_HASH, TB_RULE_TABLES);
    tb_canon_whole(&t, row->number);
    for (size_t i = 0; i < TB_COUNT(text); i++)
        tb_canon_text(&t, text[i]);
    (void)crypto_hash_sha256(out, (const unsigned char *)t.s, t.n);
    tb_text_free(&t);
}

void tb_journal_link(unsigned char out[TB_HASH], const unsigned char before[TB_HASH],
                     const unsigned char about[TB_HASH], const unsigned char *shares,
                     const unsigned char header[TB_HASH])
{
    const unsigned char *const part[] = { before, about, shares, header };
    unsigned char all[1 + TB_COUNT(part) * TB_HASH] = { shares ? 4 : 2 };
    size_t n = 1;

    for (size_t i = 0; i < TB_COUNT(part); i++)
        if (part[i]) {
            memcpy(all + n, part[i], TB_HASH);
            n += TB_HASH;
        }
    (void)crypto_hash_sha256(out, all, n);
}

void tb_about_nonce(unsigned char out[TB_HASH], const unsigned char salt[TB_HASH])
{
    tb_fact_nonce(out, salt, "about", 0);
}

void tb_about_tag(unsigned char out[TB_HASH], const unsigned char nonce[TB_HASH], const char *lot_id)
{
    crypto_hash_sha256_state hash;

    (void)crypto_hash_sha256_init(&hash);
    (void)crypto_hash_sha256_update(&hash, nonce, TB_HASH);
    (void)crypto_hash_sha256_update(&hash, (const unsigned char *)lot_id, TB_ID_LEN);
    (void)crypto_hash_sha256_final(&hash, out);
}

/* One key of `about`, with the share behind it where the rule has one; answers its length, 0 where it is none. */
static size_t take_about(struct tb_text *tags, struct tb_text *shares, const unsigned char *nonce,
                         const char *about)
{
    unsigned char tag[TB_HASH], share[TB_HASH];
    size_t n = strcspn(about, " ");
    char hex[TB_DIGEST_HEX];

    if (n != (shares ? TB_ID_LEN + TB_DIGEST_HEX : TB_ID_LEN))
        return 0;
    tb_about_tag(tag, nonce, about);
    tb_text_addn(tags, (const char *)tag, TB_HASH);
    if (!shares)
        return n;
    memcpy(hex, about + TB_ID_LEN + 1,
           sizeof hex - 1); /* no more: of a large delivery there is a megabyte behind it */
    hex[sizeof hex - 1] = '\0';
    if (about[TB_ID_LEN] != ':' || !tb_hash_of_hex(share, hex))
        return 0;
    tb_text_addn(shares, (const char *)share, TB_HASH);
    return n;
}

bool tb_about_tags(struct tb_text *tags, struct tb_text *shares, const unsigned char nonce[TB_HASH],
                   const char *about)
{
    while (*about) {
        size_t n = take_about(tags, shares, nonce, about);

        if (!n || (about[n] == ' ' && !about[n + 1]))
            return false;
        about += n + (about[n] == ' ');
    }
    return true;
}

void tb_shares_root(unsigned char out[TB_HASH], const void *shares, size_t size)
{
    struct tb_tree t = { 0 };

    for (size_t i = 0; i + TB_HASH <= size; i += TB_HASH)
        tb_tree_add(&t, (const unsigned char *)shares + i);
    tb_tree_root(out, &t);
}

void tb_about_hash(unsigned char out[TB_HASH], const void *tags, size_t size)
{
    crypto_hash_sha256_state hash;

    (void)crypto_hash_sha256_init(&hash);
    (void)crypto_hash_sha256_update(&hash, (const unsigned char *)"\3", 1);
    (void)crypto_hash_sha256_update(&hash, tags, size);
    (void)crypto_hash_sha256_final(&hash, out);
}

/* By the rule of trees or of shares; false where salt, lots or the digest before are not what they should be. */
static bool digest_trees(unsigned char out[TB_HASH], const struct tb_journal_row *row)
{
    unsigned char salt[TB_HASH], nonce[TB_HASH], before[TB_HASH], about[TB_HASH], header[TB_HASH],
        root[TB_HASH];
    bool by_share = row->rule == TB_RULE_SHARES;
    struct tb_text tags = { 0 }, shares = { 0 };
    bool good = tb_hash_of_hex(salt, row->salt) && tb_hash_of_hex(before, row->before);

    if (good) {
        tb_about_nonce(nonce, salt);
        good = tb_about_tags(&tags, by_share ? &shares : NULL, nonce, row->about);
        tb_about_hash(about, tb_text_str(&tags), tags.n);
        tb_shares_root(root, tb_text_str(&shares), shares.n);
        tb_journal_nonce(nonce, salt);
        tb_journal_header(header, row, nonce);
        tb_journal_link(out, before, about, by_share ? root : NULL, header);
    }
    tb_text_free(&tags);
    tb_text_free(&shares);
    return good;
}

void tb_journal_digest(char out[TB_DIGEST_HEX], const struct tb_journal_row *row)
{
    unsigned char hash[TB_HASH];

    out[0] = '\0';
    if (row->rule == TB_RULE_TABLES && !*row->salt && !*row->about)
        digest_tables(out, row);
    else if ((row->rule == TB_RULE_TREES || row->rule == TB_RULE_SHARES) && digest_trees(hash, row))
        tb_hash_hex(out, hash);
}
