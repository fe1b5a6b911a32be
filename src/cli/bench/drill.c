/* drill: known swatches dealt blind, answered by burning, and what that says of a tester. */
#include "cli/bench/drill.h"
#include "cli/sampling/draw.h"
#include "cli/show.h"
#include "tenterbook/act_bench.h"
#include "work/burn.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* --- deal --- */

/* `count` swatches in random order, each as often as any other within one; drawn place by place from the seed. */
static tb_rc shuffle(const struct tb_swatch **out, size_t count, const struct tb_swatch *known, size_t n,
                     const char *seed, struct tb_err *err)
{
    const struct tb_swatch **left = tb_array(const struct tb_swatch *, n + 1);
    size_t have = 0;
    tb_rc rc = TB_OK;

    for (size_t i = 0; i < count && rc == TB_OK; i++) {
        char label[32];
        long at = 1;

        if (have == 0)
            for (; have < n; have++)
                left[have] = &known[have];
        (void)snprintf(label, sizeof label, "card %zu", i + 1);
        if ((rc = tb_pick(&at, (long)have, 1, seed, label, err)) != TB_OK)
            break;
        out[i] = left[at - 1];
        left[at - 1] = left[--have];
    }
    free(left);
    return rc;
}

static tb_rc record_deal(int64_t *drill, struct tb_ctx *ctx, const char *to, const char *seed,
                         const struct tb_swatch **card, size_t count, struct tb_err *err)
{
    const char **id = (const char **)tb_alloc(count + 1, sizeof *id);
    char subject[32];
    tb_rc rc = tb_ctx_begin(ctx, "drill", err);

    for (size_t i = 0; i < count; i++)
        id[i] = card[i]->id;
    if (rc == TB_OK && (rc = tb_drill_add(drill, ctx->book, to, seed, id, count, err)) != TB_OK)
        tb_book_rollback(ctx->book);
    if (rc == TB_OK) {
        (void)snprintf(subject, sizeof subject, "drill %lld", (long long)*drill);
        tb_book_subject(ctx->book, subject);
        rc = tb_book_commit(ctx->book, err);
    }
    free(id);
    return rc;
}

static tb_rc print_deal(struct tb_ctx *ctx, int64_t drill, const char *to, const char *seed,
                        const struct tb_swatch **card, size_t count, struct tb_err *err)
{
    json_t *list = json_array();

    if (ctx->json) {
        for (size_t i = 0; i < count; i++) {
            char name[32];

            (void)snprintf(name, sizeof name, "%lld-%02zu", (long long)drill, i + 1);
            (void)json_array_append_new(list, json_pack("{s:s, s:s}", "card", name, "swatch", card[i]->tag));
        }
        return tb_print_json(ctx,
                             json_pack("{s:I, s:o, s:s, s:o}", "drill", (json_int_t)drill, "tester",
                                       tb_json_text(to), "seed", seed, "cards", list),
                             err);
    }
    json_decref(list);
    (void)fprintf(ctx->out,
                  _("Drill %lld for %s: cut a piece of each swatch and write only the number of the card on "
                    "it.\n"),
                  (long long)drill, to);
    for (size_t i = 0; i < count; i++)
        (void)fprintf(ctx->out, _("card %lld-%02zu  from %s\n"), (long long)drill, i + 1, card[i]->tag);
    (void)fprintf(ctx->out, _("Keep this list from %s until every card is answered.\n"), to);
    /* what will burn is not to be told: the cautions are those of the worst */
    tb_print_cautions(ctx, &(struct tb_composition){ 0 }, "burn");
    if (strcmp(ctx->who, to) == 0)
        (void)fputs(_("You dealt to yourself: such answers are not blind.\n"), ctx->out);
    return TB_OK;
}

static tb_rc deal(struct tb_ctx *ctx, struct tb_err *err)
{
    const char *to = tb_opt(ctx, "to"), *given = tb_opt(ctx, "seed");
    struct tb_arena mem = { 0 };
    struct tb_swatch *known = NULL;
    const struct tb_swatch **card = NULL;
    size_t n = 0;
    long count = 10;
    int64_t drill = 0;
    char seed[17];
    tb_rc rc = TB_OK;

    if (!to || !*to)
        return tb_misuse(err, "say whom the swatches are for with --to NAME");
    draw_seed_make(seed);
    if ((rc = tb_opt_whole(&count, ctx, "count", 1, 200, err)) == TB_OK &&
        (rc = tb_ctx_book(ctx, err)) == TB_OK)
        rc = tb_swatch_list(&known, &n, ctx->book, NULL, &mem, err);
    if (rc == TB_OK && n == 0)
        rc = tb_fail(
            err, TB_EINVAL,
            "there are no known cloths to deal from; register some with tenterbook cut --known COMPOSITION");
    card = tb_array(const struct tb_swatch *, (size_t)count + 1);
    if (rc == TB_OK)
        rc = shuffle(card, (size_t)count, known, n, given ? given : seed, err);
    if (rc == TB_OK)
        rc = record_deal(&drill, ctx, to, given ? given : seed, card, (size_t)count, err);
    if (rc == TB_OK)
        rc = print_deal(ctx, drill, to, given ? given : seed, card, (size_t)count, err);
    free(card);
    tb_arena_free(&mem);
    return rc;
}

/* --- answer --- */

