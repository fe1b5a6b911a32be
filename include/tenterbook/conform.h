/*
 * conform.h - a laboratory's percentages beside a declaration, market by market.
 *
 * Where the laboratory (lab.h) and the law's tolerances (tolerance.h) meet. Pure. Information, not legal advice.
 */
#ifndef TENTERBOOK_CONFORM_H
#define TENTERBOOK_CONFORM_H

#include "tenterbook/lab.h"
#include "tenterbook/tolerance.h"

#define TB_CONFORM_LINES_MOST 16

/* What was found of one fibre on the basis that counts. */
struct tb_found {
    int fibre;
    double percent, u, freedom; /* u in points; freedom INFINITY: normal */
};

/* One share: declared or not, found or not. */
struct tb_conform_line {
    int fibre;
    bool undeclared;          /* found and not declared (or all of these together: fibre is TB_FIBRE_OTHER) */
    double declared;          /* 0 when undeclared */
    double found, u, freedom; /* after undeclared fibre was taken out, where the market does so */
    struct tb_lab_limit limit;
    struct tb_tolerance rule; /* points and clause behind the limit */
    struct tb_lab_decision decision;
};

struct tb_conform {
    const char *market;
    enum tb_lab_answer answer; /* fails when one line fails, conforms when all conform */
    double taken_out;          /* undeclared fibre taken out before comparing, percent; 0 none */
    struct tb_conform_line line[TB_CONFORM_LINES_MOST];
    size_t n;
};
/*
 * tb_conform_check - compare.
 *   declared  one part with all its percentages
 *   sure      probability asked for before an answer is given, 0.5..1
 *   fails     TB_EINVAL: a percentage is missing, too many fibres, values out of range; TB_ENOTFOUND: the
 *             market's rules give no tolerance for such a composition
 */
tb_rc tb_conform_check(struct tb_conform *out, const char *market, const struct tb_part *declared,
                       const struct tb_found *found, size_t n, const struct tb_tolerance_facts *facts,
                       double sure, struct tb_err *err);

#endif
