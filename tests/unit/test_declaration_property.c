/* What must hold whatever the text: printing and reading back is the identity, and no bytes do harm. */
#include "tenterbook/fibre.h"
#include "tenterbook/utf8.h"

#include "same_composition.h"

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

/* xorshift: the same compositions in every run. */
static uint64_t seed = 0x9E3779B97F4A7C15u;

static uint64_t draw(uint64_t n)
{
    seed ^= seed << 13;
    seed ^= seed >> 7;
    seed ^= seed << 17;
    return seed % n;
}

/* n figures with `decimals` places that add up to 100 exactly in units of the last place. */
static void draw_figures(double *out, size_t n, int decimals)
{
    uint64_t unit = 1, left;

    for (int i = 0; i < decimals; i++)
        unit *= 10;
    left = 100 * unit;
    for (size_t i = 0; i < n; i++) {
        uint64_t most = left - (n - 1 - i);
        uint64_t take = i + 1 == n ? left : 1 + draw(most);

        out[i] = (double)take / (double)unit;
        left -= take;
    }
}

static bool is_used(const struct tb_part *p, int fibre)
{
    for (size_t i = 0; i < p->n; i++)
        if (p->share[i].fibre == fibre)
            return true;
    return false;
}

static int draw_fibre(const struct tb_part *p)
{
    for (;;) {
        uint64_t pick = draw(40);
        int fibre = pick == 0 ? TB_FIBRE_OTHER : pick == 1 ? TB_FIBRE_UNKNOWN : (int)draw(tb_fibre_count());

        if (!is_used(p, fibre))
            return fibre;
    }
}

static void draw_part(struct tb_composition *c, enum tb_part_kind kind)
{
    static const char *const label[] = { "Besatz", "upper collar facing", "piping", "panneau gauche" };
    struct tb_part *p = tb_composition_add_part(c, kind);
    size_t n = 1 + draw(5);
    double figure[5];

    if (kind == TB_PART_OTHER)
        p->label = tb_strdup(label[draw(TB_COUNT(label))]);
    draw_figures(figure, n, (int)draw(10));
    for (size_t i = 0; i < n; i++) {
        bool lone = n == 1 && draw(4) == 0;
        struct tb_share *s = tb_part_add_share(p, draw_fibre(p), lone ? NAN : figure[i]);

        s->marks = draw(3) ? 0 : (unsigned)draw(64);
        if (!lone && draw(8) == 0)
            s->tolerance = (double)(1 + draw(60)) / 10;
    }
}

static void draw_composition(struct tb_composition *c)
{
    size_t parts = draw(3) ? 1 : 1 + draw(4);

    *c = (struct tb_composition){ 0 };
    for (size_t i = 0; i < parts; i++)
        draw_part(c, parts == 1 && draw(2) ? TB_PART_WHOLE : (enum tb_part_kind)draw(TB_PART_KINDS));
}

static void a_hundred_thousand_compositions_read_back_as_they_were_printed(void **state)
{
    (void)state;
    for (size_t round = 0; round < 100000; round++) {
        struct tb_composition c;
        struct tb_declaration d;
        struct tb_text text = { 0 };

        draw_composition(&c);
        tb_composition_print(&text, &c);
        tb_declaration_read(&d, text.s, text.n);
        if (!same_composition(&c, &d.comp) || d.n)
            fail_msg("'%s' reads back otherwise; first doubt: %s", text.s, d.n ? d.doubt[0].say : "none");
        tb_declaration_free(&d);
        tb_composition_free(&c);
        tb_text_free(&text);
    }
}

