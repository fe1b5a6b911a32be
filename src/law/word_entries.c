/*
 * word_entries.c - the shares of a part as a label lists them: which are named, which go together, in what order.
 */
#include "law/wording.h"

#include <assert.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

/* --- what is named ----------------------------------------------------------------------------------------------- */

static bool same_past(const struct tb_share *a, const struct tb_share *b)
{
    return !((a->marks ^ b->marks) & TB_MARK_RECYCLED);
}

static bool past_counts(const struct wording *w, const struct tb_share *a, const struct tb_share *b)
{
    return !same_past(a, b) && (a->fibre != b->fibre || tb_law_past_counts(w->at, a->fibre));
}

/* % of the part that goes under the same name: silk and weighted silk are both silk, and so is recycled silk in most laws. */
static double under_one_name(const struct wording *w, const struct tb_part *p, const struct tb_share *s)
{
    double sum = s->percent;

    for (size_t i = 0; i < p->n; i++)
        if (&p->share[i] != s && p->share[i].fibre >= 0 && !past_counts(w, &p->share[i], s) &&
            tb_law_same_name(w->at->law, w->m, p->share[i].fibre, s->fibre, w->lang[0]))
            sum += p->share[i].percent;
    return sum;
}

/*
 * Below the market's line and without a purpose: the fibre goes to "other fibre". Its share is that of its name: 3 %
 * silk and 3 % weighted silk are 6 % silk.
 */
static bool goes_to_others(const struct wording *w, const struct tb_part *p, const struct tb_share *s)
{
    const struct tb_ref_law_rule *small = tb_law_rule(w->at, "small", NULL);

    if (s->fibre < 0)
        return true;
    return small && tb_law_allows(small, under_one_name(w, p, s)) &&
           !tb_law_named_when_small(w->at, s->fibre);
}

/* A named fibre whose name takes in the small one: 4 % modal is rayon where rayon is named. NULL: there is none. */
static const struct tb_share *wider(const struct wording *w, const struct tb_part *p,
                                    const struct tb_share *small)
{
    for (size_t i = 0; i < p->n && small->fibre >= 0; i++) {
        const struct tb_share *s = &p->share[i];

        if (s->fibre >= 0 && s->fibre != small->fibre && !goes_to_others(w, p, s) && same_past(s, small) &&
            tb_law_name_covers(w->m, s->fibre, small->fibre))
            return s;
    }
    return NULL;
}

/* --- entries ----------------------------------------------------------------------------------------------------- */

static tb_rc name_entry(const struct wording *w, const struct tb_share *s, size_t fibres, struct entry *e)
{
    tb_rc rc = TB_OK;

    for (size_t i = 0; i < w->langs && rc == TB_OK; i++)
        rc = tb_law_word_fibre(w, s, fibres, w->lang[i], &e->text[i]);
    return rc;
}

/* Two fibres under one name are one line: viscose and modal are both rayon. */
static void put_entry(struct entry *list, size_t *n, struct entry e)
{
    assert(e.text[0]); /* a label has one language at least */
    for (size_t i = 0; i < *n; i++)
        if (strcmp(list[i].text[0], e.text[0]) == 0) {
            list[i].percent += e.percent;
            return;
        }
    e.place = *n;
    list[(*n)++] = e;
}

/* "Other fibres" last, whatever their share. */
static int by_percent(const void *a, const void *b)
{
    const struct entry *x = a, *y = b;

    if (x->last != y->last)
        return x->last ? 1 : -1;
    if (fabs(x->percent - y->percent) > PERCENT_NEAR)
        return x->percent > y->percent ? -1 : 1;
    return (x->place > y->place) - (x->place < y->place);
}

/* --- what is not named ------------------------------------------------------------------------------------------- */

static bool part_has(const struct tb_part *p, int fibre)
{
    for (size_t i = 0; i < p->n; i++)
        if (p->share[i].fibre == fibre)
            return true;
    return false;
}

