/* Which rules apply, what their columns mean, and what a finding is. */
#include "law/inside.h"

#include "tenterbook/date.h"
#include "tenterbook/utf8.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

bool list_has(const char *list, const char *word)
{
    size_t n = strlen(word);

    for (const char *s = list; s && *s; s += strcspn(s, "|+ ")) {
        s += strspn(s, "|+ ");
        if (strcspn(s, "|+ ") == n && n && memcmp(s, word, n) == 0)
            return true;
    }
    return false;
}

bool next_lang(const char *langs, size_t *at, char out[8])
{
    size_t n;

    *at += strspn(langs + *at, "|+");
    n = strcspn(langs + *at, "|+");
    if (n == 0 || n > 7)
        return false;
    memcpy(out, langs + *at, n);
    out[n] = '\0';
    *at += n;
    return true;
}

bool rule_allows(const struct tb_ref_law_rule *r, double value)
{
    const double near = 1e-9;
    const char *c = r->comparison;

    if (isnan(r->number) || isnan(value))
        return true;
    if (strcmp(c, "<=") == 0)
        return value <= r->number + near;
    if (strcmp(c, "<") == 0)
        return value < r->number - near;
    if (strcmp(c, ">=") == 0)
        return value >= r->number - near;
    if (strcmp(c, ">") == 0)
        return value > r->number + near;
    return fabs(value - r->number) <= 0.01 + near; /* "=": a sum of figures printed to two places */
}

bool group_has(const struct tb_ref_market *m, const char *group, int fibre)
{
    bool own = false, hit = false;

    if (fibre < 0)
        return false;
    for (size_t i = 0; i < tb_ref_law_group_n; i++) {
        const struct tb_ref_law_group *g = &tb_ref_law_group[i];
        bool here = strcmp(g->market, m->key) == 0 || (m->based_on[0] && strcmp(g->market, m->based_on) == 0);

        if (strcmp(g->group_key, group) != 0 || (!here && strcmp(g->market, "*") != 0))
            continue;
        own |= here;
        if (strcmp(g->fibre, tb_fibre_at(fibre)->key) == 0 && (here || !own))
            hit = true;
    }
    return hit;
}

static const struct check_kind *const tables[] = { tb_law_text_checks, tb_law_claim_checks,
                                                   tb_law_found_checks };

int tb_law_kind_of(const char *kind)
{
    int place = 0;

    for (size_t t = 0; t < TB_COUNT(tables); t++)
        for (const struct check_kind *k = tables[t]; k->name; k++, place++)
            if (strcmp(k->name, kind) == 0)
                return place;
    return -1;
}

check_fn tb_law_check_of(const char *kind)
{
    for (size_t t = 0; t < TB_COUNT(tables); t++)
        for (const struct check_kind *k = tables[t]; k->name; k++)
            if (strcmp(k->name, kind) == 0)
                return k->run;
    return NULL;
}

bool market_has(const struct at_work *w, const char *kind, const char *arg)
{
    for (size_t i = 0; i < w->rules; i++)
        if (strcmp(w->rule[i]->kind, kind) == 0 && (!arg || strcmp(w->rule[i]->arg, arg) == 0))
            return true;
    return false;
}

/* --- findings --------------------------------------------------------------------------------------------- */

static void add(struct at_work *w, const struct tb_ref_law_rule *r, enum tb_severity s, const char *fmt,
                va_list ap)
{
    struct tb_law_answer *a = w->answer;
    struct tb_text message = { 0 };

    tb_text_vaddf(&message, fmt, ap);
    for (size_t i = 0; i < a->n; i++)
        if (a->finding[i].clause == r->clause && strcmp(a->finding[i].message, tb_text_str(&message)) == 0) {
            tb_text_free(&message);
            return; /* the same clause said the same already */
        }
    TB_PUSH_ROOM(a->finding, a->n, a->cap);
    a->finding[a->n++] = (struct tb_finding){ .severity = s,
                                              .rule = r->id,
                                              .clause = r->clause,
                                              .message = tb_text_take(&message),
                                              .says = r->says,
                                              .source = r->source,
                                              .status = r->status };
}

