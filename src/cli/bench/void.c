/* void: what was recorded by mistake counts no more. */
#include "cli/show.h"
#include "tenterbook/todo.h"
#include "terminal/typed.h"

#include <stdlib.h>
#include <string.h>

static bool is_record(const struct tb_void_subject *s)
{
    return strcmp(s->about, "burn") == 0 || strcmp(s->about, "bench_test") == 0 ||
           strcmp(s->about, "analysis") == 0 || strcmp(s->about, "dispute_step") == 0 ||
           strcmp(s->about, "sending") == 0;
}

/* What the lot comes to by what is left. */
void tb_void_lot_words(struct tb_text *t, const struct tb_void_lot *l)
{
    const struct tb_lot *lot = &l->judged.lot;
    char standing[TB_COUNTED];

    if (l->judged.judged)
        tb_rejudged_words(t, &l->judged);
    else if (!l->bare && !*lot->declared)
        tb_text_say(t, "Lot %s, of which nothing is declared: nothing is left to judge it by.\n", lot->ref);
    else if (!l->bare)
        tb_text_say(t, "Lot %s, declared \"%s\": nothing is left to judge it by.\n", lot->ref, lot->declared);
    if (l->paper)
        tb_concluded_words_add(t, TB_READER, &l->concluded);
    if (l->undisputed)
        tb_text_say(t, "The hold is lifted: the dispute that made it was never opened. Lot %s is %s.\n",
                    lot->ref, tb_lot_standing_words(standing, TB_READER, lot));
    if (l->judged.stays)
        tb_text_say(
            t,
            "The lot stays %s: that was decided on %s, when what is void counted, and may rest on it. "
            "Decide again: tenterbook settle %s --as ...\n",
            tb_standing_key(lot->standing), l->judged.stays, lot->ref);
    if (l->paper && l->judged.lifted)
        tb_text_say(t, "The hold is lifted: the result that made it does not count any more. Lot %s is %s.\n",
                    lot->ref, tb_lot_standing_words(standing, TB_READER, lot));
    else
        tb_lifted_words(t, &l->judged);
}

static tb_rc print(struct tb_ctx *ctx, const struct tb_void_outcome *done, struct tb_err *err)
{
    struct tb_text t = { 0 }, with = { 0 };
    const struct tb_void_subject *s = &done->subject;

    tb_hanging_words(&with, &done->hanging);
    if (strcmp(s->about, "burn") == 0 || strcmp(s->about, "bench_test") == 0)
        tb_text_say(&t, "Void: %s, of swatch %s. It stays in the book and counts nowhere.\n", s->id, s->ref);
    else
        tb_text_say(&t, "Void: %s. It stays in the book and counts nowhere.\n",
                    is_record(s) ? s->id : s->ref);
    if (with.n)
        tb_text_say(&t, "With it: %s.\n", with.s);
    if (s->replaces)
        tb_text_say(&t, "It corrected %s, which counts again.\n", s->replaces);
    if (done->lot.judged.lot.ref)
        tb_void_lot_words(&t, &done->lot);
    else if (!s->lot && strcmp(s->about, "delivery") != 0)
        tb_text_say(
            &t, "Verdicts rest on known cloth: tenterbook judge --all weighs all lots by what is left.\n");
    tb_text_free(&with);
    /* a lot is told with what stays of it; bolts that were decided of by themselves are not */
    if (done->lot.ground.lot && done->lot.ground.done)
        tb_ground_gone_words(&t, &done->lot.ground);
    return tb_print(ctx, tb_json_voided(done), &t, err);
}

/* Which record it is: a number of 26 signs tells nobody that it is the wrong one. */
static tb_rc record_words(struct tb_text *t, struct tb_ctx *ctx, const struct tb_void_subject *s,
                          struct tb_err *err)
{
    const struct tb_bench_records none = { 0 };
    struct tb_burn burn;
    struct tb_bench_test test;
    struct tb_bench_records r = { .burn = &burn, .test = &test };
    tb_rc rc = TB_OK;

    if (strcmp(s->about, "burn") == 0) {
        rc = tb_burn_find(&burn, ctx->book, s->id, &ctx->mem, err);
        r.burns = 1;
        burn.replaces = NULL;
    } else if (strcmp(s->about, "bench_test") == 0) {
        rc = tb_bench_test_find(&test, ctx->book, s->id, &ctx->mem, err);
        r.tests = 1;
        test.replaces = NULL;
    }
    if (rc == TB_OK)
        tb_bench_words(t, &r, &none);
    return rc;
}

static tb_rc ask_terminal(struct tb_ctx *ctx, struct tb_void_request *r, bool hangs, struct tb_err *err)
{
    char *line;

    tb_say(ctx->out, hangs ? N_("Void it with all of that? y does, Enter leaves it.\n> ")
                           : N_("Void it? y does, Enter leaves it.\n> "));
    line = tb_typed(ctx->out);
    r->knowing = line && (*line == 'y' || *line == 'Y');
    free(line);
    return r->knowing ? TB_OK : tb_fail(err, TB_EREFUSED, "it was left as it is; nothing was recorded");
}

/*
 * What it is and what hangs on it is named before anything is written; at a terminal it is asked. "last" is asked about there always, and
 * elsewhere has to be meant where this person recorded something else since: it never slides back to an older burn unnoticed.
 */
