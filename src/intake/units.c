/*
 * units.c - words for units and currencies, ditto marks. Exact values: 1 yd = 0.9144 m, 1 oz = 28.349523125 g
 * (1959).
 */
#include "intake/written.h"

#include "tenterbook/utf8.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* What a unit measures. A kilogram is let through for lengths and masses, to be refused with a sentence of its own. */
enum { LENGTH = 1, WIDTH = 2, MASS = 4 };

static const struct {
    const char *key;
    double metres;     /* in one; 0: it is not a length */
    unsigned measures; /* bits */
    const char *words; /* folded, without spaces and full stops; spaces between them */
} units[TB_UNITS] = {
    [TB_UNIT_NONE] = { "", 0, 0, "" },
    [TB_UNIT_M] = { "m", 1, LENGTH | WIDTH,
                    "m mt mts mtr mtrs meter meters metre metres metri metro metros ms lm lfm ml mtr/roll "
                    "mtul laufmeter lfdm laufm lfdmtr metr metry metru metrow metrai metrų meetrit "
                    "meter/rulle "
                    "mb mbiez fm bm jm tm lm rm lnm linm linearm linearmeters runningmeters m/l м мп метр "
                    "метра метров meteri metrul metrs metra metro metrze "
                    "метры пм погм μετρα μετρο メートル 미터 米 公尺 m数" },
    [TB_UNIT_YD] = { "yd", 0.9144, LENGTH,
                     "y yd yds yrd yrds yard yards yarda yardas yardes jard jardy linyd linyds ярд ярдов 码 "
                     "碼 야드 ヤード" },
    [TB_UNIT_FT] = { "ft", 0.3048, LENGTH, "ft feet foot pieds pies ' \u2032 呎 英尺" },
    [TB_UNIT_CM] = { "cm", 0.01, WIDTH, "cm cms см εκ cantimetri 厘米 公分" },
    [TB_UNIT_MM] = { "mm", 0.001, WIDTH, "mm мм χιλ 毫米" },
    [TB_UNIT_IN] = { "in", 0.0254, WIDTH,
                     "in ins inch inches zoll pouces pulgadas pollici \" '' \u201d \u2032\u2032 英寸 英吋 吋 "
                     "寸 인치 インチ" },
    [TB_UNIT_GSM] = { "g/m2", 0, MASS,
                      "g/m2 gsm gr/m2 gm/m2 gms/m2 gr/mq g/mq g/qm gr/qm g/sqm g/m^2 gm2 gramm/quadratmeter "
                      "克/平方米 克/m2 grams/m2 г/м2 гр/м2 г/квм гр/квм γρ/μ2 gramov/m2" },
    [TB_UNIT_OZ_YD2] = { "oz/yd2", 0, MASS, "oz/yd2 oz/sqyd oz/y2 oz/yd^2 osy" },
    [TB_UNIT_MOMME] = { "momme", 0, MASS, "momme mommes mm m/m mom 姆米" },
    [TB_UNIT_G_PER_M] = { "g/m", 0, MASS,
                          "g/m g/mtr gm/m gms/m gms/mtr gm/mtr gr/m gr/mt gr/mtr g/lm g/lfm g/ml gr/ml "
                          "gr/lfm glm gr/mtul г/м г/мп г/пм г/погм 克/米" },
    [TB_UNIT_OZ_PER_YD] = { "oz/yd", 0, MASS, "oz/yd oz/linyd oz/lyd" },
    [TB_UNIT_OZ] = { "oz", 0, MASS, "oz" },
    [TB_UNIT_KG] = { "kg", 0, LENGTH | MASS,
                     "kg kgs kilo kilos kilogram kilogramm kilograms kilogramme kilogrammes kilogramo "
                     "kilogramos kilogrammo "
                     "chilo chilogrammo quilo quilograma kilograma kilogramu kilogramow kilogrami кг "
                     "килограмм килограмма килограм "
                     "κιλα κιλο κιλου 公斤 千克 キロ 킬로" },
};

const char *tb_unit_key(enum tb_unit unit)
{
    return unit < TB_UNITS ? units[unit].key : "";
}

int tb_unit_by_key(const char *key)
{
    for (int u = 1; u < TB_UNITS; u++)
        if (strcmp(units[u].key, key) == 0)
            return u;
    return -1;
}

