/* circumstance.c - who wrote, under which login, and what the clock did: into a journal row, and out of many. */
#include "tenterbook/circumstance.h"
#include "tenterbook/utf8.h"

#include <stdio.h>
#include <string.h>

static bool is_step(int64_t seconds)
{
    return seconds < 0 || seconds > TB_CLOCK_AHEAD;
}

int64_t tb_clock_step(const char *now, const char *before)
{
    int64_t step = tb_moment_valid(before) ? tb_seconds_between(before, now) : 0;

    return is_step(step) ? step : 0;
}

json_t *tb_circumstance_now(const char *now, const char *before)
{
    json_t *act = json_object();
    int64_t step = tb_clock_step(now, before);

    if (tb_clock_given())
        (void)json_object_set_new(act, "clock", json_string("given"));
    if (step)
        (void)json_object_set_new(act, "step", json_integer((json_int_t)step));
    return act;
}

/* A copy that fits, never cut within a character. */
static void copy(char *out, size_t most, const char *text)
{
    size_t n = strlen(text), at = 0;

    while (at < n) {
        unsigned cp;
        size_t used = tb_utf8_next(text + at, n - at, &cp);

        if (at + used > most)
            break;
        at += used;
    }
    memcpy(out, text, at);
    out[at] = '\0';
}

static void add_writer(struct tb_circumstances *c, const char *person, const char *login)
{
    struct tb_writer w = { .rows = 1 };

    copy(w.person, TB_PERSON_MOST, person);
    copy(w.login, TB_LOGIN_MOST, login);
    for (size_t i = 0; i < c->writers; i++)
        if (strcmp(c->writer[i].person, w.person) == 0 && strcmp(c->writer[i].login, w.login) == 0) {
            c->writer[i].rows++;
            return;
        }
    if (c->writers < TB_WRITERS_MOST)
        c->writer[c->writers++] = w;
    else
        c->other++;
}

static void add_step(struct tb_clock_steps *s, int64_t seconds, int64_t row)
{
    s->times++;
    if (seconds <= s->most)
        return;
    s->most = seconds;
    s->row = row;
}

/* How far below zero; the least of all whole numbers has none above zero to match it. */
static int64_t below(int64_t step)
{
    return step == INT64_MIN ? INT64_MAX : -step;
}

void tb_circumstances_add(struct tb_circumstances *c, int64_t number, const char *at, const char *person,
                          const char *content, const char *aside)
{
    json_t *all = json_loads(content, JSON_REJECT_DUPLICATES, NULL);
    json_t *house = json_loads(aside, JSON_REJECT_DUPLICATES, NULL);
    const json_t *act = json_object_get(all, TB_CONTENT_ACT), *said = json_object_get(act, "step");
    const json_t *login = json_object_get(house ? house : act, TB_ASIDE_LOGIN);
    int64_t step = 0;

    if (json_is_integer(said))
        step = (int64_t)json_integer_value(said);
    else if (c->last == number - 1 && tb_moment_valid(c->last_at) && tb_moment_valid(at))
        step = tb_seconds_between(c->last_at, at);
    add_writer(c, person, json_is_string(login) ? json_string_value(login) : "");
    c->told += act != NULL;
    c->given += json_object_get(act, "clock") != NULL;
    if (is_step(step))
        add_step(step < 0 ? &c->back : &c->ahead, step < 0 ? below(step) : step, number);
    c->last = number;
    (void)snprintf(c->last_at, sizeof c->last_at, "%.20s", at);
    json_decref(all);
    json_decref(house);
}
