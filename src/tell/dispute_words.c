/* Disputes and joint samples in words. */
#include "base/say.h"
#include "tenterbook/figure.h"
#include "tenterbook/tell.h"

#include <math.h>

const char *tb_no_advice_words(void)
{
    return _("Information, not legal advice: the contract, the official text and local counsel decide.\n");
}

const char *tb_dispute_step_words(enum tb_tongue to, enum tb_step_kind step)
{
    return step == TB_OPENED      ? tb_tr(to, "opened")
           : step == TB_NOTIFIED  ? tb_tr(to, "supplier told")
           : step == TB_ANSWERED  ? tb_tr(to, "supplier answered")
           : step == TB_AGREED    ? tb_tr(to, "agreed")
           : step == TB_RECOVERED ? tb_tr(to, "came in")
                                  : tb_tr(to, "closed");
}

/* A step shows only what was said of it. */
static void step_words(struct tb_text *out, const struct tb_dispute_step *s)
{
    struct tb_text t = { 0 };

    tb_text_add(&t, tb_dispute_step_words(TB_READER, s->step));
    if (s->remedy != TB_REMEDY_NONE)
        tb_text_addf(&t, " %s", tb_remedy_key(s->remedy));
    if (!isnan(s->amount))
        tb_part(&t, "%.2f %s", tb_cents(s->amount), s->currency);
    if (*s->channel)
        tb_part(&t, "by %s", s->channel);
    if (*s->proof)
        tb_part(&t, "proof %s", s->proof);
    if (s->due)
        tb_part(&t, "due %s", s->due);
    if (s->keep_until)
        tb_part(&t, "file kept until %s", s->keep_until);
    tb_text_addf(out, *s->words ? "  %s %s (%s): %s\n" : "  %s %s (%s)\n", s->day, t.s, s->recorded_by,
                 s->words);
    if (s->document)
        tb_text_say(out, "    document %s, SHA-256 %s\n", s->document_name, s->document_sha256);
    tb_text_free(&t);
}

void tb_void_papers_words(struct tb_text *out, enum tb_tongue to, const struct tb_voidings *v)
{
    for (size_t i = 0; i < v->analyses; i++) {
        const struct tb_analysis *a = &v->analysis[i];

        tb_text_addf(out, tb_tr(to, "Void: what %s found on %s: %s\n"),
                     a->laboratory[0] ? a->laboratory : tb_tr(to, "a laboratory not named"), a->analysed_on,
                     a->found);
    }
    for (size_t i = 0; to == TB_READER && i < v->steps; i++) {
        tb_text_say(out, "Void:");
        step_words(out, &v->step[i]);
    }
}

void tb_disputes_words(struct tb_text *out, const struct tb_claim *c)
{
    for (size_t i = 0; i < c->disputes; i++) {
        const struct tb_dispute *d = &c->dispute[i];

        tb_text_say(out,
                    tb_dispute_last(d, TB_CLOSED) ? N_("Dispute %lld, closed\n") : N_("Dispute %lld, open\n"),
                    (long long)d->serial);
        for (size_t k = 0; k < d->steps; k++)
            step_words(out, &d->step[k]);
    }
}

/* What is awaited for goods that went back; of what was cut off them here nobody is asked a credit. */
static void returned_words(struct tb_text *out, const struct tb_claim_open *o)
{
    tb_text_say(out, "Went back: invoiced at %.2f %s\n", o->invoiced.amount, o->invoiced.currency);
    if (!(o->cut_off > 0))
        return;
    tb_text_say(out,
                o->reckoned ? N_("  without %.2f m that were cut off here before; what is left is reckoned "
                                 "from the metres\n")
                            : N_("  without %.2f m that were cut off here before\n"),
                o->cut_off);
}

/* What is next stands first. */
void tb_lot_claim_words(struct tb_text *out, const struct tb_lot_claim *now)
{
    const struct tb_claim_open *o = &now->open;
    char left[TB_COUNTED];

    if (*o->due)
        tb_text_say(out, "Lot %s, %s: %s, due %s, %s%s\n", o->lot, o->supplier,
                    tb_claim_state_words(o->state), o->due, tb_days_words(left, o->left),
                    o->overdue ? _(", OVERDUE") : "");
    else
        tb_text_say(out, "Lot %s, %s: %s\n", o->lot, o->supplier, tb_claim_state_words(o->state));
    tb_disputes_words(out, &now->claim);
    if (o->returned_on)
        returned_words(out, o);
    tb_claim_words(out, &now->claim, &now->lot);
    tb_text_add(out, tb_no_advice_words());
}

/* A dash for a holder without pieces: that it got none is what the other side will ask. */
static void holder_words(struct tb_text *out, const struct tb_joint_sample *j, enum tb_holder_kind holder,
                         const char *name)
{
    struct tb_text pieces = { 0 };

    for (size_t i = 0; i < j->pieces; i++)
        if (j->piece[i].holder == holder)
            tb_part(&pieces, "%s", j->piece[i].tag);
    tb_text_addf(out, "  %s: %s\n", name, pieces.n ? pieces.s : "-");
    tb_text_free(&pieces);
}

void tb_joint_words(struct tb_text *out, const struct tb_joint_sample *j)
{
    tb_text_say(out, "Joint sample %lld: %lld retained swatches dealt at %s by %s, seed %s\n",
                (long long)j->serial, (long long)j->swatches, j->dealt_at, j->dealt_by, j->seed);
    holder_words(out, j, TB_HOLDER_SUPPLIER, _("to the supplier"));
    holder_words(out, j, TB_HOLDER_LABORATORY, *j->laboratory ? j->laboratory : _("to the laboratory"));
    holder_words(out, j, TB_HOLDER_OWN, _("own shelf"));
    if (*j->rule)
        tb_text_say(out, "  agreed: %s\n", j->rule);
    if (*j->present)
        tb_text_say(out, "  present: %s\n", j->present);
}
