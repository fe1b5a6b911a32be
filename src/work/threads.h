/* threads.h - the same work on many things, on every processor. */
#ifndef TENTERBOOK_WORK_THREADS_H
#define TENTERBOOK_WORK_THREADS_H

#include <stddef.h>

/*
 * Call fn(arg, 0) .. fn(arg, n - 1), in any order, side by side, and come back when all are done. fn may write only
 * what belongs to its own number. Where no thread can be had the caller's does it all.
 */
void tb_in_parallel(void (*fn)(void *arg, size_t i), void *arg, size_t n);

/* Things with equal bytes here are alike. */
struct tb_likeness {
    unsigned char byte[32];
};
/*
 * tb_alike_in_parallel - the same, but things that are alike are handed to one thread together, some dozens at most:
 * fn is given their numbers, n of them.
 */
void tb_alike_in_parallel(void (*fn)(void *arg, const size_t *thing, size_t n), void *arg,
                          const struct tb_likeness *mark, size_t n);

#endif
