/* declared.c - what one part was declared to be, in fibres of the model. */
#include "evidence/declared.h"
#include "evidence/sums.h"

#include <math.h>
#include <string.h>

#define TRACE_PERCENT                                                                                        \
    5.0 /* so much of a declared fibre of which nothing is published, all of those together, is passed over */

/*
 * share: of mass, 0..1; NAN where it was not said, and then for the fibre as a whole. False when there is no
 * room.
 */
static bool add_blend(struct tb_blend *b, int fibre, double share)
{
    for (int i = 0; i < b->n; i++)
        if (b->fibre[i] == fibre) {
            b->share[i] += share;
            return true;
        }
    if (b->n == TB_BLEND_MOST)
        return false;
    b->fibre[b->n] = fibre;
    b->share[b->n++] = share;
    return true;
}

/* Workwear has some carbon in it and Lurex some metal: so little of it shields nothing else that is declared. */
static bool is_trace(const struct tb_share *s, double *unpublished)
{
    if (!(s->percent > 0) || tb_fibre_at(s->fibre)->handling != TB_HANDLING_ANY)
        return false;
    *unpublished += s->percent;
    return *unpublished <= TRACE_PERCENT;
}

/*
 * False with a reason where the share cannot be judged; a trace of an unnamed fibre is no hindrance, nor one of a fibre of which
 * nothing is published.
 */
static bool take_share(struct tb_declared_blend *out, const struct tb_evidence *ev, const struct tb_share *s,
                       double *unpublished, struct tb_text *reason, struct tb_text *notes)
{
    int m;

    if (s->fibre == TB_FIBRE_OTHER && s->percent < TB_MINOR_PERCENT)
        return true;
    if (s->fibre < 0) {
        tb_text_addf(reason, TR_("the declaration leaves open what a part of the cloth is made of"));
        return false;
    }
    m = tb_model_fibre(ev, s->fibre);
    if (m < 0 && is_trace(s, unpublished)) {
        tb_text_addf(
            notes,
            TR_("Nothing published says how %s burns. It is no more than %.0f %% of what is declared, "
                "so the rest is judged as beside other fibres, and nothing is said of it."),
            tb_fibre_at(s->fibre)->name, TRACE_PERCENT);
        tb_text_addc(notes, '\n');
        return true;
    }
    if (m < 0) {
        tb_text_addf(reason,
                     TR_("nothing published says how %s burns, so a burn can neither support nor refute it"),
                     tb_fibre_at(s->fibre)->name);
        return false;
    }
    if (ev->fibre[m] != s->fibre)
        tb_text_addf(
            notes,
            TR_("%s is judged as %s: it burns the same way, and too little is published of its own burning."),
            tb_fibre_at(s->fibre)->name, tb_fibre_at(ev->fibre[m])->name);
    tb_text_addc(notes, '\n');
    if (add_blend(&out->blend, m, s->percent / 100))
        return true;
    tb_text_addf(reason, TR_("a burn cannot be held against a declaration of more than %d fibres"),
                 TB_BLEND_MOST);
    return false;
}

/* Shares that add up to 1: as said where all were; else those unsaid get equal parts of what the others leave. */
static void fill_shares(struct tb_declared_blend *d)
{
    struct tb_blend *b = &d->blend;
    double said = 0, unsaid = 0;

    for (int i = 0; i < b->n; i++) {
        said += isnan(b->share[i]) ? 0 : b->share[i];
        unsaid += isnan(b->share[i]);
    }
    d->exact = unsaid < 1;
    for (int i = 0; i < b->n; i++)
        b->share[i] = d->exact             ? b->share[i] / said
                      : said >= 1          ? 1.0 / b->n
                      : isnan(b->share[i]) ? (1 - said) / unsaid
                                           : b->share[i];
}

/* Whether a share was said is asked before the gaps are filled: a fibre without a share is never a trace. */
bool tb_declared_from(struct tb_declared_blend *out, const struct tb_evidence *ev, const struct tb_part *part,
                      struct tb_text *reason, struct tb_text *notes)
{
    struct tb_blend *b = &out->blend;
    bool unsaid[TB_BLEND_MOST] = { false };
    double unpublished = 0;

