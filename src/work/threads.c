#include "work/threads.h"

#include <malloc.h>
#include <pthread.h>
#include <stdatomic.h>
#include <unistd.h>

#define THREADS_MOST 16

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
