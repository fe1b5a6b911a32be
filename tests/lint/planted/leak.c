/*
 * A planted fault: memory is lost when a file does not open.
 * clang-tidy: clang-analyzer-unix.Malloc
 * cppcheck: memleak
 */
#include <stdio.h>
#include <stdlib.h>

int planted_leak(const char *path);

int planted_leak(const char *path)
{
    char *line = malloc(80);
    FILE *f = fopen(path, "r");

    if (!f)
        return -1;
    (void)fgets(line, 80, f);
    free(line);
    return fclose(f);
}
