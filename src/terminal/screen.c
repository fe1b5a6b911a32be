/* screen.c - lines for a terminal, broken between words. */
#include "terminal/screen.h"

#include "tenterbook/table.h"
#include "tenterbook/utf8.h"

#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#define PROMPT "> " /* has no end and is to be seen at once */
#define HANG_MOST 16
#define TEXT_LEAST 20 /* columns beside the hang: with less, nothing is won by breaking a line */

struct screen {
    struct tb_text line; /* begun, its end not yet written */
    size_t columns;
};

static bool stays_whole(const char *line)
{
    line += strspn(line, " ");
    return *line == '{' || *line == '[' || strncmp(line, "tenterbook ", 11) == 0;
}

/* Where a line goes on: under its first word, or under the words behind "- " or behind a first column. */
static size_t hang_of(const char *line)
{
    size_t blanks = strspn(line, " "), first = blanks + strcspn(line + blanks, " "),
           next = first + strspn(line + first, " ");

    if (line[blanks] == '-' && line[blanks + 1] == ' ')
        return blanks + 2;
    return next - first > 1 && next <= HANG_MOST && line[next] ? next : blanks;
}

/* How many bytes of s fit into the columns: up to a blank, or one word alone where the first is wider than all. */
static size_t fitting(const char *s, size_t columns)
{
    size_t at = strspn(s, " "), fits;

    fits = at += strcspn(s + at, " ");
    while (s[at]) {
        char *head;
        bool over;

        at += strspn(s + at, " ");
        at += strcspn(s + at, " ");
        head = tb_strndup(s, at);
        over = tb_utf8_columns(head) > columns;
        free(head);
        if (over)
            break;
        fits = at;
    }
    return fits;
}

static void write_line(const char *line, size_t columns)
{
    size_t hang, n;
    char *shown = tb_utf8_shown(line, strlen(line), "\t");

    if (shown) {
        write_line(shown, columns);
        free(shown);
        return;
    }
    hang = hang_of(line);
    if (!columns || stays_whole(line) || hang + TEXT_LEAST > columns || tb_utf8_columns(line) <= columns) {
        (void)fprintf(stdout, "%s\n", line);
        return;
    }
    n = fitting(line, columns);
    (void)fprintf(stdout, "%.*s\n", (int)n, line);
    for (line += n; *(line += strspn(line, " ")); line += n) {
        n = fitting(line, columns - hang);
        (void)fprintf(stdout, "%*s%.*s\n", (int)hang, "", (int)n, line);
    }
}

static ssize_t take(void *cookie, const char *p, size_t n)
{
    struct screen *s = cookie;

    for (size_t i = 0; i < n;) {
        const char *end = memchr(p + i, '\n', n - i);
        size_t length = end ? (size_t)(end - (p + i)) : n - i;

        tb_text_addn(&s->line, p + i, length);
        i += length;
        if (!end)
            continue;
        i++;
        if (s->line.n && s->line.s[s->line.n - 1] == '\r')
            s->line.s[--s->line.n] = '\0';
        write_line(tb_text_str(&s->line), s->columns);
        tb_text_clear(&s->line);
    }
    if (s->line.n == sizeof PROMPT - 1 &&
        memcmp(s->line.s, PROMPT, s->line.n) == 0) { /* the answer goes behind it */
        (void)fputs(PROMPT, stdout);
        tb_text_clear(&s->line);
    }
    return ferror(stdout) ? 0 : (ssize_t)n;
}

static int end(void *cookie)
{
    struct screen *s = cookie;

    if (s->line.n) { /* a line without an end */
        char *shown = tb_utf8_shown(s->line.s, s->line.n, "\t");

        (void)fputs(shown ? shown : s->line.s, stdout);
        free(shown);
    }
    tb_text_free(&s->line);
    free(s);
    return 0;
}

FILE *tb_screen(void)
{
    struct screen *s = tb_new(struct screen);
    FILE *f;

    s->columns = tb_screen_columns();
    f = fopencookie(s, "w", (cookie_io_functions_t){ .write = take, .close = end });
    if (!f)
        tb_no_memory();
    return f;
}

int tb_screen_close(FILE *screen)
{
    int bad = screen != stdout ? fclose(screen) : 0;

    return fflush(stdout) != 0 || ferror(stdout) ? EOF : bad;
}
