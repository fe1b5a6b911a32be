/* typed.h - what a person types at a terminal while a command runs. */
#ifndef TENTERBOOK_TERMINAL_TYPED_H
#define TENTERBOOK_TERMINAL_TYPED_H

/* tb_typed - a line, without its end; NULL: there is no more. Yours to free. */
char *tb_typed(void);

#endif
