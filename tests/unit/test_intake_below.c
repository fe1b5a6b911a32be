/*
 * test_intake_below.c - compositions in the article's column, below the first bolt of each article.
 * Expected values: common practice, no source.
 */
#include "intake_helper.h"

static const struct tb_intake_opts said = { .supplier = "Weaver Inlet", .note = "7" };
static const char two[] =
    "D Weaver Inlet|7||\nL Twill 9|red|L1|100% cotton|row|\nL Drill 4|moss|L2|100% linen|row|\n"
    "B 0:1|50.10\nB 0:2|47.90\nB 1:3|33.70\nB 1:4|35.90\n";

static void each_article_has_the_composition_below_its_first_bolt(void **state)
{
    static const char *const list[] = {
        /* in the row of the second bolt */
        "Article,Colour,Lot,Roll,Metres\nTwill 9,red,L1,1,50.1\n100% cotton,,,2,47.9\n,,,Total,98.0\n"
        "Drill 4,moss,L2,3,33.7\n100% linen,,,4,35.9\n,,,Total,69.6\n",
        /* in a row of its own, where each row names its article */
        "Article,Colour,Lot,Roll,Metres\nTwill 9,red,L1,1,50.1\n100% cotton,,,,\nTwill 9,red,L1,2,47.9\n"
        "Drill 4,moss,L2,3,33.7\n100% linen,,,,\nDrill 4,moss,L2,4,35.9\n",
        /* whatever column the article is */
        "Roll,Lot,Article,Colour,Metres\n1,L1,Twill 9,red,50.1\n,,100% cotton,,\n2,L1,Twill 9,red,47.9\n"
        "3,L2,Drill 4,moss,33.7\n4,,100% linen,,35.9\n",
    };

    (void)state;
    for (size_t i = 0; i < TB_COUNT(list); i++)
        taken(list[i], &said, two);
}

static void a_person_who_says_what_the_column_is_is_obeyed(void **state)
{
    static const struct tb_header_word word = { "Articolo", TB_FIELD_ARTICLE };
    struct tb_intake_opts mapped = said;

    (void)state;
    mapped.word = &word;
    mapped.words = 1;
    taken("Articolo,Colour,Lot,Roll,Metres\nTwill 9,red,L1,1,50.1\n100% cotton,,,2,47.9\n"
          "Drill 4,moss,L2,3,33.7\n100% linen,,,4,35.9\n",
          &mapped, two);
    /* a column of nothing but compositions is the article, where somebody says so */
    bolts("Articolo,Roll,Metres\n100% cotton,1,50.1\n100% linen,2,47.9\n", &mapped,
          "B 0:1|50.10\nB 1:2|47.90\n");
}

static void a_composition_elsewhere_in_the_column_is_asked_about(void **state)
{
    (void)state;
    /* below the last bolt of all: of one article, or of both */
    asked("Article,Roll,Metres\nTwill,1,50.1\nTwill,2,47.9\nDrill,3,33.7\n100% linen,,\n", &said,
          "100% linen");
    /* of the second article only */
    asked("Article,Roll,Metres\nTwill,1,50.1\nTwill,2,47.9\nDrill,3,33.7\n100% linen,,\nDrill,4,35.9\n",
          &said, "100% linen");
    /* not below the first bolt */
    asked("Article,Roll,Metres\nTwill,1,50.1\nTwill,2,47.9\n100% cotton,,\nDrill,3,33.7\nDrill,4,35.9\n"
          "100% linen,,\n",
          &said, "100% cotton");
}

static void a_column_of_compositions_leaves_the_articles_alone(void **state)
{
    (void)state;
    bolts("Article,Roll,Metres,Composition\nTwill,1,50.1,100% cotton\nDrill,2,47.9,100% linen\n", &said,
          "B 0:1|50.10\nB 1:2|47.90\n");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(each_article_has_the_composition_below_its_first_bolt),
        cmocka_unit_test(a_person_who_says_what_the_column_is_is_obeyed),
        cmocka_unit_test(a_composition_elsewhere_in_the_column_is_asked_about),
        cmocka_unit_test(a_column_of_compositions_leaves_the_articles_alone),
    };

    return cmocka_run_group_tests_name("intake_below", tests, NULL, NULL);
}
