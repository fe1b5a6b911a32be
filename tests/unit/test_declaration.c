/* Every form in which suppliers write a composition: what is read, and what is asked. */
#include "tenterbook/fibre.h"
#include "tenterbook/utf8.h"

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

struct form {
    const char *text;
    const char *reads;  /* as tb_composition_print has it */
    const char *doubts; /* their kinds in the order of the text */
};

static void doubts_of(struct tb_text *out, const struct tb_declaration *d)
{
    for (size_t i = 0; i < d->n; i++)
        tb_text_addf(out, "%s%s", i ? " " : "", tb_doubt_key(d->doubt[i].kind));
}

static void check(const struct form *f, size_t n)
{
    for (size_t i = 0; i < n; i++) {
        struct tb_declaration d;
        struct tb_text reads = { 0 }, doubts = { 0 };

        tb_declaration_read(&d, f[i].text, strlen(f[i].text));
        tb_composition_print(&reads, &d.comp);
        doubts_of(&doubts, &d);
        if (strcmp(tb_text_str(&reads), f[i].reads) != 0 || strcmp(tb_text_str(&doubts), f[i].doubts) != 0)
            fail_msg("'%s'\n  reads  %s\n  not    %s\n  doubts %s\n  not    %s", f[i].text,
                     tb_text_str(&reads), f[i].reads, tb_text_str(&doubts), f[i].doubts);
        tb_declaration_free(&d);
        tb_text_free(&reads);
        tb_text_free(&doubts);
    }
}

#define CHECK(forms) check(forms, TB_COUNT(forms))

static void percentages_stand_before_or_after_and_may_be_glued(void **state)
{
    static const struct form f[] = {
        { "60% Cotton / 40% Polyester", "60 % cotton, 40 % polyester", "" },
        { "CO 60 PES 40", "60 % cotton, 40 % polyester", "abbreviation abbreviation" },
        { "Viscose 95 % Elastane 5 %", "95 % viscose, 5 % elastane", "" },
        { "60 % cotton, 40 % polyester", "60 % cotton, 40 % polyester", "" },
        { "60% cotton; 40% polyester", "60 % cotton, 40 % polyester", "" },
        { "60% cotton + 40% polyester", "60 % cotton, 40 % polyester", "" },
        { "60% cotton & 40% polyester", "60 % cotton, 40 % polyester", "" },
        { "60% cotton and 40% polyester", "60 % cotton, 40 % polyester", "" },
        { "60% cotton plus 40% polyester", "60 % cotton, 40 % polyester", "" },
        { "60% cotton\n40% polyester", "60 % cotton, 40 % polyester", "" },
        { "60% cotton\r\n40% polyester\r\n", "60 % cotton, 40 % polyester", "" },
        { "60%\tcotton \t 40%\tpolyester", "60 % cotton, 40 % polyester", "" },
        { "cotton: 60%, polyester: 40%", "60 % cotton, 40 % polyester", "" },
        { "cotton (60%) polyester (40%)", "60 % cotton, 40 % polyester", "" },
        { "50% mohair-50% wool", "50 % mohair, 50 % wool", "" },
        { "100%COTTON", "100 % cotton", "" },
        { "CO100", "100 % cotton", "abbreviation" },
        { "CO60PES40", "60 % cotton, 40 % polyester", "abbreviation abbreviation" },
        { "97CO 3SP", "97 % cotton, 3 % elastane", "abbreviation abbreviation" },
        { "%100 PAMUK", "100 % cotton", "" },
        { "%60 PAMUK %40 POLYESTER", "60 % cotton, 40 % polyester", "" },
        { "100 per cent wool", "100 % wool", "" },
        { "95,5% cotton 4,5% elastane", "95.5 % cotton, 4.5 % elastane", "" },
        { "95.5% cotton, 4.5% elastane", "95.5 % cotton, 4.5 % elastane", "" },
        { "\xEF\xBC\x96\xEF\xBC\x90\xEF\xBC\x85 cotton \xEF\xBC\x94\xEF\xBC\x90\xEF\xBC\x85 silk", /* full width */
          "60 % cotton, 40 % silk", "" },
        { "  100 %   cotton  ", "100 % cotton", "" },
        { "TKG: 73 % Viskose, 27 % Polypropylen", "73 % viscose, 27 % polypropylene", "" },
        { "Composition: 100% silk", "100 % silk", "" },
        { "made of 100% silk fabric", "100 % silk", "" },
        { "100% silk, made in Italy", "100 % silk", "" },
    };
    (void)state;
    CHECK(f);
}

