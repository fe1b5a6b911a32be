/* named.h - inside the module: what a person typed, as the book writes it. */
#ifndef TENTERBOOK_BOOK_NAMED_H
#define TENTERBOOK_BOOK_NAMED_H

#include "tenterbook/base.h"

/*
 * tb_ref_as_written - a reference or tag as the book writes it: "w26-1.3" is W26-001.03. NULL where it is written so already, or is
 * no reference at all. In mem.
 */
const char *tb_ref_as_written(const char *typed, struct tb_arena *mem);

#endif
