/* A supplier's record in words: the share, on whom its estimate leans, a change, and the advice with its reason. */
#include "base/say.h"
#include "tenterbook/tell.h"

#include <stdlib.h>

char *tb_record_why(const struct tb_record *r)
{
    struct tb_text t = { 0 };

    switch (r->ground) {
    case TB_GROUND_RULE:
        tb_text_add(&t, _(r->state.why));
        break;
    case TB_GROUND_CHANGE:
        tb_text_addf(&t, _("more lots were wrong than usual, noticed with lot %s on %s"),
                     r->lot[r->alarm_at].ref, r->lot[r->alarm_at].arrived);
        break;
    case TB_GROUND_NOT_JUDGED:
        tb_text_add(&t, _("no lot of theirs was judged yet"));
        break;
    case TB_GROUND_NOTHING:
        tb_text_add(&t, _("nothing in the record asks for a change"));
        break;
    }
    return tb_text_take(&t);
}

/* An estimate that leans on others says on whom. */
static void prior_words(struct tb_text *out, const struct tb_supplier_record *s)
{
    const struct tb_beta *prior = &s->record.prior;
    double weight = prior->a + prior->b;
    char mean[TB_PERCENT];

    (void)tb_percent(mean, prior->a / weight);
    if (s->prior_own)
        tb_text_say(
            out,
            "The estimate leans on this site's other suppliers (mean %s). How alike suppliers are is known "
            "only so far that this counts like %.0f to %.0f lots (95 %%); the interval allows for that.\n",
            mean, s->record.belief->lightest, s->record.belief->heaviest);
    else
        tb_text_say(
            out,
            "Until this site has a record of its own, published rates take its place (mean %s, counted "
            "like %.0f lots). Inspectors chose those samples: an upper guide.\n",
            mean, weight);
}

static void share_words(struct tb_text *out, const struct tb_record *r)
{
    char mean[TB_PERCENT], lo[TB_PERCENT], hi[TB_PERCENT], conf[TB_PERCENT];

    tb_text_say(out,
                "About %s of the lots from this supplier will count as not as declared: with %s probability "
                "between %s and %s.\n",
                tb_percent(mean, r->post.mean), tb_percent(conf, r->conf), tb_percent(lo, r->post.lo),
                tb_percent(hi, r->post.hi));
    if (r->own.lots > 0)
        tb_text_say(out,
                    "Their own lots alone, %ld not as declared of %ld judged: between %s and %s (exact).\n",
                    r->own.wrong, r->own.lots, tb_percent(lo, r->exact[0]), tb_percent(hi, r->exact[1]));
    else
        tb_text_say(out, "None of their lots was judged yet; this is what is usual elsewhere.\n");
}

static void advice_words(struct tb_text *out, const struct tb_record *r)
{
    static const char *const words[] = {
        N_("Next delivery: keep the inspection as it is: %s.\n"),
        N_("Next delivery: tighten the inspection: %s.\n"),
        N_("Next delivery: the inspection may be reduced: %s.\n"),
        N_("Next delivery: accept nothing until the cause is put right: %s.\n"),
    };
    char *why = tb_record_why(r);

    tb_text_say(out, words[r->advice], why);
    free(why);
}

/* How often the sum calls without reason stands beside what it found, or did not find. */
static void change_words(struct tb_text *out, const struct tb_record *r)
{
    char usual[TB_PERCENT]; /* the share the sum takes as usual, which is kept in bounds */

    if (r->n == 0)
        return;
    if (r->alarm_at < r->n)
        tb_text_say(out, "A change for the worse began about %s and was noticed with lot %s on %s.\n",
                    r->lot[r->since].arrived, r->lot[r->alarm_at].ref, r->lot[r->alarm_at].arrived);
    else
        tb_text_say(out, "No change was noticed.\n");
    tb_text_say(
        out,
        "(Against a usual share of %s; one false alarm in %.0f lots, a doubled share noticed after %.0f "
        "on average.)\n",
        tb_percent(usual, r->cusum.p0), r->cusum.run_usual, r->cusum.run_found);
}

void tb_supplier_record_words(struct tb_text *out, const struct tb_supplier_record *s)
{
    const struct tb_record *r = &s->record;

    if (s->supplier.name)
        tb_text_addf(out,
                     _n("%s: %ld lot, %ld judged, %ld not as declared.\n",
                        "%s: %ld lots, %ld judged, %ld not as declared.\n", s->lots),
                     s->supplier.name, s->lots, r->own.lots, r->own.wrong);
    share_words(out, r);
    prior_words(out, s);
    if (!s->supplier.name)
        return;
    advice_words(out, r);
    change_words(out, r);
    tb_text_say(
        out,
        "A lot counts as not as declared when a laboratory found its words broken in a market, or, where "
        "none has "
        "answered, when what was burnt and tested contradicts them; as judged when one of these says that it "
        "does not, or that nothing was found against it. A lot that was looked at and is still open is not "
        "judged: the month's sheets count it among those looked at. What was decided of it does not count: "
        "goods go "
        "back "
        "for being late, too. A burn is not an analysis.\n"
        "This stands beside the evidence of a burn and is never part of it.\n");
}
