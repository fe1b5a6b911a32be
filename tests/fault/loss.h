/*
 * loss.h - what is left on a disk when the power goes: what was synced, and of the rest whatever the disk had come to.
 *
 * A disk keeps writes in its own memory and takes them in an order of its own, sector by sector. What was written since the
 * last sync may be there, may be missing, may be there in part; so may a name that was given or taken away, until the folder
 * is synced. Calls of the system that sync and name files are wrapped, so that those of the program itself count too.
 */
#ifndef TB_TEST_LOSS_H
#define TB_TEST_LOSS_H

#include <stdbool.h>
#include <stddef.h>

/* A file, told by its inode, with what of it is safe and what was asked since. */
struct known;

/* Whether anything has to be noted at all, and the number that chooses what survives. */
void loss_begin(bool noted, unsigned long seed);
/* Before a file is opened, and after: one that is made by it was not there. */
void note_open(const char *name);
struct known *note_opened(const char *name);
void note_write(struct known *k, const void *p, size_t n, size_t to);
void note_truncate(struct known *k, size_t n);
/* A file is about to be removed; sync: its folder is synced too. */
void note_delete(const char *name, bool sync);
/* Of the disk (vfs.c): one more operation; only a loss of power is of concern for those that are not SQLite's. */
bool disk_wrong(const char *kind, const char *name);
/* Puts every file into a state that a disk may have come to, and ends the program without warning. */
void lose_power(void) __attribute__((noreturn));

#endif
