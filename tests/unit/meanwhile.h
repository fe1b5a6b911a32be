/*
 * meanwhile.h - somebody else who records something between an act's plan and its lock.
 *
 * They hold the lock while the act plans, so that its plan cannot know what they wrote, and let go of it while it waits.
 */
#ifndef TENTERBOOK_TESTS_MEANWHILE_H
#define TENTERBOOK_TESTS_MEANWHILE_H

#include "unit/act_helper.h"

#include <pthread.h>
#include <time.h>

struct meanwhile {
    struct tb_book *book;
    struct tb_arena mem;
    pthread_t thread;
    struct tb_err err;
    tb_rc rc;
};

/* Begin what they record; the test records it through m->book. */
static inline void meanwhile_begin(struct meanwhile *m, struct scene *s, const char *verb,
                                   const char *subject)
{
    *m = (struct meanwhile){ 0 };
    OK(tb_book_open(&m->book, s->path, NULL, &err));
    OK(tb_book_begin(m->book, "Ben Ito", verb, &err));
    tb_book_subject(m->book, subject);
}

static inline void *meanwhile_commit(void *arg)
{
    const struct timespec while_it_plans = { .tv_nsec =
                                                 400000000 }; /* a plan of these small books takes 20 ms */
    struct meanwhile *m = arg;

    (void)nanosleep(&while_it_plans, NULL);
    m->rc = tb_book_commit(m->book, &m->err);
    return NULL;
}

/* They are about to be done: call the act now. */
static inline void meanwhile_let_go(struct meanwhile *m)
{
    assert_int_equal(pthread_create(&m->thread, NULL, meanwhile_commit, m), 0);
}

static inline void meanwhile_end(struct meanwhile *m)
{
    assert_int_equal(pthread_join(m->thread, NULL), 0);
    if (m->rc != TB_OK)
        fail_msg("the other one could not record: %s", m->err.msg);
    tb_book_close(m->book);
    tb_arena_free(&m->mem);
}

#endif
