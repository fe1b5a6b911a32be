/* What the book holds about a lot or a swatch: what was corrected and what laboratories found are not left out. */
#include "unit/bench_helper.h"

#include "tenterbook/act_lab.h"
#include "tenterbook/tell.h"

static struct tb_text text;

static void holds(const char *words)
{
    if (!strstr(tb_text_str(&text), words))
        fail_msg("'%s' does not hold '%s'", tb_text_str(&text), words);
}

static const char *at(const json_t *j, const char *list, size_t i, const char *key)
{
    return json_string_value(json_object_get(json_array_get(json_object_get(j, list), i), key));
}

static struct tb_lot_story story_of(struct scene *s)
{
    struct tb_lot_story story;

    OK(tb_lot_story_read(&story, s->actor.book, s->lot.ref, "2026-11-26", &s->mem, &err));
    return story;
}

/* A burn of this swatch in place of another; the id of the record, or NULL: the first. */
static const char *burn_again(struct scene *s, const char *tag, const char *cues, const char *corrects)
{
    struct tb_observation seen = seen_as(cues);
    struct tb_burn_outcome out;

    OK(tb_act_burn(&out, &s->actor,
                   &(struct tb_burn_request){
                       .swatch = tag, .seen = &seen, .sample_mm = (double)NAN, .corrects = corrects },
                   &s->mem, &err));
    tb_rejudged_free(&out.judged);
    return out.burn.id;
}

static void a_burn_that_was_corrected_twice_is_told_below_the_last_one(void **state)
{
    struct scene *s = scene_make("100% cotton", 1);
    const char *tag = cut_one(s, "B1", TB_PART_WHOLE), *id[3];
    struct tb_lot_story story;
    struct tb_bench_records now;
    char words[160];
    json_t *j;

    (void)state;
    id[0] = burn_again(s, tag, "odour:burning_hair", NULL);
    id[1] = burn_again(s, tag, "odour:sweet", id[0]);
    id[2] = burn_again(s, tag, "odour:burning_paper", id[1]);
    story = story_of(s);
    assert_int_equal(story.burns, 1);
    assert_int_equal(story.before.burns, 2);
    now = (struct tb_bench_records){
        .burn = story.burn, .test = story.test, .burns = story.burns, .tests = story.tests
    };
    tb_bench_words(&text, &now, &story.before);
    (void)snprintf(words, sizeof words,
                   "odour:sweet; looked at: odour\n  corrected: burn %s stands in its place\n", id[2]);
    holds(words);
    (void)snprintf(words, sizeof words,
                   "odour:burning_hair; looked at: odour\n  corrected: burn %s stands in its place\n", id[1]);
    holds(words);
    tb_text_free(&text);
    j = tb_json_story(&story);
    assert_string_equal(at(j, "burn_list", 0, "burn"), id[2]);
    assert_string_equal(at(j, "corrected_burns", 0, "corrected_by"), id[1]);
    assert_string_equal(at(j, "corrected_burns", 1, "corrected_by"), id[2]);
    assert_int_equal(json_array_size(json_object_get(j, "corrected_burns")), 2);
    json_decref(j);
    scene_free(s);
}

static void a_test_that_was_corrected_is_told_below_the_one_that_counts(void **state)
{
    struct scene *s = scene_make("100% acetate", 1);
    struct tb_try_request r = { .swatch = cut_one(s, "B1", TB_PART_WHOLE),
                                .test = "acetone",
                                .result = "stays" };
    struct tb_try_outcome wrong, right;
    struct tb_swatch_story story;
    char words[160];
    json_t *j;

    (void)state;
    OK(tb_act_try(&wrong, &s->actor, &r, &s->mem, &err));
    r.result = "dissolves";
    r.corrects = wrong.test.id;
    OK(tb_act_try(&right, &s->actor, &r, &s->mem, &err));
    OK(tb_swatch_story_read(&story, s->actor.book, r.swatch, &s->mem, &err));
    tb_swatch_story_words(&text, &story);
    (void)snprintf(words, sizeof words,
                   "acetone: stays, by Ada Fell at 2026-11-26T12:00:00Z\n  corrected: test %s "
                   "stands in its place\n",
                   right.test.id);
    holds(words);
    tb_text_free(&text);
    j = tb_json_swatch_story(&story);
    assert_string_equal(at(j, "test_list", 0, "result"), "dissolves");
    assert_string_equal(at(j, "test_list", 0, "corrects"), wrong.test.id);
    assert_string_equal(at(j, "corrected_tests", 0, "corrected_by"), right.test.id);
    json_decref(j);
    tb_rejudged_free(&wrong.judged);
    tb_rejudged_free(&right.judged);
    scene_free(s);
}

