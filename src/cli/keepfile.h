/* keepfile.h - a photograph or paper from the disk, to be kept in the book. */
#ifndef TENTERBOOK_CLI_KEEPFILE_H
#define TENTERBOOK_CLI_KEEPFILE_H

#include "tenterbook/book.h"

#define TB_ATTACHMENT_MOST (32 << 20) /* bytes */

/* Read a file: fills name, media, bytes and size (in mem). JPEG, PNG and PDF, told by their first bytes. */
tb_rc tb_attachment_read(struct tb_attachment *a, const char *path, struct tb_arena *mem, struct tb_err *err);

#endif
