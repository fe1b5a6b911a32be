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

/* What the book has against a label of these goods, or had. */
static void goods_words(struct tb_text *out, enum tb_label_goods goods, bool anyway)
{
    static const char *const what[] = {
        [TB_GOODS_RETURNED] = N_("the lot was returned"),
        [TB_GOODS_NOT_AS_SAID] = N_("the lot does not conform to its declaration"),
        [TB_GOODS_HELD] = N_("the lot is held, or a bolt of it"),
        [TB_GOODS_REFUTED] =
            N_("the lot is under a label of ours that a laboratory refutes: relabel it first"),
        [TB_GOODS_LABORATORY_OPEN] = N_("a laboratory could not say whether the lot conforms"),
        [TB_GOODS_CONTRADICTED] =
            N_("what was seen contradicts the declaration of the lot, which is released"),
        [TB_GOODS_AGAINST] = N_("what was seen speaks against the declaration of the lot"),
        [TB_GOODS_UNDECIDED] = N_("the lot waits, and what was seen of it decides nothing"),
        [TB_GOODS_UNTESTED] = N_("the lot waits, and nothing of it was looked at"),
    };

    if (goods == TB_GOODS_CLEAR)
        return;
    tb_text_addf(out,
                 anyway ? _("  The label is made all the same: %s.\n")
                        : _("  No label of these goods as they stand: %s.\n"),
                 _(what[goods]));
}

static void lot_words(struct tb_text *out, const struct tb_label_outcome *o)
{
    char room[TB_COUNTED];
    const char *standing = tb_lot_standing_words(room, TB_READER, &o->lot);

    tb_text_say(out, "Lot %s: \"%s\"\n", o->lot.ref, o->text);
    if (o->lot.released_in_part || o->lot.returned_in_part)
        tb_text_say(out, "The lot is %s; a label does not release the others.\n", standing);
    else
        tb_text_say(out, "Standing: %s\n", standing);
    tb_concluded_words_add(out, TB_READER, &o->concluded);
    if (o->found)
        tb_text_say(out, "A laboratory found: %s\n", o->found);
}

void tb_label_words(struct tb_text *out, const struct tb_label_outcome *o)
{
    if (o->lot.ref)
        lot_words(out, o);
    for (size_t i = 0; i < o->n; i++) {
        if (i || o->lot.ref)
            tb_text_addc(out, '\n');
        tb_law_words(out, &o->answer[i]);
        goods_words(out, o->goods[i], o->anyway);
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
            tb_json_put(one, "conclusion", tb_json_concluded(&o->concluded));
            tb_json_put(one, "in_the_way",
                        o->goods[i] ? tb_json_text(tb_word(&tb_label_goods_words, (int)o->goods[i]))
                                    : json_null());
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
