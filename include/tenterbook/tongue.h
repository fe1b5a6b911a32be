/*
 * tongue.h - the languages papers are written in: their sentences, dates and figures. A paper has the language of whoever gets
 * it, whatever that of the person at the program, its locale or its environment. Pure; nothing fails or allocates but what
 * adds to a text.
 *
 * A sentence of a paper is looked up with tb_tr and tb_trn, or marked with TR_ in a table, and by nothing else: that is how the
 * catalogues of src/text/po know it from those of the terminal (docs/architecture.md, "Papers in a language").
 */
#ifndef TENTERBOOK_TONGUE_H
#define TENTERBOOK_TONGUE_H

#include "tenterbook/words.h"

/* English first: its sentences stand in the program. */
enum tb_tongue {
    TB_ENGLISH,
    TB_GERMAN,
    TB_SPANISH,
    TB_FRENCH,
    TB_ITALIAN,
    TB_POLISH,
    TB_PORTUGUESE, /* as written in Portugal */
    TB_TURKISH,
    TB_CHINESE, /* simplified */
    TB_TONGUES
};
/* "en", "de", "es" ...: ISO 639-1, what the book, options and JSON say. */
extern const struct tb_words tb_tongue_words;
/* tb_tongue_of - by its word; English for "" and for any other word. */
enum tb_tongue tb_tongue_of(const char *word);

/* tb_tr - a sentence in a language; the sentence itself where there is no other. Static text. */
const char *tb_tr(enum tb_tongue tongue, const char *sentence) __attribute__((format_arg(2)));
/* tb_trn - one of two sentences by how many, or of as many as the language has for it. Static text. */
const char *tb_trn(enum tb_tongue tongue, const char *one, const char *many, unsigned long n)
    __attribute__((format_arg(2), format_arg(3)));
/* Marks a sentence of a table, which is looked up where it is used. */
#define TR_(sentence) sentence

/* tb_tongue_figure - add a number with so many places, as the language writes it: "1.773,00". NAN adds "-". */
void tb_tongue_figure(struct tb_text *out, enum tb_tongue tongue, double value, int places);
/* tb_tongue_day - add a day (YYYY-MM-DD, valid) in words: "5. Oktober 2026". */
void tb_tongue_day(struct tb_text *out, enum tb_tongue tongue, const char *day);

#endif
