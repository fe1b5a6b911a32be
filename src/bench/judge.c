/* The verdict on a lot, and what it does to the lot's standing. */
#include "tenterbook/bench.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* The bolt of each observation, by the tag of its swatch; "" for a swatch of no bolt. */
static tb_rc bolts_of(const char ***out, struct tb_book *b, const char *lot_id,
                      const struct tb_observation *obs, size_t n, struct tb_arena *mem, struct tb_err *err)
{
    struct tb_swatch *swatch = NULL;
    size_t swatches = 0;
    tb_rc rc = tb_swatch_list(&swatch, &swatches, b, lot_id, mem, err);

    *out = tb_arena_alloc(mem, (n + 1) * sizeof **out);
    for (size_t i = 0; i < n && rc == TB_OK; i++) {
        (*out)[i] = "";
        for (size_t k = 0; k < swatches; k++)
            if (strcmp(swatch[k].tag, obs[i].swatch) == 0)
                (*out)[i] = swatch[k].bolt_number;
    }
    return rc;
}

/* Judge the observations of one bolt alone. */
static tb_rc judge_bolt(struct tb_verdict *v, const struct tb_evidence *ev, const struct tb_declaration *d,
                        const struct tb_lot_burns *burns, const char *number, unsigned want, size_t *used,
                        struct tb_err *err)
{
    struct tb_observation *own = tb_array(struct tb_observation, burns->n);
    tb_rc rc;

    *used = 0;
    for (size_t i = 0; i < burns->n; i++)
        if (strcmp(burns->bolt[i], number) == 0)
            own[(*used)++] = burns->obs[i];
    rc = tb_evidence_judge(v, ev, d, own, *used, want, err);
    free(own);
    return rc;
}

static bool seen_before(const char **bolt, size_t i)
{
    for (size_t k = 0; k < i; k++)
        if (strcmp(bolt[k], bolt[i]) == 0)
            return true;
    return false;
}

static void note_bolt(struct tb_lot_verdict *out, const char *number, const struct tb_verdict *v,
                      size_t observations)
{
    out->bolt[out->bolts++] =
        (struct tb_bolt_verdict){ tb_strdup(number), v->kind, v->log_ratio, observations };
}

static bool one_bolt(const char **bolt, size_t n)
{
    for (size_t i = 1; i < n; i++)
        if (strcmp(bolt[i], bolt[0]) != 0)
            return false;
    return true;
}

/* Every bolt alone; *worst becomes the number of the one that contradicts most, NULL when none does. */
static tb_rc judge_each(struct tb_lot_verdict *out, const char **worst, const struct tb_evidence *ev,
                        const struct tb_lot_burns *burns, struct tb_err *err)
{
    const char **bolt = burns->bolt;
    size_t n = burns->n;
    double least = 0;
    tb_rc rc = TB_OK;

    *worst = NULL;
    out->bolt = tb_array(struct tb_bolt_verdict, n);
    if (n && one_bolt(bolt, n)) { /* alone is together */
        note_bolt(out, bolt[0], &out->verdict, n);
        return TB_OK;
    }
    for (size_t i = 0; i < n && rc == TB_OK; i++) {
        struct tb_verdict v = { 0 };
        size_t used;

        if (seen_before(bolt, i))
            continue;
        if ((rc = judge_bolt(&v, ev, &out->declaration, burns, bolt[i], 0, &used, err)) != TB_OK)
            break;
        note_bolt(out, bolt[i], &v, used);
        if (v.kind == TB_CONTRADICTS && (!*worst || v.log_ratio < least)) {
            *worst = bolt[i];
            least = v.log_ratio;
        }
        tb_verdict_free(&v);
    }
    return rc;
}

