/* A bench test of a swatch: recorded, its lot judged again and held where the verdict contradicts. */
#include "base/say.h"
#include "work/act.h"
#include "work/moment.h"
#include "work/verdict.h"

#include <string.h>

static tb_rc find_test(struct tb_channel *channel, const char *test, struct tb_err *err)
{
    int number = test ? tb_channel_by_key(test) : -1;
    struct tb_text names = { 0 };
    tb_rc rc;

    if (number >= 0)
        tb_channel_at(channel, number);
    if (number >= 0 && channel->bench)
        return TB_OK;
    for (size_t i = 0; i < tb_channel_count(); i++) {
        tb_channel_at(channel, (int)i);
        if (channel->bench)
            tb_text_addf(&names, "%s%s", names.n ? ", " : "", channel->key);
    }
    rc = test ? tb_fail(err, TB_EINVAL, "'%s' is not a bench test; bench tests are %s", test, names.s)
              : tb_fail(err, TB_EINVAL, "say which test it was; bench tests are %s", names.s);
    tb_text_free(&names);
    return tb_about(err, rc, "test");
}

/* One result that the test may have; the sentence names those there are. */
static tb_rc not_a_result(const struct tb_channel *channel, const char *result, size_t n, struct tb_err *err)
{
    struct tb_text names = { 0 };
    tb_rc rc;

    for (int i = channel->first; i < channel->first + channel->n; i++) {
        struct tb_cue cue;

        tb_cue_at(&cue, i);
        tb_text_addf(&names, "%s%s", names.n ? ", " : "", cue.name);
    }
    rc = n ? tb_fail(err, TB_EINVAL, "'%.*s' is not a result; results of %s are %s", (int)n, result,
                     channel->key, names.s)
           : tb_fail(err, TB_EINVAL, "say what the test showed; results of %s are %s", channel->key, names.s);
    tb_text_free(&names);
    return rc;
}

/* Under a microscope fibres of several kinds may be seen at once; a drop of solvent does one thing. */
static tb_rc add_result(struct tb_text *names, struct tb_text *meaning, bool seen[TB_CUES_MOST],
                        const struct tb_channel *channel, int number, struct tb_err *err)
{
    struct tb_cue cue;

    tb_cue_at(&cue, number);
    if (seen[number])
        return tb_fail(err, TB_EINVAL, "the result '%s' is given twice", cue.name);
    if (names->n && channel->exclusive)
        return tb_fail(err, TB_EINVAL, "%s shows one result; '%s, %s' are two", channel->key, names->s,
                       cue.name);
    seen[number] = true;
    tb_text_addf(names, "%s%s", names->n ? ", " : "", cue.name);
    tb_text_addf(meaning, "%s%s", meaning->n ? ", " : "", cue.meaning);
    return TB_OK;
}

/* The results as they are recorded, and their meanings. */
static tb_rc find_results(struct tb_job *j, struct tb_try_outcome *out, const struct tb_channel *channel,
                          const char *results)
{
    struct tb_text names = { 0 }, meaning = { 0 };
    bool seen[TB_CUES_MOST] = { false };
    size_t at = 0, before = 0;
    int number;
    tb_rc rc = TB_OK;

    while (rc == TB_OK && tb_result_next(&number, channel->key, results, &at)) {
        before += strspn(results + before, ", ");
        rc = number < 0 ? not_a_result(channel, results + before, at - before, j->err)
                        : add_result(&names, &meaning, seen, channel, number, j->err);
        before = at;
    }
    if (rc == TB_OK && !names.n)
        rc = not_a_result(channel, "", 0, j->err);
    out->test.result = tb_arena_take(j->mem, &names);
    out->meaning = tb_arena_take(j->mem, &meaning);
    return tb_about(j->err, rc, "result");
}

