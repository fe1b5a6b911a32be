/* The journal: its rows read, its digests computed. docs/book.md says what each digest is over. */
#include "book/private.h"

#include <stdio.h>
#include <string.h>

tb_rc tb_book_head(int64_t *number, char digest[65], struct tb_book *b, struct tb_err *err)
{
    struct tb_arena mem = { 0 };
    struct tb_journal_head head;
    tb_rc rc = tb_one_journal_head(&head, tb_sql_journal_head(b), &mem, err);

    if (rc == TB_OK) {
        *number = head.number;
        (void)snprintf(digest, TB_DIGEST_HEX, "%s", head.digest);
    } else if (rc == TB_ENOTFOUND) {
        *number = 0;
        memset(digest, '0', TB_DIGEST_HEX - 1);
        digest[TB_DIGEST_HEX - 1] = '\0';
        rc = TB_OK;
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
    crypto_hash_sha256_state hash;

    (void)crypto_hash_sha256_init(&hash);
    (void)crypto_hash_sha256_update(&hash, bytes, n);
    tb_digest_end(out, &hash);
}

/* Every column but the digest itself, in the order of the table: part of the file format, never to be changed. */
void tb_journal_digest(char out[TB_DIGEST_HEX], const struct tb_journal_row *row)
{
    const char *const text[] = { row->at, row->person, row->verb, row->subject, row->content, row->before };
    struct tb_text t = { 0 };

    tb_canon_whole(&t, row->number);
    for (size_t i = 0; i < TB_COUNT(text); i++)
        tb_canon_text(&t, text[i]);
    tb_digest_of(out, t.s, t.n);
    tb_text_free(&t);
}
