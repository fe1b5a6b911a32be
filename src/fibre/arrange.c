/*
 * Parts with their shares out of paired statements. What can only be seen once a part is whole is doubted here: sums,
 * repetitions, figures that are missing.
 */
#include "fibre/atoms.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#define SUM_MOST 0.5  /* points: a sum further from 100 is wrong, whatever the rounding of its figures */
#define SUM_NEAR 1e-6 /* what adding up figures in binary may leave */

static void doubt_range(struct tb_declaration *d, const struct tb_token *t)
{
    tb_doubt_add(d, TB_DOUBT_RANGE, t->at, t->len, NULL, "'%.*s' is a range, not a figure", (int)t->len,
                 d->text + t->at);
}

static void add_share(struct tb_declaration *d, struct tb_part *part, const struct tb_atom *a)
{
    struct tb_word *w = &d->word[a->t->word];
    struct tb_share *s = tb_part_add_share(part, a->fibre, a->pct ? a->pct->value : NAN);

    s->marks = a->marks;
    if (a->pct) {
        s->tolerance = a->pct->tolerance;
        if (!isnan(a->pct->to)) { /* neither end is the share, and the middle would be a guess */
            s->percent = NAN;
            doubt_range(d, a->pct);
        }
    }
    if (w->part == TB_NOWHERE) { /* T/C is one word and two shares: it is noted at the first */
        w->part = d->comp.n - 1;
        w->share = part->n - 1;
    }
    for (size_t k = 0; a->fibre >= 0 && k + 1 < part->n; k++)
        if (part->share[k].fibre == a->fibre && part->share[k].marks == a->marks) {
            tb_doubt_add(d, TB_DOUBT_REPEATED, a->t->at, a->t->len, NULL, "%s is named twice in one part",
                         tb_fibre_at(a->fibre)->name);
            break;
        }
}

/* A range has been asked about already; asking for its percentage as well would be the same question. */
static bool has_doubt(const struct tb_declaration *d, enum tb_doubt_kind kind, size_t from)
{
    for (size_t i = from; i < d->n; i++)
        if (d->doubt[i].kind == kind)
            return true;
    return false;
}

/* 100 within half a step of the coarsest figure for each share: 33.3 three times is whole, 60.0 and 39.6 are not. */
static bool sums_up(double sum, double unit, size_t n)
{
    double gap = fabs(sum - 100);

    return gap <= SUM_MOST + SUM_NEAR && gap <= 0.5 * unit * (double)n + SUM_NEAR;
}

static void check_sum(struct tb_declaration *d, const struct tb_part_text *p, const struct tb_part *part,
                      size_t from)
{
    double sum = 0, unit = 0;
    size_t without = 0, at = p->n ? p->atom[0].t->at : 0, end = at;

    for (size_t i = 0; i < p->n; i++) {
        const struct tb_token *pct = p->atom[i].pct;

        end = p->atom[i].t->at + p->atom[i].t->len > end ? p->atom[i].t->at + p->atom[i].t->len : end;
        if (pct && pct->unit > unit)
            unit = pct->unit;
    }
    for (size_t k = 0; k < part->n; k++) {
        without += isnan(part->share[k].percent) ? 1 : 0;
        sum += isnan(part->share[k].percent) ? 0 : part->share[k].percent;
    }
    if (without == part->n && part->n > 1 && !has_doubt(d, TB_DOUBT_RANGE, from))
        tb_doubt_add(d, TB_DOUBT_NO_PERCENT, at, end - at, NULL, "there are %zu fibres and no percentages",
                     part->n);
    else if (without && part->n > 1 && !has_doubt(d, TB_DOUBT_RANGE, from))
        tb_doubt_add(d, TB_DOUBT_NO_PERCENT, at, end - at, NULL, "%zu of %zu fibres have no percentage",
                     without, part->n);
    else if (!without && !sums_up(sum, unit, part->n))
        tb_doubt_add(d, TB_DOUBT_SUM, at, end - at, NULL, "the percentages add up to %.10g, not to 100", sum);
}

/* A word of no table counts as a share only when a figure speaks for it. */
static bool is_share(const struct tb_atom *a)
{
    return !a->figure && (!a->unknown || a->pct);
}

