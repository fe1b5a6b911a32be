/* at_once.h - the same act by several people at the same time, each with the book open in a process of its own. */
#ifndef TENTERBOOK_TESTS_AT_ONCE_H
#define TENTERBOOK_TESTS_AT_ONCE_H

#include "unit/act_helper.h"

#include <sys/mman.h>
#include <sys/wait.h>

#define AT_ONCE_MOST 12

/* What one process came to. */
struct at_once {
    tb_rc rc;
    int64_t number;
    char text[64];
    char why[sizeof((struct tb_err *)0)->msg];
};
/* The act of process i: fills number and text, answers what the act answered. */
typedef tb_rc at_once_fn(struct at_once *out, const struct tb_actor *actor, int i, struct tb_arena *mem,
                         struct tb_err *error);

static inline void at_once_child(struct at_once *out, const struct scene *s, const char *who, at_once_fn *fn,
                                 int i)
{
    struct tb_actor actor = { NULL, who };
    struct tb_arena mem = { 0 };
    struct tb_err error = { 0 };

    out->rc = tb_book_open(&actor.book, s->path, NULL, &error);
    if (out->rc == TB_OK)
        out->rc = fn(out, &actor, i, &mem, &error);
    (void)snprintf(out->why, sizeof out->why, "%s", error.msg);
    tb_book_close(actor.book);
    tb_arena_free(&mem);
    _exit(0);
}

/* Run n processes; out has n records. The scene's own book is closed meanwhile: SQLite does not outlive a fork. */
static inline void at_once(struct at_once *out, struct scene *s, int n, const char *who, at_once_fn *fn)
{
    struct at_once *shared =
        mmap(NULL, (size_t)n * sizeof *shared, PROT_READ | PROT_WRITE, MAP_SHARED | MAP_ANONYMOUS, -1, 0);

    assert_true(shared != MAP_FAILED);
    tb_book_close(s->actor.book);
    for (int i = 0; i < n; i++) {
        pid_t child = fork();

        assert_true(child >= 0);
        if (child == 0)
            at_once_child(&shared[i], s, who, fn, i);
    }
    for (int i = 0; i < n; i++) {
        int status = 0;

        assert_true(wait(&status) > 0);
        assert_true(WIFEXITED(status) && WEXITSTATUS(status) == 0);
    }
    memcpy(out, shared, (size_t)n * sizeof *out);
    assert_int_equal(munmap(shared, (size_t)n * sizeof *shared), 0);
    OK(tb_book_open(&s->actor.book, s->path, NULL, &err));
}

#endif
