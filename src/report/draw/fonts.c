/* fonts.c - the typefaces of all pictures and papers, found by name of file and by nothing else. */
#include "report/draw/fonts.h"

#include "gen/late_drawing.h"
#include <pthread.h>
#include <stdatomic.h>
#include <stdlib.h>
#include <unistd.h>

/* Where distributions put the two packages: Debian, Fedora, Arch. */
static const char *const usual_folder[] = { "/usr/share/fonts/truetype/dejavu",
                                            "/usr/share/fonts/truetype/droid",
                                            "/usr/share/fonts/dejavu-sans-fonts",
                                            "/usr/share/fonts/dejavu-sans-mono-fonts",
                                            "/usr/share/fonts/google-droid-sans-fonts",
                                            "/usr/share/fonts/TTF",
                                            "/usr/share/fonts/droid",
                                            NULL };

/* The last one has the letters of East Asia that the others lack. */
static const char *const font_file[] = { "DejaVuSans.ttf", "DejaVuSans-Bold.ttf", "DejaVuSansMono.ttf",
                                         "DejaVuSansMono-Bold.ttf", "DroidSansFallbackFull.ttf" };

/* Slanted letters are the upright ones leant over: their own files are in a package few machines have. */
static const char rules[] =
    "<fontconfig><match target=\"font\"><test name=\"slant\"><const>roman</const></test><test "
    "target=\"pattern\" name=\"slant\" compare=\"not_eq\"><const>roman</const></test><edit name=\"matrix\" "
    "mode=\"assign\"><times><name>matrix</name><matrix><double>1</double><double>0.2</double><double>0</"
    "double><double>1</double></matrix></times></edit><edit "
    "name=\"slant\" mode=\"assign\"><const>oblique</const></edit></match></fontconfig>";

static tb_rc answer = TB_OK;
static struct tb_err why;
static pthread_once_t once = PTHREAD_ONCE_INIT;

static bool add_file(FcConfig *c, const char *const *folder, const char *name)
{
    struct tb_text path = { 0 };
    bool added = false;

    for (; *folder && !added; folder++) {
        tb_text_clear(&path);
        tb_text_addf(&path, "%s/%s", *folder, name);
        added = access(path.s, R_OK) == 0 && FcConfigAppFontAddFile(c, (const FcChar8 *)path.s) == FcTrue;
    }
    tb_text_free(&path);
    return added;
}

tb_rc tb_fonts_load(FcConfig **out, const char *const *folder, struct tb_err *err)
{
    FcConfig *c = FcConfigCreate();
    tb_rc rc = TB_OK;

    *out = NULL;
    if (!c || !FcConfigParseAndLoadFromMemory(c, (const FcChar8 *)rules, FcTrue))
        rc = tb_fail(err, TB_EIO, "the font library cannot be set up");
    for (size_t i = 0; i < TB_COUNT(font_file) && rc == TB_OK; i++)
        if (!add_file(c, folder, font_file[i]))
            rc = tb_fail(err, TB_EIO,
                         "the font %s is not on this machine or cannot be read; install the packages "
                         "fonts-dejavu-core and fonts-droid-fallback",
                         font_file[i]);
    if (rc == TB_OK)
        *out = c;
    else if (c)
        FcConfigDestroy(c);
    return rc;
}

/* Given back at the end, so that a leak checker sees only leaks. */
static void give_back(void)
{
    pango_cairo_font_map_set_default(NULL);
    FcFini();
}

static atomic_uint complaints;

/* A complaint goes to no terminal, where nobody could act on it; whoever draws asks. GLib has one more that it ends with: no memory. */
static void hear(const char *domain, GLogLevelFlags level, const char *words, void *arg)
{
    (void)domain;
    (void)words;
    (void)arg;
    if (level & G_LOG_LEVEL_ERROR)
        tb_no_memory();
    if (level & (G_LOG_LEVEL_CRITICAL | G_LOG_LEVEL_WARNING))
        complaints++;
}

/* Libraries of one family complain in two ways. */
static GLogWriterOutput hear_fields(GLogLevelFlags level, const GLogField *field, gsize n, gpointer arg)
{
    (void)field;
    (void)n;
    hear(NULL, level, NULL, arg);
    return G_LOG_WRITER_HANDLED;
}

unsigned tb_fonts_complaints(void)
{
    return complaints;
}

static void load_usual(void)
{
    FcConfig *c;

    if ((answer = tb_late_drawing_load(&why)) != TB_OK)
        return;
    (void)g_log_set_default_handler(hear, NULL);
    g_log_set_writer_func(hear_fields, NULL, NULL);
    if ((answer = tb_fonts_load(&c, usual_folder, &why)) != TB_OK)
        return;
    if (!FcConfigSetCurrent(c))
        answer = tb_fail(&why, TB_EIO, "the font library cannot be set up");
    FcConfigDestroy(c); /* it is kept as the current one */
    (void)atexit(give_back);
}

tb_rc tb_fonts_ready(struct tb_err *err)
{
    (void)pthread_once(&once, load_usual);
    if (answer != TB_OK)
        *err = why;
    return answer;
}
