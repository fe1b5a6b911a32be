/* The verdict on a lot, and what it does to the lot's standing. */
#include "tenterbook/bench.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

tb_rc tb_bench_judge(struct tb_lot_verdict *out, struct tb_book *b, const struct tb_lot *lot,
                     const struct tb_evidence *ev, unsigned want, int64_t upto, struct tb_err *err)
{
    struct tb_observation *obs = NULL;
    const char *declared = "";
    struct tb_arena mem = { 0 };
    size_t n = 0;
    tb_rc rc;

    *out = (struct tb_lot_verdict){ 0 };
    rc = tb_bench_observations(&obs, &n, b, lot->id, upto, &mem, err);
    if (rc == TB_OK)
        rc = tb_declaration_upto(&declared, b, lot->id, upto, &mem, err);
    if (rc == TB_OK) {
        tb_declaration_read(&out->declaration, declared, strlen(declared));
        rc = tb_evidence_judge(&out->verdict, ev, &out->declaration, obs, n, want, err);
        out->observations = n;
    }
    tb_arena_free(&mem);
    if (rc != TB_OK) {
        tb_declaration_free(&out->declaration);
        *out = (struct tb_lot_verdict){ 0 };
        return tb_within(err, rc, "lot %s", lot->ref);
    }
    return TB_OK;
}

void tb_lot_verdict_free(struct tb_lot_verdict *v)
{
    tb_verdict_free(&v->verdict);
    tb_declaration_free(&v->declaration);
    *v = (struct tb_lot_verdict){ 0 };
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
        json = tb_verdict_json(&v->verdict, lot->ref, &v->declaration);
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
