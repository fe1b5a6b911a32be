/*
 * verdict.h - what a burn says of the words of a lot, as a closed set of words. How it comes about is in evidence.h.
 */
#ifndef TENTERBOOK_VERDICT_H
#define TENTERBOOK_VERDICT_H

#include "tenterbook/words.h"

enum tb_verdict_kind {
    TB_UNJUDGED, /* "": there is no verdict */
    TB_FITS,     /* burning found nothing against the words; it never confirms them */
    TB_CONTRADICTS,
    TB_UNDECIDED,
};
#define TB_VERDICT_KINDS (TB_UNDECIDED + 1)
/* "", "fits", "contradicts", "undecided": what the book, JSON and sheets say. */
extern const struct tb_words tb_verdict_words;
/* The word of one of them. Static text. */
const char *tb_verdict_key(enum tb_verdict_kind kind);

#endif
