/*
 * Names out of a saved copy of the law. The copies are written here, in the structure of the consolidated text, around the
 * names that were seen in English and French (law_name.csv); they quote no more of it than designated words.
 */
#include "law/inside.h"

#include "gen/ref_annex_row.h"
#include "tenterbook/law_names.h"

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

struct language {
    const char *lang, *article, * or, *open, *close, *after;
    const char *pure[2], *others, *parts;
};
static const struct language english = { "en",
                                         "Article %d",
                                         "or",
                                         "\u2018",
                                         "\u2019",
                                         ", followed or not by \u2018wool\u2019 (1)",
                                         { "pure", "all" },
                                         "other fibres",
                                         "Contains non-textile parts of animal origin" };
static const struct language french = { "fr",
                                        "Article %d",
                                        "ou",
                                        "\u00AB\u00A0",
                                        "\u00A0\u00BB",
                                        " (1) avec ou sans",
                                        { "pur", "tout" },
                                        "autres fibres",
                                        "Contient des parties non textiles d'origine animale" };
static struct tb_law *law;

static const char *held(const char *lang, const char *fibre)
{
    const char *name = tb_law_name(law, tb_law_market("eu"), tb_fibre_by_key(fibre), lang, NULL);

    return name ? name : "-";
}

/* The cell of a row, as the law has it: a list, two names with a word between, a second name in brackets. */
static void cell(struct tb_text *t, const struct language *l, int number)
{
    const char *second = strcmp(l->lang, "fr") == 0 ? "lin" : "linen";
    size_t n = 0;

    for (size_t i = 0; i < tb_ref_annex_row_n; i++) {
        if (tb_ref_annex_row[i].number != number)
            continue;
        if (number == 7 || number == 30) {
            if (tb_ref_annex_row[i].place == 1)
                tb_text_add(t, held(l->lang, tb_ref_annex_row[i].fibre));
            else
                tb_text_addf(t, " %s %s", l->or, number == 7 ? second : "nylon");
        } else {
            tb_text_addf(t, "%s%s", n ? ", " : "", held(l->lang, tb_ref_annex_row[i].fibre));
        }
        n++;
    }
    if (number == 2)
        tb_text_add(t, l->after);
    if (number == 12)
        tb_text_add(t, " (coco)");
    if (n == 0)
        tb_text_add(t, "any, with or without a kind");
}

/* What the articles have between quotation marks. */
static void article(struct tb_text *t, const struct language *l, int number, const char *block,
                    const char *end)
{
    tb_text_add(t, block);
    tb_text_addf(t, l->article, number);
    tb_text_addf(t, "%s%s text of it%s", end, block, end);
    if (number == 7)
        tb_text_addf(t, "%sthis %s100 %%%s, that %s%s%s, %s%s%s%s", block, l->open, l->close, l->open,
                     l->pure[0], l->close, l->open, l->pure[1], l->close, end);
    if (number == 9)
        tb_text_addf(t, "%sthis %s%s%s%s", block, l->open, l->others, l->close, end);
    if (number == 12)
        tb_text_addf(t, "%sthis %s%s%s%s", block, l->open, l->parts, l->close, end);
}

static char *page(const struct language *l, int rows)
{
    struct tb_text t = { 0 };

    tb_text_add(
        &t, "<!DOCTYPE html><html><head><title>1</title><style>p { }</style></head><body><!-- <td> -->\n");
    tb_text_add(&t, "<p>CHAPTER 1</p>");
    for (int a = 1; a <= 28; a++)
        article(&t, l, a, "<p class=\"x\">", "</p>\n");
    tb_text_add(&t, "<table><tbody><tr><td>Num&eacute;ro</td><td>Name</td><td>What</td></tr>\n");
    for (int i = 1; i <= rows; i++) {
        tb_text_addf(&t, "<tr>\n <td><p>%d</p></td>\n <td>\n<p>", i);
        cell(&t, l, i);
        tb_text_add(&t, "</p></td><td><p>a fibre</p><p>of &lt; 5&nbsp;%</p></td></tr>\n");
    }
    tb_text_add(
        &t, "</tbody></table><table><tr><td>1</td><td>another</td><td>table</td></tr></table></body></html>");
    return tb_text_take(&t);
}

/* The same saved as text, a cell a line. */
static char *text(const struct language *l, int rows)
{
    struct tb_text t = { 0 };

    for (int a = 1; a <= 28; a++)
        article(&t, l, a, "", "\r\n\r\n");
    for (int i = 1; i <= rows; i++) {
        tb_text_addf(&t, "%d\r\n\r\n", i);
        cell(&t, l, i);
        tb_text_add(&t, "\r\n\r\na fibre of something\r\n");
    }
    return tb_text_take(&t);
}

static size_t words_of(struct tb_law_word **out, const char *bytes, const char *market, const char *lang,
                       struct tb_arena *mem, struct tb_err *err)
{
    struct tb_law_copy copy;
    size_t n = 0;

    tb_law_copy_read(&copy, bytes, strlen(bytes));
    if (tb_law_copy_words(out, &n, &copy, market, lang, mem, err) != TB_OK)
        n = 0;
    tb_law_copy_free(&copy);
    return n;
}

static const char *word(const struct tb_law_word *w, size_t n, const char *key, size_t which)
{
    for (size_t i = 0; i < n; i++)
        if (strcmp(w[i].key, key) == 0 && which-- == 0)
            return w[i].text;
    return "";
}

