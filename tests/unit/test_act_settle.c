/* The acts of deciding about a lot: settle, declare, use; each refusal. */
#include "unit/bench_helper.h"

static void a_decision_is_recorded_with_its_reason(void **state)
{
    struct scene *s = scene_make("100% cotton", 1);
    struct tb_settle_outcome out;
    struct tb_standing *list;
    size_t n = 0;

    (void)state;
    OK(tb_act_settle(&out, &s->actor,
                     &(struct tb_settle_request){ .lot = s->lot.ref, .as = TB_RELEASED, .why = "looks well" },
                     &s->mem, &err));
    assert_int_equal(out.judged.lot.standing, TB_RELEASED);
    assert_false(out.judged.judged);
    assert_null(out.dispute_opened);
    OK(tb_standing_list(&list, &n, s->actor.book, s->lot.id, &s->mem, &err));
    assert_string_equal(list[n - 1].why, "looks well");
    assert_string_equal(list[n - 1].settled_by, "Ada Fell");
    tb_rejudged_free(&out.judged);
    scene_free(s);
}

static void relabelling_keeps_both_words_and_judges_the_new_ones(void **state)
{
    struct scene *s = scene_make("100% cotton", 1);
    struct tb_burn_outcome burnt = burn_one(s, cut_one(s, "B1", TB_PART_WHOLE), AS_POLYESTER);
    struct tb_settle_outcome out;

    (void)state;
    assert_true(burnt.judged.held);
    OK(tb_act_settle(&out, &s->actor,
                     &(struct tb_settle_request){ .lot = s->lot.ref,
                                                  .as = TB_RELABELLED,
                                                  .why = "laboratory",
                                                  .new_words = "100% polyester",
                                                  .goods_of = "own stock" },
                     &s->mem, &err));
    assert_string_equal(out.standing.old_words, "100% cotton");
    assert_true(out.judged.judged && out.judged.recorded);
    assert_int_equal(out.judged.v.verdict.kind, TB_FITS);
    assert_string_equal(out.judged.lot.declared, "100% polyester");
    assert_int_equal(out.judged.lot.standing, TB_RELABELLED);
    tb_rejudged_free(&out.judged);
    tb_rejudged_free(&burnt.judged);
    scene_free(s);
}

static void a_decision_that_is_not_whole_is_refused(void **state)
{
    struct scene *s = scene_make("100% cotton", 1);
    const char *lot = s->lot.ref;
    struct tb_settle_outcome out;

    (void)state;
#define SETTLE(code, words, ...)                                                                             \
    REFUSED(s, tb_act_settle(&out, &s->actor, &(struct tb_settle_request){ __VA_ARGS__ }, &s->mem, &err),    \
            code, words)
    SETTLE(TB_ENOTFOUND, "W99-001.01", .lot = "W99-001.01", .as = TB_HELD, .why = "slip");
    SETTLE(TB_EINVAL, "B1 is a bolt of lot", .lot = "B1", .as = TB_RELEASED, .why = "slip");
    SETTLE(TB_EINVAL, "is not a standing", .lot = lot, .why = "slip");
    SETTLE(TB_EINVAL, "still to come", .lot = lot, .as = TB_HELD, .why = "slip",
           .settled_at = "2099-01-01T00:00:00Z");
    SETTLE(TB_EINVAL, "needs its reason", .lot = lot, .as = TB_HELD, .why = "");
    SETTLE(TB_EINVAL, "the new label's words", .lot = lot, .as = TB_RELABELLED, .why = "slip",
           .goods_of = "own");
    SETTLE(TB_EINVAL, "whose goods", .lot = lot, .as = TB_RELABELLED, .why = "slip", .new_words = "silk");
    SETTLE(TB_EINVAL, "belong to", .lot = lot, .as = TB_HELD, .why = "slip", .new_words = "silk");
    OK(tb_act_settle(&out, &s->actor,
                     &(struct tb_settle_request){ .lot = lot, .as = TB_RETURNED, .why = "false" }, &s->mem,
                     &err));
    SETTLE(TB_EREFUSED, "settle it as waiting first", .lot = lot, .as = TB_RELEASED, .why = "slip");
    OK(tb_act_settle(&out, &s->actor,
                     &(struct tb_settle_request){ .lot = lot, .as = TB_WAITING, .why = "it is back" },
                     &s->mem, &err));
    scene_free(s);
}

