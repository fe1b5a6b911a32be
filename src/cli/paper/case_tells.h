/* case_tells.h - what a case gives away, told before it is written. */
#ifndef TENTERBOOK_CLI_PAPER_CASE_TELLS_H
#define TENTERBOOK_CLI_PAPER_CASE_TELLS_H

#include "tenterbook/case.h"

/* In words, with the option that keeps some of it back; what nobody typed or recorded is not mentioned. */
void tb_case_tells_words(struct tb_text *out, const struct tb_case_tells *t, const char *lot);
json_t *tb_json_case_tells(const struct tb_case_tells *t);

#endif
