/* text.c - text that grows. */
#include "tenterbook/base.h"

#include "base/say.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* Doubling makes a long text cost as much as writing it twice. */
static void reserve(struct tb_text *t, size_t more)
{
    size_t need = t->n + more + 1;

    if (need <= t->cap)
        return;
    while (t->cap < need)
        t->cap = t->cap ? t->cap * 2 : 64;
    t->s = tb_realloc(t->s, t->cap, 1);
}

void tb_text_addn(struct tb_text *t, const char *s, size_t n)
{
    reserve(t, n);
    if (n)
        memcpy(t->s + t->n, s, n);
    t->n += n;
    t->s[t->n] = '\0';
}

void tb_text_add(struct tb_text *t, const char *s)
{
    tb_text_addn(t, s, strlen(s));
}

void tb_text_addc(struct tb_text *t, char c)
{
    tb_text_addn(t, &c, 1);
}

/* The length is asked for first: a text is never cut to what happens to be free. */
void tb_text_vaddf(struct tb_text *t, const char *fmt, va_list ap)
{
    va_list again;
    int n;

    va_copy(again, ap);
    n = vsnprintf(NULL, 0, fmt, ap);
    if (n > 0) {
        reserve(t, (size_t)n);
        (void)vsnprintf(t->s + t->n, (size_t)n + 1, fmt, again);
        t->n += (size_t)n;
    }
    va_end(again);
}

void tb_text_addf(struct tb_text *t, const char *fmt, ...)
{
    va_list ap;

    va_start(ap, fmt);
    tb_text_vaddf(t, fmt, ap);
    va_end(ap);
}

/* NOLINTBEGIN(clang-diagnostic-format-nonliteral): the catalogue keeps the conversions (msgfmt -c) */
void tb_text_vsay(struct tb_text *t, const char *fmt, va_list ap)
{
    tb_text_vaddf(t, _(fmt), ap);
}
/* NOLINTEND(clang-diagnostic-format-nonliteral) */

void tb_text_say(struct tb_text *t, const char *fmt, ...)
{
    va_list ap;

    va_start(ap, fmt);
    tb_text_vsay(t, fmt, ap);
    va_end(ap);
}

void tb_part(struct tb_text *list, const char *fmt, ...)
{
    va_list ap;

    if (list->n)
        tb_text_add(list, ", ");
    va_start(ap, fmt);
    tb_text_vsay(list, fmt, ap);
    va_end(ap);
}

void tb_clause(struct tb_text *sentence, const char *fmt, ...)
{
    va_list ap;

    if (sentence->n)
        tb_text_add(sentence, "; ");
    va_start(ap, fmt);
    tb_text_vsay(sentence, fmt, ap);
    va_end(ap);
}

void tb_text_clear(struct tb_text *t)
{
    t->n = 0;
    if (t->s)
        t->s[0] = '\0';
}

void tb_text_free(struct tb_text *t)
{
    free(t->s);
    *t = (struct tb_text){ 0 };
}

/* Never NULL, so that callers need not ask whether anything was said. */
char *tb_text_take(struct tb_text *t)
{
    char *s = t->s ? t->s : tb_strdup("");

    *t = (struct tb_text){ 0 };
    return s;
}

const char *tb_text_str(const struct tb_text *t)
{
    return t->s ? t->s : "";
}
