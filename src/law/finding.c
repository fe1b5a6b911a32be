/*
 * finding.c - what a finding is: one sentence by one clause, said once, as loud as its rule.
 */
#include "base/say.h"
#include "law/checks.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

TB_WORDS(tb_severity_words, TB_SEVERITY_NOTE + 1, "'%s' is not a severity of a rule", "fault", "advice",
         "note");

const char *tb_severity_key(enum tb_severity s)
{
    return tb_word(&tb_severity_words, (int)s);
}

/* Several rows may stand for one clause, such as the same duty under two acts: the reader sees it once. */
static bool said_already(const struct tb_law_answer *a, const char *clause, const char *message)
{
    for (size_t i = 0; i < a->n; i++)
        if (strcmp(a->finding[i].clause, clause) == 0 && strcmp(a->finding[i].message, message) == 0)
            return true;
    return false;
}

void tb_law_clause(char *out, size_t room, const struct tb_ref_market *m, const struct tb_ref_law_rule *r)
{
    bool of_law =
        strcmp(r->status, "common practice") != 0; /* plain speech and arithmetic are nobody's law */
    bool other = m && m->clauses_as[0] && of_law && strcmp(r->market, m->based_on) == 0;

    (void)snprintf(out, room, "%s%s%s", other ? m->clauses_as : "", other ? " " : "", r->clause);
}

static void add(struct at_work *w, const struct tb_ref_law_rule *r, enum tb_severity s, const char *fmt,
                va_list ap)
{
    struct tb_law_answer *a = w->answer;
    struct tb_text message = { 0 };
    char clause[TB_CLAUSE_ROOM];

    tb_law_clause(clause, sizeof clause, w->market, r);
    tb_text_vsay(&message, fmt, ap);
    if (said_already(a, clause, tb_text_str(&message))) {
        tb_text_free(&message);
        return;
    }
    TB_PUSH_ROOM(a->finding, a->n, a->cap);
    a->finding[a->n++] = (struct tb_finding){ .severity = s,
                                              .rule = r->id,
                                              .message = tb_text_take(&message),
                                              .says = r->says,
                                              .source = r->source,
                                              .status = r->status };
    memcpy(a->finding[a->n - 1].clause, clause, sizeof clause);
}

enum tb_severity tb_law_severity(const struct tb_ref_law_rule *r)
{
    int s = TB_SEVERITY_NOTE;

    (void)tb_word_find(&s, &tb_severity_words, r->severity); /* a test walks the rows: each is known */
    return (enum tb_severity)s;
}

void tb_law_finding(struct at_work *w, const struct tb_ref_law_rule *r, const char *fmt, ...)
{
    va_list ap;

    va_start(ap, fmt);
    add(w, r, tb_law_severity(r), _(fmt), ap);
    va_end(ap);
}

void tb_law_finding_as(struct at_work *w, const struct tb_ref_law_rule *r, enum tb_severity s,
                       const char *fmt, ...)
{
    va_list ap;

    va_start(ap, fmt);
    add(w, r, s, _(fmt), ap);
    va_end(ap);
}

/* By counting, not by qsort, so that findings of one kind keep the order of the checks on every C library. */
void tb_law_sort_findings(struct tb_law_answer *a)
{
    size_t room = a->n ? a->n : 1, n = 0;
    struct tb_finding *sorted = tb_array(struct tb_finding, room);

    for (int s = TB_SEVERITY_FAULT; s <= TB_SEVERITY_NOTE; s++)
        for (size_t i = 0; i < a->n; i++)
            if (a->finding[i].severity == (enum tb_severity)s)
                sorted[n++] = a->finding[i];
    free(a->finding);
    a->finding = sorted;
    a->cap = room;
}

bool tb_law_broken(const struct at_work *w, const char *kind, const char *begin)
{
    for (size_t i = 0; i < w->rules; i++) {
        const struct tb_ref_law_rule *r = w->rule[i];

        if (strcmp(r->kind, kind) != 0 || (begin && strncmp(r->arg, begin, strlen(begin)) != 0))
            continue;
        for (size_t k = 0; k < w->answer->n; k++)
            if (w->answer->finding[k].rule == r->id && w->answer->finding[k].severity == TB_SEVERITY_FAULT)
                return true;
    }
    return false;
}

/* --- what a message speaks of ------------------------------------------------------------------------------------ */

const char *tb_law_quote(struct at_work *w, const struct token *t)
{
    char *out = w->said[w->quotes++ % TB_COUNT(w->said)];

    tb_label_quote(out, w->label, t);
    return out;
}

const char *tb_law_share_text(struct at_work *w, const struct tb_share *s)
{
    EACH_WORD(w->label, s, t)
    return tb_law_quote(w, t);
    return _("a fibre");
}

/* The part is named only where there are several: a label of one part needs no "(shell)" after each fibre. */
const char *tb_law_fibre_text(struct at_work *w, int fibre)
{
    const char *name = fibre >= 0                ? tb_fibre_at(fibre)->name
                       : fibre == TB_FIBRE_OTHER ? _("other fibre")
                                                 : _("an unknown fibre");

    if (w->label->comp.n < 2 || !w->cmp.part || w->cmp.part->kind == TB_PART_WHOLE)
        return name;
    (void)snprintf(w->named, sizeof w->named, "%s (%s)", name, tb_part_key(w->cmp.part->kind));
    return w->named;
}
