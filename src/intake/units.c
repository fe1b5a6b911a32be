/*
 * units.c - words for units and currencies, ditto marks. Exact values: 1 yd = 0.9144 m, 1 oz = 28.349523125 g
 * (1959).
 */
#include "intake/units.h"

#include "tenterbook/utf8.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

static const char *const unit_key[TB_UNITS] = { "",     "m",      "yd",    "ft",  "cm",    "mm", "in",
                                                "g/m2", "oz/yd2", "momme", "g/m", "oz/yd", "oz", "kg" };

const char *tb_unit_key(enum tb_unit unit)
{
    return unit < TB_UNITS ? unit_key[unit] : "";
}

int tb_unit_by_key(const char *key)
{
    for (int u = 1; u < TB_UNITS; u++)
        if (strcmp(unit_key[u], key) == 0)
            return u;
    return -1;
}

/* Folded, without spaces and full stops. Names of lengths serve widths too. */
static const struct {
    const char *word;
    enum tb_unit unit;
} length_word[] = {
    { "m", TB_UNIT_M },         { "mt", TB_UNIT_M },       { "mts", TB_UNIT_M },     { "mtr", TB_UNIT_M },
    { "mtrs", TB_UNIT_M },      { "meter", TB_UNIT_M },    { "meters", TB_UNIT_M },  { "metre", TB_UNIT_M },
    { "metres", TB_UNIT_M },    { "metri", TB_UNIT_M },    { "metro", TB_UNIT_M },   { "metros", TB_UNIT_M },
    { "ms", TB_UNIT_M },        { "lm", TB_UNIT_M },       { "lfm", TB_UNIT_M },     { "ml", TB_UNIT_M },
    { "mtr/roll", TB_UNIT_M },  { "mtul", TB_UNIT_M },     { "laufmeter", TB_UNIT_M }, { "米", TB_UNIT_M },
    { "公尺", TB_UNIT_M },      { "y", TB_UNIT_YD },       { "yd", TB_UNIT_YD },     { "yds", TB_UNIT_YD },
    { "yard", TB_UNIT_YD },     { "yards", TB_UNIT_YD },   { "yarda", TB_UNIT_YD },  { "yardas", TB_UNIT_YD },
    { "码", TB_UNIT_YD },       { "ft", TB_UNIT_FT },      { "feet", TB_UNIT_FT },   { "foot", TB_UNIT_FT },
    { "cm", TB_UNIT_CM },       { "cms", TB_UNIT_CM },     { "厘米", TB_UNIT_CM },   { "公分", TB_UNIT_CM },
    { "mm", TB_UNIT_MM },       { "毫米", TB_UNIT_MM },    { "in", TB_UNIT_IN },     { "ins", TB_UNIT_IN },
    { "inch", TB_UNIT_IN },     { "inches", TB_UNIT_IN },  { "zoll", TB_UNIT_IN },   { "pouces", TB_UNIT_IN },
    { "pulgadas", TB_UNIT_IN }, { "pollici", TB_UNIT_IN }, { "\"", TB_UNIT_IN },     { "''", TB_UNIT_IN },
    { "\u201d", TB_UNIT_IN },   { "\u2032\u2032", TB_UNIT_IN }, { "英寸", TB_UNIT_IN }, { "寸", TB_UNIT_IN },
    { "kg", TB_UNIT_KG },       { "kgs", TB_UNIT_KG },     { "公斤", TB_UNIT_KG },
}, mass_word[] = {
    { "g/m2", TB_UNIT_GSM },    { "gsm", TB_UNIT_GSM },    { "gr/m2", TB_UNIT_GSM }, { "gm/m2", TB_UNIT_GSM },
    { "gms/m2", TB_UNIT_GSM },  { "gr/mq", TB_UNIT_GSM },  { "g/mq", TB_UNIT_GSM },  { "g/qm", TB_UNIT_GSM },
    { "gr/qm", TB_UNIT_GSM },   { "g/sqm", TB_UNIT_GSM },  { "g/m^2", TB_UNIT_GSM }, { "gm2", TB_UNIT_GSM },
    { "gramm/quadratmeter", TB_UNIT_GSM }, { "克/平方米", TB_UNIT_GSM }, { "克/m2", TB_UNIT_GSM },
    { "grams/m2", TB_UNIT_GSM }, { "oz/yd2", TB_UNIT_OZ_YD2 }, { "oz/sqyd", TB_UNIT_OZ_YD2 },
    { "oz/y2", TB_UNIT_OZ_YD2 }, { "oz/yd^2", TB_UNIT_OZ_YD2 }, { "osy", TB_UNIT_OZ_YD2 },
    { "momme", TB_UNIT_MOMME }, { "mommes", TB_UNIT_MOMME }, { "mm", TB_UNIT_MOMME }, { "m/m", TB_UNIT_MOMME },
    { "mom", TB_UNIT_MOMME },   { "姆米", TB_UNIT_MOMME }, { "g/m", TB_UNIT_G_PER_M }, { "g/lm", TB_UNIT_G_PER_M },
    { "g/lfm", TB_UNIT_G_PER_M }, { "g/ml", TB_UNIT_G_PER_M }, { "gr/ml", TB_UNIT_G_PER_M },
    { "gr/lfm", TB_UNIT_G_PER_M }, { "glm", TB_UNIT_G_PER_M }, { "gr/mtul", TB_UNIT_G_PER_M },
    { "克/米", TB_UNIT_G_PER_M }, { "oz/yd", TB_UNIT_OZ_PER_YD }, { "oz/linyd", TB_UNIT_OZ_PER_YD },
    { "oz/lyd", TB_UNIT_OZ_PER_YD }, { "oz", TB_UNIT_OZ }, { "kg", TB_UNIT_KG }, { "kgs", TB_UNIT_KG },
};

