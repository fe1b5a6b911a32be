/* went_back_words.c - for whoever got goods back: which bolts, when, and what they come to. */
#include "base/say.h"
#include "tenterbook/lot_story.h"
#include "tenterbook/tell.h"

#include <math.h>
#include <string.h>

#define NAMED 12 /* bolts of a day */

static void add_day(struct tb_text *out, enum tb_tongue to, bool letter, const char *day)
{
    char on[TB_PLAIN];

    if (letter)
        tb_tongue_day(out, to, day);
    else
        tb_text_add(out, tb_tongue_date(on, to, day));
}

static void add_figure(struct tb_text *out, enum tb_tongue to, bool letter, double value)
{
    char plain[TB_PLAIN];

    if (letter)
        tb_tongue_figure(out, to, value, 2);
    else
        tb_text_add(out, tb_tongue_plain(plain, to, value, 2));
}

/* The bolts of one day: number and length of each, and how many more there are. */
static void bolts_of_day(struct tb_text *out, enum tb_tongue to, const struct tb_went_back *back,
                         const char *day)
{
    size_t named = 0;

    for (size_t i = 0; i < back->n; i++) {
        const struct tb_bolt *bolt = back->bolt[i].bolt;
        struct tb_lengths length = tb_lengths_of_bolt(bolt);

        if (strcmp(back->bolt[i].day, day) != 0 || named++ >= NAMED)
            continue;
        tb_text_add(out, out->n ? tb_tr(to, ", ") : "");
        tb_text_add(out, bolt->number);
        length.metres *= back->bolt[i].left;
        if (back->bolt[i].left < 1) /* what was weighed was the bolt before it was cut */
            length.kg = length.weight_kg = 0, length.derived = length.weighed = 0;
        if (isnan(back->bolt[i].left)) /* its cut is told beside it */
            continue;
        tb_text_add(out, " (");
        tb_length_words(out, to, &length);
        tb_text_add(out, ")");
    }
    if (named > NAMED) {
        tb_text_add(out, tb_tr(to, ", "));
        tb_text_addf(out, tb_tr(to, "and %zu more"), named - NAMED);
    }
}

static const char *next_day(const struct tb_went_back *back, const char *last)
{
    const char *day = NULL;

    for (size_t i = 0; i < back->n; i++)
        if (strcmp(back->bolt[i].day, last) > 0 && (!day || strcmp(back->bolt[i].day, day) < 0))
            day = back->bolt[i].day;
    return day;
}

static void one_day(struct tb_text *out, enum tb_tongue to, const struct tb_went_back *back, const char *day,
                    const struct tb_lot_story *s, bool letter)
{
    struct tb_text bolts = { 0 }, on = { 0 }, say = { 0 };
    size_t n = 0;

    for (size_t i = 0; i < back->n; i++)
        n += strcmp(back->bolt[i].day, day) == 0;
    add_day(&on, to, letter, day);
    if (n == s->bolts && back->whole) {
        tb_text_addf(&say, tb_tr(to, "The whole lot was sent back on %s."), on.s);
    } else {
        bolts_of_day(&bolts, to, back, day);
        tb_text_addf(&say, tb_tr(to, "Sent back on %s: %s."), on.s, bolts.s);
    }
    tb_sentence_in(out, to, say.s);
    tb_text_free(&bolts);
    tb_text_free(&on);
    tb_text_free(&say);
}

void tb_went_back_words(struct tb_text *out, enum tb_tongue to, const struct tb_lot_story *s, bool letter)
{
    struct tb_arena mem = { 0 };
    struct tb_went_back back;

    tb_story_went_back(&back, s, &mem);
    for (const char *day = next_day(&back, ""); day; day = next_day(&back, day))
        one_day(out, to, &back, day, s, letter);
    tb_arena_free(&mem);
}

void tb_went_back_value_words(struct tb_text *out, enum tb_tongue to, const struct tb_lot_story *s,
                              bool letter)
{
    struct tb_text quantity = { 0 }, value = { 0 }, say = { 0 };
    struct tb_arena mem = { 0 };
    struct tb_went_back back;

    tb_story_went_back(&back, s, &mem);
    if (back.n && !back.whole && isfinite(back.value) && *s->invoiced.currency) {
        add_figure(&quantity, to, letter, back.quantity);
        add_figure(&value, to, letter, back.value);
        tb_text_addf(&say, tb_tr(to, "%s %s of it were sent back, which come to %s %s at the same price."),
                     quantity.s, s->invoiced.unit, value.s, s->invoiced.currency);
        tb_sentence_in(out, to, say.s);
    }
    tb_arena_free(&mem);
    tb_text_free(&quantity);
    tb_text_free(&value);
    tb_text_free(&say);
}