static void an_answer_becomes_the_declaration_and_is_judged(void **state)
{
    struct scene *s = scene_make("soft cloth", 1);
    struct tb_rejudged out;
    struct tb_burn_outcome burnt;

    (void)state;
    OK(tb_act_declare(
        &out, &s->actor,
        &(struct tb_declare_request){ .lot = s->lot.ref, .text = "100% silk", .why = "their letter" },
        &s->mem, &err));
    assert_false(out.judged); /* nothing was burnt yet */
    assert_string_equal(out.lot.declared, "100% silk");
    tb_rejudged_free(&out);
    burnt = burn_one(s, cut_one(s, "B1", TB_PART_WHOLE), AS_COTTON);
    assert_true(burnt.judged.held);
    OK(tb_act_declare(&out, &s->actor,
                      &(struct tb_declare_request){
                          .lot = s->lot.ref, .text = "100% cotton", .why = "silk was a slip", .slip = true },
                      &s->mem, &err));
    assert_true(out.judged && out.recorded && !out.held && out.lifted);
    assert_int_equal(out.v.verdict.kind, TB_FITS);
    assert_int_equal(out.lot.standing, TB_WAITING); /* what was never declared is not held against it */
    tb_rejudged_free(&out);
    REFUSED(s,
            tb_act_declare(&out, &s->actor, &(struct tb_declare_request){ .lot = s->lot.ref, .text = "" },
                           &s->mem, &err),
            TB_EINVAL, "needs its words");
    REFUSED(s,
            tb_act_declare(&out, &s->actor,
                           &(struct tb_declare_request){ .lot = "B7", .text = "100% cotton" }, &s->mem, &err),
            TB_ENOTFOUND, "B7");
    tb_rejudged_free(&burnt.judged);
    scene_free(s);
}

static void the_reason_of_an_answer_is_kept(void **state)
{
    struct scene *s = scene_make("soft cloth", 1);
    struct tb_declare_request r = { .lot = s->lot.ref, .text = "100% polyester", .why = "" };
    struct tb_declared *list;
    struct tb_rejudged out;
    size_t n = 0;

    (void)state;
    REFUSED(s, tb_act_declare(&out, &s->actor, &r, &s->mem, &err), TB_EREFUSED,
            "say where \"100% polyester\" comes");
    r.why = "letter of 6 October";
    OK(tb_act_declare(&out, &s->actor, &r, &s->mem, &err));
    OK(tb_declaration_list(&list, &n, s->actor.book, s->lot.id, &s->mem, &err));
    assert_int_equal(n, 2);
    assert_string_equal(list[0].text, "soft cloth");
    assert_string_equal(list[0].why, "");
    assert_string_equal(list[1].text, "100% polyester");
    assert_string_equal(list[1].why, "letter of 6 October");
    tb_rejudged_free(&out);
    scene_free(s);
}

static void words_that_name_no_fibre_are_taken_only_knowingly(void **state)
{
    struct scene *s = scene_make("soft cloth", 1);
    struct tb_declare_request d = { .lot = s->lot.ref, .text = "rubbish" };
    struct tb_settle_request r = {
        .lot = s->lot.ref, .as = TB_RELABELLED, .why = "lab", .new_words = "rubbish", .goods_of = "own"
    };
    struct tb_settle_outcome settled;
    struct tb_rejudged out;

    (void)state;
    REFUSED(s, tb_act_declare(&out, &s->actor, &d, &s->mem, &err), TB_EINVAL,
            "no fibre can be read in \"rubbish\"");
    REFUSED(s, tb_act_settle(&settled, &s->actor, &r, &s->mem, &err), TB_EINVAL,
            "these are the words all the same");
    d.why = "so says the note";
    OK(tb_act_declare(&out, &s->actor, &d, &s->mem, &err));
    assert_string_equal(out.lot.declared, "rubbish");
    assert_false(out.lot.clear);
    tb_rejudged_free(&out);
    r.anyway = true;
    OK(tb_act_settle(&settled, &s->actor, &r, &s->mem, &err));
    tb_rejudged_free(&settled.judged);
    scene_free(s);
}

