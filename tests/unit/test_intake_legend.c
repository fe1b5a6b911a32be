/*
 * test_intake_legend.c - a small table above or below the bolts that tells something of goods by their names.
 * Expected values: common practice, no source.
 */
#include "intake_helper.h"

static const struct tb_intake_opts said = { .supplier = "Weaver Inlet", .note = "7" };

#define BOLTS                                                                                                \
    "Roll;Article;Colour;Metres\n1;Twill;sand;50,1\n2;Twill;moss;47,9\n3;Drill;moss;33,7\nTotal;;;131,7\n"
static const char by_colour[] = "D Weaver Inlet|7||\nL Twill|sand|W1|100% cotton|title|\n"
                                "L Twill|moss|W2|100% cotton|title|\nL Drill|moss|W2|100% cotton|title|\n"
                                "B 0:1|50.10\nB 1:2|47.90\nB 2:3|33.70\n";
#define COTTON "Composition;100% cotton\n\n"

static void what_it_tells_is_of_the_bolts_it_names(void **state)
{
    static const char *const list[] = {
        COTTON "Colour;Dye lot\nsand;W1\nmoss;W2\n\n" BOLTS,
        COTTON BOLTS "\nColour;Dye lot\nsand;W1\nmoss;W2\n",
        COTTON BOLTS "Colour;Dye lot\nsand;W1\nmoss;W2\n",
        /* a summary as mills put it first, and its words are no values */
        COTTON "Colour;Dye lot;Rolls\nsand;W1;1\nmoss;W2;2\n\n" BOLTS,
        COTTON "Colour;Dye lot;Rolls;Metres\nsand;W1;1;50,1\nmoss;W2;2;81,6\nTotal;;3;131,7\n\n" BOLTS,
        COTTON "Farbe;Partie;Rollen\nSAND;W1;1\nMoss;W2;2\n\n" BOLTS,
        /* the colour by its shade, two names, a name that runs down, a table on its side */
        COTTON "Shade;Lot\nsand;W1\nmoss;W2\n\n" BOLTS,
        COTTON "Article;Colour;Dye lot\nTwill;sand;W1\n;moss;W2\nDrill;moss;W2\n\n" BOLTS,
        COTTON "Colour:;sand;moss\nDye lot:;W1;W2\n\n" BOLTS,
        COTTON "Colour;sand;moss\nRolls;1;2\nDye lot;W1;W2\n\n" BOLTS,
        /* a header that nobody knows */
        COTTON "Colour;Dye lot;Finish\nsand;W1;soft\nmoss;W2;soft\n\n" BOLTS,
    };

    (void)state;
    for (size_t i = 0; i < TB_COUNT(list); i++) {
        struct seen s = read_text(list[i], &said);

        if (s.rc != TB_OK || strcmp(tb_text_str(&s.text), by_colour) != 0)
            print_error("%s%s\n%s", list[i], s.err.msg, tb_text_str(&s.text));
        assert_int_equal(s.rc, TB_OK);
        assert_string_equal(tb_text_str(&s.text), by_colour);
        assert_true(says(&s, "of each bolt, found by"));
        seen_free(&s);
    }
}

static void compositions_and_measures_are_joined(void **state)
{
    static const char lots[] =
        "D Weaver Inlet|7||\nL Twill|sand||100% cotton|row|\nL Twill|moss||100% cotton|row|\n"
        "L Drill|moss||100% linen|row|\n";
    struct tb_text t = { 0 };

    (void)state;
    tb_text_addf(&t, "%sB 0:1|50.10\nB 1:2|47.90\nB 2:3|33.70\n", lots);
    taken("Article;Composition\nTwill;100% cotton\nDrill;100% linen\n\n" BOLTS, &said, tb_text_str(&t));
    taken(BOLTS "\nArticle;Composition\nTwill;100% cotton\nDrill;100% linen\n", &said, tb_text_str(&t));
    tb_text_clear(&t);
    tb_text_addf(&t,
                 "%sB 0:1|50.10|150.0 cm|220.0 g/m2\nB 1:2|47.90|150.0 cm|220.0 g/m2\n"
                 "B 2:3|33.70|148.0 cm|180.0 g/m2\n",
                 lots);
    taken("Article;Composition;Width cm;g/m2\nTwill;100% cotton;150;220\nDrill;100% linen;148;180\n\n" BOLTS,
          &said, tb_text_str(&t));
    tb_text_free(&t);
}

