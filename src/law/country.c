/* country.c - the name of a country in the language of a label, whatever language or code it was given in. */
#include "law/checks.h"

#include "gen/ref_country_name.h"
#include "gen/ref_trade_bloc.h"
#include "tenterbook/utf8.h"

#include <stdlib.h>
#include <string.h>
#include <strings.h>

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
static const char *read_so(const char *folded)
{
    const char *code = NULL;

    for (size_t i = 0; i < tb_ref_country_name_n && !code; i++) {
        char *name = tb_fold(tb_ref_country_name[i].name, strlen(tb_ref_country_name[i].name));

        if (strcmp(name, folded) == 0)
            code = tb_ref_country_name[i].code;
        free(name);
    }
    return code;
}

/* "made in italy" begins with words that stand before a country; the place behind them. */
static char *behind_phrase(char *folded)
{
    for (size_t i = 0; i < tb_ref_label_phrase_n; i++) {
        const struct tb_ref_label_phrase *p = &tb_ref_label_phrase[i];
        char *said = strcmp(p->key, "origin") == 0 ? tb_fold(p->text, strlen(p->text)) : NULL;
        size_t n = said ? strlen(said) : 0;
        bool begins = n && strncmp(folded, said, n) == 0 && strchr(" :", folded[n]);

        free(said);
        if (begins)
            return folded + n + strspn(folded + n, " :");
    }
    return folded;
}

bool tb_law_trade_bloc(const char *name)
{
    for (size_t i = 0; i < tb_ref_trade_bloc_n; i++)
        if (strcasecmp(name, tb_ref_trade_bloc[i].name) == 0)
            return true;
    return false;
}

/* "italy (eu)", "germany, eu": the bloc it lies in is cut off. */
static void cut_bloc(char *folded)
{
    char *at = strrchr(folded, ',') ? strrchr(folded, ',') : strrchr(folded, '(');
    char bloc[16];
    size_t n;

    if (!at)
        return;
    n = strlen(at + 1 + strspn(at + 1, " "));
    if (n >= sizeof bloc)
        return;
    memcpy(bloc, at + 1 + strspn(at + 1, " "), n + 1);
    while (n && strchr(") ", bloc[n - 1]))
        bloc[--n] = '\0';
    if (!tb_law_trade_bloc(bloc))
        return;
    while (at > folded && at[-1] == ' ')
        at--;
    *at = '\0';
}

static const char *code_of(const char *country)
{
    const char *code = written_so(country);
    char *folded;

    if (code)
        return code;
    folded = tb_fold(country, strlen(country));
    if (!(code = read_so(folded))) {
        char *place = behind_phrase(folded);

        cut_bloc(place);
        code = read_so(place);
    }
    free(folded);
    return code;
}

bool tb_law_country_known(const char *country)
{
    return code_of(country) != NULL;
}

/* The first name of a country in a language is printed, every one is read. */
const char *tb_law_country(const char *country, const char *lang)
{
    const char *code = code_of(country);

    for (size_t i = 0; code && i < tb_ref_country_name_n; i++)
        if (strcmp(tb_ref_country_name[i].lang, lang) == 0 && strcmp(tb_ref_country_name[i].code, code) == 0)
            return tb_ref_country_name[i].name;
    return NULL;
}
