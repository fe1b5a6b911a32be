/*
 * seen_words.h - what is seen at burns and tests, and what it is looked for with, in the language of a paper. Pure.
 *
 * Books and cases keep cues and channels by their names; one that this program does not know stays a name.
 */
#ifndef TENTERBOOK_SEEN_WORDS_H
#define TENTERBOOK_SEEN_WORDS_H

#include "tenterbook/evidence.h"
#include "tenterbook/tongue.h"

/* tb_cue_in - the meaning of "smoke:black": "black smoke". Static text, or the name. */
const char *tb_cue_in(enum tb_tongue tongue, const char *key);
/* tb_channel_in - "the smoke"; of a bench test, with or without "bench:" before it, "a drop of acetone". Static text, or the name. */
const char *tb_channel_in(enum tb_tongue tongue, const char *key);
/* tb_channels_in - add those of names with blanks between them: "the flame, the smoke". */
void tb_channels_in(struct tb_text *out, enum tb_tongue tongue, const char *keys);
/* tb_results_in - add the results of a bench test as it is recorded: "smooth even rod; overlapping scales". */
void tb_results_in(struct tb_text *out, enum tb_tongue tongue, const char *test, const char *results);

#endif
