/* The settings a site may choose: the table of them, what each takes, and the value in force. */
#include "tenterbook/setting.h"

#include "tenterbook/book.h"
#include "tenterbook/limits.h"
#include "tenterbook/typed.h"
#include "tenterbook/utf8.h"
#include "tenterbook/words.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

const struct tb_setting_spec tb_setting_specs[] = {
    { "answer_days", TB_SETTING_WHOLE, NULL, 1, 365, "14", false,
      "days a supplier is given to answer a notice, where no day is named" },
    { "base_rate", TB_SETTING_NUMBER, NULL, 0.0001, 0.9, "", false,
      "the share of lots that are not as declared, where the site knows it better than its judged lots do: "
      "0.02" },
    { "commonness", TB_SETTING_NUMBER, NULL, 0, 1, "1", true,
      "how far what is common in trade leads the list of what a cloth could be: 1 as in trade, 0 not at "
      "all" },
    { "columns:", TB_SETTING_TEXT, NULL, 0, 0, "", false,
      "columns:SUPPLIER set to fields says what the columns of that supplier's lists hold, which have no "
      "header" },
    { "contradicts_below", TB_SETTING_NUMBER, NULL, 1e-9, 0.99, "0.05", true,
      "an evidence ratio below this contradicts the declaration" },
    { "dates", TB_SETTING_CHOICE, "ask|dmy|mdy|ymd", 0, 0, "ask", false,
      "how dates in packing lists are meant where a file allows two readings" },
    { "fits_above", TB_SETTING_NUMBER, NULL, 1.01, 1e9, "3", true,
      "an evidence ratio above this fits the declaration, where two looks say so" },
    { "flame", TB_SETTING_CHOICE, "yes|no", 0, 0, "no", true,
      "yes: flame work is permitted at this bench by the local fire code and the employer's rules" },
    { "hazards", TB_SETTING_WORDS, "flame|flammable|toxic|corrosive|hot|none", 0, 0, "flame flammable hot",
      true,
      "dangers of bench tests the site is equipped for: flame, flammable, toxic, corrosive, hot, or none" },
    { "header:", TB_SETTING_TEXT, NULL, 0, 0, "", false,
      "header:WORD set to a field teaches packing lists a header word of your own" },
    { TB_SETTING_KEY_FILE, TB_SETTING_PATH, NULL, 0, 0, "", false,
      "the file of the signing key, where it is not beside the book: on another disk, or a stick" },
    { "market", TB_SETTING_TEXT, NULL, 0, 0, "", false,
      "the markets the cloth is sold to, separated by spaces" },
    { "money", TB_SETTING_TEXT, NULL, 0, 0, "", false,
      "the money in which lots priced in several are compared, as EUR: see rate:" },
    { "name:", TB_SETTING_TEXT, NULL, 0, 0, "", false,
      "name:MARKET:LANGUAGE:FIBRE set to nothing forgets a name taken from a copy of the law" },
    { "rate:", TB_SETTING_NUMBER, NULL, 1e-9, 1e9, "", false,
      "rate:USD set to 0.92: what 1 USD is worth from today on; rate:USD:2026-10-01: from that day" },
    { "site_weight", TB_SETTING_NUMBER, NULL, 0, 100, "1", true,
      "what one known burn of this site counts against one published description" },
    { "speaks_below", TB_SETTING_NUMBER, NULL, 1e-9, 0.99, "0.12", true,
      "an evidence ratio below this speaks against the declaration and asks for a test" },
    { TB_TARGET_FAMILY, TB_SETTING_TEXT, NULL, 0, 0, "", false,
      "target:2026-01-01 set to \"5 % at most one lot in twenty\" says what share may not conform from that "
      "day on" },
    { "weekend", TB_SETTING_CHOICE, "sat-sun|fri-sat|sun", 0, 0, "sat-sun", false,
      "the days that are not working days where a claim term counts working days; holidays are not known" },
    { NULL, TB_SETTING_TEXT, NULL, 0, 0, NULL, false, NULL },
};

/* A record whose name ends in a colon stands for a family: "header:WORD". */
static bool names(const struct tb_setting_spec *s, const char *name)
{
    size_t n = strlen(s->name);

    if (s->name[n - 1] == ':')
        return strncmp(s->name, name, n) == 0 && name[n];
    return strcmp(s->name, name) == 0;
}

/* A slip of the finger gets the nearest name told, up to three letters away. */
tb_rc tb_setting_spec(const struct tb_setting_spec **out, const char *name, struct tb_err *err)
{
    const struct tb_setting_spec *near = NULL;
    size_t best = 4;

    for (const struct tb_setting_spec *s = tb_setting_specs; s->name; s++) {
        size_t d;

        if (names(s, name)) {
            *out = s;
            return TB_OK;
        }
        d = tb_edit_distance(name, s->name, 3);
        if (d < best) {
            best = d;
            near = s;
        }
    }
    if (strcmp(name, "header:") == 0)
        return tb_fail(err, TB_EINVAL, "header: needs the word of your packing lists behind it: header:WORD");
    if (strcmp(name, "columns:") == 0)
        return tb_fail(err, TB_EINVAL, "columns: needs the name of a supplier behind it: columns:SUPPLIER");
    if (near)
        return tb_fail(err, TB_ENOTFOUND, "there is no setting '%s'; did you mean '%s'?", name, near->name);
    return tb_fail(err, TB_ENOTFOUND, "there is no setting '%s'; 'tenterbook set' lists them", name);
}

