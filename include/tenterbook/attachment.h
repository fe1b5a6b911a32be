/*
 * attachment.h - a photograph or paper from the disk, as the book keeps it.
 */
#ifndef TENTERBOOK_ATTACHMENT_H
#define TENTERBOOK_ATTACHMENT_H

#include "tenterbook/book.h"

#define TB_ATTACHMENT_MOST (32 << 20) /* bytes */

/*
 * tb_attachment_read - read a file whole.
 *
 *   out     name (without folders, as text), media, bytes and size are filled; the rest is left alone
 *   fails   TB_ENOTFOUND it cannot be opened; TB_EINVAL it is not a plain file, has more than TB_ATTACHMENT_MOST, or is
 *           neither JPEG, PNG nor PDF (told by its first bytes, whatever its name); TB_EIO it cannot be read
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
