/* What becomes of lots and of single bolts, in words and as JSON. */
#include "base/say.h"
#include "tenterbook/tell.h"

#include <stdio.h>
#include <string.h>

/* One of several ways in which the bolts of a lot stand: the first in full, the others behind it. */
static void add_part(char out[TB_COUNTED], const char *first, const char *other, int64_t n, int64_t bolts)
{
    size_t used = strlen(out);

    if (n && !used)
        (void)snprintf(out, TB_COUNTED, first, (long long)n, (long long)bolts);
    else if (n)
        (void)snprintf(out + used, TB_COUNTED - used, other, (long long)n);
}

const char *tb_lot_standing_words(char out[TB_COUNTED], enum tb_tongue to, const struct tb_lot *lot)
{
    *out = '\0';
    add_part(out, tb_tr(to, "released in part: %lld of %lld bolts"), "", lot->released_in_part, lot->bolts);
    add_part(out, tb_tr(to, "held in part: %lld of %lld bolts"), tb_tr(to, "; held: %lld"), lot->held_in_part,
             lot->bolts);
    add_part(out, tb_tr(to, "returned in part: %lld of %lld bolts"), tb_tr(to, "; returned: %lld"),
             lot->returned_in_part, lot->bolts);
    if (*out && lot->standing == TB_RELABELLED)
        add_part(out, "", tb_tr(to, "; relabelled: %lld"),
                 lot->bolts - lot->released_in_part - lot->held_in_part - lot->returned_in_part, lot->bolts);
    return *out ? out : tb_tr(to, tb_standing_key(lot->standing));
}

/* A laboratory weighs more than what was seen: where it finds the words kept, a burn against them stands against nothing. */
static void laboratory_against(struct tb_text *out, const struct tb_lot *lot, const struct tb_concluded *c)
{
    struct tb_text markets = { 0 };

    tb_markets_words(&markets, c->markets);
    if (c->kind == TB_DOES_NOT)
        tb_text_say(out, "Note: lot %s is released although a laboratory found that it does not conform%s.\n",
                    lot->ref, tb_text_str(&markets));
    else if (c->open == TB_OPEN_DISAGREE)
        tb_text_say(out, "Note: lot %s is released although laboratories disagree about it%s.\n", lot->ref,
                    tb_text_str(&markets));
    else if (c->kind == TB_OPEN)
        tb_text_say(out,
                    "Note: lot %s is released although a laboratory could not say whether it conforms.\n",
                    lot->ref);
    tb_text_free(&markets);
}

static void seen_against(struct tb_text *out, const struct tb_lot *lot, enum tb_grade grade)
{
    if (grade == TB_GRADE_CONTRADICTS)
        tb_text_say(out, "Note: lot %s is released although what was seen contradicts the declaration.\n",
                    lot->ref);
    else if (grade == TB_GRADE_SPEAKS_AGAINST)
        tb_text_say(out, "Note: lot %s is released although what was seen speaks against the declaration.\n",
                    lot->ref);
}

void tb_released_words(struct tb_text *out, const struct tb_lot *lot, const struct tb_concluded *c,
                       enum tb_handling handling)
{
    tb_care_words(out, TB_READER, handling, "");
    if (c->by == TB_BY_LABORATORY)
        laboratory_against(out, lot, c);
    else
        seen_against(out, lot, c->told.grade);
    if (!lot->clear)
        tb_text_say(out, "Note: lot %s is released although the words \"%s\" are in doubt.\n", lot->ref,
                    lot->declared);
    if (!lot->bolts_tested && c->by != TB_BY_LABORATORY && lot->standing != TB_RELEASED)
        tb_text_addf(
            out,
            _n("Note: of lot %s something is released, and its %lld bolt is neither burnt nor tested.\n",
               "Note: of lot %s something is released, and none of its %lld bolts is burnt or tested.\n",
               lot->bolts),
            lot->ref, (long long)lot->bolts);
    else if (!lot->bolts_tested && c->by != TB_BY_LABORATORY)
        tb_text_addf(out,
                     _n("Note: lot %s is released and its %lld bolt is neither burnt nor tested.\n",
                        "Note: lot %s is released and none of its %lld bolts is burnt or tested.\n",
                        lot->bolts),
                     lot->ref, (long long)lot->bolts);
}

/* Whoever lets goods go should know what stands against it. */
static void notes(struct tb_text *out, const struct tb_lot *lot, enum tb_standing_kind as,
                  const struct tb_concluded *concluded, enum tb_handling handling, const char *dispute_opened)
{
    if (as == TB_RELEASED)
        tb_released_words(out, lot, concluded, handling);
    if (dispute_opened && as != TB_HELD)
        tb_text_say(out, "Note: the dispute about lot %s, opened on %s, is still open.\n", lot->ref,
                    dispute_opened);
}

void tb_ended_words(struct tb_text *out, const struct tb_lot *lot, const struct tb_bolt_standing *ended,
                    size_t n)
{
    struct tb_text bolts = { 0 };

    for (size_t i = 0; i < n; i++)
        tb_text_addf(&bolts, "%s%s (%s)", i ? ", " : "", ended[i].number, tb_standing_key(ended[i].standing));
    if (n)
        tb_text_say(
            out,
            "Note: this is of all bolts of lot %s, and ends what was decided of single ones: %s. What "
            "still is so of a bolt is settled again for that bolt.\n",
            lot->ref, bolts.s);
    tb_text_free(&bolts);
    if (lot->returned_in_part && lot->standing != TB_RETURNED)
        tb_text_addf(out,
                     _n("Note: %lld bolt of lot %s was returned, and stays so.\n",
                        "Note: %lld bolts of lot %s were returned, and stay so.\n", lot->returned_in_part),
                     (long long)lot->returned_in_part, lot->ref);
}

