/*
 * A text about fibres cut into numbers, words of the tables, and signs. The text is folded first (case, accents,
 * full-width forms), and every folded byte knows where it came from, so that every token knows its place.
 */
#include "fibre/scan.h"

#include "fibre/fold.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

static void fold_all(struct scan *s, size_t n)
{
    s->cap = 2 * n + TB_FOLD_MOST + 1;
    s->s = tb_array(char, s->cap);
    s->from = tb_array(uint32_t, s->cap);
    for (size_t at = 0, used; at < n; at += used) {
        size_t made;

        if (s->cap - s->n <= TB_FOLD_MOST) { /* a ligature or a Korean syllable becomes several letters */
            s->cap *= 2;
            s->s = tb_realloc(s->s, s->cap, 1);
            s->from = tb_realloc(s->from, s->cap, sizeof *s->from);
        }
        made = tb_fold_char(s->text + at, n - at, &used, s->s + s->n);
        for (size_t i = 0; i < made; i++)
            s->from[s->n + i] = (uint32_t)at;
        s->n += made;
    }
    s->s[s->n] = '\0';
    s->from[s->n] = (uint32_t)n;
}

struct tb_token *tb_scan_push(struct scan *s, enum tb_token_kind kind, size_t from, size_t to)
{
    struct tb_tokens *all = s->out;
    size_t at = s->from[from], end = s->from[to];

    TB_PUSH_ROOM(all->item, all->n, all->cap);
    if (to > from && end <= s->from[to - 1]) /* the last character folded to several bytes */
        end = s->from[to - 1] + 1;
    while (end > at + 1 &&
           (s->text[end - 1] == ' ' || s->text[end - 1] == '\t')) /* dropped marks and spaces */
        end--;
    all->item[all->n] = (struct tb_token){ .kind = kind,
                                           .at = at,
                                           .len = end - at,
                                           .value = NAN,
                                           .unit = NAN,
                                           .tolerance = NAN,
                                           .to = NAN,
                                           .row = -1,
                                           .part = -1,
                                           .what = TB_WORD_UNKNOWN };
    return &all->item[all->n++];
}

static void push_sign(struct scan *s, enum tb_token_kind kind, char sign)
{
    tb_scan_push(s, kind, s->at, s->at + 1)->sign = sign;
    s->at++;
}

/* % before its number, as Turkish writes it. */
static void scan_percent(struct scan *s)
{
    size_t next = scan_past_spaces(s, s->at + 1);

    if (next < s->n && scan_is_digit(s->s[next])) {
        s->at = next;
        tb_scan_number(s, true);
        return;
    }
    push_sign(s, TB_TOKEN_JUNK, '%');
}

/* The registered sign and the sign of a trade mark are spaces to whoever reads words, but a label must see them. */
static bool is_registered(const struct scan *s)
{
    const char *c = s->text + s->from[s->at];
    size_t len = s->from[s->at + 1] - s->from[s->at];

    return (len >= 2 && memcmp(c, "\xC2\xAE", 2) == 0) || (len >= 3 && memcmp(c, "\xE2\x84\xA2", 3) == 0);
}

/* A dash between spaces separates, "cotton - silk"; one inside a word or a ratio joins, "65-35". */
static enum tb_token_kind kind_of(const struct scan *s)
{
    char c = s->s[s->at];
    bool apart = (s->at == 0 || s->s[s->at - 1] == ' ') && (s->at + 1 >= s->n || s->s[s->at + 1] == ' ');

    if (c == '\0') /* strchr would find it at the end of every list */
        return TB_TOKEN_JUNK;
    if (strchr("()[]{}\"'.=_*!", c))
        return TB_TOKEN_QUIET;
    if (strchr(",;\n+&|", c))
        return TB_TOKEN_COMMA;
    if (c == '/' || c == '\\')
        return TB_TOKEN_SLASH;
    if (c == ':')
        return TB_TOKEN_COLON;
    if (c == '-' || c == '~')
        return apart ? TB_TOKEN_COMMA : TB_TOKEN_DASH;
    return TB_TOKEN_JUNK;
}

static void scan_sign(struct scan *s)
{
    char c = s->s[s->at];

    if (c != ' ')
        push_sign(s, kind_of(s), c);
    else if (is_registered(s))
        push_sign(s, TB_TOKEN_QUIET, 'R');
    else
        s->at++;
}

void tb_tokens_read(struct tb_tokens *out, const char *text, size_t n, const struct tb_vocabulary *v)
{
    static const struct tb_vocabulary names_alone = { 0 };
    struct scan s = { .text = text, .v = v ? v : &names_alone, .out = out };

    *out = (struct tb_tokens){ 0 };
    fold_all(&s, n);
    while (s.at < s.n) {
        char c = s.s[s.at];

        if (scan_is_digit(c))
            tb_scan_number(&s, false);
        else if (scan_is_letter(c))
            tb_scan_word(&s);
        else if (c == '%')
            scan_percent(&s);
        else
            scan_sign(&s);
    }
    free(s.s);
    free(s.from);
}

void tb_tokens_free(struct tb_tokens *t)
{
    free(t->item);
    *t = (struct tb_tokens){ 0 };
}
