/*
 * month_labels.c - the label in each market: for every lot of the span the wording a label may carry and what the
 * market's clauses say of its words.
 */
#include "report/month/month_impl.h"

#include "tenterbook/fibre.h"
#include "tenterbook/label_page.h"
#include "tenterbook/law.h"
#include "tenterbook/status.h"

#include "gen/late_drawing.h"
#include <stdlib.h>
#include <string.h>

/* An answer already given: lots of the same words, origin and analysis get it again. */
struct answer {
    char *wording, *findings;
    int64_t faults, advice, unchecked;
    enum tb_label_stand stand;
};

struct label_row {
    const char *market;
    struct tb_month_lot lot;
    const char *words, *state;
    struct answer answer;
};
#define ROW(member) TB_FROM(struct label_row, member)

static const struct tb_column columns[] = {
    { "market", N_("Market"), NULL, TB_COL_TEXT, 0, 9, false, false, ROW(market) },
    { "lot", N_("Lot"), NULL, TB_COL_TEXT, 0, 13, false, false, ROW(lot.ref) },
    { "supplier", N_("Supplier"), NULL, TB_COL_TEXT, 0, 18, true, false, ROW(lot.supplier) },
    { "declared", N_("Words that count now"), NULL, TB_COL_TEXT, 0, 26, true, false, ROW(words) },
    { "state", N_("May it be printed?"), NULL, TB_COL_TEXT, 0, 16, true, false, ROW(state) },
    { "wording", N_("Wording to print"), NULL, TB_COL_TEXT, 0, 30, true, false, ROW(answer.wording) },
    { "findings", N_("What the clauses say of these words"), NULL, TB_COL_TEXT, 0, 56, true, false,
      ROW(answer.findings) },
    { "faults", N_("Faults"), NULL, TB_COL_COUNT, 0, 7, false, true, ROW(answer.faults) },
    { "advice", N_("Advice"), NULL, TB_COL_COUNT, 0, 7, false, true, ROW(answer.advice) },
    { "unchecked", N_("From memory"), NULL, TB_COL_COUNT, 0, 8, false, true, ROW(answer.unchecked) },
};
#define PRINTED 7

static const struct tb_emphasis emphasis[] = {
    { "state", "hold: see conclusion", TB_TONE_ALARM },
    { "state", "no lawful wording", TB_TONE_ALARM },
    { "state", "no: its origin is missing", TB_TONE_ALARM },
    { "state", "ask: laboratory undecided", TB_TONE_DOUBT },
    { "state", "ask: contradicted by what was seen", TB_TONE_DOUBT },
    { "state", "ask: what was seen speaks against it", TB_TONE_DOUBT },
    { "state", "not readable", TB_TONE_DOUBT },
    { "state", "not known", TB_TONE_DOUBT },
};

#define ANSWERS_MOST 4096 /* kept at a time */

struct labels {
    struct month *m;
    const struct tb_law *law;
    const char *market;
    GHashTable *answer; /* struct answer by what was asked */
};

static void drop(void *arg)
{
    struct answer *a = arg;

    free(a->wording);
    free(a->findings);
    free(a);
}

/* The sentences, faults first as they come; a finding nobody looked up says so. */
static void take_findings(struct answer *a, const struct tb_law_answer *x)
{
    struct tb_text t = { 0 };

    for (size_t i = 0; i < x->n; i++) {
        const struct tb_finding *f = &x->finding[i];
        bool memory = tb_status_memory(f->status);

        a->faults += f->severity == TB_SEVERITY_FAULT;
        a->advice += f->severity == TB_SEVERITY_ADVICE;
        a->unchecked += memory;
        if (f->severity == TB_SEVERITY_NOTE)
            continue;
        if (t.n)
            tb_text_addc(&t, '\n');
        tb_text_addf(&t, memory ? _("%s, %s: %s (from memory, not checked)") : "%s, %s: %s",
                     f->severity == TB_SEVERITY_FAULT ? _("fault") : _("advice"), f->clause, f->message);
    }
    a->findings = tb_text_take(&t);
}

