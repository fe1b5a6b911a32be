/* The text of a declaration cut into numbers, words of the table, and signs; every token knows its place. */
#include "fibre/fold.h"
#include "fibre/reader.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#define PHRASE_MOST 96 /* bytes of the longest phrase looked up */

/* The folded text, and for each of its bytes the byte of the text it came from; [n] is the end. */
struct folded {
    char *s;
    uint32_t *from;
    size_t n, cap;
};

struct scan {
    struct tb_declaration *d;
    struct tb_tokens *out;
    struct folded f;
    size_t at; /* in the folded text */
};

static void fold_all(struct folded *f, const char *text, size_t n)
{
    f->cap = 2 * n + TB_FOLD_MOST + 1;
    f->s = tb_array(char, f->cap);
    f->from = tb_array(uint32_t, f->cap);
    for (size_t at = 0, used; at < n; at += used) {
        size_t made;

        if (f->cap - f->n <= TB_FOLD_MOST) {
            f->cap *= 2;
            f->s = tb_realloc(f->s, f->cap, 1);
            f->from = tb_realloc(f->from, f->cap, sizeof *f->from);
        }
        made = tb_fold_char(text + at, n - at, &used, f->s + f->n);
        for (size_t i = 0; i < made; i++)
            f->from[f->n + i] = (uint32_t)at;
        f->n += made;
    }
    f->s[f->n] = '\0';
    f->from[f->n] = (uint32_t)n;
}

static bool is_digit(char c)
{
    return c >= '0' && c <= '9';
}

static bool is_letter(char c)
{
    return (c >= 'a' && c <= 'z') || (unsigned char)c >= 0x80;
}

/* Scripts written without blanks between words: Chinese, Japanese, Korean (folded to its letters), Thai. */
static bool unspaced(const char *s)
{
    unsigned char b = (unsigned char)*s;

    return b >= 0xE1 && !(b == 0xE1 && (unsigned char)s[1] >= 0xB8) &&
           !(b == 0xE2 && (unsigned char)s[1] < 0xBA);
}

/* Skip blanks, but no line break. */
static size_t past_blanks(const struct folded *f, size_t at)
{
    while (at < f->n && f->s[at] == ' ')
        at++;
    return at;
}

static size_t word_end(const struct folded *f, size_t at)
{
    while (at < f->n && is_letter(f->s[at]))
        at++;
    return at;
}

static size_t char_end(const struct folded *f, size_t at)
{
    at++;
    while (at < f->n && ((unsigned char)f->s[at] & 0xC0) == 0x80)
        at++;
    return at;
}

static struct tb_token *push(struct scan *s, enum tb_token_kind kind, size_t from, size_t to)
{
    struct tb_token *t;
    size_t at = s->f.from[from], end = s->f.from[to];

    TB_PUSH_ROOM(s->out->item, s->out->n, s->out->cap);
    t = &s->out->item[s->out->n++];
    if (to > from && end <= s->f.from[to - 1]) /* the last character folded to several bytes */
        end = s->f.from[to - 1] + 1;
    while (end > at + 1 && strchr(" \t", s->d->text[end - 1])) /* dropped marks and blanks behind */
        end--;
    *t = (struct tb_token){ kind, at, end - at, NAN, NAN, NAN, NAN, false, TB_NOWHERE, -1, TB_WORD_UNKNOWN };
    return t;
}

/* Does the word as written have the capitals or accents that a row asks for? */
static bool written_so(const struct scan *s, size_t from, size_t to, int row)
{
    const char *a = s->d->text + s->f.from[from], *z = s->d->text + s->f.from[to];
    bool accents = false, lower = false, wants = false;

    for (const char *p = a; p < z; p++) {
        accents |= (unsigned char)*p >= 0x80;
        lower |= *p >= 'a' && *p <= 'z';
    }
    for (const char *p = tb_name_table[row].word; *p; p++)
        wants |= (unsigned char)*p >= 0x80;
    switch ((enum tb_casing)tb_name_more[row].casing) {
    case TB_CASING_UPPER:
        return !lower && !accents;
    case TB_CASING_EXACT:
        return accents == wants;
    case TB_CASING_ANY:
        break;
    }
    return true;
}

