/* masses.c - determinations from the rows of a table. */
#include "tenterbook/lab.h"
#include "tenterbook/utf8.h"

#include <ctype.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#define NUMBER_MOST 40 /* bytes of a number people write */

#define SHOWN_MOST 61

/* Text of a file or a person as a sentence may hold it: cut at a character, control characters left out. */
static const char *shown(char out[SHOWN_MOST], const char *text)
{
    size_t n = 0, left = strlen(text);

    while (left > 0) {
        unsigned cp;
        size_t len = tb_utf8_next(text, left, &cp);
        bool plain = cp >= 32 && cp != 127 && (cp < 0x80 || len > 1) && !(cp >= 0x80 && cp < 0xa0);

        if (n + len >= SHOWN_MOST)
            break;
        if (plain) {
            memcpy(out + n, text, len);
            n += len;
        } else
            out[n++] = '?';
        text += len;
        left -= len;
    }
    out[n] = '\0';
    return out;
}

/* A comma is a decimal sign where there is no point, as most of the world writes it. */
tb_rc tb_lab_number(double *out, const char *text, struct tb_err *err)
{
    char plain[NUMBER_MOST + 1], safe[SHOWN_MOST], *end, *comma;
    size_t n;
    double v;

    while (isspace((unsigned char)*text))
        text++;
    n = strlen(text);
    while (n > 0 && isspace((unsigned char)text[n - 1]))
        n--;
    if (n == 0)
        return tb_fail(err, TB_EINVAL, "there is no number");
    if (n > NUMBER_MOST || strspn(text, "0123456789.,+-eE") < n)
        return tb_fail(err, TB_EINVAL, "'%s' is not a number", shown(safe, text));
    memcpy(plain, text, n);
    plain[n] = '\0';
    comma = strchr(plain, ',');
    if (comma && !strchr(plain, '.'))
        *comma = '.';
    v = strtod(plain, &end);
    if (*end || end == plain || !isfinite(v))
        return tb_fail(err, TB_EINVAL, "'%s' is not a number", plain);
    *out = v;
    return TB_OK;
}

void tb_lab_masses_start(struct tb_lab_masses *m, enum tb_lab_route route, size_t fibres,
                         const char *const *names)
{
    *m = (struct tb_lab_masses){ .route = route, .fibres = fibres, .names = names };
}

/* By hand a reading is the mass of a fibre and has its name. */
static const char *reading_name(const struct tb_lab_masses *m, size_t k)
{
    return m->route == TB_LAB_HAND ? m->names[k] : tb_lab_input_name(m->route, k);
}

static size_t readings(const struct tb_lab_masses *m)
{
    return tb_lab_inputs(m->route, m->fibres);
}

/* Which reading a heading names: -1 one to pass over, -2 none we know. */
static int reading_of(const struct tb_lab_masses *m, const char *heading)
{
    static const char *const passed[] = { "id", "determination", "note", "" };

    for (size_t k = 0; k < readings(m); k++)
        if (tb_fold_same(heading, reading_name(m, k)))
            return (int)k;
    for (size_t i = 0; i < TB_COUNT(passed); i++)
        if (tb_fold_same(heading, passed[i]))
            return -1;
    return -2;
}

/* The columns that are known are named, since the table was typed by somebody. */
static tb_rc unknown_heading(const struct tb_lab_masses *m, const char *heading, size_t line,
                             struct tb_err *err)
{
    struct tb_text want = { 0 };
    char safe[SHOWN_MOST];
    tb_rc rc;

    for (size_t k = 0; k < readings(m); k++)
        tb_text_addf(&want, "%s%s", k ? ", " : "", reading_name(m, k));
    rc = tb_fail(err, TB_EINVAL, "line %zu: no reading is called '%s'; the columns are %s", line,
                 shown(safe, heading), tb_text_str(&want));
    tb_text_free(&want);
    return rc;
}

/* Every reading must have a column: a missing one cannot be guessed from the others. */
static tb_rc take_heading(struct tb_lab_masses *m, const char *const *cell, size_t n, size_t line,
                          struct tb_err *err)
{
    bool seen[TB_LAB_INPUTS_MOST] = { false };

    if (n > TB_COUNT(m->reading))
        return tb_fail(err, TB_EINVAL, "line %zu: %zu columns; a table of masses has a handful", line, n);
    for (size_t c = 0; c < n; c++) {
        int k = reading_of(m, cell[c]);

        if (k == -2)
            return unknown_heading(m, cell[c], line, err);
        if (k >= 0 && seen[k])
            return tb_fail(err, TB_EINVAL, "line %zu: there are two columns '%s'", line, cell[c]);
        if (k >= 0)
            seen[k] = true;
        m->reading[c] = k;
    }
    for (size_t k = 0; k < readings(m); k++)
        if (!seen[k])
            return tb_fail(err, TB_EINVAL, "line %zu: there is no column '%s'", line, reading_name(m, k));
    m->columns = n;
    m->headed = true;
    return TB_OK;
}

static bool empty_row(const char *const *cell, size_t n)
{
    for (size_t c = 0; c < n; c++)
        if (cell[c][strspn(cell[c], " \t")])
            return false;
    return true;
}

/* The row is checked as it comes, so that the sentence can name its line. */
tb_rc tb_lab_masses_row(struct tb_lab_masses *m, const char *const *cell, size_t n, size_t line,
                        struct tb_err *err)
{
    struct tb_lab_det det = { { 0 } };
    bool filled[TB_LAB_INPUTS_MOST] = { false };
    tb_rc rc;

    if (empty_row(cell, n))
        return TB_OK;
    if (!m->headed)
        return take_heading(m, cell, n, line, err);
    if (m->n == TB_LAB_DETS_MOST)
        return tb_fail(err, TB_EINVAL, "line %zu: more than %d determinations", line, TB_LAB_DETS_MOST);
    for (size_t c = 0; c < n && c < m->columns; c++) {
        int k = m->reading[c];

        if (k < 0)
            continue;
        if ((rc = tb_lab_number(&det.in[k], cell[c], err)) != TB_OK)
            return tb_within(err, rc, "line %zu, column %s", line, reading_name(m, (size_t)k));
        filled[k] = true;
    }
    for (size_t k = 0; k < readings(m); k++)
        if (!filled[k])
            return tb_fail(err, TB_EINVAL, "line %zu: %s is missing", line, reading_name(m, k));
    if ((rc = tb_lab_check(m->route, m->fibres, &det, err)) != TB_OK)
        return tb_within(err, rc, "line %zu", line);
    m->det[m->n++] = det;
    return TB_OK;
}

tb_rc tb_lab_masses_end(const struct tb_lab_masses *m, struct tb_err *err)
{
    if (!m->headed)
        return tb_fail(err, TB_EINVAL, "the table of masses is empty");
    if (m->n == 0)
        return tb_fail(err, TB_EINVAL, "the table of masses has headings and no determination");
    return TB_OK;
}
