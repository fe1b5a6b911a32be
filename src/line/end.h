/* end.h - the streams of a run: made ready before anything is opened, closed and answered for at its end. */
#ifndef TENTERBOOK_LINE_END_H
#define TENTERBOOK_LINE_END_H

#include "line/cmd.h"

/* Standard streams that are closed are opened to nowhere; a reader that goes away is a failure like any other. */
void tb_streams_ready(void);
/*
 * Close the output and say what failed, on standard error. The answer is the exit code: 0 done; 1 refused or failed; 2 a
 * misuse; 3 done, but what came after it failed. Ends with SIGPIPE where nothing was done and the reader has gone.
 */
int tb_end(struct tb_ctx *ctx, tb_rc rc, FILE *screen, struct tb_err *err);

/* From here on a run that finds no memory says what it has recorded, and ends with 3 then, otherwise with 1. */
void tb_end_without_memory(const struct tb_ctx *ctx);
/* All is said, and only clearing up is left, here and in libraries at exit: whoever lacks memory for that ends with this code. */
void tb_end_told(int code);

#endif
