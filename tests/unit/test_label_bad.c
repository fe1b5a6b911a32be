/* Labels nobody should print: each gets sentences, none a crash, whatever the market. */
#include "tenterbook/law.h"
#include "tenterbook/tell.h"
#include "tenterbook/utf8.h"

#include <jansson.h>
#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

static struct tb_law *law;

static tb_rc ask(struct tb_law_answer *a, const char *market, const char *text, size_t n, struct tb_err *err)
{
    struct tb_law_question q = { .market = market, .text = text, .text_len = n };

    tb_law_facts_none(&q.facts);
    return tb_law_check(a, law, &q, err);
}

/* Every market answers; every message is text; the JSON can be read again. */
static void ask_everywhere(const char *text, size_t n)
{
    for (size_t i = 0; i < tb_market_count(); i++) {
        struct tb_market m = tb_market_at(i);
        struct tb_law_answer a;
        struct tb_err err = { 0 };
        json_t *json;

        assert_int_equal(ask(&a, m.key, text, n, &err), TB_OK);
        for (size_t k = 0; k < a.n; k++)
            assert_true(tb_utf8_valid(a.finding[k].message, strlen(a.finding[k].message)));
        json = tb_json_law(&a);
        assert_non_null(json);
        assert_true(a.wordings > 0 || a.refusal);
        json_decref(json);
        tb_law_answer_free(&a);
    }
}

static bool says(const char *market, const char *text, const char *sentence)
{
    struct tb_law_answer a;
    struct tb_err err = { 0 };
    bool said = false;

    assert_int_equal(ask(&a, market, text, strlen(text), &err), TB_OK);
    for (size_t i = 0; i < a.n; i++)
        said = said || strstr(a.finding[i].message, sentence);
    if (!said)
        for (size_t i = 0; i < a.n; i++)
            (void)printf("# %s\n", a.finding[i].message);
    tb_law_answer_free(&a);
    return said;
}

static void a_text_of_a_hundred_thousand_bytes_is_refused_with_a_sentence(void **state)
{
    char *text = tb_alloc(1, 100001);
    struct tb_law_answer a;
    struct tb_err err = { 0 };

    (void)state;
    memset(text, 'x', 100000);
    assert_int_equal(ask(&a, "us", text, 100000, &err), TB_EINVAL);
    assert_string_equal(err.msg, "the text is 100000 bytes long; a label is read up to 8192");
    assert_int_equal(a.n, 0);
    ask_everywhere(text, TB_LABEL_MOST);
    free(text);
}

static void controls_and_marks_of_direction_are_named(void **state)
{
    (void)state;
    assert_true(says("us", "100% cot\x01ton", "1 character nobody sees"));
    assert_true(says("eu",
                     "\xE2\x80\xAE"
                     "100% cotton\xE2\x80\xAC",
                     "2 characters nobody sees"));
    assert_true(says("ca", "100% cotton\xFF", "1 character nobody sees"));
    ask_everywhere("\0\0\0", 3);
    ask_everywhere("zorblon 66", 10); /* no word that any table has */
}

/* The codes A, E, IN count in capitals only, the row of the table says so; a misplaced code is still named. */
static void a_small_word_is_no_code(void **state)
{
    (void)state;
    assert_false(says("us", "100% cotton, cut in a mill", "is not a name that a label may carry"));
    assert_false(says("eu", "80% seta e 20% lino", "is not a name that a label may carry"));
    assert_true(says("us", "97% CO, 3% EL", "'CO' is not a name that a label may carry: say 'cotton'"));
    assert_true(says("us", "97CO 3EL", "'CO' is not a name that a label may carry: say 'cotton'"));
}

static void a_tolerance_and_a_range_are_no_share_of_their_own(void **state)
{
    (void)state;
    assert_true(says("us", "80 +- 5% cashmere", "the shares add up to 80 %, not 100"));
    assert_true(says("us", "60 to 70% wool, 30% nylon", "'60 to 70%' is not a percentage"));
}

static void figures_that_are_no_percentages_are_named(void **state)
{
    (void)state;
    assert_true(says("us", "1e300% cotton", "'1e300%' is not a percentage"));
    assert_true(says("us", "0% cotton, 100% polyester", "a share is given as 0 %"));
    assert_true(says("us", "-5% cotton, 105% polyester", "a share is given as -5 %"));
    assert_true(says("us", "NaN% cotton", "1 percentage stands without a fibre to belong to"));
    assert_true(says("us", "1.2.3% cotton", "'1.2.3%' is not a percentage"));
    assert_true(says("us", "60% 40% cotton", "1 percentage stands without a fibre"));
    assert_true(says("eu", "999999999999999999999999% cotton", "is not a percentage"));
}

