/* A label's text into words, percentages and marks: nothing is understood here, only told apart. */
#include "law/inside.h"

#include "tenterbook/utf8.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#define PHRASE_BYTES 160

/* What a character is to a label. */
enum sort { LETTER, DIGIT, SPACE, NEWLINE, UNSEEN, POINT };

static const struct {
    unsigned cp;
    char mark;
} points[] = {
    { 0x2010, '-' }, { 0x2011, '-' },  { 0x2012, '-' },  { 0x2013, '-' }, { 0x2014, '-' }, { 0x2015, '-' },
    { 0x2212, '-' }, { 0x2018, '\'' }, { 0x2019, '\'' }, { 0x201C, '"' }, { 0x201D, '"' }, { 0x201E, '"' },
    { 0xAB, '"' },   { 0xBB, '"' },    { 0xB7, ',' },    { 0x2022, ',' }, { 0xAE, 'R' },   { 0x2122, 'R' },
    { 0xFF05, '%' }, { 0xFF0C, ',' },  { 0x3001, ',' },  { 0x3002, '.' }, { 0x201A, ',' }, { 0xD7, '*' },
};

static bool unseen(unsigned cp)
{
    return (cp < 32 && cp != '\n' && cp != '\r' && cp != '\t') || (cp >= 0x7F && cp < 0xA0) || cp == 0xAD ||
           (cp >= 0x200B && cp <= 0x200F) || (cp >= 0x202A && cp <= 0x202E) ||
           (cp >= 0x2060 && cp <= 0x206F) || cp == 0xFEFF || cp == 0xFFFD || cp == 0x61C;
}

static enum sort sort_of(unsigned cp, char *mark)
{
    if (unseen(cp))
        return UNSEEN;
    if (cp == '\n' || cp == '\r')
        return NEWLINE;
    if (cp == ' ' || cp == '\t' || cp == 0xA0 || (cp >= 0x2000 && cp <= 0x200A) || cp == 0x202F ||
        cp == 0x3000)
        return SPACE;
    if ((cp >= '0' && cp <= '9') || (cp >= 0xFF10 && cp <= 0xFF19))
        return DIGIT;
    for (size_t i = 0; i < TB_COUNT(points); i++)
        if (points[i].cp == cp) {
            *mark = points[i].mark;
            return POINT;
        }
    if (cp >= 0x80 || (cp >= 'A' && cp <= 'Z') || (cp >= 'a' && cp <= 'z'))
        return LETTER;
    *mark = (char)cp;
    return POINT;
}

struct scan {
    struct words *out;
    const struct tb_law *law;
    const char *langs;
    const char *text;
    size_t n, at;
    bool after_space; /* the character before was white space, or there was none */
};

static enum sort look(const struct scan *s, size_t at, size_t *len, unsigned *cp, char *mark)
{
    *len = tb_utf8_next(s->text + at, s->n - at, cp);
    return sort_of(*cp, mark);
}

static struct token *push(struct scan *s, enum token_kind kind, size_t at, size_t len)
{
    struct words *w = s->out;

    TB_PUSH_ROOM(w->token, w->n, w->cap);
    w->token[w->n] = (struct token){ .kind = kind, .at = at, .len = len, .value = NAN };
    return &w->token[w->n++];
}

/* Digits with at most one point or comma between them; anything glued to them makes the number malformed. */
static double number_value(const struct scan *s, size_t at, size_t *end)
{
    double v = 0, unit = 1;
    bool fraction = false, sound = true;

    while (at < s->n) {
        size_t len, next;
        unsigned cp;
        char mark = 0;
        enum sort k = look(s, at, &len, &cp, &mark);

        if (k == DIGIT) {
            unsigned digit = cp >= 0xFF10 ? cp - 0xFF10 : cp - '0';

            v = fraction ? v + digit * (unit /= 10) : v * 10 + digit;
        } else if (k == POINT && (mark == '.' || mark == ',') && at + len < s->n &&
                   look(s, at + len, &next, &cp, &mark) == DIGIT) {
            sound = sound && !fraction;
            fraction = true;
        } else if (k == LETTER) {
            sound = false;
        } else {
            break;
        }
        at += len;
    }
    *end = at;
    return sound && v < 1e9 ? v : NAN;
}

/* The sign for per cent, or a word for it, after a number: where it ends; 0 when there is none. */
static size_t percent_sign(const struct scan *s, size_t at)
{
    static const char *const word[] = { "percent",   "per cent",  "pct",        "prozent",
                                        "pour cent", "pour-cent", "por ciento", "por cento",
                                        "per cento", "procent",   "prosenttia" };

    while (at < s->n &&
           (s->text[at] == ' ' || (unsigned char)s->text[at] == 0xC2 || (unsigned char)s->text[at] == 0xA0))
        at++;
    if (at < s->n && s->text[at] == '%')
        return at + 1;
    if (s->n - at >= 3 && memcmp(s->text + at, "\xEF\xBC\x85", 3) == 0)
        return at + 3;
    for (size_t i = 0; i < TB_COUNT(word); i++) {
        size_t len = strlen(word[i]);

        if (s->n - at >= len && strncasecmp(s->text + at, word[i], len) == 0)
            return at + len;
    }
    return 0;
}

static void take_number(struct scan *s)
{
    size_t start = s->at, end, sign;
    double v = number_value(s, start, &end);
    struct words *w = s->out;
    struct token *t, *before = w->n ? &w->token[w->n - 1] : NULL;
    bool glued = before && before->kind == TOKEN_MARK && before->at + before->len == start;
    bool negative = glued && before->mark == '-' && s->after_space;
    bool sign_first = glued && before->mark == '%';

    sign = percent_sign(s, end);
    if (negative || sign_first) {
        start = before->at;
        w->n--;
    }
    t = push(s, sign || sign_first ? TOKEN_PERCENT : TOKEN_NUMBER, start, (sign ? sign : end) - start);
    t->value = negative ? -v : v;
    s->at = sign ? sign : end;
    s->after_space = false;
}