static void ratios_follow_the_order_of_the_fibres(void **state)
{
    static const struct form f[] = {
        { "65/35 poly/cotton", "65 % polyester, 35 % cotton", "abbreviation" },
        { "poly/spandex 92:8", "92 % polyester, 8 % elastane", "abbreviation" },
        { "cotton/polyester/elastane 60/38/2", "60 % cotton, 38 % polyester, 2 % elastane", "" },
        { "60/38/2 cotton, polyester, elastane", "60 % cotton, 38 % polyester, 2 % elastane", "" },
        { "T/R65/35", "65 % polyester, 35 % viscose", "abbreviation" },
        { "T/C 65/35", "65 % polyester, 35 % cotton", "abbreviation" },
        { "65/35 T/C", "65 % polyester, 35 % cotton", "abbreviation" },
        { "TC 65:35", "65 % polyester, 35 % cotton", "abbreviation" },
        { "C/T 65/35", "65 % cotton, 35 % polyester", "abbreviation" },
        { "CVC 60/40", "60 % cotton, 40 % polyester", "abbreviation" },
        { "65-35 cotton-polyester", "65 % cotton, 35 % polyester", "" },
        { "polycotton 65/35", "65 % polyester, 35 % cotton", "trade_word" },
        { "97% cotton/3% elastane", "97 % cotton, 3 % elastane", "" },
        { "65/35", "", "number number empty" },
        { "65/35/5 T/C", "polyester, cotton", "abbreviation" },
    };
    (void)state;
    check(f, TB_COUNT(f) - 1); /* the last is looked at below: its figures must not be taken */
    {
        struct tb_declaration d;

        tb_declaration_read(&d, f[14].text, strlen(f[14].text));
        assert_false(tb_declaration_clear(&d));
        assert_true(isnan(d.comp.part[0].share[0].percent));
        tb_declaration_free(&d);
    }
}

static void a_cloth_of_several_parts_is_read_part_by_part(void **state)
{
    static const struct form f[] = {
        { "shell: 100% polyester lining: 55% acetate, 45% viscose",
          "shell: 100 % polyester; lining: 55 % acetate, 45 % viscose", "" },
        { "warp cotton, weft linen", "warp: cotton; weft: flax", "" },
        { "cotton warp, linen weft", "warp: cotton; weft: flax", "" },
        { "pure cotton warp - pure flax weft", "warp: pure cotton; weft: pure flax", "" },
        { "100% Nylon Pile, 100% Cotton Back", "pile: 100 % polyamide; back: 100 % cotton", "" },
        { "Face - 60% Rayon, 40% Nylon; Back - 70% Cotton, 30% Rayon",
          "face: 60 % viscose, 40 % polyamide; back: 70 % cotton, 30 % viscose", "" },
        { "100% cotton, lining 100% polyester", "100 % cotton; lining: 100 % polyester", "" },
        { "100% cotton, 100% polyester lining", "100 % cotton; lining: 100 % polyester", "" },
        { "Outer shell 100% nylon\nFilling: 90% down 10% feathers",
          "shell: 100 % polyamide; filling: 90 % down, 10 % feather", "" },
        { "100% cotton, exclusive of trim", "100 % cotton", "" },
        { "upper collar facing: 100% silk", "upper collar facing: 100 % silk", "" },
        { "100% polyester with PU coating", "100 % polyester; coating: polyurethane", "abbreviation" },
        { "65% polyester 35% cotton, PVC coated", "65 % polyester, 35 % cotton; coating: chlorofibre",
          "abbreviation" },
        { "100% nylon acrylic coated", "100 % polyamide; coating: acrylic", "" },
        { "100% cotton with lining", "100 % cotton; lining: ", "empty" },
        { "100% cotton with polyester lining", "100 % cotton; lining: polyester", "" },
        { "lining:", "", "empty empty" },
        { "Kette Baumwolle, Schuss Leinen", "warp: cotton; weft: flax", "" },
        { "Oberstoff: 100 % Polyester, Futter: 100 % Viskose",
          "shell: 100 % polyester; lining: 100 % viscose", "" },
        { "chaîne coton, trame lin", "warp: cotton; weft: flax", "" },
        { "doublure : 100 % polyester", "lining: 100 % polyester", "" },
        { "ordito cotone, trama lino", "warp: cotton; weft: flax", "" },
        { "Exterior: 100% algodón. Forro: 100% poliéster", "shell: 100 % cotton; lining: 100 % polyester",
          "" },
        { "ketting katoen, inslag linnen", "warp: cotton; weft: flax", "" },
        { "teia algodão, trama linho", "warp: cotton; weft: flax", "" },
        { "osnowa bawełna, wątek len", "warp: cotton; weft: flax", "" },
        { "podszewka: 100% wiskoza", "lining: 100 % viscose", "" },
        { "面料：聚酯纤维100% 里料：棉100%", "shell: 100 % polyester; lining: 100 % cotton", "" },
    };
    (void)state;
    CHECK(f);
}

