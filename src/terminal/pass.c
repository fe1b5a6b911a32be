/* Pass phrases: from a file descriptor that the caller names, or from a terminal that does not show them; never from a word. */
#include "terminal/pass.h"
#include "tenterbook/utf8.h"

#include <errno.h>
#include <fcntl.h>
#include <signal.h>
#include <stdlib.h>
#include <string.h>
#include <termios.h>
#include <unistd.h>

/* One line without its end, byte by byte: what follows it belongs to somebody else. */
static bool read_line(int fd, char *out, size_t size)
{
    size_t n = 0;
    char c;

    while (read(fd, &c, 1) == 1 && c != '\n') {
        if (n + 1 >= size)
            return false;
        out[n++] = c;
    }
    out[n] = '\0';
    return n > 0;
}

/* --- at a terminal ---------------------------------------------------------------------------------------------- */

static const int ends_asking[] = { SIGINT, SIGTERM, SIGHUP, SIGQUIT, SIGTSTP };

/* What a signal that comes while somebody types has to put right. */
static struct {
    int fd;
    struct termios shown, hidden;
    struct sigaction before[TB_COUNT(ends_asking)];
} asking;

static void show_again(int number);

/* Who started the program may have told it to ignore one of them: that stays so. */
static void watch(void)
{
    struct sigaction act = { .sa_handler = show_again, .sa_flags = SA_NODEFER | SA_RESTART };

    (void)sigemptyset(&act.sa_mask);
    for (size_t i = 0; i < TB_COUNT(ends_asking); i++)
        if (sigaction(ends_asking[i], NULL, &asking.before[i]) == 0 && asking.before[i].sa_handler != SIG_IGN)
            (void)sigaction(ends_asking[i], &act, NULL);
    (void)tcsetattr(asking.fd, TCSAFLUSH, &asking.hidden);
}

static void unwatch(void)
{
    (void)tcsetattr(asking.fd, TCSAFLUSH, &asking.shown);
    for (size_t i = 0; i < TB_COUNT(ends_asking); i++)
        (void)sigaction(ends_asking[i], &asking.before[i], NULL);
}

/* The terminal shows what is typed, then the signal does what it does. Who was only stopped goes on asking. */
static void show_again(int number)
{
    int why = errno;

    unwatch();
    (void)raise(number);
    watch();
    errno = why;
}

static bool from_terminal(char *out, size_t size, const char *words, const char *file)
{
    int fd = open("/dev/tty", O_RDWR | O_CLOEXEC);
    char *named = tb_utf8_shown(file, strlen(file), "");
    bool good = false;

    if (fd >= 0 && tcgetattr(fd, &asking.shown) == 0) {
        asking.fd = fd;
        asking.hidden = asking.shown;
        asking.hidden.c_lflag &= (tcflag_t)~ECHO;
        /* NOLINTNEXTLINE(clang-diagnostic-format-nonliteral): the catalogue keeps the conversions (msgfmt -c) */
        (void)dprintf(fd, _(words), named ? named : file);
        watch();
        good = read_line(fd, out, size);
        unwatch();
        (void)dprintf(fd, "\n");
    }
    if (fd >= 0)
        (void)close(fd);
    free(named);
    return good;
}

/* A script that has no terminal to ask at is not kept waiting: what it records is not signed. */
static bool get(char *out, size_t size, const char *words, const char *file)
{
    const char *named = getenv("TENTERBOOK_PASS_FD");
    char *end;
    long fd;

    if (!named || !*named)
        return isatty(STDIN_FILENO) && isatty(STDERR_FILENO) && from_terminal(out, size, words, file);
    fd = strtol(named, &end, 10);
    return !*end && fd >= 0 && fd <= 1023 && read_line((int)fd, out, size);
}

/* Who gave nothing is not asked again by the same command. */
bool tb_pass_ask(void *arg, char *out, size_t size, const char *file)
{
    static bool declined;

    (void)arg;
    declined = declined || !get(out, size, N_("Pass phrase of the key %s (nothing: not signed): "), file);
    return !declined;
}

bool tb_pass_new(char *out, size_t size, const char *file)
{
    return get(out, size, N_("New pass phrase of the key %s: "), file);
}
