/*
 * papers.c - preloaded by tests/cli/test_papers.sh: counts what a program asks of the files under one folder, and fails the
 * n-th of it, or kills the program there.
 *
 *   TB_FAULT_UNDER  the folder, as the program's paths begin
 *   TB_FAULT_AT     which request fails, from 1; 0: none
 *   TB_FAULT_KILL   set: the program is killed instead
 *   TB_FAULT_COUNT  a file that takes the number of requests when the program ends, or "fault" at once
 *
 * Streams are made by fopencookie, since what the C library writes of its own streams passes no function that could be
 * replaced. Counted: opening, writing, truncating, pushing to the disk, naming, closing. Removing is not: a program that
 * clears away after a failure is not asked to survive a second one.
 */
#include <dlfcn.h>
#include <errno.h>
#include <fcntl.h>
#include <signal.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/types.h>
#include <unistd.h>

#define FILES 1024

static char under[FILES]; /* file numbers of files under the folder */
static FILE *stream[FILES];
static long requests;

#define REAL(type, name, ...) ((type(*)(__VA_ARGS__))dlsym(RTLD_NEXT, name))

static void tell(const char *words)
{
    const char *path = getenv("TB_FAULT_COUNT");
    int fd = path ? REAL(int, "open", const char *, int, ...)(path, O_WRONLY | O_CREAT | O_TRUNC, 0666) : -1;

    if (fd >= 0) {
        (void)!REAL(ssize_t, "write", int, const void *, size_t)(fd, words, strlen(words));
        (void)REAL(int, "close", int)(fd);
    }
}

/* One more request; true: it has to fail. */
static int fails(int why)
{
    const char *at = getenv("TB_FAULT_AT");

    if (++requests != (at ? atol(at) : 0))
        return 0;
    tell("fault");
    if (getenv("TB_FAULT_KILL"))
        (void)raise(SIGKILL);
    errno = why;
    return 1;
}

static __attribute__((destructor)) void end(void)
{
    const char *at = getenv("TB_FAULT_AT");
    char words[32];

    if (at && requests >= atol(at) && atol(at) > 0)
        return;
    (void)snprintf(words, sizeof words, "%ld", requests);
    tell(words);
}

static int is_under(const char *path)
{
    const char *folder = getenv("TB_FAULT_UNDER");

    return folder && path && strncmp(path, folder, strlen(folder)) == 0;
}

static int is_marked(int fd)
{
    return fd >= 0 && fd < FILES && under[fd];
}

static int mark(int fd)
{
    if (fd >= 0 && fd < FILES)
        under[fd] = 1;
    return fd;
}

/* --- file numbers ------------------------------------------------------------------------------------------------- */

static int open_it(const char *path, int flags, mode_t mode)
{
    int (*real)(const char *, int, ...) = REAL(int, "open", const char *, int, ...);

    if (!is_under(path))
        return real(path, flags, mode);
    return fails(ENOSPC) ? -1 : mark(real(path, flags, mode));
}

#define OPEN(name)                                                                                           \
    int name(const char *path, int flags, ...)                                                               \
    {                                                                                                        \
        va_list ap;                                                                                          \
        mode_t mode;                                                                                         \
        va_start(ap, flags);                                                                                 \
        mode = (flags & (O_CREAT | O_TMPFILE)) ? (mode_t)va_arg(ap, int) : 0;                                \
        va_end(ap);                                                                                          \
        return open_it(path, flags, mode);                                                                   \
    }
OPEN(open)
OPEN(open64)

ssize_t write(int fd, const void *p, size_t n)
{
    return is_marked(fd) && fails(ENOSPC) ? -1 : REAL(ssize_t, "write", int, const void *, size_t)(fd, p, n);
}

ssize_t pwrite64(int fd, const void *p, size_t n, off_t at)
{
    return is_marked(fd) && fails(ENOSPC)
               ? -1
               : REAL(ssize_t, "pwrite64", int, const void *, size_t, off_t)(fd, p, n, at);
}

ssize_t pwrite(int fd, const void *p, size_t n, off_t at)
{
    return pwrite64(fd, p, n, at);
}

int fsync(int fd)
{
    return is_marked(fd) && fails(EIO) ? -1 : REAL(int, "fsync", int)(fd);
}

int fdatasync(int fd)
{
    return is_marked(fd) && fails(EIO) ? -1 : REAL(int, "fdatasync", int)(fd);
}

int ftruncate64(int fd, off_t n)
{
    return is_marked(fd) && fails(EIO) ? -1 : REAL(int, "ftruncate64", int, off_t)(fd, n);
}

int ftruncate(int fd, off_t n)
{
    return ftruncate64(fd, n);
}

/* A close that fails has closed all the same, as on Linux. */
int close(int fd)
{
    int (*real)(int) = REAL(int, "close", int);

    if (!is_marked(fd))
        return real(fd);
    under[fd] = 0;
    if (!fails(EIO))
        return real(fd);
    (void)real(fd);
    errno = EIO;
    return -1;
}

/* --- names -------------------------------------------------------------------------------------------------------- */

int rename(const char *from, const char *to)
{
    return is_under(to) && fails(EIO) ? -1 : REAL(int, "rename", const char *, const char *)(from, to);
}

int renameat2(int at, const char *from, int there, const char *to, unsigned flags)
{
    return is_under(to) && fails(EIO) ? -1
                                      : REAL(int, "renameat2", int, const char *, int, const char *,
                                             unsigned)(at, from, there, to, flags);
}

int link(const char *from, const char *to)
{
    return is_under(to) && fails(EIO) ? -1 : REAL(int, "link", const char *, const char *)(from, to);
}

/* --- streams ------------------------------------------------------------------------------------------------------ */

static ssize_t take(void *fd, const char *p, size_t n)
{
    ssize_t done = write((int)(intptr_t)fd, p, n);

    return done < 0 ? 0 : done;
}

static ssize_t give(void *fd, char *p, size_t n)
{
    return read((int)(intptr_t)fd, p, n);
}

static int move(void *fd, off64_t *at, int whence)
{
    off_t to = lseek((int)(intptr_t)fd, *at, whence);

    *at = to;
    return to < 0 ? -1 : 0;
}

static int shut(void *fd)
{
    stream[(int)(intptr_t)fd] = NULL;
    return close((int)(intptr_t)fd);
}

FILE *fdopen(int fd, const char *mode)
{
    FILE *f;

    if (!is_marked(fd))
        return REAL(FILE *, "fdopen", int, const char *)(fd, mode);
    f = fopencookie((void *)(intptr_t)fd, mode, (cookie_io_functions_t){ give, take, move, shut });
    stream[fd] = f;
    return f;
}

int fileno(FILE *f)
{
    for (int i = 0; f && i < FILES; i++)
        if (stream[i] == f)
            return i;
    return REAL(int, "fileno", FILE *)(f);
}

FILE *fopen(const char *path, const char *mode)
{
    int flags = strchr(mode, '+') ? O_RDWR : *mode == 'r' ? O_RDONLY : O_WRONLY, fd;

    if (!is_under(path))
        return REAL(FILE *, "fopen", const char *, const char *)(path, mode);
    fd = open_it(path,
                 flags | (*mode == 'w'   ? O_CREAT | O_TRUNC
                          : *mode == 'a' ? O_CREAT | O_APPEND
                                         : 0),
                 0666);
    return fd < 0 ? NULL : fdopen(fd, mode);
}

FILE *fopen64(const char *path, const char *mode)
{
    return fopen(path, mode);
}
