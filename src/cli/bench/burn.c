/* burn: what a burning swatch did, one at a time, asked for at a terminal, or from a file. */
#include "cli/bench/burn_ask.h"
#include "cli/bench/burn_rest.h"
#include "tenterbook/act_bench.h"
#include "tenterbook/attachment.h"
#include "tenterbook/typed.h"
#include "terminal/typed.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* An observation as --saw, --not, --looked and --could-not give it, or a burn that it was like. */
#define SEEN "saw not looked could-not like"

static tb_rc print(struct tb_ctx *ctx, const struct tb_burn_outcome *done, struct tb_err *err)
{
    const struct tb_swatch *s = &done->swatch;
    struct tb_text t = { 0 };

    tb_text_say(&t,
                *s->bolt_number ? N_("Recorded burn %s of swatch %s (%s of bolt %s).\n")
                                : N_("Recorded burn %s of swatch %s (%s).\n"),
                done->burn.id, s->tag, tb_part_key(s->part), s->bolt_number);
    if (tb_opt_on(ctx, "like"))
        tb_text_say(&t, "It says the same as burn %s, and counts as a burn of its own.\n",
                    tb_opt(ctx, "like"));
    else if (done->twin)
        tb_text_say(&t,
                    "It says the very same as the last burn of this swatch that you recorded, %s. If that is "
                    "one burn recorded twice: tenterbook void last --why TEXT\n",
                    done->twin);
    if (*done->burn.could_not)
        tb_text_say(&t,
                    "Could not be judged: %s. It counts as not looked at; somebody else can judge it in a "
                    "second burn.\n",
                    done->burn.could_not);
    if (s->lot) {
        tb_early_words(&t, done->burn.burned_at, &done->judged.lot);
        tb_rejudged_words(&t, &done->judged);
        tb_corrected_words(&t, &done->judged);
    } else
        tb_text_say(&t, "Known cloth (%s): it teaches the site's reference from the next verdict on.\n",
                    s->known);
    return tb_print(ctx, tb_json_burned(done), &t, err);
}

/* The book tells later that it was copied, and from where. */
static const char *note_of(struct tb_ctx *ctx)
{
    const char *note = tb_opt(ctx, "note"), *like = tb_opt(ctx, "like");

    if (!like)
        return note;
    return note ? tb_arena_printf(&ctx->mem, "the same as burn %s; %s", like, note)
                : tb_arena_printf(&ctx->mem, "the same as burn %s", like);
}

static tb_rc read_seen(struct tb_observation *seen, struct tb_ctx *ctx, const char *swatch,
                       struct tb_err *err)
{
    const char *like = tb_opt(ctx, "like");
    tb_rc rc;

    if (like)
        return tb_burn_like(seen, ctx->book, like, &ctx->mem, err);
    if (!tb_opt_among(ctx, SEEN) && !tb_opt_among(ctx, "rest") && !ctx->json && tb_at_terminal())
        return tb_burn_ask(seen, ctx, swatch, tb_opt_on(ctx, "afresh") ? NULL : tb_opt(ctx, "corrects"), err);
    rc = tb_opt_seen(seen, ctx);
    return rc == TB_OK && tb_opt_on(ctx, "corrects") ? tb_burn_rest(seen, ctx, err) : rc;
}

static tb_rc read_request(struct tb_burn_request *r, struct tb_observation *seen, struct tb_ctx *ctx,
                          const char *swatch)
{
    *r = (struct tb_burn_request){ .swatch = swatch,
                                   .seen = seen,
                                   .flame = tb_opt(ctx, "flame"),
                                   .note = note_of(ctx),
                                   .at_hand = tb_opt(ctx, "at-hand"),
                                   .corrects = tb_opt(ctx, "corrects"),
                                   .sample_mm = tb_opt_number(ctx, "sample-mm", (double)NAN,
                                                              TB_SAMPLE_MM_LEAST, TB_SAMPLE_MM_MOST) };
    r->burned_at = tb_opt_moment(ctx, "at");
    r->dead_at = tb_opt_moment(ctx, "dead-at");
    return ctx->rc == TB_OK ? read_seen(seen, ctx, swatch, ctx->err) : ctx->rc;
}

static tb_rc burn_it(struct tb_ctx *ctx, const char *swatch, struct tb_arena *mem, struct tb_err *err)
{
    struct tb_observation seen = { 0 };
    struct tb_burn_request request;
    struct tb_burn_outcome done = { 0 };
    tb_rc rc;

    if ((rc = read_request(&request, &seen, ctx, swatch)) != TB_OK ||
        (rc = tb_opt_photos(&request.photo, &request.photos, ctx, err)) != TB_OK)
        return rc;
    if ((rc = tb_act_burn(&done, &ctx->actor, &request, mem, err)) == TB_OK)
        rc = print(ctx, &done, err);
    tb_rejudged_free(&done.judged);
    return rc;
}

