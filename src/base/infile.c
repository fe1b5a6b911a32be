/* infile.c - files that somebody else made, opened: looked at before they are read, and never waited for. */
#include "base/infile.h"

#include <errno.h>
#include <fcntl.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

static tb_rc too_large(uint64_t most, struct tb_err *err)
{
    return tb_fail(err, TB_EINVAL, "the file has more than %llu MB, and no more are read",
                   (unsigned long long)(most >> 20));
}

static tb_rc check(const struct stat *st, uint64_t most, struct tb_err *err)
{
    if (S_ISDIR(st->st_mode))
        return tb_fail(err, TB_EINVAL, "this is a folder, not a file");
    if (S_ISFIFO(st->st_mode) || S_ISSOCK(st->st_mode))
        return tb_fail(err, TB_EINVAL,
                       "this is a pipe, not a file; save what comes through it and give that");
    if (!S_ISREG(st->st_mode))
        return tb_fail(err, TB_EINVAL, "this is a device, not a file");
    return (uint64_t)st->st_size > most ? too_large(most, err) : TB_OK;
}

/* Without O_NONBLOCK, opening a pipe waits for whoever writes into it, perhaps for ever; a file knows no such waiting. */
tb_rc tb_in_open(FILE **out, size_t *size, const char *path, uint64_t most, struct tb_err *err)
{
    struct stat st;
    int fd = open(path, O_RDONLY | O_CLOEXEC | O_NONBLOCK | O_NOCTTY);
    tb_rc rc;

    if (fd < 0 && errno == ENXIO) /* a socket, or a device that is not there */
        return tb_fail(err, TB_EINVAL, "this is a device, not a file");
    if (fd < 0)
        return tb_fail(err, errno == ENOENT || errno == ENOTDIR ? TB_ENOTFOUND : TB_EIO,
                       "the file cannot be opened: %s", strerror(errno));
    if (fstat(fd, &st) != 0)
        rc = tb_fail(err, TB_EIO, "the file cannot be looked at: %s", strerror(errno));
    else if ((rc = check(&st, most, err)) == TB_OK && !(*out = fdopen(fd, "rb")))
        rc = tb_fail(err, TB_EIO, "the file cannot be opened: %s", strerror(errno));
    if (rc != TB_OK)
        (void)close(fd);
    else if (size)
        *size = (size_t)st.st_size;
    return rc;
}

tb_rc tb_in_whole(struct tb_text *out, const char *path, uint64_t most, struct tb_err *err)
{
    FILE *f;
    size_t size, n;
    tb_rc rc = tb_in_open(&f, &size, path, most, err);

    if (rc != TB_OK)
        return rc;
    *out = (struct tb_text){ .s = tb_alloc(size + 2, 1), .cap = size + 2 };
    n = fread(out->s, 1, size + 1, f); /* one more than there should be: the end is seen */
    if (ferror(f))
        rc = tb_fail(err, TB_EIO, "the file cannot be read: %s", strerror(errno));
    else if (n != size)
        rc = tb_fail(err, TB_EIO, "the file changed while it was read; try again when it is at rest");
    (void)fclose(f);
    out->n = size;
    if (rc != TB_OK)
        tb_text_free(out);
    return rc;
}

tb_rc tb_in_standard(FILE **out, uint64_t most, struct tb_err *err)
{
    char buf[65536];
    uint64_t all = 0;
    FILE *f = tmpfile();
    size_t n;
    tb_rc rc = TB_OK;

    if (!f)
        return tb_fail(err, TB_EIO, "standard input cannot be kept for reading: %s", strerror(errno));
    while (all <= most && (n = fread(buf, 1, sizeof buf, stdin)) > 0) {
        all += n;
        if (fwrite(buf, 1, n, f) != n)
            break;
    }
    if (ferror(stdin) || ferror(f) || fflush(f) != 0)
        rc = tb_fail(err, TB_EIO, "standard input could not be read: %s", strerror(errno));
    else if (all > most)
        rc = too_large(most, err);
    if (rc == TB_OK)
        rewind(f);
    else
        (void)fclose(f);
    if (rc == TB_OK)
        *out = f;
    return rc;
}
