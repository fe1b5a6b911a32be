/* named.c - what a person typed, as the book writes it: references without regard to case and leading zeros. */
#include "book/named.h"
#include "book/stmt.h"
#include "tenterbook/goods.h"

#include <ctype.h>
#include <stdlib.h>
#include <string.h>

/* Copies letters and digits up to a sign that is neither; false where there is none, or more than the book's own have. */
static bool take_head(struct tb_text *out, const char **s)
{
    size_t n = 0;

    while (isalnum((unsigned char)(*s)[n]))
        tb_text_addc(out, (char)toupper((unsigned char)(*s)[n++]));
    *s += n;
    return n >= 1 && n <= 6;
}

/* A number of at least so many digits. */
static bool take_number(struct tb_text *out, const char **s, int digits)
{
    size_t zeros = strspn(*s, "0"), n = strspn(*s + zeros, "0123456789");

    if (zeros + n == 0 || n > 9)
        return false;
    for (size_t i = n; i < (size_t)digits; i++)
        tb_text_addc(out, '0');
    tb_text_addn(out, *s + zeros, n);
    *s += zeros + n;
    return true;
}

const char *tb_ref_as_written(const char *typed, struct tb_arena *mem)
{
    struct tb_text t = { 0 };
    const char *s = typed, *out;
    bool good = take_head(&t, &s) && *s == '-', known;

    if (good)
        tb_text_addc(&t, *s++);
    known = good && (*s == 'k' || *s == 'K');
    if (known)
        tb_text_addc(&t, 'K');
    s += known;
    good = good && take_number(&t, &s, known ? 2 : 3);
    for (int dots = 0; good && !known && dots < 2 && *s == '.'; dots++) {
        tb_text_addc(&t, *s++);
        good = take_number(&t, &s, 2);
    }
    out = good && !*s && strcmp(t.s, typed) != 0 ? tb_arena_strdup(mem, t.s) : NULL;
    tb_text_free(&t);
    return out;
}

/* A number in other letter case or without its zeros is found with its lot. */
static tb_rc by_number(struct tb_named *out, struct tb_book *b, const char *typed, struct tb_arena *mem,
                       struct tb_err *err)
{
    struct tb_lot lot;
    tb_rc rc = tb_lot_find(&lot, b, typed, mem, err);

    if (rc == TB_OK)
        *out = (struct tb_named){ .about = "bolt", .ref = lot.ref };
    if (rc != TB_ENOTFOUND)
        return rc;
    rc = tb_fail(err, rc, "there is no delivery, lot, bolt or swatch %s in this book", typed);
    return tb_near_offer(b, typed, rc, err);
}

tb_rc tb_named(struct tb_named *out, struct tb_book *b, const char *typed, struct tb_arena *mem,
               struct tb_err *err)
{
    const char *written = tb_ref_as_written(typed, mem);
    tb_rc rc = tb_one_named(out, tb_sql_named(b, typed), mem, err);

    if (rc == TB_ENOTFOUND && written)
        rc = tb_one_named(out, tb_sql_named(b, written), mem, err);
    if (rc == TB_OK && strcmp(out->about, "bolt") == 0)
        return by_number(out, b, typed, mem, err);
    return rc == TB_ENOTFOUND ? by_number(out, b, typed, mem, err) : rc;
}

tb_rc tb_name_written(const char **out, struct tb_book *b, const char *typed, const char *lot_ref,
                      struct tb_arena *mem, struct tb_err *err)
{
    const char *written = tb_ref_as_written(typed, mem), **like;
    struct tb_named named;
    size_t n;
    tb_rc rc = tb_one_named(&named, tb_sql_named(b, typed), mem, err);

    *out = typed;
    if (rc == TB_ENOTFOUND && written &&
        (rc = tb_one_named(&named, tb_sql_named(b, written), mem, err)) == TB_OK)
        *out = written;
    if (rc != TB_ENOTFOUND)
        return rc;
    rc = tb_all_text(&like, &n, tb_sql_bolt_numbers_like(b, typed, lot_ref), mem, err);
    if (rc == TB_OK && n == 1)
        *out = like[0];
    return rc;
}
