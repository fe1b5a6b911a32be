/*
 * judge_rows.h - a table of burns judged row by row, without a book: one JSON object for each row.
 *
 * The table has the columns declared and saw, and may have id, not, looked and others.
 */
#ifndef TENTERBOOK_JUDGE_ROWS_H
#define TENTERBOOK_JUDGE_ROWS_H

#include "tenterbook/evidence.h"

/* What came of one row. */
struct tb_judged_row {
    size_t line; /* of the file */
    char *
        json; /* in one line: the object of `judge --json`, or an object with the members id, line and error */
    bool bad; /* it could not be judged */
};
struct tb_judged_rows {
    struct tb_judged_row *row; /* n, in the order of the file */
    size_t n, bad;
};
/*
 * tb_judge_rows - read a table and judge its rows, on all processors.
 *
 *   out    free with tb_judged_rows_free, after a failure too
 *   path   as tb_named_rows_read takes it; "-" is standard input
 *   outcomes  also what each result of the test to make next would do to a row that is no fit, which takes several times as long
 *   fails  as tb_named_rows_read. A row that cannot be judged is no failure: its object says why
 */
tb_rc tb_judge_rows(struct tb_judged_rows *out, const char *path, bool outcomes, const struct tb_evidence *ev,
                    struct tb_err *err);
void tb_judged_rows_free(struct tb_judged_rows *rows);

#endif
