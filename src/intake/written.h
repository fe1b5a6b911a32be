/*
 * written.h - inside the packing-list reader: numbers, days, units and currencies as people write them.
 */
#ifndef TENTERBOOK_INTAKE_WRITTEN_H
#define TENTERBOOK_INTAKE_WRITTEN_H

#include "tenterbook/date.h"
#include "tenterbook/intake.h"

#include <stdint.h>

/* ---- numbers (figure.c) ----------------------------------------------------------------------------------- */

#define TB_FIGURE_PARTS_MOST 64
struct tb_figure {
    double point, comma; /* the value when '.' / ',' is the decimal sign; NAN: impossible that way */
    double point_high, comma_high; /* end of a range, NAN when it is one number */
    unsigned parts;                /* of a sum "50+30+20"; 1 for one number */
    bool range;
    const char *rest; /* what follows the number: a unit; borrowed from the text */
    size_t rest_n;
    const char *before; /* what stands before it: a currency */
    size_t before_n;
};
/* False: there is no number, or text stands between its digits. `rest` and `before` last until the next call. */
bool tb_figure_scan(struct tb_figure *out, const char *text);
/* The number, and the end of its range, with this decimal sign ('.' or ','); NAN: impossible that way. */
double tb_figure_value(const struct tb_figure *f, char decimal);
/* The end of its range, with this decimal sign; NAN: it is one number. */
double tb_figure_high(const struct tb_figure *f, char decimal);

/* ---- days (day.c) ----------------------------------------------------------------------------------------- */

/* Orders of day, month and year, as bits. */
enum { TB_DAY_DMY = 1, TB_DAY_MDY = 2, TB_DAY_YMD = 4, TB_DAY_ALL = 7 };
/* Each of them once, by its name: "dmy", whose first letter tb_day_value is asked for. */
#define TB_DAY_ORDERS 3
extern const struct tb_day_order {
    unsigned bit;
    const char *name;
} tb_day_orders[TB_DAY_ORDERS];
struct tb_day_reading {
    char dmy[TB_DAY_LEN + 1], mdy[TB_DAY_LEN + 1], ymd[TB_DAY_LEN + 1]; /* "" where impossible */
};
/* Which orders are possible, 0: not a day. A day that reads the same in every order answers TB_DAY_ALL. */
unsigned tb_day_scan(struct tb_day_reading *out, const char *text);
/* A month whose name is that of another in another language ("12 listopada 2026"): the day in each. tb_day_scan does not read it. */
bool tb_day_two(struct tb_day_reading *one, struct tb_day_reading *other, const char *text);
/* day_find.c: the first day inside a text; where it begins, and *n bytes of it; SIZE_MAX: there is none. */
size_t tb_day_find(struct tb_day_reading *out, const char *text, size_t *n);
/* The day in this order: 'd', 'm' or 'y' first; NULL where that is impossible. */
const char *tb_day_value(const struct tb_day_reading *r, char order);

/* ---- units (units.c) -------------------------------------------------------------------------------------- */

/*
 * The unit a word means where `field` is measured ("mm" is momme for a mass, millimetre for a width); NONE:
 * not a unit.
 */
enum tb_unit tb_unit_find(enum tb_field field, const char *text, size_t n);
/* "EUR" for a sign or letters, static; NULL: not a currency. */
const char *tb_currency_find(const char *text, size_t n);
/* Is it a mark for "as above"? */
bool tb_is_ditto(const char *text);

#endif
