/* methods.c - the methods of Annex VIII, asked by number and fibre. */
#include "lab/tables.h"

#include "gen/ref_lab_d_factor.h"
#include "gen/ref_lab_method.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* Numbers and not texts are compared: "5" is not in "15;25". */
bool tb_lab_lists(const char *list, int number)
{
    while (*list) {
        char *end;

        if (strtol(list, &end, 10) == number && end != list)
            return true;
        if (*end == '\0')
            return false;
        list = end + 1;
    }
    return false;
}

bool tb_lab_says(const char *conditions, const char *word)
{
    return tb_word_listed(conditions, word, strlen(word), ", ");
}

int tb_lab_eu_of(int fibre)
{
    return fibre >= 0 ? tb_fibre_at(fibre)->eu_number : 0;
}

const struct tb_ref_lab_method *tb_lab_method_row(int number)
{
    for (size_t i = 0; i < tb_ref_lab_method_n; i++)
        if (tb_ref_lab_method[i].number == number)
            return &tb_ref_lab_method[i];
    return NULL;
}

size_t tb_lab_method_count(void)
{
    return tb_ref_lab_method_n;
}

bool tb_lab_method_get(struct tb_lab_method *out, int number)
{
    const struct tb_ref_lab_method *m = tb_lab_method_row(number);

    if (!m)
        return false;
    *out = (struct tb_lab_method){ .number = m->number,
                                   .dissolves = m->words,
                                   .reagent = m->reagent,
                                   .conditions = m->conditions,
                                   .hazard = m->hazard,
                                   .note = m->note,
                                   .effort = m->effort,
                                   .standard = tb_lab_standard_at(tb_lab_standard_by_key(m->standard)),
                                   .limit = m->limit,
                                   .source = m->source,
                                   .status = m->status };
    return true;
}

/* A row for the condition that was said comes before the plain one. */
static const struct tb_ref_lab_d_factor *factor_row(int method, int eu, const char *conditions)
{
    const struct tb_ref_lab_d_factor *plain = NULL;

    for (size_t i = 0; i < tb_ref_lab_d_factor_n; i++) {
        const struct tb_ref_lab_d_factor *f = &tb_ref_lab_d_factor[i];

        if (f->method != method || f->eu_number != eu)
            continue;
        if (tb_lab_says(conditions, f->condition))
            return f;
        if (!f->condition[0])
            plain = f;
    }
    return plain;
}

/* A fibre without an entry in Annex I has no part in any method. */
enum tb_lab_role tb_lab_method_role(int number, int fibre)
{
    const struct tb_ref_lab_method *m = tb_lab_method_row(number);
    int eu = tb_lab_eu_of(fibre);

    if (!m || eu == 0)
        return TB_LAB_ROLE_NONE;
    if (tb_lab_lists(m->dissolves, eu))
        return TB_LAB_ROLE_DISSOLVED;
    if (tb_lab_lists(m->dissolves_some, eu))
        return TB_LAB_ROLE_SOME;
    return factor_row(number, eu, NULL) ? TB_LAB_ROLE_RESIDUE : TB_LAB_ROLE_NONE;
}

tb_rc tb_lab_factor(double *d, int method, int fibre, const char *conditions, struct tb_err *err)
{
    const struct tb_ref_lab_d_factor *f;

    if (!tb_lab_method_row(method))
        return tb_fail(err, TB_ENOTFOUND, "there is no method %d; they are numbered 1 to %zu", method,
                       tb_ref_lab_method_n);
    f = factor_row(method, tb_lab_eu_of(fibre), conditions);
    if (!f || isnan(f->d))
        return tb_fail(err, TB_ENOTFOUND, "method %d gives no correction factor for %s as residue", method,
                       tb_fibre_at(fibre)->name);
    *d = f->d;
    return TB_OK;
}

/* A method that takes only some kinds of the fibre serves too: the standard says no more. */
bool tb_lab_method_serves(size_t standard, int gone, const int *stay, size_t stays)
{
    for (size_t i = 0; i < tb_ref_lab_method_n; i++) {
        int method = tb_ref_lab_method[i].number;
        enum tb_lab_role role = tb_lab_method_role(method, gone);
        size_t left = 0;

        if (tb_lab_standard_by_key(tb_ref_lab_method[i].standard) != standard ||
            (role != TB_LAB_ROLE_DISSOLVED && role != TB_LAB_ROLE_SOME))
            continue;
        while (left < stays && tb_lab_method_role(method, stay[left]) == TB_LAB_ROLE_RESIDUE)
            left++;
        if (left == stays)
            return true;
    }
    return false;
}
