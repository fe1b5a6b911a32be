/* Where a book lies decides what may be done with it there: written, only read, or neither. */
#include "base/folder.h"
#include "book/sqlite/sqlite_impl.h"

#include <errno.h>
#include <linux/magic.h>
#include <stdlib.h>
#include <string.h>
#include <sys/statvfs.h>
#include <sys/vfs.h>
#include <unistd.h>

/*
 * File systems that other machines write too. Locks and shared memory do not reach across them, so that two programs could
 * write a book at once and damage it (sqlite.org/wal.html: all processes using a database must be on the same host). FUSE is
 * not among them: it is what a memory stick or an encrypted folder of this machine may be, and nothing in its kind tells them
 * from sshfs or Gluster.
 */
static const struct {
    unsigned long kind;
    const char *name;
} share[] = {
    { NFS_SUPER_MAGIC, "NFS" },
    { SMB_SUPER_MAGIC, "SMB" },
    { CIFS_SUPER_MAGIC, "SMB" },
    { SMB2_SUPER_MAGIC, "SMB" },
    { NCP_SUPER_MAGIC, "NCP" },
    { AFS_SUPER_MAGIC, "AFS" },
    { AFS_FS_MAGIC, "AFS" },
    { CODA_SUPER_MAGIC, "Coda" },
    { CEPH_SUPER_MAGIC, "Ceph" },
    { V9FS_MAGIC, "9P" },
    /* these no header of the system names: the kernel's fs/vboxsf, fs/orangefs, fs/gfs2, fs/ocfs2; else stat.c of GNU coreutils */
    { 0x786f4256, "VirtualBox" },
    { 0x7c7c6673, "Parallels" },
    { 0xbacbacbc, "VMware" },
    { 0x0bd00bd0, "Lustre" },
    { 0x20030528, "OrangeFS" },
    { 0x19830326, "BeeGFS" },
    { 0x47504653, "GPFS" },
    { 0xaad7aaea, "PanFS" },
    { 0x01161970, "GFS2" },
    { 0x7461636f, "OCFS2" },
};

static const char *share_of(const char *path)
{
    struct statfs fs;

    if (statfs(path, &fs) == 0)
        for (size_t i = 0; i < TB_COUNT(share); i++)
            if (((unsigned long)fs.f_type & 0xffffffffUL) == share[i].kind)
                return share[i].name;
    return NULL;
}

tb_rc tb_place_takes(const char *path, struct tb_err *err)
{
    char *folder = tb_out_folder(path);
    const char *kind = share_of(folder);

    free(folder);
    return kind
               ? tb_fail(
                     err, TB_EREFUSED,
                     "%s would lie on a network share (%s), where two programs that write at once can damage "
                     "it; keep the book on a disk of this machine",
                     path, kind)
               : TB_OK;
}

bool tb_is_file_name(const char *path)
{
    return *path && strcmp(path, ":memory:") != 0 && strncmp(path, "file:", 5) != 0;
}

static tb_rc is_a_file(const char *path, struct tb_err *err)
{
    struct stat st;

    if (!tb_is_file_name(path))
        return tb_fail(err, TB_EINVAL, "'%s' is not the name of a file; a book is kept in one", path);
    if (stat(path, &st) != 0)
        return errno == ENOENT
                   ? tb_fail(err, TB_ENOTFOUND,
                             "there is no book at %s; make one with: tenterbook --book %s new", path, path)
                   : tb_fail(err, TB_EIO, "%s cannot be looked at: %s", path, strerror(errno));
    if (S_ISDIR(st.st_mode))
        return tb_fail(err, TB_EINVAL, "%s is a folder; a book is one file in it", path);
    if (!S_ISREG(st.st_mode))
        return tb_fail(err, TB_EINVAL, "%s is a device or a pipe; a book is a file", path);
    if (access(path, R_OK) != 0)
        return tb_fail(err, TB_EIO, "%s cannot be read: %s", path, strerror(errno));
    return TB_OK;
}

