#include "cli/show.h"

#include <stdlib.h>
#include <string.h>

/* The names of all bench tests, or of all results of one, for a sentence. */
static void bench_tests(struct tb_text *t)
{
    for (size_t i = 0; i < tb_channel_count(); i++) {
        struct tb_channel c;

        tb_channel_at(&c, (int)i);
        if (c.bench)
            tb_text_addf(t, "%s%s", t->n ? ", " : "", c.key);
    }
}

static void results(struct tb_text *t, const struct tb_channel *c)
{
    for (int i = c->first; i < c->first + c->n; i++) {
        struct tb_cue cue;

        tb_cue_at(&cue, i);
        tb_text_addf(t, "%s%s", t->n ? ", " : "", cue.name);
    }
}

static tb_rc find_cue(struct tb_channel *channel, struct tb_cue *cue, struct tb_ctx *ctx, struct tb_err *err)
{
    const char *test = tb_opt(ctx, "test"), *result = tb_opt(ctx, "result");
    struct tb_text t = { 0 };
    int number = test ? tb_channel_by_key(test) : -1, at;
    tb_rc rc = TB_OK;

    if (number >= 0)
        tb_channel_at(channel, number);
    if (!test || number < 0 || !channel->bench) {
        bench_tests(&t);
        rc = tb_fail(err, TB_EINVAL, "%s%s%s; bench tests are %s", test ? "'" : "",
                     test ? test : "--test is missing", test ? "' is no bench test" : "", tb_text_str(&t));
        tb_text_free(&t);
        return rc;
    }
    if (result)
        tb_text_addf(&t, "%s:%s", channel->key, result);
    at = result ? tb_cue_by_key(t.s) : -1;
    if (at >= 0) {
        tb_cue_at(cue, at);
    } else {
        tb_text_clear(&t);
        results(&t, channel);
        rc = tb_fail(err, TB_EINVAL, "%s%s%s; results of %s are %s", result ? "'" : "",
                     result ? result : "--result is missing", result ? "' is no result" : "", channel->key,
                     tb_text_str(&t));
    }
    tb_text_free(&t);
    return rc;
}

static tb_rc print(struct tb_ctx *ctx, const struct tb_swatch *s, const struct tb_bench_test *t,
                   const struct tb_cue *cue, const struct tb_rejudged *r, struct tb_err *err)
{
    if (ctx->json) {
        json_t *j = json_pack("{s:s, s:s, s:s, s:s}", "bench_test", t->id, "swatch", s->tag, "test", t->test,
                              "result", t->result);

        if (s->lot) {
            (void)json_object_set_new(j, "lot", tb_json_lot(&r->lot));
            (void)json_object_set_new(j, "judged", tb_lot_verdict_json(&r->v, &r->lot));
            (void)json_object_set_new(j, "held", json_boolean(r->held));
            tb_print_early(ctx, j, t->tested_at, &r->lot);
        }
        return tb_print_json(ctx, j, err);
    }
    (void)fprintf(ctx->out, _("Recorded test %s of swatch %s: %s.\n"), t->id, s->tag, cue->meaning);
    tb_print_early(ctx, NULL, t->tested_at, &r->lot);
    if (s->lot) {
        tb_print_rejudged(ctx, r);
        tb_print_cautions(ctx, &r->v.declaration.comp, t->test);
    }
    return TB_OK;
}

static tb_rc record(struct tb_ctx *ctx, const struct tb_swatch *s, struct tb_bench_test *t,
                    const struct tb_cue *cue, struct tb_arena *mem, struct tb_err *err)
{
    struct tb_rejudged r = { 0 };
    tb_rc rc = tb_ctx_begin(ctx, "try", err);

    if (rc != TB_OK)
        return rc;
    tb_book_subject(ctx->book, s->tag);
    if ((rc = tb_bench_test_add(t, ctx->book, mem, err)) == TB_OK && s->lot)
        rc = tb_rejudge(&r, ctx, s->lot_ref, TB_WANT_CUES, mem, err);
    if (rc == TB_OK)
        rc = tb_book_commit(ctx->book, err);
    else
        tb_book_rollback(ctx->book);
    if (rc == TB_OK)
        rc = print(ctx, s, t, cue, &r, err);
    tb_rejudged_free(&r);
    return rc;
}

static tb_rc try_it(struct tb_ctx *ctx, struct tb_arena *mem, struct tb_err *err)
{
    struct tb_channel channel = { 0 };
    struct tb_bench_test t = { 0 };
    struct tb_swatch s;
    struct tb_cue cue = { 0 };
    tb_rc rc;

    if ((rc = find_cue(&channel, &cue, ctx, err)) != TB_OK ||
        (rc = tb_swatch_find(&s, ctx->book, ctx->argv[0], mem, err)) != TB_OK ||
        (rc = tb_opt_moment(&t.tested_at, ctx, "at", mem, err)) != TB_OK)
        return rc;
    if (t.tested_at && strcmp(t.tested_at, s.cut_at) < 0)
        return tb_fail(err, TB_EINVAL, "swatch %s was cut at %s; it cannot have been tested at %s", s.tag,
                       s.cut_at, t.tested_at);
    t.swatch = s.id;
    t.test = channel.key;
    t.result = cue.name;
    t.note = tb_opt(ctx, "note");
    t.replaces = tb_opt(ctx, "corrects");
    return record(ctx, &s, &t, &cue, mem, err);
}

static tb_rc run(struct tb_ctx *ctx, struct tb_err *err)
{
    struct tb_arena mem = { 0 };
    tb_rc rc = try_it(ctx, &mem, err);

    tb_arena_free(&mem);
    return rc;
}

static const struct tb_opt opts[] = {
    { "test", "TEST", "the bench test: acetone, melting, microscope ...", false },
    { "result", "RESULT", "what it showed", false },
    { "note", "TEXT", "anything else: strength of the reagent, time", false },
    { "corrects", "TEST", "the record this one corrects; both stay in the book", false },
    { "at", "MOMENT", "when it was done, UTC, where that is not now", false },
    { NULL, NULL, NULL, false },
};

const struct tb_cmd tb_cmd_try = {
    .name = "try",
    .args = "SWATCH --test TEST --result RESULT",
    .brief = "record a bench test: solvent, melting, microscope, float",
    .about = "Records what a bench test without a flame showed, and judges the lot again. Without --test or "
             "--result it "
             "answers with the names that may be given.\n\n"
             "Solvents and acids: the safety data sheet, the local rules and licensed practice come first; "
             "where they do "
             "not allow the test, send the swatch to a laboratory.",
    .example = "tenterbook try W26-014.02.03 --test acetone --result dissolves",
    .opts = opts,
    .min = 1,
    .max = 1,
    .flags = TB_WRITES,
    .run = run,
};
