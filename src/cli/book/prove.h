/* prove.h - what the two halves of `prove` share: a book, and a case file. */
#ifndef TENTERBOOK_CLI_PROVE_H
#define TENTERBOOK_CLI_PROVE_H

#include "cli/show.h"
#include "tenterbook/anchor.h"

/* Prove a book; TB_EFORMAT with the first thing that does not fit, when *out is filled all the same. */
tb_rc tb_prove_a_book(struct tb_proof *out, struct tb_book *b, const struct tb_held *held,
                      struct tb_err *err);
/* prove --case FILE [--against BOOK] */
tb_rc tb_prove_a_case(struct tb_ctx *ctx, const char *path, const struct tb_held *held, struct tb_err *err);
/* The rows that were noted, as a member "held_since" of the JSON. */
void tb_json_held(json_t *j, const struct tb_held *held);

#endif
