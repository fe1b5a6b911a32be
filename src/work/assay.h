/* assay.h - inside the module: the stages of an analysis, each in a file of its own. */
#ifndef TENTERBOOK_WORK_ASSAY_H
#define TENTERBOOK_WORK_ASSAY_H

#include "tenterbook/assay.h"

/* assay_compute.c: all stages, for an analysis whose claim may be settled already. */
tb_rc tb_assay_run(struct tb_assay *a, const struct tb_assay_request *r, struct tb_err *err);
/* assay_setup.c: fibres, conditions, route, methods and factors become a->setup. */
tb_rc tb_assay_set_up(struct tb_assay *a, const struct tb_assay_request *r, struct tb_err *err);
/* assay_readings.c: a table or typed readings become a->masses; a text of numbers becomes numbers. */
tb_rc tb_assay_take_readings(struct tb_assay *a, const struct tb_assay_request *r, struct tb_err *err);
/* Numbers of a text separated by commas, at most `most`; `name` is what a failure is about (tb_about). */
tb_rc tb_assay_numbers(double *out, size_t *n, size_t most, const char *name, const char *text,
                       struct tb_err *err);
/* assay_judge.c: the comparison with a->claim, market by market. */
tb_rc tb_assay_judge(struct tb_assay *a, const struct tb_assay_request *r, struct tb_err *err);

#endif