    memset(out, 0, sizeof *out);
    for (size_t i = 0; i < part->n; i++)
        if (!take_share(out, ev, &part->share[i], &unpublished, reason, notes))
            return false;
    for (int i = 0; i < b->n; i++)
        unsaid[i] = isnan(b->share[i]);
    fill_shares(out);
    for (int i = 0; i < b->n; i++)
        if (!unsaid[i] && b->share[i] * 100 < TB_MINOR_PERCENT)
            out->minor[out->n_minor++] = b->fibre[i];
        else
            out->shown[out->n_shown++] = b->fibre[i];
    if (out->n_shown == 0)
        tb_text_addf(reason, b->n ? TR_("no fibre of the declaration is plentiful enough to show in a flame")
                                  : TR_("the declaration names no fibre"));
    return out->n_shown > 0;
}

/* Burning sees classes, so two declared fibres of one class ask for it once. */
unsigned long long tb_declared_classes(const struct tb_evidence *ev, const struct tb_declared_blend *d,
                                       unsigned bits)
{
    unsigned long long classes = 0;

    for (int i = 0; i < d->n_shown; i++)
        if (bits & 1u << i)
            classes |= 1ull << ev->class_of[d->shown[i]];
    return classes;
}

/* Which of the choices shows just these classes, minor fibres' classes allowed besides; n when none does. */
static size_t matching(unsigned long long shown, const unsigned long long *must, unsigned long long minor,
                       size_t n)
{
    for (size_t i = 0; i < n; i++)
        if ((shown & must[i]) == must[i] && (shown & ~(must[i] | minor)) == 0)
            return i;
    return n;
}

/* May a composition that shows these classes, whatever else it shows, still match a choice? */
static bool may_match(unsigned long long shown, const unsigned long long *must, unsigned long long minor,
                      size_t n)
{
    for (size_t i = 0; i < n; i++)
        if ((shown & ~(must[i] | minor)) == 0)
            return true;
    return false;
}

/* Sums are moved whole: none is computed as the difference of two, which would lose its digits. Those of three stand in the order of tb_triple. */
void tb_declared_split(double *out, const struct tb_evidence *ev, const struct tb_declared_blend *d,
                       const unsigned long long *must, size_t n, const struct tb_sums *s)
{
    const double *three = s->three;
    unsigned long long minor = 0;

    for (int i = 0; i < d->n_minor; i++)
        minor |= 1ull << ev->class_of[d->minor[i]];
    for (size_t i = 0; i <= n; i++)
        out[i] = 0;
    for (int i = 0; i < ev->fibres; i++) {
        unsigned long long a = 1ull << ev->class_of[i];

        out[matching(a, must, minor, n)] += s->one[i];
        for (int j = i + 1; j < ev->fibres; j++) {
            unsigned long long b = a | 1ull << ev->class_of[j];
            bool open = may_match(b, must, minor, n);

            out[matching(b, must, minor, n)] += s->two[i][j];
            for (int k = j + 1; three && k < ev->fibres; k++)
                out[open ? matching(b | 1ull << ev->class_of[k], must, minor, n) : n] += *three++;
        }
    }
}

/* The same rule as tb_declared_split has, for one composition. */
bool tb_declared_shows(const struct tb_evidence *ev, const struct tb_declared_blend *d, bool spread,
                       unsigned long long shown)
{
    unsigned long long minor = 0;
    unsigned all = (1u << d->n_shown) - 1;

    for (int i = 0; i < d->n_minor; i++)
        minor |= 1ull << ev->class_of[d->minor[i]];
    for (unsigned bits = spread ? 1 : all; bits <= all; bits++) {
        unsigned long long must = tb_declared_classes(ev, d, bits);

        if ((shown & must) == must && (shown & ~(must | minor)) == 0)
            return true;
    }
    return false;
}