static void check(const struct language *l, char *bytes)
{
    struct tb_arena mem = { 0 };
    struct tb_err err = { 0 };
    struct tb_law_word *w;
    size_t n = words_of(&w, bytes, "eu", l->lang, &mem, &err), rows = 0;

    for (size_t i = 0; i < n; i++) {
        if (w[i].phrase)
            continue;
        rows++;
        if (strcmp(w[i].key, "nylon") != 0 && strcmp(w[i].key, "flax") != 0)
            assert_string_equal(w[i].text, held(l->lang, w[i].key));
        assert_string_equal(w[i].held, held(l->lang, w[i].key));
    }
    assert_int_equal(rows, 47 + 12 + 2); /* without 3 and 48; 12 animals in row 2; two names in 7 and in 30 */
    assert_string_equal(word(w, n, "nylon", 0), "polyamide");
    assert_string_equal(word(w, n, "nylon", 1), "nylon");
    assert_string_equal(word(w, n, "coir", 0), held(l->lang, "coir"));
    assert_string_equal(word(w, n, "pure", 0), l->pure[0]);
    assert_string_equal(word(w, n, "pure", 1), l->pure[1]);
    assert_string_equal(word(w, n, "pure", 2), ""); /* "100 %" is no word */
    assert_string_equal(word(w, n, "other_fibres", 0), l->others);
    assert_string_equal(word(w, n, "animal_parts", 0), l->parts);
    tb_arena_free(&mem);
    free(bytes);
}

static void the_names_that_were_seen_are_found_in_english_and_french_copies(void **state)
{
    (void)state;
    check(&english, page(&english, 50));
    check(&french, page(&french, 50));
    check(&english, text(&english, 50));
    check(&french, text(&french, 50));
}

static void refused(const char *bytes, const char *market, const char *lang, const char *why)
{
    struct tb_arena mem = { 0 };
    struct tb_err err = { 0 };
    struct tb_law_word *w;

    assert_int_equal(words_of(&w, bytes, market, lang, &mem, &err), 0);
    assert_non_null(strstr(err.msg, why));
    tb_arena_free(&mem);
}

static void what_is_no_copy_of_the_law_is_refused(void **state)
{
    char *whole = page(&english, 50), *short_of = page(&english, 17);

    (void)state;
    refused("", "eu", "en", "Annex I was not found");
    refused("<html>1<td>2<td>3", "eu", "en", "Annex I was not found");
    refused(short_of, "eu", "en", "no table has rows numbered 1 to 18");
    refused(whole, "eu", "xx", "is not in 'xx'");
    refused(whole, "us", "en", "do not stand in numbered rows");
    refused(whole, "zz", "en", "there is no market 'zz'");
    free(whole);
    free(short_of);
}

/* Whatever is cut off, what is read is never a word that the whole copy has not. */
static void a_copy_that_is_cut_short_gives_no_word_of_its_own(void **state)
{
    char *whole = page(&french, 50);
    size_t n = strlen(whole);

    (void)state;
    for (size_t cut = 0; cut < n; cut += 7) {
        struct tb_law_copy copy;

        tb_law_copy_read(&copy, whole, cut);
        for (size_t i = 0; i < copy.n; i++) {
            assert_true(copy.seen[i].number >= 1 && copy.seen[i].number <= 99);
            assert_true(strlen(copy.seen[i].text) <= TB_LAW_TEXT_MOST);
            if (copy.seen[i].quoted)
                assert_non_null(strstr(whole, copy.seen[i].text));
        }
        tb_law_copy_free(&copy);
    }
    free(whole);
}

static void say(const struct tb_law *with, const char *lang, const char *label, const char *wording)
{
    struct tb_law_question q = { .market = "eu", .text = label, .text_len = strlen(label) };
    struct tb_law_answer a;
    struct tb_err err = { 0 };

    tb_law_facts_none(&q.facts);
    q.facts.lang = lang;
    assert_int_equal(tb_law_check(&a, with, &q, &err), TB_OK);
    if (wording) {
        assert_int_equal(a.wordings, 1);
        assert_string_equal(a.wording[0], wording);
    } else {
        assert_int_equal(a.wordings, 0);
    }
    tb_law_answer_free(&a);
}

static void words_that_were_taken_over_are_printed_and_read(void **state)
{
    /* Polish words are held from memory: made up ones show where a word comes from */
    static const struct tb_law_kept kept[] = { { "eu", "pl", "cotton", "bawełna" },
                                               { "eu", "pl", "polyester", "poliestrowy" },
                                               { "eu", "pl", "other_fibres", "pozostałe włókna" },
                                               { "eu", "pl", "no_such_key", "nic" },
                                               { "zz", "pl", "silk", "jedwab" } };
    struct tb_law *with = tb_law_new_with(kept, TB_COUNT(kept));

    (void)state;
    say(law, "pl", "100 % cotton", NULL);
    say(with, "pl", "100 % cotton", "100 % bawełna");
    say(with, "pl", "60 % bawełna, 40 % poliestrowy", "60 % bawełna, 40 % poliestrowy");
    say(with, "pl", "90 % bawełna, 10 % pozostałe włókna", "90 % bawełna, 10 % pozostałe włókna");
    say(with, "pl", "100 % silk", NULL); /* of no market here */
    say(with, "en", "60 % cotton, 40 % polyester", "60 % cotton, 40 % polyester");
    tb_law_free(with);
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
        cmocka_unit_test(the_names_that_were_seen_are_found_in_english_and_french_copies),
        cmocka_unit_test(what_is_no_copy_of_the_law_is_refused),
        cmocka_unit_test(a_copy_that_is_cut_short_gives_no_word_of_its_own),
        cmocka_unit_test(words_that_were_taken_over_are_printed_and_read),
    };

    return cmocka_run_group_tests(tests, begin, end);
}
