/* notice_head.c - from whom to whom, where and when, and what about. */
#include "report/notice/notice_impl.h"

#include "tenterbook/law.h"

#include <stdlib.h>
#include <string.h>
#include <unicase.h>

/* Where the code stands behind the place (addressing of the Universal Postal Union, from memory); elsewhere it stands before. */
static bool code_behind(const char *country)
{
    return tb_word_listed("AU BR CA CN GB IE IN JP KR NZ PK TH TW US", country, strlen(country), " ") &&
           *country;
}

static void line(struct tb_text *t, const char *text)
{
    if (*text)
        tb_text_addf(t, "%s%s", t->n ? "\n" : "", text);
}

/* In the language of the paper and in capitals, as postal services ask for; a country that has no name in it by its code. */
static const char *country_name(struct tb_notice *n, const char *code)
{
    const char *tongue = tb_word(&tb_tongue_words, (int)n->tongue);
    const char *name = *code ? tb_law_country(code, tongue) : NULL;
    struct tb_text t = { 0 };
    uint8_t *capitals;
    size_t len = 0;

    if (!name)
        return code;
    if (strncmp(name, "the ", strlen("the ")) == 0) /* as it stands in an English sentence */
        name += strlen("the ");
    capitals = u8_toupper((const uint8_t *)name, strlen(name), tongue, UNINORM_NFC, NULL, &len);
    if (!capitals)
        return name;
    tb_text_addn(&t, (const char *)capitals, len);
    free(capitals);
    return tb_notice_take(n, &t);
}

/* The country stands below where a letter crosses a border. */
static void place(struct tb_text *t, struct tb_notice *n, const struct tb_address *a, const char *country,
                  const char *other)
{
    struct tb_text town = { 0 };
    bool behind = code_behind(country);

    tb_text_add(&town, behind ? a->place : a->postcode);
    if (*a->place && *a->postcode)
        tb_text_addc(&town, ' ');
    tb_text_add(&town, behind ? a->postcode : a->place);
    line(t, tb_text_str(&town));
    tb_text_free(&town);
    if (*a->place && *country && strcmp(country, other) != 0)
        line(t, country_name(n, country));
}

/* An address of ours may name no country: the book has one. */
static const char *our_country(const struct notice_facts *f)
{
    return *f->from.country ? f->from.country : f->site->country;
}

static void sender(struct tb_notice *n, const struct notice_facts *f)
{
    const struct tb_address *a = &f->from;
    struct tb_text t = { 0 };

    n->from_name = *a->name ? a->name : f->site->name;
    n->from_mail = a->email;
    line(&t, n->from_name);
    line(&t, a->street);
    place(&t, n, a, our_country(f), f->to.country);
    line(&t, a->contact);
    if (*a->phone)
        line(&t, tb_notice_put(n, tb_tr(n->tongue, "Tel. %s"), a->phone));
    line(&t, a->email);
    line(&t, a->registration);
    tb_notice_before(n, NOTICE_SENDER, NULL, tb_notice_take(n, &t));
}

static void recipient(struct tb_notice *n, const struct notice_facts *f)
{
    const struct tb_address *a = &f->to;
    struct tb_text t = { 0 };

    n->to_name = *a->name ? a->name : f->of.lot.supplier_name;
    n->to_mail = a->email;
    line(&t, n->to_name);
    if (*a->contact)
        line(&t, tb_notice_put(n, tb_tr(n->tongue, "Attn. %s"), a->contact));
    line(&t, a->street);
    place(&t, n, a, a->country, our_country(f));
    line(&t, a->registration);
    tb_notice_before(n, NOTICE_ADDRESS, NULL, tb_notice_take(n, &t));
}

/* The title claims a fault only where one was found. */
void tb_notice_letterhead(struct tb_notice *n, const struct notice_facts *f)
{
    const char *day = tb_notice_day(n, n->day);

    n->lacks.sender = !*f->from.place;
    n->lacks.recipient = !*f->to.place;
    n->lacks.language = !*f->to.language && !f->plan->language;
    n->lacks.mail = !*f->from.email;
    sender(n, f);
    recipient(n, f);
    tb_notice_before(n, NOTICE_TEXT, NULL,
                     *f->from.place
                         /* TRANSLATORS: place and day of a letter; "-" keeps it apart from any two words */
                         ? tb_notice_put(n, tb_tr(n->tongue, "%s, %-s"), f->from.place, day)
                         : day);
    n->subject = tb_notice_put(n,
                               f->of.concluded.kind == TB_DOES_NOT
                                   ? tb_tr(n->tongue, "Notice: goods not as declared (lot %s)")
                                   : tb_tr(n->tongue, "Notice: doubt whether goods are as declared (lot %s)"),
                               f->of.lot.ref);
    tb_notice_before(n, NOTICE_TITLE, NULL, n->subject);
}
