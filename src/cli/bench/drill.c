/* drill: known swatches dealt blind, answered by burning, and what that says of a tester. */
#include "cli/bench/drill.h"

#include <string.h>

/* The list of the cards, for whoever cuts the pieces. */
static void say_deal(struct tb_ctx *ctx, const struct tb_drill_outcome *o)
{
    tb_say(ctx->out,
           "Drill %lld for %s: cut a piece of each swatch and write only the number of the card on it.\n",
           (long long)o->drill, o->to);
    for (size_t i = 0; i < o->n; i++)
        tb_say(ctx->out, "card %lld-%02zu  from %s\n", (long long)o->drill, i + 1, o->tag[i]);
    tb_say(ctx->out, "Keep this list from %s until every card is answered.\n", o->to);
    /* what will burn is not to be told: the cautions are those of the worst */
    tb_print_cautions(ctx, &(struct tb_composition){ 0 }, "burn");
    if (strcmp(ctx->who, o->to) == 0)
        tb_say(ctx->out, "You dealt to yourself: such answers are not blind.\n");
}

static json_t *deal_json(const struct tb_drill_outcome *o)
{
    json_t *list = json_array();

    for (size_t i = 0; i < o->n; i++) {
        char name[32];

        (void)snprintf(name, sizeof name, "%lld-%02zu", (long long)o->drill, i + 1);
        tb_json_push(list, json_pack("{s:s, s:s}", "card", name, "swatch", o->tag[i]));
    }
    return json_pack("{s:I, s:o, s:s, s:o}", "drill", (json_int_t)o->drill, "tester", tb_json_text(o->to),
                     "seed", o->seed, "cards", list);
}

static tb_rc deal(struct tb_ctx *ctx, struct tb_err *err)
{
    struct tb_drill_request r = { .to = tb_opt(ctx, "to"), .seed = tb_opt(ctx, "seed") };
    struct tb_drill_outcome o;
    tb_rc rc;

    if (!r.to || !*r.to)
        return tb_misuse(err, "say whom the swatches are for with --to NAME");
    r.count = (size_t)tb_opt_whole(ctx, "count", TB_CARDS_DEFAULT, 1, TB_CARDS_MOST);
    if ((rc = ctx->rc) != TB_OK || (rc = tb_act_drill(&o, &ctx->actor, &r, &ctx->mem, err)) != TB_OK)
        return rc;
    if (ctx->json)
        return tb_print_json(ctx, deal_json(&o), err);
    say_deal(ctx, &o);
    return TB_OK;
}

/* The truth is told only after the answer is recorded. */
static tb_rc answer(struct tb_ctx *ctx, struct tb_err *err)
{
    struct tb_observation seen = { 0 };
    struct tb_answer_request r = {
        .card = ctx->argv[1], .named = tb_opt(ctx, "class"), .seen = &seen, .flame = tb_opt(ctx, "flame")
    };
    struct tb_answer_outcome o;
    tb_rc rc;

    if (!r.named)
        return tb_misuse(err, "say what it is with --class, unknown where you cannot tell");
    if ((rc = tb_opt_seen(&seen, ctx)) != TB_OK ||
        (rc = tb_act_answer(&o, &ctx->actor, &r, &ctx->mem, err)) != TB_OK)
        return rc;
    if (ctx->json)
        return tb_print_json(ctx,
                             json_pack("{s:s, s:s, s:s, s:s, s:b}", "card", r.card, "answer", o.answer,
                                       "known", o.card.known, "burn", o.burn.id, "right", o.right),
                             err);
    tb_say(ctx->out, "Card %s is recorded. It was %s (%s): %s.\n", r.card, o.card.known, o.truth,
           o.right ? _("right") : _("not right"));
    return TB_OK;
}

static tb_rc show(struct tb_ctx *ctx, const char *name, struct tb_err *err)
{
    struct tb_drill_scores d;
    tb_rc rc = tb_drill_scores_read(&d, ctx->book, name, &ctx->mem, err);

    if (rc != TB_OK)
        return rc;
    if (ctx->json)
        return tb_print_json(ctx, name ? tb_json_tester(&d, &d.tester[0]) : tb_json_testers(&d), err);
    if (name)
        drill_say_tester(ctx->out, &d);
    else
        drill_say_all(ctx->out, &d);
    return TB_OK;
}

static tb_rc run(struct tb_ctx *ctx, struct tb_err *err)
{
    const char *what = ctx->argc ? ctx->argv[0] : "show";

    if (strcmp(what, "deal") == 0 && ctx->argc == 1)
        return deal(ctx, err);
    if (strcmp(what, "answer") == 0 && ctx->argc == 2)
        return answer(ctx, err);
    if (strcmp(what, "show") == 0)
        return show(ctx, ctx->argc > 1 ? ctx->argv[1] : NULL, err);
    return tb_misuse(err, "drill takes deal, answer CARD, or show [TESTER]");
}

static const struct tb_opt opts[] = {
    { "to", "NAME", "deal: the tester", false },
    { "count", "N", "deal: how many cards (default 10)", false },
    { "seed", "TEXT", "deal: the order of an earlier drill again", false },
    { "class", "CLASS", "answer: the class of fibres (or a fibre), mixed, or unknown", false },
    { "saw", "C,..", "answer: cues seen", false },
    { "not", "C,..", "answer: cues expressly not there", false },
    { "looked", "CH,..", "answer: channels looked at", false },
    { "flame", "TEXT", "answer: candle, spirit lamp ...", false },
    { NULL, NULL, NULL, false },
};

const struct tb_cmd tb_cmd_drill = {
    .name = "drill",
    .args = "[deal --to NAME | answer CARD --class CLASS --saw C,.. | show [TESTER]]",
    .brief = "known swatches dealt blind, and how testers do",
    .about = "deal draws known cloths in random order for a tester; somebody else cuts the pieces and writes "
             "only the numbers of the cards on them. answer records what was seen as a burn, with the class "
             "of fibres named; the truth is told only then, and an answer is not changed.\n\n"
             "show prints how often each class was named right, agreement beyond chance with its interval, "
             "what each tester reports and others do not, and what to practise. Bolts that two people burned "
             "are compared too.\n\n"
             "Burning has its cautions here as anywhere: a clear fireproof bench, tweezers, water or sand at "
             "hand, fumes drawn off; local fire code and the employer's rules come first.",
    .example =
        "tenterbook drill deal --to \"Wren Dale\" --count 12\n"
        "tenterbook --as-person \"Wren Dale\" drill answer 1-03 --class protein --saw odour:burning_hair\n"
        "tenterbook drill show \"Wren Dale\"",
    .opts = opts,
    .max = 2,
    .flags = TB_BOOK,
    .run = run,
};
