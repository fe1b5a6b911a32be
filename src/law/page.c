/*
 * page.c - a saved page in HTML as lines of text.
 *
 * No more is understood of HTML than a table of names needs: rows, cells, blocks, and signs written by name or number. The
 * bytes come from outside: whatever they are, each is looked at once and the text is no longer than they are.
 */
#include "law/page.h"

#include <stdint.h>
#include <stdlib.h>
#include <string.h>
#include <unistr.h>

struct page {
    struct tb_text *out;
    const char *at, *end;
    bool cell;      /* inside a cell: its blocks stay on its line */
    bool row;       /* the row at hand has a cell already */
    char until[16]; /* an element whose text is not for people: up to its end; "" none */
};

static bool is_space(char c)
{
    return c == ' ' || c == '\t' || c == '\n' || c == '\r';
}

/* One space between words, none at the beginning of a line or cell. */
static void space(struct page *p)
{
    if (p->out->n && !is_space(p->out->s[p->out->n - 1]))
        tb_text_addc(p->out, ' ');
}

static void line(struct page *p)
{
    if (p->cell)
        space(p);
    else if (p->out->n && p->out->s[p->out->n - 1] != '\n')
        tb_text_addc(p->out, '\n');
}

/* What a tag does to the text. */
static void on_tag(struct page *p, const char *name, bool closes)
{
    static const char *const blocks =
        "|p|div|br|li|h1|h2|h3|h4|h5|h6|table|tbody|thead|ul|ol|dl|dd|dt|title|hr|";
    char word[20] = "|";

    (void)strncat(word, name, sizeof word - 3);
    (void)strcat(word, "|");
    if (strstr("|script|style|head|", word) && !closes) {
        (void)strncat(p->until, name, sizeof p->until - 1);
    } else if (strstr("|td|th|", word)) {
        if (!closes && p->row)
            tb_text_addc(p->out, '\t');
        p->cell = !closes;
        p->row = true;
    } else if (strstr("|tr|", word)) {
        p->cell = p->row = false;
        line(p);
    } else if (strstr(blocks, word)) {
        line(p);
    }
}

/* "</td class=x>": its name in small letters; up to the end of the tag. */
static void tag(struct page *p)
{
    const char *end = memchr(p->at, '>', (size_t)(p->end - p->at));
    bool closes = p->at + 1 < p->end && p->at[1] == '/';
    char name[12] = "";
    size_t n = 0;

    for (const char *c = p->at + 1 + closes; c < p->end && n + 1 < sizeof name; c++) {
        if (!((*c >= 'a' && *c <= 'z') || (*c >= 'A' && *c <= 'Z') || (*c >= '0' && *c <= '9')))
            break;
        name[n++] = (char)(*c >= 'A' && *c <= 'Z' ? *c + 'a' - 'A' : *c);
    }
    if (!end || (n == 0 && p->at[1] != '!' && p->at[1] != '?' && !closes)) { /* "a < b" */
        tb_text_addc(p->out, *p->at++);
        return;
    }
    p->at = end + 1;
    if (*p->until) {
        if (closes && strcmp(name, p->until) == 0)
            p->until[0] = '\0';
    } else if (n) {
        on_tag(p, name, closes);
    }
}

/* "<!-- ... -->" may hold signs that look like tags. */
static bool comment(struct page *p)
{
    const char *end;

    if (p->end - p->at < 4 || memcmp(p->at, "<!--", 4) != 0)
        return false;
    for (end = p->at + 4; end + 3 <= p->end && memcmp(end, "-->", 3) != 0;)
        end++;
    p->at = end + 3 <= p->end ? end + 3 : p->end;
    return true;
}

static unsigned numbered(const char *word)
{
    unsigned long cp =
        word[1] == 'x' || word[1] == 'X' ? strtoul(word + 2, NULL, 16) : strtoul(word + 1, NULL, 10);

    return cp >= 0x20 && cp < 0x110000 && !(cp >= 0xD800 && cp < 0xE000) ? (unsigned)cp : 0;
}

static unsigned named(const char *word)
{
    static const struct {
        const char *name;
        unsigned cp;
    } sign[] = { { "amp", '&' },      { "lt", '<' },       { "gt", '>' },       { "quot", '"' },
                 { "apos", '\'' },    { "nbsp", ' ' },     { "laquo", 0xAB },   { "raquo", 0xBB },
                 { "lsquo", 0x2018 }, { "rsquo", 0x2019 }, { "ldquo", 0x201C }, { "rdquo", 0x201D },
                 { "bdquo", 0x201E } };

    for (size_t i = 0; i < TB_COUNT(sign); i++)
        if (strcmp(sign[i].name, word) == 0)
            return sign[i].cp;
    return 0;
}

/* "&#353;", "&nbsp;". What is none of these stays as it is written. */
static void sign(struct page *p)
{
    char word[12] = "";
    uint8_t utf8[8];
    size_t n = 0;
    unsigned cp;

    while (p->at + 1 + n < p->end && n + 1 < sizeof word && p->at[1 + n] != ';' && !is_space(p->at[1 + n])) {
        word[n] = p->at[1 + n];
        n++;
    }
    cp = p->at + 1 + n < p->end && p->at[1 + n] == ';' ? word[0] == '#' ? numbered(word) : named(word) : 0;
    if (!cp) {
        tb_text_addc(p->out, *p->at++);
        return;
    }
    p->at += n + 2;
    if (cp == ' ' || cp == 0xA0)
        space(p);
    else
        tb_text_addn(p->out, (const char *)utf8, (size_t)u8_uctomb(utf8, cp, sizeof utf8));
}

static void page(struct page *p)
{
    while (p->at < p->end) {
        if (*p->at == '<') {
            if (!comment(p))
                tag(p);
        } else if (*p->until) {
            p->at++;
        } else if (*p->at == '&') {
            sign(p);
        } else if (is_space(*p->at)) {
            space(p);
            p->at++;
        } else {
            tb_text_addc(p->out, *p->at++);
        }
    }
}

/* A page says so with a tag at its beginning, a byte order mark aside. */
static bool is_page(const char *bytes, size_t n)
{
    size_t at = n >= 3 && memcmp(bytes, "\xEF\xBB\xBF", 3) == 0 ? 3 : 0;

    while (at < n && is_space(bytes[at]))
        at++;
    return at < n && bytes[at] == '<';
}

void tb_page_lines(struct tb_text *out, const char *bytes, size_t n)
{
    struct page p = { .out = out, .at = bytes, .end = bytes + n };

    if (is_page(bytes, n))
        page(&p);
    else
        tb_text_addn(out, bytes, n);
}
