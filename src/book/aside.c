/*
 * What a journal row keeps for the house alone: who was logged in, which share of lots was taken to be false. It stands beside the
 * row, as JSON, and what the row says holds its digest, with a nonce that never leaves the book: a case tells that digest alone.
 */
#include "book/private.h"
#include "tenterbook/circumstance.h"

#include <string.h>

#include <sodium.h>

void tb_book_aside(struct tb_book *b, const char *key, json_t *value)
{
    if (!b->aside)
        b->aside = json_object();
    (void)json_object_set_new(b->aside, key, value);
}

char *tb_aside_text(const struct tb_book *b)
{
    return json_dumps(b->aside, JSON_COMPACT | JSON_SORT_KEYS | JSON_REAL_PRECISION(17));
}

void tb_aside_digest(char out[TB_DIGEST_HEX], const unsigned char salt[TB_HASH], const char *text)
{
    unsigned char nonce[TB_HASH], hash[TB_HASH];

    tb_fact_nonce(nonce, salt, "aside", 0);
    tb_hash_behind(hash, nonce, sizeof nonce, text, strlen(text));
    tb_hash_hex(out, hash);
}

bool tb_aside_fits(const struct tb_journal_row *j, const json_t *content)
{
    const char *said =
        json_string_value(json_object_get(json_object_get(content, TB_CONTENT_ACT), TB_ACT_ASIDE));
    unsigned char salt[TB_HASH];
    char digest[TB_DIGEST_HEX];

    if (!said)
        return !*j->aside;
    if (!tb_hash_of_hex(salt, j->salt))
        return false;
    tb_aside_digest(digest, salt, j->aside);
    return strcmp(said, digest) == 0;
}

tb_rc tb_aside_of(json_t **out, struct tb_book *b, int64_t row, struct tb_err *err)
{
    struct tb_arena mem = { 0 };
    const char *text = "";
    tb_rc rc = tb_ask_text(&text, tb_sql_journal_aside(b, row), &mem, err);

    *out = NULL;
    if (rc == TB_OK && *text)
        *out = json_loads(text, JSON_REJECT_DUPLICATES, NULL);
    if (rc == TB_OK && *text && !*out)
        rc = tb_fail(err, TB_EFORMAT, "what stands beside journal row %lld cannot be read", (long long)row);
    tb_arena_free(&mem);
    return rc == TB_ENOTFOUND ? TB_OK : rc;
}
