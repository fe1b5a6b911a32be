/* Every act beside somebody else who records something between its plan and its lock: what is written is still true. */
#include "unit/bench_helper.h"
#include "unit/meanwhile.h"

#include "tenterbook/act_claim.h"
#include "tenterbook/act_draw.h"
#include "tenterbook/act_drill.h"
#include "tenterbook/act_lab.h"
#include "work/burn.h"
#include "work/concern.h"

/* They burn another swatch of the lot. */
static void others_burn(struct meanwhile *m, struct scene *s, const char *tag, const char *cues)
{
    struct tb_observation seen = seen_as(cues);
    struct tb_burn burn = { .sample_mm = (double)NAN };
    struct tb_swatch swatch;

    meanwhile_begin(m, s, "burn", tag);
    OK(tb_swatch_find(&swatch, m->book, tag, &m->mem, &err));
    OK(tb_burn_observe(&burn, &seen, &m->mem, &err));
    burn.swatch = swatch.id;
    OK(tb_burn_add(&burn, m->book, &m->mem, &err));
    meanwhile_let_go(m);
}

static void others_settle(struct meanwhile *m, struct scene *s, enum tb_standing_kind as)
{
    struct tb_standing standing = { .lot = s->lot.id, .standing = as, .why = "so it was agreed" };

    meanwhile_begin(m, s, "settle", s->lot.ref);
    OK(tb_standing_add(&standing, m->book, &m->mem, &err));
    meanwhile_let_go(m);
}

static void others_set(struct meanwhile *m, struct scene *s, const char *name, const char *value)
{
    meanwhile_begin(m, s, "set", name);
    OK(tb_setting_set(m->book, name, value, &err));
    meanwhile_let_go(m);
}

/* The last verdict of the book is what the book gives: nothing was written that was no longer so. */
static void the_verdict_is_of_everything(struct scene *s, size_t observations)
{
    struct tb_rejudged again;

    OK(tb_act_judge(&again, &s->actor, s->lot.ref, 0, &s->mem, &err));
    assert_false(again.recorded);
    assert_int_equal(again.v.observations, observations);
    tb_rejudged_free(&again);
}

static void a_burn_counts_the_one_that_came_meanwhile(void **state)
{
    struct scene *s = scene_make("100% cotton", 2);
    const char *mine = cut_one(s, "B1", TB_PART_WHOLE), *theirs = cut_one(s, "B2", TB_PART_WHOLE);
    struct tb_burn_outcome out;
    struct meanwhile m;

    (void)state;
    others_burn(&m, s, theirs, AS_POLYESTER);
    out = burn_one(s, mine, AS_COTTON);
    meanwhile_end(&m);
    assert_int_equal(out.judged.v.observations, 2);
    the_verdict_is_of_everything(s, 2);
    tb_rejudged_free(&out.judged);
    scene_free(s);
}

static void a_test_counts_the_burn_that_came_meanwhile(void **state)
{
    struct scene *s = scene_make("100% acetate", 2);
    struct tb_try_request r = { .swatch = cut_one(s, "B1", TB_PART_WHOLE),
                                .test = "acetone",
                                .result = "dissolves" };
    const char *theirs = cut_one(s, "B2", TB_PART_WHOLE);
    struct tb_try_outcome out;
    struct meanwhile m;

    (void)state;
    others_burn(&m, s, theirs, AS_COTTON);
    OK(tb_act_try(&out, &s->actor, &r, &s->mem, &err));
    meanwhile_end(&m);
    the_verdict_is_of_everything(s, 2);
    tb_rejudged_free(&out.judged);
    scene_free(s);
}

static void new_words_are_judged_against_the_burn_that_came_meanwhile(void **state)
{
    struct scene *s = scene_make("PE", 2);
    const char *theirs = cut_one(s, "B2", TB_PART_WHOLE);
    struct tb_rejudged out;
    struct meanwhile m;

    (void)state;
    others_burn(&m, s, theirs, AS_COTTON);
    OK(tb_act_declare(&out, &s->actor,
                      &(struct tb_declare_request){
                          .lot = s->lot.ref, .text = "100% polyester", .why = "the mill wrote again" },
                      &s->mem, &err));
    meanwhile_end(&m);
    assert_true(out.judged && out.held);
    the_verdict_is_of_everything(s, 1);
    tb_rejudged_free(&out);
    scene_free(s);
}

