/* Sending: swatches of a lot go to a laboratory without a joint sample. The report that comes back answers it. */
#include "work/send.h"

#include "base/say.h"
#include "tenterbook/act_lab.h"
#include "tenterbook/analysis.h"
#include "tenterbook/date.h"
#include "tenterbook/dispute.h"
#include "tenterbook/utf8.h"
#include "work/moment.h"

#include <string.h>

/* --- the laboratory ----------------------------------------------------------------------------------------------- */

tb_rc tb_laboratory_of_sendings(const char **name, struct tb_job *j, const char *lot_id)
{
    struct tb_sending *sent;
    size_t n = 0;
    tb_rc rc = *name ? tb_sending_list(&sent, &n, j->b, lot_id, j->mem, j->err) : TB_OK;

    for (size_t i = 0; i < n && rc == TB_OK; i++)
        if (tb_fold_same(*name, sent[i].laboratory))
            *name = sent[i].laboratory;
    return rc;
}

/* Or that of a report, which was typed before this was. */
static tb_rc find_laboratory(const char **name, struct tb_job *j, const char *lot_id)
{
    struct tb_analysis *a;
    size_t n = 0;
    tb_rc rc = tb_analysis_list(&a, &n, j->b, lot_id, j->mem, j->err);

    for (size_t i = 0; i < n && rc == TB_OK; i++)
        if (tb_fold_same(*name, a[i].laboratory))
            *name = a[i].laboratory;
    return rc == TB_OK ? tb_laboratory_of_sendings(name, j, lot_id) : rc;
}

tb_rc tb_sent_later(struct tb_sending *out, struct tb_job *j, const char *lot_id, const char *laboratory,
                    const char *day)
{
    struct tb_sending *sent;
    size_t n;
    tb_rc rc = tb_sending_list(&sent, &n, j->b, lot_id, j->mem, j->err);

    *out = (struct tb_sending){ 0 };
    for (size_t i = 0; i < n && rc == TB_OK; i++) {
        if (laboratory && *laboratory && strcmp(laboratory, sent[i].laboratory) != 0)
            continue;
        if (strcmp(sent[i].sent_on, day) <= 0)
            return *out = (struct tb_sending){ 0 }, TB_OK;
        if (!out->sent_on && !sent[i].answered)
            *out = sent[i];
    }
    return rc;
}

/* --- the swatches ------------------------------------------------------------------------------------------------- */

/* What was dealt is sealed, and in the hands of three: that it goes to the laboratory is said by the dealing. */
static tb_rc check_dealt(struct tb_job *j, const struct tb_swatch *w)
{
    struct tb_joint_sample *joint;
    size_t n;
    tb_rc rc = tb_joint_sample_list(&joint, &n, j->b, w->lot, j->mem, j->err);

    for (size_t i = 0; i < n && rc == TB_OK; i++)
        for (size_t k = 0; k < joint[i].pieces && rc == TB_OK; k++)
            if (strcmp(joint[i].piece[k].swatch, w->id) == 0)
                rc = tb_fail(j->err, TB_EREFUSED, "swatch %s is in joint sample %lld, which was dealt at %s",
                             w->tag, (long long)joint[i].serial, joint[i].dealt_at);
    return rc;
}

static tb_rc check_here(struct tb_job *j, const struct tb_swatch *w)
{
    struct tb_sending *sent;
    size_t n;
    tb_rc rc = tb_sending_list(&sent, &n, j->b, w->lot, j->mem, j->err);

    for (size_t i = 0; i < n && rc == TB_OK; i++)
        for (size_t k = 0; k < sent[i].pieces && rc == TB_OK && !sent[i].answered; k++)
            if (strcmp(sent[i].piece[k].swatch, w->id) == 0)
                rc = tb_fail(j->err, TB_EREFUSED,
                             "swatch %s went to %s on %s, and no report answers that yet: void the sending "
                             "%s where it never went",
                             w->tag, sent[i].laboratory, sent[i].sent_on, sent[i].id);
    return rc;
}

/* A day that cannot be is a slip of the hand as a rule. */
static tb_rc check_cut(struct tb_job *j, const struct tb_swatch *w, const char *sent_on)
{
    const struct tb_send_request *r = j->request;

    if (r->anyway || strncmp(sent_on, w->cut_at, TB_DAY_LEN) >= 0)
        return TB_OK;
    return tb_about(j->err,
                    tb_fail(j->err, TB_EREFUSED,
                            "sent on %s, but swatch %s was cut on %.*s: say that this is known, where the "
                            "day is right",
                            sent_on, w->tag, TB_DAY_LEN, w->cut_at),
                    "on anyway");
}

