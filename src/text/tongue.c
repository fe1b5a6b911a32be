/* tongue.c - the languages papers are written in, and how each writes figures and days. */
#include "tenterbook/tongue.h"
#include "tenterbook/figure.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

TB_WORDS(tb_tongue_words, TB_TONGUES,
         "papers are not written in '%s'; the languages are en, de, es, fr, it, pl, pt, tr and zh", "en",
         "de", "es", "fr", "it", "pl", "pt", "tr", "zh");

enum tb_tongue tb_tongue_of(const char *word)
{
    int tongue = TB_ENGLISH;

    (void)tb_word_find(&tongue, &tb_tongue_words, word);
    return (enum tb_tongue)tongue;
}

#define NARROW "\xE2\x80\xAF" /* narrow no-break space */
#define HARD "\xC2\xA0"       /* no-break space */

/*
 * Unicode CLDR: decimal and group of the Latin digits, minimumGroupingDigits, the format "long" of dates and the wide names of
 * months as they stand within a date, of the locales en_GB, de, es, fr, it, pl, pt_PT, tr, zh; a test compares them with the copy
 * of it in ICU. The French first of a month is common practice, and not in CLDR.
 */
struct manner {
    const char *decimal, *group;
    int group_from;  /* digits before the decimal sign, from which on they are grouped */
    const char *day; /* %1$s day, %2$s month, %3$s year */
    const char *month[12];
};
static const struct manner manner_of[TB_TONGUES] = {
    [TB_ENGLISH] = { ".",
                     ",",
                     4,
                     "%1$s %2$s %3$s",
                     { "January", "February", "March", "April", "May", "June", "July", "August", "September",
                       "October", "November", "December" } },
    [TB_GERMAN] = { ",",
                    ".",
                    4,
                    "%1$s. %2$s %3$s",
                    { "Januar", "Februar", "März", "April", "Mai", "Juni", "Juli", "August", "September",
                      "Oktober", "November", "Dezember" } },
    [TB_SPANISH] = { ",",
                     ".",
                     5,
                     "%1$s de %2$s de %3$s",
                     { "enero", "febrero", "marzo", "abril", "mayo", "junio", "julio", "agosto", "septiembre",
                       "octubre", "noviembre", "diciembre" } },
    [TB_FRENCH] = { ",",
                    NARROW,
                    4,
                    "%1$s %2$s %3$s",
                    { "janvier", "février", "mars", "avril", "mai", "juin", "juillet", "août", "septembre",
                      "octobre", "novembre", "décembre" } },
    [TB_ITALIAN] = { ",",
                     ".",
                     4,
                     "%1$s %2$s %3$s",
                     { "gennaio", "febbraio", "marzo", "aprile", "maggio", "giugno", "luglio", "agosto",
                       "settembre", "ottobre", "novembre", "dicembre" } },
    [TB_POLISH] = { ",",
                    HARD,
                    5,
                    "%1$s %2$s %3$s",
                    { "stycznia", "lutego", "marca", "kwietnia", "maja", "czerwca", "lipca", "sierpnia",
                      "września", "października", "listopada", "grudnia" } },
    [TB_PORTUGUESE] = { ",",
                        HARD,
                        5,
                        "%1$s de %2$s de %3$s",
                        { "janeiro", "fevereiro", "março", "abril", "maio", "junho", "julho", "agosto",
                          "setembro", "outubro", "novembro", "dezembro" } },
    [TB_TURKISH] = { ",",
                     ".",
                     4,
                     "%1$s %2$s %3$s",
                     { "Ocak", "Şubat", "Mart", "Nisan", "Mayıs", "Haziran", "Temmuz", "Ağustos", "Eylül",
                       "Ekim", "Kasım", "Aralık" } },
    [TB_CHINESE] = { ".",
                     ",",
                     4,
                     "%3$s年%2$s%1$s日",
                     { "1月", "2月", "3月", "4月", "5月", "6月", "7月", "8月", "9月", "10月", "11月",
                       "12月" } },
};

/* Figures of the terminal never follow a language. */
static const struct manner *manner(enum tb_tongue tongue)
{
    return &manner_of[tongue == TB_READER ? TB_ENGLISH : tongue];
}

void tb_tongue_point(char *figure, enum tb_tongue tongue)
{
    char *point = strchr(figure, '.');

    if (point)
        *point = *manner(tongue)->decimal;
}

void tb_tongue_figure(struct tb_text *out, enum tb_tongue tongue, double value, int places)
{
    const struct manner *m = manner(tongue);
    struct tb_text plain = { 0 };
    const char *p;
    size_t whole;

    if (isnan(value)) {
        tb_text_addc(out, '-');
        return;
    }
    tb_text_addf(&plain, "%.*f", places, tb_rounded(value, places));
    p = plain.s;
    if (*p == '-')
        tb_text_addc(out, *p++);
    whole = strcspn(p, ".");
    for (size_t i = 0; i < whole; i++) {
        if (i && (int)whole >= m->group_from && (whole - i) % 3 == 0)
            tb_text_add(out, m->group);
        tb_text_addc(out, p[i]);
    }
    if (p[whole]) {
        tb_text_add(out, m->decimal);
        tb_text_add(out, p + whole + 1);
    }
    tb_text_free(&plain);
}

void tb_tongue_day(struct tb_text *out, enum tb_tongue tongue, const char *day)
{
    const struct manner *m = manner(tongue);
    int year = 0, month = 1, of_month = 0;
    char number[16], in_year[16];

    (void)sscanf(day, "%4d-%2d-%2d", &year, &month, &of_month);
    (void)snprintf(number, sizeof number, tongue == TB_FRENCH && of_month == 1 ? "%der" : "%d", of_month);
    (void)snprintf(in_year, sizeof in_year, "%d", year);
    tb_text_addf(out, m->day, number, m->month[month - 1], in_year);
}

void tb_sentence_in(struct tb_text *out, enum tb_tongue tongue, const char *sentence)
{
    struct tb_text both = { 0 };

    if (!*sentence)
        return;
    if (out->n)
        /* TRANSLATORS: two sentences, one behind the other */
        tb_text_addf(&both, tb_tr(tongue, "%s %s"), out->s, sentence);
    else
        tb_text_add(&both, sentence);
    tb_text_free(out);
    *out = both;
}

bool tb_tongue_as_kept(enum tb_tongue tongue)
{
    return tongue == TB_ENGLISH || tongue == TB_READER;
}

const char *tb_tongue_plain(char out[TB_PLAIN], enum tb_tongue tongue, double value, int places)
{
    struct tb_text t = { 0 };

    if (!tb_tongue_as_kept(tongue) || isnan(value))
        tb_tongue_figure(&t, tongue, value, places);
    else
        tb_text_addf(&t, "%.*f", places, tb_rounded(value, places));
    (void)snprintf(out, TB_PLAIN, "%s", t.s);
    tb_text_free(&t);
    return out;
}

const char *tb_tongue_date(char out[TB_PLAIN], enum tb_tongue tongue, const char *moment)
{
    struct tb_text t = { 0 };

    (void)snprintf(out, TB_PLAIN, "%.*s", 10, moment);
    if (tb_tongue_as_kept(tongue) || !*out)
        return out;
    tb_tongue_day(&t, tongue, out);
    (void)snprintf(out, TB_PLAIN, "%s", t.s);
    tb_text_free(&t);
    return out;
}
