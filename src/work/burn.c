/* A burn of a swatch: recorded, its lot judged again and held where the verdict contradicts. */
#include "work/burn.h"

#include "base/say.h"
#include "tenterbook/attachment.h"
#include "work/act.h"
#include "work/moment.h"
#include "work/verdict.h"

#include <math.h>
#include <string.h>

tb_rc tb_flame_check(struct tb_book *b, struct tb_err *err)
{
    bool yes = false;
    tb_rc rc = tb_bench_flame_permitted(&yes, b, TB_BOOK_NOW, err);

    if (rc != TB_OK || yes)
        return rc;
    return tb_fail(
        err, TB_EREFUSED,
        "flame work is not permitted at this bench; where the local fire code and the employer's rules "
        "allow it: tenterbook set flame yes; without a flame: tenterbook try");
}

/* Every cue said, and the channels looked at or not to be judged, by name: the book outlives the numbers of this program. */
static void as_records(struct tb_burn *burn, const struct tb_observation *o, struct tb_arena *mem)
{
    struct tb_text looked = { 0 }, could_not = { 0 };
    size_t n = tb_cue_count();

    burn->cues = 0;
    burn->cue = tb_arena_alloc(mem, n * sizeof *burn->cue);
    for (size_t i = 0; i < n; i++) {
        struct tb_cue cue;

        if (o->sight[i] == TB_SIGHT_NONE)
            continue;
        tb_cue_at(&cue, (int)i);
        burn->cue[burn->cues++] = (struct tb_cue_seen){ cue.key, o->sight[i] == TB_SIGHT_SEEN };
    }
    for (size_t i = 0; i < tb_channel_count(); i++) {
        struct tb_text *to = o->looked[i] ? &looked : &could_not;
        struct tb_channel channel;

        if (!o->looked[i] && !o->could_not[i])
            continue;
        tb_channel_at(&channel, (int)i);
        tb_text_addf(to, "%s%s", to->n ? " " : "", channel.key);
    }
    burn->could_not = tb_arena_take(mem, &could_not);
    burn->looked = tb_arena_take(mem, &looked);
}

/* What burned says nothing of solvents: those are recorded as bench tests, with their own cautions. */
static tb_rc only_burning(const struct tb_observation *o, struct tb_err *err)
{
    for (size_t i = 0; i < tb_channel_count(); i++) {
        struct tb_channel channel;

        tb_channel_at(&channel, (int)i);
        if ((o->looked[i] || o->could_not[i]) && channel.bench)
            return tb_fail(
                err, TB_EINVAL,
                "'%s' is a bench test, not something seen while burning; record it as one: tenterbook try",
                channel.key);
    }
    return TB_OK;
}

tb_rc tb_burn_observe(struct tb_burn *burn, const struct tb_observation *seen, struct tb_arena *mem,
                      struct tb_err *err)
{
    tb_rc rc = only_burning(seen, err);

    if (rc != TB_OK)
        return rc;
    if (tb_observation_empty(seen))
        return tb_fail(err, TB_EINVAL,
                       "a burn needs at least one thing seen or looked at (saw, not, looked)");
    as_records(burn, seen, mem);
    return TB_OK;
}

#define TO_THE_MINUTE 16 /* "2026-10-05T09:30": moments are mostly typed so, and the clock goes by seconds */

