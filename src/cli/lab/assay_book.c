/* assay LOT: compare with what the lot declares, record the result, or list what was recorded. */
#include "cli/lab/assay.h"
#include "cli/show.h"
#include "tenterbook/analysis.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* --- what is on record ---------------------------------------------------------------------------------------- */
static json_t *detail_json(const char *detail)
{
    json_t *j = json_loads(detail, 0, NULL);

    return j ? j : json_null();
}

static tb_rc list_json(struct tb_ctx *ctx, const struct tb_lot *lot, const struct tb_analysis *x, size_t n,
                       struct tb_err *err)
{
    json_t *list = json_array();

    for (size_t i = 0; i < n; i++)
        (void)json_array_append_new(
            list, json_pack("{s:s, s:s, s:o, s:o, s:s, s:s, s:s, s:o, s:s, s:s, s:s, s:o, s:o}", "id",
                            x[i].id, "part", x[i].part, "laboratory", tb_json_text(x[i].laboratory), "report",
                            tb_json_text(x[i].report), "route", x[i].route, "methods", x[i].methods, "found",
                            x[i].found, "u", tb_json_number(x[i].u), "answers", x[i].answers, "analysed_on",
                            x[i].analysed_on, "recorded_at", x[i].recorded_at, "recorded_by",
                            tb_json_text(x[i].recorded_by), "detail", detail_json(x[i].detail)));
    return tb_print_json(ctx, json_pack("{s:s, s:o}", "lot", lot->ref, "analyses", list), err);
}

static void list_text(struct tb_ctx *ctx, const struct tb_lot *lot, const struct tb_analysis *x, size_t n)
{
    (void)fprintf(ctx->out,
                  n ? _("Lot %s, declared \"%s\":\n")
                    : _("Lot %s, declared \"%s\": no analysis is recorded.\n"),
                  lot->ref, lot->declared);
    for (size_t i = 0; i < n; i++) {
        (void)fprintf(ctx->out, _("  %s: %s (%s), u %.2f points"), x[i].analysed_on, x[i].found, x[i].part,
                      x[i].u);
        if (x[i].laboratory[0])
            (void)fprintf(ctx->out, _(", by %s"), x[i].laboratory);
        if (x[i].report[0])
            (void)fprintf(ctx->out, _(", report %s"), x[i].report);
        if (x[i].answers[0])
            (void)fprintf(ctx->out, "; %s", x[i].answers);
        (void)fprintf(ctx->out, _("; recorded by %s as %s\n"), x[i].recorded_by, x[i].id);
    }
}

static tb_rc list(struct tb_ctx *ctx, const struct tb_lot *lot, struct tb_arena *mem, struct tb_err *err)
{
    struct tb_analysis *x;
    size_t n;
    tb_rc rc = tb_analysis_list(&x, &n, ctx->book, lot->id, mem, err);

    if (rc != TB_OK || ctx->json)
        return rc == TB_OK ? list_json(ctx, lot, x, n, err) : rc;
    list_text(ctx, lot, x, n);
    return TB_OK;
}

/* --- a new result --------------------------------------------------------------------------------------------- */
/* The claim of the lot for the part that was analysed. Without a clear declaration nothing is compared. */
static tb_rc take_claim(struct assay *a, const struct tb_lot *lot, const char *part, struct tb_err *err)
{
    int kind = tb_part_by_key(part);

    if (kind < 0)
        return tb_fail(err, TB_EINVAL, "--part: '%s' is no part of a cloth (whole, warp, weft, pile ...)",
                       part);
    tb_declaration_read(&a->declared, lot->declared, strlen(lot->declared));
    if (!lot->clear)
        return TB_OK;
    for (size_t i = 0; i < a->declared.comp.n; i++)
        if ((int)a->declared.comp.part[i].kind == kind)
            a->claim = &a->declared.comp.part[i];
    if (!a->claim)
        return tb_fail(err, TB_EINVAL, "lot %s declares \"%s\": there is no %s in it; say --part", lot->ref,
                       lot->declared, part);
    return TB_OK;
}

/* What was found, as a composition a person reads. */
static void found_words(struct tb_text *out, const struct assay *a)
{
    enum tb_lab_basis b = assay_basis_known(a, TB_LAB_EU) ? TB_LAB_EU : TB_LAB_DRY;
    struct tb_composition c = { 0 };
    struct tb_part *part = tb_composition_add_part(&c, TB_PART_WHOLE);

    for (size_t i = 0; i < a->fibres; i++)
        (void)tb_part_add_share(part, a->found[b][i].fibre,
                                a->reported ? a->found[b][i].percent : a->result.share[b][i].rounded);
    tb_composition_print(out, &c);
    tb_composition_free(&c);
}

static void answers_words(struct tb_text *out, const struct assay *a)
{
    for (size_t i = 0; i < a->markets; i++)
        tb_text_addf(out, "%s%s:%s", i ? " " : "", a->conform[i].market,
                     tb_lab_answer_key(a->conform[i].answer));
}

static double largest_u(const struct assay *a)
{
    enum tb_lab_basis b = assay_basis_known(a, TB_LAB_EU) ? TB_LAB_EU : TB_LAB_DRY;
    double u = 0;

    for (size_t i = 0; i < a->fibres; i++)
        u = fmax(u, a->found[b][i].u);
    return u;
}