static unsigned measured_in(enum tb_field field)
{
    return field == TB_FIELD_LENGTH || field == TB_FIELD_PRICE         ? LENGTH
           : field == TB_FIELD_WIDTH || field == TB_FIELD_WIDTH_USABLE ? WIDTH
           : field == TB_FIELD_MASS || field == TB_FIELD_MASS_LINEAR   ? MASS
                                                                       : 0;
}

/* Compared without spaces and stops: "g / m 2" and "g/m2." are one unit. */
enum tb_unit tb_unit_find(enum tb_field field, const char *text, size_t n)
{
    char *folded, small[32];
    size_t k = 0;

    if (n == 0 || n > 60)
        return TB_UNIT_NONE;
    folded = tb_fold(text, n);
    for (const char *c = folded; *c && k < sizeof small - 1; c++)
        if (*c != ' ' && *c != '.')
            small[k++] = *c;
    small[strlen(folded) < sizeof small ? k : 0] = '\0';
    free(folded);
    for (int u = 1; u < TB_UNITS; u++)
        if ((units[u].measures & measured_in(field)) &&
            tb_word_listed(units[u].words, small, strlen(small), " "))
            return (enum tb_unit)u;
    return TB_UNIT_NONE;
}

double tb_unit_metres(enum tb_unit unit)
{
    return units[unit].metres;
}

double tb_price_per_metre(const struct tb_list_lot *lot)
{
    double metres = tb_unit_metres(lot->price_unit);

    return metres > 0 ? lot->price / metres : (double)NAN;
}

const char *tb_currency_find(const char *text, size_t n)
{
    static const struct {
        const char *sign, *code;
    } known[] = {
        { "eur", "EUR" },  { "€", "EUR" },    { "usd", "USD" },  { "us$", "USD" }, { "gbp", "GBP" },
        { "£", "GBP" },    { "cny", "CNY" },  { "rmb", "CNY" },  { "元", "CNY" },  { "人民币", "CNY" },
        { "try", "TRY" },  { "₺", "TRY" },    { "tl", "TRY" },   { "cad", "CAD" }, { "chf", "CHF" },
        { "jpy", "JPY" },  { "inr", "INR" },  { "₹", "INR" },    { "brl", "BRL" }, { "r$", "BRL" },
        { "pln", "PLN" },  { "zl", "PLN" },   { "mxn", "MXN" },  { "krw", "KRW" }, { "₩", "KRW" },
        { "euro", "EUR" }, { "美元", "USD" }, { "欧元", "EUR" }, { "pkr", "PKR" }, { "bdt", "BDT" },
        { "vnd", "VND" },  { "czk", "CZK" },  { "ron", "RON" },  { "sek", "SEK" }, { "dkk", "DKK" },
        { "hkd", "HKD" },  { "twd", "TWD" },  { "aud", "AUD" },  { "thb", "THB" }, { "egp", "EGP" },
    };
    char *folded = tb_fold(text, n), *word;
    const char *code = NULL;

    word = folded + strspn(folded, " ([.:");
    for (size_t i = 0; i < TB_COUNT(known) && !code; i++) {
        size_t len = strlen(known[i].sign);
        /* a word of letters must end where it ends: "try" is not "trykotage" */
        if (strncmp(word, known[i].sign, len) == 0 && !(word[len] >= 'a' && word[len] <= 'z'))
            code = known[i].code;
    }
    free(folded);
    return code;
}

/* Every text cell of a list is asked about: a mark is a few bytes, and few letters and signs begin one. */
bool tb_is_ditto(const char *t)
{
    char low[8];
    size_t n = strlen(t), k = 0;

    if ((unsigned char)t[0] < 0x80 && !strchr("-/\"'iIdD", t[0]))
        return false;
    if (n >= sizeof low)
        return false;
    for (const char *c = t; *c; c++)
        if (*c != ' ')
            low[k++] = *c >= 'A' && *c <= 'Z' ? (char)(*c + 32) : *c;
    return k > 0 && tb_word_listed("- -- -\"- --\"-- -''- -\u201d- / \" '' \u201d \u3003 \u2033 同上 idem "
                                   "id. dto. dto ditto do. \u201e \u2013",
                                   low, k, " ");
}