static void three_hundred_fibres_are_answered(void **state)
{
    struct tb_text t = { 0 };
    struct tb_law_answer a;
    struct tb_err err = { 0 };

    (void)state;
    for (int i = 0; i < 300; i++)
        tb_text_add(&t, "0.3% cotton, ");
    assert_int_equal(ask(&a, "us", tb_text_str(&t), t.n, &err), TB_OK);
    assert_false(a.ok);
    assert_int_equal(a.wordings, 0);
    assert_non_null(a.refusal);
    tb_law_answer_free(&a);
    ask_everywhere(tb_text_str(&t), t.n);
    tb_text_free(&t);
}

static void an_unknown_market_language_or_day_is_refused_and_the_choices_are_named(void **state)
{
    struct tb_law_question q = { .market = "zz", .text = "100% cotton", .text_len = 11 };
    struct tb_law_answer a;
    struct tb_err err = { 0 };

    (void)state;
    tb_law_facts_none(&q.facts);
    assert_int_equal(tb_law_check(&a, law, &q, &err), TB_ENOTFOUND);
    assert_non_null(
        strstr(err.msg, "there is no market 'zz'; the markets are us (United States), ca (Canada)"));
    q.market = "gb";
    q.facts.lang = "de";
    assert_int_equal(tb_law_check(&a, law, &q, &err), TB_EINVAL);
    assert_string_equal(err.msg, "a label in Great Britain is not in 'de'; its languages are en");
    q.facts.lang = NULL;
    q.facts.day = "2026-02-30";
    assert_int_equal(tb_law_check(&a, law, &q, &err), TB_EINVAL);
    q.facts.day = NULL;
    q.facts.origin = "\xFF";
    assert_int_equal(tb_law_check(&a, law, &q, &err), TB_EINVAL);
}

static void a_rule_speaks_only_from_the_day_it_came_into_force(void **state)
{
    struct tb_law_question q = { .market = "eu", .text = "100% spandex", .text_len = 12 };
    struct tb_law_answer a;
    struct tb_err err = { 0 };

    (void)state;
    tb_law_facts_none(&q.facts);
    q.facts.day = "2012-05-07"; /* the Regulation applied from 8 May 2012 */
    assert_int_equal(tb_law_check(&a, law, &q, &err), TB_OK);
    assert_int_equal(a.n, 0);
    tb_law_answer_free(&a);
    q.facts.day = "2012-05-08";
    assert_int_equal(tb_law_check(&a, law, &q, &err), TB_OK);
    assert_false(a.ok);
    tb_law_answer_free(&a);
}

/* Wording is refused, with the reason, wherever it would not be lawful. */
static void wording_is_refused_with_its_reason(void **state)
{
    static const struct {
        const char *market, *text, *lang, *why;
    } row[] = {
        { "eu", "84% cotton, 16% other fibres", NULL, "'other fibres' would make up 16 %; at most 15 % may" },
        { "eu", "60% cotton, 40% unknown fibres", NULL, "part of the composition is unknown" },
        { "eu", "60% cotton, 30% polyester", NULL, "the shares add up to 90 %, not 100" },
        { "eu", "100% flax", "sl", "is a word from memory that nobody looked up" },
        { "eu", "100% cotton", "mt", "no name of cotton for a label in the European Union (mt) is known" },
        { "cn", "100% cotton", NULL, "the names of fibres of China are not held here" },
        { "eu", "cotton, polyester", NULL, "the words give no composition" },
        { "eu", "Warp: 100% cotton; Weft: 100% flax", NULL, "say what warp and weft weigh" },
        { "us", "100% nylon pile, 100% cotton back", NULL, "only with the ratio between them" },
        { "us", "100% cotton. Pockets: 100% polyester", NULL,
          "a part is named by a word that is not known here" },
    };

    (void)state;
    for (size_t i = 0; i < TB_COUNT(row); i++) {
        struct tb_law_question q = { .market = row[i].market,
                                     .text = row[i].text,
                                     .text_len = strlen(row[i].text) };
        struct tb_law_answer a;
        struct tb_err err = { 0 };

        tb_law_facts_none(&q.facts);
        q.facts.lang = row[i].lang;
        assert_int_equal(tb_law_check(&a, law, &q, &err), TB_OK);
        if (!a.refusal || !strstr(a.refusal, row[i].why))
            (void)printf("# '%s': %s\n", row[i].text, a.refusal ? a.refusal : a.wording[0]);
        assert_int_equal(a.wordings, 0);
        assert_non_null(strstr(a.refusal, row[i].why));
        tb_law_answer_free(&a);
    }
}

