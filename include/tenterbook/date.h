/*
 * date.h - dates as ISO 8601 text, arithmetic on the proleptic Gregorian calendar, clock and identifiers.
 *
 * Inside the program a day is "YYYY-MM-DD", a month "YYYY-MM", a moment "YYYY-MM-DDThh:mm:ssZ" (UTC).
 */
#ifndef TENTERBOOK_DATE_H
#define TENTERBOOK_DATE_H

#include "tenterbook/base.h"

#include <stdint.h>

#define TB_DAY_LEN 10
#define TB_MOMENT_LEN 20

/* Is it "YYYY-MM-DD" and a day that exists, years 1900 to 2999? NULL is not. */
bool tb_day_valid(const char *day);
/* Does the day, or the moment, lie within TB_DAY_FIRST and TB_DAY_LAST (limits.h)? It must be valid. */
bool tb_day_recorded(const char *day);
/* Is it "YYYY-MM", years 1900 to 2999? NULL is not. */
bool tb_month_valid(const char *month);
/* Is it "YYYY-MM-DDThh:mm:ssZ", of a day that exists? NULL is not. */
bool tb_moment_valid(const char *moment);
/*
 * "2026-10-05T09:30", with a space for the T, with seconds, with the Z: as a moment. False: the text is none
 * of these.
 */
bool tb_moment_read(char out[TB_MOMENT_LEN + 1], const char *text);
/* Days since 1970-01-01; the day must be valid. */
long tb_day_number(const char *day);
/* The day so many days after 1970-01-01; "1970-01-01" where that is not in the years 1900 to 2999. */
void tb_day_from_number(char out[TB_DAY_LEN + 1], long number);
/* False: there is no such day; out is untouched then. */
bool tb_day_from_parts(char out[TB_DAY_LEN + 1], int year, int month, int day);
/* First day of the month and first day of the month after it. */
void tb_month_span(char from[TB_DAY_LEN + 1], char until[TB_DAY_LEN + 1], const char *month);

#define TB_ID_LEN 26

/*
 * The clock, in UTC, by which records are dated. TENTERBOOK_CLOCK (seconds since 1970) stands in for it, for demonstrations and
 * tests; whatever is recorded then says so.
 */
void tb_now(char out[TB_MOMENT_LEN + 1]);
/* Whether TENTERBOOK_CLOCK stands in for the clock. */
bool tb_clock_given(void);
/* Whether it is seconds since 1970, or not set at all. */
bool tb_clock_sensible(void);
/* The moment that papers bear: SOURCE_DATE_EPOCH (seconds, reproducible-builds.org) where it is set, else tb_now(). */
void tb_paper_now(char out[TB_MOMENT_LEN + 1]);
/* Seconds between two valid moments, below 0 where the second is earlier. */
int64_t tb_seconds_between(const char *from, const char *to);
/* The day of tb_now(). */
void tb_today(char out[TB_DAY_LEN + 1]);

/*
 * tb_id_make - a new key: 128 bits, 48 of them the time in milliseconds, the rest random, later ones of the
 * same process always greater. 26 characters of base32hex (RFC 4648 section 7), so text order is time order.
 */
void tb_id_make(char out[TB_ID_LEN + 1]);

#endif
