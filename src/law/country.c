/* country.c - the name of a country in the language of a label, whatever language or code it was given in. */
#include "law/checks.h"

#include "gen/ref_country_name.h"
#include "gen/ref_trade_bloc.h"
#include "tenterbook/base.h"
#include "tenterbook/utf8.h"

#include <stdlib.h>
#include <string.h>
#include <strings.h>

/* The row as it is written; a code is a word of two letters, or of three. */
static const char *written_so(const char *country)
{
    char two[3];

    if (tb_country_of_three(two, country))
        country = two;
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

/* The words from .. before the last comma or bracket, and those behind it. */
struct halves {
    char *before, *behind; /* yours to free; NULL: there is neither sign */
};

static struct halves halve(const char *folded)
{
    const char *at = strrchr(folded, ',');
    struct halves h = { 0 };
    size_t n;

    if (!at && !(at = strrchr(folded, '(')))
        return h;
    for (n = (size_t)(at - folded); n && folded[n - 1] == ' ';)
        n--;
    h.before = tb_strndup(folded, n);
    at += 1 + strspn(at + 1, " ");
    for (n = strlen(at); n && strchr(") ", at[n - 1]);)
        n--;
    h.behind = tb_strndup(at, n);
    return h;
}

#define PLACE_WORDS 4 /* of a place, as "ho chi minh city" */

/* A place in a country is a name of few words, of which none makes a country: "not made in china" is no place. */
static bool is_place(const char *words)
{
    const char *word[PLACE_WORDS], *p = words;
    size_t n = 0;

    if (!*words || strpbrk(words, ",;:()/"))
        return false;
    for (; *p; p += strcspn(p, " "), p += strspn(p, " ")) {
        if (n == PLACE_WORDS)
            return false;
        word[n++] = p;
    }
    for (size_t i = 0; i < n; i++)
        for (size_t k = i; k < n; k++) {
            char *some = tb_strndup(word[i], (size_t)(word[k] - word[i]) + strcspn(word[k], " "));
            bool country = read_so(some) != NULL;

            free(some);
            if (country)
                return false;
        }
    return true;
}

/*
 * "italy (eu)", "germany, eu": the bloc it lies in says nothing more, and no more does "china (mainland)"; any other word in
 * brackets may make another country of it, as in "congo (kinshasa)". "prato, italy", "prato (italy)": a place and its country. Two
 * countries are none, as Georgia and the USA in "georgia, usa".
 */
static const char *of_halves(const char *folded)
{
    struct halves h = halve(folded);
    const char *before = h.before ? read_so(h.before) : NULL, *behind = h.behind ? read_so(h.behind) : NULL,
               *code = NULL;

    if (h.before && (tb_law_trade_bloc(h.behind) || strcmp(h.behind, "mainland") == 0))
        code = before;
    else if (behind && (before ? strcmp(before, behind) == 0 : is_place(h.before)))
        code = behind;
    free(h.before);
    free(h.behind);
    return code;
}

static const char *code_of(const char *country)
{
    const char *code = written_so(country);
    char *folded, *place;
    size_t n;

    if (code)
        return code;
    folded = tb_fold(country, strlen(country));
    if (!(code = read_so(folded))) {
        place = behind_phrase(folded);
        for (n = strlen(place); n && strchr(". ", place[n - 1]);)
            place[--n] = '\0';
        if (!(code = read_so(place)))
            code = of_halves(place);
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
