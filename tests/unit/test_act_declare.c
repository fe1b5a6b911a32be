/* New words of a lot of which nothing was burnt: what the bench tests showed judges them just as well. */
#include "unit/bench_helper.h"

#include "tenterbook/act_claim.h"
#include "tenterbook/act_draw.h"
#include "tenterbook/act_lab.h"
#include "tenterbook/bench_day.h"
#include "tenterbook/dispute.h"
#include "tenterbook/todo.h"

static void try_one(struct scene *s, const char *swatch, const char *test, const char *result)
{
    struct tb_try_outcome out;

    OK(tb_act_try(&out, &s->actor,
                  &(struct tb_try_request){ .swatch = swatch, .test = test, .result = result }, &s->mem,
                  &err));
    tb_rejudged_free(&out.judged);
}

/*
 * Acetone dissolves acetate and leaves cotton: ISO 1833-3 (docs/laboratory.md). One test alone could be one mistake, so
 * a second one says the same: acetate softens where cotton chars.
 */
static void dissolve_in_acetone(struct scene *s)
{
    const char *swatch = cut_one(s, "B1", TB_PART_WHOLE);

    try_one(s, swatch, "acetone", "dissolves");
    assert_int_equal(scene_lot(s).standing, TB_WAITING);
    try_one(s, swatch, "melting", "240_to_280");
}

static void words_that_a_bench_test_contradicts_hold_the_lot(void **state)
{
    struct scene *s = scene_make("100% acetate", 1);
    struct tb_rejudged out;

    (void)state;
    dissolve_in_acetone(s);
    assert_int_equal(scene_lot(s).verdict, TB_FITS);
    OK(tb_act_declare(&out, &s->actor,
                      &(struct tb_declare_request){
                          .lot = s->lot.ref, .text = "100% cotton", .why = "read wrongly", .slip = true },
                      &s->mem, &err));
    assert_true(out.judged && out.recorded && out.held);
    assert_int_equal(scene_lot(s).verdict, TB_CONTRADICTS);
    assert_int_equal(scene_lot(s).standing, TB_HELD);
    tb_rejudged_free(&out);
    scene_free(s);
}

/* Whoever declares something else, or what nobody can read, does not make the cloth another one. */
static void a_later_declaration_frees_no_cloth_that_must_not_be_burned_or_cut(void **state)
{
    static const char *const first[] = { "100% PTFE", "100% Asbest" };
    static const char *const later[] = { "hgjk", "100% polyester" };

    (void)state;
    for (size_t i = 0; i < 4; i++) {
        struct scene *s = scene_make(first[i / 2], 1);
        struct tb_cut_outcome cut;
        struct tb_draw_outcome drawn;
        struct tb_rejudged out;
        struct tb_observation seen = { 0 };
        struct tb_burn_outcome burned;

        OK(tb_act_declare(&out, &s->actor,
                          &(struct tb_declare_request){
                              .lot = s->lot.ref, .text = later[i % 2], .why = "read wrongly", .slip = true },
                          &s->mem, &err));
        tb_rejudged_free(&out);
        if (i / 2 == 1) {
            REFUSED(s, tb_act_cut(&cut, &s->actor, &(struct tb_cut_request){ .bolt = "B1" }, &s->mem, &err),
                    TB_EREFUSED, "asbestos must not be cut");
        } else {
            OK(tb_act_cut(&cut, &s->actor, &(struct tb_cut_request){ .bolt = "B1" }, &s->mem, &err));
            assert_int_equal(tb_fibre_at(cut.also)->handling, TB_HANDLING_FLAMELESS);
            tb_observation_see(&seen, tb_cue_by_key("in_flame:does_not_burn"));
            REFUSED(s,
                    tb_act_burn(&burned, &s->actor,
                                &(struct tb_burn_request){
                                    .swatch = cut.swatch.tag, .seen = &seen, .sample_mm = (double)NAN },
                                &s->mem, &err),
                    TB_EREFUSED, "fluorofibre must not be burned");
        }
        OK(tb_act_draw(
            &drawn, &s->actor,
            &(struct tb_draw_request){ .name = (const char *const[]){ s->lot.ref },
                                       .names = 1,
                                       .want = { .kind = TB_PLAN_SHARE, .share = 1, .catch_one = 1 } },
            &s->mem, &err));
        assert_int_equal(drawn.drawn[0].handling, i / 2 ? TB_HANDLING_LABORATORY : TB_HANDLING_FLAMELESS);
        assert_int_equal(drawn.swatches, i / 2 ? 0 : 1);
        OK(tb_draw_again(&drawn, &(struct tb_draw){ 0 }, s->actor.book, (const char *const[]){ s->lot.ref },
                         1, &s->mem, &err));
        assert_false(drawn.handling & 1u << TB_HANDLING_ANY);
        scene_free(s);
    }
}

