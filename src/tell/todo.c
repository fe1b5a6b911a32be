/* What is left to do, in words and as JSON. */
#include "tenterbook/todo.h"
#include "base/say.h"
#include "tenterbook/lot_claim.h"
#include "tenterbook/tell.h"

#include <string.h>

static const char *heading(enum tb_todo_kind kind)
{
    switch (kind) {
    case TB_TODO_CLAIM:
        return _("Claims that run");
    case TB_TODO_HELD:
        return _("Held until somebody settles them");
    case TB_TODO_HELD_BOLT:
        return _("Bolts held by themselves");
    case TB_TODO_DECIDE:
        return _("Answered by a laboratory, to be decided");
    case TB_TODO_GROUND:
        return _("Decided, and what that rested on is void since");
    case TB_TODO_SPEAKS:
        return _("Burned or tested, and it speaks against the words; nothing is held by that");
    case TB_TODO_UNDECIDED:
        return _("Burned or tested, and undecided");
    case TB_TODO_WORDS:
        return _("Declared in words that are in doubt");
    case TB_TODO_UNSETTLED:
        return _("Judged, and not settled");
    case TB_TODO_UNBURNT:
        return _("Cut, and neither burned nor tested");
    case TB_TODO_UNCUT:
        return _("Drawn and not cut");
    case TB_TODO_UNDRAWN:
        return _("Waiting, and nothing drawn");
    case TB_TODO_LABORATORY:
        return _("Waiting for a laboratory");
    default:
        return _("Joint samples kept");
    }
}

void tb_ground_gone_words(struct tb_text *out, const struct tb_todo_row *ground)
{
    if (ground->done)
        tb_text_addf(out,
                     _n("%lld bolt of %s is %s, and what that rested on is void in part since %.*s: "
                        "see whether it "
                        "still holds.\n",
                        "%lld bolts of %s are %s, and what that rested on is void in part since %.*s: "
                        "see whether it still holds.\n",
                        ground->done),
                     (long long)ground->done, ground->lot, ground->what, TB_DAY_LEN, ground->since);
    else
        tb_text_say(out,
                    "%s is %s, and what that rested on is void in part since %.*s: see whether it still "
                    "holds.\n",
                    ground->lot, ground->what, TB_DAY_LEN, ground->since);
}

static const char *state_words(const char *key)
{
    for (enum tb_claim_state s = TB_CLAIM_TELL; s < TB_CLAIM_STATES; s++)
        if (strcmp(tb_claim_state_key(s), key) == 0)
            return tb_claim_state_words(s);
    return key;
}

static void claim_words(struct tb_text *out, const struct tb_todo_item *i)
{
    char left[TB_COUNTED];

    if (!*i->due && strcmp(i->what, tb_claim_state_key(TB_CLAIM_TELL)) == 0)
        tb_text_say(out,
                    "  %s of %s: %s; no term that names days is set, so nobody can say whether it is late: "
                    "tenterbook terms\n",
                    i->lot, i->supplier, state_words(i->what));
    else if (!*i->due)
        tb_text_say(out, "  %s of %s: %s; no day is known\n", i->lot, i->supplier, state_words(i->what));
    else if (i->left < 0)
        tb_text_say(out, "  %s of %s: %s; OVERDUE: it was due by %s, %s\n", i->lot, i->supplier,
                    state_words(i->what), i->due, tb_days_words(left, i->left));
    else
        tb_text_say(out, "  %s of %s: %s by %s, %s\n", i->lot, i->supplier, state_words(i->what), i->due,
                    tb_days_words(left, i->left));
}

static void doubtful_words(struct tb_text *out, const struct tb_todo_item *i)
{
    tb_text_say(out,
                "  %s of %s, since %.*s by %s: the words \"%s\" are in doubt; ask the supplier what they "
                "mean\n",
                i->lot, i->supplier, TB_DAY_LEN, i->since, i->who, i->what);
}

