/* day.c - days as people write them: every order that is possible, and none chosen. */
#include "intake/written.h"

#include "gen/ref_month_name.h"
#include "tenterbook/utf8.h"

#include <ctype.h>
#include <stdlib.h>
#include <string.h>

/* A two-digit year is taken for a year of these; "26-03-04" is then no day of the year 2004. */
#define SHORT_YEAR_FIRST 15
#define SHORT_YEAR_LAST 79

struct number {
    int value, digits;
};

/* "2026-03-04 00:00:00", "2026-03-04T08:00": the time of day is dropped. */
static void drop_time(char *s)
{
    char *colon = strchr(s, ':');

    if (!colon || colon == s)
        return;
    while (colon > s && isdigit((unsigned char)colon[-1]))
        colon--;
    if (colon > s && (colon[-1] == ' ' || colon[-1] == 't'))
        colon[-1] = '\0';
}

/* The month of a name, or the other one it has in another language ("listopad"): 0: there is none. */
static int month_at(const char *s, size_t n, bool other)
{
    int first = 0;

    for (size_t i = 0; i < tb_ref_month_name_n; i++) {
        const char *word = tb_ref_month_name[i].word;

        if (word[0] != s[0] || strncmp(word, s, n) != 0 || word[n])
            continue;
        if (!other || (first && tb_ref_month_name[i].month != first))
            return tb_ref_month_name[i].month;
        first = first ? first : tb_ref_month_name[i].month;
    }
    return other ? first : 0;
}

/* Bytes of a sign for year, month or day in Chinese, Japanese or Korean; 0: there is none. Folding takes Korean apart. */
static size_t unit_sign(const char *s)
{
    static const char *const sign[] = {
        "年", "月", "日", "号", "號", "\u1102\u1167\u11ab", "\u110b\u116f\u11af", "\u110b\u1175\u11af"
    };

    for (size_t i = 0; i < TB_COUNT(sign); i++)
        if (strncmp(s, sign[i], strlen(sign[i])) == 0)
            return strlen(sign[i]);
    return 0;
}

/* Numbers and at most one month name, with separators and a few small words between; false for anything else. */
static bool take_apart(const char *s, struct number num[4], size_t *n, int *month, size_t *month_at_number,
                       bool other)
{
    *n = 0;
    *month = 0;
    while (*s) {
        size_t len = 0;

        if (isdigit((unsigned char)*s)) {
            if (*n == 3)
                return false;
            num[*n] = (struct number){ 0, 0 };
            for (; isdigit((unsigned char)*s); s++) {
                if (++num[*n].digits > 8)
                    return false;
                num[*n].value = num[*n].value * 10 + (*s - '0');
            }
            (*n)++;
        } else if (strchr(" .,/-'", *s)) {
            s++;
        } else if (unit_sign(s)) {
            s += unit_sign(s);
        } else {
            while (s[len] && !isdigit((unsigned char)s[len]) && !strchr(" .,/-'", s[len]) &&
                   !unit_sign(s + len))
                len++;
            if (!tb_word_listed("de del di of st nd rd th d m r g gada ta a", s, len, " ")) {
                if (*month || !(*month = month_at(s, len, other)))
                    return false;
                *month_at_number = *n;
            }
            s += len;
        }
    }
    return true;
}

/* A year of two digits is taken where it can only be one century; else it is not a year. */
static int full_year(struct number y)
{
    if (y.digits == 4)
        return y.value;
    return y.digits == 2 && y.value >= SHORT_YEAR_FIRST && y.value <= SHORT_YEAR_LAST ? 2000 + y.value : -1;
}

/* An order that gives a day that does not exist is not possible. */
static void put(char out[TB_DAY_LEN + 1], struct number y, int m, struct number d)
{
    if (full_year(y) < 0 || d.digits > 2 || !tb_day_from_parts(out, full_year(y), m, d.value))
        out[0] = '\0';
}

/* Where the year comes first, or the month has a name, there is one reading. */
static void same(struct tb_day_reading *r)
{
    memcpy(r->dmy, r->ymd, sizeof r->dmy);
    memcpy(r->mdy, r->ymd, sizeof r->mdy);
}

