/* infile.h - files that somebody else made, opened. Every file a person names to be read comes through here. */
#ifndef TENTERBOOK_BASE_INFILE_H
#define TENTERBOOK_BASE_INFILE_H

#include "tenterbook/base.h"

#include <stdint.h>
#include <stdio.h>

/*
 * tb_in_open - a file to be read, from its beginning. Never waits: a pipe, a device or a folder is refused.
 *
 *   out     yours to close
 *   size    bytes; NULL: not wanted
 *   path    a link is followed, since it is the reader's own word for a file
 *   most    bytes it may have
 *   fails   TB_ENOTFOUND nothing is there; TB_EINVAL no ordinary file, or a larger one; TB_EIO it cannot be opened. The
 *           sentence does not name the file
 */
tb_rc tb_in_open(FILE **out, size_t *size, const char *path, uint64_t most, struct tb_err *err);
/*
 * tb_in_whole - the bytes of such a file. Fails as above; TB_EIO also where it ends before its size, or grows.
 *   memory  out is yours to free; a NUL follows the bytes
 */
tb_rc tb_in_whole(struct tb_text *out, const char *path, uint64_t most, struct tb_err *err);
/*
 * tb_in_standard - all of standard input, kept in a file without a name, so that it can be read twice.
 *   fails   TB_EINVAL more than `most` bytes; TB_EIO it cannot be read or kept
 */
tb_rc tb_in_standard(FILE **out, uint64_t most, struct tb_err *err);

#endif
