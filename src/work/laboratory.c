/* laboratory.c - what the analyses of a lot answer to the words that are declared of it now. */
#include "tenterbook/act_bench.h"

#include <string.h>

/* The latest analysis of a part; NULL: there is none. */
static const struct tb_analysis *latest(const struct tb_laboratory *l, enum tb_part_kind part)
{
    for (size_t i = l->n; i-- > 0;)
        if (l->analysis[i].part == part)
            return &l->analysis[i];
    return NULL;
}

/* An answer to other words, such as those before a new label, is no answer to these. */
static enum tb_lab_answer answer_of(const struct tb_analysis *a, const char *declared)
{
    if (!a || !*a->answers || strcmp(a->declared, declared) != 0)
        return TB_LAB_UNSAID;
    return tb_analysis_against(a) ? TB_LAB_FAILS : tb_analysis_for(a) ? TB_LAB_CONFORMS : TB_LAB_UNSAID;
}

/* One part that does not conform answers for the lot; that it conforms, only all of its parts together. */
static enum tb_lab_answer answer_of_lot(const struct tb_laboratory *l, const struct tb_declaration *d,
                                        const char *declared)
{
    enum tb_lab_answer all = d->comp.n ? TB_LAB_CONFORMS : TB_LAB_UNSAID;

    for (size_t i = 0; i < d->comp.n; i++) {
        const struct tb_part *part = &d->comp.part[i];
        enum tb_lab_answer one =
            part->kind == TB_PART_COATING ? TB_LAB_CONFORMS : answer_of(latest(l, part->kind), declared);

        all = all == TB_LAB_FAILS || one == TB_LAB_FAILS ? TB_LAB_FAILS
              : one == TB_LAB_UNSAID                     ? TB_LAB_UNSAID
                                                         : all;
    }
    return all;
}

/* Every part that is declared was held against these words. */
static bool all_compared(const struct tb_laboratory *l, const struct tb_declaration *d, const char *declared)
{
    for (size_t i = 0; i < d->comp.n; i++) {
        const struct tb_analysis *a = latest(l, d->comp.part[i].kind);

        if (d->comp.part[i].kind != TB_PART_COATING &&
            (!a || !*a->answers || strcmp(a->declared, declared) != 0))
            return false;
    }
    return d->comp.n > 0;
}

/* Every part that is declared, or whatever was analysed where nothing is. */
static bool all_analysed(const struct tb_laboratory *l, const struct tb_declaration *d)
{
    for (size_t i = 0; i < d->comp.n; i++)
        if (d->comp.part[i].kind != TB_PART_COATING && !latest(l, d->comp.part[i].kind))
            return false;
    return l->n > 0;
}

void tb_laboratory_take(struct tb_laboratory *out, const struct tb_analysis *analysis, size_t n,
                        const char *declared)
{
    struct tb_declaration d = { 0 };

    *out = (struct tb_laboratory){ .analysis = analysis, .n = n };
    if (n == 0)
        return;
    tb_declaration_read(&d, declared, strlen(declared));
    out->compared = all_compared(out, &d, declared);
    out->answer = answer_of_lot(out, &d, declared);
    out->settled = out->answer == TB_LAB_FAILS || all_analysed(out, &d);
    tb_declaration_free(&d);
}

tb_rc tb_laboratory_read(struct tb_laboratory *out, struct tb_book *b, const struct tb_lot *lot,
                         const char *declared, struct tb_arena *mem, struct tb_err *err)
{
    struct tb_analysis *a = NULL;
    size_t n = 0;
    tb_rc rc = tb_analysis_list(&a, &n, b, lot->id, mem, err);

    if (rc == TB_OK)
        tb_laboratory_take(out, a, n, declared);
    return rc;
}
