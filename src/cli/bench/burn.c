#include "cli/bench/burn.h"
#include "cli/keepfile.h"
#include "cli/show.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

tb_rc tb_flame_permitted(struct tb_ctx *ctx, struct tb_err *err)
{
    bool yes = false;
    tb_rc rc = tb_bench_flame_permitted(&yes, ctx->book, TB_BOOK_NOW, err);

    if (rc != TB_OK || yes)
        return rc;
    return tb_fail(
        err, TB_EREFUSED,
        "flame work is not permitted at this bench; where the local fire code and the employer's rules "
        "allow it: tenterbook set flame yes; without a flame: tenterbook try SWATCH --test ...");
}

/* The observation as records: every cue said, and the channels looked at, by name. */
static void as_records(struct tb_burn *burn, const struct tb_observation *o, struct tb_arena *mem)
{
    struct tb_text looked = { 0 };
    size_t n = tb_cue_count();

    burn->cue = tb_arena_alloc(mem, n * sizeof *burn->cue);
    for (size_t i = 0; i < n; i++) {
        struct tb_cue cue;

        if (o->sight[i] == TB_SIGHT_NONE)
            continue;
        tb_cue_at(&cue, (int)i);
        burn->cue[burn->cues++] = (struct tb_cue_seen){ cue.key, o->sight[i] == TB_SIGHT_SEEN };
    }
    for (size_t i = 0; i < tb_channel_count(); i++) {
        struct tb_channel channel;

        if (!o->looked[i])
            continue;
        tb_channel_at(&channel, (int)i);
        tb_text_addf(&looked, "%s%s", looked.n ? " " : "", channel.key);
    }
    burn->looked = tb_arena_strdup(mem, tb_text_str(&looked));
    tb_text_free(&looked);
}

/* What burned says nothing of solvents: those are recorded as bench tests, with their own cautions. */
static tb_rc only_burning(const struct tb_observation *o, struct tb_err *err)
{
    for (size_t i = 0; i < tb_channel_count(); i++) {
        struct tb_channel channel;

        tb_channel_at(&channel, (int)i);
        if (o->looked[i] && channel.bench)
            return tb_fail(
                err, TB_EINVAL,
                "'%s' is a bench test, not something seen while burning; record it with: tenterbook try "
                "SWATCH --test %s --result ...",
                channel.key, channel.key);
    }
    return TB_OK;
}

tb_rc tb_burn_read(struct tb_burn *burn, const char *saw, const char *not_seen, const char *looked,
                   struct tb_arena *mem, struct tb_err *err)
{
    struct tb_observation o = { 0 };
    tb_rc rc;

    if ((rc = tb_observation_read(&o, saw, not_seen, looked, err)) != TB_OK ||
        (rc = only_burning(&o, err)) != TB_OK)
        return rc;
    if (tb_observation_empty(&o))
        return tb_fail(err, TB_EINVAL,
                       "a burn needs at least one thing seen or looked at (saw, not, looked)");
    as_records(burn, &o, mem);
    return TB_OK;
}

static tb_rc read_burn(struct tb_burn *burn, struct tb_ctx *ctx, struct tb_arena *mem, struct tb_err *err)
{
    tb_rc rc;

    burn->flame = tb_opt(ctx, "flame");
    burn->note = tb_opt(ctx, "note");
    burn->at_hand = tb_opt(ctx, "at-hand");
    burn->replaces = tb_opt(ctx, "corrects");
    burn->sample_mm = (double)NAN;
    if ((rc = tb_burn_read(burn, tb_opt(ctx, "saw"), tb_opt(ctx, "not"), tb_opt(ctx, "looked"), mem, err)) !=
            TB_OK ||
        (rc = tb_opt_number(&burn->sample_mm, ctx, "sample-mm", 1, 200, err)) != TB_OK ||
        (rc = tb_opt_moment(&burn->burned_at, ctx, "at", mem, err)) != TB_OK ||
        (rc = tb_opt_moment(&burn->dead_at, ctx, "dead-at", mem, err)) != TB_OK)
        return rc;
    if (burn->burned_at && burn->dead_at && strcmp(burn->dead_at, burn->burned_at) < 0)
        return tb_fail(err, TB_EINVAL, "the residue cannot be dead (%s) before the burn (%s)", burn->dead_at,
                       burn->burned_at);
    return TB_OK;
}

