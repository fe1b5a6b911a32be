/* print.h - how a command answers: words for a person, or JSON for a program. */
#ifndef TENTERBOOK_LINE_PRINT_H
#define TENTERBOOK_LINE_PRINT_H

#include "line/cmd.h"
#include "tenterbook/evidence.h"

#include <jansson.h>

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

#endif
