/* bench_json.c - swatches, burns, tests and analyses as JSON, with those that were corrected. */
#include "tenterbook/tell.h"

#include <string.h>

#define SWATCH(member, key) TB_JSON_AS(struct tb_swatch, member, key)
TB_JSON_MEMBERS(swatch_members, SWATCH(tag, "swatch"), SWATCH(lot_ref, "lot"), SWATCH(bolt_number, "bolt"),
                TB_JSON_WORD_AS(struct tb_swatch, part, "part", &tb_part_words), SWATCH(known, "known"),
                SWATCH(kept, "kept"), SWATCH(cut_at, "cut_at"), SWATCH(cut_by, "cut_by"));
#define CUE(member, key) TB_JSON_AS(struct tb_cue_seen, member, key)
TB_JSON_MEMBERS(cue_members, CUE(cue, "cue"), CUE(seen, "seen"));
#define BURN(member, key) TB_JSON_AS(struct tb_burn, member, key)
TB_JSON_MEMBERS(burn_members, BURN(id, "burn"), BURN(tag, "swatch"),
                TB_JSON_WORD_AS(struct tb_burn, part, "part", &tb_part_words), BURN(looked, "looked"),
                BURN(could_not, "could_not"), BURN(burned_at, "burned_at"), BURN(recorded_at, "recorded_at"),
                BURN(burned_by, "burned_by"));
TB_JSON_MEMBERS(more_of_burn, BURN(bolt_number, "bolt"), BURN(note, "note"), BURN(flame, "flame"),
                BURN(sample_mm, "sample_mm"), BURN(at_hand, "at_hand"), BURN(dead_at, "dead_at"),
                BURN(replaces, "corrects"));
#define TEST(member, key) TB_JSON_AS(struct tb_bench_test, member, key)
TB_JSON_MEMBERS(test_members, TEST(id, "id"), TEST(tag, "swatch"), TEST(test, "test"), TEST(result, "result"),
                TEST(tested_at, "tested_at"), TEST(tested_by, "tested_by"), TEST(note, "note"),
                TEST(replaces, "corrects"));
#define FOUND(member, key) TB_JSON_AS(struct tb_analysis, member, key)
TB_JSON_MEMBERS(analysis_members, FOUND(id, "id"),
                TB_JSON_WORD_AS(struct tb_analysis, part, "part", &tb_part_words),
                FOUND(laboratory, "laboratory"), FOUND(report, "report"), FOUND(route, "route"),
                FOUND(methods, "methods"), FOUND(found, "found"), FOUND(u, "u"), FOUND(answers, "answers"),
                FOUND(analysed_on, "analysed_on"), FOUND(recorded_at, "recorded_at"),
                FOUND(recorded_by, "recorded_by"));

#define PHOTO(member, key) TB_JSON_AS(struct tb_attachment, member, key)
TB_JSON_MEMBERS(photo_members, PHOTO(name, "name"), PHOTO(media, "media"), PHOTO(sha256, "sha256"));
#define MOVED(member, key) TB_JSON_AS(struct tb_moved, member, key)
TB_JSON_MEMBERS(moved_members, MOVED(from_tag, "from"), MOVED(moved_at, "at"), MOVED(moved_by, "by"),
                MOVED(why, "why"));

static json_t *photos_json(const struct tb_bench_records *r, const char *subject)
{
    json_t *list = json_array();

    for (size_t i = 0; i < r->photos; i++)
        if (strcmp(r->photo[i].subject, subject) == 0)
            tb_json_push(list, tb_json_of(photo_members, &r->photo[i]));
    return list;
}

/* Where the record was before it was moved; null: it never was. */
static json_t *moved_json(const struct tb_bench_records *r, const char *id)
{
    for (size_t i = r->moveds; i-- > 0;)
        if (strcmp(r->moved[i].record, id) == 0)
            return tb_json_of(moved_members, &r->moved[i]);
    return json_null();
}

json_t *tb_json_swatches(const struct tb_swatch *swatch, size_t n)
{
    return tb_json_all(swatch_members, swatch, n);
}

static json_t *burn_json(const struct tb_burn *u)
{
    json_t *j = tb_json_of(burn_members, u);

    tb_json_put(j, "cues", tb_json_all(cue_members, u->cue, u->cues));
    tb_json_put(j, "typed_later", json_boolean(tb_burn_typed_later(u)));
    tb_json_add(j, more_of_burn, TB_COUNT(more_of_burn), u);
    return j;
}

/* The record that corrects this one: it counts, or was corrected itself. Each record is corrected by one at most. */
#define CORRECTED_BY(by, record, n, wanted)                                                                  \
    do {                                                                                                     \
        for (size_t k_ = 0; k_ < (n); k_++)                                                                  \
            if ((record)[k_].replaces && strcmp((record)[k_].replaces, (wanted)) == 0)                       \
                (by) = (record)[k_].id;                                                                      \
    } while (0)