/* What was cut off here does not go back, and nobody credits it. Said once of each bolt. */
static void cut_before(struct tb_text *out, const struct tb_bolt_use *cut, size_t n, size_t first, bool alone)
{
    for (size_t i = 0; i < first; i++)
        if (strcmp(cut[i].bolt, cut[first].bolt) == 0)
            return;
    if (tb_bolt_used_whole(cut, n, cut[first].bolt))
        tb_text_say(
            out,
            alone ? N_("Note: bolt %s was cut into here before, and nobody said how many metres: what is "
                       "to be credited of it is not known. Take that back, and record it with its metres "
                       "(tenterbook use).\n")
                  : N_("Note: bolt %s was used here before, the whole of it: it does not count as sent "
                       "back. If some of it is left, take that back, and record it with its metres "
                       "(tenterbook use).\n"),
            cut[first].bolt_number);
    else
        tb_text_say(out,
                    "Note: of bolt %s, %.2f m were cut off here before: the rest went back, and only that is "
                    "to be credited.\n",
                    cut[first].bolt_number, tb_bolt_cut_off(cut, n, cut[first].bolt));
}

void tb_cut_before_words(struct tb_text *out, const struct tb_bolt_use *cut, size_t n, bool alone)
{
    for (size_t i = 0; i < n; i++)
        cut_before(out, cut, n, i, alone);
}

void tb_settled_lots_words(struct tb_text *out, const struct tb_settle_lots_outcome *done)
{
    for (size_t i = 0; i < done->n; i++) {
        tb_text_say(out, "Lot %s is %s: %s.\n", done->lot[i].lot.ref, tb_standing_key(done->as), done->why);
        tb_ended_words(out, &done->lot[i].lot, done->lot[i].ended, done->lot[i].endeds);
        tb_cut_before_words(out, done->lot[i].cut, done->lot[i].cuts, false);
        notes(out, &done->lot[i].lot, done->as, &done->lot[i].concluded, done->lot[i].handling,
              done->lot[i].dispute_opened);
    }
}

json_t *tb_json_settled_lots(const struct tb_settle_lots_outcome *done)
{
    json_t *all = json_array();

    for (size_t i = 0; i < done->n; i++) {
        json_t *lot = tb_json_lot(&done->lot[i].lot);

        tb_json_put(lot, "ended", tb_json_single_bolts(done->lot[i].ended, done->lot[i].endeds));
        tb_json_push(all, lot);
    }
    return json_pack("{s:s, s:s, s:o}", "standing", tb_standing_key(done->as), "why", done->why, "lots", all);
}

void tb_settled_bolts_words(struct tb_text *out, const struct tb_settle_bolts_outcome *done)
{
    char standing[TB_COUNTED];

    for (size_t i = 0; i < done->bolts; i++)
        tb_text_say(out, "Bolt %s of lot %s is %s: %s.\n", done->bolt[i], done->lot.ref,
                    tb_standing_key(done->as), done->why);
    if (done->whole)
        tb_text_say(out, "With that all bolts are: lot %s is %s.\n", done->lot.ref,
                    tb_standing_key(done->lot.standing));
    else if (done->lot.standing != TB_WAITING)
        /* how many of the others there are is told with them */
        tb_text_say(out, "Lot %s is %s.\n", done->lot.ref,
                    tb_lot_standing_words(standing, TB_READER, &done->lot));
    else
        tb_text_say(out, "Lot %s is %s; the others are %s.\n", done->lot.ref,
                    tb_lot_standing_words(standing, TB_READER, &done->lot),
                    tb_standing_key(done->lot.standing));
    tb_cut_before_words(out, done->cut, done->cuts, !done->whole);
    notes(out, &done->lot, done->as, &done->concluded, done->handling, done->dispute_opened);
}

json_t *tb_json_settled_bolts(const struct tb_settle_bolts_outcome *done)
{
    json_t *j = tb_json_lot(&done->lot), *bolts = json_array();

    for (size_t i = 0; i < done->bolts; i++)
        tb_json_push(bolts, tb_json_text(done->bolt[i]));
    tb_json_put(j, "bolts_settled", bolts);
    tb_json_put(j, "bolts_are", tb_json_text(tb_standing_key(done->as)));
    return j;
}

/* What was decided of the whole lot since, or of the bolt again, is in force in its place. */
void tb_single_bolts_words(struct tb_text *out, const struct tb_bolt_standing *s, size_t n)
{
    for (size_t i = 0; i < n; i++)
        tb_text_say(out,
                    s[i].counts ? N_("Bolt %s, %s: %s by %s: %s\n")
                                : N_("Bolt %s, %s: %s by %s: %s (not in force any more)\n"),
                    s[i].number, s[i].settled_at, tb_standing_key(s[i].standing), s[i].settled_by, s[i].why);
}

#define SINGLE(member, key) TB_JSON_AS(struct tb_bolt_standing, member, key)
TB_JSON_MEMBERS(single_members, SINGLE(number, "bolt"),
                TB_JSON_WORD_AS(struct tb_bolt_standing, standing, "standing", &tb_standing_words),
                SINGLE(why, "why"), SINGLE(settled_at, "at"), SINGLE(settled_by, "by"),
                SINGLE(counts, "in_force"));

json_t *tb_json_single_bolts(const struct tb_bolt_standing *s, size_t n)
{
    return tb_json_all(single_members, s, n);
}
