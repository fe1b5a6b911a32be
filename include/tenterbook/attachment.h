/*
 * attachment.h - a photograph or paper as the book keeps it: from the disk, or sent as bytes.
 */
#ifndef TENTERBOOK_ATTACHMENT_H
#define TENTERBOOK_ATTACHMENT_H

#include "tenterbook/book.h"

#define TB_ATTACHMENT_MOST (32 << 20) /* bytes */

/*
 * tb_attachment_of - bytes that somebody sent, as the book keeps them.
 *
 *   out     name (without folders, as text), media, bytes and size are filled, and borrow the bytes; the rest is left alone
 *   fails   TB_EINVAL: nothing, more than TB_ATTACHMENT_MOST, neither JPEG, PNG nor PDF (told by its first bytes,
 *           whatever its name), one that ends before its end, a name that is not text; TB_EFORMAT, TB_EIO: it cannot be
 *           looked through
 */
tb_rc tb_attachment_of(struct tb_attachment *out, const char *name, const void *bytes, size_t size,
                       struct tb_arena *mem, struct tb_err *err);
/* tb_attachment_check - the same of one that is filled already; TB_EINVAL also where its media is not what it is. */
tb_rc tb_attachment_check(const struct tb_attachment *a, struct tb_err *err);
/*
 * tb_attachment_read - read a file whole.
 *
 *   out     name (without folders, as text), media, bytes and size are filled; the rest is left alone
 *   fails   TB_ENOTFOUND it is not there; TB_EINVAL it is not an ordinary file, and as tb_attachment_of; TB_EIO it cannot
 *           be read
 *   memory  all in mem
 */
tb_rc tb_attachment_read(struct tb_attachment *out, const char *path, struct tb_arena *mem,
                         struct tb_err *err);

/*
 * tb_file_name - a file's own name, without folders, as the book keeps it: text, without codes a terminal obeys. A folder
 * takes any bytes for a name. In mem.
 */
const char *tb_file_name(const char *path, struct tb_arena *mem);

#endif
