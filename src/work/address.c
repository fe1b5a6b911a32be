/* Setting an address: how to write to a supplier, or what stands above our own letters. What is not said stays. */
#include "tenterbook/address.h"

#include "base/say.h"
#include "work/act.h"

#include <string.h>

/* Lines of nothing but blanks are none: one of them alone takes the street back. */
static tb_rc streets(const char **out, const struct tb_address_request *r, struct tb_job *j)
{
    struct tb_text t = { 0 };

    if (r->streets > TB_STREETS_MOST)
        return tb_about(j->err,
                        tb_fail(j->err, TB_EINVAL, "%zu lines of a street are given; an address takes %d",
                                r->streets, TB_STREETS_MOST),
                        "street");
    for (size_t i = 0; i < r->streets; i++) {
        if (strpbrk(r->street[i], "\r\n")) {
            tb_text_free(&t);
            return tb_fail(j->err, TB_EINVAL, "%s goes over more than one line", _("the street"));
        }
        if (r->street[i][strspn(r->street[i], " ")])
            tb_text_addf(&t, "%s%s", t.n ? "\n" : "", r->street[i]);
    }
    *out = tb_arena_take(j->mem, &t);
    return TB_OK;
}

static void change(const char **member, const char *said)
{
    if (said)
        *member = said;
}

static tb_rc plan(struct tb_job *j)
{
    const struct tb_address_request *r = j->request;
    struct tb_address *a = j->out;
    struct tb_supplier s = { 0 };
    tb_rc rc = r->supplier ? tb_supplier_find(&s, j->b, r->supplier, j->mem, j->err) : TB_OK;

    if (rc != TB_OK || (rc = tb_address_of(a, j->b, s.id, j->mem, j->err)) != TB_OK)
        return rc;
    a->supplier = s.id;
    a->supplier_name = s.name;
    change(&a->name, r->name);
    change(&a->postcode, r->postcode);
    change(&a->place, r->place);
    change(&a->country, r->country);
    change(&a->contact, r->contact);
    change(&a->email, r->email);
    change(&a->phone, r->phone);
    change(&a->registration, r->registration);
    change(&a->language, r->language);
    j->subject = s.id ? s.name : tb_book_site(j->b)->code;
    return r->streets ? streets(&a->street, r, j) : TB_OK;
}

static tb_rc write(struct tb_job *j)
{
    return tb_address_add(j->out, j->b, j->mem, j->err);
}

static const struct tb_said said[] = {
    TB_SAYS(tb_address_request, supplier, N_("the supplier")),
    TB_SAYS(tb_address_request, name, N_("the name")),
    TB_SAYS_ALL(tb_address_request, street, streets, N_("the street")),
    TB_SAYS(tb_address_request, postcode, N_("the postcode")),
    TB_SAYS(tb_address_request, place, N_("the place")),
    TB_SAYS(tb_address_request, country, N_("the country")),
    TB_SAYS(tb_address_request, contact, N_("the contact")),
    TB_SAYS(tb_address_request, email, N_("the e-mail address")),
    TB_SAYS(tb_address_request, phone, N_("the telephone number")),
    TB_SAYS(tb_address_request, registration, N_("the registration")),
    TB_SAYS(tb_address_request, language, N_("the language")),
    TB_SAYS_NO_MORE,
};

tb_rc tb_act_address(struct tb_address *out, const struct tb_actor *actor,
                     const struct tb_address_request *request, struct tb_arena *mem, struct tb_err *err)
{
    static const struct tb_act act = { .verb = TB_VERB_ADDRESS,
                                       .plan = plan,
                                       .write = write,
                                       .size = sizeof(struct tb_address_request),
                                       .said = said };
    tb_rc rc = tb_act_do(&act, &(struct tb_job){ .request = request, .out = out, .mem = mem }, actor, err);

    out->set_by = actor->who;
    return rc;
}
