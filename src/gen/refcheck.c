/*
 * refcheck - hold the cells of sql/reference to what the program understands.
 *
 *   refcheck DIR [MORE ...]
 *
 * A word that no code knows would be silent at run time: a severity that is misspelt is no fault, a language nobody
 * has is never asked for. So the build stops here and names the file, the row, the cell and what may stand in it.
 * Files of the same name in further directories are read behind those of the first, as refgen does.
 */
#include "refcheck.h"

#include "law/checks.h"
#include "tenterbook/date.h"

#include <dirent.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/*
 * `may` is a list with | between: a word; nothing, for an empty cell; @table.column, for a value of that column, also
 * behind a few letters ("named:@fibre.key"); or one of <day>, <text> (anything but nothing), <number> and <kind>
 * (of check). `at` are characters that separate several words in one cell. `with`, as "here=there": a row of the
 * other table counts only if its cell `there` is what the cell `here` is.
 */
static const struct rule {
    const char *table, *column, *may, *at, *with;
} rules[] = {
    { "market", "in_words", "<text>", NULL, NULL },
    { "market", "law", "<text>", NULL, NULL },
    { "market", "lang", "@language.key", NULL, NULL },
    { "market", "langs", "|@language.key", "|+", NULL },
    { "market", "based_on", "|@market.key", NULL, NULL },
    { "market", "names", "|@market.key", NULL, NULL },
    { "market", "coverage", "base|partial|full", NULL, NULL },
    { "market", "as_of", "<day>", NULL, NULL },
    { "market", "regime", "|@law_regime.regime", NULL, "key=market" },
    { "market", "basis", "eu|us|dry", NULL, NULL },
    { "market", "percent_style", "close|spaced", NULL, NULL },
    { "market", "decides", "<text>", NULL, NULL },
    { "market", "source", "<text>", NULL, NULL },
    { "language", "name", "<text>", NULL, NULL },
    { "law_regime", "market", "@market.key", NULL, NULL },
    { "law_regime", "name", "<text>", NULL, NULL },
    { "law_rule", "market", "@market.key", NULL, NULL },
    { "law_rule", "regime", "|@law_regime.regime", NULL, "market=market" },
    { "law_rule", "clause", "<text>", NULL, NULL },
    { "law_rule", "kind", "inform|<kind>", NULL, NULL },
    { "law_rule", "holds",
      "|single|blend|carded|not-carded|virgin|not-virgin|inequality|filling|mixed|stated<=<number>|"
      "multiple=<number>|group=@law_group.group_key|among=@law_group.group_key",
      " ", NULL },
    { "law_rule", "comparison", "|=|<|<=|>|>=", NULL, NULL },
    { "law_rule", "unit", "|%|points|um|% mass|% area|% ornamentation|% flax|other fibres", NULL, NULL },
    { "law_rule", "from_day", "|<day>", NULL, NULL },
    { "law_rule", "until_day", "|<day>", NULL, NULL },
    { "law_rule", "severity", "fault|advice|note", NULL, NULL },
    { "law_rule", "show", "|always", NULL, NULL },
    { "law_rule", "says", "<text>", NULL, NULL },
    { "law_rule", "source", "<text>", NULL, NULL },
    { "law_rule", "status", "seen|second-hand|reading|memory|common practice", NULL, NULL },
    { "law_name", "market", "@market.key", NULL, NULL },
    { "law_name", "lang", "@market.langs", NULL, "market=key" },
    { "law_name", "fibre", "@fibre.key", NULL, NULL },
    { "law_name", "name", "<text>", NULL, NULL },
    { "law_name", "marks", "|virgin|recycled|organic|mercerised|combed|pure", " ", NULL },
    { "law_name", "casing", "|upper|exact", NULL, NULL },
    { "law_name", "status", "seen|second-hand|memory", NULL, NULL },
    { "law_name", "source", "<text>", NULL, NULL },
    { "law_group", "market", "*|@market.key", NULL, NULL },
    { "law_group", "fibre", "@fibre.key", NULL, NULL },
    { "law_say", "market", "@market.key", NULL, NULL },
    { "law_say", "lang", "@language.key", NULL, NULL },
    { "law_say", "say", "@law_word.say", NULL, NULL },
    { "law_word", "class",
      "abbreviation|misnomer|implied|vague|construction|trade_mark|variety|animal|animal_part|bamboo|"
      "descriptor|"
      "property|old_recycled|fur_look",
      NULL, NULL },
    { "law_word", "fibre", "|@fibre.key", NULL, NULL },
    { "law_word", "say", "|@law_say.say", NULL, NULL },
    { "label_phrase", "market", "|@market.key", NULL, NULL },
    { "label_phrase", "key",
      "other_fibre|other_fibres|pure|virgin|virgin_wool|recycled|recycled_f|recycled_old|animal_parts|mixed|"
      "union|"
      "union_parts|exclusive|except|added|from|unknown|category|chiefly|manmade|composite|more|less|origin|"
      "imported|"
      "registered|super|section|filler|hair|part:warp|part:weft|part:pile|part:ground|part:face|part:back|"
      "part:coating|part:shell|part:lining|part:filling|what:ornamentation|what:decoration|what:elastic|"
      "what:trimming|what:reinforcement|without:ornamentation|without:decoration|without:elastic|without:"
      "trimming|"
      "without:reinforcement",
      NULL, NULL },
    { "label_phrase", "lang", "@language.key", NULL, NULL },
    { "label_phrase", "text", "<text>", NULL, NULL },
    { "label_phrase", "use_for", "print|print after|read", NULL, NULL },
    { "label_phrase", "status", "seen|second-hand|memory|common practice", NULL, NULL },
    { "fibre_name", "fibre", "|@fibre.key", NULL, NULL },
    { "fibre_name", "status", "seen|memory", NULL, NULL },
    { "cue", "channel", "@channel.key", NULL, NULL },
    { "cue", "meaning", "<text>", NULL, NULL },
    { "cue", "law", "any|all|share|partly", NULL, NULL },
    { "cue", "kind_of", "|@cue.key", NULL, "channel=channel" },
    { "cue", "telling", "0|1", NULL, NULL },
    { "cue", "nothing", "0|1", NULL, NULL },
    { "cue", "argument", "<text>", NULL, NULL },
    { "burn_fibre", "fibre", "@fibre.key", NULL, NULL },
    { "burn_fibre", "burn_key", "@fibre.burn_key", NULL, "fibre=key" },
    { "burn_fibre", "burn_class", "<text>", NULL, NULL },
    { "bench_result", "cue", "@cue.key", NULL, NULL },
    { "bench_result", "fibre", "@burn_fibre.fibre", NULL, NULL },
    { "bench_result", "status", "seen|memory", NULL, NULL },
};

