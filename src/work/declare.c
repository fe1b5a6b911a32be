/* A declaration made plain: the words that count from now on, judged against what was burnt. */
#include "work/act.h"
#include "work/verdict.h"

struct declaring {
    const char *lot, *text;
    struct tb_rejudged *out;
    struct tb_arena *mem;
};

static tb_rc plan(void *arg, bool *write, struct tb_book *b, struct tb_err *err)
{
    struct declaring *w = arg;
    struct tb_pending pending = { .declared = w->text };
    tb_rc rc;

    (void)write;
    tb_rejudged_free(w->out);
    if (!w->text || !*w->text)
        return tb_fail(err, TB_EINVAL, "a declaration needs its words");
    if ((rc = tb_lot_find(&w->out->lot, b, w->lot, w->mem, err)) != TB_OK || w->out->lot.burns == 0)
        return rc;
    return tb_rejudge_plan(w->out, b, w->out->lot.ref, &pending, TB_WANT_CUES, w->mem, err);
}

static bool concerns(void *arg, const struct tb_journal_row *row)
{
    const struct declaring *w = arg;

    return tb_row_concerns_lot(row, w->out->lot.ref);
}

static tb_rc write(void *arg, struct tb_book *b, struct tb_err *err)
{
    struct declaring *w = arg;
    struct tb_lot *lot = &w->out->lot;
    tb_rc rc;

    tb_book_subject(b, lot->ref);
    if ((rc = tb_declaration_add(b, lot->id, w->text, TB_ORIGIN_ANSWER, lot->declaration, err)) != TB_OK)
        return rc;
    return w->out->judged ? tb_rejudge_write(w->out, b, w->mem, err)
                          : tb_lot_find(lot, b, lot->ref, w->mem, err);
}

tb_rc tb_act_declare(struct tb_rejudged *out, const struct tb_actor *actor, const char *lot, const char *text,
                     struct tb_arena *mem, struct tb_err *err)
{
    static const struct tb_act act = { "declare", plan, concerns, write };
    struct declaring w = { lot, text, out, mem };
    tb_rc rc;

    *out = (struct tb_rejudged){ 0 };
    rc = tb_act_do(&act, &w, actor, err);
    if (rc != TB_OK)
        tb_rejudged_free(out);
    return rc;
}
