/* mem.c - memory, or the end of the program with a sentence. */
#include "tenterbook/base.h"

#include <stdint.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

static tb_no_memory_fn *last_words;

void tb_on_no_memory(tb_no_memory_fn *say)
{
    last_words = say;
}

/* Once: who says it may find no memory either. Nothing is cleared up, which could need memory: the next run does that. */
void tb_no_memory(void)
{
    static const char plain[] = "tenterbook: this machine has no memory left; nothing was half-written\n";
    tb_no_memory_fn *say = last_words;

    last_words = NULL;
    if (say)
        say();
    (void)!write(STDERR_FILENO, plain, sizeof plain - 1);
    _exit(EXIT_FAILURE);
}

/* Nothing is asked for as one byte, so that the answer is never NULL and can always be freed. */
void *tb_alloc(size_t count, size_t size)
{
    void *p = calloc(count ? count : 1, size ? size : 1);

    if (!p)
        tb_no_memory();
    return p;
}

/* The product is looked at before it is made: a wrapped one would give less memory than was meant. */
void *tb_realloc(void *old, size_t count, size_t size)
{
    void *p;

    if (size && count > SIZE_MAX / size)
        tb_no_memory();
    p = realloc(old, count && size ? count * size : 1);
    if (!p)
        tb_no_memory();
    return p;
}

char *tb_strndup(const char *s, size_t n)
{
    char *copy = tb_alloc(n + 1, 1);

    memcpy(copy, s, n);
    return copy;
}

char *tb_strdup(const char *s)
{
    return s ? tb_strndup(s, strlen(s)) : NULL;
}
