/*
 * csv_twin.c - the CSV file beside a sheet: RFC 4180, UTF-8, comma, CRLF, decimal point, ISO dates.
 *
 * A spreadsheet that opens a CSV file takes a field beginning with = + - @ or a tab for a formula. Words get
 * an apostrophe in front then, and words that begin with an apostrophe get one more: taking one apostrophe
 * off every field that begins with one gives the words back. Figures are left alone.
 */
#include "report/table/workbook_impl.h"

#include <string.h>

static bool needs_quotes(const char *s)
{
    return s[strcspn(s, ",\"\r\n")] != '\0' || s[0] == ' ' || (s[0] && s[strlen(s) - 1] == ' ');
}

static bool tempts(const char *s)
{
    return s[0] != '\0' && strchr("=+-@\t\r\n'", s[0]) != NULL;
}

/* The stream belongs to one writer: no lock for every character. */
void tb_csv_text(FILE *f, bool first, const char *text)
{
    bool quoted = needs_quotes(text);

    if (!first)
        (void)putc_unlocked(',', f);
    if (quoted)
        (void)putc_unlocked('"', f);
    if (tempts(text))
        (void)putc_unlocked('\'', f);
    if (quoted) {
        for (const char *c = text; *c; c++) {
            if (*c == '"')
                (void)putc_unlocked('"', f);
            (void)putc_unlocked(*c, f);
        }
        (void)putc_unlocked('"', f);
    } else {
        (void)fputs_unlocked(text, f);
    }
}

void tb_csv_plain(FILE *f, bool first, const char *figures)
{
    if (!first)
        (void)putc_unlocked(',', f);
    (void)fputs_unlocked(figures, f);
}

void tb_csv_line(FILE *f)
{
    (void)fputs_unlocked("\r\n", f);
}

void tb_csv_heading(struct tb_tab *s)
{
    bool form = s->plan.layout == TB_LAYOUT_FORM;

    if (!s->csv)
        return;
    if (form)
        tb_csv_text(s->csv, true, "section");
    for (size_t i = 0; i < s->plan.columns; i++)
        tb_csv_text(s->csv, i == 0 && !form, s->col[i].plan.key);
    tb_csv_line(s->csv);
}
