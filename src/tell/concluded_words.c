/* What is concluded of a lot, in words and as JSON. */
#include "base/say.h"
#include "tenterbook/fibre_words.h"
#include "tenterbook/tell.h"

#include <math.h>
#include <string.h>

void tb_markets_words(struct tb_text *out, const char *markets)
{
    if (!*markets)
        return;
    tb_text_add(out, " (");
    for (; *markets; markets++)
        tb_text_add(out, *markets == ' ' ? ", " : (char[]){ *markets, 0 });
    tb_text_add(out, ")");
}

/* "fits, 24 to 1 for it": the verdict stands beside every conclusion that it made, or that it leaves open. */
static void verdict_words(struct tb_text *out, enum tb_tongue to, const struct tb_concluded *c)
{
    const char *grade = tb_tr(to, tb_grade_key(c->told.grade));
    struct tb_text ratio = { 0 };

    if (isnan(c->told.log_ratio)) {
        tb_text_add(out, grade);
        return;
    }
    tb_strength_words(&ratio, to, c->told.log_ratio, &c->told.bounds, c->told.at_odds);
    tb_text_addf(out, tb_tr(to, "%s, %s"), grade, tb_text_str(&ratio));
    tb_text_free(&ratio);
}

void tb_concluded_rests(struct tb_text *out, const struct tb_concluded *c)
{
    if (c->by == TB_BY_LABORATORY) {
        tb_text_add(out, c->open == TB_OPEN_DISAGREE ? _("laboratories disagree") : _("laboratory"));
        tb_markets_words(out, c->markets);
        tb_text_add(out, c->apart && !c->opposite ? _("; results too far apart") : "");
    } else if (c->open == TB_OPEN_WORDS) {
        tb_text_add(out, _("doubtful words"));
    } else if (c->by == TB_BY_NOTHING) {
        tb_text_add(out, "-");
    } else {
        verdict_words(out, TB_READER, c);
    }
}

void tb_concluded_word_in(struct tb_text *out, enum tb_tongue to, const struct tb_concluded *c)
{
    tb_text_add(out, tb_tr(to, tb_word(&tb_concluded_words, (int)c->kind)));
    if (c->open == TB_OPEN_DISAGREE) {
        tb_text_add(out, tb_tr(to, "; "));
        tb_text_add(out, tb_tr(to, "laboratories disagree"));
    }
    tb_markets_words(out, c->markets);
    if (*c->kept) {
        tb_text_add(out, tb_tr(to, "; "));
        tb_text_add(out, tb_tr(to, "conforms"));
        tb_markets_words(out, c->kept);
    }
}

const char *tb_labs_apart_words(enum tb_tongue to)
{
    return tb_tr(to, "Results of laboratories are further apart than their uncertainties allow: the cloth "
                     "differs within the "
                     "lot, or one of them is wrong.");
}

static void laboratory_words(struct tb_text *out, enum tb_tongue to, const struct tb_concluded *c)
{
    const char *by = *c->laboratory ? c->laboratory : tb_tr(to, "a laboratory not named");
    struct tb_text word = { 0 }, found = { 0 };
    char on[TB_PLAIN];

    tb_concluded_word_in(&word, to, c);
    tb_composition_in(&found, to, c->found);
    if (c->open == TB_OPEN_DISAGREE)
        tb_text_addf(out, tb_tr(to, "Conclusion: %s, which found: %s\n"), word.s, tb_text_str(&found));
    else
        tb_text_addf(out, tb_tr(to, "Conclusion: %s, by what %s found on %s: %s\n"), word.s, by,
                     tb_tongue_date(on, to, c->on), tb_text_str(&found));
    if (c->apart) {
        out->s[out->n - 1] = '.'; /* on the same line */
        tb_sentence_in(out, to, tb_labs_apart_words(to));
        tb_text_addc(out, '\n');
    }
    tb_text_free(&word);
    tb_text_free(&found);
}

