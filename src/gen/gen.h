/*
 * gen.h - what the programs of the build share: how they complain, texts and lists that grow, text as C, tables in CSV.
 *
 * Nothing is freed: each of them runs once and ends.
 */
#ifndef TENTERBOOK_GEN_GEN_H
#define TENTERBOOK_GEN_GEN_H

#include <stddef.h>
#include <stdio.h>

/* A place in a file, from 1, for messages an editor can jump to; 0: the file, or the line, as a whole. */
struct place {
    const char *file;
    int line, column;
};

/* Say "PROGRAM: place: what is wrong" on standard error. */
void complain(struct place at, const char *fmt, ...) __attribute__((format(printf, 2, 3)));
/* The same, and end the program. */
_Noreturn void stop(struct place at, const char *fmt, ...) __attribute__((format(printf, 2, 3)));
/* `old` (NULL or from here) grown to n elements, or the end of the program. */
void *grown(void *old, size_t n, size_t size);
/* `old` (NULL or from here) with `more` behind it. */
char *joined(char *old, const char *more);
/* A file to write into, or the end of the program. */
FILE *made(const char *path);
/* A string of C that is the text; NULL is written as "". */
void write_string(FILE *f, const char *s);

/* One row of a table, the header included: as many cells as the header has, each one line. */
struct csv_row {
    struct place at;
    char **cell;
    size_t n;
};
struct csv_rows {
    struct csv_row *row;
    size_t n;
};
/* The rows of a file, the header first; a file that is no such table ends the program. */
struct csv_rows read_csv(const char *file);

#endif
