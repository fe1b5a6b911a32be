/*
 * standing.h - what may become of a lot, as a closed set of words.
 */
#ifndef TENTERBOOK_STANDING_H
#define TENTERBOOK_STANDING_H

#include "tenterbook/words.h"

enum tb_standing_kind {
    TB_STANDING_NONE, /* "": not said; in a filter, any */
    TB_WAITING,       /* received, not decided */
    TB_HELD,          /* not to be cut, sold or sent until decided */
    TB_RELEASED,
    TB_RELABELLED,
    TB_RETURNED,
};
/* "", "waiting", "held", "released", "relabelled", "returned": what the book, JSON and sheets say. */
extern const struct tb_words tb_standing_words;
/* The word of one of them. Static text. */
const char *tb_standing_key(enum tb_standing_kind s);
/*
 * Who or what decided it. A decision of the program has a reason of its own words, which the book keeps;
 * whatever else stands there is the reason of a person.
 */
enum tb_decided_by {
    TB_DECIDED_BY_PERSON,
    TB_DECIDED_BY_VERDICT,      /* held: a verdict contradicts the declaration */
    TB_DECIDED_BY_LABORATORY,   /* held: a laboratory found that it does not conform */
    TB_DECIDED_BY_LIFTING,      /* that result counts no more */
    TB_DECIDED_BY_DISPUTE,      /* held: a dispute was opened */
    TB_DECIDED_BY_OPEN_DISPUTE, /* held on, since a dispute is open */
    TB_DECIDERS
};
/* The reason the book keeps of a decision of the program, English, to be translated where it is shown. Static; NULL: a person's. */
const char *tb_decision_why(enum tb_decided_by by);
/* Whose reason this is. Older programs wrote the evidence ratio behind that of a verdict. */
enum tb_decided_by tb_decided_by(const char *why);

#endif
