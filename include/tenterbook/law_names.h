/*
 * law_names.h - what a label may be called in a language nobody here has read the law in: the names of fibres and the
 * words of a label, out of a saved copy of Regulation (EU) 1007/2011 in that language.
 *
 * The rows of Annex I are found by their numbers, which are the same in every language; the words of the articles stand in
 * quotation marks, in the same order in every language. Whoever takes the words over reads them first, beside those that
 * were held from memory. Pure: bytes in, words out. Information, not legal advice.
 */
#ifndef TENTERBOOK_LAW_NAMES_H
#define TENTERBOOK_LAW_NAMES_H

#include "tenterbook/law.h"

#define TB_LAW_COPY_MOST (16u << 20) /* bytes of a copy */
#define TB_LAW_TEXT_MOST 400         /* bytes of one cell or quotation */
#define TB_LAW_SEEN_MOST 200         /* cells and quotations of one copy */

/* A cell of Annex I, or what an article has between quotation marks. */
struct tb_law_seen {
    bool quoted;      /* of an article, not of the annex */
    int number;       /* of the row, or of the article: 1 to 99 */
    int place;        /* of a quotation in its article, from 1; 0: a cell */
    const char *text; /* UTF-8, at most TB_LAW_TEXT_MOST bytes, without line breaks */
};
struct tb_law_copy {
    struct tb_law_seen *seen; /* in the order of the copy, at most TB_LAW_SEEN_MOST */
    size_t n, cap;
    struct tb_arena mem; /* their text */
};
/*
 * tb_law_copy_read - find them in the bytes of a saved page (HTML) or text, which may be anything at all.
 *   out    free with tb_law_copy_free
 */
void tb_law_copy_read(struct tb_law_copy *out, const char *bytes, size_t n);
void tb_law_copy_add(struct tb_law_copy *copy, const struct tb_law_seen *one);
void tb_law_copy_free(struct tb_law_copy *copy);

/* A word that may be taken over. */
struct tb_law_word {
    const char *key;    /* of a fibre, or of a phrase: "other_fibres"; static */
    bool phrase;        /* of an article, not of the annex */
    int number;         /* of the row or the article */
    const char *text;   /* as the copy has it; in mem */
    const char *held;   /* what was held until now; "" nothing; static */
    const char *status; /* of that: "seen", "memory", ...; "" nothing is held; static */
    const char *
        other; /* key of another fibre that has this very word, in the copy or in the tables; NULL none; static */
    bool other_seen; /* in the tables, from a text that was seen: one of the two is wrong here */
};
/*
 * tb_law_copy_words - what the copy says, by fibre and phrase. Rows whose cell is no plain name (3: the kinds of animal, 48:
 * any material) are passed over.
 *
 *   out    in mem
 *   fails  TB_ENOTFOUND no such market; TB_EINVAL its names are not held by rows of an annex, or it has no such language;
 *          TB_EFORMAT the copy has no Annex I: rows 1 to 18 do not follow each other
 */
tb_rc tb_law_copy_words(struct tb_law_word **out, size_t *n, const struct tb_law_copy *copy,
                        const char *market, const char *lang, struct tb_arena *mem, struct tb_err *err);

/*
 * tb_law_copy_missing - numbers of the rows that have a name of a fibre in every language, and none in these words.
 *   row     room for TB_LAW_ROWS_MOST
 */
#define TB_LAW_ROWS_MOST 99
size_t tb_law_copy_missing(int row[TB_LAW_ROWS_MOST], const struct tb_law_word *word, size_t n,
                           const char *market);

/* --- kept -------------------------------------------------------------------------------------------------------- */

/* A word that a person took over; borrowed for the call. */
struct tb_law_kept {
    const char *market, *lang; /* keys */
    const char *key;           /* of a fibre or a phrase */
    const char *text;
};
/*
 * tb_law_new_with - tb_law_new, with words that were taken over: they are printed before those of the tables, count as
 * seen, and are read as names. A key that is not known is passed over.
 */
struct tb_law *tb_law_new_with(const struct tb_law_kept *kept, size_t n);

#endif
