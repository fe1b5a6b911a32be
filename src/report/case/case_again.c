/*
 * case_again.c - the verdict of a case file computed again from its own records, and held against what the file says,
 * on its pages and in its data.
 *
 * Every member counts, not the ratio alone: pages print the weight of each cue and what a burn can show, and somebody who
 * can change the data can draw pages that go with them.
 */
#include "report/case/case_impl.h"

#include "tenterbook/paper_verdict.h"

#include <math.h>
#include <string.h>

#define SLACK 1e-9 /* what another processor may round otherwise */

/* The place of a member, for a sentence: "by_bolt[3].log_ratio". */
struct place {
    const struct place *in;
    const char *key; /* NULL: an element of a list */
    size_t at;
};

static void say_place(struct tb_text *out, const struct place *p)
{
    if (!p)
        return;
    say_place(out, p->in);
    if (p->key)
        tb_text_addf(out, out->n ? ".%s" : "%s", p->key);
    else
        tb_text_addf(out, "[%zu]", p->at + 1);
}

static bool near(double a, double b)
{
    return fabs(a - b) <= SLACK * fmax(1, fmax(fabs(a), fabs(b)));
}

static bool same(struct tb_text *where, const json_t *a, const json_t *b, const struct place *p);

/*
 * What a member of the verdict computed now is held against. An older program called every observation a burn, those
 * without a flame too, and counted no bolts tested: what it did not say is NULL, and nothing is held against that.
 */
static bool told_of(const json_t **out, const json_t *again, const json_t *told, const char *key)
{
    bool older = json_object_get(again, "observations") && !json_object_get(told, "observations");

    *out = json_object_get(told, key);
    if (older && strcmp(key, "observations") == 0)
        *out = json_object_get(told, "burns");
    return !older || (strcmp(key, "burns") != 0 && strcmp(key, "bolts_tested") != 0);
}

static bool same_members(struct tb_text *where, const json_t *a, const json_t *b, const struct place *p)
{
    const char *key;
    json_t *v;

    json_object_foreach((json_t *)a, key, v)
    {
        struct place here = { p, key, 0 };
        const json_t *told;

        if (told_of(&told, a, b, key) && !same(where, v, told, &here))
            return false;
    }
    json_object_foreach((json_t *)b, key, v)
    {
        struct place here = { p, key, 0 };

        if (!json_object_get(a, key))
            return same(where, NULL, v, &here);
    }
    return true;
}

static bool same_elements(struct tb_text *where, const json_t *a, const json_t *b, const struct place *p)
{
    size_t n = json_array_size(a) > json_array_size(b) ? json_array_size(a) : json_array_size(b);

    for (size_t i = 0; i < n; i++) {
        struct place here = { p, NULL, i };

        if (!same(where, json_array_get(a, i), json_array_get(b, i), &here))
            return false;
    }
    return true;
}

/* Do two values say the same? Where not, `where` gets the place of the first difference. NULL says nothing. */
static bool same(struct tb_text *where, const json_t *a, const json_t *b, const struct place *p)
{
    bool good;

    if (json_is_object(a) && json_is_object(b))
        return same_members(where, a, b, p);
    if (json_is_array(a) && json_is_array(b))
        return same_elements(where, a, b, p);
    if (json_is_number(a) && json_is_number(b))
        good = near(json_number_value(a), json_number_value(b));
    else
        good = a && b && json_equal((json_t *)a, (json_t *)b);
    if (!good)
        say_place(where, p);
    return good;
}

/* --- beside what the file says ------------------------------------------------------------------------------------ */

/* The first thing that is not as it was computed: the word, the ratio, or any other member. */
static void compare(struct tb_case_proof *out, const json_t *again, const json_t *told,
                    const struct tb_verdict *v, const struct tb_stored_verdict *said)
{
    struct tb_text where = { 0 };

    out->judged = true;
    if (said->kind != v->kind)
        tb_case_line(&out->wrong, _("the file says the verdict is '%s'; from its burns it is '%s'"),
                     tb_verdict_key(said->kind), tb_verdict_key(v->kind));
    else if (!isfinite(out->ratio) && isfinite(out->recorded))
        tb_case_line(&out->wrong,
                     _("the file says the verdict is '%s'; from its burns no evidence ratio can be computed"),
                     tb_verdict_key(said->kind));
    else if (isfinite(out->ratio) && (!isfinite(out->recorded) || !near(out->ratio, out->recorded)))
        tb_case_line(&out->wrong, _("the file says the log ratio is %.6g; from its burns it is %.6g"),
                     out->recorded, out->ratio);
    else if (!same(&where, again, told, NULL))
        tb_case_line(&out->wrong,
                     _("the verdict of the file says something else at '%s' than its burns give"),
                     tb_text_str(&where));
    tb_text_free(&where);
}

