/*
 * analysis.h - what laboratories found, as the book keeps it. See book.h for the rules of writing.
 */
#ifndef TENTERBOOK_ANALYSIS_H
#define TENTERBOOK_ANALYSIS_H

#include "tenterbook/book.h"

struct tb_analysis {
    const char *id, *lot;
    const char *declaration; /* id of the one it was compared with; NULL: with none */
    enum tb_part_kind part;
    const char *laboratory, *report, *route, *methods;
    const char *found;   /* composition with agreed allowances */
    double u;            /* largest standard uncertainty of a share, points */
    const char *answers; /* "us:conforms eu:cannot_be_said", "" compared with nothing */
    const char *detail;  /* everything as JSON */
    const char *analysed_on /* YYYY-MM-DD */, *recorded_at, *recorded_by /* name */;
    const char *replaces; /* NULL */
    const char *declared; /* read-only: words of that declaration; "" none */
};
/*
 * tb_analysis_add - record one: fills id and recorded_at; reads the rest (laboratory, report, declaration and
 * replaces may be NULL).
 *   fails  TB_ENOTFOUND / TB_EINVAL when what it replaces is not there, of another lot, or corrected already;
 *          TB_EINVAL when analysed_on is no day
 */
tb_rc tb_analysis_add(struct tb_analysis *a, struct tb_book *b, struct tb_arena *mem, struct tb_err *err);
/* Analyses of a lot that count (corrected ones left out), oldest first. */
tb_rc tb_analysis_list(struct tb_analysis **out, size_t *n, struct tb_book *b, const char *lot_id,
                       struct tb_arena *mem, struct tb_err *err);

/* The latest analysis of each part, as words to read: "warp: 100 % cotton; weft: 100 % flax". */
void tb_analysis_words(struct tb_text *out, const struct tb_analysis *x, size_t n);

#endif
