/*
 * check_names.c - is each fibre named as the market names it?
 *
 * Each market has a closed list of names (law_name.csv). A word that is the right name elsewhere is still a fault, and
 * the finding says the name that would do.
 */
#include "law/checks.h"
#include "tenterbook/status.h"

#include <string.h>

#define STRAYS_SHOWN 5 /* a text that is no label at all would be named back word by word */

/* Does a rule of the market let a share of unknown fibres stand? */
static bool unknown_accepted(const struct at_work *w)
{
    for (size_t i = 0; i < w->rules; i++)
        if (strcmp(w->rule[i]->kind, "unknown") == 0 &&
            (w->label->mixed || strcmp(w->rule[i]->holds, "mixed") != 0))
            return true;
    return false;
}

/* A word of a class that a rule of the market calls a fault: the name of the fibre is no second finding. */
static bool left_to_words(const struct at_work *w, const struct tb_share *s)
{
    const struct lex *l = NULL;

    EACH_WORD(w->label, s, t)
    { /* the first of them */
        l = tb_label_entry(t, LEX_NAME) ? NULL : tb_label_entry(t, LEX_CLASS);
        break;
    }
    for (size_t i = 0; l && i < w->rules; i++)
        if (strcmp(w->rule[i]->kind, "words") == 0 && strcmp(w->rule[i]->arg, l->what) == 0 &&
            tb_law_severity(w->rule[i]) == TB_SEVERITY_FAULT)
            return true;
    return false;
}

static void say_wrong_name(struct at_work *w, const struct tb_ref_law_rule *r, const struct tb_share *s,
                           const char *said)
{
    const char *name = tb_law_name(w->law, w->market, s->fibre, tb_law_lang(w), NULL);

    if (name)
        tb_law_finding(w, r, "'%s' is not a name used in %s: say '%s'", said, w->market->in_words, name);
    else
        tb_law_finding(w, r, "'%s' is not a name used in %s", said, w->market->in_words);
}

static void name_share(struct at_work *w, const struct tb_ref_law_rule *r, const struct tb_share *s)
{
    const char *status, *said;

    if (s->fibre == TB_FIBRE_OTHER || s->fibre == SHARE_COMPOSITE ||
        tb_law_group_has(w->market, "animal_part",
                         s->fibre) || /* a rule on parts of animals speaks of them */
        left_to_words(w, s))
        return;
    said = tb_law_share_text(w, s);
    if (s->fibre == TB_FIBRE_UNKNOWN) {
        if (!unknown_accepted(w))
            tb_law_finding(w, r, "'%s' names no fibre and no rule of %s accepts it", said,
                           w->market->in_words);
    } else if (s->fibre == SHARE_NO_FIBRE) {
        tb_law_finding(w, r, "'%s' is not the name of a fibre in %s", said, w->market->in_words);
    } else if (!tb_law_share_named(w, s, NULL, &status)) {
        say_wrong_name(w, r, s, said);
    } else if (tb_status_memory(status)) {
        tb_law_finding_as(w, r, TB_SEVERITY_NOTE, "'%s' is taken as a name from memory: nobody looked it up",
                          said);
    }
}

/*
 * kind "names". A market known in part has no list of names here, so that only a word that names no fibre at all can be
 * wrong there. Words that were not understood and stand in no fibre's place are noted: silence would pass for a yes.
 */
void tb_law_check_names(struct at_work *w, const struct tb_ref_law_rule *r)
{
    bool listed = tb_law_coverage(w->market) == TB_COVERAGE_FULL;

    if (tb_label_shares(w->label) == 0 && !w->label->united && !w->label->super)
        tb_law_finding(w, r, "the words name no fibre");
    EACH_PART (w, p)
        EACH_SHARE (p, s)
            if (listed || s->fibre == SHARE_NO_FIBRE)
                name_share(w, r, s);
    for (size_t i = 0; i < w->label->strays && i < STRAYS_SHOWN; i++)
        tb_law_finding_as(w, r, TB_SEVERITY_NOTE, "'%s' was not understood and is not read as a fibre",
                          tb_law_quote(w, &w->label->token[w->label->stray[i]]));
}
