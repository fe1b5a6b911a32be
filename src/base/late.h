/*
 * late.h - functions of a library that is loaded while the program runs, where it is needed and nowhere else.
 *
 * The libraries that draw bring thirty others with them, and most commands draw nothing: they would wait longer for those libraries
 * than for what they do. src/base/late holds the lists of what is called of each; a header made of a list, gen/late_NAME.h, stands
 * for the headers of the libraries and lets their functions be called as always.
 */
#ifndef TENTERBOOK_BASE_LATE_H
#define TENTERBOOK_BASE_LATE_H

#include "tenterbook/base.h"

#include <pthread.h>
#include <stdatomic.h>

/*
 * tb_late_find - looks a function up by its name.
 *   to       a pointer to a function of its type; NULL afterwards where the library has none of that name
 *   library  as dlopen gave it
 *   returns  whether there is one
 */
bool tb_late_find(void *to, void *library, const char *name);

/* Libraries, and where the pointers to their functions go, in the order of their names. */
struct tb_late {
    const char *const *library;
    size_t libraries;
    const char *const *function;
    size_t functions;
    void *table; /* functions pointers */
    pthread_mutex_t once;
    atomic_bool loaded;
};
/*
 * tb_late_load - loads the libraries; they stay until the program ends.
 *   fails  TB_EIO: one is not on this machine, or lacks a function; the sentence names it
 */
tb_rc tb_late_load(struct tb_late *l, struct tb_err *err);
/* The same where there is nobody to tell: without the libraries the program ends with that sentence. */
void tb_late_need(struct tb_late *l);

#endif
