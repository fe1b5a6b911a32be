/* half.c - a file that takes its name only when it is whole: under a passing name until then, and locked. */
#include "base/folder.h"

#include <errno.h>
#include <fcntl.h>
#include <limits.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/file.h>
#include <sys/stat.h>
#include <unistd.h>

const char *const tb_beside[TB_BESIDE] = { "", "-wal", "-shm", "-journal" };

static tb_rc not_made(const char *path, struct tb_err *err)
{
    return tb_fail(err, errno == EEXIST ? TB_EEXISTS : TB_EIO, "%s cannot be made: %s", path,
                   strerror(errno));
}

tb_rc tb_half_make(struct tb_half *half, const char *path, mode_t mode, struct tb_err *err)
{
    tb_rc rc;

    tb_left_clear(path);
    tb_text_addf(&half->name, "%s" TB_HALF "%ld", path, (long)getpid());
    if ((half->lock = open(half->name.s, O_RDWR | O_CREAT | O_EXCL | O_CLOEXEC, mode)) < 0) {
        rc = not_made(path, err);
        tb_text_free(&half->name);
        return rc == TB_EEXISTS ? TB_EIO : rc; /* what is there is the passing name */
    }
    (void)flock(half->lock, LOCK_EX | LOCK_NB);
    return TB_OK;
}

tb_rc tb_half_put(const struct tb_half *half, const char *path, const void *bytes, size_t n,
                  struct tb_err *err)
{
    return tb_out_put(half->lock, bytes, n) ? TB_OK : not_made(path, err);
}

/* A name that is only in memory is not safe either, and is taken back: what failed left nothing. */
tb_rc tb_half_name(const struct tb_half *half, const char *path, struct tb_err *err)
{
    struct stat mine, now;
    char *folder = tb_out_folder(path); /* asked for now: once the name is given nothing may fail */
    tb_rc rc = tb_out_name_new(half->name.s, path) == 0 ? TB_OK : not_made(path, err);

    if (rc != TB_OK) {
        free(folder);
        return rc;
    }
    rc = tb_out_sync(folder, path, O_RDONLY | O_DIRECTORY, err);
    free(folder);
    if (rc != TB_OK && fstat(half->lock, &mine) == 0 && lstat(path, &now) == 0 && now.st_ino == mine.st_ino)
        (void)unlink(path);
    return rc;
}

/*
 * The lock goes last, after SQLite has closed the file: closing any descriptor of a file gives up SQLite's locks on it. No memory is
 * asked for: what was to be written may stand already.
 */
void tb_half_remove(struct tb_half *half)
{
    if (!half->name.s)
        return;
    for (size_t i = 0; i < TB_BESIDE; i++) {
        char beside[PATH_MAX];
        int n = snprintf(beside, sizeof beside, "%s%s", half->name.s, tb_beside[i]);

        if (n > 0 && (size_t)n < sizeof beside)
            (void)unlink(beside);
    }
    (void)close(half->lock);
    tb_text_free(&half->name);
}
