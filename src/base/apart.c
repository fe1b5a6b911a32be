/* apart.c - the parent's side: a child that reads, its answer part by part, and what is said of one that broke off. */
#include "base/apart_impl.h"
#include "tenterbook/utf8.h"

#include <errno.h>
#include <poll.h>
#include <signal.h>
#include <stdlib.h>
#include <string.h>
#include <sys/socket.h>
#include <sys/wait.h>
#include <unistd.h>

/* --- parts ------------------------------------------------------------------------------------------------------ */

void tb_piece_add(struct tb_text *part, const void *bytes, size_t n)
{
    if (n)
        tb_text_addn(part, bytes, n);
}

const char *tb_piece_bytes(struct tb_piece *p, size_t n)
{
    const unsigned char *at = p->at;

    if (n > p->left)
        return NULL;
    p->at += n;
    p->left -= n;
    return (const char *)at;
}

bool tb_piece_take(struct tb_piece *p, void *out, size_t n)
{
    const char *at = tb_piece_bytes(p, n);

    if (at)
        memcpy(out, at, n);
    return at != NULL;
}

/* --- what comes back -------------------------------------------------------------------------------------------- */

struct answer {
    const struct tb_apart_job *job;
    int fd;
    struct tb_text in; /* what came and is not taken yet begins at `from` */
    size_t from;
    bool ended, silent; /* it said all; it said nothing for too long */
};

static tb_rc nonsense(struct tb_err *err)
{
    return tb_fail(
        err, TB_EFORMAT,
        "what came back from reading the file makes no sense; it is damaged or hostile and is not read");
}

/* A failure of the reader; words that are no text would be a way to the terminal. */
static tb_rc failed(const unsigned char *part, size_t n, struct tb_err *err)
{
    struct tb_apart_failure f;

    if (n != sizeof f)
        return nonsense(err);
    memcpy(&f, part, sizeof f);
    f.err.msg[sizeof f.err.msg - 1] = f.err.detail[sizeof f.err.detail - 1] =
        f.err.about[sizeof f.err.about - 1] = '\0';
    if (f.rc <= TB_OK || f.rc > TB_EIO || !f.err.msg[0] || !tb_utf8_valid(f.err.msg, strlen(f.err.msg)) ||
        !tb_utf8_valid(f.err.detail, strlen(f.err.detail)))
        return nonsense(err);
    if (err)
        *err = f.err;
    return (tb_rc)f.rc;
}

static tb_rc take_part(struct answer *a, const struct tb_apart_head *head, const unsigned char *part,
                       struct tb_err *err)
{
    bool yes = false;
    tb_rc rc;
    char byte;

    if (head->kind == TB_APART_FAIL)
        return failed(part, head->n, err);
    if (head->kind == TB_APART_END) {
        a->ended = true;
        return TB_OK;
    }
    if (head->kind != TB_APART_PART && head->kind != TB_APART_ASK)
        return nonsense(err);
    rc = a->job->take(a->job->arg, part, head->n, &yes, err);
    byte = yes;
    if (rc == TB_OK && head->kind == TB_APART_ASK)
        (void)!send(a->fd, &byte, 1,
                    MSG_NOSIGNAL); /* a child that is gone is noticed where its answer ends */
    return rc;
}

/* All parts that have come whole. */
static tb_rc take_parts(struct answer *a, struct tb_err *err)
{
    struct tb_apart_head head;
    tb_rc rc = TB_OK;

    while (rc == TB_OK && !a->ended && a->in.n - a->from >= sizeof head) {
        memcpy(&head, a->in.s + a->from, sizeof head);
        if (head.n > TB_APART_PART_MOST)
            return nonsense(err);
        if (a->in.n - a->from - sizeof head < head.n)
            break;
        rc = take_part(a, &head, (const unsigned char *)a->in.s + a->from + sizeof head, err);
        a->from += sizeof head + head.n;
    }
    if (a->from == a->in.n) {
        tb_text_clear(&a->in);
        a->from = 0;
    } else if (a->from > a->in.n / 2) {
        memmove(a->in.s, a->in.s + a->from, a->in.n - a->from);
        a->in.n -= a->from;
        a->from = 0;
    }
    return rc;
}

/* False: nothing more will come. */
static bool more(struct answer *a, char *buf, size_t room)
{
    unsigned seconds = a->job->seconds ? a->job->seconds : TB_APART_SECONDS;
    struct pollfd p = { .fd = a->fd, .events = POLLIN };
    ssize_t n;
    int ready;

    while ((ready = poll(&p, 1, (int)seconds * 1000)) < 0 && errno == EINTR)
        ;
    a->silent = ready == 0;
    if (ready <= 0)
        return false;
    while ((n = read(a->fd, buf, room)) < 0 && errno == EINTR)
        ;
    tb_piece_add(&a->in, buf, n > 0 ? (size_t)n : 0);
    return n > 0;
}