static tb_rc add_photographs(struct tb_ctx *ctx, const struct tb_burn *burn, struct tb_attachment *photo,
                             size_t n, struct tb_arena *mem, struct tb_err *err)
{
    tb_rc rc = TB_OK;

    for (size_t i = 0; i < n && rc == TB_OK; i++) {
        photo[i].about = "burn";
        photo[i].subject = burn->id;
        rc = tb_attachment_add(&photo[i], ctx->book, mem, err);
    }
    return rc;
}

static tb_rc print(struct tb_ctx *ctx, const struct tb_swatch *s, const struct tb_burn *burn,
                   const struct tb_rejudged *r, struct tb_err *err)
{
    if (ctx->json) {
        json_t *j =
            json_pack("{s:s, s:s, s:s}", "burn", burn->id, "swatch", s->tag, "burned_at", burn->burned_at);

        if (s->lot) {
            (void)json_object_set_new(j, "lot", tb_json_lot(&r->lot));
            (void)json_object_set_new(j, "judged", tb_lot_verdict_json(&r->v, &r->lot));
            (void)json_object_set_new(j, "held", json_boolean(r->held));
            tb_print_early(ctx, j, burn->burned_at, &r->lot);
        }
        return tb_print_json(ctx, j, err);
    }
    (void)fprintf(ctx->out, _("Recorded burn %s of swatch %s (%s%s%s).\n"), burn->id, s->tag, s->part,
                  *s->bolt_number ? _(" of bolt ") : "", s->bolt_number);
    tb_print_early(ctx, NULL, burn->burned_at, &r->lot);
    if (s->lot)
        tb_print_rejudged(ctx, r);
    else
        (void)fprintf(ctx->out,
                      _("Known cloth (%s): it teaches the site's reference from the next verdict on.\n"),
                      s->known);
    if (s->lot)
        tb_print_cautions(ctx, &r->v.declaration.comp, "burn");
    return TB_OK;
}

static tb_rc record(struct tb_ctx *ctx, const struct tb_swatch *s, struct tb_burn *burn,
                    struct tb_attachment *photo, size_t photos, struct tb_arena *mem, struct tb_err *err)
{
    struct tb_rejudged r = { 0 };
    tb_rc rc = tb_ctx_begin(ctx, "burn", err);

    if (rc != TB_OK)
        return rc;
    tb_book_subject(ctx->book, s->tag);
    burn->swatch = s->id;
    if ((rc = tb_burn_add(burn, ctx->book, mem, err)) == TB_OK &&
        (rc = add_photographs(ctx, burn, photo, photos, mem, err)) == TB_OK && s->lot)
        rc = tb_rejudge(&r, ctx, s->lot_ref, TB_WANT_CUES, mem, err);
    if (rc == TB_OK)
        rc = tb_book_commit(ctx->book, err);
    else
        tb_book_rollback(ctx->book);
    if (rc == TB_OK)
        rc = print(ctx, s, burn, &r, err);
    tb_rejudged_free(&r);
    return rc;
}

