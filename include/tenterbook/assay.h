/*
 * assay.h - an analysis of a laboratory: from what a person said and weighed to percentages with their uncertainty, and
 * whether these fit a declaration in each market.
 *
 * Words in, figures out: whatever a command line or a form took down is read here, so that both come to the same. Pure
 * besides tb_assay_rows_read, which reads a file. Information, not legal advice.
 */
#ifndef TENTERBOOK_ASSAY_H
#define TENTERBOOK_ASSAY_H

#include "tenterbook/conform.h"

#include <jansson.h>

#define TB_ASSAY_MARKETS_MOST 24
#define TB_ASSAY_READINGS_MOST 8 /* kinds of readings there are, by hand included */

/* A row of a table of masses: n texts. */
struct tb_assay_row {
    size_t line; /* in the file, for sentences */
    const char *const *cell;
    size_t n;
};

/* Readings typed one by one: the i-th value belongs to the i-th determination. */
struct tb_assay_reading {
    const char
        *name; /* as tb_lab_input_name: "residue2"; "weights" for fibres separated by hand, where a value
                                 lists the mass of each fibre: "1.00, 0.52" */
    const char *const *value; /* n of them */
    size_t n;
};

/* The figures a person may say besides, each within its range. */
enum tb_assay_figure {
    TB_ASSAY_SURE,        /* probability asked for before an answer is given; 0.95 when not said */
    TB_ASSAY_UNCERTAINTY, /* of percentages a laboratory reports: standard uncertainty, points */
    TB_ASSAY_BALANCE,     /* a weighing may be off by this much either way, g; 0.0002 when not said */
    TB_ASSAY_LIMIT,       /* 95 % limit between laboratories, points; the method's own when not said */
    TB_ASSAY_FIGURES
};
extern const struct tb_assay_range {
    const char *name; /* "sure" */
    double least, most;
} tb_assay_ranges[TB_ASSAY_FIGURES];

/* What was said. Zeroed and NULL mean: not said, besides the figures that say otherwise. Borrowed for the call. */
struct tb_assay_request {
    const char *declared; /* to compare with; NULL: nothing, or what a lot declares */
    const char
        *mixture; /* fibres that were separated, in the order of the route; NULL: those of the declaration */
    enum tb_lab_route route;
    int method[2];
    const char *dissolved;        /* which of two fibres went */
    const char *factors;          /* those the laboratory measured, "1.01, 1"; NULL: those of the tables */
    const char *const *condition; /* "cotton=unbleached" */
    size_t conditions;
    /* the determinations: a table, or readings typed */
    const char *table; /* name of the table, for sentences; NULL: there is none */
    const struct tb_assay_row *row;
    size_t rows;
    struct tb_assay_reading reading[TB_ASSAY_READINGS_MOST];
    size_t readings;
    const char *found; /* or percentages as a laboratory reports them */
    /* the comparison */
    const char *const *market; /* none: us, ca, eu, gb */
    size_t markets;
    const char *basis;               /* "dry", "eu", "us"; NULL: the one each market computes with */
    double figure[TB_ASSAY_FIGURES]; /* NAN: not said */
    bool carded, virgin;
};
/* All of it not said. */
void tb_assay_request_init(struct tb_assay_request *request);

/* What came of it. */
struct tb_assay {
    struct tb_declaration mixture, declared; /* as read */
    const struct tb_part *claim; /* the part of `declared` that was compared with; NULL: nothing was */
    bool reported;               /* percentages of a laboratory; setup, masses and result say nothing */
    struct tb_lab_setup setup;
    struct tb_text
        condition[TB_LAB_FIBRES_MOST]; /* what was said of each fibre of the mixture, in its order */
    struct tb_lab_masses masses;
    struct tb_lab_result result;
    struct tb_found found[TB_LAB_BASES][TB_LAB_FIBRES_MOST]; /* reported ones: TB_LAB_EU alone */
    size_t fibres;
    double sure;
    struct tb_conform conform[TB_ASSAY_MARKETS_MOST]; /* one a market */
    enum tb_lab_basis basis[TB_ASSAY_MARKETS_MOST];
    size_t markets;
    struct tb_text unknown; /* markets without a tolerance for this composition, a sentence a line */
};

/*
 * tb_assay_compute - read what was said, compute, compare.
 *
 *   out    free with tb_assay_free, after a failure too
 *   fails  TB_EUSAGE something that is needed was not said; TB_EINVAL words or figures that cannot be read or be right;
 *          TB_ENOTFOUND no method of the tables parts these fibres so, or a market that is not known. A market without
 *          a tolerance for such a composition is no failure: out->unknown names it
 */
tb_rc tb_assay_compute(struct tb_assay *out, const struct tb_assay_request *request, struct tb_err *err);
/* What is all zero, or freed already, may be freed too. */
void tb_assay_free(struct tb_assay *a);

/* The basis a person is shown first: agreed allowances, or dry mass where these are not known. */
enum tb_lab_basis tb_assay_main_basis(const struct tb_assay *a);
/* Whether a->found has figures on this basis: every fibre has an allowance there. */
bool tb_assay_basis_known(const struct tb_assay *a, enum tb_lab_basis basis);
/* One determination and no published limit: nothing is said for or against the declaration. */
bool tb_assay_withheld(const struct tb_assay *a);
/* The whole of it for programs and for the record. A new reference, yours to json_decref. */
json_t *tb_assay_json(const struct tb_assay *a);

/*
 * tb_assay_part_read - a composition of one part, as every analysis takes it.
 *
 *   d         free with tb_declaration_free, after a failure too; the part is d->comp.part[0]
 *   name      what a refusal is about (tb_about): "mixture"
 *   percents  whether percentages matter; without them a text may leave them out
 *   fails     TB_EINVAL: it cannot be read for certain, names no fibre, or several parts of a cloth
 */
tb_rc tb_assay_part_read(struct tb_declaration *d, const char *name, const char *text, bool percents,
                         struct tb_err *err);

/* Which methods separate a mixture, best first. */
struct tb_assay_plan {
    struct tb_declaration mixture; /* as read: one part */
    struct tb_lab_way *way;        /* by the methods of the Regulation */
    struct tb_lab_path *path;      /* by published standards, where those do not reach */
    size_t ways, paths;
};
/*
 * tb_assay_plan_make - plan the analysis of a mixture.
 *   out    free with tb_assay_plan_free, after a failure too
 *   fails  as tb_assay_part_read and tb_lab_plan; TB_ENOTFOUND only where no standard serves either
 */
tb_rc tb_assay_plan_make(struct tb_assay_plan *out, const char *text, struct tb_err *err);
void tb_assay_plan_free(struct tb_assay_plan *plan);

/*
 * tb_assay_rows_read - the rows of a table of masses, CSV or XLSX.
 *   out    n rows in mem
 *   fails  as tb_sheet_read, with the path before the sentence
 */
tb_rc tb_assay_rows_read(struct tb_assay_row **out, size_t *n, const char *path, struct tb_arena *mem,
                         struct tb_err *err);

#endif
