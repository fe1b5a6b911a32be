/* circumstance_words.c - who wrote and what the clock did, in words and as JSON. */
#include "base/say.h"
#include "tenterbook/tell.h"

/* In the largest unit that leaves at least two of it. */
static void span_words(struct tb_text *out, enum tb_tongue to, int64_t seconds)
{
    if (seconds >= 2 * 86400)
        tb_text_addf(out, tb_trn(to, "%lld day", "%lld days", (unsigned long)(seconds / 86400)),
                     (long long)(seconds / 86400));
    else if (seconds >= 2 * 3600)
        tb_text_addf(out, tb_trn(to, "%lld hour", "%lld hours", (unsigned long)(seconds / 3600)),
                     (long long)(seconds / 3600));
    else if (seconds >= 2 * 60)
        tb_text_addf(out, tb_trn(to, "%lld minute", "%lld minutes", (unsigned long)(seconds / 60)),
                     (long long)(seconds / 60));
    else
        tb_text_addf(out, tb_trn(to, "%lld second", "%lld seconds", (unsigned long)seconds),
                     (long long)seconds);
}

static void writer_words(struct tb_text *out, const struct tb_writer *w)
{
    if (*w->login)
        tb_text_addf(out,
                     _n("%s wrote %lld journal row, logged in as %s.\n",
                        "%s wrote %lld journal rows, logged in as %s.\n", w->rows),
                     w->person, (long long)w->rows, w->login);
    else
        tb_text_addf(out,
                     _n("%s wrote %lld journal row with an older program, which records no login.\n",
                        "%s wrote %lld journal rows with an older program, which records no login.\n",
                        w->rows),
                     w->person, (long long)w->rows);
}

static void steps_words(struct tb_text *out, enum tb_tongue to, const struct tb_clock_steps *s, bool back)
{
    struct tb_text span = { 0 };

    if (!s->times)
        return;
    span_words(&span, to, s->most);
    tb_text_addf(
        out,
        back ? tb_trn(to,
                      "The clock went back %lld time from one record to the next: by %s, before journal "
                      "row %lld.\n",
                      "The clock went back %lld times from one record to the next: at most by %s, "
                      "before journal row "
                      "%lld.\n",
                      (unsigned long)s->times)
             : tb_trn(to,
                      "The clock went on by more than 31 days %lld time from one record to the next: by %s, "
                      "before journal row %lld.\n",
                      "The clock went on by more than 31 days %lld times from one record to the next: "
                      "at most by %s, "
                      "before journal row %lld.\n",
                      (unsigned long)s->times),
        (long long)s->times, tb_text_str(&span), (long long)s->row);
    tb_text_free(&span);
}

void tb_circumstances_words(struct tb_text *out, const struct tb_circumstances *c)
{
    for (size_t i = 0; i < c->writers; i++)
        writer_words(out, &c->writer[i]);
    if (c->other)
        tb_text_addf(out,
                     _n("Others wrote %lld journal row.\n", "Others wrote %lld journal rows.\n", c->other),
                     (long long)c->other);
    tb_clock_words(out, TB_READER, c);
}

void tb_clock_words(struct tb_text *out, enum tb_tongue to, const struct tb_circumstances *c)
{
    if (c->given)
        tb_text_addf(out,
                     tb_trn(to, "%lld journal row is dated by a clock given by hand (TENTERBOOK_CLOCK).\n",
                            "%lld journal rows are dated by a clock given by hand (TENTERBOOK_CLOCK).\n",
                            (unsigned long)c->given),
                     (long long)c->given);
    steps_words(out, to, &c->back, true);
    steps_words(out, to, &c->ahead, false);
}

void tb_clock_step_words(struct tb_text *out, int64_t step)
{
    struct tb_text span = { 0 };

    if (!step)
        return;
    span_words(&span, TB_READER, step < 0 ? -step : step);
    tb_text_addf(out,
                 step < 0 ? _("The clock went back by %s from the record before; the journal shows it.\n")
                          : _("The clock went on by %s from the record before; the journal shows it.\n"),
                 tb_text_str(&span));
    tb_text_free(&span);
}

static json_t *steps_json(const struct tb_clock_steps *s)
{
    return json_pack("{s:I, s:I, s:I}", "times", (json_int_t)s->times, "most_s", (json_int_t)s->most, "row",
                     (json_int_t)s->row);
}

json_t *tb_json_circumstances(const struct tb_circumstances *c)
{
    json_t *writers = json_array();

    for (size_t i = 0; i < c->writers; i++)
        tb_json_push(writers,
                     json_pack("{s:o, s:o, s:I}", "person", tb_json_text(c->writer[i].person), "login",
                               *c->writer[i].login ? json_string(c->writer[i].login) : json_null(), "rows",
                               (json_int_t)c->writer[i].rows));
    return json_pack("{s:o, s:I, s:I, s:o, s:o}", "writers", writers, "rows_of_others", (json_int_t)c->other,
                     "clock_given", (json_int_t)c->given, "clock_back", steps_json(&c->back), "clock_ahead",
                     steps_json(&c->ahead));
}
