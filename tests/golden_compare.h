/*
 * What a program made now against tests/golden/NAME. Where TB_GOLDEN_NEW names a folder it is put there too, for
 * `make golden-review`, which runs the programs called test_*_golden.
 */
#ifndef TB_GOLDEN_COMPARE_H
#define TB_GOLDEN_COMPARE_H

#include "tenterbook/base.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static inline void golden_slurp(struct tb_text *out, const char *path)
{
    FILE *f = fopen(path, "rb");
    char buffer[4096];
    size_t n;

    while (f && (n = fread(buffer, 1, sizeof buffer, f)) > 0)
        tb_text_addn(out, buffer, n);
    if (f)
        (void)fclose(f);
}

/*
 * The part of a workbook that holds the tab of that name, from its xl/workbook.xml: a tab that is put in between does not
 * move the expectations of those behind it. `out` stays empty where there is no such tab.
 */
static inline void golden_tab(struct tb_text *out, const char *workbook, const char *tab)
{
    struct tb_text head = { 0 };
    const char *at;

    tb_text_addf(&head, "<sheet name=\"%s\" sheetId=\"", tab);
    at = strstr(workbook, head.s);
    if (at)
        tb_text_addf(out, "xl/worksheets/sheet%ld.xml", strtol(at + head.n, NULL, 10));
    tb_text_free(&head);
}

/* The line, counted from 1, on which the two part; 0 when they are the same. */
static inline size_t golden_line(const char *a, const char *b)
{
    size_t line = 1;

    for (; *a && *a == *b; a++, b++)
        line += *a == '\n';
    return *a == *b ? 0 : line;
}

/* Read a number at *s, and go behind it; false where none begins. */
static inline bool golden_number(double *out, const char **s)
{
    char *end;

    if (!strchr("-0123456789", **s) || **s == '\0')
        return false;
    *out = strtod(*s, &end);
    if (end == *s)
        return false;
    *s = end;
    return true;
}

/* As golden_line, but numbers may lie a little apart: by `room`, and by a twentieth of their size. */
static inline size_t golden_line_near(const char *a, const char *b, double room)
{
    size_t line = 1;

    while (*a || *b) {
        double x, y;

        if (golden_number(&x, &a) && golden_number(&y, &b)) {
            if (!(fabs(x - y) <= room + 0.05 * fmax(fabs(x), fabs(y))))
                return line;
        } else if (*a++ != *b) {
            return line;
        } else {
            line += *b++ == '\n';
        }
    }
    return 0;
}

/*
 * Whether the text is what tests/golden/NAME holds, and says on which line it is not. With `room` above 0 numbers may
 * differ so far, and by a twentieth: what is drawn differs a little from one version of a library to the next.
 */
static inline bool golden_near(const char *name, const char *text, double room)
{
    struct tb_text path = { 0 }, want = { 0 };
    const char *review = getenv("TB_GOLDEN_NEW");
    size_t line;

    tb_text_addf(&path, "%s/tests/golden/%s", TB_SOURCE_DIR, name);
    golden_slurp(&want, tb_text_str(&path));
    line =
        room > 0 ? golden_line_near(tb_text_str(&want), text, room) : golden_line(tb_text_str(&want), text);
    if (review) {
        FILE *f;

        tb_text_clear(&path);
        tb_text_addf(&path, "%s/%s", review, name);
        f = fopen(tb_text_str(&path), "wb");
        if (!f || fputs(text, f) < 0 || fclose(f) != 0)
            abort();
    }
    if (line)
        (void)fprintf(stderr, "%s differs on line %zu; see it with make golden-review\n", name, line);
    tb_text_free(&path);
    tb_text_free(&want);
    return line == 0;
}

static inline bool golden_same(const char *name, const char *text)
{
    return golden_near(name, text, 0);
}

#endif
