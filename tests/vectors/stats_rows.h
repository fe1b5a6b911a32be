/*
 * stats_rows.h - read a table of published figures: id,quantity,inputs,published,exact,tolerance,status,source,note.
 *
 * `inputs` is "x=20;n=100;conf=0.95;side=less". `published` is the figure as printed by the source, good to
 * `tolerance`; `exact` is the figure computed to 12 digits or more. Where a source printed an approximation or a
 * slip, the note says so, and the exact figure is the one a test asks for.
 */
#ifndef TENTERBOOK_TESTS_STATS_ROWS_H
#define TENTERBOOK_TESTS_STATS_ROWS_H

#include <csv.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define STATS_COLUMNS 9

struct stats_row {
    char *cell[STATS_COLUMNS]; /* id, quantity, inputs, published, exact, tolerance, status, source, note */
};

struct stats_rows {
    struct stats_row *row;
    size_t n, column;
};

static inline void stats_cell(void *data, size_t n, void *ctx)
{
    struct stats_rows *t = ctx;

    if (t->column == 0) {
        t->row = realloc(t->row, (t->n + 1) * sizeof *t->row);
        if (!t->row)
            abort();
        memset(&t->row[t->n++], 0, sizeof *t->row);
    }
    if (t->column < STATS_COLUMNS)
        t->row[t->n - 1].cell[t->column] = strndup(data ? data : "", n);
    t->column++;
}

static inline void stats_end(int c, void *ctx)
{
    struct stats_rows *t = ctx;

    (void)c;
    if (t->column != STATS_COLUMNS)
        abort();
    t->column = 0;
}

/* Row 0 is the header. Ends the test program when the file is not there or is not such a table. */
static inline struct stats_rows stats_read(const char *name)
{
    struct stats_rows t = { 0 };
    struct csv_parser p;
    char path[1024], buffer[65536];
    size_t n;
    FILE *f;

    (void)snprintf(path, sizeof path, "%s/tests/vectors/%s.csv", TB_SOURCE_DIR, name);
    f = fopen(path, "rb");
    if (!f || csv_init(&p, CSV_STRICT | CSV_STRICT_FINI) != 0)
        abort();
    while ((n = fread(buffer, 1, sizeof buffer, f)) > 0)
        if (csv_parse(&p, buffer, n, stats_cell, stats_end, &t) != n)
            abort();
    (void)csv_fini(&p, stats_cell, stats_end, &t);
    csv_free(&p);
    (void)fclose(f);
    return t;
}

static inline void stats_free(struct stats_rows *t)
{
    for (size_t i = 0; i < t->n; i++)
        for (size_t c = 0; c < STATS_COLUMNS; c++)
            free(t->row[i].cell[c]);
    free(t->row);
}

/* The text after "key=" in the inputs, up to the next ';' or the end; NULL when the key is not there. */
static inline const char *stats_input(const struct stats_row *r, const char *key)
{
    size_t n = strlen(key);

    for (const char *s = r->cell[2]; s && *s; s = strchr(s, ';') ? strchr(s, ';') + 1 : NULL)
        if (strncmp(s, key, n) == 0 && s[n] == '=')
            return s + n + 1;
    return NULL;
}

static inline double stats_number(const struct stats_row *r, const char *key, double otherwise)
{
    const char *s = stats_input(r, key);

    return s ? strtod(s, NULL) : otherwise;
}

static inline bool stats_is(const struct stats_row *r, const char *key, const char *value)
{
    const char *s = stats_input(r, key);
    size_t n = strlen(value);

    return s && strncmp(s, value, n) == 0 && (s[n] == '\0' || s[n] == ';');
}

/* True when `got` is the exact figure to its printed digits, and the published one to its tolerance where it
 * was not marked as a slip of the source (tolerance left empty then). Says what differs otherwise. */
static inline bool stats_agrees(const struct stats_row *r, double got)
{
    double exact = strtod(r->cell[4], NULL), slack = strlen(r->cell[4]) > 15 ? 1e-12 : 2e-11;
    bool ok = fabs(got - exact) <= slack * fmax(fabs(exact), 1e-3);

    if (ok && *r->cell[3] && *r->cell[5])
        ok = fabs(got - strtod(r->cell[3], NULL)) <= strtod(r->cell[5], NULL);
    if (!ok)
        (void)fprintf(stderr, "%s %s (%s): got %.15g, exact %s, published %s\n", r->cell[0], r->cell[1],
                      r->cell[2], got, r->cell[4], r->cell[3]);
    return ok;
}

#endif
