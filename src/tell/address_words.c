/* Addresses in words and as JSON. */
#include "base/say.h"
#include "tenterbook/tell.h"

#include <string.h>

/* "12 Quay Road, Hall 3": lines of a letter, in one line. */
static void streets(struct tb_text *out, const char *street)
{
    for (const char *p = street; *p; p++)
        tb_text_addn(out, *p == '\n' ? ", " : p, *p == '\n' ? 2 : 1);
}

static void line(struct tb_text *out, const char *label, const char *value)
{
    if (*value)
        tb_text_addf(out, "  %s: %s\n", label, value);
}

void tb_address_words(struct tb_text *out, const struct tb_address *a, const char *site_name)
{
    struct tb_text street = { 0 };

    streets(&street, a->street);
    if (a->supplier)
        tb_text_addf(out, "%s\n", a->supplier_name);
    else
        tb_text_say(out, "%s (ours)\n", site_name);
    line(out, _("name"), a->name);
    line(out, _("street"), tb_text_str(&street));
    line(out, _("postcode"), a->postcode);
    line(out, _("place"), a->place);
    line(out, _("country"), a->country);
    line(out, _("contact"), a->contact);
    line(out, _("e-mail"), a->email);
    line(out, _("telephone"), a->phone);
    line(out, _("registration"), a->registration);
    line(out, _("language of papers"), a->language);
    tb_text_free(&street);
}

#define ADDRESS(member) TB_JSON_AS(struct tb_address, member, #member)
TB_JSON_MEMBERS(members, ADDRESS(name), ADDRESS(postcode), ADDRESS(place), ADDRESS(country), ADDRESS(contact),
                ADDRESS(email), ADDRESS(phone), ADDRESS(registration), ADDRESS(language), ADDRESS(set_at),
                ADDRESS(set_by));

json_t *tb_json_address(const struct tb_address *a)
{
    json_t *j = json_object(), *street = json_array();

    tb_json_put(j, "supplier", a->supplier ? tb_json_text(a->supplier_name) : json_null());
    for (const char *p = a->street; *p; p += *p == '\n') {
        size_t n = strcspn(p, "\n");

        tb_json_push(street, json_stringn(p, n));
        p += n;
    }
    tb_json_put(j, "street", street);
    tb_json_add(j, members, TB_COUNT(members), a);
    return j;
}
