/* quiet.h - a terminal that does not show what is typed, for as long as somebody is asked; a signal puts it right first. */
#ifndef TENTERBOOK_TERMINAL_QUIET_H
#define TENTERBOOK_TERMINAL_QUIET_H

#include "tenterbook/base.h"

enum tb_quiet_how {
    TB_QUIET_LINES, /* lines, as a terminal gives them; what was typed before nobody meant for this question */
    TB_QUIET_KEYS   /* each key as it is pressed, those pressed before the screen was there too */
};
/* False: it is no terminal. One at a time. */
bool tb_quiet_begin(int fd, enum tb_quiet_how how);
/* The terminal is as it was. */
void tb_quiet_end(void);

#endif
