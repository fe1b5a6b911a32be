/* declare.h - inside the module: what is asked of words before they count for a lot. */
#ifndef TENTERBOOK_WORK_DECLARE_H
#define TENTERBOOK_WORK_DECLARE_H

#include "tenterbook/base.h"

/*
 * tb_words_check - that at least one fibre can be read in the words: with others nothing can be weighed, worded or
 * compared any more.
 *   way    the field with which they are recorded all the same: "why", "anyway" (tb_about)
 *   fails  TB_EINVAL, with the first doubt
 */
tb_rc tb_words_check(const char *text, const char *way, struct tb_err *err);

#endif