static void marks_belong_to_the_fibre_beside_them(void **state)
{
    static const struct form f[] = {
        { "pure new wool", "pure virgin wool", "" },
        { "reine Schurwolle", "pure virgin wool", "" },
        { "100% virgin wool", "100 % virgin wool", "" },
        { "80% wool 20% recycled wool", "80 % wool, 20 % recycled wool", "" },
        { "60% organic cotton 40% recycled polyester", "60 % organic cotton, 40 % recycled polyester", "" },
        { "100 % coton biologique", "100 % organic cotton", "" },
        { "60% coton biologique 40% polyester recyclé", "60 % organic cotton, 40 % recycled polyester", "" },
        { "60% Polyester (recycelt), 40% Baumwolle", "60 % recycled polyester, 40 % cotton", "" },
        { "100% combed cotton, mercerised", "100 % mercerised combed cotton", "" },
        { "60% cotton, organic, 40% polyester", "60 % cotton, 40 % polyester", "ambiguous" },
        { "JC 100", "100 % combed cotton", "abbreviation" },
        { "WV 100", "100 % virgin wool", "abbreviation" },
        { "All Cashmere", "pure cashmere", "" },
        { "'pure alpaca' (100%)", "100 % pure alpaca", "" },
    };
    (void)state;
    CHECK(f);
}

static void a_tolerance_of_the_words_themselves_is_kept(void **state)
{
    static const struct form f[] = {
        { "80 +-5 % cashmere, 20 +-5 % wool", "80 +-5 % cashmere, 20 +-5 % wool", "" },
        { "93.6 +-5% wool, 6.4 +-1.9% polyamide", "93.6 +-5 % wool, 6.4 +-1.9 % polyamide", "" },
        { "cashmere 80 \xC2\xB1 5%, wool 20 \xC2\xB1 5%", "80 +-5 % cashmere, 20 +-5 % wool", "" },
        { "80% +/- 3% wool 20% nylon", "80 +-3 % wool, 20 % polyamide", "" },
        { "80 +- 5% cashmere", "80 +-5 % cashmere", "sum" },
    };
    (void)state;
    CHECK(f);
}

static void sums_are_doubted_unless_rounding_explains_them(void **state)
{
    static const struct form f[] = {
        { "33.3% wool 33.3% silk 33.3% cotton", "33.3 % wool, 33.3 % silk, 33.3 % cotton", "" },
        { "33% wool 33% silk 33% cotton", "33 % wool, 33 % silk, 33 % cotton", "sum" },
        { "60% cotton 39.6% silk", "60 % cotton, 39.6 % silk", "" },      /* 60 may be 60.4 */
        { "60.0% cotton 39.6% silk", "60 % cotton, 39.6 % silk", "sum" }, /* 60.0 may not */
        { "60% cotton 38% polyester", "60 % cotton, 38 % polyester", "sum" },
        { "60% cotton 60% polyester", "60 % cotton, 60 % polyester", "sum" },
        { "60% cotton", "60 % cotton", "sum" },
    };
    struct tb_declaration d;

    (void)state;
    CHECK(f);
    tb_declaration_read(&d, f[4].text, strlen(f[4].text));
    assert_non_null(strstr(d.doubt[0].say, "98")); /* the sum is named */
    tb_declaration_free(&d);
}

