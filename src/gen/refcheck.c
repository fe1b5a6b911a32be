/*
 * refcheck - hold the cells of sql/reference to what the program understands.
 *
 *   refcheck DIR [MORE ...]
 *
 * A word that no code knows would be silent at run time: a severity that is misspelt is no fault, a language nobody
 * has is never asked for. So the build stops here and names the file, the row, the cell and what may stand in it.
 * Files of the same name in further directories are read behind those of the first, as refgen does.
 */
#include "gen/refcheck.h"

#include "law/checks.h"
#include "tenterbook/date.h"

#include <dirent.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/*
 * `in` are the columns, separated by spaces. `may` is a list with | between: a word; nothing, for an empty cell;
 * @table.column, for a value of that column, also behind a few letters ("named:@fibre.key"); or one of <day>, <text>
 * (anything but nothing), <number> and <kind> (of check). `at` are characters that separate several words in one cell.
 * `with`, as "here=there": a row of the other table counts only if its cell `there` is what the cell `here` is.
 */
static const struct rule {
    const char *in, *may, *at, *with;
} rules[] = {
    { .in = "market.in_words market.law market.decides market.source language.name law_regime.name "
            "law_rule.clause law_rule.says law_rule.source law_name.name law_name.source label_phrase.text "
            "cue.meaning cue.argument burn_fibre.burn_class",
      .may = "<text>" },
    { .in = "market.lang law_say.lang label_phrase.lang", .may = "@language.key" },
    { .in = "market.langs", .may = "|@language.key", .at = "|+" },
    { .in = "market.based_on market.names label_phrase.market", .may = "|@market.key" },
    { .in = "market.coverage", .may = "base|partial|full" },
    { .in = "market.as_of", .may = "<day>" },
    { .in = "market.regime", .may = "|@law_regime.regime", .with = "key=market" },
    { .in = "market.basis", .may = "eu|us|dry" },
    { .in = "market.percent_style", .may = "before|close|spaced" },
    { .in = "annex_row.market law_regime.market law_rule.market law_name.market law_say.market",
      .may = "@market.key" },
    { .in = "law_rule.regime", .may = "|@law_regime.regime", .with = "market=market" },
    { .in = "law_rule.kind", .may = "inform|<kind>" },
    { .in = "law_rule.holds",
      .may = "|single|blend|carded|not-carded|virgin|not-virgin|inequality|filling|mixed|stated<=<number>|"
             "multiple=<number>|group=@law_group.group_key|among=@law_group.group_key",
      .at = " " },
    { .in = "law_rule.comparison", .may = "|=|<|<=|>|>=" },
    { .in = "law_rule.unit",
      .may = "|%|points|um|% mass|% mass; printed: of the rest|% area|% ornamentation|% flax|other fibres" },
    { .in = "law_rule.from_day law_rule.until_day", .may = "|<day>" },
    { .in = "law_rule.severity", .may = "fault|advice|note" },
    { .in = "law_rule.show", .may = "|always" },
    { .in = "law_rule.status", .may = "seen|second-hand|reading|memory|common practice" },
    { .in = "law_name.lang", .may = "@market.langs", .with = "market=key" },
    { .in = "law_name.fibre law_group.fibre burn_fibre.fibre annex_row.fibre", .may = "@fibre.key" },
    { .in = "law_name.marks", .may = "|virgin|recycled|organic|mercerised|combed|pure", .at = " " },
    { .in = "law_name.casing", .may = "|upper|exact" },
    { .in = "law_name.status", .may = "seen|second-hand|memory" },
    { .in = "law_group.market", .may = "*|@market.key" },
    { .in = "law_say.say", .may = "@law_word.say" },
    { .in = "law_word.class",
      .may = "abbreviation|misnomer|implied|vague|construction|trade_mark|variety|animal|animal_part|bamboo|"
             "descriptor|property|old_recycled|fur_look" },
    { .in = "law_word.fibre fibre_name.fibre", .may = "|@fibre.key" },
    { .in = "law_word.say", .may = "|@law_say.say" },
    { .in = "label_phrase.key",
      .may = "other_fibre|other_fibres|pure|virgin|virgin_wool|recycled|recycled_f|recycled_old|animal_parts|"
             "mixed|union|union_parts|exclusive|except|lacks|of_which|added|from|unknown|category|chiefly|"
             "manmade|composite|"
             "more|less|origin|imported|registered|super|section|filler|hair|part:warp|part:weft|part:pile|"
             "part:ground|part:face|part:back|part:coating|part:shell|part:lining|part:filling|what:"
             "ornamentation|what:decoration|what:elastic|what:trimming|what:reinforcement|without:"
             "ornamentation|without:decoration|without:elastic|without:trimming|without:reinforcement" },
    { .in = "label_phrase.use_for", .may = "print|print after|read" },
    { .in = "label_phrase.status", .may = "seen|second-hand|memory|common practice" },
    { .in = "fibre_name.status bench_result.status", .may = "seen|memory" },
    { .in = "cue.channel", .may = "@channel.key" },
    { .in = "cue.law", .may = "any|all|share|partly" },
    { .in = "cue.kind_of", .may = "|@cue.key", .with = "channel=channel" },
    { .in = "cue.implies", .may = "|@cue.key|!@cue.key", .at = " " },
    { .in = "cue.telling cue.nothing cue.fire cue.as_general", .may = "0|1" },
    { .in = "finish_effect.finish", .may = "@finish.key" },
    { .in = "finish_effect.of", .may = "@channel.key|@cue.key" },
    { .in = "finish_effect.fibres", .may = "*|@burn_fibre.fibre|@burn_fibre.burn_class", .at = "|" },
    { .in = "finish_effect.status", .may = "seen|memory" },
    { .in = "burn_fibre.burn_key", .may = "@fibre.burn_key", .with = "fibre=key" },
    { .in = "bench_result.cue", .may = "@cue.key" },
    { .in = "bench_result.fibre", .may = "@burn_fibre.fibre" },
    { .in = "lab_standard.covers lab_standard.hazard lab_standard.effort lab_standard.tells "
            "lab_standard.series lab_standard.number "
            "lab_standard.source lab_method.hazard lab_method.effort channel.effort channel.caution "
            "channel.proposal "
            "offer.effort offer.proposal",
      .may = "<text>" },
    { .in = "channel.again", .may = "|<text>" },
    { .in = "burn_fibre.protective burn_fibre.mineral", .may = "0|1" },
    { .in = "fibre.handling", .may = "|flameless|laboratory" },
    { .in = "offer.handling", .may = "any|laboratory" },
    { .in = "offer.declared", .may = "any|one|blend|nothing" },
    { .in = "channel.hazards offer.hazards", .may = "|flame|flammable|toxic|corrosive|hot", .at = ";" },
    { .in = "lab_standard.means", .may = "hand|chemistry|ternary|microscope|proteins|spectrum|identify" },
    { .in = "lab_standard.takes lab_standard.takes_some lab_standard.leaves lab_standard.not_with",
      .may = "|@fibre.key|@fibre.burn_key",
      .at = ";" },
    { .in = "lab_standard.status", .may = "seen|second-hand|memory" },
    { .in = "lab_method.standard", .may = "@lab_standard.key" },
};

