/* Tables of masses as bytes: read, checked, computed, decided; and mixtures as bytes: planned. */
#include "tenterbook/conform.h"

#include <gsl/gsl_errno.h>
#include <math.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size);

/* A failure must say what is wrong. */
static bool ok(tb_rc rc, const struct tb_err *err)
{
    if (rc != TB_OK && !err->msg[0])
        abort();
    return rc == TB_OK;
}

static void decide(const struct tb_lab_result *r)
{
    for (size_t i = 0; i < r->fibres; i++) {
        const struct tb_lab_share *s = &r->share[TB_LAB_DRY][i];
        struct tb_lab_decision d;
        struct tb_err err = { 0 };

        if (!isfinite(s->percent) || !isfinite(s->u) || !(s->low <= s->high))
            abort();
        if (ok(tb_lab_decide(&d, s->percent, s->u, s->freedom, tb_lab_limit_around(50, 3), 0.95, &err),
               &err) &&
            !(d.probability >= 0 && d.probability <= 1))
            abort();
    }
}

static void compute(const struct tb_lab_masses *m)
{
    struct tb_lab_task task;
    struct tb_lab_result r;
    struct tb_err err = { 0 };
    double sum = 0;

    tb_lab_task_init(&task, m->route, m->fibres);
    if (!ok(tb_lab_compute(&r, &task, m->det, m->n, &err), &err))
        return;
    for (size_t i = 0; i < r.fibres; i++)
        sum += r.share[TB_LAB_DRY][i].percent;
    if (fabs(sum - 100) > 1e-6)
        abort();
    decide(&r);
}

/* Lines of cells separated by commas or semicolons, as the reader of tables hands them on. */
static void table(enum tb_lab_route route, char *text)
{
    static const char *const names[] = { "cotton", "wool", "silk" };
    static struct tb_lab_masses m;
    char *line_at = NULL;
    size_t line = 0;
    struct tb_err err = { 0 };

    tb_lab_masses_start(&m, route, tb_lab_fibres_fit(route, 3) ? 3 : 2, names);
    for (char *row = strtok_r(text, "\n", &line_at); row; row = strtok_r(NULL, "\n", &line_at)) {
        const char *cell[80];
        size_t n = 0;

        for (char *c = row; c && n < TB_COUNT(cell);) {
            char *end = strpbrk(c, ";\t");

            cell[n++] = c;
            if (end)
                *end++ = '\0';
            c = end;
        }
        if (!ok(tb_lab_masses_row(&m, cell, n, ++line, &err), &err))
            return;
    }
    if (ok(tb_lab_masses_end(&m, &err), &err))
        compute(&m);
}

static void mixture(const char *text)
{
    struct tb_declaration d;
    struct tb_lab_way way[TB_LAB_WAYS_MOST];
    size_t n = 0;
    struct tb_err err = { 0 };

    tb_declaration_read(&d, text, strlen(text));
    for (size_t i = 0; i < d.comp.n; i++)
        (void)ok(tb_lab_plan(way, &n, &d.comp.part[i], NULL, &err), &err);
    tb_declaration_free(&d);
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    char *text;

    (void)gsl_set_error_handler_off();
    if (size < 2 || size > 4096)
        return 0;
    text = tb_strndup((const char *)data + 1, size - 1);
    if (data[0] % 8 == TB_LAB_ROUTES)
        mixture(text);
    else
        table((enum tb_lab_route)(data[0] % 8), text);
    free(text);
    return 0;
}