/* The verdict of such a lot names the earlier words, and proposes no flame. */
static void a_later_declaration_leaves_its_warning_in_the_verdict(void **state)
{
    struct scene *s = scene_make("100% PTFE", 1);
    struct tb_cut_outcome cut;
    struct tb_try_outcome tried;
    struct tb_rejudged out;
    const struct tb_verdict *v = &out.v.verdict;

    (void)state;
    OK(tb_act_cut(&cut, &s->actor, &(struct tb_cut_request){ .bolt = "B1" }, &s->mem, &err));
    OK(tb_act_try(&tried, &s->actor,
                  &(struct tb_try_request){ .swatch = cut.swatch.tag, .test = "acetone", .result = "stays" },
                  &s->mem, &err));
    tb_rejudged_free(&tried.judged);
    OK(tb_act_declare(&out, &s->actor,
                      &(struct tb_declare_request){
                          .lot = s->lot.ref, .text = "100% polyester", .why = "read wrongly", .slip = true },
                      &s->mem, &err));
    assert_true(out.judged && v->n_note > 1);
    assert_int_equal(v->handling, TB_HANDLING_FLAMELESS);
    assert_non_null(strstr(v->note[0], "Another declaration of this cloth named fluorofibre"));
    assert_non_null(strstr(v->note[1], "Do not burn this cloth"));
    for (size_t i = 0; i < v->n_next; i++)
        assert_false(v->next[i].hazards & (TB_HAZARD_FLAME | TB_HAZARD_HOT));
    tb_rejudged_free(&out);
    scene_free(s);
}

static void a_label_that_a_bench_test_fits_ends_a_contradiction(void **state)
{
    struct scene *s = scene_make("100% cotton", 1);
    struct tb_settle_outcome out;

    (void)state;
    dissolve_in_acetone(s);
    assert_int_equal(scene_lot(s).verdict, TB_CONTRADICTS);
    OK(tb_act_settle(&out, &s->actor,
                     &(struct tb_settle_request){ .lot = s->lot.ref,
                                                  .as = TB_RELABELLED,
                                                  .why = "supplier's letter",
                                                  .new_words = "100% acetate",
                                                  .goods_of = "own stock" },
                     &s->mem, &err));
    assert_true(out.judged.judged && out.judged.recorded);
    assert_int_equal(scene_lot(s).verdict, TB_FITS);
    tb_rejudged_free(&out.judged);
    scene_free(s);
}

static void words_of_which_nothing_was_seen_get_no_verdict(void **state)
{
    struct scene *s = scene_make("soft cloth", 1);
    struct tb_rejudged out;

    (void)state;
    (void)cut_one(s, "B1", TB_PART_WHOLE); /* a swatch that lies untouched is no evidence */
    OK(tb_act_declare(
        &out, &s->actor,
        &(struct tb_declare_request){ .lot = s->lot.ref, .text = "100% silk", .why = "their letter" },
        &s->mem, &err));
    assert_false(out.judged);
    assert_int_equal(scene_lot(s).verdict, TB_UNJUDGED);
    tb_rejudged_free(&out);
    scene_free(s);
}

static void a_lot_that_was_tested_does_not_wait_for_its_first_burn(void **state)
{
    struct scene *s = scene_make("100% acetate", 1);
    struct tb_bench_day_request r = { .hours = 1, .burn_minutes = TB_BURN_MINUTES };
    struct tb_bench_day day;

    (void)state;
    OK(tb_bench_day_plan(&day, s->actor.book, &r, &s->mem, &err));
    assert_int_equal(day.lots, 1);
    dissolve_in_acetone(s);
    OK(tb_bench_day_plan(&day, s->actor.book, &r, &s->mem, &err));
    assert_int_equal(day.lots, 0);
    scene_free(s);
}

