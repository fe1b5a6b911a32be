/*
 * fail.c - makes one thing fail that hardly ever does: preloaded before the program (LD_PRELOAD), which is not changed.
 *
 *   TB_FAIL_LOG=FILE     writes a line for each thing that could fail, in order: "sql" and the statement begun, "row" and the
 *                        statement that gave a row, or the name of a call of the system on a file
 *   TB_FAIL_AT=N         the N-th of them fails, counted from 1: a statement ends as if it was interrupted, a call answers
 *                        that the disk is full or failed
 *
 * Only files below the folder TB_FAIL_DIR count, so that what the program reads of the system is left alone. SQLite asks the
 * same calls of the system, so that its own reads, writes and syncs fail too.
 */
#include <dlfcn.h>
#include <errno.h>
#include <fcntl.h>
#include <stdarg.h>
#include <stdbool.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include <sqlite3.h>

static long at, seen;
static int log_fd = -1;
static const char *dir;

/* by way of a number: the language does not make a pointer to a function of one to data */
#define REAL(name) ((__typeof__(&name))(uintptr_t)dlsym(RTLD_NEXT, #name))

/* Answers whether this one is to fail. The log is written by the call of the system itself, which is wrapped below. */
static bool fails(const char *what, const char *more)
{
    if (log_fd >= 0) {
        char line[400];
        int n = snprintf(line, sizeof line, "%s %s", what, more ? more : "");
        size_t length = n < 0 ? 0 : (size_t)n < sizeof line ? (size_t)n : sizeof line - 1;

        for (size_t i = 0; i < length; i++)
            if (line[i] == '\n')
                line[i] = ' ';
        line[length] = '\n';
        if (REAL(write)(log_fd, line, length + 1) < 0)
            abort();
    }
    return ++seen == at;
}

/* --- statements ------------------------------------------------------------------------------------------------- */

static int traced(unsigned event, void *db, void *st, void *text)
{
    bool row = event == SQLITE_TRACE_ROW;

    if (fails(row ? "row" : "sql", row ? sqlite3_sql(st) : text))
        sqlite3_interrupt(db);
    return 0;
}

static int connected(sqlite3 *db, char **sentence, const void *api)
{
    (void)sentence;
    (void)api;
    return sqlite3_trace_v2(db, SQLITE_TRACE_STMT | SQLITE_TRACE_ROW, traced, db);
}

__attribute__((constructor)) static void begin(void)
{
    const char *n = getenv("TB_FAIL_AT"), *log = getenv("TB_FAIL_LOG");

    dir = getenv("TB_FAIL_DIR");
    at = n ? strtol(n, NULL, 10) : 0;
    if (log)
        log_fd = REAL(open)(log, O_WRONLY | O_CREAT | O_TRUNC | O_CLOEXEC, 0666);
    (void)sqlite3_auto_extension((void (*)(void))connected);
}

/* --- calls of the system ---------------------------------------------------------------------------------------- */

static bool ours_named(const char *path)
{
    char here[4096];

    if (!dir)
        return false;
    if (path[0] == '/')
        return strncmp(path, dir, strlen(dir)) == 0;
    return getcwd(here, sizeof here) && strncmp(here, dir, strlen(dir)) == 0;
}

static bool fd_fails(const char *what, int fd, int why)
{
    char name[64], path[4096];
    ssize_t n;

    if (!dir || fd < 0 || fd == log_fd)
        return false;
    (void)snprintf(name, sizeof name, "/proc/self/fd/%d", fd);
    n = readlink(name, path, sizeof path - 1);
    if (n < 0)
        return false;
    path[n] = '\0';
    if (strncmp(path, dir, strlen(dir)) != 0 || !fails(what, path + strlen(dir)))
        return false;
    errno = why;
    return true;
}

static bool name_fails(const char *what, const char *path, int why)
{
    if (!ours_named(path) || !fails(what, path))
        return false;
    errno = why;
    return true;
}