static void a_cut_is_recorded_with_what_the_person_should_know(void **state)
{
    struct scene *s = scene_make("100% cotton", 2);
    const char *both[] = { "B1", "B2" };
    struct tb_use_request r = { .bolt = both, .bolts = 1, .metres = 20 };
    struct tb_settle_outcome settled;
    struct tb_use_outcome out;
    struct tb_bolt_use *list;
    size_t n = 0;

    (void)state;
    OK(tb_act_use(&out, &s->actor, &r, &s->mem, &err));
    assert_int_equal(out.warning, TB_USE_UNRELEASED);
    OK(tb_act_settle(&settled, &s->actor,
                     &(struct tb_settle_request){ .lot = s->lot.ref, .as = TB_RELEASED, .why = "fits" },
                     &s->mem, &err));
    OK(tb_act_use(&out, &s->actor, &r, &s->mem, &err));
    assert_int_equal(out.warning, TB_USE_FINE);
    REFUSED(s, tb_act_use(&out, &s->actor, &r, &s->mem, &err), TB_EINVAL, "40.00 m were cut off before");
    r.back = true;
    r.metres = (double)NAN;
    OK(tb_act_use(&out, &s->actor, &r, &s->mem, &err));
    OK(tb_bolt_use_list(&list, &n, s->actor.book, s->lot.id, &s->mem, &err));
    assert_int_equal(n, 1);
    r.bolts = 2; /* the second bolt was never cut: nothing is taken back of either */
    REFUSED(s, tb_act_use(&out, &s->actor, &r, &s->mem, &err), TB_ENOTFOUND, "bolt B2 was not cut into");
    r.metres = 5;
    REFUSED(s, tb_act_use(&out, &s->actor, &r, &s->mem, &err), TB_EINVAL, "not metres of it");
    scene_free(s);
}

static enum tb_use_warning use_again(struct tb_use_outcome *out, struct scene *s)
{
    const char *bolt[] = { "B1" };

    OK(tb_act_use(out, &s->actor, &(struct tb_use_request){ .bolt = bolt, .bolts = 1, .metres = (double)NAN },
                  &s->mem, &err));
    return out->warning;
}

/* With a reason it is cut anyway; NULL: without. */
static tb_rc use_now(struct tb_use_outcome *out, struct scene *s, const char *why)
{
    const char *bolt[] = { "B1" };

    return tb_act_use(
        out, &s->actor,
        &(struct tb_use_request){
            .bolt = bolt, .bolts = 1, .metres = (double)NAN, .anyway = why != NULL, .why = why },
        &s->mem, &err);
}

static void settle_as(struct scene *s, enum tb_standing_kind as)
{
    struct tb_settle_outcome out;

    OK(tb_act_settle(&out, &s->actor,
                     &(struct tb_settle_request){ .lot = s->lot.ref, .as = as, .why = "slip" }, &s->mem,
                     &err));
    tb_rejudged_free(&out.judged);
}

static void a_whole_bolt_that_was_cut_before_is_noticed(void **state)
{
    struct scene *s = scene_make("100% cotton", 1);
    struct tb_use_outcome out;

    (void)state;
    (void)use_again(&out, s);
    assert_int_equal(out.befores, 0);
    (void)use_again(&out, s);
    assert_int_equal(out.befores, 1);
    assert_string_equal(out.before[0].bolt_number, "B1");
    assert_string_equal(out.before[0].used_by, "Ada Fell");
    scene_free(s);
}

static void a_cut_of_what_speaks_against_the_lot_is_asked_about_before(void **state)
{
    struct scene *s = scene_make("100% cotton", 2);
    struct tb_burn_outcome burnt = burn_one(s, cut_one(s, "B2", TB_PART_WHOLE), AS_POLYESTER);
    struct tb_use_outcome out;

    (void)state;
    settle_as(s, TB_WAITING);
    REFUSED(s, use_now(&out, s, NULL), TB_EREFUSED, "what was seen contradicts its declaration");
    OK(use_now(&out, s, "asked for by the buyer"));
    assert_int_equal(out.warning, TB_USE_ANYWAY);
    assert_int_equal(out.lot.verdict, TB_CONTRADICTS);
    tb_rejudged_free(&burnt.judged);
    scene_free(s);
}

