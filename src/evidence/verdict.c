/* verdict.c - a verdict as a record: its word, its notes, its end. */
#include "evidence/judge.h"

#include <stdlib.h>
#include <string.h>

TB_WORDS(tb_verdict_words, TB_VERDICT_KINDS,
         "'%s' is not a verdict; the evidence fits, contradicts or is undecided", "", TR_("fits"),
         TR_("contradicts"), TR_("undecided"));

const char *tb_verdict_key(enum tb_verdict_kind kind)
{
    return tb_word(&tb_verdict_words, (int)kind);
}

TB_WORDS(tb_grade_words, TB_GRADES,
         "'%s' is not a grade; the evidence fits, is undecided, speaks against or contradicts", "", "fits",
         "undecided", TR_("speaks against"), "contradicts");

TB_WORDS(tb_base_words, TB_BASES,
         "'%s' is not a source of base rates; they come from published inspections, the site or its setting",
         "", "published", "site", "setting");

enum tb_verdict_kind tb_verdict_of_grade(enum tb_grade grade)
{
    static const enum tb_verdict_kind kind[TB_GRADES] = { TB_UNJUDGED, TB_FITS, TB_UNDECIDED, TB_UNDECIDED,
                                                          TB_CONTRADICTS };

    return kind[grade];
}

const char *tb_hazard_key(enum tb_hazard one)
{
    return one == TB_HAZARD_FLAME       ? "flame"
           : one == TB_HAZARD_FLAMMABLE ? "flammable"
           : one == TB_HAZARD_TOXIC     ? "toxic"
           : one == TB_HAZARD_CORROSIVE ? "corrosive"
                                        : "hot";
}

double tb_power_told(double chance)
{
    return chance > TB_POWER_MOST ? TB_POWER_MOST : chance;
}

void tb_verdict_note(struct tb_verdict *v, const char *fmt, ...)
{
    struct tb_text t = { 0 };
    va_list ap;

    va_start(ap, fmt);
    tb_text_vaddf(&t, fmt, ap);
    va_end(ap);
    TB_PUSH(v->note, v->n_note, tb_text_take(&t));
}

void tb_confirm_no_swatch(struct tb_verdict *v)
{
    free(v->confirm_swatch);
    free(v->confirm_beside);
    free(v->confirm_bolt);
    v->confirm_swatch = v->confirm_beside = v->confirm_bolt = NULL;
}

/* Everything it points to is its own. */
void tb_verdict_free(struct tb_verdict *v)
{
    for (size_t i = 0; i < v->n_twins; i++)
        free(v->twins[i].fibre);
    for (size_t i = 0; i < v->n_power; i++)
        free(v->power[i].instead);
    for (size_t i = 0; i < v->n_note; i++)
        free(v->note[i]);
    free(v->reason);
    free(v->supposed);
    tb_confirm_no_swatch(v);
    for (size_t i = 0; i < TB_COUNT(v->odd_swatch); i++)
        free(v->odd_swatch[i]);
    free(v->likely);
    free(v->present);
    free(v->twins);
    free(v->cue);
    free(v->next);
    free(v->outcome);
    free(v->power);
    free(v->note);
    *v = (struct tb_verdict){ 0 };
}
