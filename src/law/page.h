/* page.h - the lines of a saved page: a row of a table is one line, its cells separated by tabs. */
#ifndef TENTERBOOK_LAW_PAGE_H
#define TENTERBOOK_LAW_PAGE_H

#include "tenterbook/base.h"

/* The text of a page in HTML, or of a text; never fails: what is no markup is text. Free with tb_text_free. */
void tb_page_lines(struct tb_text *out, const char *bytes, size_t n);

#endif