static bool is_mass(enum tb_field field)
{
    return field == TB_FIELD_MASS || field == TB_FIELD_MASS_LINEAR;
}

/* A kilogram is let through for lengths and masses, to be refused with a sentence of its own. */
static bool unit_fits(enum tb_field field, enum tb_unit unit)
{
    switch (field) {
    case TB_FIELD_LENGTH:
    case TB_FIELD_PRICE:
        return unit == TB_UNIT_M || unit == TB_UNIT_YD || unit == TB_UNIT_FT || unit == TB_UNIT_KG;
    case TB_FIELD_WIDTH:
    case TB_FIELD_WIDTH_USABLE:
        return unit == TB_UNIT_M || unit == TB_UNIT_CM || unit == TB_UNIT_MM || unit == TB_UNIT_IN;
    case TB_FIELD_MASS:
    case TB_FIELD_MASS_LINEAR:
        return unit >= TB_UNIT_GSM && unit <= TB_UNIT_KG;
    default:
        return false;
    }
}

/* Compared without spaces and stops: "g / m 2" and "g/m2." are one unit. */
enum tb_unit tb_unit_find(enum tb_field field, const char *text, size_t n)
{
    char *folded, small[32];
    size_t k = 0;
    enum tb_unit found = TB_UNIT_NONE;

    if (n == 0 || n > 60)
        return TB_UNIT_NONE;
    folded = tb_fold(text, n);
    for (const char *c = folded; *c && k < sizeof small - 1; c++)
        if (*c != ' ' && *c != '.')
            small[k++] = *c;
    small[k] = '\0';
    if (strlen(folded) >= sizeof small)
        small[0] = '\0';
    free(folded);
    for (size_t i = 0; is_mass(field) && !found && i < TB_COUNT(mass_word); i++)
        if (strcmp(small, mass_word[i].word) == 0)
            found = mass_word[i].unit;
    for (size_t i = 0; !is_mass(field) && !found && i < TB_COUNT(length_word); i++)
        if (strcmp(small, length_word[i].word) == 0)
            found = length_word[i].unit;
    return unit_fits(field, found) ? found : TB_UNIT_NONE;
}

double tb_unit_metres(enum tb_unit unit)
{
    switch (unit) {
    case TB_UNIT_M:
        return 1;
    case TB_UNIT_YD:
        return 0.9144;
    case TB_UNIT_FT:
        return 0.3048;
    case TB_UNIT_CM:
        return 0.01;
    case TB_UNIT_MM:
        return 0.001;
    case TB_UNIT_IN:
        return 0.0254;
    default:
        return 0;
    }
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

/* A mark is a few bytes; longer texts are not looked at. */
bool tb_is_ditto(const char *t)
{
    static const char *const word[] = { "-",      "--",     "/",    "\"",     "''",    "\u201d",
                                        "\u3003", "\u2033", "同上", "idem",   "id.",   "dto.",
                                        "dto",    "ditto",  "do.",  "\u201e", "\u2013" };
    char low[8];
    size_t n = strlen(t);

    if (n == 0 || n >= sizeof low)
        return false;
    for (size_t i = 0; i <= n; i++)
        low[i] = t[i] >= 'A' && t[i] <= 'Z' ? (char)(t[i] + 32) : t[i];
    for (size_t i = 0; i < TB_COUNT(word); i++)
        if (strcmp(low, word[i]) == 0)
            return true;
    return false;
}
