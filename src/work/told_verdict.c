/* told_verdict.c - a recorded verdict as every page tells it: word and figure, as they were when it was made. */
#include "tenterbook/stored_verdict.h"

#include "tenterbook/goods.h"

#include <math.h>

const char *tb_grade_key(enum tb_grade grade)
{
    return tb_word(&tb_grade_words, (int)grade);
}

/* The word of a verdict is that of a grade, but for the grade that there was not always. */
enum tb_grade tb_grade_of(enum tb_grade grade, enum tb_verdict_kind kind)
{
    return grade                    ? grade
           : kind == TB_FITS        ? TB_GRADE_FITS
           : kind == TB_CONTRADICTS ? TB_GRADE_CONTRADICTS
           : kind == TB_UNDECIDED   ? TB_GRADE_UNDECIDED
                                    : TB_UNGRADED;
}

void tb_stored_conclusion(struct tb_conclusion *out, const struct tb_stored_verdict *v, bool spared)
{
    *out = (struct tb_conclusion){ .grade = tb_grade_of(v->grade, v->kind),
                                   .ratio = exp(tb_bounded(&v->bounds, v->log_ratio)),
                                   .limit = tb_bounds_reached(&v->bounds, v->log_ratio) != 0,
                                   .one_look = v->one_look,
                                   .few_tell = v->few_tell,
                                   .excused = v->excused && *v->excused,
                                   .at_odds = v->at_odds,
                                   .outdone = v->outdone,
                                   .imitated = v->imitated,
                                   .spared = spared };
}

void tb_stored_meaning(struct tb_meaning *out, const struct tb_stored_verdict *v)
{
    *out = (struct tb_meaning){ .base_rate = v->base_rate,
                                .base_from = v->base_from,
                                .not_as_declared = v->not_as_declared,
                                .limit = tb_bounds_reached(&v->bounds, v->log_ratio) };
}

/* Verdicts of older programs have neither grade nor limits beside them. */
static tb_rc read_details(struct tb_told_verdict *out, const struct tb_kept_verdict *kept, struct tb_err *err)
{
    struct tb_arena mem = { 0 };
    struct tb_stored_verdict v;
    tb_rc rc = tb_stored_verdict_parse(&v, kept->detail ? kept->detail : "", &mem, err);

    if (rc == TB_OK) {
        out->bounds = v.bounds;
        out->one_look = v.one_look;
        out->at_odds = v.at_odds;
    }
    out->grade = tb_grade_of(v.grade, kept->kind);
    tb_arena_free(&mem);
    return rc == TB_ENOTFOUND ? TB_OK : rc;
}

tb_rc tb_told_verdict_read(struct tb_told_verdict *out, const struct tb_kept_verdict *kept,
                           struct tb_err *err)
{
    int grade = TB_UNGRADED;
    tb_rc rc = TB_OK;

    *out = (struct tb_told_verdict){ .log_ratio = kept->log_ratio };
    tb_bounds_published(&out->bounds);
    if (kept->grade && *kept->grade) {
        rc = tb_word_read(&grade, &tb_grade_words, kept->grade, err);
        out->grade = (enum tb_grade)grade;
        out->bounds = (struct tb_bounds){ kept->lowest, kept->highest, kept->untested };
        out->one_look = kept->one_look;
        out->at_odds = kept->at_odds;
    } else {
        rc = read_details(out, kept, err);
    }
    out->ratio = out->at_odds ? (double)NAN : exp(tb_bounded(&out->bounds, kept->log_ratio));
    return rc;
}

void tb_judged_told(struct tb_told_verdict *out, const struct tb_judged *v)
{
    struct tb_err unread;

    (void)tb_told_verdict_read(out,
                               &(struct tb_kept_verdict){ v->verdict, v->log_ratio, v->grade, v->lowest,
                                                          v->highest, v->one_look, v->untested, v->detail,
                                                          false },
                               &unread);
}

struct tb_kept_verdict tb_lot_kept(const struct tb_lot *lot)
{
    return (struct tb_kept_verdict){ lot->verdict,  lot->log_ratio, lot->grade, lot->lowest, lot->highest,
                                     lot->one_look, lot->untested,  NULL,       lot->at_odds };
}

tb_rc tb_lot_told(struct tb_told_verdict *out, struct tb_book *b, const struct tb_lot *lot,
                  struct tb_err *err)
{
    struct tb_kept_verdict kept = tb_lot_kept(lot);
    struct tb_arena mem = { 0 };
    struct tb_judged last = { 0 };
    tb_rc rc = TB_OK;

    *out = (struct tb_told_verdict){ .log_ratio = NAN, .ratio = NAN };
    if (lot->verdict == TB_UNJUDGED)
        return TB_OK;
    if (!*lot->grade) {
        rc = tb_judged_latest(&last, b, lot->id, &mem, err);
        kept.detail = last.detail;
    }
    if (rc == TB_OK || rc == TB_ENOTFOUND)
        rc = tb_told_verdict_read(out, &kept, err);
    tb_arena_free(&mem);
    return rc == TB_OK ? TB_OK : tb_within(err, rc, "lot %s", lot->ref);
}
