/* burn --from: a file of burns written down elsewhere. */
#include "cli/bench/burn.h"
#include "cli/show.h"
#include "tenterbook/utf8.h"

#include <stdlib.h>
#include <string.h>

static tb_rc print(struct tb_ctx *ctx, const struct tb_burn_file_outcome *j, struct tb_err *err)
{
    char burns[TB_COUNTED], swatches[TB_COUNTED], lots[TB_COUNTED];
    struct tb_text early = { 0 };

    if (ctx->json)
        return tb_print_json(ctx,
                             json_pack("{s:I, s:I, s:I, s:I, s:I, s:I, s:I, s:I}", "burns",
                                       (json_int_t)j->burns, "swatches", (json_int_t)j->swatches, "lots",
                                       (json_int_t)j->lots, "fits", (json_int_t)j->kind[TB_FITS],
                                       "contradicts", (json_int_t)j->kind[TB_CONTRADICTS], "undecided",
                                       (json_int_t)j->kind[TB_UNDECIDED], "held", (json_int_t)j->held,
                                       "early", (json_int_t)j->early),
                             err);
    tb_say(ctx->out,
           "Recorded %s of %s in %s: %zu fit, %zu contradict, %zu undecided; now held by these burns: %zu.\n",
           tb_counted(burns, j->burns, _n("burn", "burns", j->burns)),
           tb_counted(swatches, j->swatches, _n("swatch", "swatches", j->swatches)),
           tb_counted(lots, j->lots, _n("lot", "lots", j->lots)), j->kind[TB_FITS], j->kind[TB_CONTRADICTS],
           j->kind[TB_UNDECIDED], j->held);
    tb_early_words(&early, j->early_at, &j->early_lot);
    if (early.n)
        tb_say(ctx->out, "Note: %s\n", early.s);
    if (j->early > 1)
        tb_say(ctx->out, "Burns dated before their delivery arrived: %zu.\n", j->early);
    tb_text_free(&early);
    return TB_OK;
}

/* The name of a file may hold any bytes; in the journal it is text, without codes a terminal obeys. */
static const char *plain_name(const char *name, struct tb_arena *mem)
{
    char *mended = tb_utf8_mend(name, strlen(name));
    struct tb_text plain = { 0 };
    const char *kept;

    for (size_t at = 0, n = strlen(mended), used; at < n; at += used) {
        unsigned cp;

        used = tb_utf8_next(mended + at, n - at, &cp);
        if (tb_utf8_control(cp) || cp < ' ')
            tb_text_add(&plain, "?");
        else
            tb_text_addn(&plain, mended + at, used);
    }
    kept = tb_arena_strdup(mem, tb_text_str(&plain));
    tb_text_free(&plain);
    free(mended);
    return kept;
}

tb_rc tb_burn_from(struct tb_ctx *ctx, const char *path, struct tb_arena *mem, struct tb_err *err)
{
    const char *slash = strrchr(path, '/');
    struct tb_burn_file_request request = { .name = slash ? slash + 1 : path,
                                            .again = tb_opt_on(ctx, "again") };
    struct tb_burn_file_outcome *done;
    struct tb_burn_row *row = NULL;
    tb_rc rc = tb_burn_rows_read(&row, &request.n, path, mem, err);

    if (rc != TB_OK)
        return rc;
    request.name = plain_name(request.name, mem);
    request.row = row;
    done = tb_new(struct tb_burn_file_outcome);
    rc = tb_act_burn_file(done, &ctx->actor, &request, mem, err);
    for (size_t i = 0; i < done->wrongs && i < TB_ROWS_TOLD_MOST; i++)
        tb_say(stderr, "%s line %zu: %s\n", path, done->wrong[i].line, done->wrong[i].why);
    if (rc == TB_OK)
        rc = print(ctx, done, err);
    else if (done->wrongs)
        rc = tb_within(err, rc, "%s", path);
    free(done);
    return rc;
}