static tb_rc burn_it(struct tb_ctx *ctx, struct tb_arena *mem, struct tb_err *err)
{
    struct tb_attachment photo[16] = { 0 };
    struct tb_swatch s;
    struct tb_burn burn = { 0 };
    size_t photos = 0;
    tb_rc rc;

    if ((rc = tb_flame_permitted(ctx, err)) != TB_OK ||
        (rc = tb_swatch_find(&s, ctx->book, ctx->argv[0], mem, err)) != TB_OK ||
        (rc = read_burn(&burn, ctx, mem, err)) != TB_OK)
        return rc;
    if (burn.burned_at && strcmp(burn.burned_at, s.cut_at) < 0)
        return tb_fail(err, TB_EINVAL, "swatch %s was cut at %s; it cannot have been burned at %s", s.tag,
                       s.cut_at, burn.burned_at);
    for (const char *path; (path = tb_opt_nth(ctx, "photo", photos)); photos++) {
        if (photos == TB_COUNT(photo))
            return tb_fail(err, TB_EINVAL, "one burn takes at most %zu photographs", TB_COUNT(photo));
        if ((rc = tb_attachment_read(&photo[photos], path, mem, err)) != TB_OK)
            return rc;
    }
    return record(ctx, &s, &burn, photo, photos, mem, err);
}

static tb_rc run(struct tb_ctx *ctx, struct tb_err *err)
{
    struct tb_arena mem = { 0 };
    const char *from = tb_opt(ctx, "from");
    tb_rc rc = TB_OK;

    if ((from != NULL) == (ctx->argc == 1))
        return tb_misuse(err, "burn takes a swatch, or --from FILE.csv");
    if ((rc = tb_flame_permitted(ctx, err)) == TB_OK)
        rc = from ? tb_burn_from(ctx, from, &mem, err) : burn_it(ctx, &mem, err);

    tb_arena_free(&mem);
    return rc;
}

static const struct tb_opt opts[] = {
    { "saw", "CUES", "what was seen, like smoke:black,odour:acrid; a leading ! denies", false },
    { "not", "CUES", "what was looked for and expressly not there", false },
    { "looked", "CHANNELS", "channels looked at without anything to report", false },
    { "flame", "TEXT", "what it was lit with: candle, spirit lamp ...", false },
    { "sample-mm", "N", "longest side of the piece burned", false },
    { "at-hand", "TEXT", "what stood ready to put it out: water, sand ...", false },
    { "dead-at", "MOMENT", "when the residue was checked dead, UTC", false },
    { "note", "TEXT", "anything else", false },
    { "photo", "FILE", "a photograph (JPEG, PNG) to keep with it", true },
    { "corrects", "BURN", "the record this one corrects; both stay in the book", false },
    { "at", "MOMENT", "when it was burned, UTC, where that is not now", false },
    { "from", "FILE.csv", "burns written down elsewhere: columns lot,bolt,part,at,saw,not,looked,flame,note",
      false },
    { NULL, NULL, NULL, false },
};

const struct tb_cmd tb_cmd_burn = {
    .name = "burn",
    .args = "SWATCH --saw CUES [--not CUES] [--looked CHANNELS] | --from FILE.csv",
    .brief = "record what a burning swatch did",
    .about = "Records one burn of a swatch, judges its lot again and prints the verdict. A lot whose verdict "
             "contradicts "
             "its declaration is held by itself.\n\n"
             "Channels: approach, in_flame, removed, flame_colour, smoke, odour, residue_form, "
             "residue_colour. A channel "
             "that is not named says nothing; naming a cue means its channel was looked at. Lists are parted "
             "by commas "
             "or blanks.\n\n"
             "With --from, a file of burns written down elsewhere: each row registers a swatch of the bolt "
             "and records its "
             "burn; rows of one lot, bolt and part are burns of one swatch. All or nothing; what is wrong is "
             "named by "
             "line.\n\n"
             "Refused until the setting flame is yes: the local fire code, the employer's rules and licensed "
             "practice "
             "come first.",
    .example = "tenterbook burn W26-014.02.03 --saw approach:shrinks_away,smoke:black,residue_form:hard_bead "
               "--not odour:burning_hair",
    .opts = opts,
    .max = 1,
    .flags = TB_WRITES,
    .run = run,
};
