/* How suppliers' lots turned out. */
#include "book/stmt.h"
#include "tenterbook/draws.h"

/* The words of view lot_outcome. */
static const char *const outcomes[] = { "open", "right", "wrong" };
const struct tb_words tb_outcome_words = { outcomes, TB_COUNT(outcomes), "'%s' is not an outcome of a lot" };
