/* Addresses of suppliers and of the site: the latest of each counts. */
#include "tenterbook/address.h"

#include "base/say.h"
#include "book/stmt.h"
#include "tenterbook/limits.h"

#include <string.h>

#define LINE_MOST TB_NAME_MOST /* bytes of one line of an address */

/* One line a mail program takes as an address: no more is looked at, since only a letter that arrives proves it. */
static bool email_possible(const char *s)
{
    const char *at = strchr(s, '@');

    if (!at || at == s || !at[1] || strchr(at + 1, '@'))
        return false;
    for (const char *p = s; *p; p++)
        if ((unsigned char)*p <= ' ' || (unsigned char)*p >= 0x7F || strchr("\"(),:;<>[\\]", *p))
            return false;
    return true;
}

/* A line that holds two would put words of its own above a letter, or into the head of a mail. */
static tb_rc check_line(const char *what, const char *line, size_t n, struct tb_err *err)
{
    if (strcspn(line, "\t\r\n") < n)
        return tb_fail(err, TB_EINVAL, "%s goes over more than one line", what);
    if (n > LINE_MOST)
        return tb_fail(err, TB_EINVAL, "%s has %zu bytes; a line of an address takes at most %d", what, n,
                       LINE_MOST);
    return TB_OK;
}

static tb_rc check_streets(const char *street, struct tb_err *err)
{
    tb_rc rc = TB_OK;

    for (const char *p = street; *p && rc == TB_OK; p += *p == '\n') {
        size_t n = strcspn(p, "\n");

        rc = check_line(_("the street"), p, n, err);
        p += n;
    }
    return rc;
}

static tb_rc check_lines(const struct tb_address *a, struct tb_err *err)
{
    const char *const line[] = { a->name,  a->postcode, a->place,       a->contact,
                                 a->email, a->phone,    a->registration };
    const char *const what[] = { _("the name"),        _("the postcode"),       _("the place"),
                                 _("the contact"),     _("the e-mail address"), _("the telephone number"),
                                 _("the registration") };
    tb_rc rc = TB_OK;

    for (size_t i = 0; i < TB_COUNT(line) && rc == TB_OK; i++)
        rc = check_line(what[i], line[i], strlen(line[i]), err);
    return rc == TB_OK ? check_streets(a->street, err) : rc;
}

static tb_rc check(const struct tb_address *a, struct tb_err *err)
{
    int language;
    tb_rc rc = check_lines(a, err);

    if (rc != TB_OK)
        return rc;
    if (*a->country && !tb_country_valid(a->country))
        return tb_about(
            err,
            tb_fail(err, TB_EINVAL, "'%s' is not a country code; it takes two letters like IT", a->country),
            "country");
    if (*a->email && !email_possible(a->email))
        return tb_about(err, tb_fail(err, TB_EINVAL, "'%s' is not an e-mail address", a->email), "email");
    if (*a->language && (rc = tb_word_read(&language, &tb_tongue_words, a->language, err)) != TB_OK)
        return tb_about(err, rc, "language");
    return TB_OK;
}

tb_rc tb_address_add(struct tb_address *a, struct tb_book *b, struct tb_arena *mem, struct tb_err *err)
{
    tb_rc rc = check(a, err);

    if (rc != TB_OK)
        return rc;
    a->id = tb_new_key(mem);
    a->set_at = tb_moment_now(b, mem);
    return tb_put_address(a, b, err);
}

tb_rc tb_address_of(struct tb_address *out, struct tb_book *b, const char *supplier_id, struct tb_arena *mem,
                    struct tb_err *err)
{
    tb_rc rc = tb_one_address(
        out, supplier_id ? tb_sql_address_of_supplier(b, supplier_id) : tb_sql_address_of_site(b), mem, err);

    if (rc != TB_ENOTFOUND)
        return rc;
    *out = (struct tb_address){ .supplier = supplier_id,
                                .name = "",
                                .street = "",
                                .postcode = "",
                                .place = "",
                                .country = "",
                                .contact = "",
                                .email = "",
                                .phone = "",
                                .registration = "",
                                .language = "",
                                .set_at = "",
                                .set_by = "" };
    return TB_OK;
}
