/*
 * apart.h - what others made is taken to pieces in a process of its own.
 *
 * A library that unpacks a file from outside may have a fault that the file was made for. So the reader runs in a child of
 * this process, which has the file, one way back and nothing else: no other file, no folder, no network, no child of its own,
 * an end to its memory and its time. It answers in parts, of which the parent believes only the lengths before it has checked
 * them. The file, the lock and the book stay with the parent.
 */
#ifndef TENTERBOOK_BASE_APART_H
#define TENTERBOOK_BASE_APART_H

#include "tenterbook/base.h"

#include <stdint.h>

#define TB_APART_PART_MOST (64u << 20) /* bytes of one part */

/* In the child: the way to whoever asked. */
struct tb_apart;

/* What the child does, and who takes its answer. */
struct tb_apart_job {
    /* In the child. A failure comes out of tb_apart as it is; what it writes to arg or anywhere else stays in the child. */
    tb_rc (*read)(struct tb_apart *to, void *arg, struct tb_err *err);
    /*
     * In the parent, for each part in turn: n bytes, borrowed, that nobody has checked. *yes is what tb_apart_ask answers.
     * Any failure ends the child, and is what tb_apart answers.
     */
    tb_rc (*take)(void *arg, const unsigned char *part, size_t n, bool *yes, struct tb_err *err);
    void *arg;
    /*
     * In the child, while it may still open files: what a library has to load before it can work without them. NULL:
     * nothing.
     */
    void (*before)(void);
    int file;           /* the number of the open file that is read; -1: its bytes are in memory */
    unsigned seconds;   /* of computing, and of silence; 0: the usual */
    unsigned memory_mb; /* beyond what this program has already; 0: the usual */
};

/*
 * tb_apart - run it.
 *   fails  as read and take; TB_EFORMAT the child was stopped or broke off, or its answer is none; TB_EIO there can be no
 *          child. The sentence speaks of "the file" and does not name it
 */
tb_rc tb_apart(const struct tb_apart_job *job, struct tb_err *err);
/* For `read`: hand a part on. More than TB_APART_PART_MOST bytes, or a parent that is gone, end the child. */
void tb_apart_send(struct tb_apart *to, const void *part, size_t n);
/* The same, and wait for what the parent says to it. */
bool tb_apart_ask(struct tb_apart *to, const void *part, size_t n);

/* Does this system limit the calls of such a child (seccomp)? A build that looks for faults of memory itself does not. */
bool tb_apart_guarded(void);

/* A part that is put together, and pieces of one that are taken out again: numbers as they lie in memory. */
void tb_piece_add(struct tb_text *part, const void *bytes, size_t n);
struct tb_piece {
    const unsigned char *at;
    size_t left;
};
/* The next n bytes into out; false: so many are not there. */
bool tb_piece_take(struct tb_piece *p, void *out, size_t n);
/* The next n bytes, borrowed; NULL: so many are not there. */
const char *tb_piece_bytes(struct tb_piece *p, size_t n);

#endif
