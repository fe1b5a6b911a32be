/*
 * kinds.c - the kinds of check: which function serves a row of the rules, and in what order they run.
 *
 * A new kind is a function in a check_*.c, a line here, and a line in the table of docs/law.md.
 */
#include "law/checks.h"

#include <string.h>

const struct check_kind tb_law_checks[] = {
    /* the words and figures alone */
    { "names", tb_law_check_names, CHECK_WORDS },
    { "words", tb_law_check_words, CHECK_WORDS },
    { "percent", tb_law_check_percent, CHECK_WORDS },
    { "sum", tb_law_check_sum, CHECK_WORDS },
    { "range", tb_law_check_range, CHECK_WORDS },
    { "order", tb_law_check_order, CHECK_WORDS },
    { "list", tb_law_check_list, CHECK_WORDS },
    { "small", tb_law_check_small, CHECK_WORDS },
    { "functional", tb_law_check_functional, CHECK_WORDS },
    { "pure", tb_law_check_pure, CHECK_WORDS },
    { "rounding", tb_law_check_rounding, CHECK_WORDS },
    { "form", tb_law_check_form, CHECK_WORDS },
    { "composite", tb_law_check_composite, CHECK_WORDS },
    { "inequality", tb_law_check_inequality, CHECK_WORDS },
    { "except", tb_law_check_except, CHECK_WORDS },
    { "language", tb_law_check_language, CHECK_WORDS },
    /* what is claimed besides: an exclusion lets fibre go before anything is compared */
    { "regime", tb_law_check_regime, CHECK_PARTS },
    { "exclusion", tb_law_check_exclusion, CHECK_PARTS },
    { "omission", tb_law_check_exclusion, CHECK_PARTS },
    { "virgin", tb_law_check_virgin, CHECK_PARTS },
    { "recycled", tb_law_check_recycled, CHECK_PARTS },
    { "diameter", tb_law_check_diameter, CHECK_PARTS },
    { "section", tb_law_check_section, CHECK_PARTS },
    { "union", tb_law_check_union, CHECK_PARTS },
    { "unknown", tb_law_check_unknown, CHECK_PARTS },
    { "origin", tb_law_check_origin, CHECK_PARTS },
    /* the cloth: what must be named, what may go unnamed, then the shares on what is left */
    { "always", tb_law_check_always, CHECK_PARTS },
    { "disclose", tb_law_check_disclose, CHECK_PARTS },
    { "other", tb_law_check_other, CHECK_PARTS },
    { "present", tb_law_check_present, CHECK_PARTS },
    { "extraneous", tb_law_check_extraneous, CHECK_PARTS },
    { "base", tb_law_check_base, CHECK_PARTS },
    { "cumulate", tb_law_check_cumulate, CHECK_PARTS },
    { "tolerance", tb_law_check_tolerance, CHECK_PARTS },
    { "care", tb_law_check_care, CHECK_PARTS },
    { "compared", tb_law_check_compared, CHECK_PARTS },
    { NULL, NULL, CHECK_WORDS },
};

int tb_law_kind_of(const char *kind)
{
    for (int place = 0; tb_law_checks[place].name; place++)
        if (strcmp(tb_law_checks[place].name, kind) == 0)
            return place;
    return -1;
}

/* Kind by kind and not row by row, since some stand on what others found. */
static void run(struct at_work *w, bool words)
{
    for (int place = 0; tb_law_checks[place].name; place++)
        for (size_t i = 0; i < w->rules && (words || tb_law_checks[place].of == CHECK_PARTS); i++) {
            const struct tb_ref_law_rule *r = w->rule[i];

            if (w->law->kind[r - tb_ref_law_rule] == place && tb_law_of_regime(w, r))
                tb_law_checks[place].run(w, r);
        }
}

/* The words with the first pair of parts; then every further pair (a lining, a filling) with what was found in it. */
void tb_law_run_checks(struct at_work *w)
{
    struct compared first;

    (void)tb_law_compare(w, 0);
    run(w, true);
    first = w->cmp;
    for (size_t pair = 1; tb_law_compare(w, pair); pair++) {
        run(w, false);
        tb_law_compared_free(&w->cmp);
    }
    w->cmp = first; /* the wording asks how many fibres stand behind "other fibres" of the main part */
    for (size_t i = 0; i < w->rules; i++)
        if (strcmp(w->rule[i]->show, "always") == 0 && tb_law_of_regime(w, w->rule[i]))
            tb_law_finding_as(w, w->rule[i], TB_SEVERITY_NOTE, "%s", w->rule[i]->says);
}