static void what_is_not_said_is_asked_and_never_filled_in(void **state)
{
    static const struct form f[] = {
        { "cotton", "cotton", "" }, /* alone, it needs no figure */
        { "cotton, polyester", "cotton, polyester", "no_percent" },
        { "wool, 20% nylon", "wool, 20 % polyamide", "no_percent" },
        { "wool 20% nylon", "wool, polyamide", "no_percent number" }, /* whose is the 20? */
        { "CVC", "cotton, polyester", "no_percent abbreviation" },
        { "Cashmere blend", "cashmere", "no_percent" },
        { "80% cotton, rest polyester", "80 % cotton, polyester", "no_percent no_percent" },
        { "55-80 % cotton, polyester", "cotton, polyester", "range" },
        { "min 60% cotton, max 40% polyester", "60 % cotton, 40 % polyester", "range range" },
        { "60 to 70% wool, 30% nylon", "wool, 30 % polyamide", "range" },
        { "0% cotton", "cotton", "number" },
        { "140% cotton", "cotton", "number" },
        { "18.743,90 cotton", "cotton", "number" },
        { "100", "", "number empty" },
        { "", "", "empty" },
        { "   \n", "", "empty" },
        { "50% cotton 50% cotton", "50 % cotton, 50 % cotton", "repeated" },
    };
    (void)state;
    CHECK(f);
}

static void words_that_are_no_fibre_names_are_named(void **state)
{
    static const struct form f[] = {
        { "100% bamboo", "100 % unknown fibres", "ambiguous misnomer" },
        { "satin", "", "misnomer empty" },
        { "satin 100% polyester", "100 % polyester", "misnomer" },
        { "100% art silk", "100 % unknown fibres", "ambiguous misnomer" },
        { "100% Tencel", "100 % lyocell", "trade_word" },
        { "100% merino", "100 % wool", "trade_word" },
        { "100% viscose from bamboo", "100 % viscose", "trade_word" },
        { "60% synthetic 40% cotton", "60 % unknown fibres, 40 % cotton", "ambiguous" },
        { "100% mikrofaser", "100 % unknown fibres", "ambiguous" },
        { "60% cottn 40% polyester", "60 % unknown fibres, 40 % polyester", "unknown_word" },
        { "navy 100% cotton", "100 % cotton", "unknown_word" },
        { "60% cotton 40% other fibres", "60 % cotton, 40 % other fibres", "" },
        { "100% unknown fibres", "100 % unknown fibres", "" },
        { "100% cotton #", "100 % cotton", "unknown_word" },
        { "\xFF\xFE 100% cotton", "100 % cotton", "unknown_word unknown_word" },
        { "150 gsm 100% cotton", "100 % cotton", "" },
        { "100% nylon 6.6", "100 % polyamide", "" },
        { "PA6 40% CO 60%", "40 % polyamide, 60 % cotton", "abbreviation abbreviation" },
        { "nylon 6 cotton 94", "6 % polyamide, 94 % cotton", "" },
        { "95% cotton w/ 5% spandex", "95 % cotton, 5 % elastane", "" },
        { "JC32S+40D", "combed cotton", "abbreviation" },
        { "100% lã", "100 % wool", "" },
        { "100% la", "100 % unknown fibres", "ambiguous" },
        { "60% COTONE E 40% POLIESTERE", "60 % cotton, 40 % polyester", "" },
        { "60% COTTON S 40% POLYESTER", "cotton, unknown fibres, polyester",
          "no_percent number ambiguous number" },
        { "COTONE 60 E 40", "60 % cotton, 40 % unknown fibres", "ambiguous" },
        { "68% Wool / Laine 24% Polyester / Polyester 8% Acrylic / Acrylique",
          "68 % wool, 24 % polyester, 8 % acrylic", "" },
    };
    struct tb_declaration d;

    (void)state;
    CHECK(f);
    tb_declaration_read(&d, f[9].text, strlen(f[9].text));
    assert_int_equal(d.doubt[0].at, 4);
    assert_int_equal(d.doubt[0].len, 5);
    assert_string_equal(d.doubt[0].choices, "cotton"); /* the nearest is offered */
    tb_declaration_free(&d);
}