/* The first column names a row to other tables, or to people: no two rows may have it. */
static const char *const once[] = { "market",  "language",   "law_rule",    "fibre",        "cue",
                                    "channel", "burn_fibre", "burn_source", "lab_standard", "offer" };

static bool is_number(const char *word)
{
    char *end;

    (void)strtod(word, &end);
    return *word && !*end;
}

/* "market.langs": one of the words of the other table's cells, in a row that goes with this one. */
static bool is_in_table(const struct rule *rule, const struct ref_table *t, const struct csv_row *r,
                        const char *where, const char *word)
{
    char name[64], *column, here[64] = "", *there = here;
    const struct ref_table *other;

    (void)snprintf(name, sizeof name, "%s", where);
    column = name + strcspn(name, ".");
    *column++ = '\0';
    other = ref_table(name);
    if (rule->with) {
        (void)snprintf(here, sizeof here, "%s", rule->with);
        there = here + strcspn(here, "=");
        *there++ = '\0';
    }
    for (size_t i = 0; i < other->rows; i++)
        if (tb_law_list_has(ref_cell(other, &other->row[i], column), word) &&
            (!rule->with || strcmp(ref_cell(t, r, here), ref_cell(other, &other->row[i], there)) == 0))
            return true;
    return false;
}

/* Is the word what one alternative of the rule allows? */
static bool is_allowed(const struct rule *rule, const struct ref_table *t, const struct csv_row *r,
                       const char *may, const char *word)
{
    size_t n = strcspn(may, "@");

    if (strcmp(may, "<day>") == 0)
        return tb_day_valid(word);
    if (strcmp(may, "<text>") == 0)
        return *word != '\0';
    if (strcmp(may, "<kind>") == 0)
        return tb_law_kind_of(word) >= 0;
    if (may[n] == '@')
        return strncmp(word, may, n) == 0 && is_in_table(rule, t, r, may + n + 1, word + n);
    n = strlen(may) - (strlen(may) < strlen("<number>") ? strlen(may) : strlen("<number>"));
    if (strcmp(may + n, "<number>") == 0)
        return strncmp(word, may, n) == 0 && is_number(word + n);
    return strcmp(word, may) == 0;
}

