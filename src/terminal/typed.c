/* What a person types at a terminal while a command runs. */
#include "terminal/typed.h"

#include <stdio.h>
#include <stdlib.h>
#include <unistd.h>

char *tb_typed(void)
{
    char *line = NULL;
    size_t room = 0;
    ssize_t n;

    (void)fflush(stdout);
    n = getline(&line, &room, stdin);
    if (n < 0) {
        free(line);
        return NULL;
    }
    while (n && (line[n - 1] == '\n' || line[n - 1] == '\r'))
        line[--n] = '\0';
    return line;
}

int tb_typed_key(void)
{
    unsigned char c;

    (void)fflush(stdout);
    return read(STDIN_FILENO, &c, 1) == 1 ? c : -1;
}

bool tb_at_terminal(void)
{
    return isatty(STDIN_FILENO) && isatty(STDOUT_FILENO);
}