/* Recorded as an act on a laboratory's result does: tests/unit/test_act_assay.c tries that act. */
static void analysed(struct scene *s, const char *answers)
{
    struct tb_lot lot = scene_lot(s);
    struct tb_analysis a = { .lot = lot.id,
                             .declaration = lot.declaration,
                             .laboratory = "L",
                             .route = "reported",
                             .methods = "",
                             .found = "55 % cotton 45 % polyester",
                             .answers = answers,
                             .detail = "{}",
                             .analysed_on = "2026-10-06" };

    OK(tb_book_begin(s->actor.book, "Ada Fell", "assay", &err));
    OK(tb_analysis_add(&a, s->actor.book, &s->mem, &err));
    OK(tb_book_commit(s->actor.book, &err));
}

static void a_cut_is_told_what_a_laboratory_found_until_somebody_releases_the_lot(void **state)
{
    struct scene *s = scene_make("100% cotton", 2);
    struct tb_use_outcome out;

    (void)state;
    analysed(s, "us:conforms");
    assert_int_equal(use_again(&out, s), TB_USE_UNRELEASED);
    analysed(s, "us:conforms eu:does_not_conform");
    REFUSED(s, use_now(&out, s, NULL), TB_EREFUSED, "a laboratory found 55 % cotton 45 % polyester in it");
    OK(use_now(&out, s, "asked for by the buyer"));
    assert_int_equal(out.warning, TB_USE_ANYWAY);
    settle_as(s, TB_RELEASED);
    assert_int_equal(use_again(&out, s), TB_USE_FINE);
    scene_free(s);
}

static void found(struct scene *s, const char *what)
{
    struct tb_analysis a = { .lot = s->lot.id,
                             .laboratory = "L",
                             .route = "reported",
                             .methods = "",
                             .found = what,
                             .answers = "",
                             .detail = "{}",
                             .analysed_on = "2026-10-06" };

    OK(tb_book_begin(s->actor.book, "Ada Fell", "assay", &err));
    OK(tb_analysis_add(&a, s->actor.book, &s->mem, &err));
    OK(tb_book_commit(s->actor.book, &err));
}

/* fibre.csv, column handling: what a laboratory found asks for as much as what was declared. */
static void asbestos_that_a_laboratory_found_stops_cutting_and_warns_whoever_lets_it_go(void **state)
{
    struct scene *s = scene_make("100% cotton", 2);
    const char *second[] = { "B2" };
    struct tb_use_request r = { .bolt = second, .bolts = 1, .metres = (double)NAN };
    struct tb_settle_outcome settled;
    struct tb_settle_bolts_outcome single;
    struct tb_cut_outcome cut;
    struct tb_use_outcome used;
    const struct tb_lot lot = scene_lot(s);
    enum tb_handling handling;

    (void)state;
    OK(tb_lot_handling(&handling, s->actor.book, &lot, &err));
    assert_int_equal(handling, TB_HANDLING_ANY);
    found(s, "80 % cotton, 20 % asbestos");
    found(s, "100 % cotton"); /* what was found once is not taken back by another piece */
    OK(tb_lot_handling(&handling, s->actor.book, &lot, &err));
    assert_int_equal(handling, TB_HANDLING_LABORATORY);
    REFUSED(s, tb_act_cut(&cut, &s->actor, &(struct tb_cut_request){ .bolt = "B1" }, &s->mem, &err),
            TB_EREFUSED, "asbestos must not be cut");
    REFUSED(s, tb_act_use(&used, &s->actor, &r, &s->mem, &err), TB_EREFUSED, "it holds asbestos, or may");
    r.anyway = true;
    r.why = "cut before the report came";
    OK(tb_act_use(&used, &s->actor, &r, &s->mem, &err));
    OK(tb_act_settle_bolts(
        &single, &s->actor,
        &(struct tb_settle_bolts_request){ .bolt = second, .bolts = 1, .as = TB_RELEASED, .why = "a try" },
        &s->mem, &err));
    assert_int_equal(single.handling, TB_HANDLING_LABORATORY);
    OK(tb_act_settle(
        &settled, &s->actor,
        &(struct tb_settle_request){ .lot = s->lot.ref, .as = TB_RELEASED, .why = "encased, says L" },
        &s->mem, &err));
    assert_int_equal(settled.handling, TB_HANDLING_LABORATORY);
    scene_free(s);
}

