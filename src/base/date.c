/* date.c - days and moments as text, computed with as numbers, and the clock. */
#include "tenterbook/date.h"
#include "tenterbook/limits.h"

#include <ctype.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

/* The locale of the C library may know other digits; a date is written with these ten. */
static bool digits(const char *s, size_t n)
{
    for (size_t i = 0; i < n; i++)
        if (!isdigit((unsigned char)s[i]))
            return false;
    return true;
}

/* Of digits that were looked at before, few enough for an int. */
static int number(const char *s, size_t n)
{
    int v = 0;

    for (size_t i = 0; i < n; i++)
        v = v * 10 + (s[i] - '0');
    return v;
}

static bool leap(int y)
{
    return (y % 4 == 0 && y % 100 != 0) || y % 400 == 0;
}

/* The month is 1 to 12: callers look first, as the table has no other. */
static int days_in(int y, int m)
{
    static const int days[] = { 31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31 };

    return days[m - 1] + (m == 2 && leap(y));
}

/* Years outside 1900 to 2999 are typing errors in every place a date is taken. */
bool tb_day_from_parts(char out[TB_DAY_LEN + 1], int year, int month, int day)
{
    if (year < 1900 || year > 2999 || month < 1 || month > 12 || day < 1 || day > days_in(year, month))
        return false;
    (void)snprintf(out, TB_DAY_LEN + 1, "%04u-%02u-%02u", (unsigned)year % 10000u, (unsigned)month % 100u,
                   (unsigned)day % 100u);
    return true;
}

/* A moment begins with its day, so both are read by this. */
static bool day_prefix(const char *d)
{
    char again[TB_DAY_LEN + 1];

    return d && strlen(d) >= TB_DAY_LEN && digits(d, 4) && d[4] == '-' && digits(d + 5, 2) && d[7] == '-' &&
           digits(d + 8, 2) && tb_day_from_parts(again, number(d, 4), number(d + 5, 2), number(d + 8, 2));
}

bool tb_day_valid(const char *day)
{
    return day_prefix(day) && day[TB_DAY_LEN] == '\0';
}

/* Text of days is in the order of time. */
bool tb_day_recorded(const char *day)
{
    return strncmp(day, TB_DAY_FIRST, TB_DAY_LEN) >= 0 && strncmp(day, TB_DAY_LAST, TB_DAY_LEN) <= 0;
}

/* A month is good when its first day is. */
bool tb_month_valid(const char *month)
{
    char day[TB_DAY_LEN + 1];

    if (!month || strlen(month) != 7)
        return false;
    (void)snprintf(day, sizeof day, "%.7s-01", month);
    return tb_day_valid(day);
}

bool tb_moment_valid(const char *m)
{
    if (!day_prefix(m) || strlen(m) != TB_MOMENT_LEN)
        return false;
    return m[10] == 'T' && digits(m + 11, 2) && number(m + 11, 2) < 24 && m[13] == ':' && digits(m + 14, 2) &&
           number(m + 14, 2) < 60 && m[16] == ':' && digits(m + 17, 2) && number(m + 17, 2) < 60 &&
           m[19] == 'Z';
}

/* What people type has no seconds and no Z; the rest of the program has both. */
bool tb_moment_read(char out[TB_MOMENT_LEN + 1], const char *text)
{
    size_t n = strlen(text);

    if (n != 16 && n != 19 && n != TB_MOMENT_LEN)
        return false;
    (void)snprintf(out, TB_MOMENT_LEN + 1, "%s%s", text, n == 16 ? ":00Z" : n == 19 ? "Z" : "");
    if (out[10] == ' ')
        out[10] = 'T';
    return tb_moment_valid(out);
}