/* Tags from a scanner, each with Enter behind it. What is wrong with one does not end the others. */
static tb_rc burn_scanned(struct tb_ctx *ctx, struct tb_err *err)
{
    size_t left = 0, n = 0;

    for (;;) {
        char *tag;

        tb_say(ctx->out, "Swatch (scan its tag; Enter alone ends):\n");
        tag = tb_typed(ctx->out);
        if (!tag || !*tag) {
            free(tag);
            break;
        }
        n++;
        if (burn_it(ctx, tb_scanned(tb_arena_strdup(&ctx->mem, tag), &ctx->mem), &ctx->mem, err) != TB_OK &&
            ++left)
            tb_print_failure(ctx, err);
        ctx->rc = TB_OK;
        free(tag);
    }
    return left ? tb_fail(err, TB_EINVAL, "%zu of %zu swatches were not recorded", left, n) : TB_OK;
}

/* --- the burn that was just recorded, and photographs that come later --------------------------------------------- */

static tb_rc show_last(struct tb_ctx *ctx, const struct tb_burn *u, struct tb_err *err)
{
    struct tb_bench_records now = { .burn = (struct tb_burn *)u, .burns = 1 };
    const struct tb_bench_records none = { 0 };
    struct tb_text t = { 0 };
    json_t *j;
    tb_rc rc = tb_attachment_list(&now.photo, &now.photos, ctx->book, u->id, &ctx->mem, err);

    if (rc != TB_OK)
        return rc;
    j = json_object();
    tb_json_put_bench(j, &now, &none);
    tb_bench_words(&t, &now, &none);
    tb_text_say(&t,
                "Put it right: tenterbook burn %s --corrects %s\n"
                "Another swatch did the same: tenterbook burn SWATCH --like %s\n"
                "It was another swatch: tenterbook move %s --to SWATCH --why TEXT\n"
                "A photograph of it: tenterbook burn --last --photo FILE\n",
                u->tag, u->id, u->id, u->id);
    return tb_print(ctx, j, &t, err);
}

static tb_rc photograph(struct tb_ctx *ctx, const char *id, struct tb_err *err)
{
    struct tb_photograph_request request = { .burn = id };
    struct tb_text t = { 0 };
    struct tb_burn burn;
    tb_rc rc = tb_opt_photos(&request.photo, &request.photos, ctx, err);

    if (rc != TB_OK || (rc = tb_act_photograph(&burn, &ctx->actor, &request, &ctx->mem, err)) != TB_OK)
        return rc;
    tb_text_say(&t, "Photographs kept with burn %s of swatch %s: %zu.\n", burn.id, burn.tag, request.photos);
    return tb_print(ctx,
                    json_pack("{s:s, s:s, s:I}", "burn", burn.id, "swatch", burn.tag, "photographs",
                              (json_int_t)request.photos),
                    &t, err);
}

/* Of cloth that is not burnt, or of the half that is kept. */
static tb_rc photograph_unburnt(struct tb_ctx *ctx, const char *tag, struct tb_err *err)
{
    struct tb_unburnt_request request = { .swatch = tag };
    struct tb_text t = { 0 };
    struct tb_swatch swatch;
    tb_rc rc = tb_opt_photos(&request.photo, &request.photos, ctx, err);

    if (rc != TB_OK || (rc = tb_act_unburnt(&swatch, &ctx->actor, &request, &ctx->mem, err)) != TB_OK)
        return rc;
    tb_text_say(&t, "Photographs of the unburnt cloth kept with swatch %s: %zu.\n", swatch.tag,
                request.photos);
    return tb_print(
        ctx,
        json_pack("{s:n, s:s, s:I}", "burn", "swatch", swatch.tag, "photographs", (json_int_t)request.photos),
        &t, err);
}

/* What the burn is: --last the one that was just recorded, --to any. */
static tb_rc burn_known(struct tb_ctx *ctx, struct tb_err *err)
{
    const char *to = tb_opt(ctx, "to"),
               *stray =
                   tb_opt_among(ctx, SEEN " flame sample-mm at-hand dead-at note corrects at from again");
    struct tb_burn last;
    tb_rc rc;

    if (stray || ctx->argc)
        return tb_misuse(err, "--last and --to go with --photo alone");
    if (to && (!tb_opt_on(ctx, "photo") || tb_opt_on(ctx, "last")))
        return tb_misuse(err, "--to takes a burn, and goes with --photo FILE");
    if (tb_opt_on(ctx, "unburnt"))
        return to ? photograph_unburnt(ctx, to, err)
                  : tb_misuse(err, "--unburnt goes with --to SWATCH and --photo FILE");
    if (to)
        return photograph(ctx, to, err);
    if ((rc = tb_burn_latest(&last, ctx->book, ctx->who, &ctx->mem, err)) != TB_OK)
        return rc;
    return tb_opt_on(ctx, "photo") ? photograph(ctx, last.id, err) : show_last(ctx, &last, err);
}

