/* remark_words.h - inside the packing-list reader: what the words of a remark say of a bolt. */
#ifndef TENTERBOOK_INTAKE_REMARK_WORDS_H
#define TENTERBOOK_INTAKE_REMARK_WORDS_H

#include <stdbool.h>

/* Do they say that it did not come: "to follow", "B/O"? Any text; source: sql/reference/remark_word.csv. */
bool tb_words_unsent(const char *text);
/* Do they only praise it ("OK", "1st quality"), or say nothing at all? Any text; the same source. */
bool tb_words_praise(const char *text);

#endif
