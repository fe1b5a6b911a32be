/* xlsx_part.c - one XML part of a workbook through expat, with the guards a file from outside needs. */
#include "base/xlsx_in.h"

#include <stdlib.h>
#include <string.h>

#define DEPTH_MOST 64
#define TOKEN_MOST (16u << 20) /* bytes of one tag with its attributes */

static const char *local(const char *name)
{
    const char *colon = strrchr(name, ':');

    return colon ? colon + 1 : name;
}

const char *tb_xml_attr(const char **attr, const char *name)
{
    for (size_t i = 0; attr[i]; i += 2)
        if (strcmp(local(attr[i]), name) == 0)
            return attr[i + 1];
    return NULL;
}

static void stop(struct tb_xml *m, tb_rc rc)
{
    m->rc = rc;
    (void)XML_StopParser(m->parser, XML_FALSE);
}

static void on_start(void *arg, const char *name, const char **attr)
{
    struct tb_xml *m = arg;

    if (m->rc != TB_OK)
        return;
    if (++m->depth > DEPTH_MOST) {
        stop(m, tb_fail(m->x->err, TB_EFORMAT, "the workbook's part %s is nested too deeply to be a sheet",
                        m->part));
        return;
    }
    m->start(m, local(name), attr);
    if (m->rc != TB_OK)
        stop(m, m->rc);
}

static void on_end(void *arg, const char *name)
{
    struct tb_xml *m = arg;

    if (m->rc != TB_OK)
        return;
    m->depth--;
    m->end(m, local(name));
    if (m->rc != TB_OK)
        stop(m, m->rc);
}

static void on_text(void *arg, const char *s, int n)
{
    struct tb_xml *m = arg;

    if (!m->keep || m->rc != TB_OK)
        return;
    if (m->text.n + (size_t)n > TB_SHEET_FIELD_MOST)
        stop(m, tb_fail(m->x->err, TB_EFORMAT, "the workbook's part %s has a cell of more than %u bytes",
                        m->part, TB_SHEET_FIELD_MOST));
    else
        tb_text_addn(&m->text, s, (size_t)n);
}

static void on_doctype(void *arg, const char *name, const char *system, const char *public, int subset)
{
    struct tb_xml *m = arg;

    (void)name;
    (void)system;
    (void)public;
    (void)subset;
    stop(m, tb_fail(m->x->err, TB_EFORMAT,
                    "the workbook's part %s declares a document type, which no spreadsheet does; it is not "
                    "read",
                    m->part));
}

static tb_rc too_much(struct tb_xlsx *x)
{
    return tb_fail(x->err, TB_EFORMAT, "the workbook unpacks to more than %llu bytes; split it",
                   TB_SHEET_UNPACKED_MOST);
}

tb_rc tb_xlsx_locked(struct tb_err *err)
{
    return tb_fail(err, TB_EFORMAT,
                   "the workbook is locked with a password; save it without one, or as CSV, and give that");
}

/* Sizes the archive claims; what comes out is counted again while reading. */
static tb_rc check_size(struct tb_xlsx *x, const char *part, zip_int64_t index)
{
    zip_stat_t st;

    if (zip_stat_index(x->zip, (zip_uint64_t)index, 0, &st) != 0 || !(st.valid & ZIP_STAT_SIZE) ||
        !(st.valid & ZIP_STAT_COMP_SIZE))
        return tb_fail(x->err, TB_EFORMAT, "the workbook's part %s is damaged", part);
    if (st.size > (16u << 20) && st.size / TB_SHEET_RATIO_MOST > st.comp_size)
        return tb_fail(x->err, TB_EFORMAT,
                       "the workbook's part %s would unpack to more than %d times its size; it is not read",
                       part, TB_SHEET_RATIO_MOST);
    if (x->unpacked + st.size > TB_SHEET_UNPACKED_MOST)
        return too_much(x);
    return TB_OK;
}

