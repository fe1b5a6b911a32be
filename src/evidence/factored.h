/* factored.h - inside the evidence module: one observation ready for the kernel. */
#ifndef TENTERBOOK_EVIDENCE_FACTORED_H
#define TENTERBOOK_EVIDENCE_FACTORED_H

#include "evidence/likelihood.h"

/* What a fibre brings to a row, by its share in steps. */
struct tb_brings {
    double u[TB_FIBRES_MOST][TB_STEPS + 1];
};

/* An observation as factors, with the products of the pure fibres. */
struct tb_factored {
    int fibres, rows;
    struct tb_brings *brings; /* [row] */
    struct tb_row *row;
    struct tb_factor factor[TB_CUES_MOST];
    struct tb_factors rest, telling;
    double log_scale; /* of telling times rest */
    double odd;       /* on the scale of rest */
    double pure_telling[TB_FIBRES_MOST], pure_rest[TB_FIBRES_MOST];
};
/* Yours to free with tb_factored_free, which accepts NULL. */
struct tb_factored *tb_factored_new(const struct tb_evidence *ev, const struct tb_terms *terms);
/* NULL is accepted. */
void tb_factored_free(struct tb_factored *t);

#endif
