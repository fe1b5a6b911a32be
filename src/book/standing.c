/* What was concluded and decided about a lot: its verdicts and its standings, of which the latest count. */
#include "book/stmt.h"

#include <string.h>

TB_WORDS(tb_standing_words, TB_RETURNED + 1,
         "'%s' is not a standing; a lot is waiting, held, released, relabelled or returned", "",
         TR_("waiting"), TR_("held"), TR_("released"), TR_("relabelled"), TR_("returned"));

const char *tb_standing_key(enum tb_standing_kind s)
{
    return tb_word(&tb_standing_words, (int)s);
}

const char *tb_decision_why(enum tb_decided_by by)
{
    static const char *const why[TB_DECIDERS] = {
        [TB_DECIDED_BY_VERDICT] = TR_("held by itself: what was seen contradicts the declaration"),
        [TB_DECIDED_BY_LABORATORY] = TR_("held by itself: a laboratory found that it does not conform"),
        [TB_DECIDED_BY_LIFTING] = TR_("the laboratory's result that held it does not count any more"),
        [TB_DECIDED_BY_DISPUTE] = TR_("a dispute was opened"),
        [TB_DECIDED_BY_OPEN_DISPUTE] = TR_("a dispute about it is open"),
    };

    return why[by];
}

enum tb_decided_by tb_decided_by(const char *why)
{
    const char *verdict = tb_decision_why(TB_DECIDED_BY_VERDICT);

    if (strncmp(why, verdict, strlen(verdict)) == 0)
        return TB_DECIDED_BY_VERDICT;
    for (int by = TB_DECIDED_BY_PERSON + 1; by < TB_DECIDERS; by++)
        if (strcmp(why, tb_decision_why((enum tb_decided_by)by)) == 0)
            return (enum tb_decided_by)by;
    return TB_DECIDED_BY_PERSON;
}

/* Of a label of our own: the words stand beside. */
tb_rc tb_standing_add(struct tb_standing *s, struct tb_book *b, struct tb_arena *mem, struct tb_err *err)
{
    struct tb_standing bare;
    tb_rc rc;

    if (s->standing == TB_STANDING_NONE)
        return tb_fail(err, TB_EINVAL, tb_standing_words.wrong, "");
    s->id = tb_new_key(mem);
    s->settled_at = s->settled_at ? s->settled_at : tb_moment_now(b, mem);
    bare = *s;
    bare.old_words = bare.new_words = bare.goods_of = NULL;
    if ((rc = tb_put_standing(&bare, b, err)) != TB_OK || !s->new_words)
        return rc;
    return tb_put_standing_label(&(struct tb_standing_label_fact){ .standing = s->id,
                                                                   .old_words = s->old_words,
                                                                   .new_words = s->new_words,
                                                                   .goods_of = s->goods_of },
                                 b, err);
}

tb_rc tb_bolt_standing_add(struct tb_bolt_standing *s, struct tb_book *b, struct tb_arena *mem,
                           struct tb_err *err)
{
    if (s->standing != TB_HELD && s->standing != TB_RELEASED && s->standing != TB_RETURNED)
        return tb_fail(err, TB_EINVAL, "single bolts of a lot are held, released or returned, not %s",
                       tb_standing_key(s->standing));
    s->id = tb_new_key(mem);
    s->settled_at = s->settled_at ? s->settled_at : tb_moment_now(b, mem);
    return tb_put_bolt_standing(s, b, err);
}

tb_rc tb_bolt_standing_now(enum tb_standing_kind *out, struct tb_book *b, const struct tb_lot *lot,
                           const char *bolt_id, struct tb_arena *mem, struct tb_err *err)
{
    struct tb_bolt_standing *s;
    size_t n = 0;
    tb_rc rc = tb_bolt_standing_list(&s, &n, b, lot->id, mem, err);

    *out = lot->standing;
    for (size_t i = 0; i < n && rc == TB_OK; i++)
        if (s[i].counts && strcmp(s[i].bolt, bolt_id) == 0)
            *out = s[i].standing;
    return rc;
}

tb_rc tb_judged_add(struct tb_judged *v, struct tb_book *b, struct tb_arena *mem, struct tb_err *err)
{
    tb_rc rc;

    v->id = tb_new_key(mem);
    v->judged_at = tb_moment_now(b, mem);
    if ((rc = tb_put_verdict(v, b, err)) != TB_OK || !v->grade || !*v->grade)
        return rc;
    return tb_put_verdict_grade(&(struct tb_verdict_grade_fact){ .lot = v->lot,
                                                                 .verdict = v->id,
                                                                 .grade = v->grade,
                                                                 .lowest = v->lowest,
                                                                 .highest = v->highest,
                                                                 .one_look = v->one_look,
                                                                 .bolts = v->against },
                                b, err);
}

/* The row is of its own arena, so that a caller may ask the book for more while it is told one. */
tb_rc tb_lot_said_each(struct tb_book *b, const char *from, const char *until, tb_lot_said_fn *fn, void *arg,
                       struct tb_err *err)
{
    return tb_each_lot_said(tb_sql_said_each(b, from, until), fn, arg, err);
}

tb_rc tb_lot_word_each(struct tb_book *b, const char *supplier, tb_lot_word_fn *fn, void *arg,
                       struct tb_err *err)
{
    return tb_each_lot_word(tb_sql_word_each(b, supplier), fn, arg, err);
}

tb_rc tb_lot_word_alike(struct tb_book *b, tb_lot_word_fn *fn, void *arg, struct tb_err *err)
{
    return tb_each_lot_word(tb_sql_word_alike(b), fn, arg, err);
}