static tb_rc take_all(struct answer *a, struct tb_err *err)
{
    enum { ROOM = 65536 };
    char *buf = tb_alloc(ROOM, 1);
    tb_rc rc = TB_OK;

    while (rc == TB_OK && !a->ended && more(a, buf, ROOM))
        rc = take_parts(a, err);
    free(buf);
    return rc;
}

/* --- a child ---------------------------------------------------------------------------------------------------- */

/* Why it did not come to its end. SIGSYS is what a call that is not allowed gets; want of memory has a status of its own. */
static tb_rc broke_off(const struct tb_apart_job *job, bool silent, int status, struct tb_err *err)
{
    int signal = WIFSIGNALED(status) ? WTERMSIG(status) : 0;
    bool no_memory = WIFEXITED(status) && WEXITSTATUS(status) == TB_APART_NO_MEMORY;

    if (silent || signal == SIGXCPU)
        return tb_fail(err, TB_EFORMAT,
                       "the file cannot be read within %u seconds; it is damaged or hostile and is not read",
                       job->seconds ? job->seconds : TB_APART_SECONDS);
    if (no_memory)
        return tb_fail(
            err, TB_EFORMAT,
            "the file is not read: that takes more than %u MB of memory, as damaged and hostile files do, or "
            "this machine has no memory left",
            job->memory_mb ? job->memory_mb : TB_APART_MEMORY_MB);
    if (signal == SIGSYS)
        return tb_fail(
            err, TB_EFORMAT,
            "reading the file asked the system for what no reading needs; it is damaged or hostile and "
            "is not read");
    (void)tb_fail(err, TB_EFORMAT, "reading the file broke off; it is damaged or hostile and is not read");
    tb_detail(err, signal ? "signal %d" : "status %d", signal ? signal : status);
    return TB_EFORMAT;
}

/* Whatever it still does is of no use to anyone. Who is told of no child's end (SIGCHLD ignored) has no status. */
static int end_child(pid_t child, bool ended)
{
    int status = 0;

    if (!TB_APART_COUNTED || !ended) /* where lines are counted, it writes the count at its end */
        (void)kill(child, SIGKILL);
    while (waitpid(child, &status, 0) < 0 && errno == EINTR)
        ;
    return status;
}

static tb_rc no_child(struct tb_err *err)
{
    return tb_fail(err, TB_EIO, "no process can be made to read the file: %s", strerror(errno));
}

static tb_rc with_child(struct answer *a, int way, struct tb_err *err)
{
    pid_t self = getpid(), child = fork();
    int status;
    tb_rc rc;

    if (child == 0) {
        (void)close(a->fd);
        tb_apart_child(way, a->job, self);
    }
    if (child < 0)
        rc = no_child(err);
    (void)close(way);
    if (child < 0)
        return rc;
    rc = take_all(a, err);
    status = end_child(child, a->ended);
    return rc == TB_OK && !a->ended ? broke_off(a->job, a->silent, status, err) : rc;
}

tb_rc tb_apart(const struct tb_apart_job *job, struct tb_err *err)
{
    struct answer a = { .job = job };
    int way[2];
    tb_rc rc;

    if (TB_APART_TOGETHER)
        return tb_apart_here(job, err);
    if (socketpair(AF_UNIX, SOCK_STREAM | SOCK_CLOEXEC, 0, way) != 0)
        return no_child(err);
    a.fd = way[0];
    rc = with_child(&a, way[1], err);
    (void)close(way[0]);
    tb_text_free(&a.in);
    return rc;
}

/* --- what is in force ------------------------------------------------------------------------------------------- */

static tb_rc say_guarded(struct tb_apart *to, void *arg, struct tb_err *err)
{
    const bool guarded = tb_apart_is_guarded(to);

    (void)arg;
    (void)err;
    tb_apart_send(to, &guarded, sizeof guarded);
    return TB_OK;
}

static tb_rc hear_guarded(void *arg, const unsigned char *part, size_t n, bool *yes, struct tb_err *err)
{
    (void)yes;
    (void)err;
    *(bool *)arg = n == 1 && *part == 1;
    return TB_OK;
}

bool tb_apart_guarded(void)
{
    struct tb_err ignored = { 0 };
    bool guarded = false;
    const struct tb_apart_job job = {
        .read = say_guarded, .take = hear_guarded, .arg = &guarded, .file = -1
    };

    return tb_apart(&job, &ignored) == TB_OK && guarded;
}
