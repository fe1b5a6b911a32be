/* claim_say.h - the clock of a lot and its disputes in words and as JSON, for the commands that show them. */
#ifndef TENTERBOOK_CLI_CLAIM_SAY_H
#define TENTERBOOK_CLI_CLAIM_SAY_H

#include "cli/show.h"
#include "tenterbook/lot_claim.h"

/* "in 8 days", "today", "4 days ago". */
void tb_days_words(struct tb_text *out, long left);
/* "Tuesday 2026-10-13". */
void tb_day_words(struct tb_text *out, const char *day);
const char *tb_claim_state_words(enum tb_claim_state s);
/* One line of the terms in force or on offer: "8 days from arrival, 8 days from discovery". */
void tb_term_words(struct tb_text *out, const struct tb_claim_term *t);

/* Several lines: by when notice is due and who says so, and what has been cut into. */
void tb_print_claim(FILE *out, const struct tb_claim *c, const struct tb_lot *lot);
/* Every dispute with its steps. */
void tb_print_disputes(FILE *out, const struct tb_claim *c);
/* Who holds which swatches of a joint sample. */
void tb_print_joint(FILE *out, const struct tb_joint_sample *j);

/* claim_json.c; all new references */
json_t *tb_json_claim(const struct tb_claim *c);
json_t *tb_json_claim_open(const struct tb_claim_open *o);
json_t *tb_json_joint(const struct tb_joint_sample *j);
/* "Information, not legal advice: ..." */
void tb_print_no_advice(FILE *out);

#endif
