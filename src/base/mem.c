/*
 * mem.c - memory, or the end of the program with a sentence: for the program itself, and for every library in it.
 *
 * Libraries find no memory in ways of their own. One falls over, one calls itself until the stack is full, and one leaves out
 * what it had to write and tells nobody. What they ask the system for therefore comes by way of here (the linker takes our malloc
 * before that of the C library), and a run without memory ends in one place, whoever noticed. SQLite alone is told, since it
 * undoes what it began. Builds that watch memory themselves keep their own malloc; so does a system whose C library is not glibc.
 */
#include "tenterbook/base.h"

#include <errno.h>
#include <stdatomic.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#ifdef __GLIBC__
#include <malloc.h>
#include <sys/mman.h>
#endif

#if defined(__SANITIZE_ADDRESS__) || defined(__SANITIZE_THREAD__) || !defined(__GLIBC__)
#define OURS 0
#elif defined(__has_feature)
#if __has_feature(address_sanitizer) || __has_feature(thread_sanitizer) || __has_feature(memory_sanitizer)
#define OURS 0
#endif
#endif
#ifndef OURS
#define OURS 1
#endif

static tb_no_memory_fn *last_words;
static _Thread_local bool ending; /* this thread says its last words: what it asks for now may fail */

tb_no_memory_fn *tb_on_no_memory(tb_no_memory_fn *say)
{
    tb_no_memory_fn *before = last_words;

    last_words = say;
    return before;
}

/*
 * Once, by one thread: who says it may find no memory either. Nothing is cleared up, which could need memory: the next run
 * does that.
 */
void tb_no_memory(void)
{
    static const char plain[] = "tenterbook: this machine has no memory left; nothing was half-written\n";
    static atomic_flag taken = ATOMIC_FLAG_INIT;
    bool first = !atomic_flag_test_and_set(&taken);

    while (!first && !ending)
        (void)pause(); /* another thread ends the program */
    ending = true;
    if (first && last_words)
        last_words();
    (void)!write(STDERR_FILENO, plain, sizeof plain - 1);
    _exit(EXIT_FAILURE);
}

/* --- what libraries ask for ------------------------------------------------------------------------------------- */

#if OURS
void *__libc_malloc(size_t n);
void *__libc_calloc(size_t count, size_t size);
void *__libc_realloc(void *old, size_t n);
void *__libc_memalign(size_t at, size_t n);

/* A size that no machine has is a slip of whoever asks for it, who is told as ever. */
static void *or_end(void *p, size_t n)
{
    if (!p && n <= PTRDIFF_MAX && !ending)
        tb_no_memory();
    return p;
}

void *malloc(size_t n)
{
    return or_end(__libc_malloc(n), n);
}

void *calloc(size_t count, size_t size)
{
    return or_end(__libc_calloc(count, size), size && count > PTRDIFF_MAX / size ? SIZE_MAX : count * size);
}

void *realloc(void *old, size_t n)
{
    void *p = __libc_realloc(old, n);

    return old && !n ? p : or_end(p, n); /* nothing of something frees it */
}

int posix_memalign(void **out, size_t at, size_t n)
{
    if (at % sizeof(void *) || !at || at & (at - 1))
        return EINVAL;
    *out = or_end(__libc_memalign(at, n), n);
    return *out ? 0 : ENOMEM;
}

void *tb_try_realloc(void *old, size_t n)
{
    return __libc_realloc(old, n);
}

#define AT_ONCE ((size_t)16 << 20)   /* bytes by which the heap grows */
#define LARGE_PAGE ((size_t)2 << 20) /* of most processors; where it is another, nothing comes of it */

/*
 * A judgement touches some megabytes of fresh memory, frees them and touches others. What was freed is kept for the next, and
 * the first megabytes come as large pages where the system gives them: a page of four kilobytes takes the kernel about as long
 * to hand over as it takes to fill it. Nothing depends on it, so nobody is told where it fails.
 */
void tb_memory_ready(void)
{
    uintptr_t from = ((uintptr_t)sbrk(0) + LARGE_PAGE - 1) & ~(LARGE_PAGE - 1), end;

    (void)mallopt(M_MMAP_THRESHOLD, (int)AT_ONCE);
    (void)mallopt(M_TRIM_THRESHOLD, (int)(4 * AT_ONCE));
    (void)mallopt(M_TOP_PAD, (int)AT_ONCE);
    free(__libc_malloc(AT_ONCE / 2)); /* more than the heap has by now, so that it grows */
    end = (uintptr_t)sbrk(0) & ~(LARGE_PAGE - 1);
    if (end > from)
        (void)madvise((void *)from, end - from, MADV_HUGEPAGE); // NOLINT(performance-no-int-to-ptr)
}
#else
void tb_memory_ready(void)
{
}

void *tb_try_realloc(void *old, size_t n)
{
    return realloc(old, n);
}
#endif

/* --- what the program asks for ---------------------------------------------------------------------------------- */

/* Nothing is asked for as one byte, so that the answer is never NULL and can always be freed. */
void *tb_alloc(size_t count, size_t size)
{
    void *p = calloc(count ? count : 1, size ? size : 1);

    if (!p)
        tb_no_memory();
    return p;
}

/* The product is looked at before it is made: a wrapped one would give less memory than was meant. */
void *tb_realloc(void *old, size_t count, size_t size)
{
    void *p;

    if (size && count > SIZE_MAX / size)
        tb_no_memory();
    p = realloc(old, count && size ? count * size : 1);
    if (!p)
        tb_no_memory();
    return p;
}

char *tb_strndup(const char *s, size_t n)
{
    char *copy = tb_alloc(n + 1, 1);

    memcpy(copy, s, n);
    return copy;
}

char *tb_strdup(const char *s)
{
    return s ? tb_strndup(s, strlen(s)) : NULL;
}