/* Nothing was seen against it, something was, or only a laboratory said anything: what becomes of it is for a person to say. */
static void unsettled_words(struct tb_text *out, const struct tb_todo_item *i)
{
    if (*i->what)
        tb_text_say(out,
                    "  %s of %s, since %.*s by %s: %s, %lld of %lld bolts tested; decide with tenterbook "
                    "settle %s\n",
                    i->lot, i->supplier, TB_DAY_LEN, i->since, i->who, i->what, (long long)i->pieces,
                    (long long)i->among, i->lot);
    else
        tb_text_say(
            out, "  %s of %s, since %.*s by %s: a laboratory analysed it; decide with tenterbook settle %s\n",
            i->lot, i->supplier, TB_DAY_LEN, i->since, i->who, i->lot);
}

/* Where nothing may be done at a bench, that comes before everything that could be. */
static void stop_words(struct tb_text *out, const struct tb_todo_item *i)
{
    tb_text_say(out,
                "  Stop, lot %s of %s: do not cut, burn or fray it. Seal it, mark it, and ask a person or a "
                "laboratory licensed for it.\n",
                i->lot, i->supplier);
}

static void flameless_words(struct tb_text *out, const struct tb_todo_item *i)
{
    if (i->handling == TB_HANDLING_FLAMELESS)
        tb_care_words(out, TB_READER, i->handling, "    ");
}

static void undrawn_words(struct tb_text *out, const struct tb_todo_item *i)
{
    if (i->handling == TB_HANDLING_LABORATORY) {
        tb_text_addf(out,
                     _n("    since %.*s by %s: %lld bolt, none drawn\n",
                        "    since %.*s by %s: %lld bolts, none drawn\n", i->among),
                     TB_DAY_LEN, i->since, i->who, (long long)i->among);
        return;
    }
    tb_text_addf(out,
                 i->every ? _n("  %s of %s, since %.*s by %s: %lld bolt; no draw of some promises enough: "
                               "tenterbook draw %s, of every bolt\n",
                               "  %s of %s, since %.*s by %s: %lld bolts; no draw of some promises enough: "
                               "tenterbook draw %s, of every bolt\n",
                               i->among)
                          : _n("  %s of %s, since %.*s by %s: %lld bolt; tenterbook draw %s says which to "
                               "cut\n",
                               "  %s of %s, since %.*s by %s: %lld bolts; tenterbook draw %s says which to "
                               "cut\n",
                               i->among),
                 i->lot, i->supplier, TB_DAY_LEN, i->since, i->who, (long long)i->among, i->lot);
    flameless_words(out, i);
}

/* What a laboratory found stands before what somebody decided earlier. */
static void answered_words(struct tb_text *out, const struct tb_todo_item *i)
{
    struct tb_text markets = { 0 };
    bool released = strcmp(i->what, tb_standing_key(TB_RELEASED)) == 0;

    tb_text_add(&markets, i->disagree ? _("; laboratories disagree") : "");
    tb_markets_words(&markets, i->markets);
    if (i->kind == TB_TODO_HELD)
        tb_text_say(out, "  %s of %s, since %.*s by %s: %s; a laboratory found: %s%s\n", i->lot, i->supplier,
                    TB_DAY_LEN, i->since, i->who, i->what, i->conclusion, tb_text_str(&markets));
    else
        tb_text_say(out,
                    released ? N_("  %s of %s, since %.*s by %s: %s%s, and it is released: decide again\n")
                             : N_("  %s of %s, since %.*s by %s: %s%s\n"),
                    i->lot, i->supplier, TB_DAY_LEN, i->since, i->who, i->conclusion, tb_text_str(&markets));
    tb_text_free(&markets);
}

/* Why it is held, and what is known by now. */
static void held_words(struct tb_text *out, const struct tb_todo_item *i)
{
    tb_text_say(out, "  %s of %s, since %.*s by %s: %s", i->lot, i->supplier, TB_DAY_LEN, i->since, i->who,
                i->what);
    if (i->at_odds)
        tb_text_say(out, "; now %s: %s", _(i->now), tb_tr(TB_READER, "what was seen contradicts itself"));
    else if (*i->now)
        tb_text_say(out, "; now %s", _(i->now));
    tb_text_say(out, "; %lld of %lld bolts tested", (long long)i->pieces, (long long)i->among);
    if (*i->next)
        tb_text_say(out, *i->now ? N_("; next: %s") : N_("; the confirming test: %s"), i->next);
    tb_text_addc(out, '\n');
}

