/* A book held against what somebody noted of it elsewhere (anchor.h). */
#include "tenterbook/anchor.h"
#include "book/key.h"
#include "book/prove_impl.h"

#include <ctype.h>
#include <stdlib.h>
#include <string.h>

#define BETWEEN " \t,:"

/* --- reading ---------------------------------------------------------------------------------------------------- */

static bool take_number(int64_t *out, const char **at)
{
    size_t n = strspn(*at, "0123456789");

    if (n < 1 || n > 18)
        return false;
    *out = strtoll(*at, NULL, 10);
    *at += n;
    return *out > 0;
}

/* Capitals are typed from paper; the book writes small letters. */
static bool take_hash(char out[TB_DIGEST_HEX], const char **at)
{
    unsigned char hash[TB_HASH];

    if (strcspn(*at, BETWEEN) != TB_DIGEST_HEX - 1)
        return false;
    for (int i = 0; i < TB_DIGEST_HEX - 1; i++)
        out[i] = (char)tolower((unsigned char)(*at)[i]);
    out[TB_DIGEST_HEX - 1] = '\0';
    *at += TB_DIGEST_HEX - 1;
    return tb_hash_of_hex(hash, out);
}

static bool take_between(const char **at)
{
    size_t n = strspn(*at, BETWEEN);

    *at += n;
    return n > 0;
}

tb_rc tb_anchor_read(struct tb_anchor *out, const char *text, struct tb_err *err)
{
    const char *at = text + strspn(text, " \t");

    if (take_number(&out->number, &at) && take_between(&at) && take_hash(out->digest, &at) &&
        at[strspn(at, " \t")] == '\0')
        return TB_OK;
    return tb_fail(
        err, TB_EINVAL,
        "'%s' does not name a journal row; it takes NUMBER:DIGEST as prove prints it, the digest in 64 "
        "hexadecimal digits",
        text);
}

/* --- the proof -------------------------------------------------------------------------------------------------- */

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
    for (size_t i = 0; i < held->anchors && rc == TB_OK && out->fits; i++)
        rc = check(out, b, &held->anchor[i], err);
    tb_book_look_away(b);
    return rc;
}

tb_rc tb_book_prove(struct tb_proof *out, struct tb_book *b, struct tb_err *err)
{
    return tb_book_prove_held(out, b, &(struct tb_held){ 0 }, err);
}
