/*
 * holder.h - who holds a piece of a joint sample, as a closed set of words.
 */
#ifndef TENTERBOOK_HOLDER_H
#define TENTERBOOK_HOLDER_H

#include "tenterbook/words.h"

enum tb_holder_kind {
    TB_HOLDER_NONE, /* "": not dealt yet */
    TB_HOLDER_SUPPLIER,
    TB_HOLDER_LABORATORY,
    TB_HOLDER_OWN,
};
/* "", "supplier", "laboratory", "own": what the book and JSON say, and the labels of a deal. */
extern const struct tb_words tb_holder_words;

#endif