/* The bolts that contradict by their own burns alone. */
static void bolts_words(struct tb_text *out, enum tb_tongue to, const struct tb_concluded *c)
{
    unsigned long n = 1;

    for (const char *p = c->bolts; (p = strstr(p, ", ")); p += 2)
        n++;
    if (*c->bolts)
        tb_text_addf(out,
                     tb_trn(to, "; judged alone, this bolt contradicts it: %s",
                            "; each judged alone, these bolts contradict it: %s", n),
                     c->bolts);
}

/* "2026-10-03", or with the day it was typed up, where that was a later one. */
static const char *seen_on(struct tb_text *out, enum tb_tongue to, const struct tb_concluded *c)
{
    char on[TB_PLAIN], typed[TB_PLAIN];

    (void)tb_tongue_date(on, to, c->on);
    if (*c->typed)
        tb_text_addf(out, tb_tr(to, "%s (typed up later, %s)"), on, tb_tongue_date(typed, to, c->typed));
    else
        tb_text_add(out, on);
    return tb_text_str(out);
}

void tb_concluded_words_add(struct tb_text *out, enum tb_tongue to, const struct tb_concluded *c)
{
    struct tb_text rests = { 0 }, seen = { 0 };
    const char *on, *word = tb_tr(to, tb_word(&tb_concluded_words, (int)c->kind));

    if (c->by == TB_BY_LABORATORY) {
        laboratory_words(out, to, c);
        return;
    }
    verdict_words(&rests, to, c);
    bolts_words(&rests, to, c);
    on = seen_on(&seen, to, c);
    if (c->by == TB_BY_NOTHING)
        tb_text_addf(out,
                     c->open == TB_OPEN_WORDS
                         ? tb_tr(to, "Conclusion: %s; the words cannot be read, and nothing was looked at\n")
                         : tb_tr(to, "Conclusion: %s; nothing was looked at\n"),
                     word);
    else if (c->open == TB_OPEN_WORDS)
        tb_text_addf(out, tb_tr(to, "Conclusion: %s; the words cannot be read\n"), word);
    else
        tb_text_addf(out, tb_tr(to, "Conclusion: %s, by %s of %s: %s\n"), word,
                     c->by == TB_BY_BURNING ? tb_tr(to, "the burns") : tb_tr(to, "the burns and tests"), on,
                     tb_text_str(&rests));
    tb_text_free(&seen);
    tb_text_free(&rests);
}

/* Words that are separated as `between` has them. */
static json_t *listed(const char *text, const char *between)
{
    json_t *all = json_array();

    while (*text) {
        const char *end = strstr(text, between);
        size_t n = end ? (size_t)(end - text) : strlen(text);

        tb_json_push(all, json_stringn(text, n));
        text += n + (end ? strlen(between) : 0);
    }
    return all;
}

json_t *tb_json_concluded(const struct tb_concluded *c)
{
    json_t *j = json_object();
    const char *by = tb_word(&tb_ground_words, (int)c->by), *open = tb_word(&tb_open_words, (int)c->open);

    tb_json_put(j, "word", tb_json_text(tb_word(&tb_concluded_words, (int)c->kind)));
    tb_json_put(j, "by", *by ? tb_json_text(by) : json_null());
    tb_json_put(j, "why_open", *open ? tb_json_text(open) : json_null());
    tb_json_put(j, "on", *c->on ? tb_json_text(c->on) : json_null());
    tb_json_put(j, "typed_on", *c->typed ? tb_json_text(c->typed) : json_null());
    tb_json_put(j, "markets", listed(c->markets, " "));
    tb_json_put(j, "conforms_in", listed(c->kept, " "));
    tb_json_put(j, "bolts", listed(c->bolts, ", "));
    tb_json_put(j, "record", *c->record ? tb_json_text(c->record) : json_null());
    tb_json_put(j, "laboratory", *c->laboratory ? tb_json_text(c->laboratory) : json_null());
    tb_json_put(j, "report", *c->report ? tb_json_text(c->report) : json_null());
    tb_json_put(j, "found", *c->found ? tb_json_text(c->found) : json_null());
    return j;
}
