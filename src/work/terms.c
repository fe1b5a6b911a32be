/* Setting terms: how long there is to tell a supplier. What nothing new is said of stays as it was. */
#include "tenterbook/act_claim.h"
#include "work/act.h"

#include <string.h>

/* Terms being set: they start as those in force and take what is new. */
struct setting_terms {
    const struct tb_terms_request *request;
    struct tb_supplier_term *out;
    struct tb_arena *mem;
};

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
static tb_rc before(struct setting_terms *s, struct tb_book *b, struct tb_err *err)
{
    const struct tb_terms_request *r = s->request;
    struct tb_supplier supplier = { 0 };
    struct tb_supplier_term *set;
    size_t n;
    tb_rc rc = r->supplier ? tb_supplier_find(&supplier, b, r->supplier, s->mem, err) : TB_OK;

    *s->out = no_terms;
    if (rc != TB_OK || (rc = tb_supplier_term_list(&set, &n, b, s->mem, err)) != TB_OK)
        return rc;
    for (size_t i = 0; i < n; i++)
        if (is_for(&set[i], supplier.id, r->country))
            *s->out = set[i];
    s->out->supplier = supplier.id;
    s->out->supplier_name = supplier.name;
    if (r->country)
        s->out->country = r->country;
    return TB_OK;
}

static const char *joined(const char *const *word, size_t n, struct tb_arena *mem)
{
    struct tb_text t = { 0 };
    const char *out;

    for (size_t i = 0; i < n; i++)
        tb_text_addf(&t, "%s%s", i ? " " : "", word[i]);
    out = tb_arena_strdup(mem, tb_text_str(&t));
    tb_text_free(&t);
    return out;
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

static tb_rc plan(void *arg, bool *write, struct tb_book *b, struct tb_err *err)
{
    struct setting_terms *s = arg;
    tb_rc rc = before(s, b, err);

    (void)write;
    if (rc == TB_OK)
        change(s->out, s->request, s->mem);
    return rc;
}

/* The journal names whom the terms are for; "*" stands for everybody. */
static tb_rc write(void *arg, struct tb_book *b, struct tb_err *err)
{
    struct setting_terms *s = arg;
    struct tb_supplier_term *t = s->out;

    tb_book_subject(b, t->supplier ? t->supplier_name : *t->country ? t->country : "*");
    return tb_supplier_term_add(t, b, s->mem, err);
}

tb_rc tb_act_terms(struct tb_supplier_term *out, const struct tb_actor *actor,
                   const struct tb_terms_request *request, struct tb_arena *mem, struct tb_err *err)
{
    static const struct tb_act act = { "terms", plan, NULL, write };
    struct setting_terms s = { request, out, mem };
    tb_rc rc = tb_act_do(&act, &s, actor, err);

    out->set_by = actor->who;
    return rc;
}