static tb_rc parse_chunk(struct tb_xlsx *x, struct tb_xml *m, const char *buf, size_t n, uint64_t fed,
                         bool last)
{
    if (XML_Parse(m->parser, buf, (int)n, last) != XML_STATUS_OK && m->rc == TB_OK)
        return tb_fail(x->err, TB_EFORMAT, "the workbook's part %s is damaged at its line %lu (%s)", m->part,
                       (unsigned long)XML_GetCurrentLineNumber(m->parser),
                       XML_ErrorString(XML_GetErrorCode(m->parser)));
    if (m->rc != TB_OK)
        return m->rc;
    if (!last && (XML_Index)fed - XML_GetCurrentByteIndex(m->parser) > (XML_Index)TOKEN_MOST)
        return tb_fail(x->err, TB_EFORMAT, "the workbook's part %s has a tag without end", m->part);
    return TB_OK;
}

static tb_rc parse_all(struct tb_xlsx *x, struct tb_xml *m, zip_file_t *f)
{
    char *buf = tb_alloc(65536, 1);
    uint64_t fed = 0;
    zip_int64_t n = 0;
    tb_rc rc = TB_OK;

    while (rc == TB_OK && (n = zip_fread(f, buf, 65536)) > 0) {
        fed += (uint64_t)n;
        x->unpacked += (uint64_t)n;
        if (x->unpacked > TB_SHEET_UNPACKED_MOST)
            rc = too_much(x);
        else
            rc = parse_chunk(x, m, buf, (size_t)n, fed, false);
    }
    if (rc == TB_OK && n < 0)
        rc = tb_fail(x->err, TB_EFORMAT, "the workbook's part %s cannot be unpacked (%s)", m->part,
                     zip_error_strerror(zip_file_get_error(f)));
    if (rc == TB_OK)
        rc = parse_chunk(x, m, buf, 0, fed, true);
    free(buf);
    return rc;
}

tb_rc tb_xml_part(struct tb_xlsx *x, struct tb_xml *m, const char *part)
{
    zip_int64_t index = zip_name_locate(x->zip, part, ZIP_FL_NOCASE);
    zip_file_t *f;
    tb_rc rc;

    if (index < 0)
        return TB_ENOTFOUND;
    if ((rc = check_size(x, part, index)) != TB_OK)
        return rc;
    if (!(f = zip_fopen_index(x->zip, (zip_uint64_t)index, 0)))
        return tb_fail(x->err, TB_EFORMAT, "the workbook's part %s cannot be unpacked (%s)", part,
                       zip_strerror(x->zip));
    m->x = x;
    m->part = part;
    m->parser = XML_ParserCreate(NULL);
    if (!m->parser) {
        (void)zip_fclose(f);
        return tb_fail(x->err, TB_EIO, "the XML reader cannot start");
    }
    XML_SetUserData(m->parser, m);
    XML_SetElementHandler(m->parser, on_start, on_end);
    XML_SetCharacterDataHandler(m->parser, on_text);
    XML_SetStartDoctypeDeclHandler(m->parser, on_doctype);
    rc = parse_all(x, m, f);
    XML_ParserFree(m->parser);
    (void)zip_fclose(f);
    tb_text_free(&m->text);
    return rc;
}

static int hex(const char *s)
{
    int v = 0;

    for (int i = 0; i < 4; i++) {
        const char *digits = "0123456789abcdef0123456789ABCDEF", *at = s[i] ? strchr(digits, s[i]) : NULL;

        if (!at)
            return -1;
        v = v * 16 + (int)((at - digits) % 16);
    }
    return v;
}

void tb_xml_unescape(struct tb_text *t)
{
    size_t out = 0;

    if (!t->s || !strstr(t->s, "_x"))
        return;
    for (size_t i = 0; i < t->n;) {
        int c = t->n - i >= 7 && t->s[i] == '_' && t->s[i + 1] == 'x' && t->s[i + 6] == '_'
                    ? hex(t->s + i + 2)
                    : -1;

        if (c > 0 && c < 0x80) { /* control characters are what the escape is for; "_x005F_" is "_" */
            t->s[out++] = (char)c;
            i += 7;
        } else {
            t->s[out++] = t->s[i++];
        }
    }
    t->n = out;
    t->s[out] = '\0';
}
