/* ods.c - OpenDocument files: is it a spreadsheet, and is it locked? */
#include "base/ods_in.h"

#include <string.h>

static bool has(struct tb_xlsx *x, const char *part)
{
    return zip_name_locate(x->zip, part, 0) >= 0;
}

bool tb_ods_is(struct tb_xlsx *x)
{
    return has(x, "content.xml") || has(x, "encrypted-package");
}

/* The first part says what the document is; one that was packed by hand may lack it. */
static bool is_spreadsheet(struct tb_xlsx *x)
{
    static const char type[] = "application/vnd.oasis.opendocument.spreadsheet";
    char said[sizeof type - 1];
    zip_file_t *f = zip_fopen(x->zip, "mimetype", 0);
    zip_int64_t n = f ? zip_fread(f, said, sizeof said) : 0;

    if (f)
        (void)zip_fclose(f);
    return !f || (n == (zip_int64_t)sizeof said && memcmp(said, type, sizeof said) == 0);
}

/* Each part that is enciphered has a word of it in the list of parts. */
static void manifest_start(struct tb_xml *m, const char *name, const char **attr)
{
    (void)attr;
    if (strcmp(name, "encryption-data") == 0)
        *(bool *)m->arg = true;
}

static void manifest_end(struct tb_xml *m, const char *name)
{
    (void)m;
    (void)name;
}

static tb_rc is_locked(bool *locked, struct tb_xlsx *x)
{
    struct tb_xml m = { .start = manifest_start, .end = manifest_end, .arg = locked };
    tb_rc rc = tb_xml_part(x, &m, "META-INF/manifest.xml");

    *locked = *locked || has(x, "encrypted-package");
    return rc == TB_ENOTFOUND ? TB_OK : rc;
}

tb_rc tb_ods_read(struct tb_xlsx *x, const struct tb_sheet_sink *sink)
{
    bool locked = false;
    tb_rc rc;

    if (!is_spreadsheet(x))
        return tb_fail(
            x->err, TB_EFORMAT,
            "this is an OpenDocument file, and not a spreadsheet; save its table as .ods, .xlsx or "
            "CSV and give that");
    if ((rc = is_locked(&locked, x)) != TB_OK)
        return rc;
    return locked ? tb_xlsx_locked(x->err) : tb_ods_rows(x, sink);
}
