/* out_left.c - what killed programs left in a folder: sets that were half named are brought to their end, the rest goes. */
#include "base/outfile_impl.h"

#include <dirent.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#define LIST_MOST 65536 /* bytes of a list; a set has a dozen files */

/* .tenterbook-PROCESS-KEY and what follows; NULL: not a name of ours. */
static const char *read_name(long *process, const char *name)
{
    char *end;
    size_t n = strlen(TB_LEFT_PREFIX);

    if (strncmp(name, TB_LEFT_PREFIX, n) != 0)
        return NULL;
    *process = strtol(name + n, &end, 10);
    if (*process <= 0 || *end != '-' || strspn(end + 1, "0123456789abcdefghijklmnopqrstuv") != TB_ID_LEN)
        return NULL;
    return end + 1 + TB_ID_LEN;
}

static bool same_file(const char *path, ino_t inode)
{
    struct stat st;

    return lstat(path, &st) == 0 && S_ISREG(st.st_mode) && st.st_ino == inode && st.st_uid == geteuid();
}

/*
 * "over 4711 cloth-2026-10.pdf"; false: not a line of a list. A part that is gone was named: if another file stands there
 * now, somebody put it there since, and it stays.
 */
static bool read_line(struct tb_outset *set, char *line)
{
    bool over = strncmp(line, "over ", 5) == 0;
    char *end, *path;
    unsigned long long inode;
    struct tb_outfile *f;

    if (!over && strncmp(line, "new ", 4) != 0)
        return false;
    inode = strtoull(line + (over ? 5 : 4), &end, 10);
    if (*end != ' ' || !end[1] || strchr(end + 1, '/'))
        return false;
    path = tb_out_in(set->folder, end + 1);
    f = tb_out_file(set, path);
    free(path);
    f->over = over;
    f->inode = (ino_t)inode;
    f->named = same_file(f->path, f->inode) || !same_file(f->part, f->inode);
    return true;
}

/* False: the list is not whole, so no name was given yet. */
static bool read_list(struct tb_outset *set)
{
    char *text = tb_alloc(1, LIST_MOST + 1), *rest = text, *line;
    ssize_t n = read(set->list, text, LIST_MOST);
    bool good = n > 0, whole = false;

    while (good && !whole && (line = strsep(&rest, "\n")) != NULL && rest) {
        whole = strcmp(line, "end") == 0;
        good = whole || read_line(set, line);
    }
    free(text);
    return good && whole && set->n > 0;
}

/* Part files are found by number: a list that is not whole does not tell how many there are. */
static void remove_parts(const struct tb_outset *set)
{
    struct tb_text part = { 0 };
    int bad = 0;

    for (size_t i = 0; !bad; i++) {
        tb_text_clear(&part);
        tb_text_addf(&part, "%s-%zu" TB_LEFT_PART, set->stem, i);
        bad = unlink(tb_text_str(&part));
    }
    tb_text_free(&part);
}

static tb_rc finish_set(const char *folder, const char *name, long process, struct tb_err *err)
{
    struct tb_outset set = { 0 };
    char *path = tb_out_in(folder, name);
    bool stuck = false;
    tb_rc rc = TB_OK;

    if ((set.list = tb_left_take(path, process)) >= 0) {
        set.folder = tb_strdup(folder);
        set.stem = tb_strndup(path, strlen(path) - strlen(TB_LEFT_LIST));
        if (read_list(&set))
            rc = tb_out_name_all(&set, &stuck, err);
        else
            remove_parts(&set);
        if (stuck)
            rc = tb_within(err, rc, "an earlier run left its files half named");
        else
            tb_out_clear(&set);
        rc = stuck ? rc : TB_OK; /* undone is as good as done: the set is whole either way */
        tb_out_free(&set);
    }
    free(path);
    return rc;
}

/* A part or a folder for passing files whose list is gone, of a process that is gone: the folder lost the list when the machine stopped. */
static void remove_stray(const char *folder, const char *name, const char *tail, long process)
{
    size_t n = strlen(tail), end = strlen(TB_LEFT_PART);
    struct tb_text list = { 0 };
    char *path = tb_out_in(folder, name);
    struct stat st;

    tb_text_addn(&list, path, strlen(path) - n);
    tb_text_add(&list, TB_LEFT_LIST);
    if (tb_left_is_gone(process) && lstat(path, &st) == 0 && st.st_uid == geteuid() &&
        access(tb_text_str(&list), F_OK) != 0) {
        if (S_ISDIR(st.st_mode) && strcmp(tail, TB_LEFT_WORK) == 0)
            tb_out_remove_work(path);
        else if (S_ISREG(st.st_mode) && n > end && strcmp(tail + n - end, TB_LEFT_PART) == 0)
            (void)unlink(path);
    }
    tb_text_free(&list);
    free(path);
}

/* A folder that cannot be listed may still be written: then nothing of it is cleared. */
tb_rc tb_out_clear_left(const char *folder, struct tb_err *err)
{
    DIR *d = opendir(folder);
    struct dirent *e;
    tb_rc rc = TB_OK;

    /* cppcheck-suppress readdirCalled ; each stream is read by one thread, and glibc keeps them apart */
    while (d && rc == TB_OK && (e = readdir(d)) != NULL) {
        long process;
        const char *tail = read_name(&process, e->d_name);

        if (tail && strcmp(tail, TB_LEFT_LIST) == 0)
            rc = finish_set(folder, e->d_name, process, err);
        else if (tail && (*tail == '-' || strcmp(tail, TB_LEFT_WORK) == 0))
            remove_stray(folder, e->d_name, tail, process);
    }
    if (d)
        (void)closedir(d);
    return rc;
}