/* Days between 0000-03-01 and the day, counted in 400-year cycles: the usual civil-from-days arithmetic. */
long tb_day_number(const char *day)
{
    long y = number(day, 4), m = number(day + 5, 2), d = number(day + 8, 2);
    long era, in_era, in_year;

    y -= m <= 2;
    era = y / 400;
    in_era = y - era * 400;
    in_year = (153 * (m + (m > 2 ? -3 : 9)) + 2) / 5 + d - 1;
    return era * 146097 + in_era * 365 + in_era / 4 - in_era / 100 + in_year - 719468;
}

/* The inverse of tb_day_number(), with the same eras of 400 years. */
void tb_day_from_number(char out[TB_DAY_LEN + 1], long n)
{
    long era, in_era, year, in_year, mp, y;

    n += 719468;
    era = n / 146097;
    in_era = n - era * 146097;
    year = (in_era - in_era / 1460 + in_era / 36524 - in_era / 146096) / 365;
    in_year = in_era - (365 * year + year / 4 - year / 100);
    mp = (5 * in_year + 2) / 153;
    y = year + era * 400 + (mp >= 10);
    if (!tb_day_from_parts(out, (int)y, (int)(mp < 10 ? mp + 3 : mp - 9),
                           (int)(in_year - (153 * mp + 2) / 5 + 1)))
        (void)snprintf(out, TB_DAY_LEN + 1, "1970-01-01");
}

/* Until is the first day that does not belong to the month, so that a span needs no last day. */
void tb_month_span(char from[TB_DAY_LEN + 1], char until[TB_DAY_LEN + 1], const char *month)
{
    int y = number(month, 4), m = number(month + 5, 2);

    (void)tb_day_from_parts(from, y, m, 1);
    if (!tb_day_from_parts(until, m == 12 ? y + 1 : y, m == 12 ? 1 : m + 1, 1))
        (void)snprintf(until, TB_DAY_LEN + 1, "3000-01-01");
}

/* A time given in a variable, in seconds; a text that is not a number is ignored. */
static bool given(time_t *out, const char *variable)
{
    const char *text = getenv(variable);

    if (!text || !*text || !digits(text, strlen(text)))
        return false;
    *out = (time_t)strtoll(text, NULL, 10);
    return true;
}

/* A clock that cannot be read gives a moment nobody takes for today. */
static void write_moment(char out[TB_MOMENT_LEN + 1], time_t t)
{
    struct tm tm;

    if (!gmtime_r(&t, &tm) || strftime(out, TB_MOMENT_LEN + 1, "%Y-%m-%dT%H:%M:%SZ", &tm) != TB_MOMENT_LEN)
        memcpy(out, "1970-01-01T00:00:00Z", TB_MOMENT_LEN + 1);
}

bool tb_clock_given(void)
{
    time_t t;

    return given(&t, "TENTERBOOK_CLOCK");
}

bool tb_clock_sensible(void)
{
    const char *text = getenv("TENTERBOOK_CLOCK");
    time_t t;

    return !text || !*text || given(&t, "TENTERBOOK_CLOCK");
}

void tb_now(char out[TB_MOMENT_LEN + 1])
{
    time_t t;

    if (!given(&t, "TENTERBOOK_CLOCK"))
        t = time(NULL);
    write_moment(out, t);
}

/* A fixed time makes a paper the same bytes when it is made again; what is recorded never takes it. */
void tb_paper_now(char out[TB_MOMENT_LEN + 1])
{
    time_t t;

    if (given(&t, "SOURCE_DATE_EPOCH"))
        write_moment(out, t);
    else
        tb_now(out);
}

static int64_t seconds_of(const char *moment)
{
    return (int64_t)tb_day_number(moment) * 86400 + number(moment + 11, 2) * 3600 +
           number(moment + 14, 2) * 60 + number(moment + 17, 2);
}

int64_t tb_seconds_between(const char *from, const char *to)
{
    return seconds_of(to) - seconds_of(from);
}

void tb_today(char out[TB_DAY_LEN + 1])
{
    char now[TB_MOMENT_LEN + 1];

    tb_now(now);
    memcpy(out, now, TB_DAY_LEN);
    out[TB_DAY_LEN] = '\0';
}
