/*
 * memory.c - memory that runs out: preloaded before the program (LD_PRELOAD), which is not changed.
 *
 *   TB_MEMORY_LOG=FILE   writes a line for each time memory is asked for, in order: a number that is the same for the same way
 *                        there, whatever the addresses
 *   TB_MEMORY_AT=N       the N-th time, counted from 1, there is none
 *   TB_MEMORY_GONE=1     nor is there ever again
 *
 * Memory that any library asks for counts as well, SQLite's among it. A library that cannot do without and falls over (glibc
 * looking for the name of a login, GLib by design) ends the program with exit code 99: that is not the program's to mend, but
 * its book must be whole then too. A fault in the program itself stays what it is.
 */
#include <errno.h>
#include <execinfo.h>
#include <link.h>
#include <pthread.h>
#include <signal.h>
#include <stdbool.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <ucontext.h>
#include <unistd.h>

#define IN_LIBRARY 99
#define FRAMES 14
#define OBJECTS 128

void *__libc_malloc(size_t n);
void *__libc_calloc(size_t n, size_t size);
void *__libc_realloc(void *p, size_t n);

static struct {
    uintptr_t from, to;
} object[OBJECTS];
static int objects;
static long at, seen;
static bool gone, begun;
static FILE *log_to;
static __thread bool inside;
static pthread_mutex_t one = PTHREAD_MUTEX_INITIALIZER;

static int take_object(struct dl_phdr_info *info, size_t size, void *arg)
{
    (void)size;
    (void)arg;
    for (int i = 0; i < info->dlpi_phnum && objects < OBJECTS; i++)
        if (info->dlpi_phdr[i].p_type == PT_LOAD && (info->dlpi_phdr[i].p_flags & PF_X)) {
            object[objects].from = info->dlpi_addr + info->dlpi_phdr[i].p_vaddr;
            object[objects].to = object[objects].from + info->dlpi_phdr[i].p_memsz;
            objects++;
        }
    return 0;
}

/* The returns on the stack, each as its place in the library that it is in. */
static uint64_t way(void)
{
    void *frame[FRAMES];
    int n = backtrace(frame, FRAMES);
    uint64_t h = 1469598103934665603u; /* FNV-1a */

    for (int i = 2; i < n; i++) {
        uintptr_t a = (uintptr_t)frame[i];

        for (int o = 0; o < objects; o++)
            if (a >= object[o].from && a < object[o].to) {
                a = (a - object[o].from) ^ (uintptr_t)o << 48;
                break;
            }
        h = (h ^ a) * 1099511628211u;
    }
    return h;
}

static bool in_program(uintptr_t a)
{
    return objects && a >= object[0].from && a < object[0].to; /* the program is the first that is told */
}

/* Whether it is the program that called for its end, and not a library: glibc's abort and its kin are passed over. */
static bool asserted(void)
{
    void *frame[FRAMES];
    uintptr_t libc = (uintptr_t)__libc_malloc;
    int n, own = 0;

    for (int o = 0; o < objects; o++)
        if (libc >= object[o].from && libc < object[o].to)
            own = o;
    inside = true;
    n = backtrace(frame, FRAMES);
    for (int i = 3; i < n; i++) { /* this, the handler, the frame of the signal */
        uintptr_t a = (uintptr_t)frame[i];

        if (a < object[own].from || a >= object[own].to)
            return in_program(a);
    }
    return true;
}

static void fell(int number, siginfo_t *info, void *context)
{
    const ucontext_t *c = context;
#if defined __x86_64__
    const uintptr_t here = (uintptr_t)c->uc_mcontext.gregs[REG_RIP];
#else
    const uintptr_t here = (uintptr_t)c->uc_mcontext.pc;
#endif

    (void)info;
    if (number == SIGABRT ? !asserted() : !in_program(here))
        _exit(IN_LIBRARY);
    (void)signal(number, SIG_DFL);
    (void)raise(number);
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

void *malloc(size_t n)
{
    return fails() ? NULL : __libc_malloc(n);
}

void *calloc(size_t n, size_t size)
{
    return fails() ? NULL : __libc_calloc(n, size);
}

void *realloc(void *p, size_t n)
{
    return fails() ? NULL : __libc_realloc(p, n);
}

__attribute__((constructor)) static void begin(void)
{
    const char *n = getenv("TB_MEMORY_AT"), *log = getenv("TB_MEMORY_LOG");
    static char room[1 << 16]; /* GLib without memory calls itself until the stack is full */
    const stack_t stack = { .ss_sp = room, .ss_size = sizeof room };
    const struct sigaction act = { .sa_sigaction = fell, .sa_flags = SA_SIGINFO | SA_ONSTACK };
    void *frame[2];

    (void)sigaltstack(&stack, NULL);
    (void)sigaction(SIGABRT, &act, NULL);
    (void)sigaction(SIGSEGV, &act, NULL);
    (void)sigaction(SIGTRAP, &act, NULL);
    (void)dl_iterate_phdr(take_object, NULL);
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
