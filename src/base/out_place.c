/* out_place.c - where a paper may go: never over a book, never over what is no file, over a paper only where asked for. */
#include "base/outfile_impl.h"
#include "tenterbook/utf8.h"

#include <errno.h>
#include <fcntl.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

bool tb_head_read(unsigned char head[TB_SQLITE_HEAD], const char *path)
{
    int fd = open(path, O_RDONLY | O_CLOEXEC | O_NONBLOCK), why;
    ssize_t n;

    memset(head, 0, TB_SQLITE_HEAD);
    if (fd < 0)
        return false;
    n = read(fd, head, TB_SQLITE_HEAD);
    why = errno;
    (void)close(fd);
    errno = why;
    return n >= 0;
}

bool tb_head_is_sqlite(const unsigned char head[TB_SQLITE_HEAD])
{
    return memcmp(head, "SQLite format 3", 16) == 0;
}

/* A name is printed and kept in the list of its set, one a line. */
static tb_rc check_name(const char *path, const char *suffix, struct tb_err *err)
{
    size_t n = strlen(path), tail = strlen(suffix);

    for (size_t at = 0; at < n;) {
        unsigned cp;

        at += tb_utf8_next(path + at, n - at, &cp);
        if (tb_utf8_control(cp) || cp < ' ')
            return tb_fail(err, TB_EINVAL, "the name of a file holds a control character");
    }
    if (n <= tail || strcmp(path + n - tail, suffix) != 0 || path[n - tail - 1] == '/')
        return tb_fail(err, TB_EINVAL, "%s: the name of what is written there ends in %s", path, suffix);
    return TB_OK;
}

/* Also under another name: what a file is stands in its first bytes, not in what it is called. */
static tb_rc check_content(const char *path, struct tb_err *err)
{
    unsigned char head[TB_SQLITE_HEAD];

    if (!tb_head_read(head, path))
        return tb_fail(err, TB_EREFUSED,
                       "%s cannot be read, so it may be a book; nothing is written over it (%s)", path,
                       strerror(errno));
    if (tb_head_is_sqlite(head))
        return tb_fail(err, TB_EREFUSED, "%s is a book or another database; nothing is written over it",
                       path);
    return TB_OK;
}

tb_rc tb_out_place(bool *over, const char *path, const char *suffix, bool replace, struct tb_err *err)
{
    struct stat st;
    tb_rc rc = check_name(path, suffix, err);

    *over = false;
    if (rc != TB_OK)
        return rc;
    if (lstat(path, &st) != 0)
        return errno == ENOENT ? TB_OK : tb_out_trouble(err, "lstat", path);
    *over = true;
    if (S_ISLNK(st.st_mode))
        return tb_fail(err, TB_EREFUSED, "%s is a link; give the name of the file itself", path);
    if (!S_ISREG(st.st_mode))
        return tb_fail(err, TB_EREFUSED, "%s is a folder or a device; a paper is written to a file", path);
    if ((rc = check_content(path, err)) != TB_OK)
        return rc;
    if (!replace)
        return tb_fail(err, TB_EEXISTS, "%s is there already; --replace writes over it", path);
    return TB_OK;
}
