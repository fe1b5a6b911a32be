/*
 * journal_words.h - the words of a journal row: what was done, as a closed set, and which lot a subject names.
 *
 * Books hold both for good, and what people do at the same time rests on them: a plan is made afresh only where a row
 * that came meanwhile bears on it.
 */
#ifndef TENTERBOOK_JOURNAL_WORDS_H
#define TENTERBOOK_JOURNAL_WORDS_H

#include "tenterbook/words.h"

/* What a journal row says was done. Rows of a later program may have another word, which is in no set. */
enum tb_verb {
    TB_VERB_NONE,
    TB_VERB_AMEND,
    TB_VERB_ASSAY,
    TB_VERB_BURN,
    TB_VERB_CUT,
    TB_VERB_DECLARE,
    TB_VERB_DISPUTE,
    TB_VERB_DRAW,
    TB_VERB_DRILL,
    TB_VERB_JUDGE,
    TB_VERB_MOVE, /* a burn, to another swatch */
    TB_VERB_NEW,
    TB_VERB_RECEIVE,
    TB_VERB_RECORD, /* a supplier is let in again */
    TB_VERB_SEND,   /* a sample of a lot, to a laboratory */
    TB_VERB_SET,
    TB_VERB_SETTLE,
    TB_VERB_SHARE,
    TB_VERB_TERMS,
    TB_VERB_TRY,
    TB_VERB_USE,
    TB_VERB_VOID,
    TB_VERB_ADDRESS,
    TB_VERBS
};
extern const struct tb_words tb_verb_words;
/* The verb of a word, TB_VERB_NONE where the set has no such word. */
enum tb_verb tb_verb_of(const char *word);

/*
 * tb_subject_lot - how far the reference of a lot goes in the subject of a journal row: 10 bytes in "W26-014.02" and in the tag
 * of a swatch of it, "W26-014.02.03"; 0 where the subject is anything else, such as the name of a file that begins so.
 */
size_t tb_subject_lot(const char *subject);
/* tb_subject_is_lot - is a journal row with this subject about the lot, or about a swatch of it? */
bool tb_subject_is_lot(const char *subject, const char *lot_ref);

#endif