/* A correction begins with the record, as that of a burn does: who made the test, when, and what was written about it. */
static tb_rc begin_with(struct tb_bench_test *test, struct tb_job *j)
{
    struct tb_bench_test old = { 0 };
    tb_rc rc = test->replaces ? tb_bench_test_find(&old, j->b, test->replaces, j->mem, j->err) : TB_OK;

    if (rc != TB_OK || !test->replaces || strcmp(old.swatch, test->swatch) != 0)
        return rc; /* of another swatch: that is refused when it is written */
    test->tested_by = old.tested_by;
    test->tested_at = test->tested_at ? test->tested_at : old.tested_at;
    test->note = test->note ? test->note : old.note;
    return TB_OK;
}

static tb_rc read_request(struct tb_job *j)
{
    const struct tb_try_request *r = j->request;
    struct tb_try_outcome *out = j->out;
    struct tb_swatch *s = &out->swatch;
    struct tb_channel channel = { 0 };
    tb_rc rc;

    if ((rc = find_test(&channel, r->test, j->err)) != TB_OK ||
        (rc = find_results(j, out, &channel, r->result ? r->result : "")) != TB_OK ||
        (rc = tb_swatch_find(s, j->b, r->swatch, j->mem, j->err)) != TB_OK ||
        (rc = tb_moment_check("the moment of the test", r->tested_at, j->err)) != TB_OK)
        return rc;
    if ((rc = tb_bench_handling_check(j->b, s->known, s->lot_ref, TB_HANDLING_FLAMELESS, r->tested_at,
                                      j->err)) != TB_OK)
        return rc;
    if (r->tested_at && strcmp(r->tested_at, s->cut_at) < 0)
        return tb_fail(j->err, TB_EINVAL, "swatch %s was cut at %s; it cannot have been tested at %s", s->tag,
                       s->cut_at, r->tested_at);
    out->test = (struct tb_bench_test){ .swatch = s->id,
                                        .test = channel.key,
                                        .result = out->test.result,
                                        .tested_at = r->tested_at,
                                        .tested_by = j->who,
                                        .note = r->note,
                                        .replaces = r->corrects,
                                        .tag = s->tag,
                                        .bolt_number = s->bolt_number,
                                        .part = s->part };
    return begin_with(&out->test, j);
}

static tb_rc plan(struct tb_job *j)
{
    struct tb_try_outcome *out = j->out;
    struct tb_pending pending = { .test = &out->test };
    tb_rc rc = read_request(j);

    if (rc != TB_OK || !out->swatch.lot)
        return rc;
    pending.who = out->test.tested_by;
    return tb_rejudge_plan(j, out->swatch.lot_ref, &pending, TB_WANT_CUES | TB_WANT_NEXT | TB_WANT_OUTCOMES);
}

static tb_rc write(struct tb_job *j)
{
    struct tb_try_outcome *out = j->out;
    tb_rc rc = tb_bench_test_add(&out->test, j->b, j->mem, j->err);

    j->subject = out->swatch.tag;
    return rc == TB_OK ? tb_rejudge_corrected(j, out->test.replaces) : rc;
}

static const struct tb_said said[] = {
    TB_SAYS(tb_try_request, swatch, N_("the swatch")),
    TB_SAYS(tb_try_request, test, N_("the test")),
    TB_SAYS(tb_try_request, result, N_("the result")),
    TB_SAYS(tb_try_request, note, N_("the note")),
    TB_SAYS(tb_try_request, corrects, N_("the test to correct")),
    TB_SAYS(tb_try_request, tested_at, N_("the moment")),
    TB_SAYS_NO_MORE,
};

tb_rc tb_act_try(struct tb_try_outcome *out, const struct tb_actor *actor,
                 const struct tb_try_request *request, struct tb_arena *mem, struct tb_err *err)
{
    static const struct tb_act act = {
        .verb = TB_VERB_TRY, .plan = plan, .write = write, .size = sizeof(struct tb_try_request), .said = said
    };
    struct tb_job job = { .request = request, .out = out, .mem = mem, .judged = &out->judged };

    *out = (struct tb_try_outcome){ 0 };
    return tb_act_do(&act, &job, actor, err);
}