static void fluorofibre_that_a_laboratory_found_is_cut_and_not_burned(void **state)
{
    struct scene *s = scene_make("100% polyester", 1);
    struct tb_observation seen = { 0 };
    struct tb_burn_outcome burned;
    struct tb_rejudged judged;
    struct tb_cut_outcome cut;

    (void)state;
    found(s, "100 % PTFE");
    OK(tb_act_cut(&cut, &s->actor, &(struct tb_cut_request){ .bolt = "B1" }, &s->mem, &err));
    assert_int_equal(tb_fibre_at(cut.also)->handling, TB_HANDLING_FLAMELESS);
    tb_observation_see(&seen, tb_cue_by_key("in_flame:does_not_burn"));
    REFUSED(s,
            tb_act_burn(&burned, &s->actor,
                        &(struct tb_burn_request){
                            .swatch = cut.swatch.tag, .seen = &seen, .sample_mm = (double)NAN },
                        &s->mem, &err),
            TB_EREFUSED, "fluorofibre must not be burned");
    scene_try(s, s->lot.ref, "B1");
    OK(tb_act_judge(&judged, &s->actor, s->lot.ref, 0, &s->mem, &err));
    assert_int_equal(judged.v.verdict.handling, TB_HANDLING_FLAMELESS);
    assert_non_null(strstr(judged.v.verdict.note[0], "A laboratory found fluorofibre"));
    tb_rejudged_free(&judged);
    scene_free(s);
}

static void held_goods_are_cut_only_with_a_reason(void **state)
{
    struct scene *s = scene_make("100% cotton", 2);
    const char *twice[] = { "B1", "B1" }, *lot[] = { s->lot.ref }, *none[] = { "B9" };
    struct tb_use_request r = { .bolt = twice, .bolts = 1, .metres = (double)NAN };
    struct tb_settle_outcome settled;
    struct tb_use_outcome out;

    (void)state;
    OK(tb_act_settle(&settled, &s->actor,
                     &(struct tb_settle_request){ .lot = s->lot.ref, .as = TB_HELD, .why = "doubt" }, &s->mem,
                     &err));
    REFUSED(s, tb_act_use(&out, &s->actor, &r, &s->mem, &err), TB_EREFUSED, "it is held");
    r.anyway = true;
    REFUSED(s, tb_act_use(&out, &s->actor, &r, &s->mem, &err), TB_EINVAL, "needs a reason");
    r.why = "the customer waits";
    OK(tb_act_use(&out, &s->actor, &r, &s->mem, &err));
    assert_int_equal(out.warning, TB_USE_ANYWAY);
    r.bolts = 2;
    REFUSED(s, tb_act_use(&out, &s->actor, &r, &s->mem, &err), TB_EINVAL, "bolt B1 is named twice");
    r.bolts = 1;
    r.bolt = lot;
    REFUSED(s, tb_act_use(&out, &s->actor, &r, &s->mem, &err), TB_EINVAL, "is a lot; name its bolts");
    r.bolt = none;
    REFUSED(s, tb_act_use(&out, &s->actor, &r, &s->mem, &err), TB_ENOTFOUND, "B9");
    r.used_at = "2099-01-01T00:00:00Z";
    REFUSED(s, tb_act_use(&out, &s->actor, &r, &s->mem, &err), TB_EINVAL, "still to come");
    r.used_at = NULL;
    r.bolts = 0;
    REFUSED(s, tb_act_use(&out, &s->actor, &r, &s->mem, &err), TB_EINVAL, "name the bolts");
    scene_free(s);
}