/* Every wording the market allows, or why there is none. */
static void take_wording(struct answer *a, const struct tb_law_answer *x)
{
    struct tb_text t = { 0 };

    for (size_t i = 0; i < x->wordings; i++)
        tb_text_addf(&t, "%s%s", i ? "\n" : "", x->wording[i]);
    if (!x->wordings && x->refusal)
        tb_text_addf(&t, "(%s)", x->refusal);
    a->wording = tb_text_take(&t);
}

/* A relabelled lot is sold under its new words. */
static const char *words_of(const struct tb_month_lot *lot)
{
    return lot->words ? lot->words : lot->declared;
}

/* With the day of the sheets, so that a rule that begins later does not count yet. */
static tb_rc ask(struct answer *a, const struct labels *l, const struct tb_month_lot *lot, struct tb_err *err)
{
    struct tb_law_question q = { .market = l->market, .text = words_of(lot) };
    struct tb_law_answer x = { 0 };
    struct tb_declaration found = { 0 };
    struct tb_text why = { 0 };
    tb_rc rc;

    tb_law_facts_none(&q.facts);
    q.facts.day = l->m->today;
    q.facts.origin = lot->origin[0] ? lot->origin : NULL;
    q.text_len = strlen(words_of(lot));
    if (q.text_len > TB_LABEL_MOST)
        q.text_len = TB_LABEL_MOST;
    if (lot->found && lot->found[0]) {
        tb_declaration_read(&found, lot->found, strlen(lot->found));
        if (tb_declaration_clear(&found))
            q.found = &found.comp;
    }
    if ((rc = tb_law_check(&x, l->law, &q, err)) == TB_OK) {
        take_findings(a, &x);
        take_wording(a, &x);
        rc = tb_label_stands(&a->stand, &why, l->law, &x, &q.facts, err);
    }
    tb_text_free(&why);
    tb_law_answer_free(&x);
    tb_declaration_free(&found);
    return rc;
}

/*
 * Asking the rules takes far longer than looking up an answer, and a month has few declarations beside many lots. Too many
 * are forgotten all together: asking again costs time, never the answer.
 */
static tb_rc answer_for(const struct answer **out, struct labels *l, const struct tb_month_lot *lot,
                        struct tb_err *err)
{
    struct tb_text key = { 0 };
    struct answer *a;
    tb_rc rc = TB_OK;

    tb_text_addf(&key, "%s\x1f%s\x1f%s\x1f%s", l->market, lot->origin, lot->found ? lot->found : "",
                 words_of(lot));
    a = g_hash_table_lookup(l->answer, tb_text_str(&key));
    if (!a) {
        if (g_hash_table_size(l->answer) >= ANSWERS_MOST)
            g_hash_table_remove_all(l->answer);
        a = tb_new(struct answer);
        rc = ask(a, l, lot, err);
        (void)g_hash_table_insert(l->answer, tb_text_take(&key), a);
    }
    tb_text_free(&key);
    *out = a;
    return rc;
}

/* What a person may set aside. */
static const char *asked_about(enum tb_label_goods goods)
{
    switch (goods) {
    case TB_GOODS_CLEAR:
    case TB_GOODS_RETURNED:
    case TB_GOODS_NOT_AS_SAID:
    case TB_GOODS_HELD:
        break;
    case TB_GOODS_LABORATORY_OPEN:
        return _("ask: laboratory undecided");
    case TB_GOODS_REFUTED:
        return _("ask: our label is refuted");
    case TB_GOODS_CONTRADICTED:
        return _("ask: contradicted by what was seen");
    case TB_GOODS_AGAINST:
        return _("ask: what was seen speaks against it");
    case TB_GOODS_UNDECIDED:
        return _("wait: undecided");
    case TB_GOODS_UNTESTED:
        return _("wait: nothing looked at");
    }
    return NULL;
}

