/* qpdf_load.c - the library for PDF files, loaded when it is first needed. */
#include "report/draw/qpdf_load.h"

#include "base/late.h"

#include <dlfcn.h>
#include <pthread.h>

#define LIBRARY "libqpdf.so.29"

static struct tb_qpdf lib;
static bool there;
static pthread_once_t once = PTHREAD_ONCE_INIT;

static void load(void)
{
    void *library = dlopen(LIBRARY, RTLD_NOW | RTLD_LOCAL);

    there = library != NULL;
#define FIND(name) there = there && tb_late_find(&lib.name, library, "qpdf_" #name);
    TB_QPDF_FUNCTIONS(FIND)
#undef FIND
}

tb_rc tb_qpdf_load(const struct tb_qpdf **out, struct tb_err *err)
{
    (void)pthread_once(&once, load);
    if (!there)
        return tb_fail(err, TB_EIO, "the library %s is not on this machine; install the package libqpdf29",
                       LIBRARY);
    *out = &lib;
    return TB_OK;
}

const char *tb_qpdf_version(void)
{
    const struct tb_qpdf *q;
    struct tb_err why;

    return tb_qpdf_load(&q, &why) == TB_OK ? q->get_qpdf_version() : "none";
}
