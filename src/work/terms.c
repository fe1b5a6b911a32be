/* Setting terms: how long there is to tell a supplier. What nothing new is said of stays as it was. */
#include "base/say.h"
#include "tenterbook/act_claim.h"
#include "work/act.h"

#include <string.h>

static const struct tb_supplier_term no_terms = {
    .country = "", .laws = "", .stands_in = "", .open_days = TB_CLAIM_NO_TERM, .hidden_days = TB_CLAIM_NO_TERM
};

/* Terms are known by whom they are for: a supplier, a country, or everybody. */
static bool is_for(const struct tb_supplier_term *t, const char *supplier_id, const char *country)
{
    if (supplier_id)
        return t->supplier && strcmp(t->supplier, supplier_id) == 0;
    return !t->supplier && strcmp(t->country, country ? country : "") == 0;
}

/* What is in force now for the same suppliers. */
static tb_rc before(struct tb_supplier_term *out, const struct tb_terms_request *r, struct tb_job *j)
{
    struct tb_supplier supplier = { 0 };
    struct tb_supplier_term *set;
    size_t n;
    tb_rc rc = r->supplier ? tb_supplier_find(&supplier, j->b, r->supplier, j->mem, j->err) : TB_OK;

    *out = no_terms;
    if (rc != TB_OK || (rc = tb_supplier_term_list(&set, &n, j->b, j->mem, j->err)) != TB_OK)
        return rc;
    for (size_t i = 0; i < n; i++)
        if (is_for(&set[i], supplier.id, r->country))
            *out = set[i];
    out->supplier = supplier.id;
    out->supplier_name = supplier.name;
    if (r->country)
        out->country = r->country;
    return TB_OK;
}

static const char *joined(const char *const *word, size_t n, struct tb_arena *mem)
{
    struct tb_text t = { 0 };

    for (size_t i = 0; i < n; i++)
        tb_text_addf(&t, "%s%s", i ? " " : "", word[i]);
    return tb_arena_take(mem, &t);
}

/* What the request does not mention stays: a person who adds a day does not repeat the laws. */
static void change(struct tb_supplier_term *t, const struct tb_terms_request *r, struct tb_arena *mem)
{
    if (r->afresh) {
        t->laws = t->stands_in = "";
        t->open_days = t->hidden_days = TB_CLAIM_NO_TERM;
        t->working = t->before_cutting = false;
    }
    t->before_cutting = t->before_cutting || r->before_cutting;
    if (r->laws)
        t->laws = joined(r->law, r->laws, mem);
    if (r->open_days)
        t->open_days = *r->open_days;
    if (r->hidden_days)
        t->hidden_days = *r->hidden_days;
    if (r->working)
        t->working = *r->working;
    if (r->stands_in)
        t->stands_in = r->stands_in;
}

/* The journal names whom the terms are for; "*" stands for everybody. */
static tb_rc plan(struct tb_job *j)
{
    struct tb_supplier_term *t = j->out;
    tb_rc rc = before(t, j->request, j);

    if (rc == TB_OK)
        change(t, j->request, j->mem);
    j->subject = t->supplier ? t->supplier_name : *t->country ? t->country : "*";
    return rc;
}

static tb_rc write(struct tb_job *j)
{
    return tb_supplier_term_add(j->out, j->b, j->mem, j->err);
}

static const struct tb_said said[] = {
    TB_SAYS(tb_terms_request, supplier, N_("the supplier")),
    TB_SAYS(tb_terms_request, country, N_("the country")),
    TB_SAYS_ALL(tb_terms_request, law, laws, N_("the key of a law")),
    TB_SAYS(tb_terms_request, stands_in, N_("where the terms stand")),
    TB_SAYS_NO_MORE,
};

tb_rc tb_act_terms(struct tb_supplier_term *out, const struct tb_actor *actor,
                   const struct tb_terms_request *request, struct tb_arena *mem, struct tb_err *err)
{
    static const struct tb_act act = { .verb = TB_VERB_TERMS,
                                       .plan = plan,
                                       .write = write,
                                       .size = sizeof(struct tb_terms_request),
                                       .said = said };
    struct tb_job job = { .request = request, .out = out, .mem = mem };
    tb_rc rc = tb_act_do(&act, &job, actor, err);

    out->set_by = actor->who;
    return rc;
}
