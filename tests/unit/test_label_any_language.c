/* Words of any language the reader of declarations knows are worded for any market: "100 % ull" is wool in Britain. */
#include "law/inside.h"

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

static const struct tb_law *law;

/* The fibre the reader of declarations makes of "100 % WORD"; -1: none, or it asks. */
static int declared(const char *text)
{
    struct tb_declaration d;
    int fibre = -1;

    tb_declaration_read(&d, text, strlen(text));
    if (tb_declaration_clear(&d) && d.comp.n == 1 && d.comp.part[0].n == 1)
        fibre = d.comp.part[0].share[0].fibre;
    tb_declaration_free(&d);
    return fibre;
}

static void every_word_for_a_fibre_is_worded_for_every_market_that_names_the_fibre(void **state)
{
    static const char *const market[] = { "us", "ca", "eu", "gb" };
    size_t words = 0, wrong = 0;

    (void)state;
    for (size_t i = 0; i < tb_name_count(); i++) {
        const struct tb_name *n = tb_name_at(i);
        char text[200];
        int fibre;

        (void)snprintf(text, sizeof text, "100 %% %s", n->word);
        if ((n->kind != TB_WORD_LEGAL && n->kind != TB_WORD_SYNONYM) || (fibre = declared(text)) < 0)
            continue;
        words++;
        for (size_t m = 0; m < TB_COUNT(market); m++) {
            struct tb_law_question q = { .market = market[m], .text = text, .text_len = strlen(text) };
            struct tb_law_answer a;
            struct tb_err err = { 0 };
            const struct tb_ref_market *row = tb_law_market(market[m]);

            tb_law_facts_none(&q.facts);
            q.facts.unchecked = true;
            assert_int_equal(tb_law_check(&a, law, &q, &err), TB_OK);
            if ((a.wordings == 0) != (tb_law_name(law, row, fibre, row->lang, NULL) == NULL)) {
                wrong++;
                (void)printf("# '%s' (%s) in %s: %s\n", text, n->lang, market[m],
                             a.refusal ? a.refusal : a.wording[0]);
            }
            tb_law_answer_free(&a);
        }
    }
    (void)printf("# %zu words\n", words);
    assert_true(words > 1500);
    assert_int_equal(wrong, 0);
}

static void worded(const char *market, const char *text, const char *wording)
{
    struct tb_law_question q = { .market = market, .text = text, .text_len = strlen(text) };
    struct tb_law_answer a;
    struct tb_err err = { 0 };

    tb_law_facts_none(&q.facts);
    assert_int_equal(tb_law_check(&a, law, &q, &err), TB_OK);
    if (wording) {
        assert_int_equal(a.wordings, 1);
        assert_string_equal(a.wording[0], wording);
    } else {
        assert_int_equal(a.wordings, 0);
    }
    tb_law_answer_free(&a);
}

static void short_foreign_words_name_fibres_where_nothing_else_does(void **state)
{
    (void)state;
    worded("gb", "100 % ull", "100 % wool"); /* Annex I no. 1, Swedish */
    worded("us", "60 % len, 40 % ull", "60% linen, 40% wool");
    worded("gb", "ull 60 %, len 40 %", "60 % wool, 40 % flax");
    worded("gb", "100 % la laine", "100 % wool");
    worded("gb", "100 % zorblon", NULL);
    worded("gb", "50 % ull, 50 % zorblon", NULL);
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
    tb_law_free((struct tb_law *)(uintptr_t)law);
    return 0;
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_word_for_a_fibre_is_worded_for_every_market_that_names_the_fibre),
        cmocka_unit_test(short_foreign_words_name_fibres_where_nothing_else_does),
    };

    return cmocka_run_group_tests(tests, begin, end);
}
