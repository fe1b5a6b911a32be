/*
 * outfile.h - a file that is there whole or not at all.
 *
 * What is written goes to a name beside the wanted one; only when all of it has reached the disk does it
 * take the name that was asked for. A program that dies in between leaves the old file as it was.
 */
#ifndef TENTERBOOK_OUTFILE_H
#define TENTERBOOK_OUTFILE_H

#include "tenterbook/base.h"

#include <stdio.h>

struct tb_outfile {
    char *path; /* the name in the end */
    char *part; /* the name until then: same folder */
    FILE *f;    /* open for writing; NULL once closed, or when a library writes to `part` by itself */
};

/*
 * tb_outfile_open - make the part file.
 *
 *   fails   TB_EIO when the folder is not there or cannot be written
 *   memory  end it with tb_outfile_commit or tb_outfile_drop
 */
tb_rc tb_outfile_open(struct tb_outfile *out, const char *path, struct tb_err *err);
/* Close the stream only: a library is going to write to out->part by name. */
tb_rc tb_outfile_lend(struct tb_outfile *out, struct tb_err *err);
/* Flush, fsync, and close the part file; it keeps its name for now. Commit does this where it was not done. */
tb_rc tb_outfile_settle(struct tb_outfile *out, struct tb_err *err);
/* Give it its name and make that last. The struct is empty afterwards, whatever the answer. */
tb_rc tb_outfile_commit(struct tb_outfile *out, struct tb_err *err);
/* Throw it away; does nothing to an empty struct. */
void tb_outfile_drop(struct tb_outfile *out);

#endif
