/* left.c - what killed programs left under passing names: whether anybody still works on it, and taking it away. */
#include "base/folder.h"

#include <dirent.h>
#include <errno.h>
#include <fcntl.h>
#include <signal.h>
#include <stdlib.h>
#include <string.h>
#include <sys/file.h>
#include <sys/stat.h>
#include <time.h>
#include <unistd.h>

#define YOUNG 60 /* seconds: a file that new may belong to a program that is about to lock it */

bool tb_left_is_gone(long process)
{
    return kill((pid_t)process, 0) != 0 && errno == ESRCH;
}

/*
 * Opened, locked, and still there under its name: nobody else is at it. One with the number of this process that nobody holds is
 * of a process before it: in a container all may have the same.
 */
int tb_left_take(const char *path, long process)
{
    int fd = open(path, O_RDWR | O_NOFOLLOW | O_CLOEXEC | O_NONBLOCK);
    struct stat mine, now;
    int locked;

    if (fd < 0)
        return -1;
    locked = flock(fd, LOCK_EX | LOCK_NB);
    if ((locked == 0 || errno != EWOULDBLOCK) && fstat(fd, &mine) == 0 && S_ISREG(mine.st_mode) &&
        mine.st_uid == geteuid() && stat(path, &now) == 0 && now.st_ino == mine.st_ino &&
        (tb_left_is_gone(process) ||
         (locked == 0 && (process == getpid() || time(NULL) - mine.st_mtime > YOUNG))))
        return fd;
    (void)close(fd);
    return -1;
}

/* Behind a word the digits that must follow it; 0: it is not there. */
static size_t word_and_digits(const char *s, const char *word)
{
    size_t n = strlen(word), digits = strncmp(s, word, n) == 0 ? strspn(s + n, "0123456789") : 0;

    return digits ? n + digits : 0;
}

/* What may stand behind a passing name: what SQLite keeps beside it, a passing copy of it, a copy before its upgrade. */
static bool is_tail(const char *s)
{
    size_t n;

    for (size_t i = 0; i < TB_BESIDE; i++)
        if (strcmp(s, tb_beside[i]) == 0)
            return true;
    if ((n = word_and_digits(s, TB_HALF)) == 0 && (n = word_and_digits(s, ".before-")) != 0)
        n += word_and_digits(s + n, "-");
    return n && is_tail(s + n);
}

/* NAME.new-NUMBER and what stands behind it; NULL: not a name of ours. */
static const char *read_half(long *process, const char *file, const char *name)
{
    size_t n = strlen(name), passing;

    if (strncmp(file, name, n) != 0 || (passing = word_and_digits(file + n, TB_HALF)) == 0 ||
        !is_tail(file + n + passing))
        return NULL;
    *process = strtol(file + n + sizeof TB_HALF - 1, NULL, 10);
    return *process > 0 ? file + n + passing : NULL;
}

/* What SQLite keeps beside it goes with it, or after it where it is gone already. */
static void clear_half(const char *folder, const char *file, const char *tail, long process)
{
    char *path = tb_out_in(folder, file);
    int fd = -1;

    if (*tail)
        path[strlen(path) - strlen(tail)] = '\0';
    if (!*tail && (fd = tb_left_take(path, process)) >= 0)
        (void)unlink(path);
    if (*tail && (process == getpid() || tb_left_is_gone(process)) && access(path, F_OK) != 0) {
        path[strlen(path)] = *tail;
        (void)unlink(path);
    }
    if (fd >= 0)
        (void)close(fd);
    free(path);
}

void tb_left_clear(const char *path)
{
    const char *slash = strrchr(path, '/'), *tail, *const name = slash ? slash + 1 : path;
    char *folder = tb_out_folder(path);

    for (int beside = 0; beside < 2; beside++) { /* first the files themselves, then what lies beside them */
        DIR *d = opendir(folder);
        const struct dirent *e;
        long process;

        /* cppcheck-suppress readdirCalled ; the stream is this function's own */
        while (d && (e = readdir(d))) /* NOLINT(concurrency-mt-unsafe): as above */
            if ((tail = read_half(&process, e->d_name, name)) && (*tail != 0) == beside)
                clear_half(folder, e->d_name, tail, process);
        if (d)
            (void)closedir(d);
    }
    free(folder);
}
