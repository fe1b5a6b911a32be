/* Tags of swatches the book holds: those of a lot, one of them, known cloth. */
#include "unit/act_helper.h"

#include "tenterbook/act_bench.h"
#include "tenterbook/tags.h"

static const char *cut(struct scene *s, const char *bolt, const char *known)
{
    struct tb_cut_outcome out;

    OK(tb_act_cut(&out, &s->actor, &(struct tb_cut_request){ .bolt = bolt, .known = known }, &s->mem, &err));
    return out.swatch.tag;
}

static void burn(struct scene *s, const char *tag)
{
    struct tb_observation seen = { 0 };
    struct tb_burn_request r = { .swatch = tag, .seen = &seen, .sample_mm = (double)NAN };
    struct tb_burn_outcome out;

    OK(tb_observation_read(&seen, "odour:burning_paper", NULL, NULL, &err));
    OK(tb_act_burn(&out, &s->actor, &r, &s->mem, &err));
    tb_rejudged_free(&out.judged);
}

static void a_lot_gives_all_of_its_swatches_and_a_number_one(void **state)
{
    struct scene *s = scene_make("100% cotton", 2);
    const char *one = cut(s, "B1", NULL), *two = cut(s, "B2", NULL);
    struct tb_tag_list list = { 0 };

    (void)state;
    burn(s, two);
    OK(tb_tags_find(&list, s->actor.book, s->lot.ref, &s->mem, &err));
    assert_int_equal(list.n, 2);
    assert_string_equal(list.tag[0].number, one);
    assert_string_equal(list.tag[0].declared, "100% cotton");
    assert_string_equal(list.tag[0].bolt, "B1");
    assert_int_equal(list.tag[0].part, TB_PART_WHOLE);
    assert_null(list.tag[0].burnt);
    assert_int_equal(strlen(list.tag[1].burnt), 10);
    OK(tb_tags_find(&list, s->actor.book, two, &s->mem, &err));
    assert_int_equal(list.n, 3);
    assert_string_equal(list.tag[2].number, two);
    tb_tag_list_free(&list);
    scene_free(s);
}

static void each_bolt_of_a_lot_has_a_tag_where_bolts_came_without_numbers(void **state)
{
    struct scene *s = scene_make("100% cotton", 2);
    struct tb_tag_list list = { 0 };

    (void)state;
    OK(tb_tags_bolts(&list, s->actor.book, s->lot.ref, NULL, &s->mem, &err));
    assert_int_equal(list.n, 2);
    assert_string_equal(list.tag[1].number, tb_arena_printf(&s->mem, "%s B2", s->lot.ref));
    assert_null(list.tag[1].cut);
    assert_int_equal(strncmp(list.tag[1].bolt, "B2, ", 4), 0);
    assert_string_equal(list.tag[1].declared, "100% cotton");
    assert_int_equal(tb_tags_bolts(&list, s->actor.book, "W99-999.99", NULL, &s->mem, &err), TB_ENOTFOUND);
    assert_int_equal(list.n, 2);
    tb_tag_list_free(&list);
    scene_free(s);
}

static void a_bolt_that_may_not_be_cut_says_so_and_since_when(void **state)
{
    struct scene *s = scene_make("100% cotton", 2);
    struct tb_tag_list list = { 0 };

    (void)state;
    OK(tb_tags_bolts(&list, s->actor.book, s->lot.ref, "2026-11-26", &s->mem, &err));
    assert_string_equal(list.tag[1].stands, "WAITING");
    assert_string_equal(list.tag[1].stood, "2026-11-26");
    assert_true(list.tag[1].stop);
    tb_tag_list_free(&list);
    scene_free(s);
}

static void known_cloth_says_what_it_is(void **state)
{
    struct scene *s = scene_make("100% cotton", 1);
    const char *wool = cut(s, NULL, "100% wool"), *silk = cut(s, NULL, "100% silk");
    struct tb_tag_list list = { 0 };

    (void)state;
    OK(tb_tags_find(&list, s->actor.book, NULL, &s->mem, &err));
    assert_int_equal(list.n, 2);
    assert_string_equal(list.tag[0].number, wool);
    assert_string_equal(list.tag[0].declared, "100% wool");
    assert_string_equal(list.tag[0].bolt, "");
    OK(tb_tags_find(&list, s->actor.book, silk, &s->mem, &err));
    assert_string_equal(list.tag[2].declared, "100% silk");
    tb_tag_list_free(&list);
    scene_free(s);
}

static void what_is_neither_a_lot_nor_a_swatch_is_refused(void **state)
{
    struct scene *s = scene_make("100% cotton", 1);
    struct tb_tag_list list = { 0 };

    (void)state;
    assert_int_equal(tb_tags_find(&list, s->actor.book, "W99-001.01.01", &s->mem, &err), TB_ENOTFOUND);
    assert_non_null(strstr(err.msg, "W99-001.01.01"));
    assert_int_equal(list.n, 0);
    tb_tag_list_free(&list);
    scene_free(s);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_lot_gives_all_of_its_swatches_and_a_number_one),
        cmocka_unit_test(each_bolt_of_a_lot_has_a_tag_where_bolts_came_without_numbers),
        cmocka_unit_test(a_bolt_that_may_not_be_cut_says_so_and_since_when),
        cmocka_unit_test(known_cloth_says_what_it_is),
        cmocka_unit_test(what_is_neither_a_lot_nor_a_swatch_is_refused),
    };

    return sodium_init() < 0 ? 1 : cmocka_run_group_tests(tests, NULL, NULL);
}
