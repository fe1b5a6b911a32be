/* conformity.h - what a laboratory's result came to in each market, as the book keeps it, in fields. Internal. */
#ifndef TENTERBOOK_REPORT_CONFORMITY_H
#define TENTERBOOK_REPORT_CONFORMITY_H

#include "tenterbook/lab.h"

struct conform_share {
    const char *fibre, *clause, *status;
    enum tb_lab_answer answer;
    double declared, found, u; /* percent, points; NAN: not said */
    double low, high;          /* what the clause allows; NAN: no limit on that side */
};

struct conform_market {
    const char *market;
    double sure; /* probability asked for before an answer is given */
    struct conform_share *share;
    size_t n;
};

struct conformity {
    struct conform_market *market;
    size_t n;
};

/*
 * tb_conformity_parse - the fields of the detail of an analysis.
 *
 *   detail  JSON text; without a member "conformity" there are no markets
 *   fails   TB_EFORMAT: no JSON, a member of the wrong type, an answer there is no such word for
 *   memory  text and lists are in mem
 */
tb_rc tb_conformity_parse(struct conformity *out, const char *detail, struct tb_arena *mem,
                          struct tb_err *err);

#endif
