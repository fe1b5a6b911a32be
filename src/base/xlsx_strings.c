/* xlsx_strings.c - the texts that the cells of a workbook share. */
#include "base/xlsx_in.h"

#include <string.h>

#define STRINGS_MOST 16000000

/* A text may be in several pieces with different fonts; they are one text. */
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

/* All texts lie in one piece of memory: a workbook has hundreds of thousands of them. */
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