/* The first bolt has a name, those below it are of the same goods. */
static void names_run_down_the_bolts(void **state)
{
    (void)state;
    taken(COTTON
          "Colour;Dye lot\nsand;W1\nmoss;W2\n\nRoll;Article;Colour;Metres\n1;Twill;sand;50,1\n2;;;47,9\n"
          "3;;moss;33,7\n4;;;35,9\n",
          &said,
          "D Weaver Inlet|7||\nL Twill|sand|W1|100% cotton|title|\nL Twill|moss|W2|100% cotton|title|\n"
          "B 0:1|50.10\nB 0:2|47.90\nB 1:3|33.70\nB 1:4|35.90\n");
}

static void a_bolt_of_which_it_does_not_tell_is_asked_about(void **state)
{
    struct tb_line_is line = { "", 3, TB_LINE_TOTAL };
    struct tb_intake_opts left = said;

    (void)state;
    left.line = &line;
    left.lines = 1;
    /* not named, named twice, with an empty cell, one row alone that is not of all bolts */
    asked(COTTON "Colour;Dye lot\nsand;W1\nplum;W2\n\n" BOLTS, &said,
          "it does not tell it of the bolt on line 9 ('moss')");
    asked(COTTON "Colour;Dye lot\nsand;W1\nmoss;W2\nmoss;W3\n\n" BOLTS, &said,
          "more than one row of it is of the bolt on line 10 ('moss')");
    asked(COTTON "Colour;Dye lot\nsand;W1\nmoss;\nplum;W3\n\n" BOLTS, &said, "does not tell it");
    asked("Article;Composition\nTwill;100% cotton\n\n" BOLTS, &said, "'Drill'");
    /* no column of the bolts has such names */
    asked(COTTON "Colour;Dye lot\nsand;W1\nmoss;W2\n\nRoll;Article;Metres\n1;Twill;50,1\n2;Twill;47,9\n",
          &said, "none of its names is a column of the bolt on line 8");
    /* somebody leaves it out */
    taken(COTTON "Colour;Dye lot\nsand;W1\nplum;W2\n\nRoll;Article;Colour;Metres\n1;Twill;sand;50,1\n", &left,
          "D Weaver Inlet|7||\nL Twill|sand||100% cotton|title|\nB 0:1|50.10\n");
}

/* What each bolt says itself counts; a form with one row of values is a title; a list is no legend. */
static void what_is_no_legend_is_read_as_before(void **state)
{
    (void)state;
    taken(COTTON "Colour;Dye lot;Rolls\nsand;X1;1\nmoss;X2;1\n\nRoll;Article;Colour;Lot;Metres\n"
                 "1;Twill;sand;W1;50,1\n2;Twill;moss;W2;47,9\n",
          &said,
          "D Weaver Inlet|7||\nL Twill|sand|W1|100% cotton|title|\nL Twill|moss|W2|100% cotton|title|\n"
          "B 0:1|50.10\nB 1:2|47.90\n");
    taken("Article;Composition;Dye lot\nTwill;100% cotton;W1\n\nRoll;Metres\n1;50,1\n2;47,9\n", &said,
          "D Weaver Inlet|7||\nL Twill||W1|100% cotton|title|\nB 0:1|50.10\nB 0:2|47.90\n");
    taken("Article;Composition;Colour;Roll;Metres\nTwill;100% cotton;sand;1;50,1\nDrill;100% "
          "linen;moss;2;47,9\n",
          &said,
          "D Weaver Inlet|7||\nL Twill|sand||100% cotton|row|\nL Drill|moss||100% linen|row|\n"
          "B 0:1|50.10\nB 1:2|47.90\n");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(what_it_tells_is_of_the_bolts_it_names),
        cmocka_unit_test(compositions_and_measures_are_joined),
        cmocka_unit_test(names_run_down_the_bolts),
        cmocka_unit_test(a_bolt_of_which_it_does_not_tell_is_asked_about),
        cmocka_unit_test(what_is_no_legend_is_read_as_before),
    };

    return cmocka_run_group_tests(tests, NULL, NULL);
}
