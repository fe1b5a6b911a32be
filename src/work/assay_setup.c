/* What was said of fibres, route, methods and factors, made into an analysis that can be computed. Pure. */
#include "work/assay.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* "cotton=unbleached" is kept with the fibre of the mixture it speaks of. */
static tb_rc take_condition(struct tb_assay *a, const struct tb_part *part, const char *text,
                            struct tb_err *err)
{
    const char *eq = strchr(text, '=');
    char *word;
    int fibre;

    if (!eq)
        return tb_fail(err, TB_EUSAGE,
                       "'%s' is not a condition; it reads FIBRE=WORD, such as cotton=unbleached", text);
    word = tb_strndup(text, (size_t)(eq - text));
    fibre = tb_fibre_by_word(word);
    free(word);
    for (size_t i = 0; fibre >= 0 && i < part->n && i < TB_LAB_FIBRES_MOST; i++) {
        if (part->share[i].fibre != fibre)
            continue;
        if (!tb_lab_condition_known(fibre, eq + 1))
            return tb_fail(err, TB_EINVAL, "no table knows '%s' for %s", eq + 1, tb_fibre_at(fibre)->name);
        tb_text_addf(&a->condition[i], "%s%s", a->condition[i].n ? "," : "", eq + 1);
        return TB_OK;
    }
    return tb_fail(err, TB_EINVAL, "'%.*s' is not one of the fibres", (int)(eq - text), text);
}

/* The list follows the fibres of the mixture, as tb_lab_wish wants it. */
static tb_rc take_conditions(const char **list, struct tb_assay *a, const struct tb_part *part,
                             const struct tb_assay_request *r, struct tb_err *err)
{
    tb_rc rc = TB_OK;

    for (size_t i = 0; rc == TB_OK && i < r->conditions; i++)
        if ((rc = take_condition(a, part, r->condition[i], err)) != TB_OK)
            (void)tb_about(err, rc, "condition");
    for (size_t i = 0; i < TB_LAB_FIBRES_MOST; i++)
        list[i] = a->condition[i].n ? tb_text_str(&a->condition[i]) : NULL;
    return rc;
}

static tb_rc make_wish(struct tb_lab_wish *w, const struct tb_assay_request *r, const struct tb_part *mix,
                       const char *const *conditions, struct tb_err *err)
{
    tb_lab_wish_init(w, r->route, mix);
    w->conditions = conditions;
    memcpy(w->method, r->method, sizeof w->method);
    if (r->dissolved && (w->dissolved = tb_fibre_by_word(r->dissolved)) < 0)
        return tb_about(err, tb_fail(err, TB_EINVAL, "'%s' is not a fibre", r->dissolved), "dissolved");
    return r->factors ? tb_assay_numbers(w->d, &w->factors, TB_LAB_FACTORS_MOST, "d", r->factors, err)
                      : TB_OK;
}

tb_rc tb_assay_set_up(struct tb_assay *a, const struct tb_assay_request *r, struct tb_err *err)
{
    const char *conditions[TB_LAB_FIBRES_MOST];
    const struct tb_part *mix = a->claim;
    struct tb_lab_task *task = &a->setup.task;
    struct tb_lab_wish wish;
    tb_rc rc;

    if (!r->mixture && !mix)
        return tb_about(
            err, tb_fail(err, TB_EUSAGE, "say which fibres were separated, such as \"cotton / polyester\""),
            "mixture");
    if (r->mixture) {
        if ((rc = tb_assay_part_read(&a->mixture, "mixture", r->mixture, false, err)) != TB_OK)
            return rc;
        mix = &a->mixture.comp.part[0];
    }
    if ((rc = take_conditions(conditions, a, mix, r, err)) != TB_OK ||
        (rc = make_wish(&wish, r, mix, conditions, err)) != TB_OK ||
        (rc = tb_lab_setup_make(&a->setup, &wish, err)) != TB_OK)
        return rc;
    if (!isnan(r->figure[TB_ASSAY_BALANCE]))
        task->mass_error = r->figure[TB_ASSAY_BALANCE];
    if (!isnan(r->figure[TB_ASSAY_LIMIT]))
        task->limit[0] = task->limit[1] = r->figure[TB_ASSAY_LIMIT];
    return TB_OK;
}
