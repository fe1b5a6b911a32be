/*
 * outfile.h - papers: files people ask for, one or several, that are all there whole or not at all.
 *
 * What is written goes to a name beside the wanted one; only when all files of a set have reached the disk do they
 * take the names that were asked for. A program that dies in between leaves the old files as they were, or a list by which
 * the next program that writes into the folder brings the new names to their end; it clears away what else was left.
 *
 * The place of a paper is looked at first: a database, and so a book, is never written over, nor anything that is no
 * file; an earlier paper only where that was asked for.
 */
#ifndef TENTERBOOK_OUTFILE_H
#define TENTERBOOK_OUTFILE_H

#include "tenterbook/base.h"
#include "tenterbook/date.h"

#include <stdio.h>
#include <sys/types.h>

/* One file of a set. */
struct tb_outfile {
    char *path; /* the name in the end */
    char *part; /* the name until then: same folder */
    char *old;  /* a second name of the file whose place it takes, while the set is being named */
    FILE *f;    /* open for writing; NULL once closed, or when a library writes to `part` by itself */
    ino_t inode;
    bool over; /* it takes the place of an earlier file */
    bool settled, named;
};

/* Files that take their names together. All of them lie in one folder. Zero-initialise but for `replace`. */
struct tb_outset {
    bool replace; /* earlier papers may be written over */
    char *folder; /* of the first file; NULL before */
    char *stem;   /* how the names begin that the files have until they get their own */
    int list; /* the set's own file, locked for as long as the set lives: no other program takes it for a leftover */
    struct tb_outfile **file;
    size_t n, cap;
};

/*
 * tb_outset_add - one more file: its place is looked at, its part file made. The first one brings sets to their end that a
 * killed program left half named in this folder, and clears away what else such programs left there.
 *
 *   out     belongs to the set
 *   suffix  ".pdf": what is written goes under no other name
 *   fails   TB_EINVAL: another suffix, another folder than the first file's; TB_EEXISTS: an earlier paper, and the set may
 *           not replace any; TB_EREFUSED: a database, a folder, a device, a link; TB_EIO: the folder is not there or cannot
 *           be written, or a half-named set of a killed program can neither be finished nor undone
 */
tb_rc tb_outset_add(struct tb_outfile **out, struct tb_outset *set, const char *path, const char *suffix,
                    struct tb_err *err);
/*
 * tb_outset_work - a folder beside the papers for a library's own passing files; it goes with the set. Needs a file in the set.
 *
 *   folder  the caller's to free
 *   fails   TB_EIO: it cannot be made
 */
tb_rc tb_outset_work(char **folder, const struct tb_outset *set, struct tb_err *err);
/* Close the stream only: a library is going to write to out->part by name. */
tb_rc tb_outfile_lend(struct tb_outfile *out, struct tb_err *err);
/* Flush, fsync, and close the part file; it keeps its name for now. The end of the set does this where it was not done. */
tb_rc tb_outfile_settle(struct tb_outfile *out, struct tb_err *err);

/*
 * tb_outset_end - with TB_OK: give all files their names and make that last. With a failure: throw all of them away.
 *
 *   fails   as rc says; else TB_EIO, TB_EEXISTS where a name was taken meanwhile: all names are as they were then
 *   memory  the set is empty afterwards, whatever the answer
 */
tb_rc tb_outset_end(struct tb_outset *set, tb_rc rc, struct tb_err *err);

#endif
