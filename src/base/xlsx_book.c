/* xlsx_book.c - the workbook part and its relationships: which sheets there are, and where. */
#include "base/xlsx_in.h"

#include <stdlib.h>
#include <string.h>

#define SHEETS_MOST 1000

/* Handlers come in pairs; some parts say all they have to say in their start tags. */
static void no_end(struct tb_xml *m, const char *name)
{
    (void)m;
    (void)name;
}

/* "worksheets/sheet1.xml" seen from "xl/workbook.xml" is "xl/worksheets/sheet1.xml". */
static char *resolve(const char *from, const char *target)
{
    const char *slash = strrchr(from, '/');
    size_t dir = slash ? (size_t)(slash - from) + 1 : 0;
    struct tb_text t = { 0 };

    if (*target == '/')
        return tb_strdup(target + 1);
    while (strncmp(target, "../", 3) == 0) {
        target += 3;
        for (dir -= dir > 0; dir > 0 && from[dir - 1] != '/'; dir--)
            ;
    }
    tb_text_addn(&t, from, dir);
    tb_text_add(&t, target);
    return tb_text_take(&t);
}

/* Types of relationships are addresses whose first half changed over the years. */
static bool ends_with(const char *s, const char *end)
{
    size_t n = strlen(s), m = strlen(end);

    return n >= m && strcmp(s + n - m, end) == 0;
}

/* The workbook may lie anywhere in the archive; this is where it says so. */
static void root_rel(struct tb_xml *m, const char *name, const char **attr)
{
    const char *type = tb_xml_attr(attr, "Type"), *target = tb_xml_attr(attr, "Target");

    if (strcmp(name, "Relationship") == 0 && type && target && ends_with(type, "/officeDocument") &&
        !m->x->book_part)
        m->x->book_part = resolve("", target);
}

/* A sheet without a relationship cannot be found and is left out. */
static void book_start(struct tb_xml *m, const char *name, const char **attr)
{
    struct tb_xlsx *x = m->x;

    if (strcmp(name, "workbookPr") == 0) {
        const char *v = tb_xml_attr(attr, "date1904");

        x->epoch1904 = v && (strcmp(v, "1") == 0 || strcmp(v, "true") == 0);
    } else if (strcmp(name, "sheet") == 0) {
        const char *title = tb_xml_attr(attr, "name"), *rel = tb_xml_attr(attr, "id");
        const char *state = tb_xml_attr(attr, "state");

        if (!title || !rel)
            return;
        if (x->sheets == SHEETS_MOST) {
            m->rc = tb_fail(x->err, TB_EFORMAT, "the workbook has more than %d sheets", SHEETS_MOST);
            return;
        }
        TB_PUSH_ROOM(x->sheet, x->sheets, x->sheet_cap);
        x->sheet[x->sheets++] = (struct tb_xlsx_sheet){ .name = tb_strdup(title),
                                                        .rel = tb_strdup(rel),
                                                        .hidden = state && strcmp(state, "visible") != 0 };
    }
}

/* Parts outside the archive are never followed: a file must not make us read another. */
static void book_rel(struct tb_xml *m, const char *name, const char **attr)
{
    const char *id = tb_xml_attr(attr, "Id"), *type = tb_xml_attr(attr, "Type");
    const char *target = tb_xml_attr(attr, "Target"), *mode = tb_xml_attr(attr, "TargetMode");
    struct tb_xlsx *x = m->x;

    if (strcmp(name, "Relationship") != 0 || !id || !type || !target ||
        (mode && strcmp(mode, "External") == 0))
        return;
    if (ends_with(type, "/sharedStrings") && !x->strings_part)
        x->strings_part = resolve(x->book_part, target);
    if (ends_with(type, "/styles") && !x->styles_part)
        x->styles_part = resolve(x->book_part, target);
    if (ends_with(type, "/worksheet"))
        for (size_t i = 0; i < x->sheets; i++)
            if (strcmp(x->sheet[i].rel, id) == 0 && !x->sheet[i].part)
                x->sheet[i].part = resolve(x->book_part, target);
}

/* People give the wrong kind of file more often than a broken one, so the kind is named. */
static tb_rc no_workbook(struct tb_xlsx *x)
{
    if (zip_name_locate(x->zip, "xl/workbook.bin", ZIP_FL_NOCASE) >= 0)
        return tb_fail(x->err, TB_EFORMAT,
                       "this is a binary workbook (.xlsb); save it as .xlsx and give that");
    return tb_fail(x->err, TB_EFORMAT, "this is an archive without a workbook in it");
}

/* Three parts, each of which names the next. */
tb_rc tb_xlsx_workbook(struct tb_xlsx *x)
{
    struct tb_xml m = { .start = root_rel, .end = no_end };
    struct tb_text rels = { 0 };
    const char *slash;
    char *part;
    tb_rc rc = tb_xml_part(x, &m, "_rels/.rels");

    if (rc != TB_OK && rc != TB_ENOTFOUND)
        return rc;
    if (!x->book_part || ends_with(x->book_part, ".bin"))
        return no_workbook(x);
    m = (struct tb_xml){ .start = book_start, .end = no_end };
    if ((rc = tb_xml_part(x, &m, x->book_part)) != TB_OK)
        return rc == TB_ENOTFOUND ? no_workbook(x) : rc;
    slash = strrchr(x->book_part, '/');
    tb_text_addn(&rels, x->book_part, slash ? (size_t)(slash - x->book_part) + 1 : 0);
    tb_text_addf(&rels, "_rels/%s.rels", slash ? slash + 1 : x->book_part);
    part = tb_text_take(&rels);
    m = (struct tb_xml){ .start = book_rel, .end = no_end };
    rc = tb_xml_part(x, &m, part);
    free(part);
    if (rc == TB_ENOTFOUND)
        return tb_fail(x->err, TB_EFORMAT, "the workbook does not say where its sheets are; it is damaged");
    if (rc == TB_OK && x->sheets == 0)
        return tb_fail(x->err, TB_EFORMAT, "the workbook has no sheet");
    return rc;
}