static void what_a_laboratory_found_is_told_with_what_it_corrects(void **state)
{
    struct scene *s = scene_make("60% cotton 40% polyester", 1);
    struct tb_assay_request found;
    struct tb_assay_lot_request r = {
        .lot = "B1", .laboratory = "Ring Street", .report = "77", .analysed_on = "2026-10-06", .assay = &found
    };
    struct tb_assay_lot_outcome first, second;
    struct tb_lot_story story;
    char words[160];
    json_t *j;

    (void)state;
    tb_assay_request_init(&found);
    found.figure[TB_ASSAY_UNCERTAINTY] = 0.5;
    found.found = "45% cotton 55% polyester";
    OK(tb_act_assay(&first, &s->actor, &r, &s->mem, &err));
    found.found = "60% cotton 40% polyester";
    r.corrects = first.analysis.id;
    OK(tb_act_assay(&second, &s->actor, &r, &s->mem, &err));
    story = story_of(s);
    tb_analyses_words(&text, &story);
    holds("2026-10-06, by Ring Street: 60 % cotton, 40 % polyester (largest standard uncertainty 0.5 "
          "points)\n");
    holds("  compared with \"60% cotton 40% polyester\": ");
    holds("eu: conforms");
    holds("  report 77\n");
    holds("eu: does not conform");
    (void)snprintf(words, sizeof words, "  corrected: analysis %s stands in its place\n", second.analysis.id);
    holds(words);
    tb_text_free(&text);
    j = tb_json_story(&story);
    assert_int_equal(json_array_size(json_object_get(j, "analyses")), 1);
    assert_string_equal(at(j, "analyses", 0, "id"), second.analysis.id);
    assert_string_equal(at(j, "corrected_analyses", 0, "corrected_by"), second.analysis.id);
    json_decref(j);
    tb_assay_lot_outcome_free(&first);
    tb_assay_lot_outcome_free(&second);
    scene_free(s);
}

static void a_swatch_nobody_burnt_or_tested_is_told_and_one_that_was_is_not(void **state)
{
    struct scene *s = scene_make("100% cotton", 2);
    const char *burnt = cut_one(s, "B1", TB_PART_WHOLE), *waiting = cut_one(s, "B2", TB_PART_WARP);
    struct tb_lot_story story;
    json_t *j;

    (void)state;
    (void)burn_again(s, burnt, AS_COTTON, NULL);
    story = story_of(s);
    tb_swatches_waiting_words(&text, &story);
    holds("Swatch W26-001.01.02: warp of bolt B2, lot W26-001.01, cut by Ada Fell at 2026-11-26T12:00:00Z\n"
          "  not burnt and not tested yet\n");
    assert_null(strstr(tb_text_str(&text), burnt));
    tb_text_free(&text);
    j = tb_json_story(&story);
    assert_string_equal(at(j, "swatch_list", 0, "swatch"), burnt);
    assert_string_equal(at(j, "swatch_list", 1, "swatch"), waiting);
    json_decref(j);
    scene_free(s);
}

static void a_swatch_is_told_without_what_was_done_with_others(void **state)
{
    struct scene *s = scene_make("100% cotton", 2);
    const char *tag = cut_one(s, "B1", TB_PART_WHOLE), *other = cut_one(s, "B2", TB_PART_WHOLE);
    struct tb_swatch_story story;

    (void)state;
    (void)burn_again(s, other, "odour:burning_hair", burn_again(s, other, "odour:sweet", NULL));
    OK(tb_swatch_story_read(&story, s->actor.book, tag, &s->mem, &err));
    assert_int_equal(story.now.burns + story.now.tests + story.before.burns + story.before.tests, 0);
    tb_swatch_story_words(&text, &story);
    holds("  not burnt and not tested yet\nAll about its lot: tenterbook look W26-001.01\n");
    tb_text_free(&text);
    OK(tb_swatch_story_read(&story, s->actor.book, other, &s->mem, &err));
    assert_int_equal(story.now.burns, 1);
    assert_int_equal(story.before.burns, 1);
    assert_int_equal(tb_swatch_story_read(&story, s->actor.book, "W26-001.01.03", &s->mem, &err),
                     TB_ENOTFOUND);
    assert_string_equal(
        err.msg,
        "there is no swatch W26-001.01.03 in this book; did you mean W26-001.01.01 or W26-001.01.02?");
    scene_free(s);
}

static void known_cloth_is_told_with_its_composition_and_burns(void **state)
{
    struct scene *s = scene_make("100% cotton", 1);
    struct tb_cut_outcome cut;
    struct tb_swatch_story story;

    (void)state;
    OK(tb_act_cut(&cut, &s->actor, &(struct tb_cut_request){ .known = "100% wool" }, &s->mem, &err));
    (void)burn_again(s, cut.swatch.tag, "odour:burning_hair", NULL);
    OK(tb_swatch_story_read(&story, s->actor.book, "W-K01", &s->mem, &err));
    tb_swatch_story_words(&text, &story);
    holds("Swatch W-K01: known cloth, 100% wool, cut by Ada Fell at ");
    holds(": swatch W-K01, by Ada Fell at ");
    assert_null(strstr(tb_text_str(&text), "All about its lot"));
    tb_text_free(&text);
    scene_free(s);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_burn_that_was_corrected_twice_is_told_below_the_last_one),
        cmocka_unit_test(a_test_that_was_corrected_is_told_below_the_one_that_counts),
        cmocka_unit_test(what_a_laboratory_found_is_told_with_what_it_corrects),
        cmocka_unit_test(a_swatch_nobody_burnt_or_tested_is_told_and_one_that_was_is_not),
        cmocka_unit_test(a_swatch_is_told_without_what_was_done_with_others),
        cmocka_unit_test(known_cloth_is_told_with_its_composition_and_burns),
    };

    return cmocka_run_group_tests(tests, NULL, NULL);
}
