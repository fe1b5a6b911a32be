/* What this program is made of: its version, and every library it runs on, so that a known weakness can be looked for. */
#include "base/apart.h"
#include "base/poppler.h"
#include "cli/help/help.h"
#include "tenterbook/book.h"

#include "gen/late_archive.h"
#include "gen/late_crypto.h"
#include "gen/late_drawing.h"
#include "gen/late_workbook.h"
#include <csv.h>
#include <expat.h>
#include <gsl/gsl_version.h>
#include <jansson.h>
#include <limits.h>
#include <link.h>
#include <qrencode.h>
#include <seccomp.h>
#include <sodium.h>
#include <stdlib.h>
#include <unicode/uversion.h>
#include <unistring/version.h>
#include <zlib.h>

static void called(FILE *out)
{
    const struct scmp_version *seccomp = seccomp_version();
    const int font = FcGetVersion(), words = _libunistring_version;

    (void)fprintf(out, "  SQLite %s\n", tb_sqlite_version());
    (void)fprintf(out, "  cairo %s\n  pango %s\n", cairo_version_string(), pango_version_string());
    (void)fprintf(out, "  fontconfig %d.%d.%d\n", font / 10000, font / 100 % 100, font % 100);
    (void)fprintf(out, "  libcsv %d.%d.%d\n", CSV_MAJOR, CSV_MINOR, CSV_RELEASE);
    (void)fprintf(out, "  libxlsxwriter %s\n  libzip %s\n", lxw_version(), zip_libzip_version());
    (void)fprintf(out, "  zlib %s\n  expat %s\n", zlibVersion(), XML_ExpatVersion() + sizeof("expat_") - 1);
    (void)fprintf(out, "  GSL %s\n  libsodium %s\n", gsl_version, sodium_version_string());
    (void)fprintf(out, "  jansson %s\n  libqrencode %s\n", jansson_version_str(), QRcode_APIVersionString());
    (void)fprintf(out, "  libseccomp %u.%u.%u\n", seccomp->major, seccomp->minor, seccomp->micro);
    (void)fprintf(out, "  OpenSSL %s\n", OpenSSL_version(OPENSSL_VERSION_STRING));
    (void)fprintf(out, "  ICU %s\n", U_ICU_VERSION);
    if (tb_poppler_version())
        (void)fprintf(out, "  poppler %s\n", tb_poppler_version());
    (void)fprintf(out, "  libunistring %d.%d.%d\n", words >> 16, words >> 8 & 0xff, words & 0xff);
}

/* The file behind a name carries the version of what was really loaded: libz.so.1 is libz.so.1.2.13. */
static int loaded(struct dl_phdr_info *info, size_t size, void *out)
{
    char file[PATH_MAX];

    (void)size;
    if (info->dlpi_name && *info->dlpi_name)
        (void)fprintf(out, "  %s\n", realpath(info->dlpi_name, file) ? file : info->dlpi_name);
    return 0;
}

void tb_version_say(FILE *out, bool all)
{
    (void)fprintf(out, "tenterbook %s\n", TB_VERSION);
    if (!all)
        return;
    (void)fputs(_("Libraries it calls, with their versions:\n"), out);
    called(out);
    (void)fputs(_("Files the system loaded for it, those of their own libraries too:\n"), out);
    (void)dl_iterate_phdr(loaded, out);
    (void)fputs(
        tb_apart_guarded()
            ? _("Workbooks, PDF, photographs and case files are read by a process of their own, which has an "
                "end "
                "to its "
                "memory, its time and its calls of the system.\n")
            : _("Workbooks, PDF, photographs and case files are read by a process of their own, which has an "
                "end "
                "to its "
                "memory and its time; this system or this build does not limit its calls (seccomp).\n"),
        out);
}
