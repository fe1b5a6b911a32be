/* The reference tables of the laboratory, asked by method and fibre. */
#include "lab/tables.h"

#include "gen/ref_agreed_allowance.h"
#include "gen/ref_lab_d_factor.h"
#include "gen/ref_lab_loss.h"
#include "gen/ref_lab_method.h"
#include "gen/ref_regain.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

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

/* Is `word` one of the words of a list parted by commas or blanks? */
static bool told(const char *conditions, const char *word)
{
    size_t n = strlen(word);

    if (!conditions || n == 0)
        return false;
    while (*conditions) {
        size_t len = strcspn(conditions, ", ");

        if (len == n && strncmp(conditions, word, n) == 0)
            return true;
        conditions += len;
        conditions += strspn(conditions, ", ");
    }
    return false;
}

static int eu_of(int fibre)
{
    return fibre >= 0 ? tb_fibre_at(fibre)->eu_number : 0;
}

/* --- methods --------------------------------------------------------------------------------------------- */
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
                                   .iso_part = m->iso_part,
                                   .iso_from_memory = strcmp(m->iso_status, "memory") == 0,
                                   .limit = m->limit,
                                   .source = m->source,
                                   .status = m->status };
    return true;
}

static const struct tb_ref_lab_d_factor *factor_row(int method, int eu, const char *conditions)
{
    const struct tb_ref_lab_d_factor *plain = NULL;

    for (size_t i = 0; i < tb_ref_lab_d_factor_n; i++) {
        const struct tb_ref_lab_d_factor *f = &tb_ref_lab_d_factor[i];

        if (f->method != method || f->eu_number != eu)
            continue;
        if (told(conditions, f->condition))
            return f;
        if (!f->condition[0])
            plain = f;
    }
    return plain;
}

enum tb_lab_role tb_lab_method_role(int number, int fibre)
{
    const struct tb_ref_lab_method *m = tb_lab_method_row(number);
    int eu = eu_of(fibre);

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
    f = factor_row(method, eu_of(fibre), conditions);
    if (!f || isnan(f->d))
        return tb_fail(err, TB_ENOTFOUND, "method %d gives no correction factor for %s as residue", method,
                       tb_fibre_at(fibre)->name);
    *d = f->d;
    return TB_OK;
}

/* --- allowances ------------------------------------------------------------------------------------------ */
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

/* The figure for the told condition, else the standard one; false when there is none. */
static bool pick(struct figure *found, bool *assumed, enum tb_lab_basis basis, int fibre,
                 const char *conditions)
{
    struct figure f;
    int best = 0, choices = 0;
    bool is_told = false;

    for (size_t i = 0; figure_at(&f, basis, i); i++) {
        int fits = f.eu == eu_of(fibre) ? key_fits(f.key, fibre) : 0;

        if (fits == 0 || fits < best || isnan(f.percent))
            continue;
        if (fits > best) {
            best = fits;
            choices = 0;
            is_told = false;
        }
        choices++;
        if (told(conditions, f.condition)) {
            *found = f;
            is_told = true;
        } else if (f.standard && !is_told)
            *found = f;
    }
    *assumed = choices > 1 && !is_told;
    return choices > 0;
}

/* Losses in normal pre-treatment that come with the fibre or with a condition told. */
static double loss_of(int fibre, const char *conditions, bool *assumed)
{
    double loss = 0;

    for (size_t i = 0; i < tb_ref_lab_loss_n; i++) {
        const struct tb_ref_lab_loss *l = &tb_ref_lab_loss[i];

        if (l->eu_number != eu_of(fibre))
            continue;
        if (!l->condition[0] || told(conditions, l->condition))
            loss = l->percent;
        else if (!told(conditions, "bleached") && !told(conditions, "mercerised"))
            *assumed = true;
    }
    return loss;
}

tb_rc tb_lab_allowance(struct tb_lab_allowance *out, enum tb_lab_basis basis, int fibre,
                       const char *conditions, struct tb_err *err)
{
    struct figure f = { .source = "" };
    bool assumed;

    *out = (struct tb_lab_allowance){ .condition = "", .source = "", .status = "seen" };
    if (basis == TB_LAB_DRY)
        return TB_OK;
    if (eu_of(fibre) == 0 || !pick(&f, &assumed, basis, fibre, conditions))
        return tb_fail(err, TB_ENOTFOUND, "there is no %s for %s in the tables",
                       basis == TB_LAB_EU ? "agreed allowance" : "commercial regain",
                       fibre >= 0 ? tb_fibre_at(fibre)->name : "that fibre");
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

bool tb_lab_condition_known(int fibre, const char *condition)
{
    int eu = eu_of(fibre);
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
