/* What a correction says nothing of, while the record it corrects does: nothing of it goes, and nothing stays, by silence. */
#include "cli/bench/burn_rest.h"

#include "tenterbook/act_bench.h"

static bool spoken_of(const struct tb_observation *o, int channel)
{
    return o->looked[channel] || o->could_not[channel];
}

/* The record without the channels that the correction speaks of. */
static void leave_out(struct tb_observation *record, const struct tb_observation *seen)
{
    for (size_t i = 0; i < tb_cue_count(); i++) {
        struct tb_cue cue;

        tb_cue_at(&cue, (int)i);
        if (spoken_of(seen, cue.channel))
            record->sight[i] = TB_SIGHT_NONE;
    }
    for (int c = 0; c < (int)tb_channel_count(); c++)
        if (spoken_of(seen, c))
            record->looked[c] = record->could_not[c] = false;
}

static void add(struct tb_observation *seen, const struct tb_observation *rest)
{
    for (size_t i = 0; i < tb_cue_count(); i++)
        if (rest->sight[i] != TB_SIGHT_NONE)
            seen->sight[i] = rest->sight[i];
    for (size_t c = 0; c < tb_channel_count(); c++) {
        seen->looked[c] = seen->looked[c] || rest->looked[c];
        seen->could_not[c] = seen->could_not[c] || rest->could_not[c];
    }
}

/* Each cue; of a channel without one, that it was looked at or could not be judged. */
static void words(struct tb_text *out, const struct tb_observation *o)
{
    bool told[TB_CHANNELS_MOST] = { false };

    for (size_t i = 0; i < tb_cue_count(); i++) {
        struct tb_cue cue;

        tb_cue_at(&cue, (int)i);
        if (o->sight[i] == TB_SIGHT_NONE)
            continue;
        tb_text_addf(out, o->sight[i] == TB_SIGHT_SEEN ? "%s%s" : _("%snot %s"), out->n ? ", " : "", cue.key);
        told[cue.channel] = true;
    }
    for (int c = 0; c < (int)tb_channel_count(); c++) {
        struct tb_channel channel;

        tb_channel_at(&channel, c);
        if (spoken_of(o, c) && !told[c])
            tb_text_addf(out, o->looked[c] ? _("%slooked at: %s") : _("%scould not be judged: %s"),
                         out->n ? ", " : "", channel.key);
    }
}

tb_rc tb_burn_rest(struct tb_observation *seen, struct tb_ctx *ctx, struct tb_err *err)
{
    bool stays = tb_opt_on(ctx, "rest"), goes = tb_opt_on(ctx, "afresh");
    const char *corrects = tb_opt(ctx, "corrects");
    struct tb_observation record = { 0 };
    struct tb_text rest = { 0 };
    tb_rc rc;

    if (stays && goes)
        return tb_misuse(err, "--rest and --afresh say the opposite of each other");
    if (goes)
        return TB_OK;
    if ((rc = tb_burn_like(&record, ctx->book, corrects, &ctx->mem, err)) != TB_OK)
        return rc;
    leave_out(&record, seen);
    words(&rest, &record);
    if (rest.n && stays)
        add(seen, &record);
    else if (rest.n)
        rc = tb_misuse(err,
                       "the record that is corrected says also: %s. Say --rest where that stays, or --afresh "
                       "where nothing of the record does",
                       rest.s);
    tb_text_free(&rest);
    return rc;
}
