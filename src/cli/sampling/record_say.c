/* A supplier's record in words. */
#include "cli/sampling/record.h"

#include <stdlib.h>

/* An estimate that leans on others says on whom. */
static void say_prior(FILE *out, const struct tb_supplier_record *s)
{
    const struct tb_beta *prior = &s->record.prior;
    double weight = prior->a + prior->b;
    char mean[TB_PERCENT];

    (void)tb_percent(mean, prior->a / weight);
    if (s->prior_own)
        tb_say(out, "The estimate leans on this site's other suppliers (mean %s, counted like %.0f lots).\n",
               mean, weight);
    else
        tb_say(out,
               "Until this site has a record of its own, published rates take its place (mean %s, counted "
               "like %.0f lots). Inspectors chose those samples: an upper guide.\n",
               mean, weight);
}

static void say_share(FILE *out, const struct tb_record *r)
{
    char mean[TB_PERCENT], lo[TB_PERCENT], hi[TB_PERCENT], conf[TB_PERCENT];

    tb_say(out,
           "About %s of the lots from this supplier will count as not as declared: with %s probability "
           "between %s and %s.\n",
           tb_percent(mean, r->post.mean), tb_percent(conf, r->conf), tb_percent(lo, r->post.lo),
           tb_percent(hi, r->post.hi));
    if (r->own.lots > 0)
        tb_say(out, "Their own lots alone, %ld not as declared of %ld judged: between %s and %s (exact).\n",
               r->own.wrong, r->own.lots, tb_percent(lo, r->exact[0]), tb_percent(hi, r->exact[1]));
    else
        tb_say(out, "None of their lots was judged yet; this is what is usual elsewhere.\n");
}

static void say_advice(FILE *out, const struct tb_record *r)
{
    static const char *const words[] = {
        N_("Next delivery: keep the inspection as it is: %s.\n"),
        N_("Next delivery: tighten the inspection: %s.\n"),
        N_("Next delivery: the inspection may be reduced: %s.\n"),
        N_("Next delivery: accept nothing until the cause is put right: %s.\n"),
    };
    char *why = tb_record_why(r);

    tb_say(out, words[r->advice], why);
    free(why);
}

/* How often the sum calls without reason stands beside what it found, or did not find. */
static void say_change(FILE *out, const struct tb_record *r)
{
    char usual[TB_PERCENT];

    (void)tb_percent(usual, r->cusum.p0); /* the share the sum takes as usual, which is kept in bounds */
    if (r->n == 0)
        return;
    if (r->alarm_at < r->n)
        tb_say(out, "A change for the worse began about %s and was noticed with lot %s on %s.\n",
               r->lot[r->since].arrived, r->lot[r->alarm_at].ref, r->lot[r->alarm_at].arrived);
    else
        tb_say(out, "No change was noticed.\n");
    tb_say(out,
           "(Against a usual share of %s; one false alarm in %.0f lots, a doubled share noticed after %.0f "
           "on average.)\n",
           usual, r->cusum.run_usual, r->cusum.run_found);
}

/* Too few lots in a month can never be an alarm, and the row says so. */
static void month_row(struct tb_table *t, const struct tb_record_month *m)
{
    tb_table_cell(t, "%s", m->month);
    tb_table_cell(t, "%ld", m->lots);
    tb_table_cell(t, "%ld", m->wrong);
    if (m->high <= m->lots)
        tb_table_cell(t, "%ld", m->high);
    else
        tb_table_cell(t, "%s", _("too few lots"));
    tb_table_cell(t, "%s",
                  m->wrong >= m->high  ? _("more than chance explains")
                  : m->wrong <= m->low ? _("fewer than chance explains")
                                       : "");
}

static tb_rc say_months(FILE *out, const struct tb_record *r, struct tb_err *err)
{
    const char *const head[] = { _("MONTH"), _("JUDGED"), _("NOT AS DECLARED"), _("ALARM AT"), "" };
    struct tb_record_month *m = tb_array(struct tb_record_month, r->n + 1);
    struct tb_table t;
    size_t n = 0;
    tb_rc rc = tb_record_months(m, &n, r, err);

    if (rc == TB_OK && n > 0) {
        tb_table_head(&t, head, TB_COUNT(head));
        for (size_t i = 0; i < n; i++)
            month_row(&t, &m[i]);
        (void)fputc('\n', out);
        tb_table_print(&t, out, "lrrrl", 40);
    }
    free(m);
    return rc;
}

tb_rc record_say(FILE *out, const struct tb_supplier_record *s, struct tb_err *err)
{
    const struct tb_record *r = &s->record;

    if (s->supplier.name)
        tb_say(out,
               _n("%s: %ld lot, %ld judged, %ld not as declared.\n",
                  "%s: %ld lots, %ld judged, %ld not as declared.\n", s->lots),
               s->supplier.name, s->lots, r->own.lots, r->own.wrong);
    say_share(out, r);
    say_prior(out, s);
    if (!s->supplier.name)
        return TB_OK;
    say_advice(out, r);
    say_change(out, r);
    tb_say(out, "A lot counts as not as declared when it was returned or relabelled, or when its latest "
                "verdict contradicts and nobody released it; a burn is not an analysis.\n"
                "This stands beside the evidence of a burn and is never part of it.\n");
    return say_months(out, r, err);
}
