/*
 * Any bytes as what is typed at the bench: the first chooses a day or a moment, or the lists of cues that were seen, denied and
 * looked at, separated by a zero.
 */
#include "tenterbook/date.h"
#include "tenterbook/evidence.h"

#include <stdint.h>
#include <stdlib.h>
#include <string.h>

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size);

static void must(bool holds)
{
    if (!holds)
        abort();
}

/* A day that is taken is the same when it is counted and written again. */
static void a_day(const char *text)
{
    char day[TB_DAY_LEN + 1], moment[TB_MOMENT_LEN + 1], until[TB_DAY_LEN + 1];

    if (tb_day_valid(text)) {
        tb_day_from_number(day, tb_day_number(text));
        must(strcmp(day, text) == 0);
    }
    if (tb_moment_read(moment, text)) {
        must(tb_moment_valid(moment));
        must(tb_seconds_between(moment, moment) == 0);
    }
    if (tb_month_valid(text)) {
        tb_month_span(day, until, text);
        must(strcmp(day, until) < 0);
    }
}

static void cues(const char *text, size_t n)
{
    const char *part[3] = { "", "", "" };
    struct tb_observation seen = { 0 };
    struct tb_err err = { 0 };

    for (size_t i = 0; i < 3 && n; i++) {
        size_t used = strnlen(text, n);

        part[i] = text;
        if (used == n)
            break;
        text += used + 1;
        n -= used + 1;
    }
    must(tb_observation_read(&seen, part[0], part[1], part[2], &err) == TB_OK || err.msg[0]);
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    char *exact;

    if (size < 1)
        return 0;
    exact = tb_alloc(size, 1); /* a step beyond the end is seen; it ends with a zero */
    memcpy(exact, data + 1, size - 1);
    if (data[0] % 2)
        cues(exact, size);
    else
        a_day(exact);
    free(exact);
    return 0;
}
