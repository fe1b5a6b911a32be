/*
 * vfs.c - a disk on which the book lies that fails, tears and loses: preloaded before the program (LD_PRELOAD), which is not
 * changed. It takes the place of SQLite's way to the system (sqlite.org/vfs.html) and hands on to it.
 *
 *   TB_DISK_LOG=FILE   writes a line for each operation, in order: its kind and the end of the file's name
 *   TB_DISK_AT=N       from the N-th operation, counted from 1, something goes wrong; TB_DISK_HOW says what
 *      fail            it fails, once
 *      half            it fails once with half of it done: half of a write is written, half of what was read is handed over
 *      full            the disk has no more room: from here on a file neither grows nor is made
 *      power           the power goes (loss.c). Where N is beyond the last operation, it goes once the program has ended
 *   TB_DISK_SEED=S     what of the unsynced writes survives a loss of power
 */
#include "loss.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include <sqlite3.h>

/* A file of ours: SQLite's own follows in the same memory. */
struct file {
    sqlite3_file base;
    struct known *known; /* NULL: a passing file without a name */
    const char *tail;
    sqlite3_file *real;
};

static sqlite3_vfs *below;
static long at, seen;
static FILE *log_to;
static bool begun;
static enum { FAIL, HALF, FULL, POWER } how;

/* Answers whether this operation goes wrong. A loss of power never returns; what was just asked for is among the unsynced. */
static bool wrong(const char *kind, const char *tail)
{
    if (log_to)
        (void)fprintf(log_to, "%s %s\n", kind, tail);
    seen++;
    if (at && seen == at && how == POWER)
        lose_power();
    return at && how != FULL && seen == at;
}

bool disk_wrong(const char *kind, const char *name)
{
    return begun && wrong(kind, name);
}

static bool no_room(void)
{
    return at && how == FULL && seen >= at;
}

#define OF(f) ((struct file *)(f))
#define REAL(f) (OF(f)->real)
#define DOWN(f, call, ...) REAL(f)->pMethods->call(REAL(f), __VA_ARGS__)

static int f_close(sqlite3_file *f)
{
    return REAL(f)->pMethods->xClose(REAL(f));
}

static int f_read(sqlite3_file *f, void *p, int n, sqlite3_int64 from)
{
    if (wrong("read", OF(f)->tail)) {
        if (how == HALF)
            (void)DOWN(f, xRead, p, n / 2, from);
        return SQLITE_IOERR_READ;
    }
    return DOWN(f, xRead, p, n, from);
}

static int f_write(sqlite3_file *f, const void *p, int n, sqlite3_int64 to)
{
    sqlite3_int64 size = 0;

    note_write(OF(f)->known, p, (size_t)n, (size_t)to);
    if (wrong("write", OF(f)->tail)) {
        if (how == HALF)
            (void)DOWN(f, xWrite, p, n / 2, to);
        return SQLITE_IOERR_WRITE;
    }
    (void)DOWN(f, xFileSize, &size);
    if (no_room() && to + n > size)
        return SQLITE_FULL;
    return DOWN(f, xWrite, p, n, to);
}

static int f_truncate(sqlite3_file *f, sqlite3_int64 n)
{
    note_truncate(OF(f)->known, (size_t)n);
    return wrong("truncate", OF(f)->tail) ? SQLITE_IOERR_TRUNCATE : DOWN(f, xTruncate, n);
}

/* What the system was asked to push to the disk is safe: loss.c sees its call. */
static int f_sync(sqlite3_file *f, int flags)
{
    return wrong("sync", OF(f)->tail) ? SQLITE_IOERR_FSYNC : DOWN(f, xSync, flags);
}

static int f_size(sqlite3_file *f, sqlite3_int64 *n)
{
    return wrong("size", OF(f)->tail) ? SQLITE_IOERR_FSTAT : DOWN(f, xFileSize, n);
}

static int f_lock(sqlite3_file *f, int l)
{
    return DOWN(f, xLock, l);
}

static int f_unlock(sqlite3_file *f, int l)
{
    return DOWN(f, xUnlock, l);
}

