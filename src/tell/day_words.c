/* The day at the bench in words: how its lots were compared, what was left out, what fits into the hours. */
#include "base/say.h"
#include "tenterbook/tell.h"

#include <string.h>

static bool weighed_by(const struct tb_bench_day *d, const char *unit)
{
    bool any = strcmp(d->currency, unit) == 0;

    for (size_t i = 0; i < d->others; i++)
        any = any || strcmp(d->other[i].currency, unit) == 0;
    return any;
}

/* How lots were compared, for whoever reads the order. */
void tb_bench_day_how_words(struct tb_text *out, const struct tb_bench_day *d)
{
    struct tb_text each = { 0 };

    if (*d->rates)
        tb_text_say(out, "Lots are compared in %s, by the rates that are set: %s.\n", d->money, d->rates);
    if (*d->without_rate)
        tb_text_say(
            out,
            "No rate into %s is set for %s (tenterbook set rate:CODE NUMBER says what one of it is worth).\n",
            d->money, d->without_rate);
    if (!d->others && strcmp(d->currency, "m") == 0)
        tb_text_say(out, "Lots are weighed by their metres, since no price says what is at stake.\n");
    if (!d->others && strcmp(d->currency, "kg") == 0)
        tb_text_say(out,
                    "Lots are weighed by their kilograms, since neither price nor length says what is at "
                    "stake.\n");
    if (!d->others)
        return;
    tb_part(&each, "%s", d->currency);
    for (size_t i = 0; i < d->others; i++)
        tb_part(&each, "%s", d->other[i].currency);
    tb_text_say(out, "What cannot be compared has a plan of its own, each for all of the hours: %s.\n",
                each.s);
    if (weighed_by(d, "m"))
        tb_text_say(out, "Lots without a price are weighed by their metres (m).\n");
    if (weighed_by(d, "kg"))
        tb_text_say(out,
                    "Lots without a price, of which only the weight is known, are weighed by it (kg).\n");
    tb_text_free(&each);
}

/* The bound stands beside the gain: it tells how little there is to win by choosing otherwise. */
void tb_bench_day_words(struct tb_text *out, const struct tb_bench_day *d, bool one_money)
{
    if (d->unmeasured)
        tb_text_addf(out,
                     _n("%zu lot is left out: of some of its bolts neither length nor weight is known.\n",
                        "%zu lots are left out: of some of their bolts neither length nor weight is known.\n",
                        d->unmeasured),
                     d->unmeasured);
    if (d->awaited)
        tb_text_addf(out,
                     _n("%zu lot is left out: a laboratory has a sample of it, and its report decides.\n",
                        "%zu lots are left out: laboratories have samples of them, and their reports "
                        "decide.\n",
                        d->awaited),
                     d->awaited);
    if (d->unpriced)
        tb_text_addf(out,
                     _n("%zu lot without a price is left out: it is not in that money.\n",
                        "%zu lots without a price are left out: they are not in that money.\n", d->unpriced),
                     d->unpriced);
    if (d->spared)
        tb_text_addf(out,
                     _n("%zu lot is left out: what it was declared to hold must not be burned.\n",
                        "%zu lots are left out: what they were declared to hold must not be burned.\n",
                        d->spared),
                     d->spared);
    if (d->n)
        tb_text_addf(
            out,
            _n("In %.0f minutes: %zu of %zu lot, %.0f minutes, worth %.2f%s%s of false cloth caught on "
               "average (no choice of lots could be worth more than %.2f).\n",
               "In %.0f minutes: %zu of %zu lots, %.0f minutes, worth %.2f%s%s of false cloth caught "
               "on average (no choice of lots could be worth more than %.2f).\n",
               d->lots),
            d->minutes, d->n, d->lots, d->used, d->gain, *d->currency ? " " : "", d->currency, d->most);
    else if (d->lots)
        tb_text_say(out, "No lot fits into the time.\n");
    else if (!one_money && (d->unmeasured || d->awaited || d->unpriced || d->spared))
        tb_text_say(out, "No other lot is waiting for a burn.\n");
    else
        tb_text_say(out, one_money ? N_("No lot priced in that money is waiting for a burn.\n")
                                   : N_("No lot is waiting for a burn.\n"));
}
