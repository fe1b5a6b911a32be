/* folder.h - names in folders, and making what was written there last. For papers and for books. */
#ifndef TENTERBOOK_BASE_FOLDER_H
#define TENTERBOOK_BASE_FOLDER_H

#include "tenterbook/base.h"

#include <sys/types.h>

/* TB_EIO with the system's reason (errno). */
tb_rc tb_out_trouble(struct tb_err *err, const char *what, const char *path);
/* Push a file, or with O_DIRECTORY a folder, to the disk; `path` is named in the sentence. */
tb_rc tb_out_sync(const char *name, const char *path, int flags, struct tb_err *err);
/* FOLDER/NAME; yours to free. */
char *tb_out_in(const char *folder, const char *name);
/*
 * tb_out_name_new - a file that was made under a passing name gets its own. At once, and never over a file that came there
 * meanwhile; a memory stick that can do neither is looked at just before.
 *   fails  -1 with errno, EEXIST where there is such a file; the passing name is kept then
 */
int tb_out_name_new(const char *part, const char *path);
/* Write all of it and push it to the disk; false with errno. */
bool tb_out_put(int fd, const void *bytes, size_t n);
/* Two names of one file in its folder. Links are not followed: one that leads to a file is not a name of it. */
bool tb_out_is_same(const char *a, const char *b);
/* The folder of a path, "." where it names none; yours to free. */
char *tb_out_folder(const char *path);

/* No process of this machine has this number. */
bool tb_left_is_gone(long process);
/*
 * tb_left_take - a file that a program made under a passing name, taken over where nobody works on it any more.
 *   process  the number in its name
 *   returns  its descriptor, locked: whoever else looks leaves it alone until it is closed; -1: it is not to be touched
 */
int tb_left_take(const char *path, long process);
/*
 * tb_left_clear - remove what killed programs left of a file that was to get this name: PATH.new-NUMBER, and what SQLite keeps
 * beside it. Who makes such a file holds it locked (flock) until it has its name: tb_half_make does.
 */
void tb_left_clear(const char *path);
#define TB_HALF ".new-" /* behind the name that is wanted; the number of the process follows */

/* A file under a passing name, and its descriptor, locked: that says that somebody works on it. */
struct tb_half {
    struct tb_text name;
    int lock;
};
/*
 * A file takes its name only when it is whole: a half-made one is never found, and none is ever replaced.
 *   half   all zero before; made empty beside `path`, with this mode; what killed programs left of such is cleared away
 *   fails  TB_EIO
 */
tb_rc tb_half_make(struct tb_half *half, const char *path, mode_t mode, struct tb_err *err);
/* All that is in it, pushed to the disk. Fails: TB_EIO. */
tb_rc tb_half_put(const struct tb_half *half, const char *path, const void *bytes, size_t n,
                  struct tb_err *err);
/* Fails: TB_EEXISTS something is at path; TB_EIO, and then nothing is there. */
tb_rc tb_half_name(const struct tb_half *half, const char *path, struct tb_err *err);
/* Remove it with all that may lie beside it, where it has no other name yet. All zero is accepted. */
void tb_half_remove(struct tb_half *half);

/* --- what this room knows of databases: how such a file begins, and what may lie beside it ------------------------- */

#define TB_BESIDE 4
/* Behind the name of a file: nothing, and what SQLite adds for files of its own (sqlite.org/tempfiles.html). */
extern const char *const tb_beside[TB_BESIDE];
/* How every SQLite file begins (sqlite.org/fileformat2.html, 1.3.1), a book of ours like any other. */
#define TB_SQLITE_HEAD 100 /* bytes of its header */
/* The first bytes of a file into head, which is all zero behind them; false: it cannot be read (errno). Never waits. */
bool tb_head_read(unsigned char head[TB_SQLITE_HEAD], const char *path);
bool tb_head_is_sqlite(const unsigned char head[TB_SQLITE_HEAD]);

#endif
