/* country.c - the name of a country in the language of a label, whatever language or code it was given in. */
#include "law/inside.h"

#include "gen/ref_country_name.h"
#include "tenterbook/utf8.h"

#include <stdlib.h>
#include <string.h>

/* The row as it is written; a code is a word of two letters. */
static const char *written_so(const char *country)
{
    for (size_t i = 0; i < tb_ref_country_name_n; i++)
        if (strcmp(tb_ref_country_name[i].name, country) == 0 ||
            strcmp(tb_ref_country_name[i].code, country) == 0)
            return tb_ref_country_name[i].code;
    return NULL;
}

/* "TÜRKIYE", "deutschland": without regard to capitals and accents. */
static const char *read_so(const char *country)
{
    char *wanted = tb_fold(country, strlen(country));
    const char *code = NULL;

    for (size_t i = 0; i < tb_ref_country_name_n && !code; i++) {
        char *name = tb_fold(tb_ref_country_name[i].name, strlen(tb_ref_country_name[i].name));

        if (strcmp(name, wanted) == 0)
            code = tb_ref_country_name[i].code;
        free(name);
    }
    free(wanted);
    return code;
}

/* The first name of a country in a language is printed, every one is read. */
const char *tb_law_country(const char *country, const char *lang)
{
    const char *code = written_so(country);

    if (!code)
        code = read_so(country);
    for (size_t i = 0; code && i < tb_ref_country_name_n; i++)
        if (strcmp(tb_ref_country_name[i].lang, lang) == 0 && strcmp(tb_ref_country_name[i].code, code) == 0)
            return tb_ref_country_name[i].name;
    return NULL;
}