static bool words(const char *market, const char *text, struct tb_law_facts *f, const char *line)
{
    struct tb_law_question q = { .market = market, .text = text, .text_len = strlen(text), .facts = *f };
    struct tb_law_answer a;
    struct tb_err err = { 0 };
    bool found = false;

    assert_int_equal(tb_law_check(&a, law, &q, &err), TB_OK);
    for (size_t i = 0; i < a.wordings; i++)
        found = found || strcmp(a.wording[i], line) == 0;
    if (!found)
        (void)printf("# '%s': %s\n", text, a.wordings ? a.wording[0] : a.refusal);
    tb_law_answer_free(&a);
    return found;
}

static void wording_follows_the_market(void **state)
{
    struct tb_law_facts f;

    (void)state;
    tb_law_facts_none(&f);
    assert_true(words("us", "40% cotton, 60% viscose", &f, "60% rayon, 40% cotton"));
    assert_true(words("us", "94% cotton, 3% polyester, 3% nylon", &f, "94% cotton, 6% other fibers"));
    assert_true(words("us", "96% cotton, 4% polyester", &f, "96% cotton, 4% other fiber"));
    assert_true(words("us", "97% cotton, 3% elastane", &f, "97% cotton, 3% spandex"));
    assert_true(words("us", "97% cotton, 3% wool", &f, "97% cotton, 3% wool"));
    assert_true(words("us", "80% recycled wool, 20% nylon", &f, "80% recycled wool, 20% nylon"));
    assert_true(words("ca", "100% reclaimed wool", &f, "100% reclaimed wool / laine récupérée"));
    assert_true(
        words("ca", "60% cotton, 40% polyester", &f, "60% cotton / coton, 40% polyester / polyester"));
    assert_true(words("gb", "60% cotton, 40% spandex", &f, "60 % cotton, 40 % elastane"));
    assert_true(words("us", "80% rabbit hair, 20% nylon", &f, "80% fur fiber, 20% nylon"));
    assert_true(words("ca", "All Wool / Toute laine", &f, "100% wool / laine"));
    /* the main cloth needs no word, the lining its own */
    assert_true(words("us", "80% wool, 20% nylon; Lining: 100% acetate", &f, "80% wool, 20% nylon"));
    assert_true(words("us", "80% wool, 20% nylon; Lining: 100% acetate", &f, "lining: 100% acetate"));
    assert_true(words("us", "70% Tencel® lyocell, 30% cotton", &f, "70% lyocell, 30% cotton"));
    f.left_out = 4;
    assert_true(
        words("us", "100% cotton exclusive of ornamentation", &f, "100% cotton, exclusive of ornamentation"));
    assert_true(words("ca", "100% cotton / coton exclusive of elastic", &f,
                      "100% cotton / coton, exclusive of elastic / à l'exclusion de l'élastique"));
    f.left_out = NAN;
    f.lang = "de";
    assert_true(words("eu", "60% cotton, 40% silk", &f, "60 % Baumwolle, 40 % Seide"));
    f.virgin = true;
    assert_true(words("eu", "75% virgin wool, 25% silk", &f, "75 % Schurwolle, 25 % Seide"));
    f.lang = NULL;
    f.part_share[TB_PART_WARP] = 55;
    f.part_share[TB_PART_WEFT] = 45;
    assert_true(words("eu", "Warp: 100% cotton; Weft: 100% flax", &f,
                      "cotton linen union, pure cotton warp - pure flax weft"));
    assert_true(words("us", "Warp: 100% cotton; Weft: 100% nylon", &f, "55% cotton, 45% nylon"));
    f.origin = "Portugal";
    assert_true(words("us", "100% cotton", &f, "Made in Portugal"));
}

/* Does the answer, to words and to what was found, say this in a finding, a line or a refusal? */
static bool answers(const char *market, const char *text, const char *found, const struct tb_law_facts *f,
                    const char *sentence)
{
    struct tb_law_question q = { .market = market, .text = text, .text_len = strlen(text), .facts = *f };
    struct tb_declaration d = { 0 };
    struct tb_law_answer a;
    struct tb_err err = { 0 };
    struct tb_text all = { 0 };
    bool said;

    if (found) {
        tb_declaration_read(&d, found, strlen(found));
        q.found = &d.comp;
    }
    assert_int_equal(tb_law_check(&a, law, &q, &err), TB_OK);
    tb_law_words(&all, &a);
    said = strstr(tb_text_str(&all), sentence) != NULL;
    if (!said)
        (void)printf("# '%s' | %s: %s\n", text, found ? found : "", tb_text_str(&all));
    tb_text_free(&all);
    tb_law_answer_free(&a);
    tb_declaration_free(&d);
    return said;
}

