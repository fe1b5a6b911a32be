/* A book held against what somebody noted of it elsewhere (anchor.h). */
#include "tenterbook/anchor.h"
#include "book/key.h"
#include "book/prove_impl.h"
#include "book/stamp.h"

#include <string.h>

static tb_rc check_key(struct tb_proof *p, struct tb_book *b, const struct tb_anchor *a, struct tb_err *err)
{
    struct tb_arena mem = { 0 };
    struct tb_signing_key *key = NULL;
    const struct tb_signing_key *then;
    size_t n = 0;
    tb_rc rc = tb_signing_key_list(&key, &n, b, &mem, err);

    then = tb_key_at(&(struct tb_keys){ key, n }, a->number);
    if (rc == TB_OK && (!then || strcmp(then->public, a->key) != 0)) {
        p->elsewhere = true;
        tb_misfit(p, a->number,
                  "journal row %lld was signed by the key %s, which did not count in this book then",
                  (long long)a->number, a->key);
    }
    tb_arena_free(&mem);
    return rc;
}

static tb_rc check(struct tb_proof *p, struct tb_book *b, const struct tb_anchor *a, struct tb_err *err)
{
    struct tb_arena mem = { 0 };
    const char *digest;
    tb_rc rc = tb_ask_text(&digest, tb_sql_journal_digest_of(b, a->number), &mem, err);

    if (rc == TB_ENOTFOUND) {
        rc = TB_OK;
        p->elsewhere = true;
        tb_misfit(
            p, a->number,
            "journal row %lld was noted elsewhere and is not there: the journal ends with row %lld, and what "
            "came after it was cut off",
            (long long)a->number, (long long)p->rows);
    } else if (rc == TB_OK && strcmp(digest, a->digest) != 0) {
        p->elsewhere = true;
        tb_misfit(
            p, a->number,
            "journal row %lld has the digest %s, and another one was noted elsewhere: the book was written "
            "anew up to that row, or the note is of another book",
            (long long)a->number, digest);
    }
    if (rc == TB_OK && p->fits && *a->site && strcmp(a->site, b->site.code) != 0) {
        p->elsewhere = true;
        tb_misfit(p, a->number, "the note is of a book of site %s, and this one is of site %s", a->site,
                  b->site.code);
    }
    if (rc == TB_OK && p->fits && *a->key)
        rc = check_key(p, b, a, err);
    tb_arena_free(&mem);
    return rc;
}

/* One moment of the book for the walk and what it is held against, whoever writes meanwhile. */
tb_rc tb_book_prove_held(struct tb_proof *out, struct tb_book *b, const struct tb_held *held,
                         struct tb_err *err)
{
    tb_rc rc = tb_book_look(b, err);

    *out = (struct tb_proof){ 0 };
    if (rc != TB_OK)
        return rc;
    if ((rc = tb_prove_meeting(out, b, NULL, NULL, err)) == TB_OK && out->fits)
        rc = tb_prove_signatures(out, b, held, err);
    if (rc == TB_OK && out->fits)
        rc = tb_prove_stamps(out, b, held, err);
    for (size_t i = 0; i < held->anchors && rc == TB_OK && out->fits; i++)
        rc = check(out, b, &held->anchor[i], err);
    tb_book_look_away(b);
    return rc;
}

tb_rc tb_book_prove(struct tb_proof *out, struct tb_book *b, struct tb_err *err)
{
    return tb_book_prove_held(out, b, &(struct tb_held){ 0 }, err);
}
