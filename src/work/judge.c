/* The verdict on a lot: its bolts alone and all together. */
#include "tenterbook/analysis.h"
#include "tenterbook/json.h"
#include "work/observe.h"
#include "work/threads.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* The bolt of a swatch that a pending burn is of; "" where none is. */
static const char *pending_bolt(const struct tb_pending *p, const char *tag)
{
    for (size_t i = 0; p && i < p->burns; i++)
        if (strcmp(p->burn[i].tag, tag) == 0)
            return p->burn[i].bolt_number;
    return "";
}

/* The bolt of each observation, by the tag of its swatch; "" for a swatch of no bolt. */
static tb_rc bolts_of(const char ***out, struct tb_book *b, const char *lot_id, const struct tb_pending *p,
                      const struct tb_observation *obs, size_t n, struct tb_arena *mem, struct tb_err *err)
{
    struct tb_swatch *swatch = NULL;
    size_t swatches = 0;
    tb_rc rc =
        tb_swatch_ever_list(&swatch, &swatches, b, lot_id, mem, err); /* as of a row before it was void */

    *out = tb_arena_alloc(mem, (n + 1) * sizeof **out);
    for (size_t i = 0; i < n && rc == TB_OK; i++) {
        (*out)[i] = pending_bolt(p, obs[i].swatch);
        for (size_t k = 0; k < swatches; k++)
            if (strcmp(swatch[k].tag, obs[i].swatch) == 0)
                (*out)[i] = swatch[k].bolt_number;
    }
    return rc;
}

/* Each bolt a set, by the order of its first swatch; returns how many, and of[s] one observation of each. */
static size_t sets_of(size_t *set, size_t *of, const struct tb_lot_burns *burns)
{
    size_t sets = 0;

    for (size_t i = 0; i < burns->n; i++) {
        set[i] = 0;
        while (set[i] < sets && strcmp(burns->bolt[of[set[i]]], burns->bolt[i]) != 0)
            set[i]++;
        if (set[i] == sets)
            of[sets++] = i;
    }
    return sets;
}

/* A bench test that joined no burn is an observation without a flame. */
static bool is_burn(const struct tb_observation *o)
{
    struct tb_channel channel;

    for (size_t i = 0; i < tb_channel_count(); i++) {
        tb_channel_at(&channel, (int)i);
        if (o->looked[i] && !channel.bench)
            return true;
    }
    return false;
}

static void note_bolt(struct tb_lot_verdict *out, const char *number, const struct tb_lot_burns *burns,
                      const struct tb_verdict *v)
{
    struct tb_bolt_verdict *b = &out->bolt[out->bolts++];

    *b = (struct tb_bolt_verdict){
        tb_strdup(number), v->kind, v->grade, v->log_ratio, v->bounds, v->burns, 0, NULL, 0, v->at_odds
    };
    b->n_likely = tb_verdict_first_likely(&b->likely, v);
    for (size_t i = 0; i < burns->n; i++)
        b->burns += strcmp(burns->bolt[i], number) == 0 && is_burn(&burns->obs[i]);
    out->burns += b->burns;
}

/* Why the figures are those of one bolt. */
static void note_why(struct tb_text *note, const struct tb_lot_verdict *out, size_t which)
{
    const char *number = out->bolt[which].number;
    size_t bad = 0;

    for (size_t i = 0; i < out->bolts; i++)
        bad += out->bolt[i].kind == TB_CONTRADICTS;
    if (bad)
        tb_text_addf(note,
                     "Bolt %s contradicts the declaration by itself, so the lot does; the figures here are "
                     "of that bolt. "
                     "%zu of the %zu burnt bolts contradict.",
                     number, bad, out->bolts);
    else if (out->bolt[which].at_odds)
        tb_text_addf(
            note,
            "What was seen of bolt %s contradicts itself, and the other bolts do not say which of it is "
            "the mistake; the figures here are of that bolt.",
            number);
    else
        tb_text_addf(
            note,
            "All %zu bolts together would fit, but something speaks against bolt %s by itself, so the "
            "lot does not fit; the figures here are of that bolt.",
            out->bolts, number);
}

