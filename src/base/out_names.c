/* out_names.c - the files of a set take their names, all of them or none. */
#include "base/outfile_impl.h"

#include <dirent.h>
#include <errno.h>
#include <fcntl.h>
#include <stdio.h>
#include <stdlib.h>
#include <sys/stat.h>
#include <unistd.h>

static bool there(const char *name)
{
    struct stat st;

    return lstat(name, &st) == 0;
}

/* Still the file this set put there, and not one that came since. */
static bool is_ours(const struct tb_outfile *f)
{
    struct stat st;

    return lstat(f->path, &st) == 0 && st.st_ino == f->inode;
}

/* The file whose place is taken keeps a second name until the set is named. A memory stick knows no second name. */
static tb_rc keep_old(struct tb_outfile *f, struct tb_err *err)
{
    tb_rc rc;

    if (there(f->old))
        return TB_OK;
    if ((rc = tb_out_place(&f->over, f->path, "", true, err)) != TB_OK || !f->over)
        return rc; /* a book came there, or somebody took the file away and there is nothing to keep */
    if (link(f->path, f->old) == 0)
        return TB_OK;
    if ((errno == EPERM || errno == EOPNOTSUPP || errno == ENOSYS) && rename(f->path, f->old) == 0)
        return TB_OK;
    return tb_out_trouble(err, "link", f->path);
}

bool tb_out_is_same(const char *a, const char *b)
{
    struct stat x, y;

    return lstat(a, &x) == 0 && lstat(b, &y) == 0 && x.st_dev == y.st_dev && x.st_ino == y.st_ino;
}

int tb_out_name_new(const char *part, const char *path)
{
    if (renameat2(AT_FDCWD, part, AT_FDCWD, path, RENAME_NOREPLACE) == 0)
        return 0;
    if (errno != EINVAL && errno != ENOSYS)
        return -1;
    if (link(part, path) == 0) {
        (void)unlink(part);
        return 0;
    }
    if (errno != EPERM && errno != ENOTSUP)
        return -1;
    if (!there(path))
        return rename(part, path);
    errno = EEXIST;
    return -1;
}

static tb_rc name_one(struct tb_outfile *f, struct tb_err *err)
{
    tb_rc rc = f->over ? keep_old(f, err) : TB_OK;

    if (rc != TB_OK)
        return rc;
    if ((f->over ? rename(f->part, f->path) : tb_out_name_new(f->part, f->path)) != 0)
        return errno == EEXIST
                   ? tb_fail(err, TB_EEXISTS, "%s is there already; --replace writes over it", f->path)
                   : tb_out_trouble(err, "rename", f->path);
    f->named = true;
    return TB_OK;
}

/* Back to how it was. False: something could not be put back. */
static bool undo(struct tb_outset *set)
{
    bool good = true;

    for (size_t i = set->n; i-- > 0;) {
        struct tb_outfile *f = set->file[i];

        if (f->over && there(f->old) && (is_ours(f) || !there(f->path)))
            good = rename(f->old, f->path) == 0 && good;
        else if (!f->over && f->named && is_ours(f))
            good = unlink(f->path) == 0 && good;
    }
    return good;
}

/* The names live in the folder: that has to reach the disk too. */
tb_rc tb_out_name_all(struct tb_outset *set, bool *stuck, struct tb_err *err)
{
    tb_rc rc = TB_OK;

    for (size_t i = 0; i < set->n && rc == TB_OK; i++)
        if (!set->file[i]->named)
            rc = name_one(set->file[i], err);
    if (rc == TB_OK)
        rc = tb_out_sync(set->folder, set->file[0]->path, O_RDONLY | O_DIRECTORY, err);
    *stuck = rc != TB_OK && !undo(set);
    return rc;
}

/* Only files, and no folder within: that is all a library makes there. */
void tb_out_remove_work(const char *path)
{
    DIR *d = opendir(path);
    struct dirent *e;

    /* cppcheck-suppress readdirCalled ; each stream is read by one thread, and glibc keeps them apart */
    while (d && (e = readdir(d)) != NULL)
        (void)unlinkat(dirfd(d), e->d_name, 0);
    if (d)
        (void)closedir(d);
    (void)rmdir(path);
}

/* The list goes last: as long as it is there, the rest is found by it. */
void tb_out_clear(struct tb_outset *set)
{
    struct tb_text list = { 0 }, work = { 0 };

    tb_text_addf(&work, "%s" TB_LEFT_WORK, set->stem);
    tb_out_remove_work(tb_text_str(&work));
    tb_text_free(&work);
    for (size_t i = 0; i < set->n; i++) {
        if (set->file[i]->f)
            (void)fclose(set->file[i]->f);
        set->file[i]->f = NULL;
        (void)unlink(set->file[i]->part);
        (void)unlink(set->file[i]->old);
    }
    tb_text_addf(&list, "%s" TB_LEFT_LIST, set->stem);
    (void)unlink(tb_text_str(&list));
    tb_text_free(&list);
}

void tb_out_free(struct tb_outset *set)
{
    for (size_t i = 0; i < set->n; i++) {
        if (set->file[i]->f)
            (void)fclose(set->file[i]->f);
        free(set->file[i]->path);
        free(set->file[i]->part);
        free(set->file[i]->old);
        free(set->file[i]);
    }
    if (set->stem && set->list >= 0)
        (void)close(set->list);
    free(set->file);
    free(set->folder);
    free(set->stem);
    *set = (struct tb_outset){ .replace = set->replace };
}
