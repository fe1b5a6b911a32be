/*
 * phrases.h - looking up a reader's own words while its text is cut into tokens.
 */
#ifndef TENTERBOOK_FIBRE_PHRASES_H
#define TENTERBOOK_FIBRE_PHRASES_H

#include "tenterbook/token.h"

/* How many phrases of a sorted list are exactly the n bytes at `folded`; *first is where the first of them is. */
size_t tb_phrases_find(const struct tb_phrases *list, const char *folded, size_t n, size_t *first);

#endif
