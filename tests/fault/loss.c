/* loss.c - see loss.h. */
#include "loss.h"

#include <dlfcn.h>
#include <errno.h>
#include <fcntl.h>
#include <signal.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#define SECTOR 512
#define MOST 64

struct change {
    bool cut; /* a truncation, to `at` */
    size_t at, n;
    unsigned char *p;
};

struct image {
    unsigned char *p;
    size_t n;
};

struct known {
    char *name; /* under which it was opened first */
    dev_t dev;
    ino_t ino;
    int fd; /* never closed: that would give up the locks of the program */
    struct image safe;
    struct change *change;
    size_t changes;
    bool deleted; /* and that is not safe yet */
};

/* A name given or taken, until the folder is synced. */
struct naming {
    char *from, *to; /* from NULL: `to` was made by a second name */
    struct image over;
    bool was_there;
};

static struct known known[MOST];
static struct naming naming[MOST];
static size_t knowns, namings;
static bool noting;
static unsigned long long state;

#define REAL(name) ((__typeof__(&name))(uintptr_t)dlsym(RTLD_NEXT, #name))

void loss_begin(bool noted, unsigned long seed)
{
    noting = noted;
    state = seed * 2654435761u + 1;
}

/* xorshift: the same on each machine. */
static unsigned long rnd(unsigned long below)
{
    state ^= state << 13;
    state ^= state >> 7;
    state ^= state << 17;
    return (unsigned long)((state >> 11) % below);
}

static void *must(void *p)
{
    if (!p)
        abort();
    return p;
}

static struct image read_all(int fd)
{
    struct image i = { 0 };
    struct stat st;

    if (fstat(fd, &st) != 0 || !S_ISREG(st.st_mode))
        return i;
    i.n = (size_t)st.st_size;
    i.p = must(malloc(i.n + 1));
    if (pread(fd, i.p, i.n, 0) != (ssize_t)i.n)
        abort();
    return i;
}

static void apply(struct image *i, const struct change *c, size_t n)
{
    size_t end = c->cut ? c->at : c->at + n;

    if (c->cut || end > i->n) {
        i->p = must(realloc(i->p, end + 1));
        if (end > i->n)
            memset(i->p + i->n, 0, end - i->n);
        i->n = end;
    }
    if (!c->cut)
        memcpy(i->p + c->at, c->p, n);
}

static void all_is_safe(struct known *k)
{
    for (size_t i = 0; i < k->changes; i++) {
        apply(&k->safe, &k->change[i], k->change[i].n);
        free(k->change[i].p);
    }
    k->changes = 0;
}

static struct known *find(const struct stat *st)
{
    for (size_t i = 0; i < knowns; i++)
        if (known[i].dev == st->st_dev && known[i].ino == st->st_ino)
            return &known[i];
    return NULL;
}

static bool made;

void note_open(const char *name)
{
    made = noting && access(name, F_OK) != 0;
}

struct known *note_opened(const char *name)
{
    struct stat st;
    struct known *k;

    if (!noting || stat(name, &st) != 0)
        return NULL;
    if ((k = find(&st)) != NULL)
        return k;
    if (knowns == MOST)
        abort();
    k = &known[knowns++];
    *k = (struct known){ .name = must(strdup(name)), .dev = st.st_dev, .ino = st.st_ino };
    k->fd = REAL(open)(name, O_RDWR | O_CLOEXEC);
    if (k->fd < 0) /* nothing is written to it either */
        k->fd = REAL(open)(name, O_RDONLY | O_CLOEXEC);
    if (!made)
        k->safe = read_all(k->fd);
    return k;
}

static void note(struct known *k, struct change c)
{
    k->change = must(realloc(k->change, (k->changes + 1) * sizeof c));
    k->change[k->changes++] = c;
}

void note_write(struct known *k, const void *p, size_t n, size_t to)
{
    if (!k)
        return;
    note(k, (struct change){ false, to, n, memcpy(must(malloc(n + 1)), p, n) });
}

void note_truncate(struct known *k, size_t n)
{
    if (k)
        note(k, (struct change){ .cut = true, .at = n });
}

void note_delete(const char *name, bool sync)
{
    struct stat st;
    struct known *k = noting && stat(name, &st) == 0 ? find(&st) : NULL;

    if (k)
        k->deleted = !sync;
}

/* --- what the program asks of the system itself ------------------------------------------------------------------- */

static int synced(int fd, int answer)
{
    struct stat st;
    struct known *k;

    if (!noting || answer != 0 || fstat(fd, &st) != 0)
        return answer;
    if (S_ISDIR(st.st_mode)) {
        namings = 0;
        for (size_t i = 0; i < knowns; i++)
            known[i].deleted = false;
    } else if ((k = find(&st)) != NULL)
        all_is_safe(k);
    return answer;
}