static void what_was_typed_here_by_mistake_is_put_right_as_our_slip(void **state)
{
    struct scene *s = scene_make("soft cloth", 2);
    struct tb_rejudged out;
    struct tb_declared *all;
    struct tb_declare_request r = { .lot = s->lot.ref, .text = "100% linen", .why = "mail of the mill" };
    size_t n;

    (void)state;
    OK(tb_act_declare(&out, &s->actor, &r, &s->mem, &err));
    tb_rejudged_free(&out);
    r = (struct tb_declare_request){ .lot = s->lot.ref, .text = "100% cotton", .slip = true };
    REFUSED(s, tb_act_declare(&out, &s->actor, &r, &s->mem, &err), TB_EINVAL, "say how the wrong words came");
    r.why = "the mail was about another lot";
    OK(tb_act_declare(&out, &s->actor, &r, &s->mem, &err));
    tb_rejudged_free(&out);
    OK(tb_declaration_list(&all, &n, s->actor.book, s->lot.id, &s->mem, &err));
    assert_int_equal(n, 3);
    assert_int_equal(all[1].origin, TB_ORIGIN_ANSWER);
    assert_int_equal(all[2].origin, TB_ORIGIN_SLIP);
    assert_string_equal(all[2].why, "the mail was about another lot");
    assert_false(scene_lot(s).own_words); /* they are the supplier's, not a label of ours */
    scene_free(s);
}

/* What came of it, without the verdict. */
static struct tb_rejudged declare(struct scene *s, const char *text, bool slip)
{
    const struct tb_declare_request r = { .lot = s->lot.ref, .text = text, .why = "a reason", .slip = slip };
    struct tb_rejudged done, out;

    OK(tb_act_declare(&done, &s->actor, &r, &s->mem, &err));
    out = done;
    out.v = (struct tb_lot_verdict){ 0 };
    tb_rejudged_free(&done);
    return out;
}

static const char *found_on(struct scene *s)
{
    struct tb_discovery d;

    OK(tb_lot_discovered(&d, s->actor.book, s->lot.id, &s->mem, &err));
    return d.day ? d.day : "";
}

/* Held by words that nobody had said: the hold and the fault go with them. */
static void the_hold_of_words_typed_by_mistake_goes_with_them(void **state)
{
    struct scene *s = scene_make("100% cotton", 1);
    struct tb_rejudged out;

    (void)state;
    dissolve_in_acetone(s);
    assert_int_equal(scene_lot(s).standing, TB_HELD);
    assert_string_not_equal(found_on(s), "");
    out = declare(s, "100% acetate", true);
    assert_true(out.lifted && !out.of_old_words);
    assert_null(out.stays);
    assert_int_equal(scene_lot(s).verdict, TB_FITS);
    assert_int_equal(scene_lot(s).standing, TB_WAITING);
    assert_string_equal(found_on(s), "");
    scene_free(s);
}

static void refused(struct scene *s, const char *text, const char *because)
{
    const struct tb_declare_request r = { .lot = s->lot.ref, .text = text, .why = "their letter" };
    struct tb_rejudged out;

    REFUSED(s, tb_act_declare(&out, &s->actor, &r, &s->mem, &err), TB_EREFUSED, because);
    assert_string_equal(err.about, "slip");
}

/* What a supplier answers does not change what was delivered: the goods came under the old words. A slip of ours it does. */
static void an_answer_takes_no_place_of_words_that_were_contradicted(void **state)
{
    struct scene *s = scene_make("100% cotton", 1);
    struct tb_rejudged out;

    (void)state;
    dissolve_in_acetone(s);
    refused(s, "100% acetate", "what was seen contradicts them: no later words take their place");
    assert_string_equal(scene_lot(s).declared, "100% cotton");
    assert_int_equal(scene_lot(s).standing, TB_HELD);
    out = declare(s, "100% acetate", true);
    assert_true(out.lifted && !out.of_old_words);
    assert_int_equal(scene_lot(s).standing, TB_WAITING);
    assert_string_equal(found_on(s), "");
    scene_free(s);
}

static void nor_of_words_that_a_laboratory_found_broken(void **state)
{
    struct scene *s = scene_make("100% cotton", 1);
    struct tb_assay_request a;
    struct tb_assay_lot_request r = { .lot = s->lot.ref, .laboratory = "Ring Street", .assay = &a };
    struct tb_assay_lot_outcome out;

    (void)state;
    tb_assay_request_init(&a);
    a.found = "100% polyester";
    a.figure[TB_ASSAY_UNCERTAINTY] = 0.5;
    OK(tb_act_assay(&out, &s->actor, &r, &s->mem, &err));
    tb_assay_lot_outcome_free(&out);
    refused(s, "100% polyester", "a laboratory found that it does not conform to them");
    scene_free(s);
}