/* The verdict of the bolt that contradicts most takes the place of that of all together. */
static tb_rc take_bolt(struct tb_lot_verdict *out, const struct tb_evidence *ev,
                       const struct tb_lot_burns *burns, const char *worst, unsigned want, struct tb_err *err)
{
    struct tb_text note = { 0 };
    size_t bad = 0, used;
    tb_rc rc;

    tb_verdict_free(&out->verdict);
    out->verdict = (struct tb_verdict){ 0 };
    rc = judge_bolt(&out->verdict, ev, &out->declaration, burns, worst, want, &used, err);
    if (rc != TB_OK)
        return rc;
    for (size_t i = 0; i < out->bolts; i++)
        bad += out->bolt[i].kind == TB_CONTRADICTS;
    tb_text_addf(
        &note,
        "Bolt %s contradicts the declaration by itself, so the lot does; the figures here are of that bolt. "
        "%zu of the %zu burnt bolts contradict.",
        worst, bad, out->bolts);
    out->verdict.note = tb_realloc(out->verdict.note, out->verdict.n_note + 1, sizeof *out->verdict.note);
    out->verdict.note[out->verdict.n_note++] = tb_text_take(&note);
    return TB_OK;
}

tb_rc tb_bench_read(struct tb_lot_burns *out, struct tb_book *b, const struct tb_lot *lot, int64_t upto,
                    struct tb_arena *mem, struct tb_err *err)
{
    tb_rc rc;

    *out = (struct tb_lot_burns){ .ref = tb_arena_strdup(mem, lot->ref), .declared = "" };
    if ((rc = tb_bench_observations(&out->obs, &out->n, b, lot->id, upto, mem, err)) != TB_OK ||
        (rc = tb_declaration_upto(&out->declared, b, lot->id, upto, mem, err)) != TB_OK ||
        (rc = bolts_of(&out->bolt, b, lot->id, out->obs, out->n, mem, err)) != TB_OK)
        return tb_within(err, rc, "lot %s", lot->ref);
    return TB_OK;
}

tb_rc tb_bench_weigh(struct tb_lot_verdict *out, const struct tb_lot_burns *burns,
                     const struct tb_evidence *ev, unsigned want, struct tb_err *err)
{
    const char *worst = NULL;
    tb_rc rc;

    *out = (struct tb_lot_verdict){ .observations = burns->n };
    tb_declaration_read(&out->declaration, burns->declared, strlen(burns->declared));
    rc = tb_evidence_judge(&out->verdict, ev, &out->declaration, burns->obs, burns->n, want, err);
    if (rc == TB_OK)
        rc = judge_each(out, &worst, ev, burns, err);
    if (rc == TB_OK && worst && out->verdict.kind != TB_CONTRADICTS)
        rc = take_bolt(out, ev, burns, worst, want, err);
    if (rc != TB_OK) {
        tb_lot_verdict_free(out);
        return tb_within(err, rc, "lot %s", burns->ref);
    }
    return TB_OK;
}

tb_rc tb_bench_judge(struct tb_lot_verdict *out, struct tb_book *b, const struct tb_lot *lot,
                     const struct tb_evidence *ev, unsigned want, int64_t upto, struct tb_err *err)
{
    struct tb_arena mem = { 0 };
    struct tb_lot_burns burns;
    tb_rc rc = tb_bench_read(&burns, b, lot, upto, &mem, err);

    *out = (struct tb_lot_verdict){ 0 };
    if (rc == TB_OK)
        rc = tb_bench_weigh(out, &burns, ev, want, err);
    tb_arena_free(&mem);
    return rc;
}

void tb_lot_verdict_free(struct tb_lot_verdict *v)
{
    tb_verdict_free(&v->verdict);
    tb_declaration_free(&v->declaration);
    for (size_t i = 0; i < v->bolts; i++)
        free(v->bolt[i].number);
    free(v->bolt);
    *v = (struct tb_lot_verdict){ 0 };
}