static void lot_words(struct tb_text *out, const struct tb_todo_item *i)
{
    if (i->kind == TB_TODO_DECIDE && strcmp(i->what, tb_standing_key(TB_RELABELLED)) == 0)
        tb_text_say(out,
                    "  %s of %s, since %.*s by %s: what a laboratory found is not as our new label says: "
                    "relabel it again\n",
                    i->lot, i->supplier, TB_DAY_LEN, i->since, i->who);
    else if (*i->conclusion)
        answered_words(out, i);
    else if (i->kind == TB_TODO_HELD)
        held_words(out, i);
    else if (*i->what)
        doubtful_words(out, i);
    else if (*i->next)
        tb_text_say(out, "  %s of %s, since %.*s by %s: %lld of %lld bolts tested; next: %s\n", i->lot,
                    i->supplier, TB_DAY_LEN, i->since, i->who, (long long)i->pieces, (long long)i->among,
                    i->next);
    else /* burns of a file: their verdicts hold no next test, which takes long to find for so many */
        tb_text_say(out,
                    "  %s of %s, since %.*s by %s: %lld of %lld bolts tested; tenterbook judge %s names the "
                    "next test\n",
                    i->lot, i->supplier, TB_DAY_LEN, i->since, i->who, (long long)i->pieces,
                    (long long)i->among, i->lot);
}

static void joint_words(struct tb_text *out, const struct tb_todo_item *i)
{
    if (*i->due)
        tb_text_say(out, "  %s of %s, joint sample %lld of %.*s by %s, until %s: %s\n", i->lot, i->supplier,
                    (long long)i->among, TB_DAY_LEN, i->since, i->who, i->due, i->what);
    else
        tb_text_say(out, "  %s of %s, joint sample %lld of %.*s by %s: %s\n", i->lot, i->supplier,
                    (long long)i->among, TB_DAY_LEN, i->since, i->who, i->what);
}

static void what_words(struct tb_text *out, const struct tb_todo_item *i)
{
    switch (i->kind) {
    case TB_TODO_CLAIM:
        claim_words(out, i);
        break;
    case TB_TODO_HELD:
    case TB_TODO_DECIDE:
    case TB_TODO_SPEAKS:
    case TB_TODO_UNDECIDED:
        lot_words(out, i);
        if (i->released)
            tb_text_say(out, "    It is released in part: %lld of %lld bolts.\n", (long long)i->released,
                        (long long)i->among);
        break;
    case TB_TODO_HELD_BOLT:
        tb_text_say(out, "  bolt %s of lot %s of %s, since %.*s by %s: %s\n", i->bolt, i->lot, i->supplier,
                    TB_DAY_LEN, i->since, i->who, i->what);
        break;
    case TB_TODO_WORDS:
        doubtful_words(out, i);
        break;
    case TB_TODO_UNSETTLED:
        unsettled_words(out, i);
        break;
    case TB_TODO_GROUND:
        if (i->singles)
            tb_text_addf(out,
                         _n("  %s of %s, since %.*s by %s: %lld bolt of it is %s; see whether that still "
                            "holds, and settle it again\n",
                            "  %s of %s, since %.*s by %s: %lld bolts of it are %s; see whether that still "
                            "holds, and settle them again\n",
                            i->singles),
                         i->lot, i->supplier, TB_DAY_LEN, i->since, i->who, (long long)i->singles, i->what);
        else
            tb_text_say(
                out,
                "  %s of %s, since %.*s by %s: it is %s; see whether that still holds, and settle it again\n",
                i->lot, i->supplier, TB_DAY_LEN, i->since, i->who, i->what);
        break;
    case TB_TODO_UNDRAWN:
        undrawn_words(out, i);
        break;
    case TB_TODO_UNBURNT:
        tb_text_say(out, "  %s of %s, since %.*s by %s: %s of bolt %s\n", i->what, i->supplier, TB_DAY_LEN,
                    i->since, i->who, i->part, i->bolt);
        flameless_words(out, i);
        break;
    case TB_TODO_UNCUT:
        tb_text_say(out, "  %s of %s, since %.*s by %s: %lld of %lld bolts drawn are not cut: %s\n", i->lot,
                    i->supplier, TB_DAY_LEN, i->since, i->who, (long long)i->pieces, (long long)i->among,
                    i->what);
        flameless_words(out, i);
        break;
    case TB_TODO_LABORATORY:
        if (!i->among) {
            tb_text_addf(out,
                         _n("  %s of %s, since %.*s by %s: %lld swatch is at %s\n",
                            "  %s of %s, since %.*s by %s: %lld swatches are at %s\n", i->pieces),
                         i->lot, i->supplier, TB_DAY_LEN, i->since, i->who, (long long)i->pieces, i->what);
            break;
        }
        tb_text_say(out, "  %s of %s, since %.*s by %s: joint sample %lld is at %s\n", i->lot, i->supplier,
                    TB_DAY_LEN, i->since, i->who, (long long)i->among,
                    *i->what ? i->what : _("a laboratory that was not named"));
        break;
    default:
        joint_words(out, i);
    }
}

