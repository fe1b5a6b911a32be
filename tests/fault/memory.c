/*
 * memory.c - memory that runs out: preloaded before the program (LD_PRELOAD), which is not changed.
 *
 *   TB_MEMORY_LOG=FILE   writes a line for each time memory is asked for, in order: a number that is the same for the same way
 *                        there, whatever the addresses
 *   TB_MEMORY_AT=N       the N-th time, counted from 1, there is none
 *   TB_MEMORY_GONE=1     nor is there ever again
 *
 * It stands where the program asks the C library (src/base/mem.c), so that memory that any library asks for counts as well,
 * SQLite's among it. No signal is caught: whoever falls over, falls over.
 */
#include <dlfcn.h>
#include <errno.h>
#include <execinfo.h>
#include <link.h>
#include <pthread.h>
#include <stdbool.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>

#define FRAMES 14
#define OBJECTS 128

void *__libc_malloc(size_t n);
void *__libc_calloc(size_t n, size_t size);
void *__libc_realloc(void *p, size_t n);
void *__libc_memalign(size_t at, size_t n);

static struct {
    uintptr_t from, to;
    uint64_t name; /* a digest of it: what is loaded late is loaded in another order by another command */
} object[OBJECTS];
static int objects;
static long at, seen;
static bool gone, begun;
static FILE *log_to;
static __thread bool inside;
static pthread_mutex_t one = PTHREAD_MUTEX_INITIALIZER;

static int take_object(struct dl_phdr_info *info, size_t size, void *arg)
{
    uint64_t name = 1469598103934665603u; /* FNV-1a */

    (void)size;
    (void)arg;
    for (const char *p = info->dlpi_name; *p; p++)
        name = (name ^ (unsigned char)*p) * 1099511628211u;
    for (int i = 0; i < info->dlpi_phnum && objects < OBJECTS; i++)
        if (info->dlpi_phdr[i].p_type == PT_LOAD && (info->dlpi_phdr[i].p_flags & PF_X)) {
            object[objects].from = info->dlpi_addr + info->dlpi_phdr[i].p_vaddr;
            object[objects].to = object[objects].from + info->dlpi_phdr[i].p_memsz;
            object[objects].name = name;
            objects++;
        }
    return 0;
}

/* -1: it is in none, not even in one that was loaded since. */
static int object_of(uintptr_t a)
{
    for (int again = 0; again < 2; again++) {
        for (int o = 0; o < objects; o++)
            if (a >= object[o].from && a < object[o].to)
                return o;
        objects = 0;
        (void)dl_iterate_phdr(take_object, NULL);
    }
    return -1;
}

/* The returns on the stack, each as its place in the library that it is in. */
static uint64_t way(void)
{
    void *frame[FRAMES];
    int n = backtrace(frame, FRAMES);
    uint64_t h = 1469598103934665603u; /* FNV-1a */

    for (int i = 2; i < n; i++) {
        uintptr_t a = (uintptr_t)frame[i];
        int o = object_of(a);

        if (o >= 0)
            a = (a - object[o].from) ^ object[o].name;
        h = (h ^ a) * 1099511628211u;
    }
    return h;
}

static bool fails(void)
{
    bool answer;

    if (!begun || inside)
        return false;
    (void)pthread_mutex_lock(&one);
    inside = true;
    seen++;
    if (log_to)
        (void)fprintf(log_to, "%016llx\n", (unsigned long long)way());
    answer = at && (seen == at || (gone && seen > at));
    inside = false;
    (void)pthread_mutex_unlock(&one);
    if (answer)
        errno = ENOMEM;
    return answer;
}

/* by way of a number: the language does not make a pointer to a function of one to data */
#define REAL(name)                                                                                           \
    static __typeof__(&name) real;                                                                           \
                                                                                                             \
    if (!real)                                                                                               \
        real = (__typeof__(&name))(uintptr_t)dlsym(RTLD_NEXT, #name);

void *__libc_malloc(size_t n)
{
    REAL(__libc_malloc)
    return fails() ? NULL : real(n);
}

void *__libc_calloc(size_t n, size_t size)
{
    REAL(__libc_calloc)
    return fails() ? NULL : real(n, size);
}

void *__libc_realloc(void *p, size_t n)
{
    REAL(__libc_realloc)
    return fails() ? NULL : real(p, n);
}

void *__libc_memalign(size_t to, size_t n)
{
    REAL(__libc_memalign)
    return fails() ? NULL : real(to, n);
}

__attribute__((constructor)) static void begin(void)
{
    const char *n = getenv("TB_MEMORY_AT"), *log = getenv("TB_MEMORY_LOG");
    void *frame[2];

    at = n ? strtol(n, NULL, 10) : 0;
    gone = getenv("TB_MEMORY_GONE") != NULL;
    if (log) {
        (void)backtrace(frame, 2); /* the first time it asks for memory itself */
        log_to = fopen(log, "w");
    }
    begun = true;
}

__attribute__((destructor)) static void end(void)
{
    begun = false;
    if (log_to)
        (void)fclose(log_to);
}
