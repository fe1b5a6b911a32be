/* typed.h - what a person types at a terminal while a command runs. */
#ifndef TENTERBOOK_TERMINAL_TYPED_H
#define TENTERBOOK_TERMINAL_TYPED_H

#include <stdbool.h>

/* Whether somebody sits there: both what is read and what is written are a terminal. */
bool tb_at_terminal(void);
/* tb_typed - a line, without its end; NULL: there is no more. Yours to free. */
char *tb_typed(void);
/* One byte, of a terminal that gives keys (quiet.h); -1: there is no more. */
int tb_typed_key(void);

#endif
