/*
 * typed.h - figures, days and names as a person types or scans them into one field. A packing list has a column that shows how its figures and
 * days are meant; one field has nothing of the kind, so what can be read two ways is told as both, for a person to choose.
 */
#ifndef TENTERBOOK_TYPED_H
#define TENTERBOOK_TYPED_H

#include "tenterbook/base.h"
#include "tenterbook/date.h"

struct tb_typed_number {
    double value;
    double other; /* what "1,234" may mean as well; NAN: it can be read one way only */
    bool percent; /* a % stands behind it; the value is not divided by 100 */
};
/* "12.5", "12,5", "1.234,50", "65 %", "1e-3". False: it is no number, or none that is finite. */
bool tb_number_typed(struct tb_typed_number *out, const char *text);

/* As long as a day, or "" where there is none. */
struct tb_typed_day {
    char day[TB_DAY_LEN + 1];
    char other[TB_DAY_LEN + 1]; /* what "3/4/2026" may mean as well; "": it can be read one way only */
};
/* "2026-10-05", "5.10.2026", "5 Oct 2026", "20261005", in the orders and languages of packing lists. False: it is no day. */
bool tb_day_typed(struct tb_typed_day *out, const char *text);

/*
 * tb_moment_words - "27.11.2026 14:30" as tb_moment_read takes it, "2026-11-27T14:30": the day as tb_day_typed reads it, an hour below ten
 * with one figure.
 *   day     other: what the day may mean as well
 *   memory  `text` itself where it is a moment as it stands, or has no such day; else in mem
 */
const char *tb_moment_words(struct tb_typed_day *day, const char *text, struct tb_arena *mem);

/*
 * tb_scanned - a reference, tag or number without what a scanner or a paste puts around it: blanks and characters that are not seen
 * at both ends, the sign of the kind of code ("]C1M26-001.03"), the stars of Code 39.
 *   memory  `typed` itself where there is nothing of it; else in mem
 */
const char *tb_scanned(const char *typed, struct tb_arena *mem);

/* More years from today than a record at the bench or the door lies: mostly a slip of the finger. */
#define TB_YEARS_NEAR 2
/* Whole years between a valid day, or moment, and today, where they are TB_YEARS_NEAR or more; else 0. */
long tb_years_off(const char *day);

#endif
