/* Pass phrases: from a file descriptor that the caller names, or from a terminal that does not show them; never from a word. */
#include "terminal/pass.h"

#include "tenterbook/utf8.h"
#include "terminal/quiet.h"

#include <fcntl.h>
#include <stdlib.h>
#include <string.h>
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

static bool from_terminal(char *out, size_t size, const char *words, const char *file)
{
    int fd = open("/dev/tty", O_RDWR | O_CLOEXEC);
    char *named = tb_utf8_shown(file, strlen(file), "");
    bool good = false;

    if (fd >= 0 && tb_quiet_begin(fd, TB_QUIET_LINES)) {
        /* NOLINTNEXTLINE(clang-diagnostic-format-nonliteral): the catalogue keeps the conversions (msgfmt -c) */
        (void)dprintf(fd, _(words), named ? named : file);
        good = read_line(fd, out, size);
        tb_quiet_end();
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
