/* How every act runs: read and compute first, write under a short lock. */
#include "work/act.h"

/*
 * How often an act plans in vain before it plans under the lock. Where many write to one lot a second try would mostly be
 * in vain too, and only takes the processors from those who are about to finish.
 */
#define PLANS_IN_VAIN_MOST 1

static tb_rc plan_steadily(const struct tb_act *act, void *arg, bool *write, int64_t *head, struct tb_book *b,
                           struct tb_err *err)
{
    char digest[65];
    tb_rc rc = tb_book_look(b, err);

    if (rc != TB_OK)
        return rc;
    if ((rc = tb_book_head(head, digest, b, err)) == TB_OK)
        rc = act->plan(arg, write, b, err);
    tb_book_look_away(b);
    return rc;
}

/* Whether what others wrote after row `head` concerns the act. Under the lock: the answer stays true. */
static tb_rc moved(bool *out, const struct tb_act *act, void *arg, int64_t head, struct tb_book *b,
                   struct tb_err *err)
{
    struct tb_journal_row *row = NULL;
    struct tb_arena mem = { 0 };
    size_t n = 0;
    tb_rc rc = tb_journal_since(&row, &n, b, head, &mem, err);

    *out = rc == TB_OK && n > 0 && !act->concerns;
    for (size_t i = 0; i < n && !*out && rc == TB_OK; i++)
        *out = act->concerns(arg, &row[i]);
    tb_arena_free(&mem);
    return rc;
}

static tb_rc finish(const struct tb_act *act, void *arg, struct tb_book *b, struct tb_err *err)
{
    tb_rc rc = act->write(arg, b, err);

    if (rc == TB_OK)
        return tb_book_commit(b, err);
    tb_book_rollback(b);
    return rc;
}

/* Plan without the lock, then take it. *stale: somebody wrote what concerns the act, and nothing was recorded. */
static tb_rc attempt(bool *stale, const struct tb_act *act, void *arg, const struct tb_actor *actor,
                     struct tb_err *err)
{
    struct tb_book *b = actor->book;
    bool write = true;
    int64_t head = 0;
    tb_rc rc = plan_steadily(act, arg, &write, &head, b, err);

    *stale = false;
    if (rc != TB_OK || !write)
        return rc;
    if ((rc = tb_book_begin(b, actor->who, act->verb, err)) != TB_OK)
        return rc;
    if ((rc = moved(stale, act, arg, head, b, err)) == TB_OK && !*stale)
        return finish(act, arg, b, err);
    tb_book_rollback(b);
    return rc;
}

/* Plan and write in one transaction: others wait, and nothing can move. */
static tb_rc under_lock(const struct tb_act *act, void *arg, const struct tb_actor *actor, struct tb_err *err)
{
    struct tb_book *b = actor->book;
    bool write = true;
    tb_rc rc = tb_book_begin(b, actor->who, act->verb, err);

    if (rc != TB_OK)
        return rc;
    if (act->plan)
        rc = act->plan(arg, &write, b, err);
    if (rc == TB_OK && write)
        return finish(act, arg, b, err);
    tb_book_rollback(b);
    return rc;
}

tb_rc tb_act_do(const struct tb_act *act, void *arg, const struct tb_actor *actor, struct tb_err *err)
{
    bool stale = act->plan != NULL;

    if (!actor->who || !*actor->who)
        return tb_fail(err, TB_EINVAL, "say who is writing: --as-person NAME");
    for (int i = 0; stale && i < PLANS_IN_VAIN_MOST; i++) {
        tb_rc rc = attempt(&stale, act, arg, actor, err);

        if (rc != TB_OK || !stale)
            return rc;
    }
    return under_lock(act, arg, actor, err);
}