/* The supplier writes while the swatch is at the laboratory, or before anything is looked at: the words were clear. */
static void nor_of_clear_words_of_which_nothing_is_known_yet(void **state)
{
    struct scene *s = scene_make("100% silk", 1);
    const char *tag = cut_one(s, "B1", TB_PART_WHOLE);
    const struct tb_send_request r = {
        .lot = s->lot.ref, .laboratory = "Ring Street", .swatch = &tag, .swatches = 1
    };
    struct tb_send_outcome out;

    (void)state;
    refused(s, "100% polyester", "\"100% silk\", and they can be read without a doubt");
    OK(tb_act_send(&out, &s->actor, &r, &s->mem, &err));
    refused(s, "100% polyester", "a corrected list too, is a step of the dispute");
    assert_string_equal(scene_lot(s).declared, "100% silk");
    scene_free(s);
}

static void nor_of_words_that_a_dispute_is_about(void **state)
{
    struct scene *s = scene_make("100% cotton", 1);
    struct tb_dispute_outcome out;

    (void)state;
    OK(tb_act_dispute(
        &out, &s->actor,
        &(struct tb_dispute_request){
            .lot = s->lot.ref, .step = { .step = TB_OPENED, .amount = (double)NAN, .words = "no cotton" } },
        &s->mem, &err));
    refused(s, "100% polyester", "a dispute about it is open");
    scene_free(s);
}

/* A doubt is what an answer is for, whatever was burnt. */
static void an_answer_to_words_that_could_not_be_read_is_taken(void **state)
{
    struct scene *s = scene_make("soft cloth", 1);
    struct tb_rejudged out;

    (void)state;
    dissolve_in_acetone(s);
    out = declare(s, "100% acetate", false);
    assert_string_equal(scene_lot(s).declared, "100% acetate");
    assert_false(out.of_old_words);
    scene_free(s);
}

/* The right words are contradicted too: the lot stays held, since the day the first ones were. */
static void right_words_that_are_contradicted_too_hold_the_lot_as_long(void **state)
{
    struct scene *s = scene_make("100% cotton", 1);
    struct tb_rejudged out;
    const char *day;

    (void)state;
    dissolve_in_acetone(s);
    day = found_on(s);
    out = declare(s, "100% linen", true);
    assert_false(out.lifted || out.of_old_words);
    assert_int_equal(scene_lot(s).verdict, TB_CONTRADICTS);
    assert_int_equal(scene_lot(s).standing, TB_HELD);
    assert_string_equal(found_on(s), day);
    scene_free(s);
}

/* What a person decided stays, is said, and is asked about until it is decided again. */
static void a_decision_made_by_wrong_words_stays_and_is_named(void **state)
{
    struct scene *s = scene_make("100% cotton", 1);
    struct tb_settle_outcome settled;
    struct tb_rejudged out;
    struct tb_todo_row row;

    (void)state;
    dissolve_in_acetone(s);
    OK(tb_act_settle(&settled, &s->actor,
                     &(struct tb_settle_request){ .lot = s->lot.ref, .as = TB_RETURNED, .why = "not cotton" },
                     &s->mem, &err));
    tb_rejudged_free(&settled.judged);
    assert_int_equal(tb_ground_gone(&row, s->actor.book, s->lot.ref, &s->mem, &err), TB_ENOTFOUND);
    out = declare(s, "100% acetate", true);
    assert_non_null(out.stays);
    assert_false(out.lifted);
    assert_int_equal(scene_lot(s).standing, TB_RETURNED);
    OK(tb_ground_gone(&row, s->actor.book, s->lot.ref, &s->mem, &err));
    scene_free(s);
}

/* PE is polyethylene or polyester, by the table of words. No reason makes it cotton, and an answer is given once. */
static void an_answer_that_is_no_reading_of_the_doubt_is_refused(void **state)
{
    static const char *const other[] = { "100% cotton", "65% polyester 35% cotton", "rubbish" };
    struct scene *s = scene_make("PE 100%", 1);
    struct tb_rejudged out;

    (void)state;
    for (size_t i = 0; i < TB_COUNT(other); i++)
        refused(s, other[i], "is no reading of them");
    OK(tb_act_declare(&out, &s->actor,
                      &(struct tb_declare_request){ .lot = s->lot.ref, .text = "100% polyester" }, &s->mem,
                      &err));
    tb_rejudged_free(&out);
    refused(s, "100% polyethylene", "they can be read without a doubt");
    scene_free(s);
}

