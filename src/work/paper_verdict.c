/* paper_verdict.c - the verdict that papers about a lot speak of: one, and only while it follows from what is known. */
#include "tenterbook/paper_verdict.h"

#include "tenterbook/date.h"
#include "tenterbook/stored_verdict.h"
#include "work/verdict.h"

#include <string.h>

int64_t tb_paper_verdict_row(const struct tb_lot *lot, const struct tb_judged *told)
{
    return lot->own_words && told ? told->entry : TB_BOOK_NOW;
}

tb_rc tb_paper_verdict_weigh(struct tb_paper_verdict *out, struct tb_book *b, const struct tb_lot *lot,
                             const struct tb_judged *told, const struct tb_evidence *ev, unsigned want,
                             struct tb_err *err)
{
    *out = (struct tb_paper_verdict){ .lot = *lot };
    if (lot->own_words && !told) /* nothing was ever held against the words of the supplier */
        return TB_OK;
    if (lot->own_words) {
        out->lot.bolts_burnt = told->bolts_burnt;
        out->lot.bolts_tested = told->bolts_tested;
        out->lot.bolts = told->bolts;
    }
    return tb_bench_judge(&out->v, b, lot, ev, want, tb_paper_verdict_row(lot, told), err);
}

/* The last one that counts on the words of the supplier. *found: there is one. */
static tb_rc find_told(struct tb_judged *out, bool *found, struct tb_book *b, const struct tb_lot *lot,
                       struct tb_arena *mem, struct tb_err *err)
{
    struct tb_lot_said said;
    struct tb_judged *list = NULL;
    size_t n = 0;
    tb_rc rc = tb_said_of_lot(&said, b, lot->id, mem, err);

    *found = false;
    if (rc == TB_OK && said.judged)
        rc = tb_judged_list(&list, &n, b, lot->id, mem, err);
    for (size_t i = 0; i < n && rc == TB_OK && !*found; i++)
        if ((*found = strcmp(list[i].id, said.judged) == 0))
            *out = list[i];
    return rc;
}

/* The base rate is no part of a ratio: it is told as it was told then. */
static void take_base(struct tb_verdict *v, const struct tb_judged *told, struct tb_arena *mem)
{
    struct tb_stored_verdict stored;
    struct tb_err unread = { 0 };

    if (tb_stored_verdict_parse(&stored, told->detail, mem, &unread) != TB_OK)
        return;
    v->base_rate = stored.base_rate;
    v->base_from = stored.base_from;
}

static tb_rc check_follows(const struct tb_paper_verdict *p, const struct tb_judged *told,
                           struct tb_arena *mem, struct tb_err *err)
{
    const struct tb_verdict *v = &p->v.verdict;
    const char *now = tb_grade_key(tb_grade_of(v->grade, v->kind));
    struct tb_told_verdict then;

    if (tb_verdict_same(told, v, &p->lot, mem))
        return TB_OK;
    tb_judged_told(&then, told);
    if (strcmp(tb_grade_key(then.grade), now) != 0)
        return tb_fail(
            err, TB_EREFUSED,
            "the verdict of %.*s on lot %s is '%s', and by what is known now it would be '%s': judge "
            "the lot again first (tenterbook judge %s)",
            TB_DAY_LEN, told->judged_at, p->lot.ref, tb_grade_key(then.grade), now, p->lot.ref);
    return tb_fail(
        err, TB_EREFUSED,
        "the figures of the verdict of %.*s on lot %s are no longer those that follow from what is "
        "known: judge the lot again first (tenterbook judge %s)",
        TB_DAY_LEN, told->judged_at, p->lot.ref, p->lot.ref);
}

tb_rc tb_paper_verdict(struct tb_paper_verdict *out, struct tb_book *b, const struct tb_lot *lot,
                       unsigned want, struct tb_arena *mem, struct tb_err *err)
{
    struct tb_evidence *ev = NULL;
    struct tb_judged told;
    bool found;
    tb_rc rc = find_told(&told, &found, b, lot, mem, err);

    *out = (struct tb_paper_verdict){ .lot = *lot };
    if (rc == TB_OK)
        rc = tb_bench_model_upto(&ev, b, tb_paper_verdict_row(lot, found ? &told : NULL), err);
    if (rc == TB_OK)
        rc = tb_paper_verdict_weigh(out, b, lot, found ? &told : NULL, ev, want, err);
    if (rc == TB_OK && found && lot->own_words)
        take_base(&out->v.verdict, &told, mem);
    else if (rc == TB_OK && found)
        rc = check_follows(out, &told, mem, err);
    tb_evidence_free(ev);
    if (rc != TB_OK)
        tb_lot_verdict_free(&out->v);
    return rc;
}
