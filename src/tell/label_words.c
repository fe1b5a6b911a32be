/* What the law of each market says of a label, in words and as JSON. */
#include "base/say.h"
#include "tenterbook/tell.h"

#include <string.h>

static const char *caution(void)
{
    return _("Information, not legal advice: the official text and local counsel decide.");
}

/* How a rule came to be here, where nobody read its text; NULL: it was read. Other words stand for themselves. */
static const char *standing_of(const char *status)
{
    static const struct {
        const char *status, *says;
    } known[] = { { "seen", NULL },
                  { "memory", N_("rule from memory, not checked") },
                  { "second-hand", N_("rule read second-hand") },
                  { "reading", N_("our reading of the text") } };

    for (size_t i = 0; i < TB_COUNT(known); i++)
        if (strcmp(known[i].status, status) == 0)
            return known[i].says ? _(known[i].says) : NULL;
    return status;
}

static void finding_print(struct tb_text *out, const struct tb_finding *f)
{
    const char *standing = standing_of(f->status);

    tb_text_addf(out, "  %-6s  %s: %s", tb_severity_key(f->severity), f->clause, f->message);
    if (standing)
        tb_text_addf(out, " [%s]", standing);
    tb_text_addc(out, '\n');
}

/* "United States (us, textile)" */
static void market_print(struct tb_text *out, const struct tb_law_answer *a)
{
    if (a->regime[0])
        tb_text_addf(out, "%s (%s, %s)", a->market.name, a->market.key, a->regime);
    else
        tb_text_addf(out, "%s (%s)", a->market.name, a->market.key);
}

static void wording_print(struct tb_text *out, const struct tb_law_answer *a)
{
    for (size_t i = 0; i < a->wordings; i++)
        tb_text_addf(out, i ? "                 %s\n" : _("  a label may say: %s\n"), a->wording[i]);
    if (a->refusal)
        tb_text_addf(out, _("  no wording: %s\n"), a->refusal);
}

void tb_law_words(struct tb_text *out, const struct tb_law_answer *a)
{
    market_print(out, a);
    tb_text_addf(out, ": %s\n",
                 a->rules == 0 ? _("not known, for no rule was looked at")
                 : !a->known   ? _("not known, for the rules that are known here do not decide it")
                 : a->ok       ? _("the words may stand")
                               : _("the words may not stand"));
    if (a->market.coverage != TB_COVERAGE_FULL)
        tb_text_add(out, _("  the rules of this market are known only in part here\n"));
    for (size_t i = 0; i < a->n; i++)
        finding_print(out, &a->finding[i]);
    wording_print(out, a);
    tb_text_addf(out, _("  Rules looked up by %s; source: %s. %s\n"), a->market.as_of, a->market.law,
                 caution());
}

void tb_label_words(struct tb_text *out, const struct tb_label_outcome *o)
{
    char standing[TB_COUNTED];

    if (o->lot.ref)
        tb_text_say(out, "Lot %s: \"%s\"\n", o->lot.ref, o->text);
    if (o->lot.ref && (o->lot.released_in_part || o->lot.returned_in_part))
        tb_text_say(out, "The lot is %s; a label does not release the others.\n",
                    tb_lot_standing_words(standing, TB_READER, &o->lot));
    if (o->found)
        tb_text_say(out, "A laboratory found: %s\n", o->found);
    for (size_t i = 0; i < o->n; i++) {
        if (i || o->lot.ref)
            tb_text_addc(out, '\n');
        tb_law_words(out, &o->answer[i]);
    }
}

#define FINDING(member) TB_JSON_AS(struct tb_finding, member, #member)
TB_JSON_MEMBERS(finding_members, FINDING(clause),
                TB_JSON_WORD_AS(struct tb_finding, severity, "severity", &tb_severity_words),
                FINDING(message), FINDING(rule), FINDING(says), FINDING(source), FINDING(status));

json_t *tb_json_law(const struct tb_law_answer *a)
{
    json_t *wording = json_array();

    for (size_t i = 0; i < a->wordings; i++)
        tb_json_push(wording, json_string(a->wording[i]));
    return json_pack("{s:s, s:o, s:i, s:o, s:o, s:s?, s:s, s:s, s:s, s:s, s:s}", "market", a->market.key,
                     "ok", a->known ? json_boolean(a->ok) : json_null(), "rules", (int)a->rules, "findings",
                     tb_json_all(finding_members, a->finding, a->n), "wording", wording, "no_wording",
                     a->refusal, "regime", a->regime, "coverage", tb_coverage_key(a->market.coverage),
                     "rules_as_of", a->market.as_of, "law", a->market.law, "caution", caution());
}

json_t *tb_json_label(const struct tb_label_outcome *o)
{
    json_t *all = json_array(), *one = NULL;
    char standing[TB_COUNTED];

    for (size_t i = 0; i < o->n; i++) {
        one = tb_json_law(&o->answer[i]);
        if (o->lot.ref) {
            tb_json_put(one, "lot", json_string(o->lot.ref));
            tb_json_put(one, "text", tb_json_text(o->text));
            tb_json_put(one, "standing", tb_json_text(tb_lot_standing_words(standing, TB_READER, &o->lot)));
            tb_json_put(one, "actual", tb_json_text(o->found));
        }
        tb_json_push(all, one);
    }
    if (o->n != 1)
        return all;
    (void)json_incref(one);
    json_decref(all);
    return one;
}
