/* typed.h - what a person types at a terminal while a command runs. */
#ifndef TENTERBOOK_TERMINAL_TYPED_H
#define TENTERBOOK_TERMINAL_TYPED_H

#include "terminal/keys.h"

#include <stdbool.h>
#include <stdio.h>

/* Whether somebody sits there: both what is read and what is written are a terminal. */
bool tb_at_terminal(void);
/*
 * tb_typed - a line, without its end; NULL: there is no more. Yours to free.
 *   asked  the stream the question was written to: all of it is shown before anything is read
 */
char *tb_typed(FILE *asked);
/*
 * tb_typed_line_end - begin with the keys behind a line: of a scanner that ends a tag with two bytes the second is passed over. What
 * was typed since is kept in k.
 */
void tb_typed_line_end(struct tb_keys *k);
/*
 * tb_typed_key - a key of a terminal that gives keys (quiet.h); TB_KEY_GONE: there is no more.
 *   asked  as above
 *   k      what came with the key before; all zero before the first
 */
int tb_typed_key(FILE *asked, struct tb_keys *k);

#endif