static void every_part_that_was_analysed_is_compared_and_named(void **state)
{
    static const char coat[] = "Shell: 60% cotton, 40% polyester; Lining: 100% polyester";
    struct tb_law_facts f;

    (void)state;
    tb_law_facts_none(&f);
    assert_true(answers("us", coat, "shell: 60% cotton, 40% polyester; lining: 100% acetate", &f,
                        "polyester (lining) is stated at 100 % and found at 0 %"));
    assert_true(answers("us", coat, "shell: 60% cotton, 40% polyester; lining: 100% polyester", &f,
                        "the words may stand"));
    assert_true(answers("eu", coat, "cotton 30; polyester 70", &f,
                        "the label speaks of parts, so say which it is (--actual \"shell: ...\")"));
    assert_true(answers("eu", coat, "filling: 100% down", &f,
                        "what was found of the filling could not be compared: the label has no such part"));
    /* a lining alone was analysed: the line of the main cloth stays */
    assert_true(
        answers("eu", "60% cotton, 40% polyester; Lining: 100% polyester", "lining: 100% viscose", &f,
                "a label may say: 60 % cotton, 40 % polyester\n                 lining: 100 % viscose\n"));
}

static void a_sentence_says_what_to_do_in_the_market(void **state)
{
    struct tb_law_facts f;

    (void)state;
    tb_law_facts_none(&f);
    assert_true(
        answers("eu", "100% spandex", NULL, &f, "is not a name used in the European Union: say 'elastane'"));
    assert_true(
        answers("ca", "80% down, 20% feather", "76% down, 24% feather", &f, "there is no tolerance for it"));
    assert_true(answers("au", "100% cotton", "50% cotton, 50% polyester", &f,
                        "no tolerance for such a claim is known here"));
    /* Regulation (EU) 1007/2011 Art. 12(1): the sentence is asked for, and stays on the label */
    assert_true(answers(
        "eu", "100% cotton. Leather patch", NULL, &f,
        "is a part of an animal that is not a textile: say 'Contains non-textile parts of animal origin'"));
    assert_true(answers("eu", "100% cotton. Leather patch", NULL, &f,
                        "100 % cotton\n                 Contains non-textile parts of animal origin\n"));
    assert_true(answers("gb", "100% cotton. Contains non-textile parts of animal origin", NULL, &f,
                        "100 % cotton\n                 Contains non-textile parts of animal origin\n"));
    assert_false(answers("us", "100% cotton. Leather patch", NULL, &f, "animal origin"));
    f.lang = "de";
    assert_true(answers("eu", "100 % Baumwolle. Leder", NULL, &f,
                        "say 'Enthält nichttextile Teile tierischen Ursprungs'"));
    f.lang = NULL;
    f.left_out = 7.1;
    assert_true(
        answers("eu", "100% cotton exclusive of decoration", NULL, &f,
                "decoration takes 7.1 % of the mass; it may be left out only where it is at most 7 %"));
    f.left_out = NAN;
    f.micron = 19.1;
    assert_true(answers("us", "100% cashmere", NULL, &f, "no wording: it may not be called cashmere"));
    f.micron = 19;
    assert_true(answers("us", "100% cashmere", NULL, &f, "a label may say: 100% cashmere"));
}

/* 15 USC 68, 70: a product is under one act, and the clauses of the other do not speak of it. */
static void no_clause_of_the_textile_act_is_quoted_for_a_wool_product(void **state)
{
    struct tb_law_facts f;

    (void)state;
    tb_law_facts_none(&f);
    assert_true(answers("us", "100% cotton", NULL, &f, "303.31"));
    assert_false(answers("us", "100% wool", NULL, &f, "303.31"));
    assert_false(answers("us", "20% wool, 80% polyester", NULL, &f, "303.16"));
    assert_true(answers("us", "20% wool, 80% polyester", NULL, &f, "the larger share comes first"));
}

static int begin(void **state)
{
    (void)state;
    law = tb_law_new();
    return 0;
}

static int end(void **state)
{
    (void)state;
    tb_law_free(law);
    return 0;
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_text_of_a_hundred_thousand_bytes_is_refused_with_a_sentence),
        cmocka_unit_test(controls_and_marks_of_direction_are_named),
        cmocka_unit_test(a_small_word_is_no_code),
        cmocka_unit_test(a_tolerance_and_a_range_are_no_share_of_their_own),
        cmocka_unit_test(figures_that_are_no_percentages_are_named),
        cmocka_unit_test(three_hundred_fibres_are_answered),
        cmocka_unit_test(an_unknown_market_language_or_day_is_refused_and_the_choices_are_named),
        cmocka_unit_test(a_rule_speaks_only_from_the_day_it_came_into_force),
        cmocka_unit_test(wording_is_refused_with_its_reason),
        cmocka_unit_test(wording_follows_the_market),
        cmocka_unit_test(every_part_that_was_analysed_is_compared_and_named),
        cmocka_unit_test(a_sentence_says_what_to_do_in_the_market),
        cmocka_unit_test(no_clause_of_the_textile_act_is_quoted_for_a_wool_product),
    };

    return cmocka_run_group_tests(tests, begin, end);
}
