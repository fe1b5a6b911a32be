/* month_impl.h - what the files of the month share. */
#ifndef TENTERBOOK_REPORT_MONTH_IMPL_H
#define TENTERBOOK_REPORT_MONTH_IMPL_H

#include "base/say.h"
#include "tenterbook/month.h"
#include "tenterbook/workbook.h"

#define MONTH_TREND 12       /* months shown, at least, up to the end of the span */
#define MONTH_KINDS_MOST 8   /* kinds of fibre with a row and a column of their own */
#define MONTH_RANKED_MOST 12 /* suppliers in a chart */

/* A supplier with how sure its share is. */
struct ranked {
    struct tb_month_supplier s;
    int64_t number, judged;  /* number: as in the list of lots, 0 not there */
    double share, low, high; /* NAN: no lot judged */
};

/* A month of arrival. */
struct trend {
    struct tb_month_tally t;
    char month[8], from[TB_DAY_LEN + 1], until[TB_DAY_LEN + 1];
    int64_t judged;
    double share, low, high; /* NAN: no lot judged */
    bool inside;             /* of the span: its lots are in this workbook */
};

/* Lots declared to be of one kind and found to be of another. */
struct found_pair {
    char *declared, *found;
    int64_t n;
};

/* What came in and what of it is held, in one unit. */
struct stake {
    char unit[12], words[96];
    bool money;
    double all, held;
};

/* An open lot for the page, in one line. */
#define MONTH_URGENT_MOST 6
struct urgent {
    int class; /* 0: contradicted or held; 1: any other */
    char *line;
};

struct month {
    const struct tb_month_plan *plan;
    const struct tb_month_source *source;
    struct tb_month_sums sums;
    struct tb_workbook *book;
    char proof[64]; /* of the lot whose bolts are being written */
    struct tb_tab *summary, *charts, *lots, *bolts, *suppliers, *open, *claims, *labels, *months, *stakes,
        *found, *legend;
    char **name; /* suppliers in the order of their first lot: their number is the place, from 1 */
    size_t names, name_cap;
    struct ranked *rank;
    size_t ranks, rank_cap;
    struct trend *trend;
    size_t trends, trend_cap;
    struct found_pair *pair;
    size_t pairs, pair_cap;
    /* the matrix of kinds: cell[row * columns + column], rows declared, columns found */
    char **declared, **seen;
    size_t rows, columns;
    double *cell;
    struct tb_column *found_column; /* of the sheet of the matrix */
    struct stake stake[TB_MONTH_MONEY + 1];
    size_t n_stake;
    struct urgent urgent[MONTH_URGENT_MOST];
    size_t urgents;
};

/* Lots and bolts; suppliers; open matters: begin the tab, fill it, add up. */
tb_rc tb_month_goods(struct month *m, struct tb_err *err);
tb_rc tb_month_suppliers(struct month *m, struct tb_err *err);
tb_rc tb_month_open(struct month *m, struct tb_err *err);
/* Open claims and disputes. */
tb_rc tb_month_claims(struct month *m, struct tb_err *err);
/* Lots per market: wording and findings. */
tb_rc tb_month_labels(struct month *m, struct tb_err *err);
/* Figures the charts are drawn from: months, what is at stake, found instead of declared. */
tb_rc tb_month_months(struct month *m, struct tb_err *err);
tb_rc tb_month_stakes(struct month *m, struct tb_err *err);
tb_rc tb_month_found(struct month *m, struct tb_err *err);
/* The first tabs are begun before the lists and filled after them. */
tb_rc tb_month_summary_begin(struct month *m, struct tb_err *err);
tb_rc tb_month_summary_fill(struct month *m, struct tb_err *err);
tb_rc tb_month_charts_begin(struct month *m, struct tb_err *err);
tb_rc tb_month_charts_fill(struct month *m, struct tb_err *err);
tb_rc tb_month_legend(struct month *m, struct tb_err *err);

/* "Cloth received, 2026-10 - Mill Lane"; which deliveries these are, and which state of the book. */
void tb_month_title(struct tb_text *out, const struct month *m);
void tb_month_stood(struct tb_text *out, const struct month *m);

/* Begin a list with the title "TITLE - SPAN" and the emphases of verdict and standing. */
tb_rc tb_month_list(struct tb_tab **out, struct month *m, struct tb_tab_plan plan, const char *title,
                    struct tb_err *err);
/* A figure over the list of lots: COUNTIFS, or SUMIFS of a column, with its value now. */
void tb_month_put_over(struct tb_tab *t, const struct month *m, const char *column,
                       const struct tb_where *where, size_t n, double value, enum tb_column_type as);
/* Share, low and high end of an exact 95 % interval of columns `contradicts` of `judged`, as formulas in a row. */
void tb_month_put_interval(struct tb_tab *t, double share, double low, double high);
void tb_month_put_spans(struct tb_tab *t, double share, double low, double high);

/* "2 of 7 bolts burnt": stands beside every verdict. */
void tb_month_proof(char out[64], const struct tb_month_lot *lot);
/* Price a metre times length; NAN without a price. */
double tb_month_value(const struct tb_month_lot *lot);

/* The kinds of fibre (classes that burn alike) of a declaration, of 10 % or more: "cellulose + polyester". */
void tb_month_kind_declared(struct tb_text *out, const char *declared);
/*
 * What was found instead: as declared where it fits, the likeliest kinds where it contradicts; "" not judged.
 * TB_EFORMAT where the stored verdict is damaged.
 */
tb_rc tb_month_kind_found(struct tb_text *out, const struct tb_month_lot *lot, const char *declared_kind,
                          struct tb_err *err);
void tb_month_pair(struct month *m, const char *declared, const char *found);
/*
 * Rows, columns and cells of the matrix out of the pairs: the most frequent kinds, the rest as "other kinds". A row and
 * a column of the same name hold what was found as declared, and nothing else does.
 */
void tb_month_matrix(struct month *m);

/* The page: begun with all its words on disk but without its name, so that page and workbook appear together. */
struct tb_outfile;
tb_rc tb_month_page(struct tb_outfile *out, struct month *m, struct tb_err *err);

#endif