static tb_rc check_moments(const struct tb_burn *r, const struct tb_swatch *s, struct tb_err *err)
{
    char now[TB_MOMENT_LEN + 1];
    tb_rc rc;

    tb_now(now);
    if ((rc = tb_moment_check("the moment of the burn", r->burned_at, err)) != TB_OK ||
        (rc = tb_moment_check("the moment the residue was dead", r->dead_at, err)) != TB_OK)
        return rc;
    if (r->burned_at && r->dead_at && strcmp(r->dead_at, r->burned_at) < 0)
        return tb_fail(err, TB_EINVAL, "the residue cannot be dead (%s) before the burn (%s)", r->dead_at,
                       r->burned_at);
    if (!r->burned_at && r->dead_at && strncmp(r->dead_at, now, TO_THE_MINUTE) < 0)
        return tb_about(
            err,
            tb_fail(err, TB_EINVAL,
                    "the residue cannot be dead (%s) before the burn, which is now (%s) where nobody says "
                    "when it was",
                    r->dead_at, now),
            "at");
    if (r->burned_at && strcmp(r->burned_at, s->cut_at) < 0)
        return tb_fail(err, TB_EINVAL, "swatch %s was cut at %s; it cannot have been burned at %s", s->tag,
                       s->cut_at, r->burned_at);
    return TB_OK;
}

/* What was burned, and what was photographed of it. */
static tb_rc check_things(const struct tb_burn_request *r, struct tb_job *j, struct tb_err *err)
{
    const struct tb_photos photos = { "burn", r->photo, r->photos };

    if (!isnan(r->sample_mm) && !(r->sample_mm >= TB_SAMPLE_MM_LEAST && r->sample_mm <= TB_SAMPLE_MM_MOST))
        return tb_fail(err, TB_EINVAL, "a piece of %g mm was not burned at a bench; it has %d to %d mm",
                       r->sample_mm, TB_SAMPLE_MM_LEAST, TB_SAMPLE_MM_MOST);
    return tb_photos_check(&photos, j, r->corrects); /* those of the record it corrects go with it */
}

/*
 * A correction begins with the record: when it was burned, how, and what was written about it stay where nothing else is said. Who
 * burned it stays in any case: whoever puts a record right did not stand at the flame, and is no second pair of eyes.
 */
static tb_rc begin_with(struct tb_burn *burn, struct tb_job *j)
{
    struct tb_burn old = { 0 };
    tb_rc rc = burn->replaces ? tb_burn_find(&old, j->b, burn->replaces, j->mem, j->err) : TB_OK;

    if (rc != TB_OK || !burn->replaces || strcmp(old.swatch, burn->swatch) != 0)
        return rc; /* of another swatch: that is refused when it is written */
    burn->burned_by = old.burned_by;
    burn->burned_at = burn->burned_at ? burn->burned_at : old.burned_at;
    burn->dead_at = burn->dead_at ? burn->dead_at : old.dead_at;
    burn->flame = burn->flame ? burn->flame : old.flame;
    burn->note = burn->note ? burn->note : old.note;
    burn->at_hand = burn->at_hand ? burn->at_hand : old.at_hand;
    burn->sample_mm = isnan(burn->sample_mm) ? old.sample_mm : burn->sample_mm;
    return TB_OK;
}

static tb_rc read_request(struct tb_job *j)
{
    const struct tb_burn_request *r = j->request;
    struct tb_burn_outcome *out = j->out;
    struct tb_swatch *s = &out->swatch;
    tb_rc rc;

    if ((rc = tb_flame_check(j->b, j->err)) != TB_OK ||
        (rc = tb_swatch_find(s, j->b, r->swatch, j->mem, j->err)) != TB_OK)
        return rc;
    out->burn = (struct tb_burn){ .swatch = s->id,
                                  .burned_at = r->burned_at,
                                  .burned_by = j->who,
                                  .dead_at = r->dead_at,
                                  .flame = r->flame,
                                  .note = r->note,
                                  .at_hand = r->at_hand,
                                  .replaces = r->corrects,
                                  .sample_mm = r->sample_mm,
                                  .tag = s->tag,
                                  .part = s->part,
                                  .bolt_number = s->bolt_number,
                                  .known = s->known,
                                  .lot = s->lot };
    if ((rc = begin_with(&out->burn, j)) != TB_OK || (rc = check_things(r, j, j->err)) != TB_OK ||
        (rc = tb_burn_observe(&out->burn, r->seen, j->mem, j->err)) != TB_OK)
        return rc;
    rc = check_moments(&out->burn, s, j->err);
    return rc == TB_OK ? tb_bench_handling_check(j->b, s->known, s->lot_ref, TB_HANDLING_ANY,
                                                 out->burn.burned_at, j->err)
                       : rc;
}

