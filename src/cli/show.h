/* show.h - what every command needs to answer, and the sentences several of them share. */
#ifndef TENTERBOOK_CLI_SHOW_H
#define TENTERBOOK_CLI_SHOW_H

#include "line/print.h"
#include "tenterbook/table.h"
#include "tenterbook/tell.h"

/* One or two lines: the verdict, its ratio in words, the coverage, and a hold. */
void tb_rejudged_words(struct tb_text *out, const struct tb_rejudged *r);
/* What became of a hold whose verdict does not count any more. */
void tb_lifted_words(struct tb_text *out, const struct tb_rejudged *r);
/* The same after a correction, and of a person's decision that may rest on what was corrected. */
void tb_corrected_words(struct tb_text *out, const struct tb_rejudged *r);
/* Of a lot under a label of ours, in two lines: what the supplier declared, and what is concluded of that; else nothing. */
void tb_their_words(struct tb_text *out, const struct tb_rejudged *r);
/* A lot after something of it was voided: what it comes to by what is left, and its hold. */
void tb_void_lot_words(struct tb_text *out, const struct tb_void_lot *l);
/* What became of the lot by its verdict, in a line: held, held again, or left as a person settled it; else nothing. */
void tb_hold_words(struct tb_text *out, const struct tb_rejudged *r);
/* tb_opt_photos - the files of --photo, read; one more than the book keeps with a record is read too, for the act to refuse them. */
struct tb_attachment;
tb_rc tb_opt_photos(const struct tb_attachment **out, size_t *n, struct tb_ctx *ctx, struct tb_err *err);
/* "70x37" into two numbers of millimetres; untouched when the option was not given. A misuse where it is no pair. */
tb_rc tb_opt_pair(double *a, double *b, const struct tb_ctx *ctx, const char *option, struct tb_err *err);

#endif
