/* late.c - functions of a library that is loaded while the program runs. */
#include "base/late.h"

#include <dlfcn.h>
#include <string.h>

/* A pointer to a function is copied: the standard of C does not let one be made out of a pointer to data. */
bool tb_late_find(void *to, void *library, const char *name)
{
    void *at = dlsym(library, name);

    memcpy(to, &at, sizeof at);
    return at != NULL;
}
