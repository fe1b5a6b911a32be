/* act.h - inside the module: how an act reads first, then writes under a short lock. */
#ifndef TENTERBOOK_WORK_ACT_H
#define TENTERBOOK_WORK_ACT_H

#include "tenterbook/act.h"
#include "tenterbook/journal_words.h"

#include <stddef.h>
#include <stdint.h>

/* One act under way: what is asked, what comes of it, and what its functions tell of it. */
struct tb_job {
    const void *request;  /* struct tb_X_request of the act X; during the act a copy that was looked at */
    void *out;            /* struct tb_X_outcome */
    struct tb_arena *mem; /* the caller's */
    struct tb_rejudged *judged; /* in *out, of an act that judges a lot again (verdict.h); NULL */
    void *own;                  /* what else the functions of this act share; NULL */
    /* set by tb_act_do */
    const char *who;
    struct tb_book *b;
    struct tb_err *err;
    /* for the functions of the act to set; empty when a plan begins */
    bool idle;           /* there is nothing to record: the act ends without a lock */
    const char *lot;     /* reference of the lot that the plan is of; NULL: it is of more than one lot */
    const char *subject; /* of the journal row, where that is not the lot */
};

/* A text of a request, or a list of them. */
struct tb_said {
    const char *what; /* begins the sentence of a refusal: "the note" */
    size_t at;        /* where in the request it stands */
    size_t count; /* where the number of texts of a list stands; TB_SAID_ALONE, TB_SAID_WHY: it is one text */
};
#define TB_SAID_ALONE SIZE_MAX
#define TB_SAID_WHY (SIZE_MAX - 1) /* a reason, which tells something (said.h) */
#define TB_SAYS(request, member, what)                                                                       \
    {                                                                                                        \
        what, offsetof(struct request, member), TB_SAID_ALONE                                                \
    }
#define TB_SAYS_WHY(request)                                                                                 \
    {                                                                                                        \
        N_("the reason"), offsetof(struct request, why), TB_SAID_WHY                                         \
    }
#define TB_SAYS_ALL(request, member, n, what)                                                                \
    {                                                                                                        \
        what, offsetof(struct request, member), offsetof(struct request, n)                                  \
    }
#define TB_SAYS_NO_MORE                                                                                      \
    {                                                                                                        \
        NULL, 0, 0                                                                                           \
    }

/*
 * An act in stages. `plan` reads the book, `compute` does what takes long, `write` records. Nobody else has to wait
 * before `write`: the lock is taken only for that. If somebody wrote in between something that concerns the act, it
 * plans again, at last under the lock, so that it always comes to an end.
 */
struct tb_act {
    enum tb_verb verb; /* the journal's word for it */
    /* Reads one steady state of the book. May run several times, so it begins afresh each time. */
    tb_rc (*plan)(struct tb_job *job);
    /* Between begin and commit. A failure takes everything back. */
    tb_rc (*write)(struct tb_job *job);
    /*
     * Whether a journal row written after the plan's reading makes the plan worthless. NULL: what bears on job->lot does
     * (concern.h), where it is judged again only what bears on that; without a lot every row does.
     */
    bool (*concerns)(struct tb_job *job, const struct tb_journal_row *row);
    /* After `plan`, and without a look at the book, whose log others keep short meanwhile. NULL: nothing takes long. */
    tb_rc (*compute)(struct tb_job *job);
    /*
     * How often a plan that others made worthless is made afresh while they can go on, before it is made under the lock.
     * 0 where it takes milliseconds: where many write to one lot a second try would mostly be in vain too, and only takes
     * the processors from those who are about to finish. An act that takes seconds keeps what is still true of the plan
     * before, so that each is shorter than the last.
     */
    int again;
    /* What is asked for, so that one place can look at every text of it before the act begins. */
    size_t size;                /* of the request; 0: it holds no text */
    const struct tb_said *said; /* ends with TB_SAYS_NO_MORE */
};

/*
 * tb_request_read - what every request goes through before its act begins: each text is looked at (said.h), and one of
 * nothing but blanks is "".
 *   out    the request as the act is to see it, in mem
 *   fails  as tb_said_check
 */
tb_rc tb_request_read(const void **out, const struct tb_act *act, const void *request, struct tb_arena *mem,
                      struct tb_err *err);

/*
 * tb_act_do - carry out an act: plan, compute, take the lock, see that the plan still holds, write, commit.
 *
 *   job    request, out, mem, judged and own are the caller's
 *   fails  what the functions of the act fail with, job->judged freed; TB_EINVAL when nobody is named; TB_EBUSY when
 *          another writer did not finish in time
 */
tb_rc tb_act_do(const struct tb_act *act, struct tb_job *job, const struct tb_actor *actor,
                struct tb_err *err);

/* tb_act_try_out - plan and compute only: nothing is recorded. Without a book where b is NULL. Fails as the act does. */
tb_rc tb_act_try_out(const struct tb_act *act, struct tb_job *job, struct tb_book *b, struct tb_err *err);

/* The lot a person means, by its reference or by a bolt that only it has; job->lot is set. Fails as tb_lot_find. */
tb_rc tb_job_lot(struct tb_lot *out, struct tb_job *job, const char *ref_or_bolt);
/* The lot of a bolt: the one that is named, or where `lot` is NULL the only one with a bolt of that number. */
tb_rc tb_job_lot_of(struct tb_lot *out, struct tb_job *job, const char *lot, const char *bolt);
/* One bolt of a lot. Fails as tb_bolt_find, and names the lot. */
tb_rc tb_job_bolt(struct tb_bolt *out, struct tb_job *job, const struct tb_lot *lot, const char *number);
/*
 * tb_job_bolts - n bolts, 1 or more, of one lot: the one that is named, or where `ref` is NULL that of the first.
 *
 *   bolt   all n in job->mem, also after a failure
 *   fails  as tb_job_lot_of and tb_job_bolt; TB_EINVAL two numbers are of one bolt
 */
tb_rc tb_job_bolts(struct tb_bolt **bolt, struct tb_lot *lot, struct tb_job *job, const char *ref,
                   const char *const *number, size_t n);

#endif