static enum tb_severity severity_of(const struct tb_ref_law_rule *r)
{
    return strcmp(r->severity, "fault") == 0    ? TB_SEVERITY_FAULT
           : strcmp(r->severity, "advice") == 0 ? TB_SEVERITY_ADVICE
                                                : TB_SEVERITY_NOTE;
}

void finding_add(struct at_work *w, const struct tb_ref_law_rule *r, const char *fmt, ...)
{
    va_list ap;

    va_start(ap, fmt);
    add(w, r, severity_of(r), fmt, ap);
    va_end(ap);
}

void finding_add_as(struct at_work *w, const struct tb_ref_law_rule *r, enum tb_severity s, const char *fmt,
                    ...)
{
    va_list ap;

    va_start(ap, fmt);
    add(w, r, s, fmt, ap);
    va_end(ap);
}

/* --- which rules ------------------------------------------------------------------------------------------ */

bool tb_law_in_force(const struct tb_ref_law_rule *r, const char *day)
{
    if (!day)
        return !r->until_day[0];
    return (!r->from_day[0] || strcmp(r->from_day, day) <= 0) &&
           (!r->until_day[0] || strcmp(day, r->until_day) < 0);
}

static bool replaced(const struct rule_list *list, const struct tb_ref_law_rule *base)
{
    for (size_t i = 0; i < list->n; i++)
        if (strcmp(list->rule[i]->kind, base->kind) == 0 && strcmp(base->kind, "inform") != 0 &&
            strcmp(list->rule[i]->arg, base->arg) == 0 && strcmp(list->rule[i]->market, base->market) != 0 &&
            strcmp(list->rule[i]->holds, base->holds) == 0)
            return true;
    return false;
}

static void add_rules(struct rule_list *list, const char *market, const char *day, bool base)
{
    for (size_t i = 0; i < tb_ref_law_rule_n; i++) {
        const struct tb_ref_law_rule *r = &tb_ref_law_rule[i];

        if (strcmp(r->market, market) != 0 || !tb_law_in_force(r, day) || (base && replaced(list, r)))
            continue;
        TB_PUSH_ROOM(list->rule, list->n, list->cap);
        list->rule[list->n++] = r;
    }
}

void choose_rules(struct rule_list *out, const struct tb_ref_market *m, const char *day)
{
    add_rules(out, m->key, day, false);
    while (m && m->based_on[0]) {
        add_rules(out, m->based_on, day, true);
        m = tb_law_market(m->based_on);
    }
}

static void take_rules(struct at_work *w)
{
    const struct rule_list *now = &w->law->market[w->market - tb_ref_market];

    if (w->facts->day)
        choose_rules(&w->own, w->market, w->facts->day);
    w->rule = w->facts->day ? w->own.rule : now->rule;
    w->rules = w->facts->day ? w->own.n : now->n;
}

static bool holds_group(const struct at_work *w, const char *group)
{
    for (size_t i = 0; i < w->label->n; i++)
        for (size_t k = 0; k < w->label->part[i].n; k++)
            if (group_has(w->market, group, w->label->part[i].share[k].fibre))
                return true;
    for (size_t i = 0; w->q->found && i < w->q->found->n; i++)
        for (size_t k = 0; k < w->q->found->part[i].n; k++)
            if (group_has(w->market, group, w->q->found->part[i].share[k].fibre))
                return true;
    return false;
}

/* One product is under one act: the content decides which. */
static void choose_regime(struct at_work *w)
{
    w->regime = w->market->regime;
    for (size_t i = 0; i < w->rules; i++)
        if (strcmp(w->rule[i]->kind, "regime") == 0 && (holds_group(w, w->rule[i]->arg) || w->label->super))
            w->regime = w->rule[i]->arg;
    w->answer->regime = w->regime;
}

/* A row of one act is not at work under the other. */
static bool of_regime(const struct at_work *w, const struct tb_ref_law_rule *r)
{
    return !r->regime[0] || strcmp(r->regime, w->regime) == 0;
}

static void run_kind(struct at_work *w, const struct check_kind *k, int place)
{
    for (size_t i = 0; i < w->rules; i++) {
        const struct tb_ref_law_rule *r = w->rule[i];

        if (w->law->kind[r - tb_ref_law_rule] == place && of_regime(w, r))
            k->run(w, r);
    }
}

