/* poppler.c - the library that reads PDF: loaded once, and silent. */
#include "base/poppler.h"

#include <dlfcn.h>
#include <stddef.h>

#include "gen/late_drawing.h"

void *tb_poppler_library(void)
{
    static void *library;

    if (!library)
        library = dlopen(TB_POPPLER_LIBRARY, RTLD_NOW | RTLD_LOCAL);
    return library;
}

static void silent(const gchar *domain, GLogLevelFlags level, const gchar *message, gpointer arg)
{
    (void)domain;
    (void)level;
    (void)message;
    (void)arg;
}

void tb_poppler_silence(void)
{
    (void)g_log_set_default_handler(silent, NULL);
}