static bool says(const struct tb_burn *u, const struct tb_cue_seen *cue)
{
    for (size_t i = 0; i < u->cues; i++)
        if (strcmp(u->cue[i].cue, cue->cue) == 0)
            return u->cue[i].seen == cue->seen;
    return false;
}

static bool same_seen(const struct tb_burn *a, const struct tb_burn *b)
{
    bool same =
        a->cues == b->cues && strcmp(a->looked, b->looked) == 0 && strcmp(a->could_not, b->could_not) == 0;

    for (size_t i = 0; i < a->cues && same; i++)
        same = says(b, &a->cue[i]);
    return same;
}

/* A command that is sent twice records a second burn, and two burns say more than one. Of a swatch that was not burned nothing is read. */
static tb_rc find_twin(struct tb_job *j)
{
    struct tb_burn_outcome *out = j->out;
    struct tb_burn last = { 0 };
    tb_rc rc = out->burn.replaces ? TB_ENOTFOUND
                                  : tb_burn_of_swatch(&last, j->b, out->burn.swatch, j->who, j->mem, j->err);

    out->twin = rc == TB_OK && same_seen(&last, &out->burn) ? last.id : NULL;
    return rc == TB_ENOTFOUND ? TB_OK : rc;
}

static tb_rc plan(struct tb_job *j)
{
    struct tb_burn_outcome *out = j->out;
    struct tb_pending pending = { .burn = &out->burn, .burns = 1 };
    tb_rc rc = read_request(j);

    if (rc == TB_OK)
        rc = find_twin(j);
    if (rc != TB_OK || !out->swatch.lot)
        return rc;
    pending.who = out->burn.burned_by;
    return tb_rejudge_plan(j, out->swatch.lot_ref, &pending, TB_WANT_CUES | TB_WANT_NEXT | TB_WANT_OUTCOMES);
}

static tb_rc write(struct tb_job *j)
{
    const struct tb_burn_request *r = j->request;
    struct tb_burn_outcome *out = j->out;
    tb_rc rc = tb_burn_add(&out->burn, j->b, j->mem, j->err);

    j->subject = out->swatch.tag;
    if (rc == TB_OK && out->burn.replaces)
        rc = tb_photos_copy(j, out->burn.replaces, out->burn.id);
    if (rc == TB_OK)
        rc = tb_photos_add(&(struct tb_photos){ "burn", r->photo, r->photos }, j, out->burn.id);
    return rc == TB_OK ? tb_rejudge_corrected(j, out->burn.replaces) : rc;
}

static const struct tb_said said[] = {
    TB_SAYS(tb_burn_request, swatch, N_("the swatch")),
    TB_SAYS(tb_burn_request, flame, N_("the flame")),
    TB_SAYS(tb_burn_request, note, N_("the note")),
    TB_SAYS(tb_burn_request, at_hand, N_("what stood ready")),
    TB_SAYS(tb_burn_request, corrects, N_("the burn to correct")),
    TB_SAYS(tb_burn_request, burned_at, N_("the moment")),
    TB_SAYS(tb_burn_request, dead_at, N_("the moment the residue was dead")),
    TB_SAYS_NO_MORE,
};

tb_rc tb_act_burn(struct tb_burn_outcome *out, const struct tb_actor *actor,
                  const struct tb_burn_request *request, struct tb_arena *mem, struct tb_err *err)
{
    static const struct tb_act act = { .verb = TB_VERB_BURN,
                                       .plan = plan,
                                       .write = write,
                                       .size = sizeof(struct tb_burn_request),
                                       .said = said };
    struct tb_job job = { .request = request, .out = out, .mem = mem, .judged = &out->judged };

    *out = (struct tb_burn_outcome){ 0 };
    return tb_act_do(&act, &job, actor, err);
}
