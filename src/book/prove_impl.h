/* prove_impl.h - what the files of the proof of a book share. */
#ifndef TENTERBOOK_BOOK_PROVE_IMPL_H
#define TENTERBOOK_BOOK_PROVE_IMPL_H

#include "book/private.h"

/* A fact as the proof meets it, under the rule of trees. All is borrowed for the call. */
struct tb_met_fact {
    const char *table;
    int64_t entry;
    uint64_t at,
        of; /* its number among the facts of the table in this row, from 0; how many the row says there are */
    const char *id; /* "" where the file holds something else there */
    const unsigned char *nonce, *leaf;
};
typedef void tb_met_fact_fn(void *arg, const struct tb_met_fact *fact);

/* A fact table being read in the order of the journal. */
struct tb_prove_cursor {
    const struct tb_fact_table *table;
    struct tb_stmt *q;
    int columns, owner; /* owner: the column that says which lot a fact is of; -1: none does */
    bool row;           /* a row is waiting */
};

/* A proof that is under way. */
struct tb_proving {
    struct tb_proof *proof;
    struct tb_book *book;
    struct tb_shares shares; /* of the journal row under proof */
    struct tb_prove_cursor cursor[TB_FACT_TABLES_MOST];
    size_t tables;
    int64_t rule; /* of the row before: it never goes back */
    struct tb_text record;
    tb_met_fact_fn *met; /* NULL: nobody wants to know */
    void *arg;
};

/* Note the first thing that does not fit; later ones are left alone. number 0: it is about no journal row. */
void tb_misfit(struct tb_proof *p, int64_t number, const char *fmt, ...) TB_PRINTF(3, 4);
/* See that the waiting row of a statement is stored as its columns are declared, and that no text holds a NUL. */
void tb_prove_stored(struct tb_proof *p, struct tb_stmt *q, const struct tb_sql_text *text, const char *table,
                     int64_t number);
/* The next row of a cursor. */
tb_rc tb_prove_advance(struct tb_prove_cursor *c, struct tb_err *err);
/* Facts that name a journal row below this one which was passed already, or one that does not exist. */
tb_rc tb_prove_strays(struct tb_proving *w, struct tb_prove_cursor *c, int64_t below, struct tb_err *err);
/* Digest, chain and content of one journal row, and every table that has rows under it. */
tb_rc tb_prove_row(struct tb_proving *w, const struct tb_journal_row *j, struct tb_err *err);

/* tb_book_prove for a caller that looks already, and wants to meet the facts; met NULL: it does not. */
tb_rc tb_prove_meeting(struct tb_proof *out, struct tb_book *b, tb_met_fact_fn *met, void *arg,
                       struct tb_err *err);

#endif