static tb_rc write_it(struct tb_ctx *ctx, struct tb_analysis *x, const struct tb_lot *lot,
                      struct tb_arena *mem, struct tb_err *err)
{
    tb_rc rc = tb_ctx_begin(ctx, "assay", err);

    if (rc != TB_OK)
        return rc;
    if ((rc = tb_analysis_add(x, ctx->book, mem, err)) != TB_OK) {
        tb_book_rollback(ctx->book);
        return rc;
    }
    tb_book_subject(ctx->book, lot->ref);
    return tb_book_commit(ctx->book, err);
}

static tb_rc record(struct tb_ctx *ctx, const struct assay *a, const struct tb_lot *lot, const char **id,
                    struct tb_arena *mem, struct tb_err *err)
{
    struct tb_text found = { 0 }, answers = { 0 }, methods = { 0 };
    char today[TB_DAY_LEN + 1];
    json_t *j = assay_json(a);
    char *detail = json_dumps(j, JSON_COMPACT | JSON_REAL_PRECISION(17));
    struct tb_analysis x = { .lot = lot->id,
                             .declaration = a->claim ? lot->declaration : NULL,
                             .part = tb_opt(ctx, "part") ? tb_opt(ctx, "part") : "whole",
                             .laboratory = tb_opt(ctx, "laboratory"),
                             .report = tb_opt(ctx, "report"),
                             .route = a->reported ? "reported" : tb_lab_route_key(a->setup.task.route),
                             .u = largest_u(a),
                             .detail = detail,
                             .replaces = tb_opt(ctx, "corrects") };
    tb_rc rc;

    tb_today(today);
    x.analysed_on = today;
    found_words(&found, a);
    answers_words(&answers, a);
    for (size_t k = 0; k < 2 && a->setup.method[k]; k++)
        tb_text_addf(&methods, "%s%d", k ? " " : "", a->setup.method[k]);
    x.found = tb_text_str(&found);
    x.answers = tb_text_str(&answers);
    x.methods = tb_text_str(&methods);
    rc = detail ? tb_opt_day(&x.analysed_on, ctx, "on", err) : tb_fail(err, TB_EIO, "a text is not valid");
    if (rc == TB_OK)
        rc = write_it(ctx, &x, lot, mem, err);
    *id = x.id;
    tb_text_free(&found);
    tb_text_free(&answers);
    tb_text_free(&methods);
    free(detail);
    json_decref(j);
    return rc;
}

static tb_rc show_recorded(struct tb_ctx *ctx, const struct assay *a, const struct tb_lot *lot,
                           const char *id, struct tb_err *err)
{
    bool fails = false;

    if (ctx->json) {
        json_t *j = assay_json(a);

        (void)json_object_set_new(j, "lot", json_string(lot->ref));
        (void)json_object_set_new(j, "analysis", json_string(id));
        return tb_print_json(ctx, j, err);
    }
    assay_print(ctx->out, a);
    for (size_t i = 0; i < a->markets; i++)
        fails = fails || a->conform[i].answer == TB_LAB_FAILS;
    if (!a->claim)
        (void)fprintf(
            ctx->out,
            _("\nThe declaration of lot %s (\"%s\") cannot be read for certain: nothing was compared.\n"),
            lot->ref, lot->declared);
    if (fails)
        (void)fprintf(ctx->out,
                      _("\nTo hold the lot: tenterbook settle %s --as held --why \"laboratory result\"\n"),
                      lot->ref);
    (void)fprintf(ctx->out, _("\nRecorded for lot %s as analysis %s.\n"), lot->ref, id);
    return TB_OK;
}

static tb_rc new_result(struct tb_ctx *ctx, const struct tb_lot *lot, struct tb_arena *mem,
                        struct tb_err *err)
{
    struct assay *a = assay_new();
    const char *part = tb_opt(ctx, "part"), *id = NULL;
    tb_rc rc = take_claim(a, lot, part ? part : "whole", err);

    if (rc == TB_OK)
        rc = assay_read(a, ctx, err);
    if (rc == TB_OK)
        rc = assay_judge(a, ctx, err);
    if (rc == TB_OK)
        rc = record(ctx, a, lot, &id, mem, err);
    if (rc == TB_OK)
        rc = show_recorded(ctx, a, lot, id, err);
    assay_free(a);
    return rc;
}

/* Was anything given that belongs to a new result? */
static bool has_result(const struct tb_ctx *ctx)
{
    static const char *const gives[] = { "masses", "specimen", "residue", "weights",
                                         "acid",   "found",    "mixture", "method" };

    for (size_t i = 0; i < TB_COUNT(gives); i++)
        if (tb_opt_on(ctx, gives[i]))
            return true;
    return false;
}

tb_rc assay_on_book(struct tb_ctx *ctx, struct tb_err *err)
{
    struct tb_arena mem = { 0 };
    struct tb_lot lot = { 0 };
    tb_rc rc;

    if (tb_opt_on(ctx, "declared"))
        return tb_misuse(err, "a lot has its own declaration; leave --declared out");
    rc = tb_ctx_book(ctx, err);
    if (rc == TB_OK)
        rc = tb_lot_find(&lot, ctx->book, ctx->argv[0], &mem, err);
    if (rc == TB_OK)
        rc = has_result(ctx) ? new_result(ctx, &lot, &mem, err) : list(ctx, &lot, &mem, err);
    tb_arena_free(&mem);
    return rc;
}
