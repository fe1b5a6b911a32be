/* folder.h - names in folders, and making what was written there last. For papers and for books. */
#ifndef TENTERBOOK_BASE_FOLDER_H
#define TENTERBOOK_BASE_FOLDER_H

#include "tenterbook/base.h"

/* TB_EIO with the system's reason (errno). */
tb_rc tb_out_trouble(struct tb_err *err, const char *what, const char *path);
/* Push a file, or with O_DIRECTORY a folder, to the disk; `path` is named in the sentence. */
tb_rc tb_out_sync(const char *name, const char *path, int flags, struct tb_err *err);
/* FOLDER/NAME; yours to free. */
char *tb_out_in(const char *folder, const char *name);
/* The folder of a path, "." where it names none; yours to free. */
char *tb_out_folder(const char *path);

#endif
