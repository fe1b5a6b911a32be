/* same_words.c - two spellings of a supplier that are one now, or two again: what is in force, and whose days are others. */
#include "base/say.h"
#include "tenterbook/tell.h"

#define MOVED_SHOWN 10 /* lots; the rest is counted */

/* --- in words ----------------------------------------------------------------------------------------------------- */

/* What was set for the other name is out of force, and a person may want it: it is told in full. */
static void other_words(struct tb_text *out, const struct tb_same_outcome *done)
{
    const struct tb_set_for *was = &done->other_set;

    if (was->terms.id) {
        tb_text_say(out, "Not in force any more, since they were set for %s - terms of ",
                    done->supplier.name);
        tb_terms_set_words(out, &was->terms);
    }
    if (was->address.id) {
        tb_text_say(out, "Not in force any more, since it was set for %s - the address of ",
                    done->supplier.name);
        tb_address_words(out, &was->address, NULL);
    }
    if (was->terms.id || was->address.id)
        tb_text_say(out,
                    "What of that is to count is set for %s: tenterbook terms, tenterbook address. If the "
                    "two are parted again, it is in force again.\n",
                    done->same_as.name);
}

static void set_words(struct tb_text *out, const struct tb_same_outcome *done)
{
    const struct tb_set_for *set = &done->set;

    if (set->terms.id) {
        tb_text_say(out, "In force: terms of ");
        tb_terms_set_words(out, &set->terms);
    } else if (done->other_set.terms.id || done->moveds)
        tb_text_say(out, "No terms are set for %s by itself.\n", done->same_as.name);
    if (!set->address.id && done->other_set.address.id)
        tb_text_say(out, "No address is set for %s.\n", done->same_as.name);
    other_words(out, done);
}

static const char *day_or_none(const char *day)
{
    return *day ? day : _("no day");
}

static void moved_words(struct tb_text *out, const struct tb_same_outcome *done)
{
    if (done->moveds)
        tb_text_say(out,
                    _n("%zu lot goes by other days to tell the supplier now (shown by an examination; "
                       "hidden):\n",
                       "%zu lots go by other days to tell the supplier now (shown by an examination; "
                       "hidden):\n",
                       done->moveds),
                    done->moveds);
    for (size_t i = 0; i < done->moveds && i < MOVED_SHOWN; i++) {
        const struct tb_clock_moved *m = &done->moved[i];

        tb_text_say(out, "  %s: by %s; by %s - it was %s; %s\n", m->lot, day_or_none(m->arrival),
                    day_or_none(m->hidden), day_or_none(m->arrival_was), day_or_none(m->hidden_was));
    }
    if (done->moveds > MOVED_SHOWN)
        tb_text_say(out, "  and %zu more; tenterbook look shows the days of each\n",
                    done->moveds - MOVED_SHOWN);
}

void tb_same_words(struct tb_text *out, const struct tb_same_outcome *done, bool apart)
{
    if (apart)
        tb_text_say(out, "%s is a supplier on its own again.\n", done->supplier.name);
    else
        tb_text_say(out, "%s is the same as %s: deliveries, record and terms are those of %s now.\n",
                    done->supplier.name, done->same_as.name, done->same_as.name);
    set_words(out, done);
    moved_words(out, done);
}

/* --- as JSON ------------------------------------------------------------------------------------------------------ */

#define MOVED(member) TB_JSON_AS(struct tb_clock_moved, member, #member)
TB_JSON_MEMBERS(moved_members, MOVED(lot), MOVED(arrival_was), MOVED(hidden_was), MOVED(arrival),
                MOVED(hidden));

static json_t *set_json(const struct tb_set_for *set)
{
    json_t *j = json_object();

    tb_json_put(j, "terms", set->terms.id ? tb_json_terms_set(&set->terms) : json_null());
    tb_json_put(j, "address", set->address.id ? tb_json_address(&set->address) : json_null());
    return j;
}

json_t *tb_json_same(const struct tb_same_outcome *done)
{
    json_t *j = json_object();

    tb_json_put(j, "supplier", tb_json_text(done->supplier.name));
    tb_json_put(j, "same_as", tb_json_text(done->same_as.name));
    tb_json_put(j, "names", json_integer((json_int_t)done->names));
    tb_json_put(j, "in_force", set_json(&done->set));
    tb_json_put(j, "not_in_force", set_json(&done->other_set));
    tb_json_put(j, "days_to_tell_moved", tb_json_all(moved_members, done->moved, done->moveds));
    return j;
}
