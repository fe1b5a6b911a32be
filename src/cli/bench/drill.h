/* drill.h - what the files of the command `drill` share: scores said in words. */
#ifndef TENTERBOOK_CLI_DRILL_H
#define TENTERBOOK_CLI_DRILL_H

#include "cli/show.h"

/* The page of the one tester of the scores, and all testers on one. */
void drill_say_tester(FILE *out, const struct tb_drill_scores *d);
void drill_say_all(FILE *out, const struct tb_drill_scores *d);

#endif