/* A stop comes before what could be done, and a caution beside it. */
static void item_words(struct tb_text *out, const struct tb_todo_item *i)
{
    if (i->handling == TB_HANDLING_LABORATORY)
        stop_words(out, i);
    what_words(out, i);
    if (i->handling != TB_HANDLING_LABORATORY && i->unburnable)
        tb_unburnable_words(out, "    ");
}

void tb_todo_words(struct tb_text *out, const struct tb_todo *t, size_t most)
{
    size_t shown = 0;

    if (!t->n && t->part)
        tb_text_say(out, "Nothing of what was asked for is left to do.\n");
    else if (!t->n)
        tb_text_say(out, "Nothing is left to do.\n");
    for (size_t i = 0; i < t->n; i++) {
        enum tb_todo_kind kind = t->item[i].kind;

        if (i == 0 || t->item[i - 1].kind != kind) {
            tb_text_say(out, "%s (%zu):\n", heading(kind), t->of[kind]);
            shown = 0;
        }
        if (shown++ < most)
            item_words(out, &t->item[i]);
        else if (shown == most + 1)
            tb_text_addf(out, _n("  and %zu more\n", "  and %zu more\n", t->of[kind] - most),
                         t->of[kind] - most);
    }
}

#define ITEM(member, key) TB_JSON_SOME_AS(struct tb_todo_item, member, key)
TB_JSON_MEMBERS(item_members, TB_JSON_WORD_AS(struct tb_todo_item, kind, "kind", &tb_todo_words_of),
                ITEM(lot, "lot"), ITEM(supplier, "supplier"), ITEM(since, "since"), ITEM(who, "by"),
                ITEM(what, "what"), ITEM(bolt, "bolt"), ITEM(part, "part"), ITEM(next, "next"),
                ITEM(due, "due"), ITEM(now, "now"), ITEM(conclusion, "conclusion"), ITEM(markets, "markets"),
                TB_JSON_WORD_AS(struct tb_todo_item, handling, "handling", &tb_handling_keys),
                TB_JSON_AS(struct tb_todo_item, unburnable, "neither_burned_nor_melted"),
                TB_JSON_AS(struct tb_todo_item, every, "every_bolt"),
                TB_JSON_AS(struct tb_todo_item, pieces, "pieces"),
                TB_JSON_AS(struct tb_todo_item, among, "among"),
                TB_JSON_AS(struct tb_todo_item, released, "released_in_part"),
                TB_JSON_AS(struct tb_todo_item, singles, "single_bolts"));

json_t *tb_json_todo(const struct tb_todo *t)
{
    json_t *count = json_object(), *all = json_array();

    for (int k = 0; k < TB_TODO_KINDS; k++)
        tb_json_put(count, tb_word(&tb_todo_words_of, k), json_integer((json_int_t)t->of[k]));
    for (size_t i = 0; i < t->n; i++) {
        json_t *one = tb_json_of(item_members, &t->item[i]);

        tb_json_put(one, "days_left", *t->item[i].due ? json_integer(t->item[i].left) : json_null());
        tb_json_push(all, one);
    }
    return json_pack("{s:s, s:o, s:o}", "today", t->today, "count", count, "items", all);
}