json_t *tb_lot_verdict_json(const struct tb_lot_verdict *v, const struct tb_lot *lot)
{
    json_t *j = tb_verdict_json(&v->verdict, lot->ref, &v->declaration), *list = json_array();

    for (size_t i = 0; i < v->bolts; i++)
        (void)json_array_append_new(
            list, json_pack("{s:s, s:s, s:o, s:I}", "bolt", v->bolt[i].number, "verdict",
                            tb_verdict_key(v->bolt[i].kind), "log_ratio",
                            isnan(v->bolt[i].log_ratio) ? json_null() : json_real(v->bolt[i].log_ratio),
                            "burns", (json_int_t)v->bolt[i].observations));
    (void)json_object_set_new(j, "by_bolt", list);
    (void)json_object_set_new(j, "bolts_burnt", json_integer(lot->bolts_burnt));
    (void)json_object_set_new(j, "bolts", json_integer(lot->bolts));
    return j;
}

/* NAN (not judged) is stored as no evidence either way; the reason stands in the detail. */
static double stored_ratio(const struct tb_verdict *v)
{
    return isnan(v->log_ratio) ? 0.0 : v->log_ratio;
}

static bool same(const struct tb_judged *last, const struct tb_verdict *v, const struct tb_lot *lot)
{
    return strcmp(last->verdict, tb_verdict_key(v->kind)) == 0 &&
           fabs(last->log_ratio - stored_ratio(v)) < 1e-12 && strcmp(last->reference, v->digest) == 0 &&
           last->bolts_burnt == lot->bolts_burnt;
}

static tb_rc hold(struct tb_book *b, const struct tb_lot *lot, const struct tb_verdict *v,
                  struct tb_arena *mem, struct tb_err *err)
{
    struct tb_text why = { 0 };
    struct tb_standing s = { .lot = lot->id, .standing = "held" };
    tb_rc rc;

    tb_text_addf(&why, "held by itself: what was seen contradicts the declaration (evidence ratio %.3g; ",
                 v->ratio);
    tb_bench_coverage(&why, lot->bolts_burnt, lot->bolts);
    tb_text_add(&why, ")");
    s.why = why.s;
    rc = tb_standing_add(&s, b, mem, err);
    tb_text_free(&why);
    return rc;
}

tb_rc tb_bench_record(bool *recorded, bool *held, struct tb_book *b, const struct tb_lot *lot,
                      const struct tb_lot_verdict *v, struct tb_err *err)
{
    struct tb_arena mem = { 0 };
    struct tb_judged last = { 0 }, now = { .lot = lot->id, .verdict = tb_verdict_key(v->verdict.kind) };
    bool fresh, hold_it;
    json_t *json;
    char *detail;
    tb_rc rc = tb_judged_latest(&last, b, lot->id, &mem, err);

    fresh = rc == TB_ENOTFOUND ? v->observations > 0 : rc == TB_OK && !same(&last, &v->verdict, lot);
    hold_it = fresh && v->verdict.kind == TB_CONTRADICTS &&
              (strcmp(lot->standing, "waiting") == 0 || strcmp(lot->standing, "released") == 0);
    if (rc == TB_ENOTFOUND)
        rc = TB_OK;
    if (rc == TB_OK && fresh) {
        json = tb_lot_verdict_json(v, lot);
        detail = json_dumps(json, JSON_COMPACT | JSON_SORT_KEYS | JSON_REAL_PRECISION(17));
        json_decref(json);
        now.log_ratio = stored_ratio(&v->verdict);
        now.bolts_burnt = lot->bolts_burnt;
        now.bolts = lot->bolts;
        now.reference = v->verdict.digest;
        now.detail = detail ? detail : "{}";
        rc = tb_judged_add(&now, b, &mem, err);
        free(detail);
    }
    if (rc == TB_OK && hold_it)
        rc = hold(b, lot, &v->verdict, &mem, err);
    if (rc == TB_OK) {
        if (recorded)
            *recorded = fresh;
        if (held)
            *held = hold_it;
    }
    tb_arena_free(&mem);
    return rc;
}
