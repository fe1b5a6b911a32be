/* sent.h - inside the evidence module: what each lot counts that a laboratory settled, beside those that were never sent. */
#ifndef TENTERBOOK_EVIDENCE_SENT_H
#define TENTERBOOK_EVIDENCE_SENT_H

#include "tenterbook/evidence.h"

/* Lots of a site that a laboratory settled, and all that the bench judged there, by grade; all 0: nobody counted those. */
struct tb_site_lots {
    const struct tb_settled_ratio *lot; /* n */
    size_t n;
    double judged[TB_GRADES];
};

/*
 * tb_sent_weigh - the cases that each lot stands for, 0..1, into weight[n]: 1 for each where all lots were sent and each is of
 * a unit of its own.
 *   source   Begg and Greenes, Biometrics 39 (1983) 207-215; docs/method.md, section 7
 *   returns  the cases that they are together
 */
double tb_sent_weigh(double *weight, const struct tb_site_lots *s);

#endif
