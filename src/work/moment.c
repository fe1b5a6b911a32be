/* Moments that people give: they have passed. */
#include "work/moment.h"

#include "tenterbook/date.h"
#include "tenterbook/limits.h"

#include <string.h>

tb_rc tb_past_moment(const char **out, const char *name, const char *text, struct tb_arena *mem,
                     struct tb_err *err)
{
    char moment[TB_MOMENT_LEN + 1], now[TB_MOMENT_LEN + 1];

    if (!text || !*text)
        return TB_OK;
    if (!tb_moment_read(moment, text))
        return tb_fail(err, TB_EINVAL, "%s is '%s'; it takes a day and a time in UTC, like 2026-10-05T09:30",
                       name, text);
    if (!tb_day_recorded(moment))
        return tb_fail(err, TB_EINVAL, "%s is '%s'; the book takes moments from %s on", name, text,
                       TB_DAY_FIRST);
    tb_now(now);
    if (strcmp(moment, now) > 0)
        return tb_fail(err, TB_EINVAL, "%s is '%s'; that is still to come (it is %s)", name, text, now);
    *out = tb_arena_strdup(mem, moment);
    return TB_OK;
}

tb_rc tb_moment_check(const char *what, const char *moment, struct tb_err *err)
{
    char now[TB_MOMENT_LEN + 1];

    if (!moment)
        return TB_OK;
    if (!tb_moment_valid(moment))
        return tb_fail(err, TB_EINVAL, "%s, '%s', is not a valid moment; it reads like 2026-10-05T09:30:00Z",
                       what, moment);
    if (!tb_day_recorded(moment))
        return tb_fail(err, TB_EINVAL, "%s, %s, is too early: the book takes moments from %s on", what,
                       moment, TB_DAY_FIRST);
    tb_now(now);
    if (strcmp(moment, now) > 0)
        return tb_fail(err, TB_EINVAL, "%s, %s, is still to come (it is %s)", what, moment, now);
    return TB_OK;
}

tb_rc tb_past_day(const char **out, const char *day, struct tb_arena *mem, struct tb_err *err)
{
    char today[TB_DAY_LEN + 1];

    tb_today(today);
    *out = day ? day : tb_arena_strdup(mem, today);
    if (tb_day_valid(*out) && strcmp(*out, today) > 0)
        return tb_about(err, tb_fail(err, TB_EINVAL, "%s is later than today, %s", *out, today), "on");
    return TB_OK;
}

bool tb_before_arrival(const char *moment, const struct tb_lot *lot)
{
    return moment && lot->arrived && tb_day_number(moment) < tb_day_number(lot->arrived) - 1;
}