/* Kind by kind, since some stand on what others found: the base of the tolerance on what may go unnamed. */
static void run_tables(struct at_work *w, bool words)
{
    int place = 0;

    for (size_t t = 0; t < TB_COUNT(tables); t++)
        for (const struct check_kind *k = tables[t]; k->name; k++, place++)
            if (words || tables[t] != tb_law_text_checks)
                run_kind(w, k, place);
}

/* The first pair of parts with the words; every further one (a lining, a filling) with what was found in it. */
static void run_rules(struct at_work *w)
{
    struct compared first = w->cmp;

    run_tables(w, true);
    for (size_t pair = 1; compare_found(w, pair); pair++) {
        run_tables(w, false);
        compared_free(&w->cmp);
    }
    w->cmp = first;
    for (size_t i = 0; i < w->rules; i++)
        if (strcmp(w->rule[i]->show, "always") == 0 && of_regime(w, w->rule[i]))
            finding_add_as(w, w->rule[i], TB_SEVERITY_NOTE, "%s", w->rule[i]->says);
}

/* --- the question ----------------------------------------------------------------------------------------- */

static tb_rc check_facts(const struct tb_ref_market *m, const struct tb_law_facts *f, struct tb_err *err)
{
    if (f->lang && !list_has(m->langs, f->lang) && m->langs[0])
        return tb_fail(err, TB_EINVAL, "a label in %s is not in '%.20s'; its languages are %s", m->in_words,
                       f->lang, m->langs);
    if (f->origin && (!tb_utf8_valid(f->origin, strlen(f->origin)) || strlen(f->origin) > 80))
        return tb_fail(err, TB_EINVAL, "the country of origin is not a short piece of text");
    if (f->day && !tb_day_valid(f->day))
        return tb_fail(err, TB_EINVAL, "'%.20s' is no day; a day is written YYYY-MM-DD", f->day);
    return TB_OK;
}

static void sort_findings(struct tb_law_answer *a)
{
    struct tb_finding *sorted = tb_array(struct tb_finding, a->n ? a->n : 1);
    size_t n = 0;

    for (int s = TB_SEVERITY_FAULT; s <= TB_SEVERITY_NOTE; s++)
        for (size_t i = 0; i < a->n; i++)
            if (a->finding[i].severity == (enum tb_severity)s)
                sorted[n++] = a->finding[i];
    free(a->finding);
    a->finding = sorted;
    a->cap = a->n ? a->n : 1;
    a->ok = a->n == 0 || a->finding[0].severity != TB_SEVERITY_FAULT;
}

/* How many fibres stand behind "other fibre" on the label: counted in the cloth, else as the word has it. */
static size_t others_behind(const struct at_work *w)
{
    size_t n = 0;

    for (size_t i = 0; i < w->cmp.n; i++)
        n += w->cmp.found[i].share == TB_NOWHERE;
    for (size_t i = 0; n == 0 && i < w->label->n; i++)
        for (size_t k = 0; k < w->label->part[i].n; k++)
            if (w->label->part[i].share[k].fibre == TB_FIBRE_OTHER)
                n = w->label->part[i].share[k].plural ? 2 : 1;
    return n;
}

/* Is a rule of this kind (and, where begin is not NULL, with an arg that begins so) broken? */
static bool broken(const struct at_work *w, const char *kind, const char *begin)
{
    int place = tb_law_kind_of(kind);

    for (size_t i = 0; i < w->rules; i++) {
        const struct tb_ref_law_rule *r = w->rule[i];
        bool such = w->law->kind[r - tb_ref_law_rule] == place &&
                    (!begin || strncmp(r->arg, begin, strlen(begin)) == 0);

        for (size_t k = 0; such && k < w->answer->n; k++)
            if (w->answer->finding[k].rule == r->id && w->answer->finding[k].severity == TB_SEVERITY_FAULT)
                return true;
    }
    return false;
}

/* A part that was not analysed stays as the words have it beside those that were. */
static void add_unseen_parts(struct tb_composition *all, const struct tb_composition *said,
                             const struct tb_composition *found)
{
    for (size_t i = 0; i < said->n; i++) {
        const struct tb_part *p = tb_composition_part(found, said->part[i].kind);
        struct tb_part *to = tb_composition_add_part(all, said->part[i].kind);

        p = p ? p : &said->part[i];
        for (size_t k = 0; k < p->n; k++)
            tb_part_add_share(to, p->share[k].fibre, p->share[k].percent)->marks = p->share[k].marks;
    }
}

