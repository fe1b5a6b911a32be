/*
 * tongue.h - the languages papers are written in: a paper has the language of whoever gets it, whatever that of the person at
 * the program. Pure.
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
    TB_PORTUGUESE,
    TB_TURKISH,
    TB_CHINESE,
    TB_TONGUES
};
/* "en", "de", "es" ...: ISO 639-1, what the book, options and JSON say. */
extern const struct tb_words tb_tongue_words;

#endif
