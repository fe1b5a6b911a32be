/*
 * sqlgen.h - what sqlgen knows of the files it reads: rows, statements, migrations, each with its place.
 *
 * The form of the comments is told in sqlgen.c.
 */
#ifndef TENTERBOOK_GEN_SQLGEN_H
#define TENTERBOOK_GEN_SQLGEN_H

#include "gen/gen.h"

#include <stdbool.h>

/* One word of a comment: a name, a number, one of , : and what stands between ( and ). */
struct token {
    char *text;
    struct place at;
};

struct tokens {
    struct token *token;
    size_t n;
};

enum kind { TEXT, WHOLE, INT, SIZE, NUMBER, FLAG, BYTES, WORD, KEY, PERSON, ENTRY, NOW, SITE, KINDS };

/* What a kind is in the comments, in C and in the book. */
struct kind_of {
    const char *name, *type, *stored;
    const char *bind,
        *value;       /* tb_bind_..., and the value: $1 "r->" or "", $2 the member, $3 its set of words */
    const char *read; /* $1 the column, $2 "count" or "whole"; a WORD is read by a call of its own */
};
extern const struct kind_of kinds[KINDS];

/* How nothing stands in the record: as nothing, as empty text, as -1. */
enum nothing { REFUSED, OR_NULL, OR_EMPTY, OR_MINUS };

struct column {
    char *name;
    enum kind kind;
    char *word; /* of kind WORD: the closed set, "standing" */
    enum nothing nothing;
    struct place at, kind_at;
};

struct columns {
    struct column *column;
    size_t n;
};

/* What a statement gives or takes as one struct. */
struct row {
    char *name, *header; /* header NULL: the struct is made here */
    struct columns columns;
    struct place at;
};

struct statement {
    char *name, *fact, *text; /* fact: the table of an INSERT that is journalled, else NULL */
    char *list, *find;        /* a function that gives all its rows, or the first; NULL: none is made */
    struct columns in, out;
    struct row *row;    /* what it gives, where the columns have a name of their own, else NULL */
    struct token from;  /* the struct its parameters are members of; text NULL: they are given one by one */
    char *from_header;  /* where that struct stands, when it is no row */
    struct token gives; /* the name of the row, until all files are read ... */
    bool gives_fact;    /* ... or of the fact whose parameters are the columns */
    struct place at;
};

struct migration {
    char *name, *text;
};

struct book_sql {
    struct row *row;
    struct statement *statement;
    struct migration *migration;
    struct token *words; /* the closed sets that are named */
    size_t rows, statements, migrations, sets;
};

/* Say that a word is not a kind, and end the program. */
_Noreturn void stop_kind(struct place at, const char *word);
/* Read one file, by the folder it lies in: a migration or named statements. */
void read_sql(struct book_sql *all, const char *file);
/* The columns in tokens from `i` on. `numbered`: each begins with $1, $2 ... */
struct columns read_columns(const struct tokens *t, size_t i, bool numbered);

/* Order by name, tie names to rows, and see that every statement keeps what its comment says. */
void check_sql(struct book_sql *all);

/* Is it read column by column, so that it needs no functions? */
bool read_by_column(const struct statement *s);
/* The head of the function that binds a statement or writes a fact, without ; or {. */
void write_head(FILE *f, const struct statement *s);

/* The parameters of a statement, each after a comma; with their types or without. */
void write_parameters(FILE *f, const struct statement *s, bool typed);

void write_header(FILE *f, const struct book_sql *all);
/* The texts and what their columns are. */
void write_tables(FILE *f, const struct book_sql *all);
/* What the migrations make, as a digest; a migration that SQLite refuses ends the program. */
void write_shape(FILE *f, const struct book_sql *all);
/* The functions that bind and read. */
void write_functions(FILE *f, const struct book_sql *all);

#endif
