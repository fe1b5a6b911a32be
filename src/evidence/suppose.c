/* suppose.c - cloth without a label: which test would tell whether it is the likeliest, and what its results would say. */
#include "evidence/judge.h"

#include <stdlib.h>

/* The likeliest of a part; NULL where nothing of it was seen. */
static const struct tb_likely *likeliest(const struct tb_verdict *v, enum tb_part_kind part)
{
    for (size_t i = 0; i < v->n_likely; i++)
        if (v->likely[i].part == part)
            return &v->likely[i];
    return NULL;
}

static void add_shares(struct tb_part *part, const struct tb_likely *l)
{
    for (int k = 0; k < l->n; k++)
        (void)tb_part_add_share(part, l->fibre[k], l->percent[k]);
}

void tb_suppose(struct tb_question *q, const struct tb_verdict *v)
{
    for (size_t g = 0; g < q->n; g++) {
        const struct tb_likely *l = likeliest(v, q->group[g].part);
        struct tb_part part = { .kind = q->group[g].part };
        struct tb_text reason = { 0 }, notes = { 0 };

        if (l)
            add_shares(&part, l);
        (void)tb_declared_from(&q->group[g].declared, q->ev, &part, &reason, &notes);
        tb_text_free(&reason);
        tb_text_free(&notes);
        free(part.share);
    }
}

tb_rc tb_outcomes_supposed(struct tb_verdict *v, const struct tb_question *q, const struct tb_subject *s,
                           size_t sets, struct tb_err *err)
{
    struct tb_declaration d = { 0 };
    struct tb_subject own = *s;
    struct tb_text words = { 0 };
    tb_rc rc;

    if (!v->n_likely || !v->n_next)
        return TB_OK;
    for (size_t g = 0; g < q->n; g++)
        if (likeliest(v, q->group[g].part))
            add_shares(tb_composition_add_part(&d.comp, q->group[g].part), likeliest(v, q->group[g].part));
    tb_composition_print(&words, &d.comp);
    own.decl = &d;
    own.before = NULL; /* that was asked of another declaration */
    rc = tb_outcomes_take(v, q, &own, sets, 0, err);
    if (rc == TB_OK && v->confirm.test)
        v->supposed = tb_text_take(&words);
    tb_text_free(&words);
    tb_declaration_free(&d);
    return rc;
}
