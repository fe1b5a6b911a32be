/* drill.h - what the files of the command `drill` share: scores said in words and in JSON. */
#ifndef TENTERBOOK_CLI_DRILL_H
#define TENTERBOOK_CLI_DRILL_H

#include "cli/show.h"
#include "tenterbook/act_drill.h"

/* The page of the one tester of the scores, and all testers on one. */
void drill_say_tester(FILE *out, const struct tb_drill_scores *d);
void drill_say_all(FILE *out, const struct tb_drill_scores *d);
/* What to practise: calls `say` with each sentence, which holds for the call. */
void drill_practise(const struct tb_drill_tester *t, void (*say)(void *arg, const char *sentence), void *arg);

json_t *drill_tester_json(const struct tb_drill_scores *d, const struct tb_drill_tester *t);
json_t *drill_all_json(const struct tb_drill_scores *d);

#endif
