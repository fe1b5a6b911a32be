/*
 * tongue.h - the languages papers are written in: their sentences, dates and figures. A paper has the language of whoever gets
 * it, whatever that of the person at the program, its locale or its environment. Pure; nothing fails or allocates but what
 * adds to a text.
 *
 * A sentence of a paper is looked up with tb_tr and tb_trn, or marked with TR_ in a table, and by nothing else: that is how the
 * catalogues of src/text/po know it from those of the terminal (docs/architecture.md, "Papers in a language"). What a paper and
 * the terminal both say is written by one function, which is told the language; the terminal gives TB_READER.
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
    TB_TONGUES,
    TB_READER =
        TB_TONGUES /* no paper, but the person at the terminal: the language of the process, by gettext */
};
/* "en", "de", "es" ...: ISO 639-1, what the book, options and JSON say. */
extern const struct tb_words tb_tongue_words;
/* tb_tongue_of - by its word; English for "" and for any other word. */
enum tb_tongue tb_tongue_of(const char *word);

/* Is it English, on a paper, or that of the person at the terminal: figures, days and kept sentences stay as they are then. */
bool tb_tongue_as_kept(enum tb_tongue tongue);

/* tb_tr - a sentence in a language; the sentence itself where there is no other. Static text. */
const char *tb_tr(enum tb_tongue tongue, const char *sentence) __attribute__((format_arg(2)));
/* tb_trn - one of two sentences by how many, or of as many as the language has for it. Static text. */
const char *tb_trn(enum tb_tongue tongue, const char *one, const char *many, unsigned long n)
    __attribute__((format_arg(2), format_arg(3)));
/* tb_sentence_in - add a sentence behind those that stand there, as far from them as the language has it. */
void tb_sentence_in(struct tb_text *out, enum tb_tongue tongue, const char *sentence);
/* Marks a sentence of a table, which is looked up where it is used. */
#define TR_(sentence) sentence
/*
 * tb_tr_told - add what a book or a case keeps as English sentences (the notes of a verdict, the rule it was made by), in a language.
 * Each is found in the catalogue by the format that it was made with; names, words and figures in it are put in their places.
 *
 *   result  false: no format of the catalogue makes it, an older program may have; then it is added as it was kept
 */
bool tb_tr_told(struct tb_text *out, enum tb_tongue tongue, const char *told);

/* tb_tongue_figure - add a number with so many places, as the language writes it: "1.773,00". NAN adds "-". */
void tb_tongue_figure(struct tb_text *out, enum tb_tongue tongue, double value, int places);
/* tb_tongue_point - a figure as C writes it, "0.5", given the decimal sign of the language in its place. */
void tb_tongue_point(char *figure, enum tb_tongue tongue);
#define TB_PLAIN 48
/*
 * tb_tongue_plain, tb_tongue_date - a number with so many places, and the day of a day or moment, as a paper has them that is English in
 * the first place: there as lists and records write them ("1773.00", "2026-10-05"), so at the terminal; in any other language as
 * tb_tongue_figure and tb_tongue_day. NAN is "-". Both return out.
 */
const char *tb_tongue_plain(char out[TB_PLAIN], enum tb_tongue tongue, double value, int places);
const char *tb_tongue_date(char out[TB_PLAIN], enum tb_tongue tongue, const char *moment);
/* tb_tongue_day - add a day (YYYY-MM-DD, valid) in words: "5. Oktober 2026". */
void tb_tongue_day(struct tb_text *out, enum tb_tongue tongue, const char *day);

#endif
