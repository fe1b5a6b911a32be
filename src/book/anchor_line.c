/* An anchor as one line of text: written from the book, read from whatever it was noted on (anchor.h). */
#include "book/key.h"

#include <ctype.h>
#include <stdlib.h>
#include <string.h>

#define FIELDS 5 /* site, number, digest, key, signature */

/* --- reading ---------------------------------------------------------------------------------------------------- */

/* Blanks are passed over, since digits are written in groups; a case prints a comma where others print a colon. */
static size_t split(char *field[FIELDS], char *text)
{
    size_t n = 1;
    char *to = text;

    field[0] = text;
    for (const char *from = text; *from; from++) {
        if (isspace((unsigned char)*from))
            continue;
        *to++ = *from == ',' || *from == ':' ? '\0' : *from;
        if (to[-1] == '\0') {
            if (n == FIELDS)
                return 0;
            field[n++] = to;
        }
    }
    *to = '\0';
    return n;
}

/* Capitals are typed from paper, and a code is made of them; the book writes small letters. */
static bool take_hex(char *out, char *field, size_t digits)
{
    if (strlen(field) != digits)
        return false;
    for (size_t i = 0; i <= digits; i++)
        out[i] = (char)tolower((unsigned char)field[i]);
    return strspn(out, "0123456789abcdef") == digits;
}

static bool take_number(int64_t *out, const char *field)
{
    size_t n = strlen(field);

    if (n < 1 || n > 18 || strspn(field, "0123456789") != n)
        return false;
    *out = strtoll(field, NULL, 10);
    return *out > 0;
}

static bool take_site(char out[5], const char *field)
{
    size_t n = strlen(field);

    (void)snprintf(out, 5, "%.4s", field);
    return n >= 1 && n <= 4 && strspn(field, "ABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789") == n;
}

static bool take(struct tb_anchor *out, char **field, size_t n)
{
    bool whole = n == 3 || n == 5;

    *out = (struct tb_anchor){ 0 };
    if (n != 2 && !whole)
        return false;
    if (whole && !take_site(out->site, *field++))
        return false;
    return take_number(&out->number, field[0]) && take_hex(out->digest, field[1], 64) &&
           (n != 5 || (take_hex(out->key, field[2], 64) && take_hex(out->signature, field[3], 128)));
}

tb_rc tb_anchor_read(struct tb_anchor *out, const char *text, struct tb_err *err)
{
    char *copy = tb_strdup(text), *field[FIELDS];
    bool good = take(out, field, split(field, copy));

    free(copy);
    if (!good)
        return tb_fail(
            err, TB_EINVAL,
            "'%s' does not name a journal row; it takes NUMBER:DIGEST as prove prints it, the digest in 64 "
            "hexadecimal digits",
            text);
    if (*out->key && !tb_head_signed(out->signature, out->key, out->number, out->digest))
        return tb_fail(
            err, TB_EINVAL,
            "the note of journal row %lld does not fit its own signature: it was changed, or a digit is "
            "wrong",
            (long long)out->number);
    return TB_OK;
}

/* --- writing ---------------------------------------------------------------------------------------------------- */

/* The row is the last one of one moment of the book, and its signature and key are of that moment too. */
tb_rc tb_anchor_of_look(struct tb_anchor *out, struct tb_book *b, struct tb_err *err)
{
    struct tb_arena mem = { 0 };
    const char *public, *signature;
    tb_rc rc;

    *out = (struct tb_anchor){ 0 };
    if ((rc = tb_book_head(&out->number, out->digest, b, err)) == TB_OK &&
        (rc = tb_ask_text(&signature, tb_sql_signature_of(b, out->number), &mem, err)) == TB_OK &&
        (rc = tb_ask_text(&public, tb_sql_signing_key_latest(b), &mem, err)) == TB_OK) {
        (void)snprintf(out->key, sizeof out->key, "%s", public);
        (void)snprintf(out->signature, sizeof out->signature, "%s", signature);
    }
    (void)snprintf(out->site, sizeof out->site, "%s", b->site.code);
    tb_arena_free(&mem);
    return rc == TB_ENOTFOUND ? TB_OK : rc;
}

tb_rc tb_anchor_now(struct tb_anchor *out, struct tb_book *b, struct tb_err *err)
{
    tb_rc rc = tb_book_look(b, err);

    if (rc == TB_OK) {
        rc = tb_anchor_of_look(out, b, err);
        tb_book_look_away(b);
    }
    return rc;
}

void tb_anchor_line(struct tb_text *out, const struct tb_anchor *a)
{
    tb_text_addf(out, "%s:%lld:%s", a->site, (long long)a->number, a->digest);
    if (*a->key)
        tb_text_addf(out, ":%s:%s", a->key, a->signature);
}

void tb_anchor_spell(struct tb_text *out, const struct tb_anchor *a)
{
    tb_text_addf(out, "%lld:", (long long)a->number);
    for (size_t i = 0; i < strlen(a->digest); i += 4)
        tb_text_addf(out, " %.4s", a->digest + i);
}
