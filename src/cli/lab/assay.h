/* What the files of the assay command share. */
#ifndef TB_CLI_ASSAY_H
#define TB_CLI_ASSAY_H

#include "cli/cmd.h"
#include "tenterbook/conform.h"

#include <jansson.h>

#define ASSAY_MARKETS_MOST 24

/* One analysis, from options to answer. */
struct assay {
    /* what was said */
    struct tb_declaration mixture, declared;
    const struct tb_part *mix;   /* the fibres analysed: of the mixture, else of the claim */
    const struct tb_part *claim; /* the part of the declaration to compare with; NULL: none */
    struct tb_text condition[TB_LAB_FIBRES_MOST]; /* of the fibres of the mixture, in its order */
    const char *conditions[TB_LAB_FIBRES_MOST];
    double sure;
    struct tb_tolerance_facts facts;
    /* what came of it */
    bool reported; /* percentages of a laboratory instead of masses */
    struct tb_lab_setup setup;
    struct tb_lab_masses masses;
    struct tb_lab_result result;
    struct tb_found found[TB_LAB_BASES][TB_LAB_FIBRES_MOST];
    size_t fibres;
    /* beside the declaration */
    struct tb_conform conform[ASSAY_MARKETS_MOST];
    enum tb_lab_basis basis[ASSAY_MARKETS_MOST];
    struct tb_text unknown; /* markets without a tolerance for this composition, and why */
    size_t markets;
};

/* A text with one part; percentages are asked for when `percents`. The part is borrowed from d. */
tb_rc assay_part(struct tb_declaration *d, const char *option, const char *text, bool percents,
                 struct tb_err *err);
const struct tb_part *assay_the_part(const struct tb_declaration *d);
/* A fibre by key or by any name; -1 when the word is none. */
int assay_fibre(const char *word);
const char *assay_fibre_name(int fibre);

/* assay_book.c: with a LOT, compute and record, or list what was recorded */
tb_rc assay_on_book(struct tb_ctx *ctx, struct tb_err *err);
/* assay.c */
struct assay *assay_new(void);
void assay_free(struct assay *a);
tb_rc assay_show(struct tb_ctx *ctx, const struct assay *a, struct tb_err *err);
/* assay_input.c */
tb_rc assay_read(struct assay *a, const struct tb_ctx *ctx, struct tb_err *err);
/* assay_judge.c */
tb_rc assay_judge(struct assay *a, const struct tb_ctx *ctx, struct tb_err *err);
/* One determination and no published limit: no answer is given either way. */
bool assay_withheld(const struct assay *a);
bool assay_basis_known(const struct assay *a, enum tb_lab_basis basis);
/* assay_plan.c */
tb_rc assay_plan(struct tb_ctx *ctx, const char *text, struct tb_err *err);
/* assay_print.c */
void assay_print(FILE *out, const struct assay *a);
/* assay_json.c */
json_t *assay_json(const struct assay *a);

#endif