static void seven_languages_read_alike(void **state)
{
    static const struct form f[] = {
        { "70 % Baumwolle, 25 % Polyamid, 5 % Elasthan", "70 % cotton, 25 % polyamide, 5 % elastane", "" },
        { "55% Leinen und 45% Viskose", "55 % flax, 45 % viscose", "" },
        { "50 % Kaschmir, 50 % Schurwolle", "50 % cashmere, 50 % virgin wool", "" },
        { "95 % Baumwolle, 5 % sonstige Fasern", "95 % cotton, 5 % other fibres", "" },
        { "70 % coton, 25 % polyamide, 5 % élasthanne", "70 % cotton, 25 % polyamide, 5 % elastane", "" },
        { "100 % soie", "100 % silk", "" },
        { "60 % laine vierge, 40 % poil de chameau", "60 % virgin wool, 40 % camel", "" },
        { "95 % coton et 5 % autres fibres", "95 % cotton, 5 % other fibres", "" },
        { "70% cotone 25% poliammide 5% elastan", "70 % cotton, 25 % polyamide, 5 % elastane", "" },
        { "100% pura lana vergine", "100 % pure virgin wool", "" },
        { "80% seta e 20% lino", "80 % silk, 20 % flax", "" },
        { "70% algodón, 25% poliamida, 5% elastano", "70 % cotton, 25 % polyamide, 5 % elastane", "" },
        { "60% LANA 40% ACRÍLICO", "60 % wool, 40 % acrylic", "" },
        { "65% poliéster y 35% viscosa", "65 % polyester, 35 % viscose", "" },
        { "70% katoen, 25% polyamide, 5% elastaan", "70 % cotton, 25 % polyamide, 5 % elastane", "" },
        { "100% zijde", "100 % silk", "" },
        { "50% wol en 50% acryl", "50 % wool, 50 % acrylic", "" },
        { "70% algodão, 25% poliamida, 5% elastano", "70 % cotton, 25 % polyamide, 5 % elastane", "" },
        { "100% seda", "100 % silk", "" },
        { "60% viscose e 40% linho", "60 % viscose, 40 % flax", "" },
        { "70% bawełna, 25% poliamid, 5% elastan", "70 % cotton, 25 % polyamide, 5 % elastane", "" },
        { "100% żywa wełna", "100 % virgin wool", "" },
        { "60% wiskoza i 40% len", "60 % viscose, 40 % flax", "" },
        { "60% bawelna 40% welna", "60 % cotton, 40 % wool", "" }, /* typed without the Polish letters */
        { "６５％ポリエステル　３５％綿", "65 % polyester, 35 % cotton", "" },
        { "涤纶65%棉35%", "65 % polyester, 35 % cotton", "" },
        { "면 60% 폴리에스터 40%", "60 % cotton, 40 % polyester", "" },
        { "хлопок 60%, полиэстер 40%", "60 % cotton, 40 % polyester", "" },
        { "60% βαμβάκι 40% μετάξι", "60 % cotton, 40 % silk", "" },
    };
    (void)state;
    CHECK(f);
}

/* Does the law of a language list the word? */
static bool is_legal_in(const struct tb_word *w, const char *lang)
{
    for (size_t i = 0; i < w->names; i++)
        if (w->name[i].kind == TB_WORD_LEGAL && strcmp(w->name[i].lang, lang) == 0)
            return true;
    return false;
}

