/* What came of an act at the bench, as JSON, and the cautions that go before it. */
#include "base/say.h"
#include "tenterbook/tell.h"

/* Before anything is lit, not after: the list stands above what is to be done. */
void tb_cautions_words(struct tb_text *out, const struct tb_declaration *d, const char *test)
{
    const struct tb_caution *list;
    struct tb_arena mem = { 0 };
    size_t n;

    tb_bench_cautions(&list, &n, d, test, &mem);
    if (n)
        tb_text_say(out, "Cautions:\n");
    for (size_t i = 0; i < n; i++)
        tb_text_addf(out, "  - %s\n", list[i].say);
    tb_arena_free(&mem);
}

#define CUT(member, key) TB_JSON_AS(struct tb_cut_outcome, member, key)
TB_JSON_MEMBERS(cut_members, CUT(swatch.tag, "swatch"),
                TB_JSON_WORD_AS(struct tb_cut_outcome, swatch.part, "part", &tb_part_words),
                CUT(lot.ref, "lot"), CUT(swatch.known, "known"), CUT(swatch.cut_at, "cut_at"),
                TB_JSON_WORD_AS(struct tb_cut_outcome, standing, "standing", &tb_standing_words),
                CUT(unburnable, "neither_burned_nor_melted"));

json_t *tb_json_cut(const struct tb_cut_outcome *cut, const struct tb_declaration *d)
{
    json_t *j = tb_json_of(cut_members, cut), *cautions = json_array(), *waiting = json_array();
    const struct tb_caution *list;
    struct tb_arena mem = { 0 };
    size_t n;

    tb_json_put_early(j, cut->swatch.cut_at, &cut->lot);
    for (size_t i = 0; i < cut->n_waiting; i++)
        tb_json_push(waiting, tb_json_text(cut->waiting[i]));
    tb_json_put(j, "waiting", waiting);
    tb_bench_cautions(&list, &n, d, "burn", &mem);
    for (size_t i = 0; i < n; i++)
        tb_json_push(cautions, tb_json_text(list[i].say));
    tb_json_put(j, "cautions", cautions);
    tb_arena_free(&mem);
    return j;
}

json_t *tb_json_use(const struct tb_use_request *request, const struct tb_use_outcome *done,
                    const char *warning)
{
    json_t *bolts = json_array(), *before = json_array(), *j;

    for (size_t i = 0; i < request->bolts; i++)
        tb_json_push(bolts, tb_json_text(request->bolt[i]));
    for (size_t i = 0; i < done->befores; i++)
        tb_json_push(before, tb_json_text(done->before[i].bolt_number));
    j = json_pack("{s:s, s:o, s:b, s:b, s:o, s:o}", "lot", done->lot.ref, "bolts", bolts, "used",
                  !request->back, "anyway", done->warning == TB_USE_ANYWAY, "cut_into_before", before,
                  "warning", tb_json_text(warning));
    tb_json_put_early(j, request->used_at, &done->lot);
    return j;
}

/* --- acts after which a lot is judged again --------------------------------------------------------------------- */

static void put_rejudged(json_t *j, const struct tb_rejudged *r, const char *moment)
{
    tb_json_put(j, "lot", tb_json_lot(&r->lot));
    tb_json_put(j, "judged", tb_lot_verdict_json(&r->v, &r->lot));
    tb_json_put(j, "held", json_boolean(r->held || r->disputed));
    tb_json_put(j, "lifted", json_boolean(r->lifted));
    tb_json_put(j, "decision_stays", tb_json_text(r->stays));
    tb_json_put_early(j, moment, &r->lot);
}

#define BURNED(member, key) TB_JSON_AS(struct tb_burn_outcome, member, key)
TB_JSON_MEMBERS(burned_members, BURNED(burn.id, "burn"), BURNED(swatch.tag, "swatch"),
                BURNED(burn.burned_at, "burned_at"), BURNED(twin, "says_the_same_as"));

json_t *tb_json_burned(const struct tb_burn_outcome *done)
{
    json_t *j = tb_json_of(burned_members, done);

    if (done->swatch.lot)
        put_rejudged(j, &done->judged, done->burn.burned_at);
    return j;
}

#define FILED(member, key) TB_JSON_AS(struct tb_burn_file_outcome, member, key)
TB_JSON_MEMBERS(filed_members, FILED(burns, "burns"), FILED(swatches, "swatches"), FILED(lots, "lots"),
                FILED(kind[TB_FITS], "fits"), FILED(kind[TB_CONTRADICTS], "contradicts"),
                FILED(kind[TB_UNDECIDED], "undecided"), FILED(held, "held"), FILED(early, "early"));