static tb_rc goods_of(enum tb_label_goods *out, const struct labels *l, struct told *of, struct tb_err *err)
{
    const struct tb_month_lot *lot = &of->lot;
    struct tb_goods_stand stand = { .standing = lot->standing,
                                    .held_in_part = lot->held_single > 0,
                                    .released_in_part = lot->released_single > 0,
                                    .own_words = tb_month_relabelled(lot) };
    struct tb_known k = tb_month_known(lot);
    struct tb_concluded here;
    tb_rc rc = tb_conclude_in(&here, &k, l->market, &of->mem, err);

    if (rc == TB_OK)
        rc = tb_month_refuted(&stand.refuted, l->m, lot, err);
    if (rc != TB_OK)
        return tb_within(err, rc, "lot %s", lot->ref);
    *out = tb_label_goods_of(&stand, &here);
    return TB_OK;
}

/*
 * What stands in the way of `label --out` stands in the way here. Goods that are held come before the wording: words that are doubted
 * are not printed, however lawful.
 */
static const char *state_of(const struct told *of, enum tb_label_goods goods, const struct answer *a)
{
    const char *ask = asked_about(goods);

    if (goods != TB_GOODS_CLEAR && !ask)
        return _("hold: see conclusion");
    if (!of->lot.clear && of->lot.standing != TB_RELABELLED)
        return _("not readable");
    if (a->stand == TB_LABEL_NOT_KNOWN)
        return _("not known");
    if (a->stand == TB_LABEL_NO_ORIGIN)
        return _("no: its origin is missing");
    if (a->stand != TB_LABEL_STANDS)
        return _("no lawful wording");
    if (ask)
        return ask;
    return a->faults ? _("this wording only") : _("yes, worded so");
}

/* A fault counts once for the lot, however many clauses find one. */
static tb_rc put(void *arg, const struct tb_month_lot *lot, struct tb_err *err)
{
    struct labels *l = arg;
    struct label_row row;
    const struct answer *a = NULL;
    enum tb_label_goods goods = TB_GOODS_CLEAR;
    struct told of;
    tb_rc rc;

    if (lot->standing == TB_RETURNED)
        return TB_OK; /* nobody sells it */
    if ((rc = answer_for(&a, l, lot, err)) != TB_OK)
        return tb_within(err, rc, "lot %s", lot->ref);
    if ((rc = tb_month_tell(&of, lot, err)) != TB_OK || (rc = goods_of(&goods, l, &of, err)) != TB_OK) {
        tb_arena_free(&of.mem);
        return rc;
    }
    l->m->sums.labels++;
    l->m->sums.label_faults += a->faults > 0;
    row = (struct label_row){ .market = l->market,
                              .lot = *lot,
                              .words = words_of(lot),
                              .state = state_of(&of, goods, a),
                              .answer = *a };
    tb_arena_free(&of.mem);
    return tb_tab_record(l->m->tab[TAB_LABELS], &row, err);
}

/* Market by market over the same lots, so that the rows of a market stand together. */
static tb_rc fill(struct month *m, struct tb_err *err)
{
    struct labels l = { .m = m,
                        .law = tb_month_law(m),
                        .answer = g_hash_table_new_full(g_str_hash, g_str_equal, free, drop) };
    tb_rc rc = TB_OK;

    for (size_t i = 0; i < m->plan->markets && rc == TB_OK; i++) {
        l.market = m->plan->market[i];
        if ((rc = tb_market_check(l.market, err)) == TB_OK)
            rc = m->source->goods(m->source->from, put, NULL, &l, err);
        m->sums.markets++;
    }
    g_hash_table_destroy(l.answer);
    return rc;
}

static void prepare(struct month *m, struct tb_tab_plan *plan)
{
    if (!m->plan->markets)
        plan->note =
            _("No market is named: give --market, or set market in the book, and this sheet says what "
              "a label may carry there.");
}

const struct sheet tb_month_labels = {
    .key = "labels",
    .tab = N_("Labels"),
    .title = N_("Labels, market by market"),
    .note = N_("Lots not returned, market by market. Information, not legal advice: the official text "
               "and local counsel decide. A wording holds only as far as the declaration is true. Wait, ask: "
               "such a label is made only where somebody says that it shall be made all the same."),
    .column = columns,
    .columns = TB_COUNT(columns),
    .printed = PRINTED,
    .emphasis = emphasis,
    .emphases = TB_COUNT(emphasis),
    .prepare = prepare,
    .fill = fill,
};