#define OPEN(name)                                                                                           \
    int name(const char *path, int flags, ...)                                                               \
    {                                                                                                        \
        va_list ap;                                                                                          \
        mode_t mode;                                                                                         \
                                                                                                             \
        va_start(ap, flags);                                                                                 \
        mode = flags & O_CREAT ? va_arg(ap, mode_t) : 0;                                                     \
        va_end(ap);                                                                                          \
        return name_fails("open", path, flags & (O_WRONLY | O_RDWR) ? ENOSPC : EIO)                          \
                   ? -1                                                                                      \
                   : REAL(name)(path, flags, mode);                                                          \
    }
OPEN(open)
OPEN(open64)

#define FOPEN(name)                                                                                          \
    FILE *name(const char *path, const char *mode)                                                           \
    {                                                                                                        \
        return name_fails("fopen", path, *mode == 'r' ? EIO : ENOSPC) ? NULL : REAL(name)(path, mode);       \
    }
FOPEN(fopen)
FOPEN(fopen64)

ssize_t write(int fd, const void *p, size_t n)
{
    return fd_fails("write", fd, ENOSPC) ? -1 : REAL(write)(fd, p, n);
}

ssize_t pwrite64(int fd, const void *p, size_t n, off64_t to)
{
    return fd_fails("pwrite", fd, ENOSPC) ? -1 : REAL(pwrite64)(fd, p, n, to);
}

ssize_t read(int fd, void *p, size_t n)
{
    return fd_fails("read", fd, EIO) ? -1 : REAL(read)(fd, p, n);
}

ssize_t pread64(int fd, void *p, size_t n, off64_t from)
{
    return fd_fails("pread", fd, EIO) ? -1 : REAL(pread64)(fd, p, n, from);
}

int fsync(int fd)
{
    return fd_fails("fsync", fd, EIO) ? -1 : REAL(fsync)(fd);
}

int fdatasync(int fd)
{
    return fd_fails("fdatasync", fd, EIO) ? -1 : REAL(fdatasync)(fd);
}

int ftruncate64(int fd, off64_t n)
{
    return fd_fails("ftruncate", fd, EIO) ? -1 : REAL(ftruncate64)(fd, n);
}

FILE *fdopen(int fd, const char *mode)
{
    return fd_fails("fdopen", fd, ENOMEM) ? NULL : REAL(fdopen)(fd, mode);
}

/* As the library does it: whoever asks later, by ferror, learns it too. */
static bool stream_fails(const char *what, FILE *f, int why)
{
    if (!fd_fails(what, fileno(f), why))
        return false;
    f->_flags |= 0x20; /* _IO_ERR_SEEN of glibc */
    return true;
}

size_t fwrite(const void *p, size_t size, size_t n, FILE *f)
{
    return stream_fails("fwrite", f, ENOSPC) ? 0 : REAL(fwrite)(p, size, n, f);
}

size_t fread(void *p, size_t size, size_t n, FILE *f)
{
    return stream_fails("fread", f, EIO) ? 0 : REAL(fread)(p, size, n, f);
}

int fflush(FILE *f)
{
    return f && stream_fails("fflush", f, ENOSPC) ? EOF : REAL(fflush)(f);
}

int rename(const char *from, const char *to)
{
    return name_fails("rename", to, EIO) ? -1 : REAL(rename)(from, to);
}

int renameat2(int at_from, const char *from, int at_to, const char *to, unsigned flags)
{
    return name_fails("rename", to, EIO) ? -1 : REAL(renameat2)(at_from, from, at_to, to, flags);
}

int link(const char *from, const char *to)
{
    return name_fails("link", to, EIO) ? -1 : REAL(link)(from, to);
}

/* The file is closed whatever is answered, as the system does it. */
int close(int fd)
{
    bool bad = fd_fails("close", fd, EIO);
    int answer = REAL(close)(fd);

    if (bad)
        errno = EIO;
    return bad ? -1 : answer;
}

/* What was only read is whole, whether or not it can be closed: that failing is of no matter to anybody. */
int fclose(FILE *f)
{
    bool written = (fcntl(fileno(f), F_GETFL) & O_ACCMODE) != O_RDONLY;
    bool bad = written && fd_fails("fclose", fileno(f), ENOSPC);
    int answer = REAL(fclose)(f);

    if (bad)
        errno = ENOSPC;
    return bad ? EOF : answer;
}
