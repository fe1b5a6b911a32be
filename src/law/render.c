/* An answer as plain text and as JSON. */
#include "tenterbook/law.h"

#include <jansson.h>
#include <string.h>

static const char caution[] = "Information, not legal advice: the official text and local counsel decide.";

static void finding_print(struct tb_text *out, const struct tb_finding *f)
{
    tb_text_addf(out, "  %-6s  %s: %s", tb_severity_key(f->severity), f->clause, f->message);
    if (strcmp(f->status, "seen") != 0)
        tb_text_addf(out, " [%s]",
                     strcmp(f->status, "memory") == 0        ? "rule from memory, not checked"
                     : strcmp(f->status, "second-hand") == 0 ? "rule read second-hand"
                     : strcmp(f->status, "reading") == 0     ? "our reading of the text"
                                                             : f->status);
    tb_text_addc(out, '\n');
}

void tb_law_print(struct tb_text *out, const struct tb_law_answer *a)
{
    tb_text_addf(out, "%s (%s%s%s): %s\n", a->market.name, a->market.key, a->regime[0] ? ", " : "", a->regime,
                 a->ok ? "the words may stand" : "the words may not stand");
    if (strcmp(a->market.coverage, "full") != 0)
        tb_text_add(out, "  the rules of this market are known only in part here\n");
    for (size_t i = 0; i < a->n; i++)
        finding_print(out, &a->finding[i]);
    for (size_t i = 0; i < a->wordings; i++)
        tb_text_addf(out, "%s%s\n", i ? "                 " : "  a label may say: ", a->wording[i]);
    if (a->refusal)
        tb_text_addf(out, "  no wording: %s\n", a->refusal);
    tb_text_addf(out, "  Rules looked up by %s; source: %s. %s\n", a->market.as_of, a->market.law, caution);
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
    all = json_pack("{s:s, s:b, s:o, s:o, s:s?, s:s, s:s, s:s, s:s, s:s}", "market", a->market.key, "ok",
                    a->ok, "findings", findings, "wording", wording, "no_wording", a->refusal, "regime",
                    a->regime, "coverage", a->market.coverage, "rules_as_of", a->market.as_of, "law",
                    a->market.law, "caution", caution);
    text = json_dumps(all, JSON_COMPACT);
    json_decref(all);
    return text;
}