/* The row that decides what a word is, among the rows that have it. */
static int row_for(const struct scan *s, size_t from, size_t to, int first)
{
    if (first < 0)
        return -1;
    for (int r = first; r < first + tb_name_more[first].rows; r++)
        if (written_so(s, from, to, r))
            return r;
    return -1;
}

/*
 * The longest phrase of the table that begins here. Between words a phrase may have blanks, hyphens, points or
 * apostrophes, all of which fold to one blank, or a slash. Answers the row and where the phrase ends.
 */
static int longest_phrase(const struct scan *s, size_t at, size_t *end)
{
    const struct folded *f = &s->f;
    char phrase[PHRASE_MOST];
    size_t n = 0, words = 0, from = at;
    uint32_t h = TB_HASH_START;
    int best = -1;

    for (;;) {
        size_t stop = word_end(f, at), gap;
        int row;

        if (n + (stop - at) + 1 > sizeof phrase)
            break;
        for (; at < stop; at++) {
            phrase[n++] = f->s[at];
            h = tb_hash_byte(h, f->s[at]);
        }
        if ((row = row_for(s, from, at, tb_name_lookup(phrase, n, h))) >= 0) {
            best = row;
            *end = at;
        }
        if (++words == tb_name_longest)
            break;
        for (gap = at; gap < f->n && strchr(" -'./", f->s[gap]) && f->s[gap]; gap++)
            ;
        if (gap == at || gap == f->n || !is_letter(f->s[gap]))
            break;
        phrase[n] = memchr(f->s + at, '/', gap - at) ? '/' : ' ';
        h = tb_hash_byte(h, phrase[n++]);
        at = gap;
    }
    return best;
}

/* In a script without blanks: the longest word of the table that begins here, character by character. */
static int longest_unspaced(const struct scan *s, size_t at, size_t *end)
{
    const struct folded *f = &s->f;
    uint32_t h = TB_HASH_START;
    size_t from = at;
    int best = -1;

    while (at < f->n && unspaced(f->s + at) && at - from < PHRASE_MOST) {
        size_t stop = char_end(f, at);
        int row;

        for (; at < stop; at++)
            h = tb_hash_byte(h, f->s[at]);
        if ((row = row_for(s, from, at, tb_name_lookup(f->s + from, at - from, h))) >= 0) {
            best = row;
            *end = at;
        }
    }
    return best;
}

static void add_word(struct scan *s, size_t from, size_t to, int row)
{
    struct tb_declaration *d = s->d;
    struct tb_token *t = push(s, TB_TOKEN_WORD, from, to);
    int first = row;

    while (first > 0 && tb_name_more[first].rows == 0)
        first--;
    t->row = row;
    t->what = row < 0 ? TB_WORD_UNKNOWN : tb_name_table[row].kind;
    t->word = d->words;
    TB_PUSH_ROOM(d->word, d->words, d->words_cap);
    d->word[d->words++] =
        (struct tb_word){ .at = t->at,
                          .len = t->len,
                          .kind = t->what,
                          .fibre = row < 0                           ? -1
                                   : t->what == TB_WORD_OTHER        ? TB_FIBRE_OTHER
                                   : t->what == TB_WORD_UNDETERMINED ? TB_FIBRE_UNKNOWN
                                                                     : tb_name_table[row].fibre,
                          .part = TB_NOWHERE,
                          .share = TB_NOWHERE,
                          .name = row < 0 ? NULL : &tb_name_table[first],
                          .names = row < 0 ? 0 : tb_name_more[first].rows };
}

/* "per cent", "Prozent" after a number belong to it. */
static bool take_percent_word(struct scan *s, size_t at, size_t *end)
{
    int row;

    if (at >= s->f.n || !is_letter(s->f.s[at]))
        return false;
    row = longest_phrase(s, at, end);
    return row >= 0 && tb_name_table[row].kind == TB_WORD_PERCENT;
}