/* SQLite makes files beside the book while it is written: the folder has to allow that too. */
static bool writable(const char *path)
{
    struct statvfs fs;
    char *folder = tb_out_folder(path);
    bool can = access(path, W_OK) == 0 && access(folder, W_OK) == 0 &&
               (statvfs(path, &fs) != 0 || !(fs.f_flag & ST_RDONLY));

    free(folder);
    return can;
}

tb_rc tb_place_look(struct tb_place *out, const char *path, struct tb_err *err)
{
    tb_rc rc = is_a_file(path, err);
    struct tb_text log = { 0 };

    if (rc != TB_OK)
        return rc;
    *out = (struct tb_place){ .share = share_of(path) };
    out->only_read = out->share || !writable(path);
    tb_text_addf(&log, "%s-wal", path);
    out->log = access(log.s, F_OK) == 0;
    tb_text_free(&log);
    if (stat(path, &out->seen) != 0)
        return tb_fail(err, TB_EIO, "%s cannot be looked at: %s", path, strerror(errno));
    return TB_OK;
}

tb_rc tb_place_refuses(const struct tb_place *p, const char *path, struct tb_err *err)
{
    if (p->share)
        return tb_fail(
            err, TB_EREFUSED,
            "%s lies on a network share (%s), where two programs that write at once can damage it; it is "
            "only read there: move it to a disk of this machine, and share copies made with keep",
            path, p->share);
    return tb_fail(
        err, TB_EREFUSED,
        "%s can only be read here: the file, its folder or the medium is write-protected; nothing was "
        "recorded",
        path);
}

/* To the nanosecond: a writer that came and went leaves another time or another size. */
tb_rc tb_place_still(const struct tb_place *p, const char *path, struct tb_err *err)
{
    struct tb_place now;
    tb_rc rc = tb_place_look(&now, path, err);

    if (rc != TB_OK)
        return rc;
    if (now.log || now.seen.st_ino != p->seen.st_ino || now.seen.st_size != p->seen.st_size ||
        now.seen.st_mtim.tv_sec != p->seen.st_mtim.tv_sec ||
        now.seen.st_mtim.tv_nsec != p->seen.st_mtim.tv_nsec)
        return tb_fail(err, TB_EBUSY,
                       "%s was written while it was read, and what was shown may be wrong; ask again", path);
    return TB_OK;
}

/* A path as part of a URI (RFC 3986): bytes that would end or change it are written as %hh. */
static void add_path(struct tb_text *t, const char *path)
{
    for (; *path; path++)
        tb_text_addf(t, strchr("%?#", *path) ? "%%%02x" : "%c", (unsigned char)*path);
}

/*
 * Without a log nobody is writing, and the file alone is the book: SQLite is told that it does not change, for beside it
 * nothing may be made. tb_place_still looks afterwards whether that was true.
 */
tb_rc tb_place_connect(struct tb_db **out, const struct tb_place *p, const char *path, struct tb_err *err)
{
    struct tb_text uri = { 0 };
    char *full;
    tb_rc rc;

    if (!p->only_read)
        return tb_sqlite_connect(out, path, SQLITE_OPEN_READWRITE, err);
    if (p->log && p->share)
        return tb_fail(
            err, TB_EREFUSED,
            "%s lies on a network share (%s) and is open elsewhere, or was not closed there; use it on that "
            "machine, or a copy made there with keep",
            path, p->share);
    if (p->log)
        return tb_sqlite_connect(out, path, SQLITE_OPEN_READONLY, err);
    if (!(full = realpath(path, NULL)))
        return tb_fail(err, TB_EIO, "%s cannot be looked at: %s", path, strerror(errno));
    tb_text_add(&uri, "file:");
    add_path(&uri, full);
    tb_text_add(&uri, "?immutable=1");
    rc = tb_sqlite_connect(out, uri.s, SQLITE_OPEN_READONLY | SQLITE_OPEN_URI, err);
    free(full);
    tb_text_free(&uri);
    return rc;
}
