/* Draws in words: what the suppliers' history asks for, other draws of the same bolts, and what burns prove. */
#include "base/say.h"
#include "tenterbook/tell.h"

#include <math.h>
#include <string.h>

bool tb_history_words(struct tb_text *out, const struct tb_draw_outcome *o)
{
    bool reduced = o->suppliers > 0;

    for (size_t i = 0; i < o->suppliers; i++) {
        const struct tb_inspected *s = &o->inspected[i];

        reduced = reduced && s->now == TB_REDUCED;
        if (s->now == TB_REDUCED)
            tb_text_say(out, "%s's history allows reduced inspection: %s.\n", s->supplier, _(s->why));
        else if (s->why)
            tb_text_say(out, "%s inspection after %s's history: %s.\n", tb_inspection_key(s->now),
                        s->supplier, _(s->why));
    }
    return reduced;
}

void tb_remark_words(struct tb_text *out, enum tb_tongue to, const char *remark)
{
    size_t n = strncmp(remark, TB_UNEXAMINED, strlen(TB_UNEXAMINED)) == 0 ? strlen(TB_UNEXAMINED) : 0;

    tb_text_addf(out, "%s%s", n ? tb_tr(to, TB_UNEXAMINED) : "", remark + n);
}

void tb_care_words(struct tb_text *out, enum tb_tongue to, enum tb_handling handling, const char *indent)
{
    if (handling == TB_HANDLING_ANY)
        return;
    tb_text_add(out, indent);
    tb_text_addf(
        out, handling == TB_HANDLING_FLAMELESS
                 ? tb_tr(to, "Do not burn it and do not heat it: test it without a flame, or send it to a "
                             "laboratory.\n")
                 : tb_tr(to, "Stop: do not cut, burn or fray it. Seal it, mark it, and ask a person or a "
                             "laboratory licensed for it.\n"));
}

void tb_unburnable_words(struct tb_text *out, const char *indent)
{
    tb_text_add(out, indent);
    tb_text_say(
        out, "Caution: it neither burned nor melted, and asbestos does neither too. Where it may be old, or "
             "nobody answers for where it comes from, do not cut, burn or fray it before a laboratory "
             "licensed for it has named its fibres.\n");
}

void tb_handling_words(struct tb_text *out, const struct tb_draw_outcome *o)
{
    if (o->handling & 1u << TB_HANDLING_FLAMELESS)
        tb_text_say(out, "Bolts declared or found to hold a fibre that frees toxic gas in a flame, or burns "
                         "explosively, must not be burned: test "
                         "them without a flame, or send them to a laboratory.\n");
    if (o->handling & 1u << TB_HANDLING_LABORATORY)
        tb_text_say(
            out,
            "Bolts that are declared or found to hold asbestos, or that neither burned nor melted, must not "
            "be cut, tested or burned: keep them closed and "
            "sealed, and ask a laboratory licensed for it to take the samples. The local law on such "
            "material comes first.\n");
}

void tb_apart_words(struct tb_text *out, const struct tb_draw_outcome *o)
{
    if (o->apart)
        tb_text_addf(out,
                     _n("%ld bolt is not drawn from: it was returned, or decided of by itself.\n",
                        "%ld bolts are not drawn from: they were returned, or decided of by themselves.\n",
                        o->apart),
                     o->apart);
}

void tb_draws_before_words(struct tb_text *out, const struct tb_draw_outcome *o)
{
    const struct tb_draw *last = o->last;

    if (last)
        tb_text_addf(
            out,
            _n("They were drawn from before: %zu draw, by %s on %.10s with seed %s. Every draw is in the "
               "journal.\n",
               "They were drawn from before: %zu draws, the last by %s on %.10s with seed %s. Every draw "
               "is in the journal.\n",
               o->befores),
            o->befores, last->drawn_by, last->drawn_at, last->seed);
    if (o->seed_from == TB_SEED_GIVEN)
        tb_text_say(out, "The seed was given by hand: whoever tries several can choose among the bolts.\n");
}

void tb_draw_caveat_words(struct tb_text *out, const struct tb_draw *r, size_t draws)
{
    if (draws > 1)
        tb_text_say(out, "%zu draws of these bolts are in the journal; this is the one of %.10s by %s.\n",
                    draws, r->drawn_at, r->drawn_by);
    if (tb_seed_by_hand(r->seed))
        tb_text_say(out, "Its seed %s was given by hand: whoever tries several can choose among the bolts.\n",
                    r->seed);
}

/* In metres too: a claim is made for a length, and the longest bolts may be the false ones. */
static void metres_words(struct tb_text *out, const struct tb_draw_proof *p)
{
    char conf[TB_PERCENT], share[TB_PERCENT];

    (void)tb_percent(conf, p->sure);
    if (isnan(p->most_metres)) {
        tb_text_addf(out,
                     _n("With a confidence of %s no more than %ld of the %ld bolt drawn from is false; how "
                        "many metres they "
                        "hold is not known, since bolts counted in kilograms have no known length (%ld).\n",
                        "With a confidence of %s no more than %ld of the %ld bolts drawn from are false; how "
                        "many metres they "
                        "hold is not known, since bolts counted in kilograms have no known length (%ld).\n",
                        p->bolts),
                     conf, p->most_false, p->bolts, p->unknown);
        return;
    }
    (void)tb_percent(share, p->most_metres / p->metres);
    tb_text_addf(
        out,
        _n("With a confidence of %s no more than %ld of the %ld bolt drawn from is false, and no more than "
           "%.1f of the %.1f m (%s).\n",
           "With a confidence of %s no more than %ld of the %ld bolts drawn from are false, and they hold "
           "no more than %.1f of the %.1f m (%s).\n",
           p->bolts),
        conf, p->most_false, p->bolts, p->most_metres, p->metres, share);
}

