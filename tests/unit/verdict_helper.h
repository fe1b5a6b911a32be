/* verdict_helper.h - one burn judged, and what its verdict proposes. */
#ifndef TENTERBOOK_TESTS_VERDICT_HELPER_H
#define TENTERBOOK_TESTS_VERDICT_HELPER_H

#include "unit/bench_helper.h"

static inline void judge(struct tb_verdict *v, const struct tb_evidence *ev, const char *words,
                         const struct tb_observation *o, unsigned want)
{
    struct tb_declaration decl = { 0 };

    tb_declaration_read(&decl, words, strlen(words));
    OK(tb_evidence_judge(v, ev, &decl, o, 1, want, &err));
    tb_declaration_free(&decl);
}

/* The ratio of a verdict as it is printed. */
static inline double within(const struct tb_verdict *v)
{
    return tb_bounded(&v->bounds, v->log_ratio);
}

static inline bool proposes(const struct tb_verdict *v, const char *test)
{
    for (size_t i = 0; i < v->n_next; i++)
        if (strcmp(v->next[i].test, test) == 0)
            return true;
    return false;
}

#endif
