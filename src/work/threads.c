#include "work/threads.h"

#include "tenterbook/base.h"

#include <malloc.h>
#include <pthread.h>
#include <stdatomic.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#define THREADS_MOST 16
#define ALIKE_MOST 32 /* at a time, so that the other threads find work where all are alike */

struct shift {
    void (*fn)(void *arg, size_t i);
    void *arg;
    size_t n;
    atomic_size_t next;
};

static void *work(void *arg)
{
    struct shift *s = arg;

    for (size_t i; (i = atomic_fetch_add(&s->next, 1)) < s->n;)
        s->fn(s->arg, i);
    return NULL;
}

/* A piece of work may need a megabyte: kept for the next piece, it need not be cleared by the system again. */
static void keep_working_memory(void)
{
    (void)mallopt(M_MMAP_THRESHOLD, 1 << 30);
    (void)mallopt(M_TRIM_THRESHOLD, 1 << 30);
}

void tb_in_parallel(void (*fn)(void *arg, size_t i), void *arg, size_t n)
{
    struct shift s = { .fn = fn, .arg = arg, .n = n };
    pthread_t thread[THREADS_MOST];
    long processors = sysconf(_SC_NPROCESSORS_ONLN);
    size_t threads = 0;

    keep_working_memory();
    while (threads < THREADS_MOST && (long)threads + 1 < processors && threads + 1 < n &&
           pthread_create(&thread[threads], NULL, work, &s) == 0)
        threads++;
    (void)work(&s);
    for (size_t i = 0; i < threads; i++)
        (void)pthread_join(thread[i], NULL);
}

struct marked {
    const struct tb_likeness *mark;
    size_t number;
};

struct runs {
    void (*fn)(void *arg, const size_t *thing, size_t n);
    void *arg;
    size_t *thing; /* by mark */
    size_t *from;  /* of each run its first, and behind them how many things there are */
};

static int by_mark(const void *a, const void *b)
{
    const struct marked *x = a, *y = b;
    int c = memcmp(x->mark, y->mark, sizeof *x->mark);

    return c ? c : x->number < y->number ? -1 : x->number > y->number;
}

/* Runs of things with equal marks; returns how many. */
static size_t take_runs(struct runs *r, const struct tb_likeness *mark, size_t n)
{
    struct marked *list = tb_array(struct marked, n + 1);
    size_t runs = 0;

    for (size_t i = 0; i < n; i++)
        list[i] = (struct marked){ &mark[i], i };
    qsort(list, n, sizeof *list, by_mark);
    for (size_t i = 0; i < n; i++) {
        r->thing[i] = list[i].number;
        if (runs == 0 || i - r->from[runs - 1] >= ALIKE_MOST ||
            memcmp(list[i].mark, list[i - 1].mark, sizeof *list->mark) != 0)
            r->from[runs++] = i;
    }
    r->from[runs] = n;
    free(list);
    return runs;
}

static void work_run(void *arg, size_t i)
{
    struct runs *r = arg;

    r->fn(r->arg, r->thing + r->from[i], r->from[i + 1] - r->from[i]);
}

void tb_alike_in_parallel(void (*fn)(void *arg, const size_t *thing, size_t n), void *arg,
                          const struct tb_likeness *mark, size_t n)
{
    struct runs r = { fn, arg, tb_array(size_t, n + 1), tb_array(size_t, n + 1) };

    tb_in_parallel(work_run, &r, take_runs(&r, mark, n));
    free(r.thing);
    free(r.from);
}
