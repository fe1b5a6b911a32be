/* conclude.h - inside the evidence module: the sentences that say what a verdict is. */
#ifndef TENTERBOOK_EVIDENCE_CONCLUDE_H
#define TENTERBOOK_EVIDENCE_CONCLUDE_H

#include "tenterbook/evidence.h"

/* The verdict, what it means where the base rate is known, and what it asks for; a sentence a line. */
void tb_verdict_conclude(struct tb_text *out, const struct tb_verdict *v);

#endif