static void a_new_label_is_judged_against_the_burn_that_came_meanwhile(void **state)
{
    struct scene *s = scene_make("100% cotton", 2);
    const char *theirs = cut_one(s, "B2", TB_PART_WHOLE);
    struct tb_settle_request r = { .lot = s->lot.ref,
                                   .as = TB_RELABELLED,
                                   .why = "the letter of the supplier",
                                   .old_words = "COTTON",
                                   .new_words = "100% polyester",
                                   .goods_of = "own stock" };
    struct tb_settle_outcome out;
    struct meanwhile m;

    (void)state;
    others_burn(&m, s, theirs, AS_COTTON);
    OK(tb_act_settle(&out, &s->actor, &r, &s->mem, &err));
    meanwhile_end(&m);
    assert_string_equal(out.standing.old_words, "COTTON"); /* as the label had it, not as it was declared */
    assert_int_equal(out.judged.v.verdict.kind, TB_CONTRADICTS);
    the_verdict_is_of_everything(s, 1);
    tb_rejudged_free(&out.judged);
    scene_free(s);
}

static void judging_a_lot_counts_the_burn_that_came_meanwhile(void **state)
{
    struct scene *s = scene_make("100% cotton", 2);
    struct tb_burn_outcome first = burn_one(s, cut_one(s, "B1", TB_PART_WHOLE), AS_COTTON);
    const char *theirs = cut_one(s, "B2", TB_PART_WHOLE);
    struct tb_rejudged out;
    struct meanwhile m;

    (void)state;
    OK(tb_book_begin(s->actor.book, "Ada Fell", "set", &err));
    OK(tb_setting_set(s->actor.book, "fits_above", "1000000000", &err));
    OK(tb_book_commit(s->actor.book, &err));
    others_burn(&m, s, theirs, AS_COTTON);
    OK(tb_act_judge(&out, &s->actor, s->lot.ref, 0, &s->mem, &err));
    meanwhile_end(&m);
    assert_true(out.recorded);
    assert_int_equal(out.v.observations, 2);
    the_verdict_is_of_everything(s, 2);
    tb_rejudged_free(&out);
    tb_rejudged_free(&first.judged);
    scene_free(s);
}

static void a_file_of_burns_counts_the_one_that_came_meanwhile(void **state)
{
    struct scene *s = scene_make("100% cotton", 2);
    const char *theirs = cut_one(s, "B2", TB_PART_WHOLE);
    struct tb_burn_row row = { 2, "", "B1", "", "", AS_COTTON, "", "", "", "", "" };
    struct tb_burn_file_request r = { .name = "burns.csv", .row = &row, .n = 1 };
    struct tb_burn_file_outcome *out = tb_new(struct tb_burn_file_outcome);
    struct meanwhile m;

    (void)state;
    others_burn(&m, s, theirs, AS_POLYESTER);
    OK(tb_act_burn_file(out, &s->actor, &r, &s->mem, &err));
    meanwhile_end(&m);
    the_verdict_is_of_everything(s, 2);
    free(out);
    scene_free(s);
}

static void a_bolt_of_a_lot_held_meanwhile_is_not_cut(void **state)
{
    static const enum tb_standing_kind as[] = { TB_HELD, TB_RETURNED };

    (void)state;
    for (size_t i = 0; i < TB_COUNT(as); i++) {
        struct scene *s = scene_make("100% cotton", 1);
        const char *one[] = { "B1" };
        struct tb_use_request r = { .bolt = one, .bolts = 1, .metres = (double)NAN };
        struct tb_use_outcome out;
        struct meanwhile m;

        others_settle(&m, s, as[i]);
        assert_int_equal(tb_act_use(&out, &s->actor, &r, &s->mem, &err), TB_EREFUSED);
        meanwhile_end(&m);
        assert_non_null(strstr(err.msg, as[i] == TB_HELD ? "it is held" : "it was returned"));
        scene_free(s);
    }
}

