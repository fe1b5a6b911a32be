/* A declaration made plain: the words that count from now on, judged against what was seen. */
#include "work/declare.h"

#include "base/say.h"
#include "tenterbook/concluded.h"
#include "tenterbook/dispute.h"
#include "work/act.h"
#include "work/verdict.h"

#include <stdlib.h>
#include <string.h>

static bool names_a_fibre(const struct tb_declaration *d)
{
    for (size_t i = 0; i < d->comp.n; i++)
        if (d->comp.part[i].n > 0)
            return true;
    return false;
}

tb_rc tb_words_check(const char *text, const char *way, struct tb_err *err)
{
    struct tb_declaration d = { 0 };
    tb_rc rc = TB_OK;

    tb_declaration_read(&d, text, strlen(text));
    if (!names_a_fibre(&d))
        rc = tb_about(err,
                      tb_fail(err, TB_EINVAL,
                              "no fibre can be read in \"%s\" (%s); write it like \"65%% polyester 35%% "
                              "cotton\", or say that "
                              "these are the words all the same",
                              text, d.n ? d.doubt[0].say : _("no word is known")),
                      way);
    tb_declaration_free(&d);
    return rc;
}

/* What clear words have against them by now: they are answered in the dispute, whenever that is. */
static tb_rc found_against(const char **found, struct tb_job *j, const struct tb_lot *lot,
                           const struct tb_known *k)
{
    struct tb_concluded c;
    struct tb_dispute d;
    tb_rc rc = tb_conclude(&c, k, j->mem, j->err);

    if (rc != TB_OK)
        return rc;
    rc = tb_dispute_now(&d, j->b, lot->id, j->mem, j->err);
    if (rc != TB_OK && rc != TB_ENOTFOUND)
        return rc;
    *found = _("they can be read without a doubt");
    if (c.kind == TB_DOES_NOT && c.by == TB_BY_LABORATORY)
        *found = _("a laboratory found that it does not conform to them");
    else if (c.kind == TB_DOES_NOT || (k->verdict.kind == TB_CONTRADICTS && c.kind != TB_CONFORMS))
        *found = _("what was seen contradicts them");
    else if (rc == TB_OK)
        *found = _("a dispute about it is open");
    return TB_OK;
}

/* Goods are held against the words they came under, and clear words need no answer: what is written later stands beside them. */
static tb_rc refuse_clear(struct tb_job *j, const struct tb_lot *lot, const struct tb_known *k)
{
    const char *found = NULL;
    tb_rc rc = found_against(&found, j, lot, k);

    return rc == TB_OK
               ? tb_about(j->err,
                          tb_fail(j->err, TB_EREFUSED,
                                  "lot %s is declared \"%s\", and %s: no later words take their "
                                  "place. What the supplier writes now, a corrected list too, is a step of "
                                  "the dispute (tenterbook dispute %s), what the goods are to be sold as is "
                                  "a new label (tenterbook settle %s), and only words that were typed "
                                  "wrongly here are put right",
                                  lot->ref, k->said, found, lot->ref, lot->ref),
                          "slip")
               : rc;
}

static tb_rc no_reading(const struct tb_lot *lot, const char *came, const char *doubt, const char *answer,
                        struct tb_err *err)
{
    return tb_about(
        err,
        tb_fail(err, TB_EREFUSED,
                "lot %s came under the words \"%s\" (%s), and \"%s\" is no reading of them: it must "
                "keep what could be read, and name what a doubtful word may mean. What the supplier "
                "writes beyond that is a step of the dispute (tenterbook dispute %s), and words that "
                "were typed wrongly here are put right",
                lot->ref, came, doubt, answer, lot->ref),
        "slip");
}

/* Whose words these are is asked where the goods came with none that say what they are of. */
static tb_rc needs_ground(const struct tb_lot *lot, const char *came, const char *answer, struct tb_err *err)
{
    tb_rc rc =
        *came ? tb_fail(err, TB_EREFUSED,
                        "lot %s came under the words \"%s\", which leave open what it is made of: say where "
                        "\"%s\" comes from, a letter or a mail",
                        lot->ref, came, answer)
              : tb_fail(err, TB_EREFUSED,
                        "nothing was declared of lot %s when it came: say where \"%s\" comes from, a letter "
                        "or a mail",
                        lot->ref, answer);

    return tb_about(err, rc, "why");
}

/* PE is polyethylene or polyester: that it is cotton is no reading of it, whatever the reason. */
static tb_rc check_reading(struct tb_job *j, const struct tb_lot *lot)
{
    const struct tb_declare_request *r = j->request;
    const bool why = r->why && *r->why;
    struct tb_declaration said = { 0 }, answer = { 0 };
    enum tb_answer_kind is;
    struct tb_declared *all;
    const char *came = "";
    size_t n;
    tb_rc rc = tb_declaration_list(&all, &n, j->b, lot->id, j->mem, j->err);

    if (rc != TB_OK)
        return rc;
    for (size_t i = 0; i < n; i++)
        if (all[i].origin != TB_ORIGIN_ANSWER && all[i].origin != TB_ORIGIN_RELABEL)
            came = all[i].text;
    tb_declaration_read(&said, came, strlen(came));
    tb_declaration_read(&answer, r->text, strlen(r->text));
    is = tb_declaration_answered(&said, &answer);
    if (is == TB_ANSWER_OTHER)
        rc = no_reading(lot, came, said.n ? said.doubt[0].say : _("no fibre is named"), r->text, j->err);
    else if (!why && (rc = tb_words_check(r->text, "why", j->err)) == TB_OK && is == TB_ANSWER_OPEN)
        rc = needs_ground(lot, came, r->text, j->err);
    tb_declaration_free(&said);
    tb_declaration_free(&answer);
    return rc;
}

