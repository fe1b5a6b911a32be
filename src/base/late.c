/* late.c - functions of a library that is loaded while the program runs. */
#include "base/late.h"

#include <dlfcn.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

/* A pointer to a function is copied: the standard of C does not let one be made out of a pointer to data. */
bool tb_late_find(void *to, void *library, const char *name)
{
    void *at = dlsym(library, name);

    memcpy(to, &at, sizeof at);
    return at != NULL;
}

/* All of it is looked up now: a process apart may open no file later. */
static tb_rc open_libraries(void **handle, const struct tb_late *l, struct tb_err *err)
{
    for (size_t i = 0; i < l->libraries; i++)
        if (!(handle[i] = dlopen(l->library[i], RTLD_NOW | RTLD_LOCAL)))
            return tb_fail(err, TB_EIO, "the library %s is not on this machine or cannot be loaded",
                           l->library[i]);
    return TB_OK;
}

static tb_rc load(struct tb_late *l, struct tb_err *err)
{
    void **handle = tb_array(void *, l->libraries);
    tb_rc rc = open_libraries(handle, l, err);

    for (size_t f = 0; f < l->functions && rc == TB_OK; f++) {
        bool there = false;

        for (size_t i = 0; i < l->libraries && !there; i++)
            there = tb_late_find((char *)l->table + f * sizeof(void (*)(void)), handle[i], l->function[f]);
        if (!there)
            rc = tb_fail(err, TB_EIO, "the library %s on this machine is too old: it has no %s",
                         l->library[0], l->function[f]);
    }
    free(handle);
    return rc;
}

tb_rc tb_late_load(struct tb_late *l, struct tb_err *err)
{
    tb_rc rc = TB_OK;

    if (l->loaded)
        return TB_OK;
    (void)pthread_mutex_lock(&l->once);
    if (!l->loaded && (rc = load(l, err)) == TB_OK)
        l->loaded = true;
    (void)pthread_mutex_unlock(&l->once);
    return rc;
}

void tb_late_need(struct tb_late *l)
{
    struct tb_err err;

    if (tb_late_load(l, &err) == TB_OK)
        return;
    (void)fprintf(stderr, "tenterbook: %s\n", err.msg);
    _exit(EXIT_FAILURE); /* as without memory: what is cleared away at the end may be another process's */
}