/* --- a file of burns written down elsewhere --- */

static tb_rc print_file(struct tb_ctx *ctx, const struct tb_burn_file_outcome *j, struct tb_err *err)
{
    char burns[TB_COUNTED], swatches[TB_COUNTED], lots[TB_COUNTED];
    struct tb_text t = { 0 };

    tb_text_say(
        &t,
        "Recorded %s of %s in %s: %zu fit, %zu contradict, %zu undecided; now held by these burns: %zu.\n",
        tb_counted(burns, j->burns, _n("burn", "burns", j->burns)),
        tb_counted(swatches, j->swatches, _n("swatch", "swatches", j->swatches)),
        tb_counted(lots, j->lots, _n("lot", "lots", j->lots)), j->kind[TB_FITS], j->kind[TB_CONTRADICTS],
        j->kind[TB_UNDECIDED], j->held);
    for (size_t i = 0; i < j->held; i++)
        if (*j->held_lot[i].confirm)
            tb_text_say(&t, "%s is now held; the confirming test: %s.\n", j->held_lot[i].ref,
                        j->held_lot[i].confirm);
    tb_early_words(&t, j->early_at, &j->early_lot);
    if (j->early > 1)
        tb_text_say(&t, "Burns dated before their delivery arrived: %zu.\n", j->early);
    return tb_print(ctx, tb_json_burn_file(j), &t, err);
}

static tb_rc burn_from(struct tb_ctx *ctx, const char *path, struct tb_arena *mem, struct tb_err *err)
{
    struct tb_burn_file_request request = { .name = tb_file_name(path, mem),
                                            .again = tb_opt_on(ctx, "again") };
    struct tb_burn_file_outcome *done;
    struct tb_burn_row *row = NULL;
    tb_rc rc = tb_burn_rows_read(&row, &request.n, path, mem, err);

    if (rc != TB_OK)
        return rc;
    request.row = row;
    done = tb_new(struct tb_burn_file_outcome);
    rc = tb_act_burn_file(done, &ctx->actor, &request, mem, err);
    for (size_t i = 0; i < done->wrongs && i < TB_ROWS_TOLD_MOST; i++)
        tb_say(stderr, "%s line %zu: %s\n", tb_shown(ctx, path), done->wrong[i].line,
               tb_shown(ctx, done->wrong[i].why));
    if (rc == TB_OK)
        rc = print_file(ctx, done, err);
    else if (done->wrongs)
        rc = tb_within(err, rc, "%s", path);
    free(done);
    return rc;
}

/* A burn may be named by "last" or by the tag of its swatch: an id is 26 signs long. */
static tb_rc read_names(struct tb_ctx *ctx, struct tb_err *err)
{
    static const char *const names[] = { "like", "corrects", "to" };
    tb_rc rc = TB_OK;

    for (size_t i = 0; i < TB_COUNT(names) && rc == TB_OK; i++) {
        const char *name = tb_opt(ctx, names[i]), *id;

        if (name && !(tb_opt_on(ctx, "unburnt") && strcmp(names[i], "to") == 0) &&
            (rc = tb_burn_named(&id, ctx->book, name, ctx->who, &ctx->mem, err)) == TB_OK)
            tb_opt_means(ctx, names[i], id);
    }
    return rc;
}

static tb_rc run(struct tb_ctx *ctx, struct tb_err *err)
{
    const char *from = tb_opt(ctx, "from"), *stray;
    tb_rc rc;

    if ((rc = read_names(ctx, err)) != TB_OK)
        return rc;
    if (tb_opt_among(ctx, "last to unburnt"))
        return burn_known(ctx, err);
    if ((from != NULL) == (ctx->argc == 1) &&
        (from || ctx->json || tb_opt_among(ctx, SEEN) || !tb_at_terminal()))
        return tb_misuse(err, "burn takes a swatch, or --from FILE.csv");
    if ((stray = tb_opt_among(ctx, "rest afresh")) && !tb_opt_on(ctx, "corrects"))
        return tb_misuse(err, "--%s goes with --corrects", stray);
    if (tb_opt_on(ctx, "like") && tb_opt_among(ctx, "saw not looked could-not"))
        return tb_misuse(err, "--like takes all that the other burn says; it goes without --saw, --not, "
                              "--looked and --could-not");
    /* what would go unheard is evidence that somebody believes to be recorded */
    stray = from ? tb_opt_among(ctx, SEEN " flame sample-mm at-hand dead-at note photo corrects at") : NULL;
    if (stray)
        return tb_misuse(err, "--%s goes with a swatch; a file says such things in its rows", stray);
    /* said before anything else: whoever may not light a flame need not type the rest */
    if ((rc = tb_flame_check(ctx->book, err)) != TB_OK)
        return rc;
    if (from)
        return burn_from(ctx, from, &ctx->mem, err);
    return ctx->argc ? burn_it(ctx, ctx->argv[0], &ctx->mem, err) : burn_scanned(ctx, err);
}

