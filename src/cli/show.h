/* show.h - how commands print: JSON through jansson, tables in columns, and the pieces several of them share. */
#ifndef TENTERBOOK_CLI_SHOW_H
#define TENTERBOOK_CLI_SHOW_H

#include "cli/cmd.h"
#include "tenterbook/table.h"
#include "tenterbook/tell.h"

/* Print and release. */
tb_rc tb_print_json(struct tb_ctx *ctx, json_t *json, struct tb_err *err);
/* An answer: the JSON for programs where it was asked for, else the words for a person. Releases both. */
tb_rc tb_print(struct tb_ctx *ctx, json_t *json, struct tb_text *words, struct tb_err *err);
/* Print and release. */
void tb_print_words(struct tb_ctx *ctx, struct tb_text *words);

/* --saw, --not, --looked and --could-not. Fails as tb_observation_read and tb_observation_could_not. */
tb_rc tb_opt_seen(struct tb_observation *seen, struct tb_ctx *ctx);

/* Two files of one name belong together in whatever folder they land: the path with another ending, in ctx->mem. */
const char *tb_file_twin(struct tb_ctx *ctx, const char *path, const char *ending);
/* One or two lines: the verdict, its ratio in words, the coverage, and a hold. */
void tb_rejudged_words(struct tb_text *out, const struct tb_rejudged *r);
/* A lot after something of it was voided: what it comes to by what is left, and its hold. */
void tb_void_lot_words(struct tb_text *out, const struct tb_void_lot *l);
/* What became of the lot by its verdict, in a line: held, held again, or left as a person settled it; else nothing. */
void tb_hold_words(struct tb_text *out, const struct tb_rejudged *r);

#endif