/* Only shapes that a date is written in: what is left over makes it something else. */
static void read_parts(struct tb_day_reading *out, struct number num[4], size_t n, int month,
                       size_t month_place)
{
    if (n == 1 && num[0].digits == 8 && !month) {
        struct number y = { num[0].value / 10000, 4 }, d = { num[0].value % 100, 2 };

        put(out->ymd, y, num[0].value / 100 % 100, d);
        same(out);
    } else if (n == 2 && month) { /* "12 Mar 2026", "March 12, 2026", "2026 Mar 12" */
        bool year_first = num[0].digits == 4 && month_place > 0;

        put(out->ymd, num[year_first ? 0 : 1], month, num[year_first ? 1 : 0]);
        same(out);
    } else if (n == 3 && !month && num[0].digits == 4) {
        put(out->ymd, num[0], num[1].value, num[2]);
        same(out);
    } else if (n == 3 && !month && num[1].digits <= 2) {
        put(out->dmy, num[2], num[1].value, num[0]);
        put(out->mdy, num[2], num[0].value, num[1]);
        if (num[0].digits == 2)
            put(out->ymd, num[0], num[1].value, num[2]);
    }
}

/* "03.04.2026": with full stops and the year behind, the day comes first. Source: common practice, memory. */
static bool day_first(const char *s)
{
    size_t a = strspn(s, "0123456789"), b = s[a] == '.' ? strspn(s + a + 1, "0123456789") : 0,
           c = b && s[a + 1 + b] == '.' ? strspn(s + a + b + 2, "0123456789") : 0;

    return (a == 1 || a == 2) && (b == 1 || b == 2) && c == 4 && !s[a + b + c + 2];
}

/* Every possible order is given, since the column as a whole may rule some of them out. */
static unsigned scan(struct tb_day_reading *out, const char *text, bool other, bool *named)
{
    struct number num[4];
    size_t n, month_place = 0;
    int month;
    char *s;
    bool read;

    *out = (struct tb_day_reading){ 0 };
    if (strlen(text) > 60)
        return 0;
    s = tb_fold(text, strlen(text));
    drop_time(s);
    read = take_apart(s, num, &n, &month, &month_place, other);
    *named = read && month;
    free(s);
    if (!read)
        return 0;
    read_parts(out, num, n, month, month_place);
    if (out->dmy[0] && strcmp(out->dmy, out->mdy) != 0 && day_first(text))
        out->mdy[0] = '\0';
    if (out->dmy[0] && strcmp(out->dmy, out->mdy) == 0 && (!out->ymd[0] || strcmp(out->dmy, out->ymd) == 0)) {
        memcpy(out->ymd, out->dmy, sizeof out->ymd);
        return TB_DAY_ALL;
    }
    return (out->dmy[0] ? TB_DAY_DMY : 0u) | (out->mdy[0] ? TB_DAY_MDY : 0u) |
           (out->ymd[0] ? TB_DAY_YMD : 0u);
}

const struct tb_day_order tb_day_orders[TB_DAY_ORDERS] = { { TB_DAY_DMY, "dmy" },
                                                           { TB_DAY_MDY, "mdy" },
                                                           { TB_DAY_YMD, "ymd" } };

const char *tb_day_value(const struct tb_day_reading *r, char order)
{
    const char *v = order == 'm' ? r->mdy : order == 'y' ? r->ymd : r->dmy;

    return *v ? v : NULL;
}

/* Which language the name of the month is in, one day does not tell: such a day is not read, but asked about. */
static bool two_months(struct tb_day_reading *other, const struct tb_day_reading *one, const char *text)
{
    bool named;

    return scan(other, text, true, &named) && strcmp(one->ymd, other->ymd) != 0;
}

unsigned tb_day_scan(struct tb_day_reading *out, const char *text)
{
    struct tb_day_reading other;
    bool named;
    unsigned orders = scan(out, text, false, &named);

    if (!orders || !named || !two_months(&other, out, text))
        return orders;
    *out = (struct tb_day_reading){ 0 };
    return 0;
}

bool tb_day_two(struct tb_day_reading *one, struct tb_day_reading *other, const char *text)
{
    bool named;

    return scan(one, text, false, &named) && named && two_months(other, one, text);
}