static tb_rc ask(struct tb_ctx *ctx, struct tb_void_request *r, bool last, struct tb_err *err)
{
    struct tb_void_outcome found;
    struct tb_text with = { 0 }, what = { 0 };
    bool newest = true;
    tb_rc rc = tb_void_look(&found, ctx->book, r, &ctx->mem, err);

    if (rc == TB_OK && last)
        rc = tb_burn_newest(&newest, ctx->book, found.subject.id, ctx->who, err);
    if (rc == TB_OK && (rc = record_words(&what, ctx, &found.subject, err)) == TB_OK)
        tb_hanging_words(&with, &found.hanging);
    if (what.n)
        (void)fputs(what.s, stderr);
    if (with.n)
        tb_say(stderr, "On %s hang: %s. They would not count any more either.\n",
               tb_shown(ctx, found.subject.ref), with.s);
    if (rc == TB_OK && (with.n || last) && !ctx->json && tb_at_terminal())
        rc = ask_terminal(ctx, r, with.n > 0, err);
    else if (rc == TB_OK && !newest)
        rc = tb_fail(
            err, TB_EREFUSED,
            "%s recorded something else after this burn of swatch %s: name the burn by its number, or say "
            "that it is meant (--yes)",
            ctx->who, found.subject.ref);
    tb_text_free(&with);
    tb_text_free(&what);
    return rc;
}

static tb_rc back(struct tb_ctx *ctx, const struct tb_void_request *request, struct tb_err *err)
{
    struct tb_void_outcome done;
    struct tb_text t = { 0 };
    tb_rc rc = tb_act_void_back(&done, &ctx->actor, request, &ctx->mem, err);

    if (rc != TB_OK)
        return rc;
    tb_text_say(&t, "Counts again: %s.\n", is_record(&done.subject) ? done.subject.id : done.subject.ref);
    if (done.held)
        tb_text_say(&t,
                    "Held again, as before: %s. No bolt of it goes into use until somebody settles it "
                    "(tenterbook settle).\n",
                    done.held);
    if (done.lot.judged.lot.ref)
        tb_void_lot_words(&t, &done.lot);
    rc = tb_print(ctx, tb_json_voided(&done), &t, err);
    tb_rejudged_free(&done.lot.judged);
    return rc;
}

static tb_rc run(struct tb_ctx *ctx, struct tb_err *err)
{
    struct tb_void_request request = { .name = ctx->argv[0],
                                       .lot = tb_opt(ctx, "lot"),
                                       .why = tb_opt(ctx, "why"),
                                       .knowing = tb_opt_on(ctx, "yes"),
                                       .again = tb_opt_on(ctx, "again") };
    struct tb_void_outcome done = { 0 };
    bool last = strcmp(request.name, "last") == 0; /* the burn this person recorded last */
    tb_rc rc = TB_OK;

    if (!request.why || !*request.why)
        return tb_misuse(err, "void needs --why with the reason");
    if (request.again && !tb_opt_on(ctx, "back"))
        return tb_misuse(err, "--again goes with --back");
    if (tb_opt_on(ctx, "back"))
        return back(ctx, &request, err);
    if (last)
        rc = tb_burn_named(&request.name, ctx->book, request.name, ctx->who, &ctx->mem, err);
    if (rc == TB_OK && !request.knowing)
        rc = ask(ctx, &request, last, err);
    if (rc == TB_OK && (rc = tb_act_void(&done, &ctx->actor, &request, &ctx->mem, err)) == TB_OK)
        rc = print(ctx, &done, err);
    tb_rejudged_free(&done.lot.judged);
    return rc;
}

static const struct tb_opt opts[] = {
    { "why", "TEXT", "why it was recorded by mistake, in a sentence", false },
    { "lot", "LOT", "the lot of a bolt, where several have one of that number", false },
    { "back", NULL, "it counts again: it was voided by mistake", false },
    { "again", NULL, "with --back: although goods with the same note or file were received since", false },
    { "yes", NULL, "with all that hangs on it: do not ask", false },
    { NULL, NULL, NULL, false },
};

const struct tb_cmd tb_cmd_void = {
    .name = "void",
    .args = "ID --why TEXT [--yes | --back [--again]]",
    .brief = "take back what was recorded by mistake",
    .about =
        "A burn, a bench test or an analysis of a laboratory (by the number that 'look' shows; last: the "
        "burn "
        "you recorded last), a swatch (by its tag), a bolt, a lot or a "
        "delivery that was recorded by mistake. It stays in the book and on the page of its lot, with who "
        "took "
        "it back, when and why, and counts nowhere else: not among the bolts burnt, not in the verdict, the "
        "sheet, the record of the supplier, the term of a claim. The lot is judged again by what is left. A "
        "hold "
        "that a verdict had made by itself is lifted where that verdict does not count any more; what a "
        "person "
        "decided stays.\n\n"
        "What hangs on it is named first and would not count either: the swatches of a bolt, the burns of a "
        "swatch, the hold that a burn made. At a terminal it is asked, else --yes says that it is known; so "
        "it does "
        "for last, where you recorded something else since. Where a burn is void that "
        "corrected another, the other one counts again. What is in a joint sample stays, and so does a lot "
        "or delivery about which a dispute is open; a record of such a lot can be taken back, and the lot "
        "stays held.\n\n"
        "--back takes a void back that was a mistake itself: what was voided counts again, a delivery with "
        "its lots. Where its goods were received anew since, --again says that it is another delivery.",
    .example = "tenterbook void W26-014.02.03 --why \"cut from the wrong bolt\" --yes\n"
               "tenterbook void 00412 --lot W26-014.02 --why \"a total read as a bolt\"",
    .opts = opts,
    .min = 1,
    .max = 1,
    .flags = TB_WRITES,
    .run = run,
};
