/*
 * law_rows.h - read a committed CSV table of at most 16 columns for the tests of labels, and put a question.
 */
#ifndef TENTERBOOK_TESTS_LAW_ROWS_H
#define TENTERBOOK_TESTS_LAW_ROWS_H

#include "tenterbook/law.h"

#include <csv.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define LAW_COLUMNS 16

struct law_row {
    char *cell[LAW_COLUMNS];
};

struct law_rows {
    struct law_row *row; /* row 0 is the header */
    size_t n, column;
};

static inline void law_cell(void *data, size_t n, void *ctx)
{
    struct law_rows *t = ctx;

    if (t->column == 0) {
        t->row = tb_realloc(t->row, t->n + 1, sizeof *t->row);
        memset(&t->row[t->n++], 0, sizeof *t->row);
    }
    if (t->column < LAW_COLUMNS)
        t->row[t->n - 1].cell[t->column] = tb_strndup(data ? data : "", n);
    t->column++;
}

static inline void law_end(int c, void *ctx)
{
    (void)c;
    ((struct law_rows *)ctx)->column = 0;
}

/* Ends the test program when the file is not there or is no CSV. */
static inline struct law_rows law_read(const char *name)
{
    struct law_rows t = { 0 };
    struct csv_parser p;
    char path[1024], buffer[65536];
    size_t n;
    FILE *f;

    (void)snprintf(path, sizeof path, "%s/tests/vectors/%s", TB_SOURCE_DIR, name);
    f = fopen(path, "rb");
    if (!f || csv_init(&p, CSV_STRICT) != 0)
        abort();
    while ((n = fread(buffer, 1, sizeof buffer, f)) > 0)
        if (csv_parse(&p, buffer, n, law_cell, law_end, &t) != n)
            abort();
    if (csv_fini(&p, law_cell, law_end, &t) != 0)
        abort();
    csv_free(&p);
    (void)fclose(f);
    return t;
}

static inline void law_rows_free(struct law_rows *t)
{
    for (size_t i = 0; i < t->n; i++)
        for (size_t k = 0; k < LAW_COLUMNS; k++)
            free(t->row[i].cell[k]);
    free(t->row);
}

static inline const char *law_at(const struct law_rows *t, size_t row, const char *column)
{
    for (size_t k = 0; k < LAW_COLUMNS; k++)
        if (t->row[0].cell[k] && strcmp(t->row[0].cell[k], column) == 0)
            return t->row[row].cell[k] ? t->row[row].cell[k] : "";
    abort();
}

/* "area_share=18 carded share:weft=40 origin=Made_in_Italy": what the text cannot hold; "_" stands for a space. */
static inline void law_facts(struct tb_law_facts *f, const char *options, int functional[4])
{
    static char lang[8], origin[40]; /* what the facts point to until the next call */
    char copy[200], *save = NULL;

    tb_law_facts_none(f);
    (void)snprintf(copy, sizeof copy, "%s", options);
    for (char *o = strtok_r(copy, " ", &save); o; o = strtok_r(NULL, " ", &save)) {
        char *value = strchr(o, '=');
        double v = value ? strtod(value + 1, NULL) : 1;

        if (value)
            *value++ = '\0';
        if (strcmp(o, "area_share") == 0)
            f->area_share = v;
        else if (strcmp(o, "left_out") == 0)
            f->left_out = v;
        else if (strcmp(o, "micron") == 0)
            f->micron = v;
        else if (strcmp(o, "coarse") == 0)
            f->coarse = v;
        else if (strcmp(o, "cv") == 0)
            f->cv = v;
        else if (strcmp(o, "carded") == 0)
            f->carded = true;
        else if (strcmp(o, "virgin") == 0)
            f->virgin = true;
        else if (strcmp(o, "bast") == 0)
            f->bast = true;
        else if (strcmp(o, "one_language") == 0)
            f->one_language = true;
        else if (strcmp(o, "unchecked") == 0)
            f->unchecked = true;
        else if (strncmp(o, "share:", 6) == 0)
            f->part_share[tb_part_by_key(o + 6)] = v;
        else if (strcmp(o, "functional") == 0 && value) {
            functional[f->functionals++] = tb_fibre_by_key(value);
            f->functional = functional;
        } else if (strcmp(o, "lang") == 0 && value) {
            (void)snprintf(lang, sizeof lang, "%s", value);
            f->lang = lang;
        } else if (strcmp(o, "origin") == 0 && value) {
            (void)snprintf(origin, sizeof origin, "%s", value);
            for (char *c = strchr(origin, '_'); c; c = strchr(c, '_'))
                *c = ' ';
            f->origin = origin;
        } else
            abort(); /* a word this reader does not know: the table is wrong */
    }
}

/* Put the question; free the answer with tb_law_answer_free. False: refused. */
static inline bool law_ask(struct tb_law_answer *a, const struct tb_law *law, const char *market,
                           const char *text, const char *actual, const char *options)
{
    struct tb_law_question q = { .market = market, .text = text, .text_len = strlen(text) };
    struct tb_declaration found = { 0 };
    struct tb_err err = { 0 };
    int functional[4];
    bool answered;

    law_facts(&q.facts, options, functional);
    if (actual && *actual) {
        tb_declaration_read(&found, actual, strlen(actual));
        q.found = &found.comp;
    }
    answered = tb_law_check(a, law, &q, &err) == TB_OK;
    tb_declaration_free(&found);
    return answered;
}

/* A fault whose clause holds this piece of text. */
static inline bool law_faults_by(const struct tb_law_answer *a, const char *clause)
{
    for (size_t i = 0; i < a->n; i++)
        if (a->finding[i].severity == TB_SEVERITY_FAULT && strstr(a->finding[i].clause, clause))
            return true;
    return false;
}

static inline void law_show(const struct tb_law_answer *a)
{
    for (size_t i = 0; i < a->n; i++)
        if (a->finding[i].severity == TB_SEVERITY_FAULT)
            (void)printf("#     %s (%s): %s\n", a->finding[i].clause, a->finding[i].rule,
                         a->finding[i].message);
}

#endif
