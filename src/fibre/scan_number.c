/* A number cut out of the text, with what belongs to it: its per cent sign, a tolerance, a range, or a unit. */
#include "fibre/scan.h"

#include <math.h>
#include <string.h>

#define FIGURE_MOST 1e9  /* what is larger is a number of something else, or none */
#define HUNDRED_NEAR 0.5 /* two figures this near to 100 are shares of one cloth, not a range */

static size_t past_digits(const struct scan *s, size_t at)
{
    while (at < s->n && scan_is_digit(s->s[at]))
        at++;
    return at;
}

static bool is_point(const struct scan *s, size_t at)
{
    return at + 1 < s->n && (s->s[at] == '.' || s->s[at] == ',') && scan_is_digit(s->s[at + 1]);
}

/* What follows a figure and spoils it: more points (18.743,90) or an exponent (1e300). Answers where it ends. */
static size_t past_spoiling(const struct scan *s, size_t at)
{
    while (is_point(s, at))
        at = past_digits(s, at + 1);
    if (at + 1 < s->n && s->s[at] == 'e' && scan_is_digit(s->s[at + 1]))
        at = past_digits(s, at + 1);
    return at;
}

/* Digits with one decimal point or comma; answers where they end. A malformed figure gives *value NAN. */
static size_t read_figure(const struct scan *s, size_t at, double *value, double *unit)
{
    double v = 0, step = 1;
    size_t end;

    for (; at < s->n && scan_is_digit(s->s[at]); at++)
        v = v * 10 + (s->s[at] - '0');
    if (is_point(s, at))
        for (at++; at < s->n && scan_is_digit(s->s[at]); at++) {
            step /= 10;
            v = v * 10 + (s->s[at] - '0');
        }
    end = past_spoiling(s, at);
    *value = end == at && v * step < FIGURE_MOST ? v * step : NAN;
    *unit = step;
    return end;
}

/* A plus-minus sign in any spelling begins here; answers where it ends, or at. Folding makes one byte of the sign. */
static size_t plus_minus(const struct scan *s, size_t at)
{
    static const char *const sign[] = { "\x02", "+-", "+/-", "-/+", "+ -", "+ / -", "-+" };

    for (size_t i = 0; i < TB_COUNT(sign); i++)
        if (strncmp(s->s + at, sign[i], strlen(sign[i])) == 0)
            return at + strlen(sign[i]);
    return at;
}

/* The sign or a word for it, with or without a space. Answers where it ends, or at when there is none. */
static size_t take_percent(struct scan *s, size_t at, bool *percent)
{
    size_t next = scan_past_spaces(s, at), end = next;

    if (next < s->n && s->s[next] == '%') {
        *percent = true;
        return next + 1;
    }
    if (tb_scan_percent_word(s, next, &end)) {
        *percent = true;
        return end;
    }
    return at;
}

/* Units that make a number something else than a percentage. "s" and "d" are yarn counts only right behind it. */
static bool is_unit(const char *s, size_t n, bool glued)
{
    return tb_word_listed(
               "gsm g gr gm oz cm mm m mt mtr mtrs yd yds inch inches den denier dtex tex nm ne ply momme kg "
               "gramm gram grams",
               s, n, " ") ||
           (glued && n == 1 && (*s == 's' || *s == 'd'));
}

/* 150 gsm, 150 g/m2, 40s, 75d: answers where the unit ends, or at when there is none. */
static size_t unit_end(const struct scan *s, size_t at)
{
    static const char *const area[] = { "/m2", "/sqm", "/m" }; /* the longer ones first */
    size_t from = scan_past_spaces(s, at), end = scan_word_end(s, from);

    if (strncmp(s->s + at, "'s", 2) == 0 && !scan_is_letter(s->s[at + 2])) /* 120's */
        return at + 2;
    if (end == from || scan_is_unspaced(s->s + from))
        return at;
    if (!is_unit(s->s + from, end - from, from == at) || (end < s->n && scan_is_digit(s->s[end])))
        return at;
    for (size_t i = 0; i < TB_COUNT(area); i++)
        if (strncmp(s->s + end, area[i], strlen(area[i])) == 0)
            return end + strlen(area[i]);
    return end;
}

/* A sign or word between the ends of a range begins here: answers where it ends, or at when there is none. */
static size_t range_sign(const struct scan *s, size_t at)
{
    static const char *const word[] = { "to", "bis", "or", "oder", "ou", "o", "..", "...", "~" };

    if (at < s->n && s->s[at] == '-')
        return at + 1;
    for (size_t i = 0; i < TB_COUNT(word); i++)
        if (strncmp(s->s + at, word[i], strlen(word[i])) == 0 && !scan_is_letter(s->s[at + strlen(word[i])]))
            return at + strlen(word[i]);
    return at;
}

/* "55-80 %", "60 to 70": a dash is a range unless the two make 100 between them (then it is a ratio). */
static bool range_follows(const struct scan *s, size_t at, double low, double *high, size_t *end)
{
    size_t next = scan_past_spaces(s, at), sign = range_sign(s, next), after = scan_past_spaces(s, sign);
    double unit;

    if (sign == next || after >= s->n || !scan_is_digit(s->s[after]))
        return false;
    *end = read_figure(s, after, high, &unit);
    return !(s->s[next] == '-' && fabs(low + *high - 100) < HUNDRED_NEAR);
}

/* The tolerance or the upper end that follows, and the per cent sign behind it. Answers where the number ends. */
static size_t take_rest(struct scan *s, size_t end, struct tb_token *t)
{
    size_t next = scan_past_spaces(s, end), figure = scan_past_spaces(s, plus_minus(s, next));
    double high, unit;

    if (plus_minus(s, next) != next) {
        if (figure < s->n && scan_is_digit(s->s[figure]))
            end = take_percent(s, read_figure(s, figure, &t->tolerance, &unit), &t->percent);
    } else if (range_follows(s, end, t->value, &high, &next)) {
        t->to = high;
        if (isnan(high)) /* a range to nowhere is no figure either */
            t->value = NAN;
        end = take_percent(s, next, &t->percent);
    }
    return end;
}

void tb_scan_number(struct scan *s, bool percent)
{
    struct tb_token number = { .tolerance = NAN, .to = NAN, .percent = percent }, *t;
    size_t end = read_figure(s, s->at, &number.value, &number.unit), unit = unit_end(s, end);
    bool measure = !percent && unit != end;

    if (measure)
        end = unit;
    else if (!percent)
        end = take_percent(s, end, &number.percent);
    if (!measure)
        end = take_rest(s, end, &number);
    /* the token is added last: where it ends is known only now */
    t = tb_scan_push(s, measure ? TB_TOKEN_MEASURE : TB_TOKEN_NUMBER, s->at, end);
    t->value = number.value;
    t->unit = number.unit;
    t->tolerance = number.tolerance;
    t->to = number.to;
    t->percent = number.percent;
    s->at = end;
}