/* The market's caps on "other fibres": one fibre, several together, or none from the share where a fibre is named. */
static tb_rc others_allowed(const struct wording *w, const struct tb_part *p, double sum, size_t several)
{
    const struct tb_ref_law_rule *one = tb_law_rule(w->at, "other", "one"),
                                 *all = tb_law_rule(w->at, "other", "sum"),
                                 *named = tb_law_rule(w->at, "disclose", NULL);

    if (part_has(p, TB_FIBRE_UNKNOWN))
        return tb_fail(
            w->err, TB_EREFUSED,
            "part of the composition is unknown: find out what it is, or say by hand why it cannot be");
    if (w->at->label->together && !w->at->q->found)
        return tb_fail(w->err, TB_EREFUSED,
                       "fibres that are listed together under one figure are worded by hand");
    if (all && !tb_law_allows(all, sum))
        return tb_fail(w->err, TB_EREFUSED, "'other fibres' would make up %g %%; at most %g %% may", sum,
                       all->number);
    if (one && several == 1 && !tb_law_allows(one, sum))
        return tb_fail(w->err, TB_EREFUSED,
                       "one fibre of %g %% cannot stand as 'other fibres': at most %g %% may", sum,
                       one->number);
    if (named && part_has(p, TB_FIBRE_OTHER) && several == 1 && tb_law_allows(named, sum))
        return tb_fail(w->err, TB_EREFUSED, "other fibre makes up %g %%: from %g %% on a fibre is named", sum,
                       named->number);
    return TB_OK;
}

/* How many fibres a share that is not named stands for; a sum nobody counted is several. */
static size_t fibres_in(const struct wording *w, const struct tb_share *s)
{
    if (s->fibre >= 0)
        return 1;
    return w->others ? w->others : 2;
}

static tb_rc add_others(const struct wording *w, const struct tb_part *p, struct entry *list, size_t *n)
{
    struct entry e = { .last = true };
    size_t several = 0;
    tb_rc rc = TB_OK;

    for (size_t i = 0; i < p->n; i++)
        if (goes_to_others(w, p, &p->share[i]) && !wider(w, p, &p->share[i])) {
            e.percent += p->share[i].percent;
            several += fibres_in(w, &p->share[i]);
        }
    if (e.percent <= 0)
        return TB_OK;
    if ((rc = others_allowed(w, p, e.percent, several)) != TB_OK)
        return rc;
    for (size_t i = 0; i < w->langs && rc == TB_OK; i++)
        rc = tb_law_word_others(w, several > 1, w->lang[i], &e.text[i]);
    if (rc == TB_OK)
        list[(*n)++] = e;
    return rc;
}

/* --- the part ---------------------------------------------------------------------------------------------------- */

static tb_rc wrong_sum(const struct wording *w, double sum)
{
    struct tb_text t = { 0 };
    tb_rc rc;

    tb_law_percent(&t, sum);
    rc = tb_fail(w->err, TB_EREFUSED, "the shares add up to %s %%, not 100, so no label can be worded",
                 tb_text_str(&t));
    tb_text_free(&t);
    return rc;
}

static tb_rc check_part(const struct wording *w, const struct tb_part *p)
{
    double sum = tb_part_sum(p);

    if (p->n == 0)
        return tb_fail(w->err, TB_EREFUSED, "there is no fibre to name");
    if (p->n >= WORDING_SHARES_MOST) /* one is kept for "other fibres" */
        return tb_fail(w->err, TB_EREFUSED, "a label of %zu fibres cannot be set", p->n);
    if (isnan(sum))
        return tb_fail(w->err, TB_EREFUSED, "a share has no percentage, so no label can be worded");
    for (size_t i = 0; i < p->n; i++)
        if (!(p->share[i].percent > 0 && p->share[i].percent <= 100))
            return tb_fail(w->err, TB_EREFUSED, "a share of %g %% cannot stand on a label",
                           p->share[i].percent);
    return fabs(sum - 100) > TB_LAW_SUM_NEAR + PERCENT_NEAR ? wrong_sum(w, sum) : TB_OK;
}

static tb_rc add_entry(const struct wording *w, const struct tb_part *p, const struct tb_share *s,
                       struct entry *list, size_t *n)
{
    struct entry e = { .percent = s->percent };
    const struct tb_share *under = goes_to_others(w, p, s) ? wider(w, p, s) : s;
    tb_rc rc = under ? name_entry(w, under, p->n, &e) : TB_OK;

    if (rc == TB_OK && under)
        put_entry(list, n, e);
    return rc;
}

tb_rc tb_law_entries(const struct wording *w, const struct tb_part *p, struct entry *list, size_t *n)
{
    tb_rc rc = check_part(w, p);

    *n = 0;
    for (size_t i = 0; rc == TB_OK && i < p->n; i++)
        rc = add_entry(w, p, &p->share[i], list, n);
    if (rc == TB_OK && *n == 0)
        rc = tb_fail(w->err, TB_EREFUSED, "no fibre reaches the share from which it is named");
    if (rc == TB_OK)
        rc = add_others(w, p, list, n);
    qsort(list, *n, sizeof *list, by_percent);
    return rc;
}
