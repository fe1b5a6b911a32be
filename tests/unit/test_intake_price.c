/*
 * test_intake_price.c - what a price is for: headers and cells say it in many languages; beside yards or kilograms a price that does not
 * say it is asked about, and never taken for one a metre. What is said where is common practice, no source.
 */
#include "intake_helper.h"

#include "intake/words.h"

#define BASE .supplier = "Mill", .note = "1", .article = "A", .declared = "100% cotton"
static const struct tb_intake_opts base = { BASE };

/* What a header means, and what a price below it is for; "": it does not say. */
static void means(const struct tb_header_words *w, const char *header, enum tb_field field, const char *unit)
{
    struct tb_word_hit hit[TB_HITS_MOST];
    size_t n = tb_header_words_find(w, header, hit);

    if (n == 0 || hit[0].field != field || strcmp(tb_unit_key(hit[0].unit), unit) != 0)
        print_error("'%s' means %s %s\n", header, n ? tb_field_key(hit[0].field) : "nothing",
                    n ? tb_unit_key(hit[0].unit) : "");
    assert_true(n > 0 && hit[0].field == field);
    assert_string_equal(tb_unit_key(hit[0].unit), unit);
}

static void headers_say_in_many_languages_what_a_price_is_for(void **state)
{
    static const char *const kg[] = {
        "Price per kg", "EUR/kg",          "Price (EUR/kg)", "Price EUR per kg", "Preis je kg",
        "Kilopreis",    "Prix au kg",      "Precio por kg",  "Prezzo al kg",     "Preço por kg",
        "kg fiyatı",    "kg başına fiyat", "单价/公斤",      "单价（元/公斤）",  "公斤单价",
        "Cena za kg",   "Ár / kg",         "Preț pe kg",     "Pris pr. kg",      "単価（kg）",
        "kg単価",       "Цена за кг",      "Τιμή/kg",        "price for 1 kg",   "단가/kg",
        "Prijs per kg", "Hinta/kg",        "Kaina už kg",    "Rate / Kgs",       "EUR pro Kilogramm",
    };
    static const char *const yd[] = { "USD/yd", "USD per yard", "Unit Price (US$/yd)", "单价(USD/码)",
                                      "Price $ / yd" };
    static const char *const m[] = { "EUR / lfm",       "€/m",
                                     "Prix au mètre",   "Precio por metro",
                                     "Prezzo al metro", "Cena za metr",
                                     "Цена/м",          "Τιμή ανά μέτρο",
                                     "元/米",           "Price USD / EUR per m" };
    static const char *const none[] = { "Price", "Цена", "Cena (EUR)", "Rate" };
    struct tb_header_words *w = tb_header_words_new(NULL, 0);
    struct tb_word_hit hit[TB_HITS_MOST];

    (void)state;
    for (size_t i = 0; i < TB_COUNT(kg); i++)
        means(w, kg[i], TB_FIELD_PRICE, "kg");
    for (size_t i = 0; i < TB_COUNT(yd); i++)
        means(w, yd[i], TB_FIELD_PRICE, "yd");
    for (size_t i = 0; i < TB_COUNT(m); i++)
        means(w, m[i], TB_FIELD_PRICE, "m");
    for (size_t i = 0; i < TB_COUNT(none); i++)
        means(w, none[i], TB_FIELD_PRICE, "");
    /* a currency alone, an amount, and a price of something else are none */
    assert_int_equal(tb_header_words_price(w, "USD", hit), 0);
    assert_int_equal(tb_header_words_price(w, "Amount EUR/kg", hit), 0);
    assert_int_equal(tb_header_words_price(w, "EUR/pc", hit), 0);
    assert_int_equal(tb_header_words_price(w, "Price per m or kg", hit), 0);
    assert_int_equal(tb_header_words_price(w, "Net kg", hit), 0);
    tb_header_words_free(w);
}

/* The price of the first lot as it was understood. */
static void priced(const char *list, const struct tb_intake_opts *opts, double price, const char *currency,
                   enum tb_unit unit)
{
    struct seen s = read_text(list, opts);

    if (s.rc != TB_OK)
        print_error("%s: %s\n", list, s.err.msg);
    assert_int_equal(s.rc, TB_OK);
    assert_true(fabs(s.list.lot[0].price - price) < 1e-9);
    assert_string_equal(s.list.lot[0].currency, currency);
    assert_int_equal(s.list.lot[0].price_unit, unit);
    seen_free(&s);
}

