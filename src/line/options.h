/* options.h - the words behind the name of a command, taken apart before it runs. */
#ifndef TENTERBOOK_LINE_OPTIONS_H
#define TENTERBOOK_LINE_OPTIONS_H

#include "line/cmd.h"

/*
 * Where the command stands in argv, argc if nowhere; `about`: the place of a --help or --version before it, 0: none.
 *   fails  TB_EUSAGE: what stands there is not for every command
 */
tb_rc tb_options_before(int *at, int *about, int argc, char **argv, struct tb_err *err);
/*
 * tb_options_read - argv[0] is the command, which ctx names already; fills in book_path, who, json, far_off, given, argc and argv.
 *   fails  TB_EUSAGE: an option that the command has not, one without its value, one given twice that takes one value
 */
tb_rc tb_options_read(struct tb_ctx *ctx, int argc, char **argv, bool *help, struct tb_err *err);
/* Whether words may be recorded; `what` names them in the sentence that says why not. TB_EUSAGE. */
tb_rc tb_option_words(const char *what, const char *words, struct tb_err *err);

#endif
