/* apart_child.c - the child's side: what it gives up before it reads, and how it answers. */
#include "base/apart_impl.h"
#include "base/say.h"

#include <errno.h>
#include <fcntl.h>
#include <signal.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/mman.h>
#include <sys/prctl.h>
#include <sys/resource.h>
#include <unistd.h>

#include <seccomp.h>

#define SEND_AT 65536 /* bytes that are worth a call */

/* --- what it gives up ------------------------------------------------------------------------------------------- */

/* An old kernel knows only one at a time. */
static void close_from_to(unsigned from, unsigned to)
{
    if (from <= to && close_range(from, to, 0) != 0)
        for (unsigned fd = from; fd <= to && fd < 65536; fd++)
            (void)close((int)fd);
}

/* Book, terminal, network: all that is open but the file and the way back. Where faults are looked for, they are printed. */
static void close_others(int file, int way)
{
    const int keep[] = { file, way, TB_APART_LOOSE ? STDERR_FILENO : -1 };
    unsigned from = 0;

    for (;;) {
        unsigned next = ~0u;

        for (size_t i = 0; i < TB_COUNT(keep); i++)
            if (keep[i] >= (int)from && (unsigned)keep[i] < next)
                next = (unsigned)keep[i];
        if (next == ~0u)
            break;
        if (next)
            close_from_to(from, next - 1);
        from = next + 1;
    }
    close_from_to(from, ~0u);
}

static void limit(int what, rlim_t most, rlim_t never_more)
{
    const struct rlimit r = { most, never_more };

    (void)setrlimit((__rlimit_resource_t)what, &r);
}

/* The limit counts what the program has mapped already; SIZE_MAX: the system does not say how much that is. */
static size_t mapped(void)
{
    unsigned long pages;
    FILE *f = fopen("/proc/self/statm", "re");
    bool good = f && fscanf(f, "%lu", &pages) == 1;

    if (f)
        (void)fclose(f);
    return good ? pages * (size_t)sysconf(_SC_PAGESIZE) : SIZE_MAX;
}

static void limit_memory(unsigned mb)
{
    size_t has = mapped(), more = (size_t)mb << 20;

    if (has < SIZE_MAX - more)
        limit(RLIMIT_AS, has + more, has + more);
    else
        limit(RLIMIT_DATA, more, more);
}

/*
 * Calls that reading a file with libzip, expat, zlib, libpng, libpoppler and libcrypto needs, besides those with a condition
 * below. Whatever looks a name up, of a file or a catalogue of sentences, is told that it may not, and so is sorting, which asks
 * how much memory the machine has and does without; anything else ends the process.
 */
static const int allowed[] = {
    SCMP_SYS(read),          SCMP_SYS(pread64),        SCMP_SYS(lseek),        SCMP_SYS(fstat),
    SCMP_SYS(dup),           SCMP_SYS(close),          SCMP_SYS(brk),          SCMP_SYS(munmap),
    SCMP_SYS(mremap),        SCMP_SYS(madvise),        SCMP_SYS(futex),        SCMP_SYS(getrandom),
    SCMP_SYS(clock_gettime), SCMP_SYS(gettimeofday),   SCMP_SYS(time),         SCMP_SYS(getpid),
    SCMP_SYS(gettid),        SCMP_SYS(rt_sigprocmask), SCMP_SYS(rt_sigreturn), SCMP_SYS(restart_syscall),
    SCMP_SYS(exit),          SCMP_SYS(exit_group),
};
static const int denied[] = {
    SCMP_SYS(open),      SCMP_SYS(openat),     SCMP_SYS(stat),    SCMP_SYS(lstat),
    SCMP_SYS(statx),     SCMP_SYS(readlink),   SCMP_SYS(access),  SCMP_SYS(readlinkat),
    SCMP_SYS(faccessat), SCMP_SYS(faccessat2), SCMP_SYS(sysinfo),
};

/* A call that is answered so where one of its arguments compares so; any other use of it ends the process, or has a rule too. */
static bool rule(scmp_filter_ctx c, unsigned answer, int call, unsigned arg, enum scmp_compare op,
                 uint64_t with, uint64_t masked)
{
    const struct scmp_arg_cmp when = { .arg = arg, .op = op, .datum_a = with, .datum_b = masked };

    return seccomp_rule_add_array(c, answer, call, 1, &when) == 0;
}

/* Memory is never made into code, a signal goes to nobody else (abort sends one), and what is written goes back. */
static bool allow_some(scmp_filter_ctx c, int way)
{
    const unsigned yes = SCMP_ACT_ALLOW, no = SCMP_ACT_ERRNO(EACCES), bad = SCMP_ACT_ERRNO(EBADF);
    const enum scmp_compare eq = SCMP_CMP_EQ, ne = SCMP_CMP_NE, bits = SCMP_CMP_MASKED_EQ;
    const uint64_t self = (uint64_t)getpid(), back = (uint64_t)way;

    return rule(c, yes, SCMP_SYS(mmap), 2, bits, PROT_EXEC, 0) &&
           rule(c, yes, SCMP_SYS(mprotect), 2, bits, PROT_EXEC, 0) &&
           rule(c, yes, SCMP_SYS(tgkill), 0, eq, self, 0) &&
           rule(c, yes, SCMP_SYS(fcntl), 1, eq, F_GETFL, 0) &&
           rule(c, yes, SCMP_SYS(fcntl), 1, eq, F_SETFD, 0) &&
           rule(c, yes, SCMP_SYS(write), 0, eq, back, 0) && rule(c, bad, SCMP_SYS(write), 0, ne, back, 0) &&
           rule(c, yes, SCMP_SYS(newfstatat), 3, bits, AT_EMPTY_PATH, AT_EMPTY_PATH) &&
           rule(c, no, SCMP_SYS(newfstatat), 3, bits, AT_EMPTY_PATH, 0);
}

