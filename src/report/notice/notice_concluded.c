/* notice_concluded.c - what was found, and how sure that is: the one conclusion of the lot, and no more than it. */
#include "report/notice/notice_impl.h"

#include "tenterbook/law.h"
#include "tenterbook/stored_verdict.h"
#include "tenterbook/tell.h"

#include <math.h>
#include <string.h>

/* What markets are called when a tolerance is said to be theirs. */
static const struct {
    const char *key, *name;
} market[] = {
    { "eu", TR_("European Union") }, { "us", TR_("United States") }, { "ca", TR_("Canada") },
    { "gb", TR_("Great Britain") },  { "tr", TR_("Turkey") },        { "cn", TR_("China") },
    { "jp", TR_("Japan") },          { "kr", TR_("Korea") },         { "tw", TR_("Taiwan") },
    { "au", TR_("Australia") },      { "nz", TR_("New Zealand") },   { "br", TR_("Brazil") },
};

static void market_name(struct tb_text *out, enum tb_tongue tongue, const char *key, size_t len)
{
    for (size_t i = 0; i < TB_COUNT(market); i++)
        if (strlen(market[i].key) == len && strncmp(market[i].key, key, len) == 0) {
            tb_text_add(out, tb_tr(tongue, market[i].name));
            return;
        }
    tb_text_addn(out, key, len);
}

static const char *markets(struct tb_notice *n, const char *keys)
{
    struct tb_text t = { 0 };

    for (const char *p = keys; *p; p += strspn(p, " ")) {
        size_t len = strcspn(p, " ");

        if (t.n)
            tb_text_add(&t, tb_tr(n->tongue, ", "));
        market_name(&t, n->tongue, p, len);
        p += len;
    }
    return tb_notice_take(n, &t);
}

/* As many digits as every page gives it, and no further than the verdict went. */
static const char *times(struct tb_notice *n, const struct tb_told_verdict *v)
{
    double t = exp(fabs(tb_bounded(&v->bounds, v->log_ratio)));

    return tb_notice_figure(n, t, t < 9.95 ? 1 : 0);
}

static const char *by_bench(struct tb_notice *n, const struct tb_told_verdict *v, bool shown)
{
    enum tb_tongue to = n->tongue;
    bool most = tb_bounds_reached(&v->bounds, v->log_ratio) != 0;

    if (v->at_odds)
        return tb_tr(to, "What was seen contradicts itself, which leaves a doubt about the declaration.");
    if (isnan(v->log_ratio) || v->log_ratio >= 0)
        return shown ? tb_tr(to, "What was seen does not fit the declaration.")
                     : tb_tr(to, "What was seen leaves a doubt about the declaration.");
    if (shown)
        return tb_notice_put(
            n,
            most ? tb_tr(to, "What was seen contradicts the declaration: it is at least %s times "
                             "likelier from something else that burns differently, and more than "
                             "that is not claimed.")
                 : tb_tr(to, "What was seen contradicts the declaration: it is %s times likelier "
                             "from something else that burns differently."),
            times(n, v));
    return tb_notice_put(
        n,
        tb_tr(to, "What was seen leaves a doubt about the declaration: it is %s times likelier from "
                  "something else that burns differently."),
        times(n, v));
}

static const char *laboratory_says(struct tb_notice *n, const struct tb_concluded *c)
{
    enum tb_tongue to = n->tongue;
    const char *found;

    if (c->open == TB_OPEN_DISAGREE)
        return c->apart
                   ? tb_tr(to, "Laboratories disagree about the goods.")
                   : tb_tr(to, "Laboratories disagree about the goods: by one result they are as declared, "
                               "by another they are not.");
    if (c->kind != TB_DOES_NOT)
        return tb_tr(
            to, "A laboratory has answered, and within its uncertainty it cannot be said whether the goods "
                "are as declared.");
    if (!*c->markets)
        return tb_tr(to, "A laboratory found that the goods are not as declared.");
    found = tb_notice_put(
        n, tb_tr(to, "A laboratory found that the goods are not as declared, under the tolerances of: %s."),
        markets(n, c->markets));
    return *c->kept ? tb_notice_two(n, found,
                                    tb_notice_put(n, tb_tr(to, "Under those of %s they are as declared."),
                                                  markets(n, c->kept)))
                    : found;
}

static const char *by_laboratory(struct tb_notice *n, const struct tb_concluded *c)
{
    const char *says = laboratory_says(n, c);

    return c->apart ? tb_notice_two(n, says, tb_labs_apart_words(n->tongue)) : says;
}

/* The bolts that contradict by themselves, as the conclusion names them: "B1, B2". */
static const char *bolts_named(struct tb_notice *n, const char *bolts)
{
    struct tb_text t = { 0 };

    for (const char *p = bolts; *p; p++)
        if (p[0] == ',' && p[1] == ' ')
            tb_text_add(&t, tb_tr(n->tongue, ", ")), p++;
        else
            tb_text_addc(&t, *p);
    return tb_notice_take(n, &t);
}

/* What the cloth is found to be, as page one of the case has it; NULL: the verdict is not kept with that. */
static const char *likeliest(struct tb_notice *n, const struct notice_facts *f)
{
    struct tb_stored_verdict v;
    struct tb_text all = { 0 };
    bool differ = false;
    struct tb_err unread;

    for (size_t i = 0; i < f->of.judgeds; i++) {
        const struct tb_judged *j = &f->of.judged[i];

        if (strcmp(j->id, f->of.concluded.record) != 0 || !j->detail ||
            tb_stored_verdict_parse(&v, j->detail, &n->mem, &unread) != TB_OK)
            continue;
        tb_likely_words(&all, n->tongue, &v);
        differ = tb_bolts_differ(&v);
    }
    return all.n ? tb_notice_put(
                       n,
                       differ ? tb_tr(n->tongue, "By what was seen, the bolts are likeliest: %s. That names "
                                                 "kinds of fibre; burns and bench tests measure no "
                                                 "percentages.")
                              : tb_tr(n->tongue, "By what was seen, the cloth is likeliest: %s. That names "
                                                 "kinds of fibre; burns and bench tests measure no "
                                                 "percentages."),
                       tb_notice_take(n, &all))
                 : NULL;
}

void tb_notice_concluded(struct tb_notice *n, const struct notice_facts *f)
{
    const struct tb_concluded *c = &f->of.concluded;
    const char *likely = c->by != TB_BY_LABORATORY && (c->kind == TB_DOES_NOT || c->open == TB_OPEN_AGAINST)
                             ? likeliest(n, f)
                             : NULL;
    const char *found =
        c->by == TB_BY_LABORATORY ? by_laboratory(n, c) : by_bench(n, &c->told, c->kind == TB_DOES_NOT);

    if (c->by != TB_BY_LABORATORY && *c->bolts)
        found =
            tb_notice_put(n, tb_tr(n->tongue, "%s %s"), found,
                          tb_notice_put(n,
                                        tb_tr(n->tongue, "Each judged by itself, these bolts contradict the "
                                                         "declaration: %s."),
                                        bolts_named(n, c->bolts)));
    tb_notice_before(n, NOTICE_HEADING, NULL, tb_tr(n->tongue, "What was found"));
    tb_notice_before(n, NOTICE_TEXT, NULL, found);
    if (likely)
        tb_notice_before(n, NOTICE_TEXT, NULL, likely);
}
