/* drill: known swatches dealt blind, answered by burning, and what that says of a tester. */
#include "cli/show.h"

#include <math.h>
#include <string.h>

/* The list of the cards, for whoever cuts the pieces. */
static void deal_words(struct tb_text *out, struct tb_ctx *ctx, const struct tb_drill_outcome *o)
{
    char card[TB_CARD_NAME];

    tb_text_say(
        out, "Drill %lld for %s: cut a piece of each swatch and write only the number of the card on it.\n",
        (long long)o->drill, o->to);
    for (size_t i = 0; i < o->n; i++)
        tb_text_say(out, "card %s  from %s\n", tb_card_words(card, o, i), o->tag[i]);
    tb_text_say(out, "Keep this list from %s until every card is answered.\n", o->to);
    /* what will burn is not to be told: the cautions are those of the worst */
    tb_cautions_words(out, &(struct tb_declaration){ 0 }, "burn");
    if (strcmp(ctx->who, o->to) == 0)
        tb_text_say(out, "You dealt to yourself: such answers are not blind.\n");
}

static tb_rc deal(struct tb_ctx *ctx, struct tb_err *err)
{
    struct tb_drill_request r = { .to = tb_opt(ctx, "to"), .seed = tb_opt(ctx, "seed") };
    struct tb_drill_outcome o;
    struct tb_text t = { 0 };
    tb_rc rc;

    if (!r.to || !*r.to)
        return tb_misuse(err, "say whom the swatches are for with --to NAME");
    r.count = (size_t)tb_opt_whole(ctx, "count", TB_CARDS_DEFAULT, 1, TB_CARDS_MOST);
    if ((rc = ctx->rc) != TB_OK || (rc = tb_act_drill(&o, &ctx->actor, &r, &ctx->mem, err)) != TB_OK)
        return rc;
    deal_words(&t, ctx, &o);
    return tb_print(ctx, tb_json_drill(&o), &t, err);
}

/* The truth is told only after the answer is recorded. */
static tb_rc answer(struct tb_ctx *ctx, struct tb_err *err)
{
    struct tb_observation seen = { 0 };
    struct tb_answer_request r = {
        .card = ctx->argv[1], .named = tb_opt(ctx, "class"), .seen = &seen, .flame = tb_opt(ctx, "flame")
    };
    struct tb_answer_outcome o;
    struct tb_text t = { 0 };
    tb_rc rc;

    if (!r.named)
        return tb_misuse(err, "say what it is with --class, unknown where you cannot tell");
    if ((rc = tb_opt_seen(&seen, ctx)) != TB_OK ||
        (rc = tb_act_answer(&o, &ctx->actor, &r, &ctx->mem, err)) != TB_OK)
        return rc;
    tb_text_say(&t, "Card %s is recorded. It was %s (%s): %s.\n", r.card, o.card.known, o.truth,
                o.right ? _("right") : _("not right"));
    return tb_print(ctx, tb_json_answer(r.card, &o), &t, err);
}

/* More classes than fit the screen are left to the JSON. */
static void say_confusion(FILE *out, const struct tb_drill_scores *d, const struct tb_drill_tester *t)
{
    struct tb_table table;
    char align[64] = "l";

    if (d->classes + 1 >= sizeof align)
        return;
    memset(align + 1, 'r', d->classes);
    align[d->classes + 1] = '\0';
    tb_table_begin(&table, d->classes + 1);
    tb_table_texts(&table, _("IT WAS / NAMED"));
    for (size_t i = 0; i < d->classes; i++)
        tb_table_texts(&table, d->class_key[i]);
    for (size_t i = 0; i < d->classes; i++) {
        tb_table_texts(&table, d->class_key[i]);
        for (size_t k = 0; k < d->classes; k++)
            tb_table_cell(&table, "%.0f", t->confusion[i * d->classes + k]);
    }
    (void)fputc('\n', out);
    tb_table_print(&table, out, align, 24);
}