int fsync(int fd)
{
    return synced(fd, REAL(fsync)(fd));
}

int fdatasync(int fd)
{
    return synced(fd, REAL(fdatasync)(fd));
}

static struct naming *next_naming(const char *from, const char *to)
{
    int fd;
    struct naming *n;

    if (!noting || namings == MOST)
        return NULL;
    n = &naming[namings];
    *n = (struct naming){ from ? must(strdup(from)) : NULL, must(strdup(to)), { 0 }, access(to, F_OK) == 0 };
    if (n->was_there && (fd = REAL(open)(to, O_RDONLY | O_CLOEXEC)) >= 0) {
        n->over = read_all(fd);
        (void)REAL(close)(fd);
    }
    return n;
}

int rename(const char *from, const char *to)
{
    struct naming *n = next_naming(from, to);
    int answer;

    (void)disk_wrong("rename", strrchr(to, '.') ? strrchr(to, '.') : to);
    answer = REAL(rename)(from, to);

    namings += n && answer == 0;
    return answer;
}

/* Names of the working folder: the program asks for nothing else. */
int renameat2(int at_from, const char *from, int at_to, const char *to, unsigned flags)
{
    struct naming *n = next_naming(from, to);
    int answer;

    (void)disk_wrong("rename", strrchr(to, '.') ? strrchr(to, '.') : to);
    answer = REAL(renameat2)(at_from, from, at_to, to, flags);

    namings += n && answer == 0;
    return answer;
}

int link(const char *from, const char *to)
{
    struct naming *n = next_naming(NULL, to);
    int answer;

    (void)disk_wrong("link", strrchr(to, '.') ? strrchr(to, '.') : to);
    answer = REAL(link)(from, to);

    namings += n && answer == 0;
    return answer;
}

/* --- the loss ----------------------------------------------------------------------------------------------------- */

static void put(int fd, const struct image *i)
{
    if (ftruncate(fd, 0) != 0 || pwrite(fd, i->p, i->n, 0) != (ssize_t)i->n)
        abort();
}

/* One in four times nothing of it survives, one in four all but the end of the last; else some, in any order, some torn. */
static struct image survives(struct known *k)
{
    struct image i = k->safe;
    unsigned long kind = rnd(4);

    for (size_t c = k->changes; kind == 3 && c > 1; c--) { /* another order */
        size_t other = rnd(c);
        struct change t = k->change[c - 1];

        k->change[c - 1] = k->change[other];
        k->change[other] = t;
    }
    for (size_t c = 0; c < k->changes && kind; c++) {
        size_t n = k->change[c].n, sectors = (n + SECTOR - 1) / SECTOR;
        bool torn = kind == 1 ? c + 1 == k->changes : rnd(4) == 0;

        if (kind != 1 && rnd(3) == 0)
            continue;
        if (torn && sectors)
            n = rnd(sectors) * SECTOR;
        if (!(torn && k->change[c].cut))
            apply(&i, &k->change[c], n);
    }
    return i;
}

/* What readers and writers share in memory is no file to rely on: nothing in it means anything after a loss. */
static void spoil_shared(const char *name)
{
    char path[4096];
    struct stat st;
    int fd;

    (void)snprintf(path, sizeof path, "%s-shm", name);
    fd = REAL(open)(path, O_RDWR | O_CLOEXEC);
    if (fd < 0 || fstat(fd, &st) != 0)
        return;
    for (off_t at = 0; at + 8 <= st.st_size; at += 8) {
        unsigned long long v = rnd(1ul << 31) << 32 | rnd(1ul << 31);

        if (pwrite(fd, &v, sizeof v, at) != (ssize_t)sizeof v)
            abort();
    }
}

static void unname(struct naming *n)
{
    int fd;

    if (rnd(2))
        return;
    if (n->from)
        (void)REAL(rename)(n->to, n->from);
    else
        (void)unlink(n->to);
    if (n->was_there && (fd = REAL(open)(n->to, O_RDWR | O_CREAT | O_CLOEXEC, 0666)) >= 0)
        put(fd, &n->over);
}

void lose_power(void)
{
    noting = false;
    for (size_t i = 0; i < knowns; i++) {
        struct known *k = &known[i];
        struct image left = survives(k);

        if (k->changes)
            put(k->fd, &left);
        if (k->deleted && rnd(2) && access(k->name, F_OK) != 0) {
            int fd = REAL(open)(k->name, O_RDWR | O_CREAT | O_CLOEXEC, 0666);

            if (fd >= 0)
                put(fd, &left);
        }
        spoil_shared(k->name);
    }
    while (namings) /* the last one first, as a disk that stopped somewhere */
        unname(&naming[--namings]);
    (void)kill(getpid(), SIGKILL);
    for (;;)
        (void)pause();
}
