/* A supplier's record: why the advice is what it is, and all of it as JSON. */
#include "base/say.h"
#include "tenterbook/tell.h"

#include <stdlib.h>

char *tb_record_why(const struct tb_record *r)
{
    struct tb_text t = { 0 };

    switch (r->ground) {
    case TB_GROUND_RULE:
        tb_text_add(&t, _(r->state.why));
        break;
    case TB_GROUND_CHANGE:
        tb_text_addf(&t, _("more lots were wrong than usual, noticed with lot %s on %s"),
                     r->lot[r->alarm_at].ref, r->lot[r->alarm_at].arrived);
        break;
    case TB_GROUND_NOT_JUDGED:
        tb_text_add(&t, _("no lot of theirs was judged yet"));
        break;
    case TB_GROUND_NOTHING:
        tb_text_add(&t, _("nothing in the record asks for a change"));
        break;
    }
    return tb_text_take(&t);
}

/* An interval; null where no lot was judged: "0 to 1" would look like a finding. */
static json_t *pair(const struct tb_tally *own, const double limit[2])
{
    return own->lots ? json_pack("{s:f, s:f}", "lo", limit[0], "hi", limit[1]) : json_null();
}

static json_t *change(const struct tb_record *r)
{
    json_t *o =
        json_pack("{s:f, s:f, s:f, s:I, s:I, s:f, s:f}", "usual", r->cusum.p0, "tuned_to", r->cusum.p1,
                  "run_asked", r->run, "up", (json_int_t)r->cusum.up, "alarm", (json_int_t)r->cusum.alarm,
                  "run_usual", r->cusum.run_usual, "run_found", r->cusum.run_found);

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
    json_t *o = json_pack("{s:o, s:I, s:I, s:I, s:f}", "supplier", tb_json_text(s->supplier.name), "lots",
                          (json_int_t)s->lots, "judged", (json_int_t)r->own.lots, "wrong",
                          (json_int_t)r->own.wrong, "confidence", r->conf);
    char *why;
    tb_rc rc = TB_OK;

    tb_json_put(o, "posterior", tb_json_of(post_members, &r->post));
    tb_json_put(o, "prior",
                json_pack("{s:f, s:f, s:f, s:f, s:s}", "a", r->prior.a, "b", r->prior.b, "mean",
                          r->prior.a / weight, "weight", weight, "from",
                          s->prior_own ? "site" : "published"));
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
