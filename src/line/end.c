/* end.c - how a run ends: what was done is never hidden behind output that failed, and the exit code says which it was. */
#include "line/end.h"

#include "tenterbook/book.h"
#include "terminal/screen.h"

#include <jansson.h>

#include <fcntl.h>
#include <poll.h>
#include <signal.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

/* A file opened later must never take the number of a stream that is closed: what is printed would go into it. */
void tb_streams_ready(void)
{
    for (int fd = 0; fd <= 2; fd++)
        if (fcntl(fd, F_GETFD) < 0) {
            int taken = open("/dev/null", fd == 2 ? O_WRONLY : O_RDONLY);

            if (taken != fd) /* the lowest number that is free is the one that was closed */
                exit(EXIT_FAILURE);
        }
    /* a reader that went away must not end an act between its commit and its answer */
    (void)signal(SIGPIPE, SIG_IGN);
}

/* Whoever reads has gone, as in `lots | head`: nobody is left to be told. */
static bool reader_gone(void)
{
    struct pollfd out = { .fd = STDOUT_FILENO };

    return poll(&out, 1, 0) == 1 && (out.revents & POLLERR);
}

static struct tb_recorded recorded(const struct tb_ctx *ctx)
{
    struct tb_recorded done = { 0 };

    if (ctx->book)
        tb_book_recorded(&done, ctx->book);
    return done;
}

/* What failed came after the act: whoever makes it again would make it twice. */
static void say_done(const struct tb_ctx *ctx, const char *failure)
{
    struct tb_recorded done = recorded(ctx);

    if (done.rows == 0)
        tb_say(stderr, "tenterbook: %s; what was asked for is done all the same\n", failure);
    else if (done.rows == 1)
        tb_say(stderr, "tenterbook: %s; it is recorded all the same: journal row %lld, %s%s%s\n", failure,
               (long long)done.number, done.verb, *done.subject ? " " : "", done.subject);
    else
        tb_say(stderr,
               "tenterbook: %s; %lld records were made all the same, the last of them journal row %lld, "
               "%s%s%s\n",
               failure, (long long)done.rows, (long long)done.number, done.verb, *done.subject ? " " : "",
               done.subject);
}

static bool is_done(const struct tb_ctx *ctx)
{
    return ctx->done || recorded(ctx).rows > 0;
}

static const char *no_memory(void)
{
    return _("this machine has no memory left");
}

/* The book says so where it reads, too, and goes on that nothing was recorded: after an act that is not so. */
static bool lacks_memory(const struct tb_err *err)
{
    return strncmp(err->msg, no_memory(), strlen(no_memory())) == 0;
}

/* The whole run's, for words that nothing can be handed to. */
static const struct tb_ctx *running;

/*
 * What is recorded stays recorded; what is not said of it any more can be looked up. SQLite may lack memory once the row is on the
 * disk, when it tidies its log: then nobody knows.
 */
static void say_no_memory(void)
{
    bool done = is_done(running);

    if (done)
        say_done(running, no_memory());
    else if (recorded(running).unsure)
        tb_say(stderr,
               "tenterbook: this machine has no memory left; look whether it is recorded before you do "
               "it again\n");
    else
        tb_say(stderr, "tenterbook: this machine has no memory left; nothing was recorded\n");
    _exit(done ? 3 : 1);
}

/* JSON with a member missing would be taken for the whole. */
static void *json_room(size_t n)
{
    return tb_realloc(NULL, n, 1);
}

void tb_end_without_memory(const struct tb_ctx *ctx)
{
    json_set_alloc_funcs(json_room, free);
    running = ctx;
    (void)tb_on_no_memory(say_no_memory);
}

static int told; /* the exit code of a run that has said all */

static void leave(void)
{
    _exit(told);
}

void tb_end_told(int code)
{
    told = code;
    (void)tb_on_no_memory(leave);
}

int tb_end(struct tb_ctx *ctx, tb_rc rc, FILE *screen, struct tb_err *err)
{
    bool failed = ferror(screen) != 0;

    failed = tb_screen_close(screen) != 0 || failed;
    /* JSON tells that it could not be written; other words do not */
    if (failed && (rc == TB_OK || rc == TB_EIO)) {
        if (rc == TB_OK)
            rc = tb_fail(err, TB_EIO, "the output could not be written");
        if (is_done(ctx))
            rc = TB_EAFTER;
        else if (reader_gone()) {
            (void)signal(SIGPIPE, SIG_DFL);
            (void)raise(SIGPIPE);
        }
    }
    if (rc == TB_EIO && is_done(ctx) && lacks_memory(err)) {
        (void)snprintf(err->msg, sizeof err->msg, "%s", no_memory());
        rc = TB_EAFTER;
    }
    if (rc == TB_EAFTER)
        say_done(ctx, err->msg);
    else if (rc != TB_OK)
        tb_print_failure(ctx, err);
    if (rc != TB_OK && err->detail[0] && getenv("TENTERBOOK_DEBUG"))
        tb_say(stderr, "  (%s)\n", err->detail);
    return rc == TB_OK ? 0 : rc == TB_EUSAGE ? 2 : rc == TB_EAFTER ? 3 : 1;
}
