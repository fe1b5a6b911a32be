/* Readings, from a table or typed one by one, made into determinations. Pure. */
#include "work/assay.h"

#include <stdlib.h>
#include <string.h>

static const char by_hand[] = "weights"; /* what stands for readings where fibres were separated by hand */

/* Numbers separated by commas; a decimal comma is not possible here. */
tb_rc tb_assay_numbers(double *out, size_t *n, size_t most, const char *name, const char *text,
                       struct tb_err *err)
{
    char *copy = tb_strdup(text), *save = NULL;
    tb_rc rc = TB_OK;

    *n = 0;
    for (char *w = strtok_r(copy, ",; ", &save); w && rc == TB_OK; w = strtok_r(NULL, ",; ", &save)) {
        if (*n == most)
            rc = tb_fail(err, TB_EINVAL, "more than %zu numbers are given", most);
        else if ((rc = tb_lab_number(&out[*n], w, err)) == TB_OK)
            ++*n;
    }
    free(copy);
    return rc == TB_OK ? rc : tb_about(err, rc, name);
}

/* The i-th value typed for a reading; NULL when there are fewer. */
static const char *typed(const struct tb_assay_request *r, const char *name, size_t i)
{
    for (size_t k = 0; k < r->readings; k++)
        if (strcmp(r->reading[k].name, name) == 0)
            return i < r->reading[k].n ? r->reading[k].value[i] : NULL;
    return NULL;
}

/* A determination nobody can have weighed is refused by its number, before it spoils a mean. */
static tb_rc add(struct tb_lab_masses *m, const struct tb_lab_det *det, struct tb_err *err)
{
    tb_rc rc = tb_lab_check(m->route, m->fibres, det, err);

    if (rc != TB_OK)
        return tb_within(err, rc, "determination %zu", m->n + 1);
    if (m->n == TB_LAB_DETS_MOST)
        return tb_fail(err, TB_EINVAL, "more than %d determinations", TB_LAB_DETS_MOST);
    m->det[m->n++] = *det;
    return TB_OK;
}

/* By hand there is one mass a fibre, so a value lists them all: the fibres have no names of readings. */
static tb_rc take_weights(struct tb_lab_masses *m, const struct tb_assay_request *r, struct tb_err *err)
{
    const char *text;
    tb_rc rc = TB_OK;

    for (size_t i = 0; rc == TB_OK && (text = typed(r, by_hand, i)); i++) {
        struct tb_lab_det det = { { 0 } };
        size_t n;

        rc = tb_assay_numbers(det.in, &n, TB_LAB_INPUTS_MOST, by_hand, text, err);
        if (rc == TB_OK && n != m->fibres)
            rc = tb_about(err,
                          tb_fail(err, TB_EINVAL, "%zu fibres need as many masses, not %zu", m->fibres, n),
                          by_hand);
        if (rc == TB_OK)
            rc = add(m, &det, err);
    }
    return rc;
}

/* One determination takes the i-th value of every reading. *more is false when there is none. */
static tb_rc take_one(struct tb_lab_det *det, bool *more, const struct tb_lab_masses *m,
                      const struct tb_assay_request *r, size_t i, struct tb_err *err)
{
    size_t n = tb_lab_inputs(m->route, m->fibres), given = 0;
    const char *lacking = NULL;

    for (size_t k = 0; k < n; k++) {
        const char *name = tb_lab_input_name(m->route, k), *text = typed(r, name, i);
        tb_rc rc;

        if (!text) {
            lacking = name;
            continue;
        }
        given++;
        if ((rc = tb_lab_number(&det->in[k], text, err)) != TB_OK)
            return tb_about(err, rc, name);
    }
    *more = given > 0;
    if (given == 0 || given == n)
        return TB_OK;
    return tb_about(err,
                    tb_fail(err, TB_EINVAL, "determination %zu has no %s; every determination needs them all",
                            i + 1, lacking),
                    lacking);
}

static tb_rc take_typed(struct tb_lab_masses *m, const struct tb_assay_request *r, struct tb_err *err)
{
    bool more = true;
    tb_rc rc = TB_OK;

    if (m->route == TB_LAB_HAND)
        return take_weights(m, r, err);
    for (size_t i = 0; rc == TB_OK; i++) {
        struct tb_lab_det det = { { 0 } };

        if ((rc = take_one(&det, &more, m, r, i, err)) != TB_OK || !more)
            break;
        rc = add(m, &det, err);
    }
    return rc;
}

static tb_rc take_table(struct tb_lab_masses *m, const struct tb_assay_request *r, struct tb_err *err)
{
    tb_rc rc = TB_OK;

    for (size_t i = 0; rc == TB_OK && i < r->rows; i++)
        rc = tb_lab_masses_row(m, r->row[i].cell, r->row[i].n, r->row[i].line, err);
    if (rc == TB_OK)
        rc = tb_lab_masses_end(m, err);
    return rc == TB_OK ? rc : tb_within(err, rc, "%s", r->table);
}

/* What this route needs is named: a reader who knows the method knows where to look. */
static tb_rc no_readings(const struct tb_lab_masses *m, struct tb_err *err)
{
    struct tb_text want = { 0 }, about = { 0 };
    size_t n = m->route == TB_LAB_HAND ? 1 : tb_lab_inputs(m->route, m->fibres);
    tb_rc rc;

    tb_text_add(&about, "masses");
    for (size_t k = 0; k < n; k++) {
        const char *name = m->route == TB_LAB_HAND ? by_hand : tb_lab_input_name(m->route, k);

        tb_text_addf(&want, "%s%s", k ? ", " : "", name);
        tb_text_addf(&about, " %s", name);
    }
    rc = tb_about(err,
                  tb_fail(err, TB_EUSAGE,
                          "there are no masses: give a table of them, or %s once for every determination",
                          want.s),
                  about.s);
    tb_text_free(&want);
    tb_text_free(&about);
    return rc;
}

tb_rc tb_assay_take_readings(struct tb_assay *a, const struct tb_assay_request *r, struct tb_err *err)
{
    const char *names[TB_LAB_FIBRES_MOST];
    tb_rc rc;

    for (size_t i = 0; i < a->setup.task.fibres; i++)
        names[i] = tb_fibre_at(a->setup.fibre[i])->name;
    tb_lab_masses_start(&a->masses, a->setup.task.route, a->setup.task.fibres, names);
    rc = r->table ? take_table(&a->masses, r, err) : take_typed(&a->masses, r, err);
    a->masses.names = NULL; /* they were on this stack */
    return rc == TB_OK && a->masses.n == 0 ? no_readings(&a->masses, err) : rc;
}