static void an_answer_to_words_that_leave_the_fibre_open_names_its_letter(void **state)
{
    static const char *const came[] = { "", "100% microfibre" }, *const say[] = { "nothing was declared",
                                                                                  "leave open" };

    (void)state;
    for (size_t i = 0; i < 2; i++) {
        struct scene *s = scene_make(came[i], 1);
        struct tb_declare_request r = { .lot = s->lot.ref, .text = "100% polyester" };
        struct tb_rejudged out;

        REFUSED(s, tb_act_declare(&out, &s->actor, &r, &s->mem, &err), TB_EREFUSED, say[i]);
        assert_string_equal(err.about, "why");
        r.why = "their mail of 6 October";
        OK(tb_act_declare(&out, &s->actor, &r, &s->mem, &err));
        assert_string_equal(scene_lot(s).declared, "100% polyester");
        tb_rejudged_free(&out);
        scene_free(s);
    }
}

/* What the supplier's own file says nobody typed here: a slip of it is asked about once, and its reader may have been wrong. */
static void words_out_of_the_suppliers_file_are_no_slip_without_a_question(void **state)
{
    struct scene *s = scene_make("100% cotton", 1);
    struct tb_lot lot;
    struct tb_declare_request r = { .text = "100% linen", .why = "typed wrongly", .slip = true };
    struct tb_rejudged out;

    (void)state;
    OK(tb_book_begin(s->actor.book, "Ada Fell", "receive", &err));
    s->delivery = (struct tb_delivery){
        .arrived = "2026-10-06", .supplier = s->supplier.id, .file_name = "list.csv", .file_digest = "0"
    };
    OK(tb_delivery_add(&s->delivery, s->actor.book, &s->mem, &err));
    scene_add_lot(s, &lot, 1, "100% cotton", 1, "F");
    OK(tb_book_commit(s->actor.book, &err));
    r.lot = lot.ref;
    REFUSED(s, tb_act_declare(&out, &s->actor, &r, &s->mem, &err), TB_EREFUSED,
            "the list itself reads \"100% cotton\" (list.csv)");
    assert_string_equal(err.about, "anyway");
    r.anyway = true;
    OK(tb_act_declare(&out, &s->actor, &r, &s->mem, &err));
    assert_string_equal(out.lot.declared, "100% linen");
    tb_rejudged_free(&out);
    r = (struct tb_declare_request){
        .lot = s->lot.ref, .text = "100% linen", .why = "typed wrongly", .slip = true
    };
    OK(tb_act_declare(&out, &s->actor, &r, &s->mem, &err)); /* typed here: no file */
    tb_rejudged_free(&out);
    scene_free(s);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_hold_of_words_typed_by_mistake_goes_with_them),
        cmocka_unit_test(an_answer_that_is_no_reading_of_the_doubt_is_refused),
        cmocka_unit_test(an_answer_to_words_that_leave_the_fibre_open_names_its_letter),
        cmocka_unit_test(nor_of_clear_words_of_which_nothing_is_known_yet),
        cmocka_unit_test(words_out_of_the_suppliers_file_are_no_slip_without_a_question),
        cmocka_unit_test(an_answer_takes_no_place_of_words_that_were_contradicted),
        cmocka_unit_test(nor_of_words_that_a_laboratory_found_broken),
        cmocka_unit_test(nor_of_words_that_a_dispute_is_about),
        cmocka_unit_test(an_answer_to_words_that_could_not_be_read_is_taken),
        cmocka_unit_test(right_words_that_are_contradicted_too_hold_the_lot_as_long),
        cmocka_unit_test(a_decision_made_by_wrong_words_stays_and_is_named),
        cmocka_unit_test(what_was_typed_here_by_mistake_is_put_right_as_our_slip),
        cmocka_unit_test(words_that_a_bench_test_contradicts_hold_the_lot),
        cmocka_unit_test(a_later_declaration_frees_no_cloth_that_must_not_be_burned_or_cut),
        cmocka_unit_test(a_later_declaration_leaves_its_warning_in_the_verdict),
        cmocka_unit_test(a_label_that_a_bench_test_fits_ends_a_contradiction),
        cmocka_unit_test(words_of_which_nothing_was_seen_get_no_verdict),
        cmocka_unit_test(a_lot_that_was_tested_does_not_wait_for_its_first_burn),
    };

    if (sodium_init() < 0)
        return 1;
    return cmocka_run_group_tests(tests, NULL, NULL);
}
