/* How every act runs: read and compute first, write under a short lock. */
#include "work/act.h"

#include "tenterbook/act_bench.h"
#include "tenterbook/named.h"
#include "tenterbook/said.h"
#include "work/concern.h"

#include <string.h>

static tb_rc plan_afresh(const struct tb_act *act, struct tb_job *job)
{
    job->idle = false;
    job->lot = job->subject = NULL;
    return act->plan(job);
}

/* *head: the last journal row that the plan knows of. */
static tb_rc plan_steadily(int64_t *head, const struct tb_act *act, struct tb_job *job)
{
    char digest[65];
    tb_rc rc = job->b ? tb_book_look(job->b, job->err) : TB_OK;

    if (rc == TB_OK && job->b)
        rc = tb_book_head(head, digest, job->b, job->err);
    if (rc == TB_OK)
        rc = plan_afresh(act, job);
    if (job->b)
        tb_book_look_away(job->b);
    return rc == TB_OK && act->compute ? act->compute(job) : rc;
}

static bool concerns(const struct tb_act *act, struct tb_job *job, const struct tb_journal_row *row)
{
    if (act->concerns)
        return act->concerns(job, row);
    if (!job->lot)
        return true;
    return job->judged ? tb_row_concerns_judging(row, job->lot) : tb_row_concerns_lot(row, job->lot);
}

/* Whether what others wrote after row `head` concerns the act. Under the lock: the answer stays true. */
static tb_rc moved(bool *out, const struct tb_act *act, struct tb_job *job, int64_t head)
{
    struct tb_journal_row *row = NULL;
    struct tb_arena mem = { 0 };
    size_t n = 0;
    tb_rc rc = tb_journal_since(&row, &n, job->b, head, &mem, job->err);

    *out = false;
    for (size_t i = 0; i < n && !*out && rc == TB_OK; i++)
        *out = concerns(act, job, &row[i]);
    tb_arena_free(&mem);
    return rc;
}

static tb_rc finish(const struct tb_act *act, struct tb_job *job)
{
    tb_rc rc = act->write(job);

    if (rc != TB_OK) {
        tb_book_rollback(job->b);
        return rc;
    }
    if (job->subject || job->lot)
        tb_book_subject(job->b, job->subject ? job->subject : job->lot);
    return tb_book_commit(job->b, job->err);
}

/* Plan without the lock, then take it. *stale: somebody wrote what concerns the act, and nothing was recorded. */
static tb_rc attempt(bool *stale, const struct tb_act *act, struct tb_job *job)
{
    int64_t head = 0;
    tb_rc rc = plan_steadily(&head, act, job);

    *stale = false;
    if (rc != TB_OK || job->idle ||
        (rc = tb_book_begin(job->b, job->who, tb_word(&tb_verb_words, (int)act->verb), job->err)) != TB_OK)
        return rc;
    if ((rc = moved(stale, act, job, head)) == TB_OK && !*stale)
        return finish(act, job);
    tb_book_rollback(job->b);
    return rc;
}

/* Plan and write in one transaction: others wait, and nothing can move. */
static tb_rc under_lock(const struct tb_act *act, struct tb_job *job)
{
    tb_rc rc = tb_book_begin(job->b, job->who, tb_word(&tb_verb_words, (int)act->verb), job->err);

    if (rc != TB_OK)
        return rc;
    if ((rc = plan_afresh(act, job)) == TB_OK && act->compute)
        rc = act->compute(job);
    if (rc == TB_OK && !job->idle)
        return finish(act, job);
    tb_book_rollback(job->b);
    return rc;
}

static tb_rc plan_and_write(const struct tb_act *act, struct tb_job *job)
{
    bool stale = true;
    tb_rc rc = TB_OK;

    for (int i = 0; stale && rc == TB_OK && i <= act->again; i++)
        rc = attempt(&stale, act, job);
    return stale && rc == TB_OK ? under_lock(act, job) : rc;
}

tb_rc tb_act_do(const struct tb_act *act, struct tb_job *job, const struct tb_actor *actor,
                struct tb_err *err)
{
    struct tb_arena own = { 0 };
    const void *request = job->request;
    tb_rc rc = tb_said_person(actor->who, err);

    if (rc != TB_OK)
        return rc;
    job->who = actor->who;
    job->b = actor->book;
    job->err = err;
    rc = tb_request_read(&job->request, act, request, job->mem ? job->mem : &own, err);
    if (rc == TB_OK && job->b)
        rc = tb_person_written(&job->who, job->b, actor->who, job->mem ? job->mem : &own, err);
    if (rc == TB_OK)
        rc = plan_and_write(act, job);
    job->request = request;
    if (rc != TB_OK && job->judged)
        tb_rejudged_free(job->judged);
    tb_arena_free(&own);
    return rc;
}

tb_rc tb_act_try_out(const struct tb_act *act, struct tb_job *job, struct tb_book *b, struct tb_err *err)
{
    const void *request = job->request;
    int64_t head;
    tb_rc rc = tb_request_read(&job->request, act, request, job->mem, err);

    job->b = b;
    job->err = err;
    if (rc == TB_OK)
        rc = plan_steadily(&head, act, job);
    job->request = request;
    return rc;
}

tb_rc tb_job_lot(struct tb_lot *out, struct tb_job *job, const char *ref_or_bolt)
{
    tb_rc rc = tb_lot_find(out, job->b, ref_or_bolt, job->mem, job->err);

    if (rc == TB_OK)
        job->lot = out->ref;
    return rc;
}

tb_rc tb_job_lot_of(struct tb_lot *out, struct tb_job *job, const char *lot, const char *bolt)
{
    tb_rc rc = tb_job_lot(out, job, lot ? lot : bolt);

    if (rc == TB_OK && !lot && strcmp(out->ref, bolt) == 0)
        return tb_about(job->err,
                        tb_fail(job->err, TB_EINVAL, "%s is a lot; name its bolts, and the lot apart", bolt),
                        "lot");
    return rc;
}

tb_rc tb_job_bolt(struct tb_bolt *out, struct tb_job *job, const struct tb_lot *lot, const char *number)
{
    tb_rc rc = tb_bolt_find(out, job->b, lot->id, number, job->mem, job->err);

    return rc == TB_OK ? rc : tb_within(job->err, rc, "lot %s", lot->ref);
}

/* One bolt has several numbers that can be typed: "18" is "0018" too. */
tb_rc tb_job_bolts(struct tb_bolt **bolt, struct tb_lot *lot, struct tb_job *job, const char *ref,
                   const char *const *number, size_t n)
{
    struct tb_bolt *b = *bolt = tb_arena_alloc(job->mem, n * sizeof *b);
    tb_rc rc = tb_job_lot_of(lot, job, ref, number[0]);

    for (size_t i = 0; i < n && rc == TB_OK; i++) {
        rc = tb_job_bolt(&b[i], job, lot, number[i]);
        for (size_t k = 0; k < i && rc == TB_OK; k++)
            if (strcmp(b[k].id, b[i].id) == 0)
                rc = tb_fail(job->err, TB_EINVAL, "bolt %s is named twice", number[i]);
    }
    return rc;
}
