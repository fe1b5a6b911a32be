/* notice_text.c - a notice as plain text, for a mail. */
#include "report/notice/notice_impl.h"

#include "tenterbook/utf8.h"

#include <stdlib.h>
#include <string.h>
#include <unilbrk.h>

#define TEXT_COLUMNS 78
#define LABELS_LEAST 22 /* columns */

/* Where a line may break within words that have no blanks between them: only in those of East Asia, by UAX #14. */
static size_t piece(const char *word, size_t n, bool wide)
{
    char may[512];
    size_t i = 1;

    if (!wide || n > sizeof may)
        return n;
    u8_possible_linebreaks((const uint8_t *)word, n, "UTF-8", may);
    while (i < n && may[i] != UC_BREAK_POSSIBLE)
        i++;
    return i;
}

/* One piece of a word behind what stands on the line, or on a new one. */
static size_t put_piece(struct tb_text *out, const char *p, size_t n, size_t at, size_t indent, bool blank)
{
    char *word = tb_strndup(p, n);
    size_t columns = tb_utf8_columns(word);

    if (at > indent && at + columns + blank > TEXT_COLUMNS) {
        tb_text_addf(out, "\n%*s", (int)indent, "");
        at = indent;
    } else if (at > indent && n && blank) {
        tb_text_addc(out, ' ');
        at++;
    }
    tb_text_add(out, word);
    free(word);
    return at + columns;
}

static bool is_wide(const char *word, size_t n)
{
    char *copy = tb_strndup(word, n);
    size_t characters = 0, columns = tb_utf8_columns(copy);

    for (const char *p = copy; *p; p++)
        characters += ((unsigned char)*p & 0xC0) != 0x80;
    free(copy);
    return columns > characters;
}

/* Words set into lines; continued lines are indented. Line breaks of the text itself are kept. */
static void wrap(struct tb_text *out, const char *text, size_t at, size_t indent)
{
    for (const char *p = text; *p;) {
        size_t n = strcspn(p, " \n");
        bool wide = is_wide(p, n);

        for (size_t done = 0, more; done < n; done += more) {
            more = piece(p + done, n - done, wide);
            at = put_piece(out, p + done, more, at, indent, done == 0);
        }
        p += n;
        if (*p == '\n') {
            tb_text_addf(out, "\n%*s", (int)indent, "");
            at = indent;
        }
        p += *p != '\0';
    }
    tb_text_addc(out, '\n');
}

struct writing {
    struct tb_text *out;
    enum tb_tongue to;
    size_t labels; /* columns of the widest label, and a blank */
    bool headed;   /* a heading stands directly above */
};

static void label_of(struct tb_text *out, enum tb_tongue to, const struct notice_block *b)
{
    /* TRANSLATORS: a label of the letter as plain text */
    tb_text_addf(out, tb_tr(to, "%s:"), b->label);
}

static void measure(void *arg, const struct notice_block *b)
{
    struct writing *w = arg;
    struct tb_text label = { 0 };

    if (b->kind != NOTICE_PAIR || !*b->text)
        return;
    label_of(&label, w->to, b);
    if (tb_utf8_columns(label.s) >= w->labels)
        w->labels = tb_utf8_columns(label.s) + 1;
    tb_text_free(&label);
}

/* Labels and values in two columns, as on the page. */
static void pair(struct tb_text *out, const struct writing *w, const struct notice_block *b)
{
    struct tb_text label = { 0 };

    if (!*b->text)
        return;
    label_of(&label, w->to, b);
    tb_text_addf(out, "%s%*s", label.s, (int)(w->labels - tb_utf8_columns(label.s)), "");
    wrap(out, b->text, w->labels, w->labels);
    tb_text_free(&label);
}

static void as_text(void *arg, const struct notice_block *b)
{
    struct writing *w = arg;
    struct tb_text *out = w->out;
    bool headed = w->headed;

    w->headed = b->kind == NOTICE_HEADING;
    switch (b->kind) {
    case NOTICE_SENDER:
    case NOTICE_ADDRESS:
        tb_text_addf(out, "%s\n\n", b->text);
        return;
    case NOTICE_SIGN:
        tb_text_addc(out, '\n');
        wrap(out, b->label, 0, 0);
        tb_text_addf(out, "\n\n%s\n", b->text);
        return;
    case NOTICE_TITLE:
        tb_text_addc(out, '\n');
        wrap(out, b->text, 0, 0);
        tb_text_addc(out, '\n');
        return;
    case NOTICE_PAIR:
        pair(out, w, b);
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
        if (!headed)
            tb_text_addc(out, '\n');
        wrap(out, b->text, 0, 0);
    }
}

void tb_notice_text(struct tb_text *out, const struct tb_notice *n)
{
    struct writing w = { .out = out, .to = n->tongue, .labels = LABELS_LEAST, .headed = true };

    tb_notice_walk(n, measure, &w);
    tb_notice_walk(n, as_text, &w);
    tb_text_addf(out, tb_tr(n->tongue, "\nLot %s, %s\nAnchor, for tenterbook prove --since:\n%s\n"),
                 n->now.lot.ref, n->state, n->anchor);
}
