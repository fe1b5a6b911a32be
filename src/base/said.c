/* What people say, before it goes into records for good: the one rule of what may. */
#include "tenterbook/said.h"
#include "base/say.h"

#include "tenterbook/utf8.h"

#include <ctype.h>
#include <string.h>
#include <strings.h>

tb_rc tb_said_check(const char *what, const char *text, struct tb_err *err)
{
    size_t n = strlen(text);

    if (n > TB_SAID_MOST)
        return tb_fail(err, TB_EINVAL, "%s has %zu bytes; it takes at most %d", what, n, TB_SAID_MOST);
    if (!tb_utf8_valid(text, n))
        return tb_fail(err, TB_EINVAL, "%s holds bytes that are not UTF-8", what);
    for (size_t at = 0; at < n;) {
        unsigned cp;

        at += tb_utf8_next(text + at, n - at, &cp);
        if (tb_utf8_control(cp))
            return tb_fail(err, TB_EINVAL, "%s holds a control character", what);
    }
    return TB_OK;
}

bool tb_said_blank(const char *text)
{
    return text[strspn(text, " \t\r\n")] == '\0';
}

tb_rc tb_said_person(const char *who, struct tb_err *err)
{
    if (!who || tb_said_blank(who))
        return tb_about(err, tb_fail(err, TB_EINVAL, "say who is writing"), "as-person");
    if (strpbrk(who, "\t\r\n"))
        return tb_fail(err, TB_EINVAL, "the name of who writes goes over more than one line");
    if (strlen(who) > TB_NAME_MOST)
        return tb_fail(err, TB_EINVAL, "the name of who writes has %zu bytes; it takes at most %d",
                       strlen(who), TB_NAME_MOST);
    return tb_said_check(_("the name of who writes"), who, err);
}

/* Two signs are a word where a sign is a word: they count double. *alike: it is one sign over and over. */
static size_t letters_of(const char *text, bool *alike)
{
    size_t n = 0;
    int first = 0;

    *alike = true;
    for (const unsigned char *c = (const unsigned char *)text; *c; c++) {
        int letter = isalnum(*c) && *c < 0x80 ? tolower(*c) : *c;

        if (*c < 0x80 && !isalnum(*c))
            continue;
        n += (*c & 0xC0) != 0x80 ? (*c >= 0xE0 ? 2 : 1) : 0;
        *alike = *alike && (!first || letter == first);
        first = letter;
    }
    return n;
}

bool tb_reason_told(const char *why)
{
    static const char *const nothing[] = { "none", "nil", "null", "nothing", "no reason" };
    bool alike;

    if (!why || letters_of(why, &alike) < 3 || alike)
        return false;
    why += strspn(why, " ");
    for (size_t i = 0; i < TB_COUNT(nothing); i++) {
        size_t n = strlen(nothing[i]);

        if (strncasecmp(why, nothing[i], n) == 0 && !why[n + strspn(why + n, " .!")])
            return false;
    }
    return true;
}

tb_rc tb_reason_check(const char *why, struct tb_err *err)
{
    if (!why || tb_said_blank(why) || tb_reason_told(why))
        return TB_OK;
    return tb_about(err,
                    tb_fail(err, TB_EINVAL,
                            "'%.40s' is no reason: whoever reads the book later learns nothing from it; say "
                            "it in a few words",
                            why),
                    "why");
}