/* What names a row to other tables, or to people: no two rows may have it. */
static const char *const once[][2] = { { "market", "key" },       { "language", "key" },
                                       { "law_rule", "id" },      { "fibre", "key" },
                                       { "cue", "key" },          { "channel", "key" },
                                       { "burn_fibre", "fibre" }, { "burn_source", "source" } };

static bool is_number(const char *word)
{
    char *end;

    (void)strtod(word, &end);
    return *word && !*end;
}

/* "market.langs": one of the words of the other table's cells, in a row that goes with this one. */
static bool is_in_table(const struct rule *rule, const struct ref_table *t, const struct ref_row *r,
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
static bool is_allowed(const struct rule *rule, const struct ref_table *t, const struct ref_row *r,
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

static void check_word(const struct rule *rule, const struct ref_table *t, const struct ref_row *r,
                       const char *word)
{
    char *copy = tb_strdup(rule->may), *rest = copy;
    struct tb_text allowed = { 0 };
    bool good = false;

    for (char *may; (may = strsep(&rest, "|"));)
        good = good || is_allowed(rule, t, r, may, word);
    if (!good) {
        say_allowed(&allowed, rule);
        ref_wrong(r, "%s is '%s'; it may be %s", rule->column, word, tb_text_str(&allowed));
    }
    tb_text_free(&allowed);
    free(copy);
}

static void check_column(const struct rule *rule)
{
    const struct ref_table *t = ref_table(rule->table);

    for (size_t i = 0; i < t->rows; i++) {
        char *copy = tb_strdup(ref_cell(t, &t->row[i], rule->column)), *rest = copy;

        if (rule->at)
            for (char *word; (word = strsep(&rest, rule->at));)
                check_word(rule, t, &t->row[i], word);
        else
            check_word(rule, t, &t->row[i], copy);
        free(copy);
    }
}

static void check_once(const char *table, const char *column)
{
    const struct ref_table *t = ref_table(table);

    for (size_t i = 0; i < t->rows; i++)
        for (size_t k = 0; k < i; k++)
            if (strcmp(ref_cell(t, &t->row[i], column), ref_cell(t, &t->row[k], column)) == 0)
                ref_wrong(&t->row[i], "%s '%s' stands in row %zu as well", column,
                          ref_cell(t, &t->row[i], column), t->row[k].number);
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
        check_column(&rules[i]);
    for (size_t i = 0; i < TB_COUNT(once); i++)
        check_once(once[i][0], once[i][1]);
    ref_check_together();
    return ref_wrongs() ? 1 : 0;
}
