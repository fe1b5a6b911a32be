/* sheet_text.c - text whose columns stand below one another, as it is pasted from a mail or out of a PDF. */
#include "base/sheet_text.h"
#include "base/paper.h"

#include "tenterbook/utf8.h"

#include <string.h>

#define TAB 8

/* Bytes of the space at s: also a line drawn down between columns, and the space of web mail; 0: none stands there. */
static size_t space_at(const char *s, size_t n)
{
    if (*s == ' ' || *s == '\t' || *s == '\r' || *s == '|')
        return 1;
    return n >= 2 && memcmp(s, "\xC2\xA0", 2) == 0 ? 2 : 0;
}

/* ---- is it such a text? ---------------------------------------------------------------------------------------- */

struct looks {
    size_t aligned; /* lines of three or more phrases, two spaces or more apart */
    size_t
        pairs; /* lines of two phrases, of which the other is a figure with a decimal comma: "4411    52,35 m" */
    size_t cut,
        divided; /* lines that a comma would cut in a figure, and others that commas or semicolons divide */
    size_t edges, touched; /* between phrases, and of those the ones that have a comma or semicolon at them */
    size_t with[2][TB_DELIMITED]; /* lines with so many commas, and semicolons */
};

/* "52,35 m", "1.052,3": a figure with one comma, which figures stand around. */
static bool is_decimal(const char *s, size_t n)
{
    const char *comma = memchr(s, ',', n);
    size_t at = comma ? (size_t)(comma - s) : 0;

    if (!at || at + 1 >= n || memchr(comma + 1, ',', n - at - 1) || s[at + 1] < '0' || s[at + 1] > '9')
        return false;
    for (size_t i = 0; i < at; i++)
        if ((s[i] < '0' || s[i] > '9') && s[i] != '.')
            return false;
    return true;
}

/* "Roll 4411: 52,35 m": words, a space, and a figure with a decimal comma, in a line that nothing else divides. */
static bool ends_in_decimal(const char *s, size_t n)
{
    const char *comma = memchr(s, ',', n);
    size_t at = comma ? (size_t)(comma - s) : 0;

    while (at && ((s[at - 1] >= '0' && s[at - 1] <= '9') || s[at - 1] == '.'))
        at--;
    return at && s[at - 1] == ' ' && is_decimal(s + at, n - at);
}

/* A comma that no space follows and no figures stand around divides cells. */
static bool has_divider(const char *s, size_t n)
{
    for (size_t i = 0; i + 1 < n; i++)
        if (s[i] == ',' && !space_at(s + i + 1, n - i - 1) &&
            !(i && s[i - 1] >= '0' && s[i - 1] <= '9' && s[i + 1] >= '0' && s[i + 1] <= '9'))
            return true;
    return false;
}

static void look_at(struct looks *l, const char *s, size_t n)
{
    size_t count[2] = { 0 }, phrases = 0, edges = 0, touched = 0, spaces = 2, begun = 0;
    char last = '\0';

    for (size_t i = 0, used; i < n; i += used) {
        used = space_at(s + i, n - i);
        if (s[i] == '\t')
            return; /* a table with tabs has them between its cells */
        if (used) {
            spaces++;
            continue;
        }
        if (spaces >= 2) {
            edges += phrases > 0;
            touched += phrases && (last == ',' || last == ';' || s[i] == ',' || s[i] == ';');
            phrases++;
            begun = i;
        }
        count[0] += s[i] == ',';
        count[1] += s[i] == ';';
        last = s[i];
        spaces = 0;
        used = 1;
    }
    l->cut += phrases == 1 && count[0] == 1 && !count[1] && ends_in_decimal(s, n);
    l->divided += count[1] > 0 || has_divider(s, n);
    l->pairs += phrases == 2 && count[0] == 1 && !count[1] && is_decimal(s + begun, n - begun);
    for (size_t k = 0; k < 2; k++)
        if (count[k] >= 2)
            l->with[k][count[k] < TB_DELIMITED ? count[k] : TB_DELIMITED - 1]++;
    if (phrases >= 3) {
        l->aligned++;
        l->edges += edges;
        l->touched += touched;
    }
}

