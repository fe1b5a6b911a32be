/* outfile_impl.h - what the files about papers share: places, names, leftovers. Not for anyone else. */
#ifndef TENTERBOOK_BASE_OUTFILE_IMPL_H
#define TENTERBOOK_BASE_OUTFILE_IMPL_H

#include "base/folder.h"
#include "tenterbook/outfile.h"

/* All that a set makes in a folder begins like this; the number of the process and a key follow. */
#define TB_LEFT_PREFIX ".tenterbook-"
#define TB_LEFT_LIST ".set"
#define TB_LEFT_PART ".part"
#define TB_LEFT_OLD ".old"
#define TB_LEFT_WORK ".work"

/* May a paper take this place? *over: one is there and will go. Fails as tb_outset_add. */
tb_rc tb_out_place(bool *over, const char *path, const char *suffix, bool replace, struct tb_err *err);

/* A file of the set, with the names that its place in the set gives it. */
struct tb_outfile *tb_out_file(struct tb_outset *set, const char *path);

/*
 * Give the files of a set their names, all of them or none; those that are named already stay so. The list is on the disk
 * before. *stuck: what was done could not be undone; parts and list have to stay for the next program.
 */
tb_rc tb_out_name_all(struct tb_outset *set, bool *stuck, struct tb_err *err);
/* A folder for passing files goes, with what a library left in it; nothing happens when there is none. */
void tb_out_remove_work(const char *path);
/* The folder for passing files, second names of files that were replaced, part files, and last the list. */
void tb_out_clear(struct tb_outset *set);
/* Close and free everything; removes no file. */
void tb_out_free(struct tb_outset *set);

/* What killed programs left in a folder: sets that were half named are brought to their end, the rest goes. */
tb_rc tb_out_clear_left(const char *folder, struct tb_err *err);

#endif