static void prices_carry_their_currency_and_what_they_are_for(void **state)
{
    static const struct tb_intake_opts chf = { BASE, .currency = "CHF" };
    static const struct tb_header_word worth = { "Worth/kg", TB_FIELD_PRICE };
    const struct tb_intake_opts mapped = { BASE, .word = &worth, .words = 1 };

    (void)state;
    priced("roll,m,price\n1,5,€ 4.50\n", &base, 4.5, "EUR", TB_UNIT_M);
    priced("roll,m,price\n1,5,3.20 USD/yd\n", &base, 3.2, "USD", TB_UNIT_YD);
    priced("roll,m,price\n1,5,USD/yd 3.20\n", &base, 3.2, "USD", TB_UNIT_YD);
    priced("roll,kg,price\n1,5,3.20 EUR per kg\n", &base, 3.2, "EUR", TB_UNIT_KG);
    priced("roll,m,price\n1,5,3.20\n", &chf, 3.2, "CHF", TB_UNIT_M);
    priced("Currency: EUR\nroll,m,price\n1,5,3.20\n", &base, 3.2, "EUR", TB_UNIT_M);
    priced("roll,yds,USD/yd\n1,5,3.20\n", &base, 3.2, "USD", TB_UNIT_YD);
    priced("roll,yds,price per metre (EUR)\n1,5,3.20\n", &base, 3.2, "EUR", TB_UNIT_M);
    priced("roll,length,unit,EUR/kg\n1,5,kg,3.20\n", &base, 3.2, "EUR", TB_UNIT_KG);
    priced("roll,length,unit,Worth/kg\n1,5,kg,3.20\n", &mapped, 3.2, "", TB_UNIT_KG);
}

/* It is asked what the price is for: the first answer is likely, the second the metre, and both are obeyed. */
static void asks_per(const char *list, const char *unit)
{
    static const struct tb_intake_opts m = { BASE, .price_unit = TB_UNIT_M };
    struct tb_intake_opts own = { BASE };
    struct seen s = read_text(list, &base);

    own.price_unit = (enum tb_unit)tb_unit_by_key(unit);
    assert_int_equal(s.rc, TB_EINVAL);
    assert_int_equal(s.list.questions, 1);
    assert_true(s.list.tried);
    assert_int_equal(s.list.question[0].answers, 2);
    assert_string_equal(s.list.question[0].answer[0].option, "price-unit");
    assert_string_equal(s.list.question[0].answer[0].value, unit);
    assert_string_equal(s.list.question[0].answer[1].value, "m");
    assert_false(s.list.question[0].open);
    seen_free(&s);
    priced(list, &own, 3, "", own.price_unit);
    priced(list, &m, 3, "", TB_UNIT_M);
}

static void a_price_beside_yards_or_kilograms_is_asked_about(void **state)
{
    (void)state;
    asks_per("roll,length,unit,price\n1,100,yd,3.00\n2,50,yd,3.00\n", "yd");
    asks_per("roll,yards,price\n1,100,3.00\n", "yd");
    asks_per("roll,length,price\n1,100 yds,3.00\n", "yd");
    asks_per("roll,length,unit,price\n1,20,kg,3.00\n", "kg");
    asks_per("roll,length m,price\n1,20,3.00\n2,30 yd,3.00\n", "yd");
    /* beside metres nothing is asked, and the option is obeyed */
    priced("roll,m,price\n1,5,3\n", &(struct tb_intake_opts){ BASE, .price_unit = TB_UNIT_YD }, 3, "",
           TB_UNIT_YD);
    /* a header that says it is not overruled */
    priced("roll,yds,price/yd\n1,5,3\n", &(struct tb_intake_opts){ BASE, .price_unit = TB_UNIT_M }, 3, "",
           TB_UNIT_YD);
}

static void the_option_takes_units_of_goods_only(void **state)
{
    struct tb_intake_opts o = { BASE };
    struct tb_arena mem = { 0 };
    struct tb_err err = { 0 };

    (void)state;
    assert_int_equal(tb_intake_answer(&o, "price-unit", "kg", &mem, &err), TB_OK);
    assert_int_equal(o.price_unit, TB_UNIT_KG);
    assert_int_equal(tb_intake_answer(&o, "price-unit", "cm", &mem, &err), TB_EINVAL);
    assert_string_equal(err.msg, "--price-unit is 'cm'; it takes one of: m yd ft kg");
    tb_arena_free(&mem);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(headers_say_in_many_languages_what_a_price_is_for),
        cmocka_unit_test(prices_carry_their_currency_and_what_they_are_for),
        cmocka_unit_test(a_price_beside_yards_or_kilograms_is_asked_about),
        cmocka_unit_test(the_option_takes_units_of_goods_only),
    };

    return cmocka_run_group_tests(tests, NULL, NULL);
}
