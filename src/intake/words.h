/* words.h - inside the packing-list reader: what a header word may mean, and the form in which words are compared. */
#ifndef TENTERBOOK_INTAKE_WORDS_H
#define TENTERBOOK_INTAKE_WORDS_H

#include "tenterbook/intake.h"

#include <stdint.h>

/* One reading of a header text. */
struct tb_word_hit {
    enum tb_field field;
    enum tb_unit unit; /* the word itself says it: "Yards" */
    bool weak;         /* gives way to a stronger word: "Qty" beside "Metres" */
    bool site;         /* from the site's own list or --map: wins outright */
};
#define TB_HITS_MOST 6

/* The words of the reference table, and n of the site's own, of which the last of equals counts. */
struct tb_header_words;
/* Free with tb_header_words_free, which accepts NULL. */
struct tb_header_words *tb_header_words_new(const struct tb_header_word *site, size_t n);
/* NULL is accepted. */
void tb_header_words_free(struct tb_header_words *w);
/*
 * tb_header_words_find - the readings of a header text; returns how many, 0 when it is not a header word. Units in
 * brackets or at the end are taken off and given in the hits.
 */
size_t tb_header_words_find(const struct tb_header_words *w, const char *text,
                            struct tb_word_hit hit[TB_HITS_MOST]);
/* The one unit of lengths that a text names among its words ("Yards Shipped", "TOTAL YDS"); NONE: none, or several. */
enum tb_unit tb_header_words_unit(const char *text);
/* The same for n bytes of text, without looking for units or for a second language. */
size_t tb_header_words_exact(const struct tb_header_words *w, const char *text, size_t n,
                             struct tb_word_hit hit[TB_HITS_MOST]);
/*
 * words_hint.c: bit per enum tb_field that any of the words of a text may mean, also as the end of a longer one ("Fertiglänge"): what
 * a header speaks of that is not known as a whole. It makes an answer likely, and never settles anything.
 */
uint64_t tb_header_words_hint(const struct tb_header_words *w, const char *text);
/* Did a person say what this header means, for this list or for the site? */
bool tb_header_words_said(const struct tb_header_words *w, const char *text);
/* Does a header count or measure what no length is counted in: "Length (cm)", "Qty (pcs)"? *n bytes at *at say it. */
bool tb_header_words_no_length(const struct tb_header_words *w, const char *text, size_t *at, size_t *n);
/* Centimetres or inches among the words of a header; NONE: neither, or both. */
enum tb_unit tb_header_words_width(const char *text);
/* The unit of a mass per area or along the length in brackets or at the end of a header ("Hmotnost (g/m2)"); NONE: there is none. */
enum tb_unit tb_header_words_mass(const char *text);
/*
 * words_price.c: the readings of a header that is a price for a unit, whatever words and signs say it: "price per kg", "Preis je m",
 * "EUR/kg"; as tb_header_words_find, of which it is a part.
 */
size_t tb_header_words_price(const struct tb_header_words *w, const char *text,
                             struct tb_word_hit hit[TB_HITS_MOST]);
/* What n bytes of a cell say a price is for ("USD/yd", "EUR per kg"); NONE: they do not say it, or say two. */
enum tb_unit tb_price_words_unit(const char *text, size_t n);
/* Is it a word for "number" alone: "No.", "Nr", "#"? */
bool tb_header_word_is_number(const char *text);
enum tb_total_word {
    TB_TOTAL_NOT,
    TB_TOTAL_IN,   /* among other words: "Summe Partie 4", "A100 Total", and "Total Eclipse" as well */
    TB_TOTAL_ALONE /* nothing else but figures and signs: "Grand total:", "Total 4" */
};
/* Does it hold a word for a total? */
enum tb_total_word tb_header_word_total(const struct tb_header_words *w, const char *text);

/* ---- the form in which words are compared (key.c) --------------------------------------------------------- */

#define TB_HEADER_KEY_MOST 96 /* bytes, the NUL included */

/*
 * tb_header_key - n bytes of text folded, punctuation dropped, the dotless i made plain, spaces around a slash dropped,
 * and every word for "number" left out and remembered as a final '#'. False when nothing is left or it is too long.
 */
bool tb_header_key(char key[TB_HEADER_KEY_MOST], const char *text, size_t n);
/* German umlauts written out become plain, in place: "laenge" is "lange", as folding makes of "Länge". */
void tb_header_key_plain(char *key);
/* With the word for "number" where it had none, or without it: "Bolt" is "Bolt no.". */
void tb_header_key_flip(char *key);

#endif
