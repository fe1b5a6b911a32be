/* Signatures of a book that is proved: each by the key that counted then, and the last by one that somebody knows. */
#include "book/key.h"
#include "book/prove_impl.h"

#include <string.h>

static bool is_signed(const struct tb_signature *s, const struct tb_signing_key *key)
{
    return key && tb_head_signed(s->signature, key->public, s->number, s->digest);
}

static void check_handovers(struct tb_proof *p, const struct tb_keys *k)
{
    const struct tb_signing_key *key = tb_keys_misfit(k);

    if (key)
        tb_misfit(p, key->entry,
                  "journal row %lld takes another signing key, and the key before it did not vouch for it",
                  (long long)key->entry);
}

/* The row that a signature says it is of, before it is known what its columns hold. */
static int64_t number_said(struct tb_stmt *q)
{
    struct tb_value v;

    tb_col_value(&v, q, 0);
    return v.kind == TB_VALUE_WHOLE ? v.whole : 0;
}

/* Those that a statement gives. */
static tb_rc check_each(struct tb_proof *p, struct tb_stmt *q, const struct tb_keys *k, struct tb_err *err)
{
    struct tb_arena mem = { 0 };
    struct tb_signature s;
    tb_rc rc;

    while ((rc = tb_row(q, err)) == TB_OK) {
        tb_prove_stored(p, q, &tb_sql_table[TB_SQL_SIGNATURE_ALL], "signature", number_said(q));
        if ((rc = tb_read_signature(&s, q, &mem, err)) != TB_OK)
            break;
        if (!is_signed(&s, tb_key_at(k, s.number)))
            tb_misfit(
                p, s.number,
                "the signature of journal row %lld does not fit: it is of another row, or by another key",
                (long long)s.number);
        p->signed_rows++;
        p->last_signed = s.number;
        tb_arena_free(&mem);
    }
    tb_done(q);
    tb_arena_free(&mem);
    return rc == TB_ENOTFOUND ? TB_OK : rc;
}

/* One signature at the end covers every row before it, signed or not, since each digest covers the one before. */
static void check_known(struct tb_proof *p, const struct tb_keys *k, const char *known)
{
    bool met;
    const struct tb_signing_key *other = tb_keys_untrusted(&met, k, p->rows, known);

    if (!p->fits || (met && !other && p->last_signed == p->rows))
        return;
    p->elsewhere = true;
    if (!met)
        tb_misfit(p, 0, "the known key never was a key of this book");
    else if (other)
        tb_misfit(p, other->entry,
                  "from journal row %lld on another key signs, and the known one did not vouch for it",
                  (long long)other->entry);
    else
        tb_misfit(p, p->last_signed + 1,
                  "the journal ends with row %lld, and the last one that is signed is row %lld",
                  (long long)p->rows, (long long)p->last_signed);
}

tb_rc tb_prove_signatures(struct tb_proof *p, struct tb_book *b, const struct tb_held *held,
                          struct tb_err *err)
{
    struct tb_arena mem = { 0 };
    struct tb_signing_key *key = NULL;
    struct tb_keys k = { 0 };
    tb_rc rc = tb_signing_key_list(&key, &k.n, b, &mem, err);

    k.key = key;
    if (rc == TB_OK && (rc = check_each(p, tb_sql_signature_all(b), &k, err)) == TB_OK) {
        check_handovers(p, &k);
        if (held->key)
            check_known(p, &k, held->key);
        if (k.n)
            (void)snprintf(p->key, sizeof p->key, "%s", k.key[k.n - 1].public);
    }
    tb_arena_free(&mem);
    return rc;
}

tb_rc tb_prove_last_signature(struct tb_proof *p, struct tb_book *b, struct tb_err *err)
{
    struct tb_arena mem = { 0 };
    struct tb_signing_key *key = NULL;
    struct tb_keys k = { 0 };
    tb_rc rc = tb_signing_key_list(&key, &k.n, b, &mem, err);

    k.key = key;
    if (rc == TB_OK)
        rc = check_each(p, tb_sql_signature_last(b), &k, err);
    tb_arena_free(&mem);
    return rc;
}