/* Places lie within the text, words and doubts name what they should, and printing what was read is stable. */
static void check_reading(const struct tb_declaration *d)
{
    size_t len = strlen(d->text);
    struct tb_declaration again;
    struct tb_text text = { 0 };

    for (size_t i = 0; i < d->n; i++) {
        assert_true(d->doubt[i].at + d->doubt[i].len <= len);
        assert_true(d->doubt[i].say && *d->doubt[i].say);
    }
    for (size_t i = 0; i < d->words; i++) {
        assert_true(d->word[i].at + d->word[i].len <= len && d->word[i].len > 0);
        assert_true(i == 0 || d->word[i].at >= d->word[i - 1].at); /* ligatures may hold two words */
        if (d->word[i].share != TB_NOWHERE)
            assert_true(d->word[i].part < d->comp.n && d->word[i].share < d->comp.part[d->word[i].part].n);
    }
    for (size_t i = 0; i < d->comp.n; i++)
        for (size_t k = 0; k < d->comp.part[i].n; k++) {
            const struct tb_share *s = &d->comp.part[i].share[k];

            assert_true(isnan(s->percent) || (s->percent > 0 && s->percent <= 100));
            assert_true(s->fibre >= -3 && s->fibre != -1 && s->fibre < (int)tb_fibre_count());
        }
    assert_true(d->comp.n > 0 || d->n > 0);
    if (tb_declaration_clear(d)) { /* what is clear once must stay so */
        tb_composition_print(&text, &d->comp);
        tb_declaration_read(&again, text.s, text.n);
        if (!same_composition(&d->comp, &again.comp))
            fail_msg("'%s' was read as '%s', which reads otherwise", d->text, text.s);
        tb_declaration_free(&again);
        tb_text_free(&text);
    }
}

static void read_and_check(const char *text, size_t n)
{
    struct tb_declaration d;

    tb_declaration_read(&d, text, n);
    check_reading(&d);
    tb_declaration_free(&d);
}

static void random_bytes_never_crash_and_never_leave_the_text(void **state)
{
    char text[200];

    (void)state;
    for (size_t round = 0; round < 8000; round++) {
        size_t n = draw(sizeof text);

        for (size_t i = 0; i < n; i++)
            text[i] = (char)draw(256);
        read_and_check(text, n);
    }
}

static void words_and_signs_shuffled_never_crash_and_stay_stable_when_clear(void **state)
{
    static const char *const piece[] = {
        "100",
        "%",
        " ",
        "60",
        "40",
        ",",
        "/",
        ":",
        ";",
        "\n",
        "cotton",
        "Polyester",
        "CO",
        "EL",
        "E",
        "e",
        "T/C",
        "T",
        "warp",
        "weft",
        "lining",
        ":",
        "+-",
        "5",
        "-",
        "–",
        "laine",
        "pure",
        "new",
        "wool",
        "foo",
        "bamboo",
        "other fibres",
        "½",
        "４０",
        "％",
        "綿",
        "涤纶",
        "recycled",
        "and",
        "blend",
        "satin",
        "in",
        "la",
        "lã",
        "max",
        "to",
        "gsm",
        "(",
        ")",
        "ohne",
        "Seide",
        "0",
        "0,5",
        "1.2.3",
        "elasterell-p",
        "polypropylene/polyamide",
        "bicomponent",
    };
    char text[400];

    (void)state;
    for (size_t round = 0; round < 25000; round++) {
        size_t n = 0, pieces = 1 + draw(14);

        for (size_t i = 0; i < pieces; i++) {
            const char *p = piece[draw(TB_COUNT(piece))];

            memcpy(text + n, p, strlen(p));
            n += strlen(p);
            if (draw(2))
                text[n++] = ' ';
        }
        read_and_check(text, n);
    }
}

static void a_text_longer_than_the_most_says_that_the_rest_was_not_read(void **state)
{
    struct tb_declaration d;
    size_t n = 3 * TB_DECLARATION_MOST;
    char *text = tb_alloc(n, 1);

    (void)state;
    for (size_t i = 0; i < n; i++)
        text[i] = "cotton 60 zzyx, "[i % 16];
    tb_declaration_read(&d, text, n);
    assert_int_equal(strlen(d.text), TB_DECLARATION_MOST);
    assert_false(tb_declaration_clear(&d));
    assert_non_null(strstr(d.doubt[d.n - 1].say, "was not read"));
    check_reading(&d);
    tb_declaration_free(&d);
    for (size_t i = 0; i < n; i++)
        text[i] = "wool 1 "[i % 7];
    tb_declaration_read(&d, text, n); /* thousands of the same: a doubt for each, not for each pair */
    assert_true(d.n < TB_DECLARATION_MOST);
    tb_declaration_free(&d);
    free(text);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_hundred_thousand_compositions_read_back_as_they_were_printed),
        cmocka_unit_test(random_bytes_never_crash_and_never_leave_the_text),
        cmocka_unit_test(words_and_signs_shuffled_never_crash_and_stay_stable_when_clear),
        cmocka_unit_test(a_text_longer_than_the_most_says_that_the_rest_was_not_read),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