static void every_word_knows_its_kind_and_its_share(void **state)
{
    static const char text[] = "60% Seide / Silk, 40% Tencel";
    struct tb_declaration d;

    (void)state;
    tb_declaration_read(&d, text, strlen(text));
    assert_int_equal(d.words, 3);
    assert_int_equal(d.word[0].kind, TB_WORD_LEGAL);
    assert_true(is_legal_in(&d.word[0], "de"));
    assert_false(is_legal_in(&d.word[0], "en"));
    assert_true(is_legal_in(&d.word[1], "en"));
    assert_int_equal(d.word[0].share, 0);
    assert_int_equal(d.word[1].share, 0); /* said again */
    assert_int_equal(d.word[2].kind, TB_WORD_TRADE_MARK);
    assert_int_equal(d.word[2].share, 1);
    assert_int_equal(d.word[2].part, 0);
    assert_int_equal(d.word[2].fibre, tb_fibre_by_key("lyocell"));
    assert_int_equal(d.word[2].at, 22);
    tb_declaration_free(&d);
}

static void a_doubt_names_what_an_open_word_may_mean(void **state)
{
    static const struct {
        const char *text, *say, *choices;
    } row[] = {
        { "97CO 3EA", "'EA' may mean one of these: elastane, other fibres; ask the supplier",
          "elastane|other_fibres" },
        { "100% synthetic", "'synthetic' names a class of fibres, not one fibre: ask which fibre it is", "" },
        { "100% cashmer", "'cashmer' is not a known word; the nearest one is 'cashmere' (cashmere)",
          "cashmere" },
        { "65/35 T/C", "'T/C' is read as polyester + cotton; a label must spell it out", "" },
        { "cotton, polyester", "there are 2 fibres and no percentages", "" },
        { "80% cotton, polyester", "1 of 2 fibres have no percentage", "" },
        { "100% cotton \x01", "this sign has no meaning here", "" },
        { "100% nylon pile, 100% cotton back (pile 60%, back 40%)",
          "'60%' is said of a part of the cloth, not of a fibre", "" },
    };

    (void)state;
    for (size_t i = 0; i < TB_COUNT(row); i++) {
        struct tb_declaration d;
        const struct tb_doubt *found = NULL;

        tb_declaration_read(&d, row[i].text, strlen(row[i].text));
        for (size_t k = 0; k < d.n; k++)
            if (strcmp(d.doubt[k].say, row[i].say) == 0)
                found = &d.doubt[k];
        if (!found)
            fail_msg("'%s' does not say \"%s\" but \"%s\"", row[i].text, row[i].say,
                     d.n ? d.doubt[0].say : "");
        assert_string_equal(found->choices ? found->choices : "", row[i].choices);
        tb_declaration_free(&d);
    }
}

static void a_long_word_is_quoted_up_to_a_whole_character(void **state)
{
    char text[200] = "100% ";
    struct tb_declaration d;

    (void)state;
    for (int i = 0; i < 40; i++)
        (void)strcat(text,
                     i == 0 ? "x"
                            : "\xC3\xA4"); /* one byte, then 39 characters of two bytes: 60 is half of one */
    tb_declaration_read(&d, text, strlen(text));
    assert_int_equal(d.n, 1);
    assert_true(tb_utf8_valid(d.doubt[0].say, strlen(d.doubt[0].say)));
    assert_int_equal(d.doubt[0].len, 79); /* the doubt is about all of it */
    tb_declaration_free(&d);
}