static const struct tb_opt opts[] = {
    { "saw", "CUES", "what was seen, like smoke:black,odour:acrid; a leading ! denies", true },
    { "not", "CUES", "what was looked for and expressly not there", true },
    { "looked", "CHANNELS", "channels looked at without anything to report", true },
    { "could-not", "CHANNELS", "channels that could not be judged: a cold, fumes, a mask", true },
    { "like", "BURN", "it did the same as this burn, which is said; it counts as a burn of its own", false },
    { "last", NULL, "show the burn you recorded last; with --photo, keep a photograph with it", false },
    { "to", "BURN", "--photo: keep it with a burn that is recorded already", false },
    { "unburnt", NULL, "--to: a swatch, whose photograph shows it unburnt, or its half that is kept", false },
    { "flame", "TEXT", "what it was lit with: candle, spirit lamp ...", false },
    { "sample-mm", "N", "longest side of the piece burned", false },
    { "at-hand", "TEXT", "what stood ready to put it out: water, sand ...", false },
    { "dead-at", "MOMENT", "when the residue was checked dead, UTC", false },
    { "note", "TEXT", "anything else", false },
    { "photo", "FILE", "a photograph (JPEG, PNG) to keep with it", true },
    { "corrects", "BURN", "the record this one corrects; both stay in the book", false },
    { "rest", NULL, "--corrects: what the record says of channels that are not named stays", false },
    { "afresh", NULL, "--corrects: nothing of what the record says was seen stays", false },
    { "at", "MOMENT", "when it was burned, UTC, where that is not now", false },
    { "from", "FILE.csv",
      "burns written down elsewhere: columns lot,bolt,part,at,saw,not,looked,flame,note,could-not", false },
    { "again", NULL, "--from: record the burns of a file although they were recorded before", false },
    { NULL, NULL, NULL, false },
};

const struct tb_cmd tb_cmd_burn = {
    .name = "burn",
    .args = "[SWATCH] [--saw CUES] [--not CUES] [--looked CHANNELS] | --from FILE.csv | --last",
    .brief = "record what a burning swatch did",
    .about =
        "Records one burn of a swatch, judges its lot again and prints the verdict. A lot whose verdict "
        "contradicts its declaration is held by itself.\n\n"
        "At a terminal, without --saw and its like, it asks channel by channel, one key a cue, first for "
        "those that "
        "tell most of what is declared; --corrects begins with what the record says. With --saw and its like "
        "a "
        "correction says anew what the channels it names showed; of the others it asks: --rest, --afresh. "
        "Moment, flame, note and photographs of the record stay where nothing else is said. Without a swatch "
        "it "
        "takes one "
        "tag after the other, as a scanner gives them. A burn is named by its number, as 'look' shows it, by "
        "the tag of a swatch that was burned once, or by 'last': the one you recorded last.\n\n"
        "Channels: approach, in_flame, removed, flame_colour, smoke, odour, residue_form, "
        "residue_colour. A channel that is not named says nothing; naming a cue means its channel was "
        "looked at. Lists are separated by commas or spaces. What could not be judged (--could-not odour, "
        "with "
        "a cold) counts as not looked at and is kept as such: somebody else judges it in a second burn.\n\n"
        "With --from, a file of burns written down elsewhere: each row registers a swatch of the bolt "
        "and records its burn; rows of one lot, bolt and part are burns of one swatch. All or nothing; "
        "what is wrong is named by line. A file that was recorded before is not recorded again.\n\n"
        "Refused until the setting flame is yes: the local fire code, the employer's rules and licensed "
        "practice come first.",
    .example = "tenterbook burn W26-014.02.03 --saw approach:shrinks_away,smoke:black,residue_form:hard_bead "
               "--not odour:burning_hair",
    .opts = opts,
    .max = 1,
    .flags = TB_WRITES,
    .run = run,
};
