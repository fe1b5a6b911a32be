/* page.h - inside the packing-list reader: the code pages that a text without a name may be in, and what speaks for each. */
#ifndef TENTERBOOK_INTAKE_PAGE_H
#define TENTERBOOK_INTAKE_PAGE_H

#include "intake/reader.h"
#include "tenterbook/code_page.h"

/* One page, and how the text looks in it. */
struct tb_candidate {
    const struct tb_code_page *page;
    struct tb_text text;
    size_t words;  /* different known words that have letters beyond ASCII */
    size_t native; /* different known words that only the languages of this page have */
    size_t odd;    /* places where no word is written like that */
    size_t runs;   /* words that have letters beyond ASCII */
};

/* page_words.c: count what speaks for each of n pages and against it. */
void tb_page_weigh(struct tb_candidate *c, size_t n);

#endif