/* A finish is a fact beside the composition: it is no share, changes no name, and is asked about by nobody. */
static void finishes_are_kept_beside_the_composition(void **state)
{
    static const struct {
        const char *text, *reads, *finish;
    } f[] = {
        { "100% cotton flame retardant", "100 % cotton", "flame retardant" },
        { "Flame-retardant 100% cotton, pigment print", "100 % cotton", "flame retardant, print" },
        { "65% polyester 35% cotton, easy care finish", "65 % polyester, 35 % cotton", "easy care" },
        { "100% Baumwolle, schwer entflammbar", "100 % cotton", "flame retardant" },
        { "100% Wolle filzfrei", "100 % wool", "chlorinated" },
        { "coton 100% ignifugé", "100 % cotton", "flame retardant" },
        { "100 % coton, enduit", "100 % cotton", "coated" },
        { "100% cotone impermeabile", "100 % cotton", "water repellent" },
        { "100% poliéster estampado", "100 % polyester", "print" },
        { "100% katoen, waterafstotend", "100 % cotton", "water repellent" },
        { "100% bawełna trudnopalna", "100 % cotton", "flame retardant" },
        { "棉100% 阻燃", "100 % cotton", "flame retardant" },
        { "綿100% 撥水加工", "100 % cotton", "water repellent" },
        { "100% cotton, waxed", "100 % cotton", "waxed" },
        { "100% silk weighted", "100 % silk", "weighted" },
        { "100% polyester silicone finish, laminated", "100 % polyester", "silicone finish, laminated" },
        { "100% polyester foil print", "100 % polyester", "metallised finish" },
        { "100% cotton with coating", "100 % cotton", "coated" },
        { "100% cotton, coated", "100 % cotton", "coated" },
        { "100% polyester, metallised", "100 % polyester", "metallised finish" },
        { "metallised 100% polyester", "100 % polyester", "metallised finish" },
        { "70% polyester 30% metallised", "70 % polyester, 30 % metallic", "" },
        { "T/C 65/35, metallised", "65 % polyester, 35 % cotton", "metallised finish" },
        { "100% Seide versilbert", "100 % silk", "metallised finish" },
        { "涤纶100% PU涂层", "100 % polyester; coating: polyurethane", "" },
        { "powlekany PCW 100% poliester", "100 % polyester; coating: chlorofibre", "" },
        { "enduit PU 100% coton", "100 % cotton; coating: polyurethane", "" },
        { "100% nylon recubierto de poliuretano", "100 % polyamide; coating: polyurethane", "" },
        { "100% cotton, coating 100% polyurethane", "100 % cotton; coating: 100 % polyurethane", "" },
        { "涤纶100% 涂层", "100 % polyester", "coated" },
        { "coating: 100% polyurethane", "coating: 100 % polyurethane", "" },
        { "100% nylon, PU coated, water repellent", "100 % polyamide; coating: polyurethane",
          "water repellent" },
    };

    (void)state;
    for (size_t i = 0; i < TB_COUNT(f); i++) {
        struct tb_declaration d, again;
        struct tb_text reads = { 0 }, finish = { 0 }, whole = { 0 };

        tb_declaration_read(&d, f[i].text, strlen(f[i].text));
        tb_composition_print(&reads, &d.comp);
        tb_finish_list(&finish, d.finish);
        assert_string_equal(tb_text_str(&reads), f[i].reads);
        assert_string_equal(tb_text_str(&finish), f[i].finish);
        assert_true(tb_declaration_clear(&d));
        tb_declaration_print(&whole, &d);
        tb_declaration_read(&again, whole.s, whole.n);
        assert_int_equal(again.finish, d.finish);
        assert_true(tb_declaration_clear(&again));
        tb_declaration_free(&again);
        tb_declaration_free(&d);
        tb_text_free(&reads);
        tb_text_free(&finish);
        tb_text_free(&whole);
    }
    assert_int_equal(tb_finish_by_key("varnished"), -1);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(finishes_are_kept_beside_the_composition),
        cmocka_unit_test(percentages_stand_before_or_after_and_may_be_glued),
        cmocka_unit_test(ratios_follow_the_order_of_the_fibres),
        cmocka_unit_test(a_cloth_of_several_parts_is_read_part_by_part),
        cmocka_unit_test(marks_belong_to_the_fibre_beside_them),
        cmocka_unit_test(a_tolerance_of_the_words_themselves_is_kept),
        cmocka_unit_test(sums_are_doubted_unless_rounding_explains_them),
        cmocka_unit_test(what_is_not_said_is_asked_and_never_filled_in),
        cmocka_unit_test(words_that_are_no_fibre_names_are_named),
        cmocka_unit_test(seven_languages_read_alike),
        cmocka_unit_test(every_word_knows_its_kind_and_its_share),
        cmocka_unit_test(a_doubt_names_what_an_open_word_may_mean),
        cmocka_unit_test(a_long_word_is_quoted_up_to_a_whole_character),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
