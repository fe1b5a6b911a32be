/*
 * A planted fault: memory is read after it was given back.
 * clang-tidy: clang-analyzer-unix.Malloc
 * cppcheck: deallocuse
 */
#include <stdlib.h>

int planted_use_after_free(int n);

int planted_use_after_free(int n)
{
    int *p = malloc(sizeof *p);

    if (!p)
        return 0;
    *p = n;
    free(p);
    n = *p + 1;
    return n;
}
