/* outset.c - a set of papers: begun with a list of its own, ended with all names or none. */
#include "base/outfile_impl.h"

#include <assert.h>
#include <errno.h>
#include <fcntl.h>
#include <stdlib.h>
#include <string.h>
#include <sys/file.h>
#include <sys/stat.h>
#include <unistd.h>

/* --- begin ------------------------------------------------------------------------------------------------------ */

/* Who has the list locked lives. Where the file system knows no locks, the number of the process has to do. */
static tb_rc begin(struct tb_outset *set, const char *path, struct tb_err *err)
{
    struct tb_text stem = { 0 }, list = { 0 };
    char id[TB_ID_LEN + 1];
    tb_rc rc;

    set->folder = tb_out_folder(path);
    tb_id_make(id);
    tb_text_addf(&stem, "%s/" TB_LEFT_PREFIX "%ld-%s", set->folder, (long)getpid(), id);
    set->stem = tb_text_take(&stem);
    tb_text_addf(&list, "%s" TB_LEFT_LIST, set->stem);
    set->list = open(tb_text_str(&list), O_RDWR | O_CREAT | O_EXCL | O_CLOEXEC, 0600);
    tb_text_free(&list);
    if (set->list < 0) {
        rc = tb_out_trouble(err, "open", path);
        tb_out_free(set);
        return rc;
    }
    (void)flock(set->list, LOCK_EX | LOCK_NB);
    return TB_OK;
}

struct tb_outfile *tb_out_file(struct tb_outset *set, const char *path)
{
    struct tb_outfile *f = tb_new(struct tb_outfile);
    struct tb_text name = { 0 };

    f->path = tb_strdup(path);
    tb_text_addf(&name, "%s-%zu" TB_LEFT_PART, set->stem, set->n);
    f->part = tb_text_take(&name);
    tb_text_addf(&name, "%s-%zu" TB_LEFT_OLD, set->stem, set->n);
    f->old = tb_text_take(&name);
    TB_PUSH_ROOM(set->file, set->n, set->cap);
    set->file[set->n++] = f;
    return f;
}

/* One folder: names in two could not be made to last together. */
static tb_rc same_folder(const struct tb_outset *set, const char *path, struct tb_err *err)
{
    char *folder = tb_out_folder(path);
    bool same = strcmp(folder, set->folder) == 0;

    free(folder);
    return same ? TB_OK
                : tb_fail(err, TB_EINVAL, "%s: files that are written together lie in one folder", path);
}

/* Before any place is looked at: where an earlier set got half of its names, the others are not there yet. */
static tb_rc finish_earlier(const char *path, struct tb_err *err)
{
    char *folder = tb_out_folder(path);
    tb_rc rc = tb_out_clear_left(folder, err);

    free(folder);
    return rc;
}

tb_rc tb_outset_add(struct tb_outfile **out, struct tb_outset *set, const char *path, const char *suffix,
                    struct tb_err *err)
{
    struct tb_outfile *f;
    bool over;
    int fd;
    tb_rc rc = set->folder ? TB_OK : finish_earlier(path, err);

    if (rc != TB_OK || (rc = tb_out_place(&over, path, suffix, set->replace, err)) != TB_OK ||
        (rc = set->folder ? same_folder(set, path, err) : begin(set, path, err)) != TB_OK)
        return rc;
    f = tb_out_file(set, path);
    f->over = over;
    /* 0666 and not mkstemp's 0600: who may read the finished file is for the umask to say */
    fd = open(f->part, O_WRONLY | O_CREAT | O_EXCL | O_CLOEXEC, 0666);
    if (fd < 0)
        return tb_out_trouble(err, "open", path);
    if (!(f->f = fdopen(fd, "wb"))) {
        rc = tb_out_trouble(err, "fdopen", path);
        (void)close(fd);
        return rc;
    }
    *out = f;
    return TB_OK;
}

/* A library makes a name and takes it away again a moment later: a kill in between leaves it here, where it is found. */
tb_rc tb_outset_work(char **folder, const struct tb_outset *set, struct tb_err *err)
{
    struct tb_text path = { 0 };

    assert(set->n > 0);
    tb_text_addf(&path, "%s" TB_LEFT_WORK, set->stem);
    if (mkdir(tb_text_str(&path), 0700) != 0 && errno != EEXIST) {
        tb_rc rc = tb_out_trouble(err, "mkdir", set->file[set->n - 1]->path);

        tb_text_free(&path);
        return rc;
    }
    *folder = tb_text_take(&path);
    return TB_OK;
}

/* --- end -------------------------------------------------------------------------------------------------------- */

/* The last line says that the list is whole: from then on the set is as good as named. */
static tb_rc write_list(struct tb_outset *set, struct tb_err *err)
{
    struct tb_text t = { 0 };
    const char *first = set->file[0]->path;
    tb_rc rc;

    for (size_t i = 0; i < set->n; i++) {
        const struct tb_outfile *f = set->file[i];
        const char *slash = strrchr(f->path, '/');

        tb_text_addf(&t, "%s %llu %s\n", f->over ? "over" : "new", (unsigned long long)f->inode,
                     slash ? slash + 1 : f->path);
    }
    tb_text_add(&t, "end\n");
    rc = tb_out_put(set->list, t.s, t.n) ? TB_OK : tb_out_trouble(err, "write", first);
    if (rc == TB_OK)
        rc = tb_out_sync(set->folder, first, O_RDONLY | O_DIRECTORY, err);
    tb_text_free(&t);
    return rc;
}

/* What stands in a place may have changed while the set was written. */
static tb_rc look_again(struct tb_outset *set, struct tb_err *err)
{
    tb_rc rc = TB_OK;

    for (size_t i = 0; i < set->n && rc == TB_OK; i++)
        rc = tb_out_place(&set->file[i]->over, set->file[i]->path, "", set->replace, err);
    return rc;
}

tb_rc tb_outset_end(struct tb_outset *set, tb_rc rc, struct tb_err *err)
{
    bool stuck = false;

    for (size_t i = 0; i < set->n && rc == TB_OK; i++)
        rc = tb_outfile_settle(set->file[i], err);
    if (rc == TB_OK && set->n && (rc = look_again(set, err)) == TB_OK && (rc = write_list(set, err)) == TB_OK)
        rc = tb_out_name_all(set, &stuck, err);
    if (!stuck && set->stem)
        tb_out_clear(set);
    tb_out_free(set);
    return rc;
}