/* Whoever takes a bolt out after it was burned takes out what it showed: that has to be seen beside the proof. */
static void gone_words(struct tb_text *out, const struct tb_draw_proof *p)
{
    for (size_t i = 0; i < p->gones; i++)
        tb_text_say(
            out,
            p->gone[i].burned
                ? N_("Bolt %s was drawn and burned, and is void since: what it showed counts nowhere.\n")
                : N_("Bolt %s was drawn, and is void since.\n"),
            p->gone[i].number);
}

void tb_proof_words(struct tb_text *out, const struct tb_draw_proof *p)
{
    char chance[TB_PERCENT];
    long unburnt = p->drawn - p->burned;

    gone_words(out, p);
    if (p->burned == 0) {
        tb_text_addf(out,
                     _n("The %ld bolt drawn was not burned yet: nothing is proved.\n",
                        "None of the %ld bolts drawn was burned yet: nothing is proved.\n", p->drawn),
                     p->drawn);
        return;
    }
    tb_text_addf(out,
                 _n("Of the %ld bolt drawn at random %ld was burned, and %ld shown false.\n",
                    "Of the %ld bolts drawn at random %ld were burned, and %ld shown false.\n", p->drawn),
                 p->drawn, p->burned, p->found);
    if (p->besides > 0)
        tb_text_addf(out,
                     _n("%ld bolt that this draw did not take was shown false too.\n",
                        "%ld bolts that this draw did not take were shown false too.\n", p->besides),
                     p->besides);
    if (p->undecided > 0)
        tb_text_addf(out,
                     _n("The burns of %ld neither fit nor contradict: it counts as not burned.\n",
                        "The burns of %ld neither fit nor contradict: they count as not burned.\n",
                        p->undecided),
                     p->undecided);
    if (p->undecided == p->burned && p->besides == 0) {
        tb_text_say(out, "No burn decides, so nothing is proved.\n");
        return;
    }
    metres_words(out, p);
    if (unburnt > 0)
        tb_text_addf(
            out,
            _n("%ld of the drawn bolts is not burned yet; the rest are taken to be as good as drawn at "
               "random.\n",
               "%ld of the drawn bolts are not burned yet; the rest are taken to be as good as drawn at "
               "random.\n",
               unburnt),
            unburnt);
    tb_text_say(
        out,
        "It holds for this delivery only, and for burns that show a false bolt with a chance of %s (%s).\n",
        tb_percent(chance, p->caught.one), p->caught.words);
    tb_draw_caveat_words(out, &p->draw, p->befores);
}

void tb_bound_words(struct tb_text *out, const struct tb_draw_proof *b)
{
    char share[TB_PERCENT], conf[TB_PERCENT];
    long bolts = b->bolts;

    (void)tb_percent(share, (double)b->most_false / (double)bolts);
    (void)tb_percent(conf, b->sure);
    if (b->found == 0)
        tb_text_addf(out,
                     _n("%ld of %ld bolt was burned and none was shown false.\n",
                        "%ld of %ld bolts were burned and none was shown false.\n", bolts),
                     b->burned, bolts);
    else
        tb_text_addf(out,
                     _n("%ld of %ld bolt was burned and %ld shown false.\n",
                        "%ld of %ld bolts were burned and %ld of them were shown false.\n", bolts),
                     b->burned, bolts, b->found);
    /* a certainty is claimed only where every bolt was burned, and by burns that miss none */
    if (b->most_false == 0 && b->burned == bolts && b->caught.one >= 1)
        tb_text_say(out, "Every bolt was looked at: none of the lot is false.\n");
    else if (b->most_false == 0)
        tb_text_say(out, "With a confidence of %s none of the lot is false.\n", conf);
    else
        tb_text_addf(out,
                     _n("With a confidence of %s no more than %ld of the %ld bolt (%s) is false.\n",
                        "With a confidence of %s no more than %ld of the %ld bolts (%s) are false.\n", bolts),
                     conf, b->most_false, bolts, share);
    tb_text_say(out, "It holds for burns that show a false bolt with a chance of %s (%s).\n",
                tb_percent(share, b->caught.one), b->caught.words);
}

void tb_instead_words(struct tb_text *out, const struct tb_drawn *d)
{
    if (!d->gone)
        return;
    if (*d->instead)
        tb_text_say(
            out,
            "Bolt %s, which was drawn, is void since. The same seed draws bolt %s of lot %s in its place: "
            "cut that one. It is not recorded as drawn: the proof counts it as one that was chosen by "
            "hand.\n",
            d->number, d->instead, d->lot_ref);
    else
        tb_text_say(out, "Bolt %s, which was drawn, is void since, and no bolt is left to take its place.\n",
                    d->number);
}
