/* typed.c - one figure or one day from a field, with the readers of packing lists, and nothing chosen where two readings are left. */
#include "tenterbook/typed.h"

#include "intake/written.h"

#include <ctype.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#define DAYS_A_YEAR 365.25

/* A comma is a decimal sign or separates thousands; what stands around a figure in a list is no part of one here. */
static bool with_comma(struct tb_typed_number *out, const char *text)
{
    struct tb_figure f;

    if (!isdigit((unsigned char)text[strlen(text) - 1]) || !tb_figure_scan(&f, text) || f.parts != 1 ||
        f.range || f.rest_n || f.before_n)
        return false;
    out->value = tb_figure_value(&f, ',');
    out->other = tb_figure_value(&f, '.');
    if (isnan(out->value)) {
        out->value = out->other;
        out->other = (double)NAN;
    }
    return isfinite(out->value);
}

/* A point alone is always the decimal sign, as in every example and in what the program prints. */
bool tb_number_typed(struct tb_typed_number *out, const char *text)
{
    size_t n = strlen(text);
    char *plain, *end;
    bool good;

    *out = (struct tb_typed_number){ .other = (double)NAN };
    out->percent = n > 1 && text[n - 1] == '%';
    n -= out->percent;
    while (out->percent && n && text[n - 1] == ' ')
        n--;
    plain = tb_strndup(text, n);
    if (memchr(plain, ',', n))
        good = with_comma(out, plain);
    else {
        out->value = strtod(plain, &end);
        good = n && !isspace((unsigned char)*plain) && !*end && isfinite(out->value);
    }
    free(plain);
    return good;
}

bool tb_day_typed(struct tb_typed_day *out, const char *text)
{
    struct tb_day_reading r;
    const char *const read[] = { r.dmy, r.mdy, r.ymd };

    *out = (struct tb_typed_day){ 0 };
    if (tb_day_valid(text)) { /* as the book has it, whatever else it could be */
        memcpy(out->day, text, sizeof out->day);
        return true;
    }
    if (!tb_day_scan(&r, text))
        return false;
    if (strchr(text, '.') && *r.dmy) /* nobody who writes points has the month first */
        *r.mdy = '\0';
    for (size_t i = 0; i < TB_COUNT(read); i++)
        if (*read[i] && !*out->day)
            memcpy(out->day, read[i], sizeof out->day);
        else if (*read[i] && !*out->other && strcmp(read[i], out->day) != 0)
            memcpy(out->other, read[i], sizeof out->other);
    return *out->day != '\0';
}

const char *tb_moment_words(struct tb_typed_day *day, const char *text, struct tb_arena *mem)
{
    char moment[TB_MOMENT_LEN + 1];
    size_t n = strcspn(text, ":");

    *day = (struct tb_typed_day){ 0 };
    while (n && text[n] && strchr("0123456789:", text[n]))
        n--;
    if (tb_moment_read(moment, text) || !n || !text[n] || !tb_day_typed(day, tb_arena_strndup(mem, text, n)))
        return text;
    return tb_arena_printf(mem, text[n + 2] == ':' ? "%sT0%s" : "%sT%s", day->day, text + n + 1);
}

long tb_years_off(const char *day)
{
    char today[TB_DAY_LEN + 1];
    long years;

    tb_today(today);
    years = (long)(fabs((double)(tb_day_number(day) - tb_day_number(today))) / DAYS_A_YEAR);
    return years >= TB_YEARS_NEAR ? years : 0;
}