static tb_rc find_piece(struct tb_sending *s, struct tb_job *j, const struct tb_lot *lot, const char *tag)
{
    struct tb_swatch w;
    tb_rc rc = tb_swatch_find(&w, j->b, tag, j->mem, j->err);

    if (rc != TB_OK)
        return tb_about(j->err, rc, "swatches");
    if (!w.lot || strcmp(w.lot, lot->id) != 0)
        return tb_about(j->err, tb_fail(j->err, TB_EINVAL, "swatch %s is not of lot %s", w.tag, lot->ref),
                        "swatches");
    for (size_t i = 0; i < s->pieces; i++)
        if (strcmp(s->piece[i].swatch, w.id) == 0)
            return tb_about(j->err, tb_fail(j->err, TB_EINVAL, "swatch %s is named twice", w.tag),
                            "swatches");
    if ((rc = check_cut(j, &w, s->sent_on)) != TB_OK || (rc = check_dealt(j, &w)) != TB_OK ||
        (rc = check_here(j, &w)) != TB_OK)
        return rc;
    s->piece[s->pieces++] = (struct tb_sending_piece){
        .swatch = w.id, .tag = w.tag, .part = w.part, .bolt_number = w.bolt_number
    };
    return TB_OK;
}

/* --- the act ------------------------------------------------------------------------------------------------------ */

/* Goods that went back are decided of, unless both sides still argue about them. */
static tb_rc check_returned(struct tb_job *j, const struct tb_lot *lot)
{
    const struct tb_send_request *r = j->request;
    struct tb_dispute open;
    struct tb_settled last;
    tb_rc rc;

    if (r->anyway || lot->standing != TB_RETURNED)
        return TB_OK;
    if ((rc = tb_dispute_now(&open, j->b, lot->id, j->mem, j->err)) != TB_ENOTFOUND)
        return rc;
    if ((rc = tb_settled_latest(&last, j->b, lot->id, j->mem, j->err)) != TB_OK)
        return rc;
    return tb_about(j->err,
                    tb_fail(j->err, TB_EREFUSED,
                            "lot %s was returned on %.*s, and no dispute about it is open: say that this is "
                            "known, where a sample of it is at a laboratory all the same",
                            lot->ref, TB_DAY_LEN, last.settled_at),
                    "anyway");
}

static tb_rc plan(struct tb_job *j)
{
    const struct tb_send_request *r = j->request;
    struct tb_send_outcome *out = j->out;
    struct tb_sending *s = &out->sending;
    tb_rc rc;

    *out = (struct tb_send_outcome){ 0 };
    if (!r->laboratory || !*r->laboratory)
        return tb_about(j->err, tb_fail(j->err, TB_EINVAL, "say which laboratory it went to"), "sent-to");
    if (!r->swatches)
        return tb_about(j->err, tb_fail(j->err, TB_EINVAL, "say which swatches went to %s", r->laboratory),
                        "swatches");
    if ((rc = tb_past_day(&s->sent_on, r->sent_on, j->mem, j->err)) != TB_OK ||
        (rc = tb_job_lot(&out->lot, j, r->lot)) != TB_OK || (rc = check_returned(j, &out->lot)) != TB_OK)
        return rc;
    if (!tb_day_valid(s->sent_on))
        return tb_about(
            j->err, tb_fail(j->err, TB_EINVAL, "'%s' is not a valid date (YYYY-MM-DD)", s->sent_on), "on");
    s->laboratory = r->laboratory;
    if ((rc = find_laboratory(&s->laboratory, j, out->lot.id)) != TB_OK)
        return rc;
    s->lot = out->lot.id;
    s->piece = tb_arena_alloc(j->mem, r->swatches * sizeof *s->piece);
    for (size_t i = 0; i < r->swatches && rc == TB_OK; i++)
        rc = find_piece(s, j, &out->lot, r->swatch[i]);
    return rc;
}

/* As the book has it: the person by the name that is recorded, and the report that was typed before. */
static tb_rc write(struct tb_job *j)
{
    struct tb_send_outcome *out = j->out;
    struct tb_sending *all;
    size_t n = 0;
    tb_rc rc = tb_sending_add(&out->sending, j->b, j->mem, j->err);

    if (rc == TB_OK)
        rc = tb_sending_list(&all, &n, j->b, out->lot.id, j->mem, j->err);
    for (size_t i = 0; i < n && rc == TB_OK; i++)
        if (strcmp(all[i].id, out->sending.id) == 0)
            out->sending = all[i];
    return rc;
}

static const struct tb_said said[] = {
    TB_SAYS(tb_send_request, lot, N_("the lot")),
    TB_SAYS(tb_send_request, laboratory, N_("the laboratory")),
    TB_SAYS(tb_send_request, sent_on, N_("the day it was sent")),
    TB_SAYS_NO_MORE,
};

tb_rc tb_act_send(struct tb_send_outcome *out, const struct tb_actor *actor,
                  const struct tb_send_request *request, struct tb_arena *mem, struct tb_err *err)
{
    static const struct tb_act act = { .verb = TB_VERB_SEND,
                                       .plan = plan,
                                       .write = write,
                                       .size = sizeof(struct tb_send_request),
                                       .said = said };

    return tb_act_do(&act, &(struct tb_job){ .request = request, .out = out, .mem = mem }, actor, err);
}
