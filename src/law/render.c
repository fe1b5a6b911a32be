/*
 * render.c - an answer as plain text and as JSON.
 *
 * Keys of JSON and the words "fault", "advice", "note" are for programs and stay as they are in every language.
 */
#include "tenterbook/law.h"

#include "base/say.h"

#include <jansson.h>
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

void tb_law_print(struct tb_text *out, const struct tb_law_answer *a)
{
    market_print(out, a);
    tb_text_addf(out, ": %s\n",
                 a->rules == 0 ? _("no rule was looked at")
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

static json_t *finding_json(const struct tb_finding *f)
{
    return json_pack("{s:s, s:s, s:s, s:s, s:s, s:s, s:s}", "clause", f->clause, "severity",
                     tb_severity_key(f->severity), "message", f->message, "rule", f->rule, "says", f->says,
                     "source", f->source, "status", f->status);
}

char *tb_law_json(const struct tb_law_answer *a)
{
    json_t *findings = json_array(), *wording = json_array(), *all;
    char *text;

    for (size_t i = 0; i < a->n; i++)
        (void)json_array_append_new(findings, finding_json(&a->finding[i]));
    for (size_t i = 0; i < a->wordings; i++)
        (void)json_array_append_new(wording, json_string(a->wording[i]));
    all = json_pack("{s:s, s:b, s:i, s:o, s:o, s:s?, s:s, s:s, s:s, s:s, s:s}", "market", a->market.key, "ok",
                    a->ok, "rules", (int)a->rules, "findings", findings, "wording", wording, "no_wording",
                    a->refusal, "regime", a->regime, "coverage", tb_coverage_key(a->market.coverage),
                    "rules_as_of", a->market.as_of, "law", a->market.law, "caution", caution());
    text = json_dumps(all, JSON_COMPACT);
    json_decref(all);
    return text;
}
