/* Suppliers' records as JSON. */
#include "tenterbook/tell.h"

#include <stdlib.h>

/* An interval; null where no lot was judged: "0 to 1" would look like a finding. */
static json_t *pair(const struct tb_tally *own, const double limit[2])
{
    return own->lots ? json_pack("{s:f, s:f}", "lo", limit[0], "hi", limit[1]) : json_null();
}

#define RECORD(member, key) TB_JSON_AS(struct tb_record, member, key)
TB_JSON_MEMBERS(change_members, RECORD(cusum.p0, "usual"), RECORD(cusum.p1, "tuned_to"),
                RECORD(run, "run_asked"), RECORD(cusum.up, "up"), RECORD(cusum.alarm, "alarm"),
                RECORD(cusum.run_usual, "run_usual"), RECORD(cusum.run_found, "run_found"));
TB_JSON_MEMBERS(own_members, RECORD(own.lots, "judged"), RECORD(own.wrong, "wrong"),
                RECORD(conf, "confidence"));

static json_t *change(const struct tb_record *r)
{
    json_t *o = tb_json_of(change_members, r);

    if (r->alarm_at < r->n) {
        tb_json_put(o, "noticed_with", tb_json_text(r->lot[r->alarm_at].ref));
        tb_json_put(o, "noticed_on", tb_json_text(r->lot[r->alarm_at].arrived));
        tb_json_put(o, "began", tb_json_text(r->lot[r->since].arrived));
    }
    return o;
}

#define MONTH(member, key) TB_JSON_AS(struct tb_record_month, member, key)
TB_JSON_MEMBERS(month_members, MONTH(month, "month"), MONTH(lots, "lots"), MONTH(wrong, "wrong"),
                MONTH(low, "low"), MONTH(high, "high"));

static tb_rc put_months(json_t *o, const struct tb_record *r, struct tb_err *err)
{
    struct tb_record_month *m = tb_array(struct tb_record_month, r->n + 1);
    size_t n = 0;
    tb_rc rc = tb_record_months(m, &n, r, err);

    if (rc == TB_OK)
        tb_json_put(o, "months", tb_json_all(month_members, m, n));
    free(m);
    return rc;
}

#define POST(member, key) TB_JSON_AS(struct tb_posterior, member, key)
TB_JSON_MEMBERS(post_members, POST(beta.a, "a"), POST(beta.b, "b"), POST(mean, "mean"), POST(lo, "lo"),
                POST(hi, "hi"));

/* Where only a tally is known there is no history, and the keys of one are left out. */
tb_rc tb_json_supplier_record(json_t **out, const struct tb_supplier_record *s, struct tb_err *err)
{
    const struct tb_record *r = &s->record;
    double weight = r->prior.a + r->prior.b;
    json_t *o =
        json_pack("{s:o, s:I}", "supplier", tb_json_text(s->supplier.name), "lots", (json_int_t)s->lots);
    char *why;
    tb_rc rc = TB_OK;

    tb_json_add(o, own_members, TB_COUNT(own_members), r);
    tb_json_put(o, "posterior", tb_json_of(post_members, &r->post));
    tb_json_put(o, "prior",
                json_pack("{s:f, s:f, s:f, s:f, s:s, s:f, s:f}", "a", r->prior.a, "b", r->prior.b, "mean",
                          r->prior.a / weight, "weight", weight, "from", s->prior_own ? "site" : "published",
                          "weight_low", r->belief ? r->belief->lightest : weight, "weight_high",
                          r->belief ? r->belief->heaviest : weight));
    tb_json_put(o, "exact", pair(&r->own, r->exact));
    tb_json_put(o, "jeffreys", pair(&r->own, r->jeffreys));
    if (s->supplier.name) {
        why = tb_record_why(r);
        tb_json_put(o, "inspection", json_string(tb_inspection_key(r->state.now)));
        tb_json_put(o, "advice", json_string(tb_advice_key(r->advice)));
        tb_json_put(o, "why", tb_json_text(why));
        tb_json_put(o, "change", change(r));
        free(why);
        rc = put_months(o, r, err);
    }
    if (rc != TB_OK)
        json_decref(o);
    else
        *out = o;
    return rc;
}

#define SHARE(member) TB_JSON_AS(struct tb_posterior, member, #member)
TB_JSON_MEMBERS(share_members, SHARE(mean), SHARE(lo), SHARE(hi));
#define TALLY(member, key) TB_JSON_AS(struct tb_tally, member, key)
TB_JSON_MEMBERS(tally_members, TALLY(lots, "judged"), TALLY(wrong, "wrong"));

json_t *tb_json_suppliers(const struct tb_tallies *t, const struct tb_posterior *p,
                          const struct tb_belief *belief)
{
    json_t *list = json_array(), *one;

    for (size_t i = 0; i < t->n; i++) {
        one = json_pack("{s:o}", "supplier", tb_json_text(t->name[i]));
        tb_json_add(one, tally_members, TB_COUNT(tally_members), &t->tally[i]);
        tb_json_add(one, share_members, TB_COUNT(share_members), &p[i]);
        tb_json_push(list, one);
    }
    return json_pack("{s:{s:f, s:f, s:s, s:f, s:f}, s:o}", "prior", "a", belief->fit.a, "b", belief->fit.b,
                     "from", belief->own ? "site" : "published", "weight_low", belief->lightest,
                     "weight_high", belief->heaviest, "suppliers", list);
}
