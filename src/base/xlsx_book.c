/* Workbook, relationships, styles and shared strings. */
#include "xlsx_in.h"

#include <stdlib.h>
#include <string.h>

#define SHEETS_MOST 1000
#define STYLES_MOST 65536
#define FORMATS_MOST 10000
#define STRINGS_MOST 16000000

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

static bool ends_with(const char *s, const char *end)
{
    size_t n = strlen(s), m = strlen(end);

    return n >= m && strcmp(s + n - m, end) == 0;
}

static void root_rel(struct tb_xml *m, const char *name, const char **attr)
{
    const char *type = tb_xml_attr(attr, "Type"), *target = tb_xml_attr(attr, "Target");

    if (strcmp(name, "Relationship") == 0 && type && target && ends_with(type, "/officeDocument") &&
        !m->x->book_part)
        m->x->book_part = resolve("", target);
}

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

static tb_rc no_workbook(struct tb_xlsx *x)
{
    if (zip_name_locate(x->zip, "xl/workbook.bin", ZIP_FL_NOCASE) >= 0)
        return tb_fail(x->err, TB_EFORMAT,
                       "this is a binary workbook (.xlsb); save it as .xlsx and give that");
    if (zip_name_locate(x->zip, "content.xml", 0) >= 0)
        return tb_fail(x->err, TB_EFORMAT, "this is an OpenDocument file; save it as .xlsx and give that");
    return tb_fail(x->err, TB_EFORMAT, "this is an archive without a workbook in it");
}

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

/* --- styles: which cell formats show a day -------------------------------------------------------------- */
struct formats {
    unsigned *id;
    unsigned char *style;
    size_t n, id_cap, style_cap;
    bool in_cell_formats;
};

/* Formats every spreadsheet knows by number (ECMA-376 part 1, 18.8.30; 27 to 36 and 50 to 58 East Asian). */
static bool builtin_day(unsigned id)
{
    return (id >= 14 && id <= 17) || id == 22 || (id >= 27 && id <= 31) || id == 36 ||
           (id >= 50 && id <= 54) || id == 57 || id == 58;
}

/* A custom format shows a day when a day or a year stands outside quotes, escapes and brackets. */
static unsigned char custom_style(const char *code)
{
    size_t zeros = strspn(code, "0");

    if (zeros > 1 && zeros < 100 && code[zeros] == '\0')
        return (unsigned char)(TB_STYLE_PAD + zeros);
    for (const char *c = code; *c && *c != ';'; c++) {
        if (*c == '"' || *c == '[') {
            const char *close = strchr(c + 1, *c == '"' ? '"' : ']');

            if (!close)
                break;
            c = close;
        } else if ((*c == '\\' || *c == '_' || *c == '*') && c[1]) {
            c++;
        } else if (strchr("dDyYeE", *c) && !((*c == 'e' || *c == 'E') && (c[1] == '+' || c[1] == '-'))) {
            return strncmp(code, "General", 7) == 0 ? TB_STYLE_NUMBER : TB_STYLE_DAY;
        }
    }
    return TB_STYLE_NUMBER;
}

static void style_start(struct tb_xml *m, const char *name, const char **attr)
{
    struct formats *f = m->arg;
    struct tb_xlsx *x = m->x;
    const char *id = tb_xml_attr(attr, "numFmtId"), *code = tb_xml_attr(attr, "formatCode");
    unsigned number = id ? (unsigned)strtoul(id, NULL, 10) : 0;

    if (strcmp(name, "cellXfs") == 0) {
        f->in_cell_formats = true;
    } else if (strcmp(name, "numFmt") == 0 && id && code && f->n < FORMATS_MOST) {
        TB_PUSH_ROOM(f->id, f->n, f->id_cap);
        if (f->n == f->style_cap) {
            f->style_cap = f->style_cap ? f->style_cap * 2 : 8;
            f->style = tb_realloc(f->style, f->style_cap, 1);
        }
        f->id[f->n] = number;
        f->style[f->n++] = custom_style(code);
    } else if (strcmp(name, "xf") == 0 && f->in_cell_formats && x->styles < STYLES_MOST) {
        unsigned char style = builtin_day(number) ? TB_STYLE_DAY : TB_STYLE_NUMBER;

        for (size_t i = 0; i < f->n; i++)
            if (f->id[i] == number)
                style = f->style[i];
        TB_PUSH_ROOM(x->style, x->styles, x->style_cap);
        x->style[x->styles++] = style;
    }
}

static void style_end(struct tb_xml *m, const char *name)
{
    if (strcmp(name, "cellXfs") == 0)
        ((struct formats *)m->arg)->in_cell_formats = false;
}

tb_rc tb_xlsx_styles(struct tb_xlsx *x)
{
    struct formats f = { 0 };
    struct tb_xml m = { .start = style_start, .end = style_end, .arg = &f };
    tb_rc rc = x->styles_part ? tb_xml_part(x, &m, x->styles_part) : TB_OK;

    free(f.id);
    free(f.style);
    return rc == TB_ENOTFOUND ? TB_OK : rc; /* a workbook without styles shows no days */
}

/* --- shared strings ------------------------------------------------------------------------------------- */
static void string_start(struct tb_xml *m, const char *name, const char **attr)
{
    bool *phonetic = m->arg;

    (void)attr;
    if (strcmp(name, "si") == 0)
        tb_text_clear(&m->text);
    else if (strcmp(name, "rPh") == 0)
        *phonetic = true;
    else if (strcmp(name, "t") == 0)
        m->keep = !*phonetic;
}

static void add_string(struct tb_xml *m)
{
    struct tb_xlsx *x = m->x;

    tb_xml_unescape(&m->text);
    if (x->text_n + m->text.n + 1 > TB_SHEET_STRINGS_MOST || x->strings == STRINGS_MOST) {
        m->rc = tb_fail(x->err, TB_EFORMAT, "the workbook holds more than %u bytes of text; split it",
                        TB_SHEET_STRINGS_MOST);
        return;
    }
    if (x->text_n + m->text.n + 1 > x->text_cap) {
        x->text_cap = (x->text_n + m->text.n + 1) * 2;
        x->text = tb_realloc(x->text, x->text_cap, 1);
    }
    TB_PUSH_ROOM(x->at, x->strings, x->at_cap);
    x->at[x->strings++] = x->text_n;
    memcpy(x->text + x->text_n, tb_text_str(&m->text), m->text.n + 1);
    x->text_n += m->text.n + 1;
}

static void string_end(struct tb_xml *m, const char *name)
{
    if (strcmp(name, "t") == 0)
        m->keep = false;
    else if (strcmp(name, "rPh") == 0)
        *(bool *)m->arg = false;
    else if (strcmp(name, "si") == 0)
        add_string(m);
}

tb_rc tb_xlsx_strings(struct tb_xlsx *x)
{
    bool phonetic = false;
    struct tb_xml m = { .start = string_start, .end = string_end, .arg = &phonetic };
    tb_rc rc = x->strings_part ? tb_xml_part(x, &m, x->strings_part) : TB_OK;

    return rc == TB_ENOTFOUND ? TB_OK : rc; /* a cell that points there is refused when it comes */
}
