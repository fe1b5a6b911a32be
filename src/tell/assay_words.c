/* What is said of analyses: fibres, bases, answers. */
#include "base/say.h"
#include "tenterbook/fibre_words.h"
#include "tenterbook/tell.h"

#include <string.h>

const char *tb_basis_words(enum tb_lab_basis basis)
{
    switch (basis) {
    case TB_LAB_DRY:
        return _("dry mass");
    case TB_LAB_EU:
        return _("EU agreed allowances");
    case TB_LAB_US:
        return _("US commercial regain");
    case TB_LAB_BASES:
        break;
    }
    return "";
}

const char *tb_fibre_words(int fibre)
{
    return fibre >= 0 ? tb_fibre_at(fibre)->name : _("other fibres");
}

const char *tb_answer_words(enum tb_tongue to, enum tb_lab_answer answer)
{
    switch (answer) {
    case TB_LAB_CONFORMS:
        return tb_tr(to, "conforms");
    case TB_LAB_FAILS:
        return tb_tr(to, "does not conform");
    case TB_LAB_UNSAID:
        break;
    }
    return tb_tr(to, "cannot be said");
}

/* "eu: does not conform, us: conforms", of keys as the book has them: "eu:does_not_conform us:conforms". */
static void answers_words(struct tb_text *out, enum tb_tongue to, const char *answers)
{
    while (*answers) {
        size_t n = strcspn(answers, " "), market = strcspn(answers, ": ");
        const char *key = answers + market + (market < n);
        enum tb_lab_answer said = TB_LAB_UNSAID;

        for (enum tb_lab_answer a = TB_LAB_UNSAID; a <= TB_LAB_FAILS; a++)
            if (strncmp(key, tb_lab_answer_key(a), n - (size_t)(key - answers)) == 0)
                said = a;
        tb_text_addf(out, "%s%.*s: %s", out->n ? tb_tr(to, ", ") : "", (int)market, answers,
                     tb_answer_words(to, said));
        answers += n + (answers[n] == ' ');
    }
}

/* How what was found compares, in one sentence. */
static void compared_words(struct tb_text *out, enum tb_tongue to, const struct tb_analysis *a,
                           const char *declared)
{
    struct tb_text answers = { 0 };

    answers_words(&answers, to, a->answers);
    if (!answers.n)
        tb_text_add(out, tb_tr(to, "It was compared with no declaration."));
    else if (strcmp(a->declared, declared) != 0)
        tb_text_addf(out, tb_tr(to, "It was compared with other words, \"%s\": %s."), a->declared, answers.s);
    else if (tb_analysis_against(a))
        tb_text_addf(out, tb_tr(to, "The declaration does not conform to that (%s)."), answers.s);
    else if (tb_analysis_for(a))
        tb_text_addf(out, tb_tr(to, "The declaration conforms to that (%s)."), answers.s);
    else
        tb_text_addf(
            out, tb_tr(to, "Whether the declaration conforms to that cannot be said in every market (%s)."),
            answers.s);
    tb_text_free(&answers);
}

/* A laboratory that was not named is none the less one, and a report may have no number. */
static void found_words(struct tb_text *out, enum tb_tongue to, const struct tb_analysis *a)
{
    const char *by = *a->laboratory ? a->laboratory : tb_tr(to, "a laboratory not named");
    struct tb_text report = { 0 }, found = { 0 };
    char on[TB_PLAIN];

    (void)tb_tongue_date(on, to, a->analysed_on);
    tb_composition_in(&found, to, a->found);
    if (*a->report)
        tb_text_addf(&report, tb_tr(to, "%s, report %s"), by, a->report);
    else
        tb_text_add(&report, by);
    if (a->part == TB_PART_WHOLE)
        tb_text_addf(out, tb_tr(to, "Analysed on %s by %s: %s. "), on, report.s, tb_text_str(&found));
    else
        tb_text_addf(out, tb_tr(to, "The part '%s' analysed on %s by %s: %s. "), tb_part_in(to, a->part), on,
                     report.s, tb_text_str(&found));
    tb_text_free(&report);
    tb_text_free(&found);
}

void tb_laboratory_beside_words(struct tb_text *out, enum tb_tongue to, const struct tb_laboratory *l,
                                enum tb_grade grade)
{
    bool against = grade == TB_GRADE_CONTRADICTS || grade == TB_GRADE_SPEAKS_AGAINST;

