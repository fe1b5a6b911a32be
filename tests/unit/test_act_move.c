/* The act of moving a burn to the swatch that was burned: what it leaves of both lots, each refusal. */
#include "unit/bench_helper.h"

#include "tenterbook/act_void.h"
#include "tenterbook/tell.h"

static struct tb_lot other;

static struct scene *two_lots(void)
{
    struct scene *s = scene_make("100% cotton", 2);

    OK(tb_book_begin(s->actor.book, "Ada Fell", "receive", &err));
    scene_add_lot(s, &other, 2, "100% polyester", 2, "C");
    OK(tb_book_commit(s->actor.book, &err));
    return s;
}

static struct tb_lot lot_now(struct scene *s, const char *ref)
{
    struct tb_lot lot;

    OK(tb_lot_find(&lot, s->actor.book, ref, &s->mem, &err));
    return lot;
}

/* Of the lot it came to: from where, by whom and why, with its photograph; and who moved it is among those who wrote. */
static void its_page_tells_of_the_move(struct scene *s, const char *lot, const char *from)
{
    struct tb_lot_story story;
    struct tb_text words = { 0 };
    bool wrote = false;

    OK(tb_lot_story_read(&story, s->actor.book, lot, "2026-11-27", &s->mem, &err));
    assert_int_equal(story.moveds, 1);
    assert_string_equal(story.moved[0].from_tag, from);
    tb_story_words(&words, &story, &s->mem);
    assert_non_null(
        strstr(words.s, tb_arena_printf(&s->mem, "moved here from swatch %s, by Yuri at ", from)));
    assert_non_null(strstr(words.s, ": tags swapped\n"));
    assert_non_null(strstr(words.s, "  photographs: a.jpg\n"));
    assert_non_null(strstr(words.s, "  longest side: 30 mm\n"));
    for (size_t i = 0; i < story.written.writers; i++)
        wrote = wrote || strcmp(story.written.writer[i].person, "Yuri") == 0;
    assert_true(wrote);
    tb_text_free(&words);
}

static void a_burn_goes_to_the_right_lot_with_who_burned_it_and_its_photograph(void **state)
{
    struct scene *s = two_lots();
    const char *wrong = cut_one(s, "B1", TB_PART_WHOLE), *right = cut_one(s, "C1", TB_PART_WHOLE);
    struct tb_observation seen = seen_as(AS_POLYESTER);
    struct tb_attachment photo = { .name = "a.jpg", .media = "image/jpeg" }, *kept;
    struct tb_burn_request r = { .swatch = wrong, .seen = &seen, .sample_mm = 30, .note = "humid" };
    struct tb_burn_outcome burnt;
    struct tb_move_outcome out;
    struct tb_actor yuri = { s->actor.book, "Yuri" };
    struct tb_burn *list;
    size_t n;

    (void)state;
    OK(tb_act_burn(&burnt, &s->actor, &r, &s->mem, &err));
    assert_true(burnt.judged.held);
    OK(tb_book_begin(s->actor.book, "Ada Fell", "burn", &err));
    photo.about = "burn";
    photo.subject = burnt.burn.id;
    photo.bytes = "x";
    photo.size = 1;
    OK(tb_attachment_add(&photo, s->actor.book, &s->mem, &err));
    OK(tb_book_commit(s->actor.book, &err));
    OK(tb_act_move(&out, &yuri,
                   &(struct tb_move_request){ .burn = burnt.burn.id, .swatch = right, .why = "tags swapped" },
                   &s->mem, &err));
    assert_int_equal(out.lots, 2);
    assert_true(
        out.lot[0].ahead); /* nobody waits while it is weighed; of the other lot nothing is left to weigh */
    assert_int_equal(out.lot[0].judged.v.verdict.kind, TB_FITS);
    assert_true(out.lot[1].judged.lifted && !out.lot[1].judged.judged);
    assert_int_equal(lot_now(s, other.ref).bolts_burnt, 1);
    assert_int_equal(lot_now(s, other.ref).verdict, TB_FITS);
    assert_int_equal(scene_lot(s).burns, 0);
    assert_int_equal(scene_lot(s).standing, TB_WAITING);
    OK(tb_burn_list(&list, &n, s->actor.book, other.id, &s->mem, &err));
    assert_int_equal(n, 1);
    assert_string_equal(list[0].burned_by, "Ada Fell"); /* who moved it stands in the journal */
    assert_string_equal(list[0].burned_at, burnt.burn.burned_at);
    assert_string_equal(list[0].note, "humid");
    assert_true(list[0].sample_mm == 30);
    assert_int_equal(list[0].cues, burnt.burn.cues);
    assert_null(list[0].replaces);
    OK(tb_attachment_list(&kept, &n, s->actor.book, list[0].id, &s->mem, &err));
    assert_int_equal(n, 1);
    its_page_tells_of_the_move(s, other.ref, wrong);
    scene_is_unchanged(s, scene_head(s)); /* it proves */
    tb_move_free(&out);
    REFUSED(s,
            tb_act_move(&out, &yuri,
                        &(struct tb_move_request){ .burn = burnt.burn.id, .swatch = right, .why = "slip" },
                        &s->mem, &err),
            TB_EREFUSED, "is void already");
    tb_rejudged_free(&burnt.judged);
    scene_free(s);
}