static void a_dispute_holds_no_lot_that_was_returned_meanwhile(void **state)
{
    struct scene *s = scene_make("100% cotton", 1);
    struct tb_dispute_request r = {
        .lot = s->lot.ref,
        .step = { .step = TB_OPENED, .day = "2026-10-06", .words = "not cotton", .amount = (double)NAN }
    };
    struct tb_dispute_outcome out;
    struct meanwhile m;

    (void)state;
    others_settle(&m, s, TB_RETURNED);
    OK(tb_act_dispute(&out, &s->actor, &r, &s->mem, &err));
    meanwhile_end(&m);
    assert_false(out.held);
    assert_int_equal(scene_lot(s).standing, TB_RETURNED);
    scene_free(s);
}

static void an_analysis_is_compared_with_the_words_declared_meanwhile(void **state)
{
    struct scene *s = scene_make("100% polyester", 1);
    struct tb_assay_request found;
    struct tb_assay_lot_request r = { .lot = s->lot.ref, .assay = &found };
    struct tb_assay_lot_outcome out;
    struct tb_analysis *x;
    struct meanwhile m;
    size_t n;

    (void)state;
    tb_assay_request_init(&found);
    found.found = "100% cotton";
    found.figure[TB_ASSAY_UNCERTAINTY] = 0.5;
    meanwhile_begin(&m, s, "declare", s->lot.ref);
    OK(tb_declaration_add(m.book, s->lot.id, "100% cotton", TB_ORIGIN_ANSWER, scene_lot(s).declaration,
                          &err));
    meanwhile_let_go(&m);
    OK(tb_act_assay(&out, &s->actor, &r, &s->mem, &err));
    meanwhile_end(&m);
    OK(tb_analysis_list(&x, &n, s->actor.book, s->lot.id, &s->mem, &err));
    assert_string_equal(x[0].declared, "100% cotton");
    assert_non_null(strstr(x[0].answers, "eu:conforms"));
    tb_assay_lot_outcome_free(&out);
    scene_free(s);
}

/* Known cloth and the cards of a drill are of no lot: every row bears on their plans. */
static void known_cloth_is_not_burned_once_flame_work_was_forbidden(void **state)
{
    struct scene *s = scene_make("100% cotton", 1);
    struct tb_observation seen = seen_as(AS_COTTON);
    struct tb_cut_outcome cut;
    struct tb_burn_outcome burn;
    struct tb_drill_outcome drill;
    struct tb_answer_outcome answer;
    struct meanwhile m;

    (void)state;
    OK(tb_act_cut(&cut, &s->actor, &(struct tb_cut_request){ .known = "100% cotton" }, &s->mem, &err));
    OK(tb_act_drill(&drill, &s->actor, &(struct tb_drill_request){ .to = "Ada Fell", .count = 1 }, &s->mem,
                    &err));
    others_set(&m, s, "flame", "no");
    assert_int_equal(tb_act_burn(&burn, &s->actor,
                                 &(struct tb_burn_request){
                                     .swatch = cut.swatch.tag, .seen = &seen, .sample_mm = (double)NAN },
                                 &s->mem, &err),
                     TB_EREFUSED);
    meanwhile_end(&m);
    assert_non_null(strstr(err.msg, "flame work is not permitted"));
    others_set(&m, s, "flame", "yes");
    meanwhile_end(&m);
    others_set(&m, s, "flame", "no");
    assert_int_equal(tb_act_answer(&answer, &s->actor,
                                   &(struct tb_answer_request){ "1-01", "cellulose", &seen, NULL }, &s->mem,
                                   &err),
                     TB_EREFUSED);
    meanwhile_end(&m);
    assert_non_null(strstr(err.msg, "flame work is not permitted"));
    scene_free(s);
}

