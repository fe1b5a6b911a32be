/* pass.h - asking for pass phrases of signing keys. */
#ifndef TENTERBOOK_TERMINAL_PASS_H
#define TENTERBOOK_TERMINAL_PASS_H

#include "base/say.h"
#include "tenterbook/base.h"

#include <stdio.h>

/* A line from the file descriptor TENTERBOOK_PASS_FD, or typed at the terminal. False: nobody gave one, or a longer one. */
bool tb_pass_ask(void *arg, char *out, size_t size, const char *file);
/* The same for a key that is being made. */
bool tb_pass_new(char *out, size_t size, const char *file);

#endif