/*
 * The pages print the verdict that was recorded last, with its moment and its person; the rule and the cues beside it are
 * of the attached one. A reader takes them for one verdict, so they have to be.
 */
static void compare_pages(struct tb_case_proof *out, const struct story *s)
{
    const struct tb_judged *told = tb_story_judged(s);
    const struct tb_stored_verdict *attached = &s->verdict;

    if (!told || !s->judged_now)
        return;
    if (strcmp(told->reference, attached->reference) != 0)
        tb_case_line(
            &out->notes,
            _("the verdict on the pages was recorded at %s with reference %s, the attached one has %s: the "
              "two could not be compared"),
            told->judged_at, told->reference, attached->reference);
    else if (told->verdict != attached->kind)
        tb_case_line(&out->wrong,
                     _("the pages say the verdict is '%s', recorded at %s; in the attached data it is '%s'"),
                     tb_verdict_key(told->verdict), told->judged_at, tb_verdict_key(attached->kind));
    else if (!isnan(attached->log_ratio) && !near(told->log_ratio, attached->log_ratio))
        tb_case_line(
            &out->wrong,
            _("the pages say the log ratio is %.6g, recorded at %s; in the attached data it is %.6g"),
            told->log_ratio, told->judged_at, attached->log_ratio);
}

/*
 * A verdict can be computed again only with the figures it was computed with: their digest is its reference. With others
 * nothing is said against the file, unless the recorded verdict, which digests cover, has the figures that are here.
 */
static void of_other_figures(struct tb_case_proof *out, const struct story *s, const char *ours)
{
    const struct tb_judged *recorded = tb_story_judged(s);

    if (recorded && strcmp(recorded->reference, ours) == 0) {
        tb_case_line(&out->wrong,
                     _("the verdict of the file names reference %s; the one that was recorded last names %s, "
                       "with which this program computes"),
                     s->verdict.reference, ours);
        return;
    }
    out->unjudged = true;
    tb_case_line(&out->notes,
                 _("the verdict was computed with reference %s, this program has %s: it cannot be computed "
                   "again here"),
                 s->verdict.reference, ours);
}

static void hold_against(struct tb_case_proof *out, const struct story *s, const struct tb_paper_verdict *p)
{
    const struct tb_lot_verdict *v = &p->v;
    const json_t *told = json_object_get(s->data, "verdict");
    json_t *again;

    out->ratio = v->verdict.log_ratio;
    out->recorded = s->judged_now ? s->verdict.log_ratio : NAN;
    if (!s->judged_now) {
        if (v->observations)
            tb_case_line(&out->wrong, _("the file says nothing of a verdict; from its burns there is one"));
    } else if (!v->observations) {
        tb_case_line(&out->wrong,
                     _("the file says the verdict is '%s', and holds no burn that it could come from"),
                     tb_verdict_key(s->verdict.kind));
    } else if (strcmp(s->verdict.reference, v->verdict.digest) != 0) {
        of_other_figures(out, s, v->verdict.digest);
    } else {
        again = tb_lot_verdict_json(v, &p->lot);
        compare(out, again, told, &v->verdict, &s->verdict);
        json_decref(again);
    }
}

/* Judged from the book that was built of the data, as any lot is judged. */
tb_rc tb_case_judge_again(struct tb_case_proof *out, const struct story *s, struct tb_err *err)
{
    const struct tb_judged *told = tb_story_judged(s);
    int64_t row = tb_paper_verdict_row(&s->of.lot, told);
    struct tb_evidence *ev = NULL;
    struct tb_paper_verdict v;
    tb_rc rc = s->judged_now ? tb_bench_model_told(&ev, s->book, &s->verdict, row, err)
                             : tb_bench_model_upto(&ev, s->book, row, err);

    if (rc == TB_OK &&
        (rc = tb_paper_verdict_weigh(&v, s->book, &s->of.lot, told, ev, TB_CASE_WANTS, err)) == TB_OK) {
        hold_against(out, s, &v);
        compare_pages(out, s);
        tb_lot_verdict_free(&v.v);
    }
    tb_evidence_free(ev);
    if (rc == TB_EINVAL) {
        /* a cue or test this program does not know: the data are of another version, or forged */
        tb_case_line(&out->wrong, _("the verdict cannot be computed again: %s"), err->msg);
        rc = TB_OK;
    }
    return rc;
}
