/* concluded.c - what is known of a lot, out of the book, and what is concluded from it. */
#include "tenterbook/concluded.h"

#include "tenterbook/bench.h"

void tb_known_said(struct tb_known *out, const struct tb_lot_said *said, const struct tb_analysis *analysis,
                   size_t n)
{
    *out = (struct tb_known){ .said = said->said,
                              .clear = said->clear,
                              .verdict = { said->verdict, said->log_ratio, said->grade, said->lowest,
                                           said->highest, said->one_look, said->untested, said->detail,
                                           said->at_odds },
                              .judged = said->judged,
                              .judged_at = said->judged_at,
                              .seen = said->seen,
                              .against = said->against,
                              .tested = said->tests > 0,
                              .analysis = analysis,
                              .n = n };
}

static tb_rc said_known(struct tb_known *out, struct tb_book *b, const struct tb_lot_said *said,
                        struct tb_arena *mem, struct tb_err *err)
{
    struct tb_analysis *a = NULL;
    size_t n = 0;
    tb_rc rc = said->analyses ? tb_analysis_list(&a, &n, b, said->lot, mem, err) : TB_OK;

    if (rc == TB_OK)
        tb_known_said(out, said, a, n);
    return rc;
}

tb_rc tb_said_concluded(struct tb_concluded *out, struct tb_book *b, const struct tb_lot_said *said,
                        struct tb_arena *mem, struct tb_err *err)
{
    struct tb_known k;
    tb_rc rc = said_known(&k, b, said, mem, err);

    if (rc != TB_OK)
        return rc;
    rc = tb_conclude(out, &k, mem, err);
    return rc == TB_OK ? TB_OK : tb_within(err, rc, "lot %s", said->ref);
}

/* Of a lot under the words of the supplier all is there; of one under a label of ours the book is asked what they said. */
tb_rc tb_lot_known(struct tb_known *out, struct tb_book *b, const struct tb_lot *lot, struct tb_arena *mem,
                   struct tb_err *err)
{
    struct tb_lot_said said = { .lot = lot->id,
                                .ref = lot->ref,
                                .said = lot->declared,
                                .clear = lot->clear,
                                .verdict = lot->verdict,
                                .log_ratio = lot->log_ratio,
                                .judged = lot->judged,
                                .judged_at = lot->judged_at,
                                .seen = lot->seen,
                                .at_odds = lot->at_odds,
                                .detail = "",
                                .grade = lot->grade,
                                .lowest = lot->lowest,
                                .highest = lot->highest,
                                .one_look = lot->one_look,
                                .untested = lot->untested,
                                .against = lot->against,
                                .analyses = lot->analyses,
                                .tests = lot->tests };
    bool old = lot->verdict != TB_UNJUDGED && !*lot->grade; /* kept before grades stood beside a verdict */
    tb_rc rc = lot->own_words || old ? tb_said_of_lot(&said, b, lot->id, mem, err) : TB_OK;

    return rc == TB_OK ? said_known(out, b, &said, mem, err) : rc;
}

tb_rc tb_lot_concluded(struct tb_concluded *out, struct tb_book *b, const struct tb_lot *lot,
                       struct tb_arena *mem, struct tb_err *err)
{
    struct tb_known k;
    tb_rc rc = tb_lot_known(&k, b, lot, mem, err);

    if (rc != TB_OK)
        return rc;
    rc = tb_conclude(out, &k, mem, err);
    return rc == TB_OK ? TB_OK : tb_within(err, rc, "lot %s", lot->ref);
}
