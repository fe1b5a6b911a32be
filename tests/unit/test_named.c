/* What a person means by a name: as it was typed or scanned, and what is offered where nothing is called so. */
#include "unit/bench_helper.h"

#include "tenterbook/act_void.h"
#include "tenterbook/goods.h"
#include "tenterbook/lot_story.h"
#include "tenterbook/named.h"
#include "tenterbook/typed.h"

static void what_a_scanner_puts_around_a_name_is_not_the_name(void **state)
{
    static const struct {
        const char *typed, *name;
    } is[] = {
        { "W26-001.01", "W26-001.01" },
        { "  W26-001.01 ", "W26-001.01" },
        { "W26-001.01\r\n", "W26-001.01" },
        { "\x02W26-001.01\x03", "W26-001.01" },
        { "\xEF\xBB\xBFW26-001.01\xE2\x80\x8B", "W26-001.01" }, /* byte order mark, zero width space */
        { "\xC2\xA0"
          "00412\xC2\xA0",
          "00412" },
        { "]C1W26-001.01", "W26-001.01" },
        { "*00412*", "00412" },
        { "R 12", "R 12" },
        { "]C1", "]C1" },
        { "**", "**" },
        { "", "" },
        { " ", "" },
    };
    struct tb_arena mem = { 0 };

    (void)state;
    for (size_t i = 0; i < TB_COUNT(is); i++)
        assert_string_equal(tb_scanned(is[i].typed, &mem), is[i].name);
    tb_arena_free(&mem);
}

static struct tb_named named(struct scene *s, const char *typed)
{
    struct tb_named n;

    OK(tb_named(&n, s->actor.book, typed, &s->mem, &err));
    return n;
}

static void people_and_suppliers_that_are_nearly_called_so_are_offered(void **state)
{
    struct scene *s = scene_make("100% cotton", 1);
    struct tb_supplier supplier;
    struct tb_person id = { 0 };

    (void)state;
    OK(tb_person_find(&id, s->actor.book, "Ada Fell", &s->mem, &err));
    assert_string_equal(id.name, "Ada Fell");
    OK(tb_person_find(&id, s->actor.book, "ada  FELL", &s->mem, &err));
    assert_string_equal(id.name, "Ada Fell");
    assert_int_equal(tb_person_find(&id, s->actor.book, "ada fel", &s->mem, &err), TB_ENOTFOUND);
    assert_string_equal(err.msg, "nobody called ada fel wrote in this book; did you mean Ada Fell?");
    assert_int_equal(tb_person_find(&id, s->actor.book, "Bo", &s->mem, &err), TB_ENOTFOUND);
    assert_string_equal(err.msg, "nobody called Bo wrote in this book");
    assert_int_equal(tb_supplier_find(&supplier, s->actor.book, "Harrow Mil", &s->mem, &err), TB_ENOTFOUND);
    assert_string_equal(err.msg, "no supplier is called 'Harrow Mil'; did you mean Harrow Mill?");
    assert_int_equal(tb_supplier_find(&supplier, s->actor.book, "Ada Fel", &s->mem, &err), TB_ENOTFOUND);
    assert_string_equal(err.msg, "no supplier is called 'Ada Fel'"); /* a person is no supplier */
    scene_free(s);
}

static void a_name_is_found_whatever_its_case_and_its_zeros(void **state)
{
    struct scene *s = scene_make("100% cotton", 3);
    const char *tag = cut_one(s, "B1", TB_PART_WHOLE);

    (void)state;
    assert_string_equal(named(s, "w26-1").about, "delivery");
    assert_string_equal(named(s, "w26-1.1").ref, "W26-001.01");
    assert_string_equal(named(s, "W26-001.01.1").ref, tag);
    assert_string_equal(named(s, "W26-001.01.1").about, "swatch");
    assert_string_equal(named(s, "b2").ref, "W26-001.01");
    assert_string_equal(named(s, "b2").about, "bolt");
    scene_free(s);
}

