/* sheet_text.h - text whose columns stand below one another: told from CSV by its look, read by paper.h. */
#ifndef TENTERBOOK_BASE_SHEET_TEXT_H
#define TENTERBOOK_BASE_SHEET_TEXT_H

#include "base/sheet_in.h"

#define TB_DELIMITED 64 /* delimiters of a line that are counted */

/* Do these first bytes of a text look so: lines of words that two spaces or more divide, and not delimiters? */
bool tb_text_aligned(const char *s, size_t n);
/* All of it into the sink; text is the first piece, the decoder has the rest. The sheet was told before. */
tb_rc tb_text_read(struct tb_decoder *d, const char *text, size_t n, const struct tb_sheet_sink *sink,
                   struct tb_err *err);

#endif
