/* allowance.c - agreed allowances, regains and losses of a fibre, by what is said of its condition. */
#include "lab/tables.h"

#include "gen/ref_agreed_allowance.h"
#include "gen/ref_lab_loss.h"
#include "gen/ref_regain.h"

#include <math.h>
#include <string.h>

/* A row with the fibre's own key is meant for it alone; a row without a key for all of that number. */
static int key_fits(const char *row_key, int fibre)
{
    if (!row_key[0])
        return 1;
    return strcmp(row_key, tb_fibre_at(fibre)->key) == 0 ? 2 : 0;
}

/* What the two tables have in common, so that one search serves both. */
struct figure {
    int eu;
    const char *key, *condition, *words;
    bool standard;
    double percent;
    const char *source, *status;
};

/* False after the last row of the table of this basis. */
static bool figure_at(struct figure *f, enum tb_lab_basis basis, size_t i)
{
    if (basis == TB_LAB_EU && i < tb_ref_agreed_allowance_n) {
        const struct tb_ref_agreed_allowance *a = &tb_ref_agreed_allowance[i];

        *f = (struct figure){ a->eu_number,     a->fibre_key, a->condition, a->words,
                              a->standard != 0, a->percent,   a->source,    a->status };
        return true;
    }
    if (basis == TB_LAB_US && i < tb_ref_regain_n) {
        const struct tb_ref_regain *r = &tb_ref_regain[i];

        *f = (struct figure){ r->eu_number,     r->fibre_key, r->condition, r->condition,
                              r->standard != 0, r->us,        r->source,    r->status };
        return true;
    }
    return false;
}

/* The figure for the condition that was said, else the standard one; false when there is no figure. */
static bool pick(struct figure *found, bool *assumed, enum tb_lab_basis basis, int fibre,
                 const char *conditions)
{
    struct figure f;
    int best = 0, choices = 0;
    bool is_said = false;

    for (size_t i = 0; figure_at(&f, basis, i); i++) {
        int fits = f.eu == tb_lab_eu_of(fibre) ? key_fits(f.key, fibre) : 0;

        if (fits == 0 || fits < best || isnan(f.percent))
            continue;
        if (fits > best) {
            best = fits;
            choices = 0;
            is_said = false;
        }
        choices++;
        if (tb_lab_says(conditions, f.condition)) {
            *found = f;
            is_said = true;
        } else if (f.standard && !is_said)
            *found = f;
    }
    *assumed = choices > 1 && !is_said;
    return choices > 0;
}

/* Losses in normal pre-treatment that come with the fibre or with a condition that was said. */
static double loss_of(int fibre, const char *conditions, bool *assumed)
{
    double loss = 0;

    for (size_t i = 0; i < tb_ref_lab_loss_n; i++) {
        const struct tb_ref_lab_loss *l = &tb_ref_lab_loss[i];

        if (l->eu_number != tb_lab_eu_of(fibre))
            continue;
        if (!l->condition[0] || tb_lab_says(conditions, l->condition))
            loss = l->percent;
        else if (!tb_lab_says(conditions, "bleached") && !tb_lab_says(conditions, "mercerised"))
            *assumed = true;
    }
    return loss;
}

static tb_rc no_figure(enum tb_lab_basis basis, int fibre, struct tb_err *err)
{
    if (fibre < 0)
        return tb_fail(err, TB_ENOTFOUND, "the tables have no figures for a fibre they do not know");
    if (basis == TB_LAB_EU)
        return tb_fail(err, TB_ENOTFOUND, "there is no agreed allowance for %s in the tables",
                       tb_fibre_at(fibre)->name);
    return tb_fail(err, TB_ENOTFOUND, "there is no commercial regain for %s in the tables",
                   tb_fibre_at(fibre)->name);
}

/* Where several figures are possible and nothing was said, the standard one is taken and marked as assumed. */
tb_rc tb_lab_allowance(struct tb_lab_allowance *out, enum tb_lab_basis basis, int fibre,
                       const char *conditions, struct tb_err *err)
{
    struct figure f = { .source = "" };
    bool assumed;

    *out = (struct tb_lab_allowance){ .condition = "", .source = "", .status = "seen" };
    if (basis == TB_LAB_DRY)
        return TB_OK;
    if (tb_lab_eu_of(fibre) == 0 || !pick(&f, &assumed, basis, fibre, conditions))
        return no_figure(basis, fibre, err);
    out->percent = f.percent;
    out->condition = f.words;
    out->source = f.source;
    out->status = f.status;
    out->assumed = assumed;
    if (basis == TB_LAB_EU)
        out->loss = loss_of(fibre, conditions, &out->assumed);
    if (conditions && conditions[0])
        out->assumed = false; /* who says one thing of a fibre has thought of the others */
    return TB_OK;
}

/* "bleached" is a condition of every fibre whose loss depends on its condition. */
bool tb_lab_condition_known(int fibre, const char *condition)
{
    int eu = tb_lab_eu_of(fibre);
    bool bleachable = false;

    if (eu == 0 || !condition[0])
        return false;
    for (size_t i = 0; i < tb_ref_agreed_allowance_n; i++)
        if (tb_ref_agreed_allowance[i].eu_number == eu &&
            strcmp(tb_ref_agreed_allowance[i].condition, condition) == 0)
            return true;
    for (size_t i = 0; i < tb_ref_lab_loss_n; i++)
        if (tb_ref_lab_loss[i].eu_number == eu) {
            if (strcmp(tb_ref_lab_loss[i].condition, condition) == 0)
                return true;
            bleachable = bleachable || tb_ref_lab_loss[i].condition[0];
        }
    return bleachable && strcmp(condition, "bleached") == 0;
}