bool tb_text_aligned(const char *s, size_t n)
{
    struct looks l = { 0 };
    size_t steady = 0;

    for (size_t at = 0; at < n;) {
        const char *nl = memchr(s + at, '\n', n - at);
        size_t end = nl ? (size_t)(nl - s) : n;

        look_at(&l, s + at, end - at);
        at = end + 1;
    }
    for (size_t k = 0; k < 2; k++)
        for (size_t i = 2; i < TB_DELIMITED; i++)
            steady = l.with[k][i] > steady ? l.with[k][i] : steady;
    if ((l.pairs >= 2 && l.pairs >= steady) || (l.cut >= 2 && !l.divided && !steady))
        return true; /* a comma that divides cells stands in no such line */
    return l.aligned >= 2 && l.aligned >= steady && l.touched * 2 < l.edges;
}

/* ---- its words ------------------------------------------------------------------------------------------------- */

/* A mail that is answered has marks before each line. */
static void unquote(char *s, size_t n)
{
    for (size_t i = 0; i < n && (s[i] == '>' || s[i] == ' '); i++)
        s[i] = ' ';
}

/* A line drawn across says nothing. */
static bool is_ruler(const char *s, size_t n)
{
    size_t drawn = 0;

    for (size_t i = 0; i < n; i++) {
        if (!strchr("-=_+|: \t\r", s[i]) || !s[i])
            return false;
        drawn += s[i] == '-' || s[i] == '=' || s[i] == '_';
    }
    return drawn >= 3;
}

static void add_words(struct tb_paper *p, char *s, size_t n, size_t line)
{
    size_t column = 0;

    unquote(s, n);
    if (is_ruler(s, n))
        return;
    for (size_t i = 0; i < n;) {
        size_t used = space_at(s + i, n - i), from = i, begun = column;
        char kept;

        if (used) {
            column = s[i] == '\t' ? column + TAB - column % TAB : column + 1;
            i += used;
            continue;
        }
        while (i < n && !space_at(s + i, n - i))
            i++;
        kept = s[i]; /* there is a byte behind the line: its end, or a NUL */
        s[i] = '\0';
        column += tb_utf8_columns(s + from);
        s[i] = kept;
        tb_paper_add(
            p,
            (struct tb_paper_word){
                .left = (float)begun, .right = (float)column, .top = (float)line, .bottom = (float)line + 1 },
            s + from, i - from);
    }
}

/* Whole lines of what came; an unfinished one stays. */
static tb_rc take_lines(struct tb_paper *p, struct tb_text *in, size_t *line, bool last, struct tb_err *err)
{
    size_t at = 0;
    char *nl;

    while (at < in->n && ((nl = memchr(in->s + at, '\n', in->n - at)) != NULL || last)) {
        size_t end = nl ? (size_t)(nl - in->s) : in->n;

        if (memchr(in->s + at, '\0', end - at))
            return tb_fail(err, TB_EFORMAT, "line %zu holds a zero byte; this is not a table in text form",
                           *line);
        if (*line == TB_SHEET_ROWS_MOST || p->words > TB_PAPER_WORDS_MOST)
            return tb_fail(err, TB_EFORMAT, "the text has more lines than the %d a spreadsheet can hold",
                           TB_SHEET_ROWS_MOST);
        add_words(p, in->s + at, end - at, (*line)++);
        at = nl ? end + 1 : end;
    }
    if (at) {
        memmove(in->s, in->s + at, in->n - at);
        in->n -= at;
        in->s[in->n] = '\0';
    }
    return in->n > TB_SHEET_FIELD_MOST ? tb_fail(err, TB_EFORMAT, "line %zu has no end", *line) : TB_OK;
}

tb_rc tb_text_read(struct tb_decoder *d, const char *text, size_t n, const struct tb_sheet_sink *sink,
                   struct tb_err *err)
{
    struct tb_paper p = { .space = 1.5F, .near = 0.25F, .numbered = true };
    struct tb_text in = { 0 };
    size_t line = 1;
    tb_rc rc = TB_OK;

    while (rc == TB_OK && n > 0) {
        tb_text_addn(&in, text, n);
        rc = take_lines(&p, &in, &line, false, err);
        if (rc == TB_OK)
            rc = tb_decoder_next(d, &text, &n, err);
    }
    if (rc == TB_OK)
        rc = take_lines(&p, &in, &line, true, err);
    if (rc == TB_OK)
        rc = tb_paper_rows(&p, true, sink, err);
    tb_text_free(&in);
    tb_paper_free(&p);
    return rc;
}
