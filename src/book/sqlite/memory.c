/*
 * memory.c - where SQLite gets its memory. It undoes what it began where there is none, and says so, so that it is told of it
 * instead of ending the program as others do (base.h, tb_try_realloc): whether a commit took place is never in doubt.
 */
#include "book/sqlite/sqlite_impl.h"

#include <malloc.h>
#include <pthread.h>
#include <stdlib.h>

static void *ask(int n)
{
    return tb_try_realloc(NULL, (size_t)n);
}

static void *ask_again(void *old, int n)
{
    return tb_try_realloc(old, (size_t)n);
}

static int size_of(void *p)
{
    return (int)malloc_usable_size(p);
}

static int in_eights(int n)
{
    return (n + 7) & ~7;
}

static int begin_memory(void *arg)
{
    (void)arg;
    return SQLITE_OK;
}

static void end_memory(void *arg)
{
    (void)arg;
}

static void set_once(void)
{
    const sqlite3_mem_methods m = {
        ask, free, ask_again, size_of, in_eights, begin_memory, end_memory, NULL
    };

    (void)sqlite3_config(SQLITE_CONFIG_MALLOC,
                         &m); /* refused where it runs already, with memory like all others' */
}

void tb_sqlite_memory(void)
{
    static pthread_once_t once = PTHREAD_ONCE_INIT;

    (void)pthread_once(&once, set_once);
}
