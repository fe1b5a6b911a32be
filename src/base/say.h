/* say.h - sentences for people, looked up in the message catalogue; the only place that defines these names. */
#ifndef TENTERBOOK_BASE_SAY_H
#define TENTERBOOK_BASE_SAY_H

#include <libintl.h>

#define TB_DOMAIN "tenterbook"

/* A sentence in the language of the reader; without a catalogue it is the sentence itself. */
#define _(sentence) dgettext(TB_DOMAIN, sentence)
/* One of two sentences, by how many; both may name the number. */
#define _n(one, many, n) dngettext(TB_DOMAIN, one, many, (unsigned long)(n))

/* Marks a sentence of a table for the catalogue; it is looked up where it is used, with _(). */
#define N_(sentence) sentence

#endif
