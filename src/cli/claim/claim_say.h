/* claim_say.h - the clock of a lot and its disputes in lines of text, for the commands that show them. */
#ifndef TENTERBOOK_CLI_CLAIM_SAY_H
#define TENTERBOOK_CLI_CLAIM_SAY_H

#include "cli/show.h"

/* Several lines: by when notice is due and who says so, and what has been cut into. */
void tb_print_claim(FILE *out, const struct tb_claim *c, const struct tb_lot *lot);
/* Every dispute with its steps. */
void tb_print_disputes(FILE *out, const struct tb_claim *c);
/* Who holds which swatches of a joint sample. */
void tb_print_joint(FILE *out, const struct tb_joint_sample *j);

/* "Information, not legal advice: ..." */
void tb_print_no_advice(FILE *out);

#endif
