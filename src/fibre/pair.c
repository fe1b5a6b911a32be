/*
 * Which figure belongs to which fibre. Where there is more than one way, no fibre is given anything: a figure given to
 * the wrong fibre would be believed, a doubt is asked.
 */
#include "fibre/atoms.h"

#include <stdlib.h>

static size_t run_length(const struct tb_atom *a, size_t n)
{
    size_t k = 1;

    while (k < n && a[k].figure == a[0].figure)
        k++;
    return k;
}

static void give(struct tb_atom *fibre, const struct tb_atom *figure)
{
    fibre->pct = figure->t;
}

/* k figures and k fibres in a row, whichever come first: by order. */
static bool pair_runs(struct tb_atom *a, size_t n)
{
    size_t k = run_length(a, n);

    if (2 * k != n || run_length(a + k, n - k) != k)
        return false;
    for (size_t i = 0; i < k; i++)
        if (a[0].figure)
            give(&a[k + i], &a[i]);
        else
            give(&a[i], &a[k + i]);
    return true;
}

/* Figure, fibre, figure, fibre ... : pair after pair, each of equal runs. */
static bool pair_all(struct tb_atom *a, size_t n)
{
    size_t at = 0;

    while (at < n) {
        size_t k = run_length(a + at, n - at);

        if (at + 2 * k > n || run_length(a + at + k, n - at - k) < k)
            return false;
        if (run_length(a + at + k, n - at - k) != k)
            return false;
        at += 2 * k;
    }
    for (at = 0; at < n;) {
        size_t k = run_length(a + at, n - at);

        (void)pair_runs(a + at, 2 * k);
        at += 2 * k;
    }
    return n > 0;
}

/*
 * Without the unknown words: they may be a colour or a name, not a fibre. They are asked about in any case, and the
 * known fibres need not wait for the answer.
 */
static bool pair_without_unknown(struct tb_atom *a, size_t n)
{
    struct tb_atom *known = tb_array(struct tb_atom, n);
    size_t *from = tb_array(size_t, n), m = 0;
    bool any = false, ok;

    for (size_t i = 0; i < n; i++) {
        if (a[i].unknown) {
            any = true;
            continue;
        }
        from[m] = i;
        known[m++] = a[i];
    }
    ok = any && m && pair_all(known, m);
    for (size_t i = 0; ok && i < m; i++)
        a[from[i]] = known[i];
    free(known);
    free(from);
    return ok;
}

static bool only_fibres(const struct tb_atom *a, size_t n)
{
    for (size_t i = 0; i < n; i++)
        if (a[i].figure)
            return false;
    return true;
}

static void pair_statement(struct tb_declaration *d, struct tb_atom *a, size_t n);

/*
 * "97% CO/3% EL", "wool/20% nylon": each side of a slash for itself, when each is complete or has no figure. A slash
 * between fibres that share figures ("T/C 65/35") has been paired by order before it comes to this.
 */
static bool pair_by_slash(struct tb_declaration *d, struct tb_atom *a, size_t n)
{
    bool any = false;

    for (size_t i = 0, k; i < n; i = k) {
        for (k = i + 1; k < n && !a[k].slash; k++)
            ;
        any |= k < n;
        if (!only_fibres(a + i, k - i) && !(k - i == 2 && a[i].figure != a[i + 1].figure))
            return false;
    }
    for (size_t i = 0, k; any && i < n; i = k) {
        for (k = i + 1; k < n && !a[k].slash; k++)
            ;
        pair_statement(d, a + i, k - i);
    }
    return any;
}

/* From the surest way to the least sure one. */
static void pair_statement(struct tb_declaration *d, struct tb_atom *a, size_t n)
{
    if (n == 0 || only_fibres(a, n) || pair_all(a, n) || pair_without_unknown(a, n))
        return;
    if (pair_by_slash(d, a, n))
        return;
    for (size_t i = 0; i < n; i++)
        if (a[i].figure)
            tb_doubt_add(d, TB_DOUBT_NUMBER, a[i].t->at, a[i].t->len, NULL,
                         "it is not clear which fibre '%.*s' belongs to", (int)a[i].t->len,
                         d->text + a[i].t->at);
}

void tb_pair_part(struct tb_declaration *d, struct tb_part_text *p)
{
    if (pair_runs(p->atom, p->n)) /* "cotton, polyester 65/35": by order, whatever stands between */
        return;
    for (size_t i = 0, k; i < p->n; i = k) {
        for (k = i + 1; k < p->n && !p->atom[k].comma; k++)
            ;
        pair_statement(d, p->atom + i, k - i);
    }
}