/* The verdict of the bolt that is most against the declaration takes the place of that of all together. */
static void take_bolt(struct tb_lot_verdict *out, struct tb_verdict *alone, size_t which)
{
    struct tb_text note = { 0 };

    note_why(&note, out, which);
    tb_verdict_free(&out->verdict);
    out->verdict = alone[which];
    out->burns = out->bolt[which].burns;
    alone[which] = (struct tb_verdict){ 0 };
    TB_PUSH(out->verdict.note, out->verdict.n_note, tb_text_take(&note));
}

/* All together, and each bolt alone; one bolt alone is all together. */
static tb_rc weigh_bolts(struct tb_lot_verdict *out, const struct tb_lot_burns *burns, const size_t *set,
                         const size_t *of, size_t sets, const struct tb_evidence *ev,
                         struct tb_recall *recall, unsigned want, struct tb_err *err)
{
    size_t apart = sets > 1 ? sets : 0;
    struct tb_verdict *alone = tb_array(struct tb_verdict, sets + 1);
    tb_rc rc = tb_evidence_judge_sets(&out->verdict, alone, ev, recall, &out->declaration, burns->obs,
                                      burns->n, set, apart, want, err);

    out->bolt = tb_array(struct tb_bolt_verdict, sets);
    for (size_t s = 0; s < sets && rc == TB_OK; s++) {
        const struct tb_verdict *v = apart ? &alone[s] : &out->verdict;

        note_bolt(out, burns->bolt[of[s]], burns, v);
    }
    if (rc == TB_OK && out->verdict.by_set)
        take_bolt(out, alone, out->verdict.by_set - 1);
    for (size_t s = 0; s < sets; s++)
        tb_verdict_free(&alone[s]);
    free(alone);
    return rc;
}

/* What a laboratory found warns whoever handles the cloth now; no ratio rests on it. */
static tb_rc read_analyses(struct tb_lot_burns *out, struct tb_book *b, const char *lot_id, int64_t upto,
                           struct tb_arena *mem, struct tb_err *err)
{
    struct tb_analysis *a = NULL;
    tb_rc rc = upto == TB_BOOK_NOW ? tb_analysis_list(&a, &out->analyses, b, lot_id, mem, err) : TB_OK;

    out->analysis = a;
    return rc;
}

tb_rc tb_bench_read(struct tb_lot_burns *out, struct tb_book *b, const struct tb_lot *lot,
                    const struct tb_pending *p, int64_t upto, struct tb_arena *mem, struct tb_err *err)
{
    tb_rc rc;

    *out = (struct tb_lot_burns){ .ref = tb_arena_strdup(mem, lot->ref),
                                  .delivery = tb_arena_strdup(mem, lot->delivery),
                                  .declared = "" };
    if ((rc = tb_lot_observations(&out->obs, &out->n, b, lot->id, p, upto, mem, err)) != TB_OK ||
        (rc = tb_declarations_upto(&out->said, &out->says, b, lot->id, upto, mem, err)) != TB_OK ||
        (rc = read_analyses(out, b, lot->id, upto, mem, err)) != TB_OK ||
        (rc = bolts_of(&out->bolt, b, lot->id, p, out->obs, out->n, mem, err)) != TB_OK)
        return tb_within(err, rc, "lot %s", lot->ref);
    if (p && p->declared)
        out->declared = tb_arena_strdup(mem, p->declared);
    else if (out->says)
        out->declared = out->said[out->says - 1];
    return TB_OK;
}

/* What was burned is used up: another burn is of a new swatch of the same bolt. */
static void name_bolt(struct tb_verdict *v, const struct tb_lot_burns *burns)
{
    for (size_t i = 0; i < burns->n && v->confirm_beside && !v->confirm_bolt; i++)
        if (burns->obs[i].swatch && strcmp(burns->obs[i].swatch, v->confirm_beside) == 0 && *burns->bolt[i])
            v->confirm_bolt = tb_strdup(burns->bolt[i]);
}