static void take_word(struct scan *s)
{
    size_t start = s->at, len;
    unsigned cp;
    char mark;

    while (s->at < s->n) {
        enum sort k = look(s, s->at, &len, &cp, &mark);

        if (k != LETTER && k != DIGIT)
            break;
        s->at += len;
    }
    (void)push(s, TOKEN_WORD, start, s->at - start);
    s->after_space = false;
}

static void take_mark(struct scan *s, char mark, size_t len)
{
    push(s, TOKEN_MARK, s->at, len)->mark = mark;
    if (mark != '-')
        s->after_space = mark == '(';
    s->at += len;
}

static void split(struct scan *s)
{
    while (s->at < s->n) {
        size_t len;
        unsigned cp;
        char mark = 0;

        switch (look(s, s->at, &len, &cp, &mark)) {
        case LETTER:
            take_word(s);
            break;
        case DIGIT:
            take_number(s);
            break;
        case POINT:
            take_mark(s, mark, len);
            break;
        case NEWLINE:
            take_mark(s, '\n', len);
            s->after_space = true;
            break;
        case UNSEEN:
            s->out->hidden++;
            s->at += len;
            break;
        default:
            s->after_space = true;
            s->at += len;
        }
    }
}

/* --- words into phrases --------------------------------------------------------------------------------- */

static bool in_capitals(const struct scan *s, const struct token *t)
{
    for (size_t i = 0; i < t->len; i++)
        if (s->text[t->at + i] >= 'a' && s->text[t->at + i] <= 'z')
            return false;
    return true;
}

/* A code counts in capitals only, and a short foreign word only where its language may be on the label. */
static bool counts(const struct scan *s, const struct lex *l, const struct token *t)
{
    if (l->code && (strlen(l->key) < 2 || !in_capitals(s, t)))
        return false;
    if (strlen(l->key) <= 3 && l->lang[0] && strcmp(l->lang, "en") != 0 && !list_has(s->langs, l->lang))
        return l->kind != LEX_NAME && !l->name;
    return true;
}

/* Add the folded word (or the stroke) of token i to the key; false when the token cannot be inside a phrase. */
static bool extend(const struct scan *s, char key[PHRASE_BYTES], const struct token *t)
{
    size_t n = strlen(key);
    char *folded;
    bool fits;

    if (t->kind == TOKEN_MARK && (t->mark == '-' || t->mark == '\''))
        return true;
    if (t->kind == TOKEN_MARK && t->mark == '/' && n && n + 2 < PHRASE_BYTES) {
        key[n] = '/';
        key[n + 1] = '\0';
        return true;
    }
    if (t->kind != TOKEN_WORD && !(t->kind == TOKEN_NUMBER && n))
        return false;
    folded = tb_fold(s->text + t->at, t->len);
    fits = n + strlen(folded) + 2 < PHRASE_BYTES;
    if (fits) {
        if (n && key[n - 1] != '/')
            key[n++] = ' ';
        memcpy(key + n, folded, strlen(folded) + 1);
    }
    free(folded);
    return fits;
}

/* The longest phrase that begins with token i: how many tokens it takes (0: none), its entries into *lex. */
static size_t longest(const struct scan *s, const struct token *t, size_t n, const struct lex **lex,
                      size_t *lexes)
{
    char key[PHRASE_BYTES] = "";
    size_t best = 0, words = 0;

    for (size_t i = 0; i < n && words < s->law->words_most && extend(s, key, &t[i]); i++) {
        const struct lex *l;
        size_t found, k = 0;

        if (t[i].kind == TOKEN_MARK)
            continue;
        words++;
        l = tb_law_find(s->law, key, &found);
        while (k < found && !counts(s, &l[k], t))
            k++;
        if (k == found)
            continue;
        *lex = l + k;
        *lexes = found - k;
        best = i + 1;
    }
    return best;
}

static void match(struct scan *s)
{
    struct words *w = s->out;
    size_t kept = 0;

    for (size_t i = 0; i < w->n;) {
        const struct lex *lex = NULL;
        size_t lexes = 0, taken;
        struct token t = w->token[i];

        taken = t.kind == TOKEN_WORD ? longest(s, &w->token[i], w->n - i, &lex, &lexes) : 0;
        if (taken) {
            const struct token *last = &w->token[i + taken - 1];

            t.len = last->at + last->len - t.at;
            t.lex = lex;
            t.lexes = lexes;
        }
        w->token[kept++] = t;
        i += taken ? taken : 1;
    }
    w->n = kept;
}

void tb_law_words(struct words *out, const struct tb_law *law, const char *langs, const char *text, size_t n)
{
    struct scan s = { .out = out, .law = law, .langs = langs, .text = text, .n = n, .after_space = true };

    *out = (struct words){ .text = text };
    split(&s);
    match(&s);
}

void tb_law_words_free(struct words *w)
{
    free(w->token);
    *w = (struct words){ 0 };
}

char *token_text(const struct words *w, const struct token *t)
{
    struct tb_text out = { 0 };

    for (size_t i = 0; i < t->len && out.n < 60;) {
        unsigned cp;
        size_t len = tb_utf8_next(w->text + t->at + i, t->len - i, &cp);

        if (!unseen(cp))
            tb_text_addn(&out, w->text + t->at + i, len);
        i += len;
    }
    if (out.n >= 60)
        tb_text_add(&out, "...");
    return tb_text_take(&out);
}
