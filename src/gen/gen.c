/* gen.c - how the programs of the build complain, and how they write text as C. */
#include "gen/gen.h"

#include <errno.h>
#include <stdarg.h>
#include <stdlib.h>
#include <string.h>

static void say(struct place at, const char *fmt, va_list ap)
{
    (void)fprintf(stderr, "%s: ", program_invocation_short_name);
    if (at.file)
        (void)fprintf(stderr,
                      at.column ? "%s:%d:%d: "
                      : at.line ? "%s:%d: "
                                : "%s: ",
                      at.file, at.line, at.column);
    (void)vfprintf(stderr, fmt, ap);
    (void)fputc('\n', stderr);
}

void complain(struct place at, const char *fmt, ...)
{
    va_list ap;

    va_start(ap, fmt);
    say(at, fmt, ap);
    va_end(ap);
}

void stop(struct place at, const char *fmt, ...)
{
    va_list ap;

    va_start(ap, fmt);
    say(at, fmt, ap);
    va_end(ap);
    exit(1);
}

void *grown(void *old, size_t n, size_t size)
{
    void *p = realloc(old, n * size);

    if (!p)
        stop((struct place){ 0 }, "out of memory");
    return p;
}

char *joined(char *old, const char *more)
{
    size_t a = old ? strlen(old) : 0, b = strlen(more);
    char *s = grown(old, a + b + 1, 1);

    memcpy(s + a, more, b + 1);
    return s;
}

FILE *made(const char *path)
{
    FILE *f = fopen(path, "w");

    if (!f)
        stop((struct place){ .file = path }, "the file cannot be written");
    return f;
}

void write_string(FILE *f, const char *s)
{
    (void)fputc('"', f);
    for (; s && *s; s++) {
        unsigned char b = (unsigned char)*s;

        if (b == '\n')
            (void)fputs("\\n\"\n\"", f);
        else if (b == '"' || b == '\\')
            (void)fprintf(f, "\\%c", b);
        else if (b < 32 || b > 126 || b == '?') /* octal ends by itself; ? may begin a trigraph */
            (void)fprintf(f, "\\%03o", b);
        else
            (void)fputc(b, f);
    }
    (void)fputc('"', f);
}
