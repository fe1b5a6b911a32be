/* burn: what a burning swatch did, one at a time or from a file. */
#include "cli/show.h"
#include "tenterbook/act_bench.h"
#include "tenterbook/attachment.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

static tb_rc print(struct tb_ctx *ctx, const struct tb_burn_outcome *done, struct tb_err *err)
{
    const struct tb_swatch *s = &done->swatch;
    struct tb_text t = { 0 };

    tb_text_say(&t,
                *s->bolt_number ? N_("Recorded burn %s of swatch %s (%s of bolt %s).\n")
                                : N_("Recorded burn %s of swatch %s (%s).\n"),
                done->burn.id, s->tag, tb_part_key(s->part), s->bolt_number);
    if (*done->burn.could_not)
        tb_text_say(&t,
                    "Could not be judged: %s. It counts as not looked at; somebody else can judge it in a "
                    "second burn.\n",
                    done->burn.could_not);
    if (s->lot) {
        tb_early_words(&t, done->burn.burned_at, &done->judged.lot);
        tb_rejudged_words(&t, &done->judged);
        tb_cautions_words(&t, &done->judged.v.declaration, "burn");
    } else
        tb_text_say(&t, "Known cloth (%s): it teaches the site's reference from the next verdict on.\n",
                    s->known);
    return tb_print(ctx, tb_json_burned(done), &t, err);
}

static tb_rc read_photographs(struct tb_burn_request *r, struct tb_ctx *ctx, struct tb_arena *mem,
                              struct tb_err *err)
{
    size_t n = tb_opt_count(ctx, "photo");
    struct tb_attachment *photo = tb_arena_alloc(mem, (n + 1) * sizeof *photo);
    tb_rc rc = TB_OK;

    r->photo = photo;
    /* one more than a burn takes is read, for the act to refuse them */
    for (; r->photos < n && r->photos <= TB_PHOTOS_MOST && rc == TB_OK; r->photos++)
        rc = tb_attachment_read(&photo[r->photos], tb_opt_nth(ctx, "photo", r->photos), mem, err);
    return rc;
}

static tb_rc read_request(struct tb_burn_request *r, struct tb_observation *seen, struct tb_ctx *ctx)
{
    *r = (struct tb_burn_request){ .swatch = ctx->argv[0],
                                   .seen = seen,
                                   .flame = tb_opt(ctx, "flame"),
                                   .note = tb_opt(ctx, "note"),
                                   .at_hand = tb_opt(ctx, "at-hand"),
                                   .corrects = tb_opt(ctx, "corrects"),
                                   .sample_mm = tb_opt_number(ctx, "sample-mm", (double)NAN,
                                                              TB_SAMPLE_MM_LEAST, TB_SAMPLE_MM_MOST) };
    r->burned_at = tb_opt_moment(ctx, "at");
    r->dead_at = tb_opt_moment(ctx, "dead-at");
    return ctx->rc == TB_OK ? tb_opt_seen(seen, ctx) : ctx->rc;
}

static tb_rc burn_it(struct tb_ctx *ctx, struct tb_arena *mem, struct tb_err *err)
{
    struct tb_observation seen = { 0 };
    struct tb_burn_request request;
    struct tb_burn_outcome done = { 0 };
    tb_rc rc;

    if ((rc = read_request(&request, &seen, ctx)) != TB_OK ||
        (rc = read_photographs(&request, ctx, mem, err)) != TB_OK)
        return rc;
    if ((rc = tb_act_burn(&done, &ctx->actor, &request, mem, err)) == TB_OK)
        rc = print(ctx, &done, err);
    tb_rejudged_free(&done.judged);
    return rc;
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

static tb_rc run(struct tb_ctx *ctx, struct tb_err *err)
{
    const char *from = tb_opt(ctx, "from"), *stray;
    tb_rc rc;

    if ((from != NULL) == (ctx->argc == 1))
        return tb_misuse(err, "burn takes a swatch, or --from FILE.csv");
    /* what would go unheard is evidence that somebody believes to be recorded */
    stray = from ? tb_opt_among(
                       ctx, "saw not looked could-not flame sample-mm at-hand dead-at note photo corrects at")
                 : NULL;
    if (stray)
        return tb_misuse(err, "--%s goes with a swatch; a file says such things in its rows", stray);
    /* said before anything else: whoever may not light a flame need not type the rest */
    if ((rc = tb_flame_check(ctx->book, err)) != TB_OK)
        return rc;
    return from ? burn_from(ctx, from, &ctx->mem, err) : burn_it(ctx, &ctx->mem, err);
}

static const struct tb_opt opts[] = {
    { "saw", "CUES", "what was seen, like smoke:black,odour:acrid; a leading ! denies", true },
    { "not", "CUES", "what was looked for and expressly not there", true },
    { "looked", "CHANNELS", "channels looked at without anything to report", true },
    { "could-not", "CHANNELS", "channels that could not be judged: a cold, fumes, a mask", true },
    { "flame", "TEXT", "what it was lit with: candle, spirit lamp ...", false },
    { "sample-mm", "N", "longest side of the piece burned", false },
    { "at-hand", "TEXT", "what stood ready to put it out: water, sand ...", false },
    { "dead-at", "MOMENT", "when the residue was checked dead, UTC", false },
    { "note", "TEXT", "anything else", false },
    { "photo", "FILE", "a photograph (JPEG, PNG) to keep with it", true },
    { "corrects", "BURN", "the record this one corrects; both stay in the book", false },
    { "at", "MOMENT", "when it was burned, UTC, where that is not now", false },
    { "from", "FILE.csv",
      "burns written down elsewhere: columns lot,bolt,part,at,saw,not,looked,flame,note,could-not", false },
    { "again", NULL, "--from: record the burns of a file although they were recorded before", false },
    { NULL, NULL, NULL, false },
};

const struct tb_cmd tb_cmd_burn = {
    .name = "burn",
    .args = "SWATCH --saw CUES [--not CUES] [--looked CHANNELS] | --from FILE.csv",
    .brief = "record what a burning swatch did",
    .about =
        "Records one burn of a swatch, judges its lot again and prints the verdict. A lot whose verdict "
        "contradicts its declaration is held by itself.\n\n"
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
