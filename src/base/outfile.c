/* outfile.c - a file that is there whole or not at all: written beside its name, then renamed. */
#include "tenterbook/outfile.h"

#include "tenterbook/date.h"

#include <errno.h>
#include <fcntl.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

/* errno is read first: the calls below may change it. */
static tb_rc trouble(struct tb_err *err, const char *what, const char *path)
{
    int why = errno;

    (void)tb_fail(err, TB_EIO, "%s cannot be written: %s", path, strerror(why));
    tb_detail(err, "%s: errno %d", what, why);
    return TB_EIO;
}

/* The part file has an identifier in its name, so that two programs writing one file do not meet. */
tb_rc tb_outfile_open(struct tb_outfile *out, const char *path, struct tb_err *err)
{
    struct tb_text part = { 0 };
    char id[TB_ID_LEN + 1];
    int fd;

    *out = (struct tb_outfile){ 0 };
    tb_id_make(id);
    tb_text_addf(&part, "%s.%s.part", path, id);
    /* 0666 and not mkstemp's 0600: who may read the finished file is for the umask to say */
    fd = open(tb_text_str(&part), O_WRONLY | O_CREAT | O_EXCL | O_CLOEXEC, 0666);
    if (fd < 0) {
        tb_rc rc = trouble(err, "open", path);

        tb_text_free(&part);
        return rc;
    }
    out->path = tb_strdup(path);
    out->part = tb_text_take(&part);
    out->f = fdopen(fd, "wb");
    if (!out->f) {
        tb_rc rc = trouble(err, "fdopen", path);

        (void)close(fd);
        tb_outfile_drop(out);
        return rc;
    }
    return TB_OK;
}

/* A library that opens the part by name must not find it open already. */
tb_rc tb_outfile_lend(struct tb_outfile *out, struct tb_err *err)
{
    FILE *f = out->f;

    out->f = NULL;
    return f && fclose(f) != 0 ? trouble(err, "fclose", out->path) : TB_OK;
}

/* A library wrote it: open it again only to push it to the disk. */
static tb_rc sync_by_name(const char *name, const char *path, int flags, struct tb_err *err)
{
    int fd = open(name, flags | O_CLOEXEC), bad;

    if (fd < 0)
        return trouble(err, "open", path);
    bad = fsync(fd);
    if (bad)
        (void)trouble(err, "fsync", path);
    if (close(fd) != 0 && !bad)
        return trouble(err, "close", path);
    return bad ? TB_EIO : TB_OK;
}

/* fsync before rename: else the name may reach the disk before the bytes do. */
tb_rc tb_outfile_settle(struct tb_outfile *out, struct tb_err *err)
{
    FILE *f = out->f;
    bool bad;

    if (!f)
        return sync_by_name(out->part, out->path, O_RDONLY, err);
    out->f = NULL;
    bad = fflush(f) != 0 || ferror(f) || fsync(fileno(f)) != 0;
    if (bad)
        (void)trouble(err, "fsync", out->path);
    if (fclose(f) != 0 && !bad)
        return trouble(err, "fclose", out->path);
    return bad ? TB_EIO : TB_OK;
}

/* The new name itself lives in the folder: that has to reach the disk too. */
static tb_rc sync_folder(const char *path, struct tb_err *err)
{
    const char *slash = strrchr(path, '/');
    char *folder = !slash ? tb_strdup(".") : tb_strndup(path, slash == path ? 1 : (size_t)(slash - path));
    tb_rc rc = sync_by_name(folder, path, O_RDONLY | O_DIRECTORY, err);

    free(folder);
    return rc;
}

/* Until the rename nothing has changed for whoever reads the old file. */
tb_rc tb_outfile_commit(struct tb_outfile *out, struct tb_err *err)
{
    tb_rc rc = out->f ? tb_outfile_settle(out, err) : TB_OK;

    if (rc == TB_OK && rename(out->part, out->path) != 0)
        rc = trouble(err, "rename", out->path);
    if (rc != TB_OK) {
        tb_outfile_drop(out);
        return rc;
    }
    rc = sync_folder(out->path, err);
    free(out->part);
    out->part = NULL; /* it has its name now: nothing to remove */
    tb_outfile_drop(out);
    return rc;
}

void tb_outfile_drop(struct tb_outfile *out)
{
    if (out->f)
        (void)fclose(out->f);
    if (out->part)
        (void)unlink(out->part);
    free(out->part);
    free(out->path);
    *out = (struct tb_outfile){ 0 };
}
