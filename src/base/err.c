/* err.c - a failure noted as one sentence, in the language of the reader. */
#include "tenterbook/base.h"

#include "base/say.h"
#include "tenterbook/utf8.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* A cut message must not end in half a character. */
static void trim_partial_character(char *s, size_t room)
{
    size_t n = strlen(s);

    if (n + 1 < room)
        return;
    while (n > 0 && ((unsigned char)s[n - 1] & 0xC0) == 0x80)
        n--;
    if (n > 0 && ((unsigned char)s[n - 1] & 0xC0) == 0xC0)
        s[n - 1] = '\0';
}

/* A sentence often names what came from elsewhere: a file, a word of a command line, a cell of a table. */
static void show(char *s, size_t room)
{
    char *shown = tb_utf8_shown(s, strlen(s), "");

    if (shown)
        (void)snprintf(s, room, "%s", shown);
    free(shown);
    trim_partial_character(s, room);
}

tb_rc(tb_fail)(struct tb_err *err, tb_rc rc, const char *fmt, ...)
{
    va_list ap;

    if (!err)
        return rc;
    va_start(ap, fmt);
    /* NOLINTNEXTLINE(clang-diagnostic-format-nonliteral): the catalogue keeps the conversions (msgfmt -c) */
    (void)vsnprintf(err->msg, sizeof err->msg, _(fmt), ap);
    va_end(ap);
    trim_partial_character(err->msg, sizeof err->msg);
    show(err->msg, sizeof err->msg);
    err->detail[0] = err->about[0] = '\0';
    return rc;
}

tb_rc tb_about(struct tb_err *err, tb_rc rc, const char *names)
{
    if (err)
        (void)snprintf(err->about, sizeof err->about, "%s", names);
    return rc;
}

tb_rc(tb_within)(struct tb_err *err, tb_rc rc, const char *fmt, ...)
{
    char where[sizeof err->msg], inner[sizeof err->msg];
    va_list ap;

    if (!err)
        return rc;
    va_start(ap, fmt);
    (void)vsnprintf(where, sizeof where, _(fmt), ap);
    va_end(ap);
    memcpy(inner, err->msg, sizeof inner);
    where[250] = '\0'; /* both halves keep room for each other */
    trim_partial_character(where, 251);
    inner[340] = '\0';
    trim_partial_character(inner, 341);
    (void)snprintf(err->msg, sizeof err->msg, "%.250s: %.340s", where, inner);
    show(err->msg, sizeof err->msg);
    return rc;
}

void tb_detail(struct tb_err *err, const char *fmt, ...)
{
    va_list ap;

    if (!err)
        return;
    va_start(ap, fmt);
    (void)vsnprintf(err->detail, sizeof err->detail, fmt, ap);
    va_end(ap);
    trim_partial_character(err->detail, sizeof err->detail);
    show(err->detail, sizeof err->detail);
}