tb_rc tb_bench_weigh(struct tb_lot_verdict *out, const struct tb_lot_burns *burns,
                     const struct tb_evidence *ev, struct tb_recall *recall, unsigned want,
                     struct tb_err *err)
{
    struct tb_recall *own = recall ? NULL : tb_recall_new(ev);
    size_t *set = tb_array(size_t, burns->n + 1), *of = tb_array(size_t, burns->n + 1);
    struct tb_evidence *apart = tb_evidence_apart(ev, burns->delivery);
    tb_rc rc;

    *out = (struct tb_lot_verdict){ .observations = burns->n };
    tb_declaration_read(&out->declaration, burns->declared, strlen(burns->declared));
    for (size_t i = 0; i < burns->says; i++)
        tb_declaration_also(&out->declaration, burns->said[i], strlen(burns->said[i]));
    tb_words_found(&out->declaration, burns->analysis, burns->analyses);
    /* what was weighed before serves both: no sum rests on the bounds */
    if (own)
        tb_recall_together(own, tb_in_parallel);
    rc = weigh_bolts(out, burns, set, of, sets_of(set, of, burns), apart ? apart : ev, own ? own : recall,
                     want, err);
    name_bolt(&out->verdict, burns);
    tb_recall_free(own);
    tb_evidence_free(apart);
    free(set);
    free(of);
    if (rc != TB_OK) {
        tb_lot_verdict_free(out);
        return tb_within(err, rc, "lot %s", burns->ref);
    }
    return TB_OK;
}

tb_rc tb_bench_judge(struct tb_lot_verdict *out, struct tb_book *b, const struct tb_lot *lot,
                     const struct tb_evidence *ev, unsigned want, int64_t upto, struct tb_err *err)
{
    struct tb_arena mem = { 0 };
    struct tb_lot_burns burns;
    tb_rc rc = tb_bench_read(&burns, b, lot, NULL, upto, &mem, err);

    *out = (struct tb_lot_verdict){ 0 };
    if (rc == TB_OK)
        rc = tb_bench_weigh(out, &burns, ev, NULL, want, err);
    tb_arena_free(&mem);
    return rc;
}

void tb_lot_verdict_free(struct tb_lot_verdict *v)
{
    tb_verdict_free(&v->verdict);
    tb_declaration_free(&v->declaration);
    for (size_t i = 0; i < v->bolts; i++) {
        free(v->bolt[i].number);
        free(v->bolt[i].likely);
    }
    free(v->bolt);
    *v = (struct tb_lot_verdict){ 0 };
}

json_t *tb_lot_verdict_json(const struct tb_lot_verdict *v, const struct tb_lot *lot)
{
    json_t *j = tb_verdict_json(&v->verdict, lot->ref, &v->declaration), *list = json_array();

    for (size_t i = 0; i < v->bolts; i++) {
        const struct tb_bolt_verdict *b = &v->bolt[i];

        (void)json_array_append_new(
            list,
            json_pack("{s:s, s:s, s:s, s:o, s:o, s:I, s:I, s:o}", "bolt", b->number, "verdict",
                      tb_verdict_key(b->kind), "grade", tb_word(&tb_grade_words, (int)b->grade), "log_ratio",
                      tb_json_number(tb_bounded(&b->bounds, b->log_ratio)), "sort_log_ratio",
                      tb_json_number(b->log_ratio), "burns", (json_int_t)b->burns, "observations",
                      (json_int_t)b->observations, "likeliest", tb_likely_json(b->likely, b->n_likely)));
    }
    (void)json_object_set_new(j, "by_bolt", list);
    (void)json_object_set_new(j, "burns", json_integer((json_int_t)v->burns));
    (void)json_object_set_new(j, "observations", json_integer((json_int_t)v->verdict.burns));
    (void)json_object_set_new(j, "bolts_burnt", json_integer(lot->bolts_burnt));
    (void)json_object_set_new(j, "bolts_tested", json_integer(lot->bolts_tested));
    (void)json_object_set_new(j, "bolts", json_integer(lot->bolts));
    return j;
}