#define HELD(member, key) TB_JSON_AS(struct tb_held_lot, member, key)
TB_JSON_MEMBERS(held_members, HELD(ref, "lot"), HELD(confirm, "confirm"));

json_t *tb_json_burn_file(const struct tb_burn_file_outcome *done)
{
    json_t *j = tb_json_of(filed_members, done);

    tb_json_put(j, "held_lots", tb_json_all(held_members, done->held_lot, done->held));
    return j;
}

#define TRIED(member, key) TB_JSON_AS(struct tb_try_outcome, member, key)
TB_JSON_MEMBERS(tried_members, TRIED(test.id, "bench_test"), TRIED(swatch.tag, "swatch"),
                TRIED(test.test, "test"), TRIED(test.result, "result"));

json_t *tb_json_tried(const struct tb_try_outcome *done)
{
    json_t *j = tb_json_of(tried_members, done);

    if (done->swatch.lot)
        put_rejudged(j, &done->judged, done->test.tested_at);
    return j;
}

json_t *tb_json_settled(const struct tb_settle_outcome *done)
{
    json_t *j = tb_json_lot(&done->judged.lot);

    tb_json_put_early(j, done->standing.settled_at, &done->judged.lot);
    tb_json_put(j, "ended", tb_json_single_bolts(done->ended, done->endeds));
    return j;
}

json_t *tb_json_declared(const struct tb_rejudged *done)
{
    json_t *j = tb_json_lot(&done->lot);

    tb_json_put(j, "lifted", json_boolean(done->lifted));
    tb_json_put(j, "decision_stays", tb_json_text(done->stays));
    tb_json_put(j, "held_by_old_words", json_boolean(done->of_old_words));
    return j;
}

#define FOUND(member, key) TB_JSON_AS(struct tb_analysis, member, key)
TB_JSON_MEMBERS(found_members, FOUND(id, "id"),
                TB_JSON_WORD_AS(struct tb_analysis, part, "part", &tb_part_words), FOUND(found, "found"),
                FOUND(u, "u"), FOUND(laboratory, "laboratory"), FOUND(report, "report"),
                FOUND(analysed_on, "analysed_on"), FOUND(declared, "declared"), FOUND(answers, "answers"));

/* Null where nothing was analysed. */
static json_t *laboratory_json(const struct tb_laboratory *l)
{
    return l->n ? json_pack("{s:s, s:b, s:o}", "answer", tb_lab_answer_key(l->answer), "weighs_more",
                            l->settled, "analyses", tb_json_all(found_members, l->analysis, l->n))
                : json_null();
}

json_t *tb_json_judged_lot(const struct tb_rejudged *r)
{
    json_t *j = tb_lot_verdict_json(&r->v, &r->lot);

    tb_json_put(j, "standing", tb_json_text(tb_standing_key(r->lot.standing)));
    tb_json_put(j, "laboratory", laboratory_json(&r->laboratory));
    tb_json_put(j, "supplier_declared", r->said ? tb_json_text(r->said) : json_null());
    tb_json_put(j, "supplier_conclusion", r->said ? tb_json_concluded(&r->concluded) : json_null());
    return j;
}

#define CHANGED(member, key) TB_JSON_AS(struct tb_changed_lot, member, key)
TB_JSON_MEMBERS(changed_members, CHANGED(ref, "lot"),
                TB_JSON_SOME_WORD_AS(struct tb_changed_lot, was, "was", &tb_verdict_words),
                TB_JSON_WORD_AS(struct tb_changed_lot, now, "verdict", &tb_verdict_words),
                TB_JSON_WORD_AS(struct tb_changed_lot, grade, "grade", &tb_grade_words),
                CHANGED(held, "held"), CHANGED(confirm, "confirm"));
#define ALL(member, key) TB_JSON_AS(struct tb_judge_all_outcome, member, key)
TB_JSON_MEMBERS(all_members, ALL(lots, "lots"), ALL(kind[TB_FITS], "fits"),
                ALL(kind[TB_CONTRADICTS], "contradicts"), ALL(kind[TB_UNDECIDED], "undecided"),
                ALL(against, "speak_against"), ALL(held, "held"), ALL(kept, "kept"));

json_t *tb_json_judged_all(const struct tb_judge_all_outcome *done)
{
    json_t *j = tb_json_of(all_members, done);

    tb_json_put(j, "recorded", tb_json_all(changed_members, done->changed, done->recorded));
    return j;
}