static void scan_word(struct scan *s)
{
    size_t end = s->at;
    bool wide = unspaced(s->f.s + s->at);
    int row = wide ? longest_unspaced(s, s->at, &end) : longest_phrase(s, s->at, &end);

    if (row < 0 && wide) /* up to the next word that is known, or the end of the script */
        do
            end = char_end(&s->f, end);
        while (end < s->f.n && unspaced(s->f.s + end) && longest_unspaced(s, end, &(size_t){ 0 }) < 0);
    else if (row < 0)
        for (end = char_end(&s->f, s->at); end < s->f.n && is_letter(s->f.s[end]) && !unspaced(s->f.s + end);)
            end = char_end(&s->f, end);
    add_word(s, s->at, end, row);
    s->at = end;
}

/* Digits with one decimal point or comma; answers where they end. A figure that is none gives *value NAN. */
static size_t read_figure(const struct folded *f, size_t at, double *value, double *unit)
{
    double v = 0, step = 1;
    bool odd = false;

    while (at < f->n && is_digit(f->s[at]))
        v = v * 10 + (f->s[at++] - '0');
    if (at + 1 < f->n && (f->s[at] == '.' || f->s[at] == ',') && is_digit(f->s[at + 1]))
        for (at++; at < f->n && is_digit(f->s[at]); at++) {
            step /= 10;
            v = v * 10 + (f->s[at] - '0');
        }
    while (at + 1 < f->n && (f->s[at] == '.' || f->s[at] == ',') && is_digit(f->s[at + 1])) { /* 18.743,90 */
        odd = true;
        for (at++; at < f->n && is_digit(f->s[at]); at++)
            ;
    }
    *value = odd ? NAN : v * step;
    *unit = step;
    return at;
}

/* A plus-minus sign in any spelling begins here; answers where it ends, or at. */
static size_t plus_minus(const struct folded *f, size_t at)
{
    static const char *const sign[] = { "\x02", "+-", "+/-", "-/+", "+ -", "+ / -", "-+" };

    for (size_t i = 0; i < TB_COUNT(sign); i++)
        if (strncmp(f->s + at, sign[i], strlen(sign[i])) == 0)
            return at + strlen(sign[i]);
    return at;
}

static size_t take_percent(struct scan *s, size_t at, bool *percent)
{
    size_t next = past_blanks(&s->f, at), end = next;

    if (next < s->f.n && s->f.s[next] == '%') {
        *percent = true;
        return next + 1;
    }
    if (take_percent_word(s, next, &end)) {
        *percent = true;
        return end;
    }
    return at;
}

/* Units that make a number something else than a percentage. */
static bool is_unit(const char *s, size_t n, bool glued)
{
    static const char *const any[] = { "gsm",  "g",      "gr",  "gm",     "g/m",  "g/m2", "g/sqm", "oz",
                                       "cm",   "mm",     "m",   "mt",     "mtr",  "mtrs", "yd",    "yds",
                                       "inch", "inches", "den", "denier", "dtex", "tex",  "nm",    "ne",
                                       "ply",  "momme",  "kg",  "gramm",  "gram", "grams" };

    for (size_t i = 0; i < TB_COUNT(any); i++)
        if (strlen(any[i]) == n && memcmp(any[i], s, n) == 0)
            return true;
    return glued && n == 1 && (*s == 's' || *s == 'd');
}

/* 150 gsm, 40s, 75d: answers where the unit ends, or at when there is none. */
static size_t unit_end(const struct folded *f, size_t at)
{
    size_t from = past_blanks(f, at), end = word_end(f, from);

    if (end == from || unspaced(f->s + from))
        return at;
    if (!is_unit(f->s + from, end - from, from == at) || (end < f->n && is_digit(f->s[end])))
        return at;
    if (strncmp(f->s + end, "/m2", 3) == 0)
        return end + 3;
    return end;
}

