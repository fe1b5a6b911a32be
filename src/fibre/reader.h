/*
 * reader.h - how a declaration is read, inside the module: text -> tokens -> parts -> shares.
 */
#ifndef TENTERBOOK_FIBRE_READER_H
#define TENTERBOOK_FIBRE_READER_H

#include "fibre/index.h"

enum tb_token_kind {
    TB_TOKEN_NUMBER,
    TB_TOKEN_WORD,    /* a word or phrase of the table, or one that is in none */
    TB_TOKEN_MEASURE, /* a number with a unit that is no percentage: 150 gsm, 40s */
    TB_TOKEN_COMMA,   /* , ; + & newline, a dash between blanks: parts one statement from the next */
    TB_TOKEN_SLASH,
    TB_TOKEN_COLON,
    TB_TOKEN_DASH,
    TB_TOKEN_JUNK /* a sign that says nothing we know */
};

struct tb_token {
    enum tb_token_kind kind;
    size_t at, len; /* bytes of the text */
    /* a number */
    double value, unit; /* unit: what one step of its last decimal is worth */
    double tolerance;   /* NAN: none said */
    double to;          /* upper end of a range; NAN: no range */
    bool percent;       /* % or a word for it stands with it */
    /* a word */
    size_t word; /* which of tb_declaration.word */
    int row;     /* row of the table that decides; -1 none */
    enum tb_word_kind what;
};

struct tb_tokens {
    struct tb_token *item;
    size_t n, cap;
};

/* Cut the text into tokens; fills d->word. */
void tb_scan(struct tb_declaration *d, struct tb_tokens *out);

/* Parts, shares and doubts out of tokens. */
void tb_arrange(struct tb_declaration *d, const struct tb_tokens *t);

/* Say what is wrong at a place of the text; choices may be NULL. */
void tb_doubt_add(struct tb_declaration *d, enum tb_doubt_kind kind, size_t at, size_t len,
                  const char *choices, const char *fmt, ...) TB_PRINTF(6, 7);
/* What the table itself says against a word: code, trade word, misnomer, ambiguous, unknown. */
void tb_doubt_word(struct tb_declaration *d, const struct tb_token *t);

#endif