static tb_rc check_answer(struct tb_job *j, const struct tb_lot *lot)
{
    struct tb_known k;
    tb_rc rc = tb_lot_known(&k, j->b, lot, j->mem, j->err);

    if (rc != TB_OK)
        return rc;
    return k.clear ? refuse_clear(j, lot, &k) : check_reading(j, lot);
}

/* Words that came out of a file of the supplier, which the book holds, were not typed here. */
static tb_rc check_slip(struct tb_job *j, const struct tb_lot *lot)
{
    const struct tb_declare_request *r = j->request;
    struct tb_declared *all;
    struct tb_delivery d;
    size_t n;
    tb_rc rc;

    if (!r->why || !*r->why)
        return tb_about(
            j->err,
            tb_fail(j->err, TB_EINVAL, "say how the wrong words came to be typed: both stay in the book"),
            "why");
    if (r->anyway)
        return TB_OK;
    if ((rc = tb_declaration_list(&all, &n, j->b, lot->id, j->mem, j->err)) != TB_OK ||
        (rc = tb_delivery_find(&d, j->b, lot->delivery_ref, j->mem, j->err)) != TB_OK)
        return rc;
    while (n && all[n - 1].origin == TB_ORIGIN_RELABEL)
        n--;
    if (!n || !*d.file_name || (all[n - 1].origin != TB_ORIGIN_ROW && all[n - 1].origin != TB_ORIGIN_TITLE))
        return TB_OK;
    return tb_about(
        j->err,
        tb_fail(j->err, TB_EREFUSED,
                "lot %s: the list itself reads \"%s\" (%s), and nobody typed that here: what the "
                "supplier says otherwise now is its answer and no slip. Say that this is known, where the "
                "file was read wrongly",
                lot->ref, all[n - 1].text, d.file_name),
        "anyway");
}

static tb_rc plan(struct tb_job *j)
{
    const struct tb_declare_request *r = j->request;
    struct tb_lot *lot = &j->judged->lot;
    struct tb_pending pending = { .declared = r->text };
    tb_rc rc;

    tb_rejudged_free(j->judged);
    if (!r->text || !*r->text)
        return tb_fail(j->err, TB_EINVAL, "a declaration needs its words");
    if ((rc = tb_job_lot(lot, j, r->lot)) != TB_OK ||
        (rc = r->slip ? check_slip(j, lot) : check_answer(j, lot)) != TB_OK)
        return rc;
    return tb_rejudge_plan(j, lot->ref, &pending, TB_WANT_CUES | TB_WANT_NEXT | TB_WANT_OUTCOMES);
}

/* What was said against the words as they came stays said: the supplier changes the words, not what was delivered. */
static tb_rc see_hold(struct tb_job *j)
{
    const struct tb_lot *lot = &j->judged->lot;
    struct tb_standing *all;
    size_t n;
    tb_rc rc;

    if (lot->standing != TB_HELD || !j->judged->judged || j->judged->v.verdict.kind == TB_CONTRADICTS)
        return TB_OK;
    rc = tb_standing_list(&all, &n, j->b, lot->id, j->mem, j->err);
    while (rc == TB_OK && n && all[n - 1].gone)
        n--;
    j->judged->of_old_words = rc == TB_OK && n && tb_decided_by(all[n - 1].why) == TB_DECIDED_BY_VERDICT;
    return rc;
}

static tb_rc write(struct tb_job *j)
{
    const struct tb_declare_request *r = j->request;
    const char *before = j->judged->lot.declaration;
    tb_rc rc = tb_declaration_add(j->b, j->judged->lot.id, r->text,
                                  r->slip ? TB_ORIGIN_SLIP : TB_ORIGIN_ANSWER, before, j->err);

    if (rc == TB_OK) /* it reads the lot again, with its new declaration */
        rc = tb_rejudge_corrected(j, r->slip ? before : NULL);
    if (rc == TB_OK)
        rc = see_hold(j);
    return rc == TB_OK && r->why && *r->why
               ? tb_declaration_reason(j->b, j->judged->lot.declaration, r->why, j->err)
               : rc;
}

static const struct tb_said said[] = {
    TB_SAYS(tb_declare_request, lot, N_("the lot")),
    TB_SAYS(tb_declare_request, text, N_("the declaration")),
    TB_SAYS_WHY(tb_declare_request),
    TB_SAYS_NO_MORE,
};

tb_rc tb_act_declare(struct tb_rejudged *out, const struct tb_actor *actor,
                     const struct tb_declare_request *request, struct tb_arena *mem, struct tb_err *err)
{
    static const struct tb_act act = { .verb = TB_VERB_DECLARE,
                                       .plan = plan,
                                       .write = write,
                                       .size = sizeof(struct tb_declare_request),
                                       .said = said };
    struct tb_job job = { .request = request, .mem = mem, .judged = out };

    *out = (struct tb_rejudged){ 0 };
    return tb_act_do(&act, &job, actor, err);
}
