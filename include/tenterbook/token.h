/*
 * token.h - words about fibres as a row of tokens: numbers, words of the tables, and signs.
 *
 * Declarations and labels are read from the same tokens; what they make of them differs. Pure: a text in, tokens out.
 */
#ifndef TENTERBOOK_TOKEN_H
#define TENTERBOOK_TOKEN_H

#include "tenterbook/fibre.h"

enum tb_token_kind {
    TB_TOKEN_NUMBER,
    TB_TOKEN_WORD,    /* a word or phrase of the tables, or one that is in none */
    TB_TOKEN_MEASURE, /* a number with a unit that is no percentage: 150 gsm, 40s */
    TB_TOKEN_COMMA,   /* , ; + & newline, a dash between blanks: separates one statement from the next */
    TB_TOKEN_SLASH,
    TB_TOKEN_COLON,
    TB_TOKEN_DASH,
    TB_TOKEN_QUIET, /* brackets, quotation marks, points, the registered sign: no part of what a declaration says */
    TB_TOKEN_JUNK /* a sign without a meaning here, or a percent sign without its number */
};

struct tb_token {
    enum tb_token_kind kind;
    size_t at, len; /* bytes of the text */
    char sign;      /* of a sign: the plain form of its character, 'R' for the registered sign; else '\0' */
    /* a number or measure */
    double value;     /* NAN: malformed, as 1.2.3 or 1e300 */
    double unit;      /* what one step of its last decimal is worth */
    double tolerance; /* "80 +- 5": the 5; NAN: none said */
    double to;        /* upper end of a range; NAN: no range */
    bool percent;     /* % or a word for it stands with it */
    /* a word */
    int row;                /* first row of the table of names that counts for it; -1: none */
    enum tb_word_kind what; /* as the reader's own list has it, else as the row */
    int part;               /* of a word for a part: enum tb_part_kind; else -1 */
    size_t phrase, phrases; /* in the reader's own list: the first with this word, and how many */
    size_t word;            /* for a reader to note its own number of the word */
};

struct tb_tokens {
    struct tb_token *item;
    size_t n, cap;
};

/*
 * Words and phrases that a reader knows besides the table of names. Zeroed is empty; fill, sort, use, free.
 */
struct tb_phrase {
    char *folded;
    size_t row;             /* the reader's own number of it */
    enum tb_word_kind what; /* what it stands for when a text is cut into parts */
    int part;               /* of a word for a part: enum tb_part_kind; else -1 */
};
struct tb_phrases {
    struct tb_phrase *item; /* sorted by folded text, then by row */
    size_t n, cap;
    size_t longest; /* words in the longest of them */
};
/*
 * tb_phrases_add - add a word or phrase.
 *
 *   text     as a person writes it: case, accents, hyphens and points make no difference; copied
 *   row      the reader's own number of it, which is handed back in tb_token through the list
 *   what     what it stands for when a text is cut into parts
 *   part     enum tb_part_kind of a word for a part; else -1
 */
void tb_phrases_add(struct tb_phrases *list, const char *text, size_t row, enum tb_word_kind what, int part);
/* tb_phrases_sort - sort after the last one was added; a list that is not sorted finds nothing. */
void tb_phrases_sort(struct tb_phrases *list);
/* tb_phrases_free - free what the list holds and empty it. */
void tb_phrases_free(struct tb_phrases *list);

/* What a reader knows. Zeroed: all names of the table, and nothing besides. All pointers are borrowed. */
struct tb_vocabulary {
    const struct tb_phrases *phrases; /* NULL: none of its own */
    /* Is row `row` of the table of names a word to this reader, as `written` (len bytes)? NULL: each row is. */
    bool (*knows)(const void *who, size_t row, const char *written, size_t len);
    const void *who; /* handed to knows */
};

/*
 * tb_tokens_read - cut a text into tokens. The longest word or phrase that is known wins, whichever list has it.
 *
 *   out    filled; free with tb_tokens_free. Blanks are no tokens; the tokens are in the order of the text
 *   text   any bytes, n of them, borrowed for the call. Whatever they are, it succeeds
 *   v      what the reader knows; NULL: as zeroed
 */
void tb_tokens_read(struct tb_tokens *out, const char *text, size_t n, const struct tb_vocabulary *v);
/* tb_tokens_free - free the tokens and empty the list. */
void tb_tokens_free(struct tb_tokens *t);
/*
 * tb_token_next_row - another row of the table of names that counts for a word: another language, another law.
 *
 *   row      the row before; begin with t->row
 *   text, v  as they were when the token was read
 *   returns  the next row; -1 when there is no further one, or row is -1
 */
int tb_token_next_row(const struct tb_token *t, int row, const char *text, const struct tb_vocabulary *v);

/* Where the parts of the cloth lie in a text: "warp cotton, weft linen" or "cotton warp, linen weft". */
struct tb_cut_part {
    enum tb_part_kind kind; /* TB_PART_WHOLE where nothing names it */
    bool named;
    bool filled;    /* figures or fibres are in it */
    size_t at, len; /* bytes of the text that name it */
    size_t word;    /* tb_token.word of the first word of them */
};
struct tb_cut {
    struct tb_cut_part *part; /* in the order in which they begin; one may be empty */
    size_t n, cap;
    /* For each token the part it is in; TB_CUT_NAME when it names a part; TB_CUT_ASIDE when it is in no part, as a
     * quiet sign is, and "(pile 60 %, back 40 %)", which is said of the parts. */
    size_t *of;
};
#define TB_CUT_NAME ((size_t)-1)
#define TB_CUT_ASIDE ((size_t)-2)

/*
 * tb_tokens_cut - find where the parts lie. A word for a part stands before or after what the part is made of.
 *
 *   out      filled; free with tb_cut_free. A word that names a part and its fibre in one ("PU coating") is in its part
 *   t        borrowed for the call; their numbers are those of out->of
 *   source   docs/declarations.md
 */
void tb_tokens_cut(struct tb_cut *out, const struct tb_tokens *t);
/* tb_cut_free - free what it holds and empty it. */
void tb_cut_free(struct tb_cut *c);
/* tb_cut_names_both - is token i of t the word that names its part and its fibre in one? */
bool tb_cut_names_both(const struct tb_cut *c, const struct tb_tokens *t, size_t i);

#endif
