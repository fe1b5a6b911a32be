/*
 * code_page.h - text that is not UTF-8: the code pages that are known, their names, and their conversion.
 *
 * Converted by iconv. Which page a text is in cannot be told from its bytes alone; who knows what words it should hold
 * decides (src/intake/page.c).
 */
#ifndef TENTERBOOK_CODE_PAGE_H
#define TENTERBOOK_CODE_PAGE_H

#include "tenterbook/base.h"

struct tb_code_page {
    const char *name;  /* "Windows-1250": what a person reads and says */
    const char *iconv; /* what iconv calls it */
    const char *also;  /* other names, folded, without spaces and punctuation, separated by spaces */
    bool tried;        /* among those that a text without a name is tried in */
    bool wide;         /* its characters take two bytes or more */
};

/* tb_code_pages - all of them, the Western one first; static. */
const struct tb_code_page *tb_code_pages(size_t *n);
/* tb_code_page_find - by any of its names, whatever its case and punctuation; NULL: it is not known. "UTF-8" is known. */
const struct tb_code_page *tb_code_page_find(const char *name);
/*
 * tb_code_page_convert - n bytes as UTF-8, added to out.
 *   returns  false where they are no text of this page; out then holds what came before the fault
 */
bool tb_code_page_convert(struct tb_text *out, const struct tb_code_page *page, const void *bytes, size_t n);
/* tb_code_page_hint - what the frequencies of n bytes speak for, by libuchardet; NULL: nothing that is known here. */
const struct tb_code_page *tb_code_page_hint(const void *bytes, size_t n);

#endif