static void offers(struct scene *s, const char *typed, const char *names)
{
    struct tb_named n;
    char sentence[200];

    (void)snprintf(sentence, sizeof sentence,
                   *names ? "there is no delivery, lot, bolt or swatch %s in this book; did you mean %s?"
                          : "there is no delivery, lot, bolt or swatch %s in this book",
                   typed, names);
    assert_int_equal(tb_named(&n, s->actor.book, typed, &s->mem, &err), TB_ENOTFOUND);
    assert_string_equal(err.msg, sentence);
}

/* Of a short number those with another figure. */
static void bolts_beside_a_short_number_are_offered(void **state)
{
    struct scene *s = scene_make("100% cotton", 3); /* bolts B1 to B3 */

    (void)state;
    offers(s, "b9", "B1, B2 or B3");
    offers(s, "99", "");
    scene_free(s);
}

static void what_is_written_nearly_so_is_offered(void **state)
{
    struct scene *s = scene_make("100% cotton", 12); /* bolts B1 to B12 */

    (void)state;
    (void)cut_one(s, "B1", TB_PART_WHOLE);
    offers(s, "W26-01.10", "W26-001.01");         /* transposed */
    offers(s, "001.01.01", "W26-001.01.01");      /* without the site */
    offers(s, "W26-001.01.01x", "W26-001.01.01"); /* a sign too many */
    offers(s, "B21", "B12, B1, B2 or B11");       /* transposed, then a sign wrong */
    offers(s, "b-012", "B12");                    /* signs and zeros */
    offers(s, "nothing like it", "");
    offers(s, "c9", "");
    offers(s, "x", "");
    scene_free(s);
}

static void what_is_void_is_found_as_void_and_never_offered(void **state)
{
    struct scene *s = scene_make("100% cotton", 3);
    const char *tag = cut_one(s, "B1", TB_PART_WHOLE);
    struct tb_void_outcome gone;
    struct tb_swatch_story story;
    struct tb_lot lot;

    (void)state;
    OK(tb_act_void(
        &gone, &s->actor,
        &(struct tb_void_request){ .name = "b1", .why = "a total read as a bolt", .knowing = true }, &s->mem,
        &err));
    tb_rejudged_free(&gone.lot.judged);
    assert_string_equal(named(s, "B1").about, "void bolt");
    assert_string_equal(named(s, tag).about, "void swatch");
    OK(tb_swatch_story_read(&story, s->actor.book, tag, &s->mem, &err));
    assert_int_equal(story.voidings, 1);
    assert_string_equal(story.voiding[0].why, "a total read as a bolt");
    assert_int_equal(tb_lot_find(&lot, s->actor.book, "B1", &s->mem, &err), TB_EREFUSED);
    assert_non_null(strstr(err.msg, "bolt B1 is void: "));
    offers(s, "B9", "B2 or B3");
    offers(s, "B-02x", "");
    scene_free(s);
}

static void a_delivery_is_told_with_its_lots_bolts_and_history(void **state)
{
    struct scene *s = scene_make("100% cotton", 3);
    struct tb_delivery_story story;

    (void)state;
    (void)cut_one(s, "B1", TB_PART_WHOLE);
    OK(tb_delivery_story_read(&story, s->actor.book, "W26-001", &s->mem, &err));
    assert_int_equal(story.lots, 1);
    assert_int_equal(story.lot[0].bolts, 3);
    assert_false(story.voided);
    assert_int_equal(story.rows, 1); /* the scene itself is written without a subject */
    assert_string_equal(story.row[0].subject, "W26-001.01.01");
    assert_int_equal(tb_delivery_story_read(&story, s->actor.book, "W26-002", &s->mem, &err), TB_ENOTFOUND);
    scene_free(s);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(what_a_scanner_puts_around_a_name_is_not_the_name),
        cmocka_unit_test(people_and_suppliers_that_are_nearly_called_so_are_offered),
        cmocka_unit_test(a_name_is_found_whatever_its_case_and_its_zeros),
        cmocka_unit_test(what_is_written_nearly_so_is_offered),
        cmocka_unit_test(bolts_beside_a_short_number_are_offered),
        cmocka_unit_test(what_is_void_is_found_as_void_and_never_offered),
        cmocka_unit_test(a_delivery_is_told_with_its_lots_bolts_and_history),
    };

    return cmocka_run_group_tests(tests, NULL, NULL);
}