static void a_decision_comes_after_the_goods_and_after_what_it_decides_upon(void **state)
{
    struct scene *s = scene_make("100% cotton", 2);
    struct tb_settle_outcome out;
    struct tb_settle_lots_outcome lots;
    struct tb_settle_request r = {
        .lot = s->lot.ref, .as = TB_HELD, .why = "odd weight", .settled_at = "2026-10-04T23:00:00Z"
    };

    (void)state; /* the goods came on 2026-10-05 */
    REFUSED(s, tb_act_settle(&out, &s->actor, &r, &s->mem, &err), TB_EINVAL, "arrived on 2026-10-05");
    r.settled_at = "2026-10-20T10:00:00Z";
    OK(tb_act_settle(&out, &s->actor, &r, &s->mem, &err));
    tb_rejudged_free(&out.judged);
    r.as = TB_RETURNED;
    r.settled_at = "2026-10-19T10:00:00Z";
    REFUSED(s, tb_act_settle(&out, &s->actor, &r, &s->mem, &err), TB_EREFUSED,
            "is held since 2026-10-20T10:00:00Z, which is later");
    REFUSED(s,
            tb_act_settle_lots(&lots, &s->actor,
                               &(struct tb_settle_lots_request){ .name = (const char *[]){ s->lot.ref },
                                                                 .names = 1,
                                                                 .as = TB_RETURNED,
                                                                 .why = "before",
                                                                 .settled_at = r.settled_at },
                               &s->mem, &err),
            TB_EREFUSED, "which is later");
    r.anyway = true; /* the hold was typed up later than it was decided */
    OK(tb_act_settle(&out, &s->actor, &r, &s->mem, &err));
    assert_int_equal(scene_lot(s).standing, TB_RETURNED);
    tb_rejudged_free(&out.judged);
    scene_free(s);
}

static void the_program_s_own_reasons_are_told_from_a_person_s(void **state)
{
    (void)state;
    for (int by = TB_DECIDED_BY_PERSON + 1; by < TB_DECIDERS; by++)
        assert_int_equal(tb_decided_by(tb_decision_why((enum tb_decided_by)by)), by);
    assert_null(tb_decision_why(TB_DECIDED_BY_PERSON));
    assert_int_equal(tb_decided_by("stain at the end"), TB_DECIDED_BY_PERSON);
    assert_int_equal(tb_decided_by("held by itself"), TB_DECIDED_BY_PERSON);
    assert_int_equal(tb_decided_by(""), TB_DECIDED_BY_PERSON);
    /* as older programs wrote it */
    assert_int_equal(
        tb_decided_by("held by itself: what was seen contradicts the declaration (evidence ratio 1/30)"),
        TB_DECIDED_BY_VERDICT);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_decision_comes_after_the_goods_and_after_what_it_decides_upon),
        cmocka_unit_test(a_decision_is_recorded_with_its_reason),
        cmocka_unit_test(relabelling_keeps_both_words_and_judges_the_new_ones),
        cmocka_unit_test(a_decision_that_is_not_whole_is_refused),
        cmocka_unit_test(an_answer_becomes_the_declaration_and_is_judged),
        cmocka_unit_test(the_reason_of_an_answer_is_kept),
        cmocka_unit_test(words_that_name_no_fibre_are_taken_only_knowingly),
        cmocka_unit_test(a_cut_is_recorded_with_what_the_person_should_know),
        cmocka_unit_test(a_whole_bolt_that_was_cut_before_is_noticed),
        cmocka_unit_test(a_cut_of_what_speaks_against_the_lot_is_asked_about_before),
        cmocka_unit_test(a_cut_is_told_what_a_laboratory_found_until_somebody_releases_the_lot),
        cmocka_unit_test(asbestos_that_a_laboratory_found_stops_cutting_and_warns_whoever_lets_it_go),
        cmocka_unit_test(fluorofibre_that_a_laboratory_found_is_cut_and_not_burned),
        cmocka_unit_test(held_goods_are_cut_only_with_a_reason),
        cmocka_unit_test(the_program_s_own_reasons_are_told_from_a_person_s),
    };

    return sodium_init() < 0 ? 1 : cmocka_run_group_tests(tests, NULL, NULL);
}