static int f_reserved(sqlite3_file *f, int *out)
{
    return DOWN(f, xCheckReservedLock, out);
}

static int f_control(sqlite3_file *f, int op, void *arg)
{
    return DOWN(f, xFileControl, op, arg);
}

static int f_sector(sqlite3_file *f)
{
    return REAL(f)->pMethods->xSectorSize(REAL(f));
}

/* A disk that promises nothing: not that a page is whole, nor that two writes stay in order. */
static int f_promises(sqlite3_file *f)
{
    (void)f;
    return 0;
}

static int f_map(sqlite3_file *f, int region, int size, int extend, void volatile **out)
{
    if (wrong("map", "-shm"))
        return SQLITE_IOERR_SHMMAP;
    return extend && no_room() ? SQLITE_IOERR_SHMSIZE : DOWN(f, xShmMap, region, size, extend, out);
}

static int f_shm_lock(sqlite3_file *f, int offset, int n, int flags)
{
    return DOWN(f, xShmLock, offset, n, flags);
}

static void f_barrier(sqlite3_file *f)
{
    REAL(f)->pMethods->xShmBarrier(REAL(f));
}

static int f_unmap(sqlite3_file *f, int gone)
{
    return DOWN(f, xShmUnmap, gone);
}

static const sqlite3_io_methods methods = { 2,         f_close,  f_read,     f_write,  f_truncate,
                                            f_sync,    f_size,   f_lock,     f_unlock, f_reserved,
                                            f_control, f_sector, f_promises, f_map,    f_shm_lock,
                                            f_barrier, f_unmap,  NULL,       NULL };

static const char *tail_of(int flags)
{
    return flags & SQLITE_OPEN_WAL ? "-wal" : flags & SQLITE_OPEN_MAIN_JOURNAL ? "-journal" : ".db";
}

static int v_open(sqlite3_vfs *v, const char *name, sqlite3_file *f, int flags, int *got)
{
    int rc;

    (void)v;
    f->pMethods = NULL;
    OF(f)->real = (sqlite3_file *)(OF(f) + 1);
    OF(f)->tail = tail_of(flags);
    OF(f)->known = NULL;
    if (!name) /* counted and lost are files that have a name */
        return below->xOpen(below, name, f, flags, got);
    if (wrong("open", OF(f)->tail) || (no_room() && access(name, F_OK) != 0))
        return SQLITE_CANTOPEN;
    note_open(name);
    rc = below->xOpen(below, name, REAL(f), flags, got);
    if (rc == SQLITE_OK) {
        OF(f)->known = note_opened(name);
        f->pMethods = &methods;
    }
    return rc;
}

static int v_delete(sqlite3_vfs *v, const char *name, int sync)
{
    int rc;

    (void)v;
    if (wrong("delete", strlen(name) > 4 ? name + strlen(name) - 4 : name))
        return SQLITE_IOERR_DELETE;
    note_delete(name, sync);
    rc = below->xDelete(below, name, sync);
    return rc;
}

static sqlite3_vfs ours;

__attribute__((constructor)) static void begin(void)
{
    static const char *const word[] = { "fail", "half", "full", "power" };
    const char *n = getenv("TB_DISK_AT"), *log = getenv("TB_DISK_LOG"), *what = getenv("TB_DISK_HOW"),
               *seed = getenv("TB_DISK_SEED");

    at = n ? strtol(n, NULL, 10) : 0;
    for (int i = 0; what && i < 4; i++)
        if (strcmp(what, word[i]) == 0)
            how = i;
    if (log)
        log_to = fopen(log, "w");
    loss_begin(at && how == POWER, seed ? strtoul(seed, NULL, 10) : 0);
    below = sqlite3_vfs_find(NULL);
    ours = *below;
    ours.zName = "storm";
    ours.szOsFile = (int)sizeof(struct file) + below->szOsFile;
    ours.xOpen = v_open;
    ours.xDelete = v_delete;
    (void)sqlite3_vfs_register(&ours, 1);
    begun = true;
}

__attribute__((destructor)) static void end(void)
{
    begun = false;
    if (log_to)
        (void)fclose(log_to);
    if (at > seen && how == POWER)
        lose_power();
}