/* "fault, advice or note", for people: what the list of alternatives means. */
static void say_allowed(struct tb_text *out, const struct rule *rule)
{
    char *copy = tb_strdup(rule->may), *rest = copy;

    for (char *may; (may = strsep(&rest, "|"));) {
        tb_text_add(out, out->n ? ", " : "");
        if (!*may)
            tb_text_add(out, "empty");
        else if (strcmp(may, "<day>") == 0)
            tb_text_add(out, "a day such as 2026-11-25");
        else if (strcmp(may, "<text>") == 0)
            tb_text_add(out, "any text");
        else if (strcmp(may, "<kind>") == 0)
            for (size_t i = 0; tb_law_checks[i].name; i++)
                tb_text_addf(out, "%s%s", i ? ", " : "", tb_law_checks[i].name);
        else if (strchr(may, '@'))
            tb_text_addf(out, "%.*sa %s of %.*s.csv", (int)strcspn(may, "@"), may, strchr(may, '.') + 1,
                         (int)strcspn(strchr(may, '@') + 1, "."), strchr(may, '@') + 1);
        else
            tb_text_add(out, may);
    }
    if (rule->with)
        tb_text_addf(out, " where its %s is the %.*s of this row", strchr(rule->with, '=') + 1,
                     (int)strcspn(rule->with, "="), rule->with);
    free(copy);
}

static void check_word(const struct rule *rule, const struct ref_table *t, const struct csv_row *r,
                       const char *column, const char *word)
{
    char *copy = tb_strdup(rule->may), *rest = copy;
    struct tb_text allowed = { 0 };
    bool good = false;

    for (char *may; (may = strsep(&rest, "|"));)
        good = good || is_allowed(rule, t, r, may, word);
    if (!good) {
        say_allowed(&allowed, rule);
        ref_wrong(r, "%s is '%s'; it may be %s", column, word, tb_text_str(&allowed));
    }
    tb_text_free(&allowed);
    free(copy);
}

/* "market.lang": every word in that column. */
static void check_column(const struct rule *rule, const char *where)
{
    char *name = tb_strdup(where), *column = name + strcspn(name, ".");
    const struct ref_table *t;

    *column++ = '\0';
    t = ref_table(name);
    for (size_t i = 0; i < t->rows; i++) {
        char *copy = tb_strdup(ref_cell(t, &t->row[i], column)), *rest = copy;

        for (char *word; (word = strsep(&rest, rule->at ? rule->at : ""));)
            check_word(rule, t, &t->row[i], column, word);
        free(copy);
    }
    free(name);
}

static void check_rule(const struct rule *rule)
{
    char *copy = tb_strdup(rule->in), *rest = copy;

    for (char *where; (where = strsep(&rest, " "));)
        check_column(rule, where);
    free(copy);
}

static void check_once(const struct ref_table *t)
{
    for (size_t i = 0; i < t->rows; i++)
        for (size_t k = 0; k < i; k++)
            if (strcmp(t->row[i].cell[0], t->row[k].cell[0]) == 0)
                ref_wrong(&t->row[i], "%s '%s' stands in row %d as well", t->column[0], t->row[i].cell[0],
                          t->row[k].at.line);
}

static void read_directory(const char *dir)
{
    struct dirent **entry;
    int n = scandir(dir, &entry, NULL, alphasort);

    if (n < 0) {
        perror(dir);
        exit(1);
    }
    for (int i = 0; i < n; i++) {
        size_t len = strlen(entry[i]->d_name);

        if (len > 4 && strcmp(entry[i]->d_name + len - 4, ".csv") == 0)
            ref_read(dir, entry[i]->d_name);
        free(entry[i]);
    }
    free(entry);
}

int main(int argc, char **argv)
{
    if (argc < 2) {
        (void)fputs("usage: refcheck DIR [MORE ...]\n", stderr);
        return 2;
    }
    for (int i = 1; i < argc; i++)
        read_directory(argv[i]);
    for (size_t i = 0; i < TB_COUNT(rules); i++)
        check_rule(&rules[i]);
    for (size_t i = 0; i < TB_COUNT(once); i++)
        check_once(ref_table(once[i]));
    ref_check_together();
    return ref_wrongs() ? 1 : 0;
}