static void what_a_moved_burn_had_corrected_does_not_count_again(void **state)
{
    struct scene *s = scene_make("100% cotton", 2);
    const char *wrong = cut_one(s, "B1", TB_PART_WHOLE), *right = cut_one(s, "B2", TB_PART_WHOLE);
    struct tb_burn_outcome first = burn_one(s, wrong, AS_POLYESTER), second;
    struct tb_observation seen = seen_as(AS_COTTON);
    struct tb_move_outcome out;

    (void)state;
    OK(tb_act_burn(&second, &s->actor,
                   &(struct tb_burn_request){
                       .swatch = wrong, .seen = &seen, .sample_mm = (double)NAN, .corrects = first.burn.id },
                   &s->mem, &err));
    OK(tb_act_move(&out, &s->actor,
                   &(struct tb_move_request){ .burn = second.burn.id, .swatch = right, .why = "slip" },
                   &s->mem, &err));
    assert_int_equal(out.lots, 1);
    assert_int_equal(scene_lot(s).burns, 1);
    assert_int_equal(scene_lot(s).verdict, TB_FITS);
    tb_rejudged_free(&first.judged);
    tb_rejudged_free(&second.judged);
    tb_move_free(&out);
    scene_free(s);
}

static void a_burn_moves_from_known_cloth(void **state)
{
    struct scene *s = scene_make("100% cotton", 2);
    struct tb_cut_outcome known;
    struct tb_burn_outcome burnt;
    struct tb_move_outcome out;

    (void)state;
    OK(tb_act_cut(&known, &s->actor, &(struct tb_cut_request){ .known = "100% wool" }, &s->mem, &err));
    burnt = burn_one(s, known.swatch.tag, AS_COTTON);
    OK(tb_act_move(&out, &s->actor,
                   &(struct tb_move_request){
                       .burn = burnt.burn.id, .swatch = cut_one(s, "B1", TB_PART_WHOLE), .why = "slip" },
                   &s->mem, &err));
    assert_int_equal(out.lots, 1);
    assert_int_equal(scene_lot(s).verdict, TB_FITS);
    tb_move_free(&out);
    scene_free(s);
}

static struct tb_bench_test test_one(struct scene *s, const char *tag, const char *result,
                                     const char *corrects)
{
    struct tb_try_outcome out;

    OK(tb_act_try(
        &out, &s->actor,
        &(struct tb_try_request){ .swatch = tag, .test = "acetone", .result = result, .corrects = corrects },
        &s->mem, &err));
    tb_rejudged_free(&out.judged);
    return out.test;
}