bool tb_setting_target(double *share, const char **words, const char *value)
{
    size_t n = strcspn(value, "%");
    struct tb_typed_number typed = { 0 };
    char figure[32] = "";

    if (!value[n] || n >= sizeof figure)
        return false;
    memcpy(figure, value, n);
    while (n > 0 && figure[n - 1] == ' ')
        figure[--n] = '\0';
    if (!tb_number_typed(&typed, figure) || !isnan(typed.other) || !(typed.value > 0 && typed.value < 100))
        return false;
    *share = typed.value / 100;
    *words = value + strcspn(value, "%") + 1;
    *words += strspn(*words, " ");
    return true;
}

static bool all_among(const char *choices, const char *words)
{
    for (words += strspn(words, " ,"); *words; words += strspn(words, " ,")) {
        size_t n = strcspn(words, " ,");

        if (!tb_word_listed(choices, words, n, "|"))
            return false;
        words += n;
    }
    return true;
}

/* Text that a terminal or a later reader could not take is none. */
static bool is_text(const char *s)
{
    for (size_t n = strlen(s), at = 0; at < n;) {
        unsigned cp;

        at += tb_utf8_next(s + at, n - at, &cp);
        if (tb_utf8_control(cp))
            return false;
    }
    return tb_utf8_valid(s, strlen(s));
}

/* Infinity and not-a-number read as numbers too; no setting means them. */
static tb_rc check_number(const struct tb_setting_spec *spec, const char *value, struct tb_err *err)
{
    bool whole = spec->kind == TB_SETTING_WHOLE;
    char *end;
    double v = strtod(value, &end);

    if (!*value && !*spec->fallback)
        return TB_OK; /* nothing, where nothing is the default, takes the setting back */
    if (!*value || *end || !isfinite(v) || v < spec->least || v > spec->most || (whole && v != floor(v)))
        return tb_fail(err, TB_EINVAL,
                       whole ? "%s is '%s'; it takes a whole number from %g to %g"
                             : "%s is '%s'; it takes a number from %g to %g",
                       spec->name, value, spec->least, spec->most);
    return TB_OK;
}

tb_rc tb_setting_check(const struct tb_setting_spec *spec, const char *value, struct tb_err *err)
{
    switch (spec->kind) {
    case TB_SETTING_CHOICE:
        if (!tb_word_listed(spec->choices, value, strlen(value), "|"))
            return tb_fail(err, TB_EINVAL, "%s is '%s'; it takes one of %s", spec->name, value,
                           spec->choices);
        break;
    case TB_SETTING_WORDS:
        if (!all_among(spec->choices, value))
            return tb_fail(err, TB_EINVAL, "%s is '%s'; it takes any of %s, separated by spaces", spec->name,
                           value, spec->choices);
        break;
    case TB_SETTING_NUMBER:
    case TB_SETTING_WHOLE:
        return check_number(spec, value, err);
    case TB_SETTING_PATH:
        if (*value && *value != '/')
            return tb_fail(err, TB_EINVAL, "%s is '%s'; it takes a full path, which begins with /",
                           spec->name, value);
        /* fall through */
    case TB_SETTING_TEXT:
        if (strlen(value) > TB_NAME_MOST)
            return tb_fail(err, TB_EINVAL, "the value of %s has %zu bytes; it takes at most %d", spec->name,
                           strlen(value), TB_NAME_MOST);
        if (!is_text(value))
            return tb_fail(err, TB_EINVAL,
                           "the value of %s is not text: it holds bytes that are not UTF-8, or a "
                           "control character",
                           spec->name);
    }
    return TB_OK;
}

/* A setting nobody set has its default, which no row of the book needs to hold. */
tb_rc tb_setting_text(const char **out, struct tb_book *b, const char *name, int64_t upto,
                      struct tb_arena *mem, struct tb_err *err)
{
    const struct tb_setting_spec *spec = NULL;
    tb_rc rc = tb_setting_spec(&spec, name, err);

    if (rc == TB_OK)
        rc = tb_setting_get(out, b, name, upto, mem, err);
    if (rc == TB_OK && !**out)
        *out = spec->fallback;
    return rc;
}

tb_rc tb_setting_number(double *out, struct tb_book *b, const char *name, int64_t upto, struct tb_err *err)
{
    struct tb_arena mem = { 0 };
    const char *text;
    tb_rc rc = tb_setting_text(&text, b, name, upto, &mem, err);

    if (rc == TB_OK)
        *out = strtod(text, NULL);
    tb_arena_free(&mem);
    return rc;
}

tb_rc tb_setting_markets(struct tb_market_list *list, struct tb_book *b, struct tb_err *err)
{
    struct tb_arena mem = { 0 };
    const char *words;
    tb_rc rc = tb_setting_text(&words, b, "market", TB_BOOK_NOW, &mem, err);

    if (rc == TB_OK && (rc = tb_market_list_add(list, words, err)) != TB_OK)
        rc = tb_within(err, rc, "setting market");
    tb_arena_free(&mem);
    return rc;
}
