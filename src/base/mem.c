/* mem.c - memory, or the end of the program with a sentence. */
#include "tenterbook/base.h"

#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* Ends at once and by abort: cleaning up would need memory too, and what was written is whole or not there. */
static void out_of_memory(void)
{
    (void)fputs("tenterbook: this machine has no memory left; nothing was half-written\n", stderr);
    abort();
}

/* Nothing is asked for as one byte, so that the answer is never NULL and can always be freed. */
void *tb_alloc(size_t count, size_t size)
{
    void *p = calloc(count ? count : 1, size ? size : 1);

    if (!p)
        out_of_memory();
    return p;
}

/* The product is looked at before it is made: a wrapped one would give less memory than was meant. */
void *tb_realloc(void *old, size_t count, size_t size)
{
    void *p;

    if (size && count > SIZE_MAX / size)
        out_of_memory();
    p = realloc(old, count && size ? count * size : 1);
    if (!p)
        out_of_memory();
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
