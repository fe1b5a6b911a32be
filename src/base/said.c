/* What people say, before it goes into records for good: the one rule of what may. */
#include "tenterbook/said.h"
#include "base/say.h"

#include "tenterbook/utf8.h"

#include <string.h>

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