static void say_cues(FILE *out, const struct tb_drill_tester *t)
{
    const char *const head[] = { _("CUE"), _("LOOKED"), _("REPORTED"), _("OTHERS LOOKED"),
                                 _("OTHERS REPORTED") };
    struct tb_table table;

    if (t->cues == 0)
        return;
    tb_table_head(&table, head, TB_COUNT(head));
    for (size_t i = 0; i < t->cues; i++) {
        tb_table_texts(&table, t->cue[i].cue);
        tb_table_cell(&table, "%ld", t->cue[i].looked);
        tb_table_cell(&table, "%ld", t->cue[i].seen);
        tb_table_cell(&table, "%ld", t->cue[i].others_looked);
        tb_table_cell(&table, "%ld", t->cue[i].others_seen);
    }
    (void)fputc('\n', out);
    tb_table_print(&table, out, "lrrrr", 30);
}

static void say_all(struct tb_ctx *ctx, const struct tb_drill_scores *d)
{
    const char *const head[] = { _("TESTER"), _("ANSWERED"), _("RIGHT"), _("KAPPA"), _("BETWEEN") };
    struct tb_text t = { 0 };
    FILE *out = ctx->out;
    struct tb_table table;

    tb_say(out, _n("%zu card was dealt, %zu answered.\n", "%zu cards were dealt, %zu answered.\n", d->dealt),
           d->dealt, d->answered);
    if (d->testers == 0)
        return;
    tb_table_head(&table, head, TB_COUNT(head));
    for (size_t i = 0; i < d->testers; i++) {
        const struct tb_drill_tester *k = &d->tester[i];

        tb_table_texts(&table, k->name);
        tb_table_cell(&table, "%ld", k->answered);
        tb_table_cell(&table, "%ld", k->right);
        tb_table_cell(&table, isnan(k->kappa.kappa) ? "-" : "%.2f", k->kappa.kappa);
        tb_table_cell(&table, k->kappa.error > 0 ? "%.2f .. %.2f" : "", k->kappa.lo, k->kappa.hi);
    }
    tb_table_print(&table, out, "lrrrl", 30);
    tb_testers_together_words(&t, d);
    tb_print_words(ctx, &t);
}

static tb_rc show(struct tb_ctx *ctx, const char *name, struct tb_err *err)
{
    struct tb_drill_scores d;
    struct tb_text t = { 0 };
    tb_rc rc = tb_drill_scores_read(&d, ctx->book, name, &ctx->mem, err);

    if (rc != TB_OK)
        return rc;
    if (ctx->json)
        return tb_print_json(ctx, name ? tb_json_tester(&d, &d.tester[0]) : tb_json_testers(&d), err);
    if (!name) {
        say_all(ctx, &d);
        return TB_OK;
    }
    tb_tester_words(&t, &d.tester[0]);
    tb_print_words(ctx, &t);
    if (d.tester[0].answered > 0)
        say_confusion(ctx->out, &d, &d.tester[0]);
    say_cues(ctx->out, &d.tester[0]);
    return TB_OK;
}

static tb_rc run(struct tb_ctx *ctx, struct tb_err *err)
{
    const char *what = ctx->argc ? ctx->argv[0] : "show", *stray;
    bool deals = strcmp(what, "deal") == 0, answers = strcmp(what, "answer") == 0;

    if ((stray = deals ? NULL : tb_opt_among(ctx, "to count seed")))
        return tb_misuse(err, "--%s goes with drill deal", stray);
    if ((stray = answers ? NULL : tb_opt_among(ctx, "class saw not looked could-not flame")))
        return tb_misuse(err, "--%s goes with drill answer", stray);

    if (deals && ctx->argc == 1)
        return deal(ctx, err);
    if (answers && ctx->argc == 2)
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
    { "saw", "C,..", "answer: cues seen", true },
    { "not", "C,..", "answer: cues expressly not there", true },
    { "looked", "CH,..", "answer: channels looked at", true },
    { "could-not", "CH,..", "answer: channels that could not be judged", true },
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