/* What the label may say: of what was found where the text is wrong, else of what the text says. */
static void add_wording(struct at_work *w)
{
    struct tb_composition said = { 0 }, all = { 0 };
    struct tb_err err = { 0 };
    bool readable = label_composition(&said, w->label);
    const struct tb_composition *c = w->q->found && !w->answer->ok ? w->q->found : readable ? &said : NULL;

    if (c == w->q->found && readable && said.n > 1 && c->n < said.n) {
        add_unseen_parts(&all, &said, c);
        c = &all;
    }

    if (!c && w->q->found)
        c = w->q->found;
    if (broken(w, "diameter", "cashmere-"))
        w->answer->refusal =
            tb_strdup("it may not be called cashmere: word the label again with wool in its place");
    else if (w->label->excludes && (broken(w, "exclusion", NULL) || broken(w, "omission", NULL)))
        w->answer->refusal = tb_strdup("too much is left out: count it in, and word the label again");
    else if (!c)
        w->answer->refusal = tb_strdup("the words give no composition a label could be made of");
    else if (law_wording(w, c, others_behind(w), &err) != TB_OK)
        w->answer->refusal = tb_strdup(err.msg);
    tb_composition_free(&said);
    tb_composition_free(&all);
}

tb_rc tb_law_check(struct tb_law_answer *out, const struct tb_law *law, const struct tb_law_question *q,
                   struct tb_err *err)
{
    struct at_work w = { .law = law, .q = q, .facts = &q->facts, .answer = out };
    struct label label = { 0 };
    tb_rc rc;

    *out = (struct tb_law_answer){ .regime = "" };
    if ((rc = tb_market_check(q->market, err)) != TB_OK)
        return rc;
    (void)tb_market_find(&out->market, q->market);
    w.market = tb_law_market(q->market);
    if ((rc = check_facts(w.market, &q->facts, err)) != TB_OK)
        return rc;
    if (q->text_len > TB_LABEL_MOST)
        return tb_fail(err, TB_EINVAL, "the text is %zu bytes long; a label is read up to %d", q->text_len,
                       TB_LABEL_MOST);
    tb_law_label_read(&label, law, out->market.langs, q->text, q->text_len);
    tb_law_label_read_freely(&label, q->text, q->text_len);
    w.label = &label;
    take_rules(&w);
    choose_regime(&w);
    (void)compare_found(&w, 0);
    run_rules(&w);
    sort_findings(out);
    add_wording(&w);
    compared_free(&w.cmp);
    free(w.own.rule);
    tb_law_label_free(&label);
    return TB_OK;
}

tb_rc tb_law_word(struct tb_law_answer *out, const struct tb_law *law, const char *market,
                  const struct tb_composition *c, const struct tb_law_facts *facts, struct tb_err *err)
{
    struct label none = { 0 };
    struct tb_law_question q = { .market = market, .text = "", .found = c, .facts = *facts };
    struct at_work w = { .law = law, .q = &q, .facts = facts, .answer = out, .label = &none };
    tb_rc rc;

    *out = (struct tb_law_answer){ .regime = "" };
    if ((rc = tb_market_check(market, err)) != TB_OK)
        return rc;
    (void)tb_market_find(&out->market, market);
    w.market = tb_law_market(market);
    if ((rc = check_facts(w.market, facts, err)) != TB_OK)
        return rc;
    take_rules(&w);
    choose_regime(&w);
    free(w.own.rule);
    out->ok = true;
    if ((rc = law_wording(&w, c, 0, err)) != TB_OK) {
        tb_law_answer_free(out);
        return rc;
    }
    return TB_OK;
}

void tb_law_answer_free(struct tb_law_answer *a)
{
    for (size_t i = 0; i < a->n; i++)
        free(a->finding[i].message);
    for (size_t i = 0; i < a->wordings; i++)
        free(a->wording[i]);
    free(a->finding);
    free(a->wording);
    free(a->refusal);
    *a = (struct tb_law_answer){ .regime = "" };
}
