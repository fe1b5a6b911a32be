/* telling.c - how much each cue of a burn would tell of a declaration, so that a person is asked for the weightiest first. */
#include "tenterbook/evidence.h"

#include <math.h>

/*
 * A cue tells much where it is likely from the one side and not from the other: its part in the divergence of what the declared
 * fibres show from what anything else does (Jeffreys 1946), never below 0.
 */
static double apart(const struct tb_verdict *v)
{
    double gap = v->log_declared - v->log_else, score = (exp(v->log_declared) - exp(v->log_else)) * gap;

    return isfinite(score) ? score : 0;
}

tb_rc tb_evidence_telling(double telling[TB_CUES_MOST], const struct tb_evidence *ev,
                          const struct tb_declaration *decl, enum tb_part_kind part, struct tb_err *err)
{
    tb_rc rc = TB_OK;

    for (size_t c = 0; c < tb_cue_count() && rc == TB_OK; c++) {
        struct tb_observation seen = { .part = part };
        struct tb_channel channel;
        struct tb_verdict v;
        struct tb_cue cue;

        telling[c] = 0;
        tb_cue_at(&cue, (int)c);
        tb_channel_at(&channel, cue.channel);
        if (channel.bench)
            continue;
        tb_observation_see(&seen, (int)c);
        if ((rc = tb_evidence_judge(&v, ev, decl, &seen, 1, 0, err)) != TB_OK)
            continue;
        telling[c] = v.reason ? 0 : apart(&v);
        tb_verdict_free(&v);
    }
    return rc;
}