static tb_rc find_card(struct tb_card *out, struct tb_ctx *ctx, const char *name, struct tb_arena *mem,
                       struct tb_err *err)
{
    long long drill, serial;
    int used = 0;
    tb_rc rc;

    /* plain digits: sscanf takes signs and blanks too, and a card would go by several names */
    if (name[strspn(name, "0123456789-")] || name[0] == '-' || strstr(name, "--") || strlen(name) > 20 ||
        sscanf(name, "%lld-%lld%n", &drill, &serial, &used) != 2 || name[used])
        return tb_fail(err, TB_EINVAL, "'%s' is no card; cards are called like 3-07", name);
    if ((rc = tb_ctx_book(ctx, err)) != TB_OK ||
        (rc = tb_card_find(out, ctx->book, drill, serial, mem, err)) != TB_OK)
        return rc;
    if (strcmp(out->tester, ctx->who) != 0)
        return tb_fail(err, TB_EREFUSED, "card %s was dealt to %s; only they answer it (--as-person NAME)",
                       name, out->tester);
    return TB_OK;
}

static tb_rc record_answer(struct tb_ctx *ctx, const struct tb_card *card, const char *answer,
                           struct tb_burn *burn, struct tb_arena *mem, struct tb_err *err)
{
    tb_rc rc = tb_ctx_begin(ctx, "drill", err);

    if (rc != TB_OK)
        return rc;
    tb_book_subject(ctx->book, ctx->argv[1]);
    if ((rc = tb_burn_add(burn, ctx->book, mem, err)) == TB_OK &&
        (rc = tb_card_answer(ctx->book, card, answer, burn->id, err)) == TB_OK)
        return tb_book_commit(ctx->book, err);
    tb_book_rollback(ctx->book);
    return rc;
}

static tb_rc answer_it(struct tb_ctx *ctx, struct tb_arena *mem, struct tb_err *err)
{
    const char *named = tb_opt(ctx, "class"), *key = named ? drill_answer_key(named) : NULL;
    struct tb_card card = { 0 };
    struct tb_observation seen = { 0 };
    struct tb_burn burn = { .flame = tb_opt(ctx, "flame"), .note = "", .sample_mm = (double)NAN };
    tb_rc rc;

    if (!named)
        return tb_misuse(err, "say what it is with --class, unknown where you cannot tell");
    if (!key)
        return tb_fail(
            err, TB_EINVAL,
            "'%s' is no class of fibres; say cellulose, protein, ... or a fibre, mixed, or unknown", named);
    if ((rc = tb_observation_read(&seen, tb_opt(ctx, "saw"), tb_opt(ctx, "not"), tb_opt(ctx, "looked"),
                                  err)) != TB_OK ||
        (rc = tb_burn_observe(&burn, &seen, mem, err)) != TB_OK ||
        (rc = find_card(&card, ctx, ctx->argv[1], mem, err)) != TB_OK ||
        (rc = tb_flame_check(ctx->book, err)) != TB_OK)
        return rc;
    burn.swatch = card.swatch;
    if ((rc = record_answer(ctx, &card, key, &burn, mem, err)) != TB_OK)
        return rc;
    if (ctx->json)
        return tb_print_json(ctx,
                             json_pack("{s:s, s:s, s:s, s:s, s:b}", "card", ctx->argv[1], "answer", key,
                                       "known", card.known, "burn", burn.id, "right",
                                       strcmp(key, drill_class_of(card.known)) == 0),
                             err);
    (void)fprintf(ctx->out, _("Card %s is recorded. It was %s (%s): %s.\n"), ctx->argv[1], card.known,
                  drill_class_of(card.known),
                  strcmp(key, drill_class_of(card.known)) == 0 ? _("right") : _("not right"));
    return TB_OK;
}

static tb_rc answer(struct tb_ctx *ctx, struct tb_err *err)
{
    struct tb_arena mem = { 0 };
    tb_rc rc = answer_it(ctx, &mem, err);

    tb_arena_free(&mem);
    return rc;
}

static tb_rc run(struct tb_ctx *ctx, struct tb_err *err)
{
    const char *what = ctx->argc ? ctx->argv[0] : "show";

    if (strcmp(what, "deal") == 0 && ctx->argc == 1)
        return deal(ctx, err);
    if (strcmp(what, "answer") == 0 && ctx->argc == 2)
        return answer(ctx, err);
    if (strcmp(what, "show") == 0)
        return drill_show(ctx, ctx->argc > 1 ? ctx->argv[1] : NULL, err);
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
             "only the "
             "numbers of the cards on them. answer records what was seen as a burn, with the class of fibres "
             "named; the "
             "truth is told only then, and an answer is not changed.\n\n"
             "show prints how often each class was named right, agreement beyond chance with its interval, "
             "what each "
             "tester reports and others do not, and what to practise. Bolts that two people burned are "
             "compared too.\n\n"
             "Burning has its cautions here as anywhere: a clear fireproof bench, tweezers, water or sand at "
             "hand, fumes "
             "drawn off; local fire code and the employer's rules come first.",
    .example =
        "tenterbook drill deal --to \"Wren Dale\" --count 12\n"
        "tenterbook --as-person \"Wren Dale\" drill answer 1-03 --class protein --saw odour:burning_hair\n"
        "tenterbook drill show \"Wren Dale\"",
    .opts = opts,
    .max = 2,
    .flags = TB_BOOK,
    .run = run,
};
