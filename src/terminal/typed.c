/* What a person types at a terminal while a command runs. */
#include "terminal/typed.h"

#include <poll.h>
#include <stdlib.h>
#include <unistd.h>

/* The screen (screen.h) writes to standard output, which has a buffer of its own. */
static void show(FILE *asked)
{
    (void)fflush(asked);
    (void)fflush(stdout);
}

char *tb_typed(FILE *asked)
{
    char *line = NULL;
    size_t room = 0;
    ssize_t n;

    show(asked);
    n = getline(&line, &room, stdin);
    if (n < 0) {
        free(line);
        return NULL;
    }
    while (n && (line[n - 1] == '\n' || line[n - 1] == '\r'))
        line[--n] = '\0';
    return line;
}

/* The first is waited for, then what comes with it. */
static void read_keys(struct tb_keys *k)
{
    struct pollfd more = { .fd = STDIN_FILENO, .events = POLLIN };
    ssize_t n;

    k->n = k->at = 0;
    do {
        n = read(STDIN_FILENO, k->byte + k->n, sizeof k->byte - k->n);
        k->n += n > 0 ? (size_t)n : 0;
    } while (n > 0 && k->n < sizeof k->byte && poll(&more, 1, tb_keys_wait_ms(k)) > 0);
}

void tb_typed_line_end(struct tb_keys *k)
{
    struct pollfd more = { .fd = STDIN_FILENO, .events = POLLIN };
    ssize_t n = poll(&more, 1, 0) > 0 ? read(STDIN_FILENO, k->byte, 1) : 0;

    k->at = 0;
    k->n = n == 1 && k->byte[0] != '\n' && k->byte[0] != '\r' ? 1 : 0;
}

int tb_typed_key(FILE *asked, struct tb_keys *k)
{
    show(asked);
    if (k->at >= k->n)
        read_keys(k);
    return tb_keys_next(k);
}

bool tb_at_terminal(void)
{
    return isatty(STDIN_FILENO) && isatty(STDOUT_FILENO);
}
