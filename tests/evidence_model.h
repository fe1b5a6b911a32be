/* evidence_model.h - the evidence model that a group of tests shares, made once. */
#ifndef TENTERBOOK_TESTS_EVIDENCE_MODEL_H
#define TENTERBOOK_TESTS_EVIDENCE_MODEL_H

#include "tenterbook/evidence.h"

static struct tb_evidence *model;

/* Mixtures of up to so many fibres. */
static int make_model_of(int fibres_most)
{
    struct tb_evidence_settings set;
    struct tb_err why = { 0 };

    tb_evidence_defaults(&set);
    set.fibres_most = fibres_most;
    return tb_evidence_new(&model, &set, NULL, 0, &why) == TB_OK ? 0 : -1;
}

static int free_model(void **state)
{
    (void)state;
    tb_evidence_free(model);
    return 0;
}

#endif
