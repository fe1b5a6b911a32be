/* notice_text.c - a notice as plain text, for a mail. */
#include "report/notice/notice_impl.h"

#include "tenterbook/utf8.h"

#include <stdlib.h>
#include <string.h>

#define TEXT_COLUMNS 78
#define LABEL_COLUMNS 20

/* Words set into lines; continued lines are indented. Line breaks of the text itself are kept. */
static void wrap(struct tb_text *out, const char *text, size_t at, size_t indent)
{
    for (const char *p = text; *p;) {
        size_t n = strcspn(p, " \n");
        char *word = tb_strndup(p, n);
        size_t columns = tb_utf8_columns(word);

        if (at > indent && at + columns + 1 > TEXT_COLUMNS) {
            tb_text_addf(out, "\n%*s", (int)indent, "");
            at = indent;
        } else if (at > indent && n) {
            tb_text_addc(out, ' ');
            at++;
        }
        tb_text_add(out, word);
        at += columns;
        free(word);
        p += n;
        if (*p == '\n') {
            tb_text_addf(out, "\n%*s", (int)indent, "");
            at = indent;
        }
        p += *p != '\0';
    }
    tb_text_addc(out, '\n');
}

/* Labels and values in two columns, as on the page. */
static void as_text(void *arg, const struct notice_block *b)
{
    struct tb_text *out = arg;
    size_t label = b->label ? tb_utf8_columns(b->label) : 0;

    switch (b->kind) {
    case NOTICE_TITLE:
        tb_text_addf(out, "%s\n\n", b->text);
        return;
    case NOTICE_PAIR:
        if (!*b->text)
            return;
        tb_text_addf(out, "%s:%*s", b->label,
                     label + 1 < LABEL_COLUMNS ? (int)(LABEL_COLUMNS - 1 - label) : 1, "");
        wrap(out, b->text, LABEL_COLUMNS, LABEL_COLUMNS);
        return;
    case NOTICE_HEADING:
        tb_text_addf(out, "\n%s\n", b->text);
        return;
    case NOTICE_QUOTE:
        tb_text_addf(out, "  \"%s\"\n", b->text); /* word for word: never broken */
        return;
    case NOTICE_ITEM:
        tb_text_add(out, "- ");
        wrap(out, b->text, 2, 2);
        return;
    default:
        if (b->kind == NOTICE_SMALL)
            tb_text_addc(out, '\n');
        wrap(out, b->text, 0, 0);
    }
}

void tb_notice_text(struct tb_text *out, const struct tb_notice *n)
{
    tb_notice_walk(n, as_text, out);
    tb_text_addf(out, _("\nLot %s, %s\nAnchor, for tenterbook prove --since:\n%s\n"), n->lot, n->state,
                 n->anchor);
}