void tb_json_put_bench(json_t *j, const struct tb_bench_records *now, const struct tb_bench_records *before)
{
    json_t *burns = json_array(), *tests = json_array(), *old_burns = json_array(), *old_tests = json_array(),
           *one;

    for (size_t i = 0; i < now->burns; i++) {
        one = burn_json(&now->burn[i]);
        tb_json_put(one, "photographs", photos_json(now, now->burn[i].id));
        tb_json_put(one, "moved", moved_json(now, now->burn[i].id));
        tb_json_push(burns, one);
    }
    for (size_t i = 0; i < now->tests; i++) {
        one = tb_json_of(test_members, &now->test[i]);
        tb_json_put(one, "moved", moved_json(now, now->test[i].id));
        tb_json_push(tests, one);
    }
    for (size_t i = 0; i < before->burns; i++) {
        const char *by = NULL;

        CORRECTED_BY(by, now->burn, now->burns, before->burn[i].id);
        CORRECTED_BY(by, before->burn, before->burns, before->burn[i].id);
        one = burn_json(&before->burn[i]);
        tb_json_put(one, "corrected_by", tb_json_text(by));
        tb_json_push(old_burns, one);
    }
    for (size_t i = 0; i < before->tests; i++) {
        const char *by = NULL;

        CORRECTED_BY(by, now->test, now->tests, before->test[i].id);
        CORRECTED_BY(by, before->test, before->tests, before->test[i].id);
        one = tb_json_of(test_members, &before->test[i]);
        tb_json_put(one, "corrected_by", tb_json_text(by));
        tb_json_push(old_tests, one);
    }
    tb_json_put(j, "burn_list", burns);
    tb_json_put(j, "corrected_burns", old_burns);
    tb_json_put(j, "test_list", tests);
    tb_json_put(j, "corrected_tests", old_tests);
}

json_t *tb_json_swatch_story(const struct tb_swatch_story *s)
{
    json_t *j = tb_json_of(swatch_members, &s->swatch);

    tb_json_put(j, "photographs", photos_json(&s->now, s->swatch.id));
    tb_json_put_bench(j, &s->now, &s->before);
    if (s->voidings || s->gone.burns || s->gone.tests) {
        json_t *gone = json_object();

        tb_json_put(gone, "records", tb_json_voidings(s->voiding, s->voidings));
        tb_json_put_bench(gone, &s->gone, &(struct tb_bench_records){ 0 });
        tb_json_put(j, "void", gone);
    }
    return j;
}

static json_t *analysis_json(const struct tb_analysis *a)
{
    json_t *j = tb_json_of(analysis_members, a), *detail = json_loads(a->detail, 0, NULL);

    tb_json_put(j, "detail", detail ? detail : json_null());
    return j;
}

static json_t *analyses_json(const struct tb_analysis *x, size_t n)
{
    json_t *list = json_array();

    for (size_t i = 0; i < n; i++)
        tb_json_push(list, analysis_json(&x[i]));
    return list;
}

void tb_json_put_void_papers(json_t *j, const struct tb_voidings *gone)
{
    tb_json_put(j, "analyses", analyses_json(gone->analysis, gone->analyses));
    tb_json_put(j, "dispute_steps", tb_json_dispute_steps(gone->step, gone->steps));
}

json_t *tb_json_analysis_list(const struct tb_lot *lot, const struct tb_analysis *x, size_t n)
{
    return json_pack("{s:s, s:o}", "lot", lot->ref, "analyses", analyses_json(x, n));
}

json_t *tb_json_assay_recorded(const struct tb_assay_lot_outcome *done)
{
    json_t *j = tb_assay_json(&done->assay);

    tb_json_put(j, "lot", json_string(done->lot.ref));
    tb_json_put(j, "analysis", json_string(done->analysis.id));
    tb_json_put(j, "held", json_boolean(done->held));
    tb_json_put(j, "lifted", json_boolean(done->lifted));
    tb_json_put(j, "sendings", tb_json_sendings(done->sending, done->sendings));
    tb_json_put(j, "own_label", done->label.claim ? tb_assay_json(&done->label) : json_null());
    return j;
}

void tb_json_put_analyses(json_t *j, const struct tb_lot_story *s)
{
    json_t *before = json_array();

    for (size_t i = 0; i < s->analyses_before; i++) {
        json_t *one = analysis_json(&s->analysis_before[i]);
        const char *by = NULL;

        CORRECTED_BY(by, s->analysis, s->analyses, s->analysis_before[i].id);
        CORRECTED_BY(by, s->analysis_before, s->analyses_before, s->analysis_before[i].id);
        tb_json_put(one, "corrected_by", tb_json_text(by));
        tb_json_push(before, one);
    }
    tb_json_put(j, "analyses", analyses_json(s->analysis, s->analyses));
    tb_json_put(j, "corrected_analyses", before);
}