static bool limit_calls(int way)
{
    scmp_filter_ctx c = seccomp_init(SCMP_ACT_KILL_PROCESS);
    bool good = c != NULL;

    for (size_t i = 0; good && i < TB_COUNT(allowed); i++)
        good = seccomp_rule_add(c, SCMP_ACT_ALLOW, allowed[i], 0) == 0;
    for (size_t i = 0; good && i < TB_COUNT(denied); i++)
        good = seccomp_rule_add(c, SCMP_ACT_ERRNO(EACCES), denied[i], 0) == 0;
    good = good && allow_some(c, way) && seccomp_load(c) == 0;
    if (c)
        seccomp_release(c);
    return good;
}

/* abort would not do: a heap that a library broke, and an assertion, end with its signal too. */
static void no_memory(void)
{
    _exit(TB_APART_NO_MEMORY);
}

/* All it does not need; answers whether its calls are limited too. */
static bool give_up(const struct tb_apart_job *job, int way, pid_t parent)
{
    unsigned seconds = job->seconds ? job->seconds : TB_APART_SECONDS;

    if (prctl(PR_SET_PDEATHSIG, SIGKILL) != 0 || getppid() != parent)
        _exit(1);
    (void)tb_on_no_memory(no_memory);
    (void)signal(SIGXCPU, SIG_DFL);
    (void)signal(SIGPIPE, SIG_DFL);
    if (job->before)
        job->before();
    (void)_("the file is empty"); /* the catalogue is read now, while files can be opened */
    limit(RLIMIT_CORE, 0, 0);
    limit(RLIMIT_CPU, seconds,
          seconds + 1); /* at the second there is no signal that could be told from others */
    if (!TB_APART_LOOSE) {
        limit(RLIMIT_FSIZE, 0, 0);
        limit_memory(job->memory_mb ? job->memory_mb : TB_APART_MEMORY_MB);
    }
    close_others(job->file, way);
    return !TB_APART_LOOSE && limit_calls(way);
}

bool tb_apart_is_guarded(const struct tb_apart *to)
{
    return to->guarded;
}

/* --- how it answers --------------------------------------------------------------------------------------------- */

static void flush(struct tb_apart *to)
{
    for (size_t at = 0; at < to->out.n;) {
        ssize_t n = write(to->fd, to->out.s + at, to->out.n - at);

        if (n < 0 && errno != EINTR)
            _exit(1);
        at += n > 0 ? (size_t)n : 0;
    }
    tb_text_clear(&to->out);
}

static bool hear(const struct tb_apart *to)
{
    char yes = 0;
    ssize_t got;

    while ((got = read(to->fd, &yes, 1)) < 0 && errno == EINTR)
        ;
    if (got != 1)
        _exit(1);
    return yes != 0;
}

static bool send(struct tb_apart *to, enum tb_apart_kind kind, const void *part, size_t n)
{
    const struct tb_apart_head head = { kind, (uint32_t)n };

    if (TB_APART_TOGETHER) {
        bool yes = false;

        if (to->rc == TB_OK && kind <= TB_APART_ASK)
            to->rc = to->job->take(to->job->arg, part, n, &yes, to->err);
        return yes;
    }
    if (n > TB_APART_PART_MOST)
        abort();
    tb_piece_add(&to->out, &head, sizeof head);
    tb_piece_add(&to->out, part, n);
    if (to->out.n >= SEND_AT || kind != TB_APART_PART)
        flush(to);
    return kind == TB_APART_ASK && hear(to);
}

void tb_apart_send(struct tb_apart *to, const void *part, size_t n)
{
    (void)send(to, TB_APART_PART, part, n);
}

bool tb_apart_ask(struct tb_apart *to, const void *part, size_t n)
{
    return send(to, TB_APART_ASK, part, n);
}

/* Nothing is cleared away at the end: what this process has of the parent's is not its own. */
_Noreturn void tb_apart_child(int fd, const struct tb_apart_job *job, pid_t parent)
{
    struct tb_apart to = { .fd = fd };
    struct tb_apart_failure f = { 0 };

    to.guarded = give_up(job, fd, parent);
    f.rc = (int32_t)job->read(&to, job->arg, &f.err);
    if (f.rc == TB_OK)
        (void)send(&to, TB_APART_END, "", 0);
    else
        (void)send(&to, TB_APART_FAIL, &f, sizeof f);
    if (TB_APART_COUNTED)
        exit(0); /* which lines ran is written then */
    _exit(0);
}

tb_rc tb_apart_here(const struct tb_apart_job *job, struct tb_err *err)
{
    struct tb_apart to = { .job = job, .err = err };
    tb_rc rc;

    if (job->before)
        job->before();
    rc = job->read(&to, job->arg, err);
    return to.rc == TB_OK ? rc : to.rc;
}