static void a_test_moves_as_a_burn_does(void **state)
{
    struct scene *s = two_lots();
    const char *wrong = cut_one(s, "B1", TB_PART_WHOLE), *right = cut_one(s, "C1", TB_PART_WHOLE);
    struct tb_bench_test first = test_one(s, wrong, "dissolves", NULL),
                         second = test_one(s, wrong, "stays", first.id), *list;
    struct tb_actor yuri = { s->actor.book, "Yuri" };
    struct tb_move_outcome out;
    size_t n;

    (void)state;
    assert_int_equal(scene_lot(s).tests, 1);
    OK(tb_act_move(&out, &yuri,
                   &(struct tb_move_request){ .burn = second.id, .swatch = right, .why = "tags swapped" },
                   &s->mem, &err));
    assert_int_equal(out.lots, 2);
    assert_true(out.lot[0].ahead);
    assert_null(out.burn.id);
    assert_int_equal(scene_lot(s).tests, 0); /* what it had corrected does not count again */
    OK(tb_bench_test_list(&list, &n, s->actor.book, other.id, &s->mem, &err));
    assert_int_equal(n, 1);
    assert_string_equal(list[0].id, out.test.id);
    assert_string_equal(list[0].result, "stays");
    assert_string_equal(list[0].tested_by, "Ada Fell");
    assert_string_equal(list[0].tested_at, second.tested_at);
    assert_null(list[0].replaces);
    scene_is_unchanged(s, scene_head(s)); /* it proves */
    tb_move_free(&out);
    REFUSED(s,
            tb_act_move(&out, &yuri,
                        &(struct tb_move_request){ .burn = second.id, .swatch = right, .why = "slip" },
                        &s->mem, &err),
            TB_EREFUSED, "is void already");
    scene_free(s);
}

static void what_cannot_have_been_is_refused(void **state)
{
    struct scene *s = scene_make("100% cotton", 2);
    const char *tag = cut_one(s, "B1", TB_PART_WHOLE), *late;
    struct tb_burn_outcome burnt = burn_one(s, tag, AS_COTTON);
    struct tb_cut_outcome cut;
    struct tb_move_outcome out;

    (void)state;
#define MOVE(code, words, ...)                                                                               \
    REFUSED(s, tb_act_move(&out, &s->actor, &(struct tb_move_request){ __VA_ARGS__ }, &s->mem, &err), code,  \
            words)
    MOVE(TB_EINVAL, "say why", .burn = burnt.burn.id, .swatch = tag);
    MOVE(TB_EINVAL, "already", .burn = burnt.burn.id, .swatch = tag, .why = "slip");
    MOVE(TB_ENOTFOUND, "there is no swatch", .burn = burnt.burn.id, .swatch = "W99-001.01.01", .why = "slip");
    MOVE(TB_ENOTFOUND, "there is no delivery", .burn = "nothing", .swatch = tag, .why = "slip");
    MOVE(TB_EINVAL, "is not a burn and not a test", .burn = tag, .swatch = tag, .why = "slip");
    (void)setenv("TENTERBOOK_CLOCK", "1795780800", 1); /* a day later */
    OK(tb_act_cut(&cut, &s->actor, &(struct tb_cut_request){ .bolt = "B2" }, &s->mem, &err));
    late = cut.swatch.tag;
    MOVE(TB_EINVAL, "it cannot have been burned", .burn = burnt.burn.id, .swatch = late, .why = "slip");
    (void)setenv("TENTERBOOK_CLOCK", "1795694400", 1);
    tb_rejudged_free(&burnt.judged);
    scene_free(s);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_burn_goes_to_the_right_lot_with_who_burned_it_and_its_photograph),
        cmocka_unit_test(what_a_moved_burn_had_corrected_does_not_count_again),
        cmocka_unit_test(a_burn_moves_from_known_cloth),
        cmocka_unit_test(a_test_moves_as_a_burn_does),
        cmocka_unit_test(what_cannot_have_been_is_refused),
    };

    return sodium_init() < 0 ? 1 : cmocka_run_group_tests(tests, NULL, NULL);
}
