/* Signing the journal: which key counts, making the first one, changing it, and a signature for each row (key.h). */
#include "book/key.h"

#include <stdlib.h>
#include <string.h>
#include <unistd.h>

/* --- which key counts --------------------------------------------------------------------------------------------- */

static tb_rc latest(char out[TB_DIGEST_HEX], struct tb_book *b, struct tb_err *err)
{
    struct tb_arena mem = { 0 };
    const char *public = "";
    tb_rc rc = tb_ask_text(&public, tb_sql_signing_key_latest(b), &mem, err);

    if (rc == TB_ENOTFOUND)
        rc = TB_OK;
    (void)snprintf(out, TB_DIGEST_HEX, "%s", public);
    tb_arena_free(&mem);
    return rc;
}

/* The file is read once for as long as the book is open, and again where the book's key is another one since. */
static tb_rc find(struct tb_book *b, struct tb_err *err)
{
    char *file = NULL;
    tb_rc rc;

    if (b->signer.public[0] && (!b->key_now[0] || strcmp(b->signer.public, b->key_now) == 0))
        return TB_OK;
    rc = tb_key_file(&file, b, err);
    if (rc == TB_OK)
        rc = tb_key_read(&b->signer, file, err);
    if (rc != TB_OK)
        sodium_memzero(&b->signer, sizeof b->signer);
    free(file);
    return rc;
}

static tb_rc make_file(struct tb_book *b, struct tb_err *err)
{
    char *file = NULL;
    tb_rc rc = tb_key_file(&file, b, err);

    tb_key_draw(&b->signer);
    if (rc == TB_OK)
        rc = tb_key_write(file, &b->signer, NULL, err);
    if (rc == TB_OK) {
        b->key_made = file;
    } else {
        sodium_memzero(&b->signer, sizeof b->signer);
        free(file);
    }
    return rc;
}

/* Its first key is a fact like any other. A book that is new is not made without one; an older one goes on unsigned. */
static tb_rc first_key(struct tb_book *b, struct tb_err *err)
{
    struct tb_err why = { 0 };
    tb_rc rc = find(b, &why);

    if (rc == TB_ENOTFOUND)
        rc = make_file(b, &why);
    if (rc != TB_OK) {
        if (b->entry == 1)
            *err = why;
        return b->entry == 1 ? rc : TB_OK;
    }
    (void)snprintf(b->key_now, sizeof b->key_now, "%s", b->signer.public);
    return tb_put_signing_key(&(struct tb_signing_key_fact){ .public = b->signer.public, .handover = "" }, b,
                              err);
}

static bool at_hand(const struct tb_book *b)
{
    return b->signer.public[0] && strcmp(b->signer.public, b->key_now) == 0;
}

/* A pass phrase that was typed wrongly is told before anything is recorded; all else is no reason not to record. */
tb_rc tb_sign_prepare(struct tb_book *b, struct tb_err *err)
{
    struct tb_err why = { 0 };
    tb_rc rc;

    if (!*b->path || at_hand(b)) /* that it still counts is seen under the lock */
        return TB_OK;
    rc = latest(b->key_now, b, err);
    if (rc != TB_OK || find(b, &why) != TB_EREFUSED)
        return rc;
    *err = why;
    return TB_EREFUSED;
}

tb_rc tb_sign_begin(struct tb_book *b, struct tb_err *err)
{
    struct tb_err why = { 0 };
    tb_rc rc = *b->path ? latest(b->key_now, b, err) : TB_OK;

    if (rc != TB_OK || !*b->path)
        return rc;
    if (!b->key_now[0])
        return first_key(b, err);
    (void)find(b, &why); /* without it the act is recorded all the same, and prove says so */
    return TB_OK;
}

tb_rc tb_sign_head(struct tb_book *b, const char *digest, struct tb_err *err)
{
    unsigned char bytes[TB_HEAD_BYTES];
    char signature[TB_SIGNATURE_HEX];

    if (!at_hand(b) || !tb_head_bytes(bytes, b->entry, digest))
        return TB_OK;
    tb_key_sign(signature, &b->signer, bytes, sizeof bytes);
    return tb_run(tb_sql_signature_add(b, b->entry, signature), err);
}

/* --- for people --------------------------------------------------------------------------------------------------- */

tb_rc tb_key_state_of(struct tb_key_state *out, struct tb_book *b, struct tb_arena *mem, struct tb_err *err)
{
    struct tb_err why = { 0 };
    char *file = NULL;
    tb_rc rc = tb_key_file(&file, b, err);

    if (rc == TB_OK && (rc = latest(b->key_now, b, err)) == TB_OK) {
        tb_rc found = find(b, &why);

        *out = (struct tb_key_state){ .public = tb_arena_strdup(mem, b->key_now),
                                      .file = tb_arena_strdup(mem, file),
                                      .held = tb_arena_strdup(mem, b->signer.public),
                                      .why = tb_arena_strdup(mem, found == TB_OK ? "" : why.msg),
                                      .at_hand = at_hand(b) };
    }
    free(file);
    return rc;
}

/* --- another key -------------------------------------------------------------------------------------------------- */

static tb_rc record(struct tb_book *b, const char *who, const struct tb_key *next, bool *vouched,
                    struct tb_err *err)
{
    unsigned char bytes[TB_HANDOVER_BYTES];
    char handover[TB_SIGNATURE_HEX] = "";
    tb_rc rc = tb_book_begin(b, who, "key", err);

    if (rc != TB_OK)
        return rc;
    *vouched = at_hand(b) && tb_handover_bytes(bytes, b->key_now, next->public);
    if (*vouched)
        tb_key_sign(handover, &b->signer, bytes, sizeof bytes);
    rc = tb_put_signing_key(&(struct tb_signing_key_fact){ .public = next->public, .handover = handover }, b,
                            err);
    if (rc == TB_OK) {
        b->signer = *next; /* its first signature is under the row that names it */
        (void)snprintf(b->key_now, sizeof b->key_now, "%s", next->public);
        rc = tb_book_commit(b, err);
    }
    if (rc != TB_OK) {
        tb_book_rollback(b);
        sodium_memzero(&b->signer, sizeof b->signer); /* what the file holds is read again */
    }
    return rc;
}

tb_rc tb_key_take(bool *vouched, struct tb_book *b, const char *who, const char *from, struct tb_err *err)
{
    struct tb_key next = { 0 };
    char now[TB_DIGEST_HEX];
    tb_rc rc = latest(now, b, err);

    if (rc == TB_OK && (rc = tb_key_read(&next, from, err)) == TB_OK) {
        if (strcmp(next.public, now) == 0)
            rc = tb_fail(err, TB_EREFUSED, "%s holds the key that the book has already", from);
        else
            rc = record(b, who, &next, vouched, err);
    }
    sodium_memzero(&next, sizeof next);
    return rc;
}

tb_rc tb_key_make(char out[TB_DIGEST_HEX], const char *file, const char *pass, struct tb_err *err)
{
    struct tb_key key;
    tb_rc rc;

    tb_key_draw(&key);
    if ((rc = tb_key_write(file, &key, pass, err)) == TB_OK)
        memcpy(out, key.public, sizeof key.public);
    sodium_memzero(&key, sizeof key);
    return rc;
}
