/* remark_words.h - inside the packing-list reader: what the words of a remark say of a bolt. */
#ifndef TENTERBOOK_INTAKE_REMARK_WORDS_H
#define TENTERBOOK_INTAKE_REMARK_WORDS_H

#include <stdbool.h>

/* Do they say that it did not come: "to follow", "B/O"? Any text; source: sql/reference/remark_word.csv. */
bool tb_words_unsent(const char *text);
/* What words above bolts say of these. */
enum tb_words_above {
    TB_ABOVE_NOTHING,  /* or that the list goes on: "Fortsetzung auf Seite 2" */
    TB_ABOVE_NOT_COME, /* "To follow:" */
    TB_ABOVE_UNCLEAR,  /* that, or that the list goes on: "segue" without a colon */
    TB_ABOVE_EARLIER,  /* they came with another note: "Already delivered:" */
    TB_ABOVE_CAME      /* "This delivery:" */
};
enum tb_words_above tb_words_heading(const char *text);
/* Do they only praise it ("OK", "1st quality"), or say nothing at all? Any text; the same source. */
bool tb_words_praise(const char *text);

#endif
