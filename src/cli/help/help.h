/* help.h - the table of commands, and what is printed of it. */
#ifndef TENTERBOOK_CLI_HELP_H
#define TENTERBOOK_CLI_HELP_H

#include "line/cmd.h"

extern const struct tb_cmd *const tb_commands[]; /* sorted by name, ends with NULL */
/* The command of this name; NULL when there is none. */
const struct tb_cmd *tb_cmd_find(const char *name);
/* What --help prints of one command. */
void tb_help_command(FILE *out, const struct tb_cmd *cmd);
/* The list of all of them. */
void tb_help_all(FILE *out);
/* The version; with `all` the libraries it runs on as well. */
void tb_version_say(FILE *out, bool all);
/* The manual page, in roff. */
void tb_help_man(FILE *out);

#endif
