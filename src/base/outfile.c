/* outfile.c - one file of a set: made beside its name, lent to a library, pushed to the disk. */
#include "base/outfile_impl.h"

#include <errno.h>
#include <fcntl.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

/* errno is read first: the calls below may change it. */
tb_rc tb_out_trouble(struct tb_err *err, const char *what, const char *path)
{
    int why = errno;

    (void)tb_fail(err, TB_EIO, "%s cannot be written: %s", path, strerror(why));
    tb_detail(err, "%s: errno %d", what, why);
    return TB_EIO;
}

char *tb_out_in(const char *folder, const char *name)
{
    struct tb_text t = { 0 };

    tb_text_addf(&t, "%s/%s", folder, name);
    return tb_text_take(&t);
}

char *tb_out_folder(const char *path)
{
    const char *slash = strrchr(path, '/');

    return !slash ? tb_strdup(".") : tb_strndup(path, slash == path ? 1 : (size_t)(slash - path));
}

/* A library that opens the part by name must not find it open already. */
tb_rc tb_outfile_lend(struct tb_outfile *out, struct tb_err *err)
{
    FILE *f = out->f;

    out->f = NULL;
    return f && fclose(f) != 0 ? tb_out_trouble(err, "fclose", out->path) : TB_OK;
}

tb_rc tb_out_sync(const char *name, const char *path, int flags, struct tb_err *err)
{
    int fd = open(name, flags | O_CLOEXEC), bad;

    if (fd < 0)
        return tb_out_trouble(err, "open", path);
    bad = fsync(fd);
    if (bad)
        (void)tb_out_trouble(err, "fsync", path);
    if (close(fd) != 0 && !bad)
        return tb_out_trouble(err, "close", path);
    return bad ? TB_EIO : TB_OK;
}

bool tb_out_put(int fd, const void *bytes, size_t n)
{
    const char *p = bytes;

    while (n) {
        ssize_t done = write(fd, p, n);

        if (done < 0 && errno == EINTR)
            continue;
        if (done <= 0)
            return false;
        p += done;
        n -= (size_t)done;
    }
    return fsync(fd) == 0;
}

static tb_rc settle_stream(struct tb_outfile *out, struct tb_err *err)
{
    FILE *f = out->f;
    bool bad = fflush(f) != 0 || ferror(f) || fsync(fileno(f)) != 0;

    out->f = NULL;
    if (bad)
        (void)tb_out_trouble(err, "fsync", out->path);
    if (fclose(f) != 0 && !bad)
        return tb_out_trouble(err, "fclose", out->path);
    return bad ? TB_EIO : TB_OK;
}

/* fsync before rename: else the name may reach the disk before the bytes do. */
tb_rc tb_outfile_settle(struct tb_outfile *out, struct tb_err *err)
{
    struct stat st;
    tb_rc rc;

    if (out->settled)
        return TB_OK;
    rc = out->f ? settle_stream(out, err) : tb_out_sync(out->part, out->path, O_RDONLY, err);
    if (rc == TB_OK && stat(out->part, &st) != 0)
        rc = tb_out_trouble(err, "stat", out->path);
    if (rc != TB_OK)
        return rc;
    out->inode = st.st_ino;
    out->settled = true;
    return TB_OK;
}