static void a_joint_sample_is_not_dealt_of_swatches_that_were_dealt_meanwhile(void **state)
{
    struct scene *s = scene_make("100% cotton", 1);
    struct tb_joint_piece piece[3];
    struct tb_joint_sample theirs = {
        .lot = s->lot.id, .seed = "abc", .each_one = 1, .swatches = 3, .piece = piece, .pieces = 3
    };
    static const enum tb_holder_kind holder[] = { TB_HOLDER_SUPPLIER, TB_HOLDER_LABORATORY, TB_HOLDER_OWN };
    struct tb_share_outcome out;
    struct meanwhile m;

    (void)state;
    for (int i = 0; i < 3; i++) {
        struct tb_cut_outcome cut;

        OK(tb_act_cut(&cut, &s->actor, &(struct tb_cut_request){ .bolt = "B1", .kept = "drawer 4" }, &s->mem,
                      &err));
        piece[i] = (struct tb_joint_piece){ .swatch = cut.swatch.id, .holder = holder[i] };
    }
    meanwhile_begin(&m, s, "share", s->lot.ref);
    OK(tb_joint_sample_add(&theirs, m.book, &m.mem, &err));
    meanwhile_let_go(&m);
    assert_int_equal(
        tb_act_share(&out, &s->actor, &(struct tb_share_request){ .lot = s->lot.ref }, &s->mem, &err),
        TB_EREFUSED);
    meanwhile_end(&m);
    assert_non_null(strstr(err.msg, "there are 0 retained swatches"));
    scene_free(s);
}

/* What bears on a verdict, by what a row says: the acts rest on it. */
static void what_bears_on_a_verdict_is_told_by_the_words_of_a_row(void **state)
{
    static const struct {
        const char *verb, *subject;
        bool lot, judging, all;
    } row[] = {
        { "burn", "W26-001.01.02", true, true, false },
        { "burn", "W26-001.02.02", false, false, false },
        { "burn", "file W26-001.01", true, true, true },
        { "burn", "W-KNOWN-1", true, true, true },
        { "try", "W26-001.01.02", true, true, false },
        { "declare", "W26-001.01", true, true, false },
        { "settle", "W26-001.01", true, true, false },
        { "dispute", "W26-001.01", true, true, false },
        { "judge", "all lots", true, true, true },
        { "drill", "1-01", true, true, true },
        { "set", "contradicts_below", true, true, true },
        { "set", "fits_above", true, true, true },
        { "set", "site_weight", true, true, true },
        { "set", "flame", true, true, true },
        { "set", "answer_days", true, false, false },
        { "set", "header:Roll", true, false, false },
        { "set", "", true, true, true }, /* nobody said what was set */
        { "cut", "W26-001.01.02", true, false, false },
        { "use", "W26-001.01", true, false, false },
        { "draw", "W26-001.01", true, false, false },
        { "share", "W26-001.01", true, false, false },
        { "assay", "W26-001.01", true, true, true },
        { "assay", "W26-001.02", false, true, true }, /* moves the limits of every lot */
        { "terms", "Harrow Mill", true, false, false },
        { "record", "Harrow Mill", true, false, false },
        { "receive", "W26-002", false, false, false },
        { "weave", "W26-001.01", true, true, false }, /* of a later program */
    };

    (void)state;
    for (size_t i = 0; i < TB_COUNT(row); i++) {
        const struct tb_journal_row r = { .verb = row[i].verb, .subject = row[i].subject };

        if (tb_row_concerns_lot(&r, "W26-001.01") != row[i].lot ||
            tb_row_concerns_judging(&r, "W26-001.01") != row[i].judging ||
            tb_row_concerns_all_judging(&r) != row[i].all)
            fail_msg("%s %s", row[i].verb, row[i].subject);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_burn_counts_the_one_that_came_meanwhile),
        cmocka_unit_test(a_test_counts_the_burn_that_came_meanwhile),
        cmocka_unit_test(new_words_are_judged_against_the_burn_that_came_meanwhile),
        cmocka_unit_test(a_new_label_is_judged_against_the_burn_that_came_meanwhile),
        cmocka_unit_test(judging_a_lot_counts_the_burn_that_came_meanwhile),
        cmocka_unit_test(a_file_of_burns_counts_the_one_that_came_meanwhile),
        cmocka_unit_test(a_bolt_of_a_lot_held_meanwhile_is_not_cut),
        cmocka_unit_test(a_dispute_holds_no_lot_that_was_returned_meanwhile),
        cmocka_unit_test(an_analysis_is_compared_with_the_words_declared_meanwhile),
        cmocka_unit_test(known_cloth_is_not_burned_once_flame_work_was_forbidden),
        cmocka_unit_test(a_joint_sample_is_not_dealt_of_swatches_that_were_dealt_meanwhile),
        cmocka_unit_test(what_bears_on_a_verdict_is_told_by_the_words_of_a_row),
    };

    return sodium_init() < 0 ? 1 : cmocka_run_group_tests(tests, NULL, NULL);
}