    if (l->disagree)
        tb_text_add(out,
                    tb_tr(to, "These results contradict each other, and no day decides between them: the "
                              "cloth differs within the lot, or one of them is wrong.\n"));
    else if (l->apart)
        tb_text_addf(out, "%s\n", tb_labs_apart_words(to));
    if (!l->settled)
        return;
    if (l->answer == TB_LAB_CONFORMS && against)
        tb_text_add(
            out,
            tb_tr(to,
                  "What the burns say differs from that. A laboratory's result weighs more, as far as its "
                  "sample was of the cloth that was burned; the burns by themselves:\n"));
    else if (l->answer == TB_LAB_FAILS && grade == TB_GRADE_FITS)
        tb_text_add(
            out,
            tb_tr(to, "That the burns fit does not lift it: they show kinds of fibre, not their shares. A "
                      "laboratory's result weighs more; the burns by themselves:\n"));
    else if (grade != TB_UNGRADED)
        tb_text_add(out,
                    tb_tr(to, "A laboratory's result weighs more than any burn; the burns by themselves:\n"));
}

void tb_laboratory_words(struct tb_text *out, enum tb_tongue to, const struct tb_laboratory *l,
                         const char *declared, enum tb_grade grade)
{
    for (size_t i = 0; i < l->n; i++)
        if (tb_analysis_stands(l->analysis, l->n, i)) {
            found_words(out, to, &l->analysis[i]);
            compared_words(out, to, &l->analysis[i], declared);
            tb_text_addc(out, '\n');
        }
    tb_laboratory_beside_words(out, to, l, grade);
}

static void analysis_words(struct tb_text *out, const struct tb_analysis *a)
{
    const char *by = *a->laboratory ? a->laboratory : _("a laboratory not named");
    struct tb_text answers = { 0 };

    tb_text_addf(out,
                 _("Analysis %s: %s of the lot, %s, by %s: %s (largest standard uncertainty %.2g points)\n"),
                 a->id, tb_part_key(a->part), a->analysed_on, by, a->found, a->u);
    answers_words(&answers, TB_READER, a->answers);
    if (answers.n)
        tb_text_addf(out, _("  compared with \"%s\": %s\n"), a->declared, tb_text_str(&answers));
    else
        tb_text_add(out, _("  compared with no declaration\n"));
    if (*a->report)
        tb_text_addf(out, _("  report %s\n"), a->report);
    tb_text_addf(out, _("  recorded by %s at %s\n"), a->recorded_by, a->recorded_at);
    tb_text_free(&answers);
}

void tb_analyses_words(struct tb_text *out, const struct tb_lot_story *s)
{
    for (size_t i = 0; i < s->analyses; i++) {
        const struct tb_analysis *by = &s->analysis[i];

        analysis_words(out, by);
        for (size_t k = s->analyses_before; by->replaces && k-- > 0;) {
            const struct tb_analysis *a = &s->analysis_before[k];

            if (strcmp(a->id, by->replaces) != 0)
                continue;
            analysis_words(out, a);
            tb_text_addf(out, _("  corrected: analysis %s stands in its place\n"), by->id);
            by = a;
        }
    }
}

void tb_analysis_list_words(struct tb_text *out, const struct tb_lot *lot, const struct tb_analysis *x,
                            size_t n)
{
    if (*lot->declared)
        tb_text_say(out,
                    n ? N_("Lot %s, declared \"%s\":\n")
                      : N_("Lot %s, declared \"%s\": no analysis is recorded.\n"),
                    lot->ref, lot->declared);
    else
        tb_text_say(out,
                    n ? N_("Lot %s, of which nothing is declared:\n")
                      : N_("Lot %s, of which nothing is declared: no analysis is recorded.\n"),
                    lot->ref);
    for (size_t i = 0; i < n; i++) {
        tb_text_say(out, "  %s: %s (%s), u %.2f points", x[i].analysed_on, x[i].found, tb_part_key(x[i].part),
                    x[i].u);
        if (x[i].laboratory[0])
            tb_text_say(out, ", by %s", x[i].laboratory);
        if (x[i].report[0])
            tb_text_say(out, ", report %s", x[i].report);
        if (x[i].answers[0])
            tb_text_addf(out, "; %s", x[i].answers);
        tb_text_say(out, "; recorded by %s as %s\n", x[i].recorded_by, x[i].id);
    }
}
