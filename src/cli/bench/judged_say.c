/* The verdict after a record, in words: what every command says that changes what is known of a lot. */
#include "cli/show.h"

/* A hold that goes against a decision says so, and so does a decision that goes on against a verdict. */
void tb_hold_words(struct tb_text *out, const struct tb_rejudged *r)
{
    const struct tb_settled *was = &r->before;
    char standing[TB_COUNTED];

    if (r->held && r->lot.standing == TB_HELD && was->standing == TB_HELD)
        tb_text_say(out,
                    "The lot stays held: no bolt of it goes into use until somebody settles it (tenterbook "
                    "settle %s --as ... --why ...).\n",
                    r->lot.ref);
    else if (r->held && was->standing == TB_STANDING_NONE)
        tb_text_say(out,
                    "The lot is now held: no bolt of it goes into use until somebody settles it (tenterbook "
                    "settle %s --as ... --why ...).\n",
                    r->lot.ref);
    else if (r->held)
        tb_text_say(
            out,
            "The lot is now held again: this evidence is newer than the decision of %s at %s (%s). No bolt "
            "of it goes into use until somebody settles it (tenterbook settle %s --as ... --why ...).\n",
            was->settled_by, was->settled_at, tb_standing_key(was->standing), r->lot.ref);
    else if (r->kept)
        tb_text_say(out,
                    "The lot stays %s: %s decided so at %s, and nothing of it was burned, tested or declared "
                    "since.\n",
                    tb_lot_standing_words(standing, TB_READER, &r->lot), was->settled_by, was->settled_at);
}

void tb_lifted_words(struct tb_text *out, const struct tb_rejudged *r)
{
    char standing[TB_COUNTED];

    if (r->lifted)
        tb_text_say(out,
                    "The hold is lifted: the verdict that made it does not count any more, and nothing else "
                    "holds the lot. It is %s.\n",
                    tb_lot_standing_words(standing, TB_READER, &r->lot));
    if (r->disputed)
        tb_text_say(out, "The lot stays held: a dispute about it is open.\n");
}

void tb_corrected_words(struct tb_text *out, const struct tb_rejudged *r)
{
    tb_lifted_words(out, r);
    if (r->stays)
        tb_text_say(out,
                    "The lot stays %s: that was decided on %s, when what is corrected counted, and may rest "
                    "on it. Decide again: tenterbook settle %s --as ...\n",
                    tb_standing_key(r->lot.standing), r->stays, r->lot.ref);
}

void tb_their_words(struct tb_text *out, const struct tb_rejudged *r)
{
    if (!r->said)
        return;
    if (*r->said)
        tb_text_say(out, "%s declared of lot %s: \"%s\".\n", r->lot.supplier_name, r->lot.ref, r->said);
    else
        tb_text_say(out, "%s declared nothing of lot %s.\n", r->lot.supplier_name, r->lot.ref);
    tb_concluded_words_add(out, TB_READER, &r->concluded);
}

/* "Lot M26-001.01, declared "100% silk"": of whose words the rest speaks. */
static void whose_words(struct tb_text *out, const struct tb_lot *lot, bool ours)
{
    if (!*lot->declared)
        tb_text_addf(out, _("Lot %s, of which nothing is declared: "), lot->ref);
    else if (ours)
        tb_text_addf(out, _("Lot %s, under our own label \"%s\": "), lot->ref, lot->declared);
    else
        tb_text_addf(out, _("Lot %s, declared \"%s\": "), lot->ref, lot->declared);
}

void tb_rejudged_words(struct tb_text *out, const struct tb_rejudged *r)
{
    const struct tb_verdict *v = &r->v.verdict;
    struct tb_text t = { 0 };

    tb_their_words(out, r);
    tb_laboratory_words(out, TB_READER, &r->laboratory, r->lot.declared, v->grade);
    whose_words(&t, &r->lot, r->said != NULL);
    tb_text_add(&t, tb_word(&tb_grade_words, (int)v->grade));
    if (v->reason) {
        tb_text_addf(&t, " (%s)", v->reason);
    } else {
        tb_text_add(&t, ", ");
        tb_strength_words(&t, TB_READER, v->log_ratio, &v->bounds, v->at_odds);
    }
    tb_text_add(&t, "; ");
    tb_bench_coverage(&t, TB_READER, r->lot.bolts_burnt, r->lot.bolts_tested, r->lot.bolts);
    tb_text_addf(out, "%s.\n", t.s);
    tb_hold_words(out, r);
    if (v->unburnable)
        tb_unburnable_words(out, "");
    if (v->reason) /* nothing that it could be held against: then what it is */
        tb_verdict_likeliest(out, v);
    tb_verdict_confirm(out, v); /* whoever holds cloth up should know what would end it */
    tb_text_free(&t);
}