static void make_part(struct tb_declaration *d, const struct tb_cut_part *as, struct tb_part_text *p)
{
    struct tb_part *part;
    size_t from = d->n, fibres = 0;

    tb_pair_part(d, p);
    tb_settle_marks(d, p);
    for (size_t i = 0; i < p->n; i++)
        fibres += is_share(&p->atom[i]);
    if (!as->named && fibres == 0)
        return; /* figures without a fibre, already doubted */
    if (as->kind == TB_PART_COATING && fibres == 0 && p->n == 0) {
        d->finish |= 1u << tb_finish_by_key("coating"); /* of what it is coated nobody has to say */
        return;
    }
    part = tb_composition_add_part(&d->comp, as->kind);
    if (as->kind == TB_PART_OTHER && as->named)
        part->label = tb_strndup(d->text + as->at, as->len);
    for (size_t i = 0; i < p->n; i++)
        if (is_share(&p->atom[i]))
            add_share(d, part, &p->atom[i]);
    if (as->named)
        d->word[as->word].part = d->comp.n - 1;
    if (part->n == 0)
        tb_doubt_add(d, TB_DOUBT_EMPTY, as->at, as->len, NULL, "no fibre is named for the part '%s'",
                     part->label ? part->label : tb_part_key(as->kind));
    else
        check_sum(d, p, part, from);
}

/* Doubts are found in the order of the work, and asked in the order of the text. */
static int by_place(const void *a, const void *b)
{
    const struct tb_doubt *x = a, *y = b;

    if (x->at != y->at)
        return x->at < y->at ? -1 : 1;
    return (x->kind > y->kind) - (x->kind < y->kind);
}

/* A word that said a fibre again goes where the first one went, which is known only now. */
static void follow_first(struct tb_declaration *d)
{
    for (size_t i = 0; i < d->words; i++) {
        struct tb_word *w = &d->word[i];

        if (w->part == TB_NOWHERE && w->share != TB_NOWHERE) {
            const struct tb_word *first = &d->word[w->share];

            w->part = first->part;
            w->share = first->part == TB_NOWHERE ? TB_NOWHERE : first->share;
        }
    }
}

/*
 * "棉100% 涂层", "100% polyester coating": a coating alone is no cloth, so where nothing else is declared of fibres that no coating
 * is made of, they are the cloth that is coated.
 */
static void take_ground(struct tb_declaration *d, const struct tb_tokens *t, const struct tb_cut *cut)
{
    static const char *const coats[] = { "polyurethane", "chlorinated", "fluorinated",
                                         "acrylic",      "olefin",      "elastomer" };
    struct tb_part *p = d->comp.n == 1 ? &d->comp.part[0] : NULL;
    bool ground = p && p->kind == TB_PART_COATING && p->n;

    for (size_t i = 0; i < t->n && ground; i++)
        ground = !tb_cut_names_both(cut, t, i) && t->item[i].kind != TB_TOKEN_COLON;
    for (size_t k = 0; ground && k < p->n; k++)
        for (size_t i = 0; i < TB_COUNT(coats); i++)
            ground &= p->share[k].fibre < 0 || strcmp(tb_fibre_at(p->share[k].fibre)->family, coats[i]) != 0;
    if (!ground)
        return;
    p->kind = TB_PART_WHOLE;
    d->finish |= 1u << tb_finish_by_key("coating");
}

void tb_arrange(struct tb_declaration *d, const struct tb_tokens *t, const struct tb_cut *cut)
{
    struct tb_part_text *text = tb_array(struct tb_part_text, cut->n);

    for (size_t i = 0; i < t->n; i++)
        if (tb_cut_names_both(cut, t, i))
            tb_take_fibre(d, &text[cut->of[i]], &t->item[i]);
        else if (cut->of[i] < cut->n)
            tb_take_token(d, &text[cut->of[i]], t, i);
    for (size_t i = 0; i < cut->n; i++) {
        if (text[i].n || cut->part[i].named) /* an unnamed part without a word is no part */
            make_part(d, &cut->part[i], &text[i]);
        free(text[i].atom);
    }
    free(text);
    take_ground(d, t, cut);
    follow_first(d);
    if (d->n > 1)
        qsort(d->doubt, d->n, sizeof *d->doubt, by_place);
}
