/* Fibres and declarations: what the table knows and how a supplier's words are read. */
#include "tenterbook/fibre.h"

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

static void every_entry_of_annex_one_has_a_fibre(void **state)
{
    (void)state;
    for (int number = 1; number <= 50; number++) {
        bool found = false;

        for (int f = 0; (size_t)f < tb_fibre_count(); f++)
            found |= tb_fibre_at(f)->eu_number == number;
        if (!found)
            fail_msg("entry %d of Annex I has no fibre", number);
    }
}

static void keys_are_unique_and_found(void **state)
{
    (void)state;
    for (int f = 0; (size_t)f < tb_fibre_count(); f++)
        assert_int_equal(tb_fibre_by_key(tb_fibre_at(f)->key), f);
    assert_int_equal(tb_fibre_by_key("linoleum"), -1);
}

static void what_burns_alike_is_a_twin_and_what_does_not_is_none(void **state)
{
    static const struct {
        const char *a, *b;
        bool twins;
    } pair[] = {
        { "cotton", "flax", true },        { "cotton", "viscose", true },      { "wool", "mohair", true },
        { "acetate", "triacetate", true }, { "wool", "silk", false },          { "cotton", "acetate", false },
        { "nylon", "polyester", false },   { "silk", "weighted_silk", false }, { "nylon", "nylon", true },
    };
    (void)state;
    for (size_t i = 0; i < TB_COUNT(pair); i++)
        assert_int_equal(tb_fibre_twins(tb_fibre_by_key(pair[i].a), tb_fibre_by_key(pair[i].b)),
                         pair[i].twins);
}

static void a_name_is_found_whatever_its_case_and_accents(void **state)
{
    size_t n = 0;

    (void)state;
    assert_int_equal(tb_name_find("BAWELNA", 7, &n)->fibre, tb_fibre_by_key("cotton"));
    assert_int_equal(tb_name_find("polyester", 9, &n)->kind, TB_WORD_LEGAL);
    assert_true(n >= 5); /* English, French, German, US, Canada ... */
    assert_null(tb_name_find("xyzzy", 5, &n));
    assert_int_equal(n, 0);
}

static void the_shares_of_a_part_are_found_and_added_up(void **state)
{
    struct tb_declaration a, b;

    (void)state;
    tb_declaration_read(&a, "60% cotton 40% silk", 19);
    tb_declaration_read(&b, "face: 55% silk 45% cotton; back: silk", 37);
    assert_true(tb_part_percent(&a.comp.part[0], tb_fibre_by_key("silk")) == 40);
    assert_true(tb_part_percent(&b.comp.part[1], tb_fibre_by_key("silk")) == 100); /* all the part names */
    assert_true(tb_part_percent(&a.comp.part[0], tb_fibre_by_key("wool")) == 0);
    assert_true(tb_part_sum(&a.comp.part[0]) == 100);
    assert_ptr_equal(tb_composition_part(&b.comp, TB_PART_BACK), &b.comp.part[1]);
    assert_null(tb_composition_part(&b.comp, TB_PART_PILE));
    tb_declaration_free(&a);
    tb_declaration_free(&b);
}

static void keys_of_parts_and_doubts_lead_back(void **state)
{
    (void)state;
    for (int k = 0; k < TB_PART_KINDS; k++)
        assert_int_equal(tb_part_by_key(tb_part_key((enum tb_part_kind)k)), k);
    assert_int_equal(tb_part_by_key("sail"), -1);
    assert_string_equal(tb_doubt_key(TB_DOUBT_EMPTY), "empty");
    assert_true(tb_doubt_blocks(TB_DOUBT_AMBIGUOUS) && !tb_doubt_blocks(TB_DOUBT_ABBREVIATION));
}

/* fibre.csv, column handling: what is named anywhere is enough, and later words take nothing back. */
static void what_was_once_named_of_a_cloth_is_not_taken_back(void **state)
{
    static const struct {
        const char *now, *before;
        enum tb_handling asks;
    } c[] = { { "100% polyester", "", TB_HANDLING_ANY },
              { "100% polyester, PTFE coating", "", TB_HANDLING_FLAMELESS },
              { "lining PTFE and hgjk", "", TB_HANDLING_FLAMELESS },
              { "hgjk", "100% PTFE", TB_HANDLING_FLAMELESS },
              { "100% polyester", "100% Asbest", TB_HANDLING_LABORATORY },
              { "100% PTFE", "100% amiante", TB_HANDLING_LABORATORY },
              { "100% asbestos", "100% PTFE", TB_HANDLING_LABORATORY },
              { "100% PTFE", "100% cotton", TB_HANDLING_FLAMELESS },
              { "glass, asbestos-free", "glass", TB_HANDLING_ANY } };

    (void)state;
    for (size_t i = 0; i < TB_COUNT(c); i++) {
        struct tb_declaration d;
        int fibre;

        tb_declaration_read(&d, c[i].now, strlen(c[i].now));
        tb_declaration_also(&d, c[i].before, strlen(c[i].before));
        if (tb_declaration_handling(&d, &fibre) != c[i].asks)
            fail_msg("'%s' after '%s'", c[i].now, c[i].before);
        assert_true(fibre < 0 ? c[i].asks == TB_HANDLING_ANY : tb_fibre_at(fibre)->handling == c[i].asks);
        tb_declaration_free(&d);
    }
    assert_string_equal(tb_word(&tb_handling_keys, TB_HANDLING_FLAMELESS), "flameless");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_entry_of_annex_one_has_a_fibre),
        cmocka_unit_test(keys_are_unique_and_found),
        cmocka_unit_test(what_burns_alike_is_a_twin_and_what_does_not_is_none),
        cmocka_unit_test(a_name_is_found_whatever_its_case_and_accents),
        cmocka_unit_test(the_shares_of_a_part_are_found_and_added_up),
        cmocka_unit_test(keys_of_parts_and_doubts_lead_back),
        cmocka_unit_test(what_was_once_named_of_a_cloth_is_not_taken_back),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
