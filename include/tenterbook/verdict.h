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

/*
 * How strong a verdict is, from the ratio that the model's validation carries (docs/method.md, section 7). Only
 * TB_GRADE_CONTRADICTS holds a lot.
 */
enum tb_grade {
    TB_UNGRADED, /* "": there is no verdict, or it was stored before there were grades */
    TB_GRADE_FITS,
    TB_GRADE_UNDECIDED,
    TB_GRADE_SPEAKS_AGAINST, /* asks for a test; to the book it is undecided */
    TB_GRADE_CONTRADICTS,
};
#define TB_GRADES (TB_GRADE_CONTRADICTS + 1)
/* "", "fits", "undecided", "speaks against", "contradicts". */
extern const struct tb_words tb_grade_words;
/* The verdict of a grade. */
enum tb_verdict_kind tb_verdict_of_grade(enum tb_grade grade);
/* "", "fits", "contradicts", "undecided": what the book, JSON and sheets say. */
extern const struct tb_words tb_verdict_words;
/* The word of one of them. Static text. */
const char *tb_verdict_key(enum tb_verdict_kind kind);

#endif