/* "55-80 %", "60 to 70": a dash is a range unless the two make 100 between them (then it is a ratio). */
static bool range_follows(struct scan *s, size_t at, double low, double *high, size_t *end)
{
    static const char *const word[] = { "to", "bis", "or", "oder", "ou", "o", "..", "...", "~" };
    const struct folded *f = &s->f;
    size_t next = past_blanks(f, at), after = next;
    double unit;

    if (next < f->n && f->s[next] == '-')
        after = next + 1;
    for (size_t i = 0; i < TB_COUNT(word) && after == next; i++)
        if (strncmp(f->s + next, word[i], strlen(word[i])) == 0 && !is_letter(f->s[next + strlen(word[i])]))
            after = next + strlen(word[i]);
    if (after == next)
        return false;
    after = past_blanks(f, after);
    if (after >= f->n || !is_digit(f->s[after]))
        return false;
    *end = read_figure(f, after, high, &unit);
    return !(f->s[next] == '-' && fabs(low + *high - 100) < 0.5);
}

static void scan_number(struct scan *s, bool percent)
{
    const struct folded *f = &s->f;
    size_t from = s->at, end, next;
    double value, unit;
    struct tb_token number = { .tolerance = NAN, .to = NAN }, *t;

    end = read_figure(f, from, &value, &unit);
    if (!percent && (next = unit_end(f, end)) != end) {
        (void)push(s, TB_TOKEN_MEASURE, from, next);
        s->at = next;
        return;
    }
    number.percent = percent;
    if (!percent)
        end = take_percent(s, end, &number.percent);
    next = past_blanks(f, end);
    if (plus_minus(f, next) != next) {
        double room;
        size_t figure = past_blanks(f, plus_minus(f, next));

        if (figure < f->n && is_digit(f->s[figure]))
            end = take_percent(s, read_figure(f, figure, &number.tolerance, &room), &number.percent);
    } else if (range_follows(s, end, value, &number.to, &next)) {
        end = take_percent(s, next, &number.percent);
    } else {
        number.to = NAN;
    }
    t = push(s, TB_TOKEN_NUMBER, from, end);
    t->value = value;
    t->unit = unit;
    t->tolerance = number.tolerance;
    t->to = number.to;
    t->percent = number.percent;
    s->at = end;
}

/* % before its number, as Turkish writes it. */
static void scan_percent(struct scan *s)
{
    size_t next = past_blanks(&s->f, s->at + 1);

    if (next < s->f.n && is_digit(s->f.s[next])) {
        s->at = next;
        scan_number(s, true);
        return;
    }
    (void)push(s, TB_TOKEN_JUNK, s->at, s->at + 1);
    s->at++;
}

static void scan_sign(struct scan *s)
{
    const struct folded *f = &s->f;
    size_t at = s->at;
    bool apart = (at == 0 || f->s[at - 1] == ' ') && (at + 1 >= f->n || f->s[at + 1] == ' ');

    switch (f->s[at]) {
    case ' ':
    case '(':
    case ')':
    case '[':
    case ']':
    case '{':
    case '}':
    case '"':
    case '\'':
    case '.':
    case '=':
    case '_':
    case '*':
    case '!':
        break;
    case ',':
    case ';':
    case '\n':
    case '+':
    case '&':
    case '|':
        (void)push(s, TB_TOKEN_COMMA, at, at + 1);
        break;
    case '/':
    case '\\':
        (void)push(s, TB_TOKEN_SLASH, at, at + 1);
        break;
    case ':':
        (void)push(s, TB_TOKEN_COLON, at, at + 1);
        break;
    case '-':
    case '~':
        (void)push(s, apart ? TB_TOKEN_COMMA : TB_TOKEN_DASH, at, at + 1);
        break;
    default:
        (void)push(s, TB_TOKEN_JUNK, at, at + 1);
        break;
    }
    s->at++;
}

void tb_scan(struct tb_declaration *d, struct tb_tokens *out)
{
    struct scan s = { .d = d, .out = out };

    fold_all(&s.f, d->text, strlen(d->text));
    while (s.at < s.f.n) {
        char c = s.f.s[s.at];

        if (is_digit(c))
            scan_number(&s, false);
        else if (is_letter(c))
            scan_word(&s);
        else if (c == '%')
            scan_percent(&s);
        else
            scan_sign(&s);
    }
    free(s.f.s);
    free(s.f.from);
}
