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
/* The reason of a hold that a verdict made, as the book keeps it. */
#define TB_HELD_BY_ITSELF TR_("held by itself: what was seen contradicts the declaration")
/* And of one that a dispute made, or that goes on for it. */
#define TB_HELD_BY_DISPUTE "a dispute was opened"
#define TB_HELD_FOR_DISPUTE "a dispute about it is open"
/* Of one that a laboratory's result made, and of what ends it. */
#define TB_HELD_BY_LABORATORY TR_("held by itself: a laboratory found that it does not conform")
#define TB_HOLD_ENDED TR_("the laboratory's result that held it does not count any more")

#endif
