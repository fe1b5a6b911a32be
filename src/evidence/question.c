/*
 * question.c - a question before anything is weighed: which burns, what was declared of each part, can it be
 * judged.
 */
#include "evidence/judge.h"
#include "evidence/kept.h"
#include "evidence/sums.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* Fibres without figures can be burned all the same: a flame shows kinds, not percentages. */
static bool only_figures(enum tb_doubt_kind kind)
{
    return kind == TB_DOUBT_NO_PERCENT || kind == TB_DOUBT_SUM || kind == TB_DOUBT_RANGE;
}

/* Only doubts about which fibres are meant stop a judgement. */
static bool readable(struct tb_text *reason, const struct tb_declaration *d)
{
    if (d->comp.n == 0 && (!d->text || d->text[strspn(d->text, " \t\n")] == '\0')) {
        tb_text_addf(reason, TR_("nothing was declared"));
        return false;
    }
    for (size_t i = 0; i < d->n; i++)
        if (tb_doubt_blocks(d->doubt[i].kind) && !only_figures(d->doubt[i].kind)) {
            tb_text_addf(reason, TR_("the declaration cannot be read for certain: %s"), d->doubt[i].say);
            return false;
        }
    for (size_t p = 0; p < d->comp.n; p++)
        if (d->comp.part[p].n == 0) {
            tb_text_addf(reason, TR_("the declaration names no fibre for one of its parts"));
            return false;
        }
    if (d->comp.n == 0)
        tb_text_addf(reason, TR_("the declaration names no fibre"));
    return d->comp.n > 0;
}

/* NULL beyond TB_GROUPS_MOST parts. */
static struct tb_group *group_of(struct tb_question *q, enum tb_part_kind part)
{
    for (size_t i = 0; i < q->n; i++)
        if (q->group[i].part == part)
            return &q->group[i];
    if (q->n == TB_GROUPS_MOST)
        return NULL;
    q->group[q->n].part = part;
    return &q->group[q->n++];
}

/* Is the observation one of those asked of, and does it say something? */
static bool asked_of(const struct tb_subject *s, size_t i, bool all, size_t only)
{
    return (all || s->set[i] == only) && s->readings.of[i] != TB_READ_NOTHING;
}

/* The patterns of one part, once all its burns are known: what each counts depends on the others. */
static struct tb_counted take_patterns(struct tb_group *g, const struct tb_subject *s, bool all, size_t only)
{
    size_t *which = tb_array(size_t, s->n + 1), n = 0;
    struct tb_counted counted;

    for (size_t i = 0; i < s->n; i++)
        if (asked_of(s, i, all, only) && s->obs[i].part == g->part)
            which[n++] = i;
    counted = tb_patterns_take(&g->pattern, &g->n, s->ev, &s->readings, s->obs, which, n);
    free(which);
    return counted;
}

/* The note on repeats stands once, however many swatches were burned twice. */
static tb_rc take_burns(struct tb_asked *a, const struct tb_subject *s, bool all, size_t only,
                        struct tb_err *err)
{
    struct tb_group *into;
    struct tb_counted all_parts = { 0 };

    for (size_t i = 0; i < s->n; i++) {
        if (!asked_of(s, i, all, only))
            continue;
        into = group_of(&a->q, s->obs[i].part);
        if (!into)
            return tb_fail(err, TB_EINVAL, "burns of more than %d parts cannot be judged together",
                           TB_GROUPS_MOST);
        for (int c = 0; c < TB_CHANNELS_MOST; c++)
            into->could_not[c] |= s->obs[i].could_not[c];
        a->v.burns++;
    }
    for (size_t g = 0; g < a->q.n; g++) {
        struct tb_counted part = take_patterns(&a->q.group[g], s, all, only);

        all_parts.acts += part.acts;
        all_parts.as += part.as;
    }
    if (all_parts.as < (double)all_parts.acts)
        tb_verdict_note(
            &a->v,
            "%zu burns or tests count as %.1f: what one person burns of a lot repeats itself, since its "
            "swatches share "
            "the cloth, its finish, the day and the eye, and counts as one burn. A second person adds to it.",
            all_parts.acts, all_parts.as);
    return TB_OK;
}

/* The first: a declaration has each kind of part once. */
static const struct tb_part *part_of_kind(const struct tb_composition *c, enum tb_part_kind kind)
{
    for (size_t i = 0; i < c->n; i++)
        if (c->part[i].kind == kind)
            return &c->part[i];
    return NULL;
}

/* A coating that is declared as a part is a finish of the cloth it lies on. */
static unsigned coating_of(const struct tb_composition *c)
{
    static const struct {
        const char *fibre, *finish;
    } of[] = { { "polyurethane", "coating_pu" },
               { "chlorofibre", "coating_pvc" },
               { "acrylic", "coating_acrylic" } };
    const struct tb_part *p = part_of_kind(c, TB_PART_COATING);
    const char *finish = "coating";

    if (!p)
        return 0;
    for (size_t i = 0; i < p->n; i++)
        for (size_t k = 0; k < TB_COUNT(of); k++)
            if (p->share[i].fibre == tb_fibre_by_key(of[k].fibre))
                finish = of[k].finish;
    return 1u << tb_finish_by_key(finish);
}

/* Mercerising is said of a fibre, and changes how the whole cloth burns. */
static unsigned mercerised(const struct tb_part *p)
{
    unsigned bits = 0;

    for (size_t i = 0; i < p->n; i++)
        bits |= p->share[i].marks & TB_MARK_MERCERISED ? 1u << tb_finish_by_key("mercerised") : 0;
    return bits;
}

bool tb_part_is_coated(enum tb_part_kind part)
{
    return part != TB_PART_WARP && part != TB_PART_WEFT && part != TB_PART_PILE && part != TB_PART_COATING;
}

/* All parts as one cloth, no shares known: what a burn of the whole answers for. */
static void all_parts(struct tb_part *out, const struct tb_composition *c)
{
    *out = (struct tb_part){ .kind = TB_PART_WHOLE };
    for (size_t p = 0; p < c->n; p++)
        for (size_t i = 0; i < c->part[p].n && c->part[p].kind != TB_PART_COATING; i++)
            (void)tb_part_add_share(out, c->part[p].share[i].fibre, NAN);
}

/* The finishes that are named of a part, and those that change it; what is only remembered of them is said. */
static void take_finishes(struct tb_declared_blend *d, const struct tb_evidence *ev, unsigned named,
                          struct tb_text *notes)
{
    struct tb_text list = { 0 }, memory = { 0 };
    unsigned on = 0, remembered = 0;

    d->finish = named;
    for (int z = 0; z < (int)tb_finish_count(); z++)
        if (named & 1u << z && tb_finish_on(ev, z, true, &d->blend)) {
            on |= 1u << z;
            for (int i = 0; i < d->blend.n; i++) {
                int at = ev->finish[z].of[1][d->blend.fibre[i]];

                remembered |= at >= 0 && ev->effects[at].memory ? 1u << z : 0;
            }
        }
    tb_finish_list(&list, on);
    tb_finish_list(&memory, remembered);
    if (on)
        tb_text_addf(notes,
                     TR_("The declaration names a finish (%s): what it hides or changes in a burn is not "
                         "held against the "
                         "declaration."),
                     list.s);
    tb_text_addc(notes, '\n');
    if (remembered)
        tb_text_addf(
            notes,
            TR_("Some of what is known of this finish (%s) is from memory, not from a published text."),
            memory.s);
    tb_text_addc(notes, '\n');
    tb_text_free(&list);
    tb_text_free(&memory);
}

/* The parts of a declaration; a coating lies on another one. */
static size_t parts_of(const struct tb_composition *c)
{
    size_t n = 0;

    for (size_t p = 0; p < c->n; p++)
        n += c->part[p].kind != TB_PART_COATING;
    return n;
}

/* A declaration without parts holds for every part; a burn of the whole answers for all parts together. */
static tb_rc match_part(struct tb_group *g, struct tb_question *q, const struct tb_declaration *decl,
                        struct tb_text *reason, struct tb_text *notes, bool *ok, struct tb_err *err)
{
    const struct tb_composition *c = &decl->comp;
    const struct tb_part *part = part_of_kind(c, g->part), *whole = part_of_kind(c, TB_PART_WHOLE);
    struct tb_part joined = { 0 };

    if (!part && parts_of(c) == 1 && whole) {
        part = whole;
        g->spread = true;
    } else if (!part && g->part == TB_PART_WHOLE) {
        all_parts(&joined, c);
        part = &joined;
    } else if (!part) {
        return tb_fail(err, TB_EINVAL, "a %s was burned, but the declaration speaks of other parts only",
                       tb_part_key(g->part));
    }
    *ok = tb_declared_from(&g->declared, q->ev, part, reason, notes);
    if (*ok)
        take_finishes(&g->declared, q->ev,
                      decl->finish | mercerised(part) | (tb_part_is_coated(g->part) ? coating_of(c) : 0),
                      notes);
    free(joined.share);
    return TB_OK;
}

/* Figures that were not worked out are NAN, so that none of them can be mistaken for a result. */
static void take_reason(struct tb_verdict *v, struct tb_text *reason)
{
    v->kind = TB_UNDECIDED;
    v->grade = TB_GRADE_UNDECIDED;
    v->reason = tb_text_take(reason);
    v->ratio = v->log_ratio = v->log_declared = v->log_else = NAN;
}

/* Several parts may say the same of a fibre; once is enough. */
static void take_notes(struct tb_verdict *v, struct tb_text *notes)
{
    char *rest = NULL, *text = tb_text_take(notes);

    for (char *line = strtok_r(text, "\n", &rest); line; line = strtok_r(NULL, "\n", &rest)) {
        bool there = false;

        for (size_t i = 0; i < v->n_note; i++)
            there |= strcmp(v->note[i], line) == 0;
        if (!there)
            tb_verdict_note(v, "%s", line);
    }
    free(text);
}

#define WAYS_MOST 5000 /* to spread declared fibres over parts: their number is a power of a power */

/* Each spread part has a power of two of sets, and the parts multiply. */
static bool too_many_ways(const struct tb_question *q)
{
    double ways = 1;

    for (size_t i = 0; i < q->n; i++)
        if (q->group[i].spread)
            ways *= (double)((1u << q->group[i].declared.n_shown) - 1);
    return ways > WAYS_MOST;
}

/* As far as it goes before anything is weighed: what was declared of each part, and why it cannot be judged. */
static tb_rc ask(struct tb_asked *a, const struct tb_declaration *decl, struct tb_err *err)
{
    struct tb_question *q = &a->q;

    tb_take_care(&a->v, decl);
    a->ok = readable(&a->reason, decl);
    for (size_t i = 0; a->ok && i < q->n; i++) {
        tb_rc rc = match_part(&q->group[i], q, decl, &a->reason, &a->notes, &a->ok, err);

        if (rc != TB_OK)
            return rc;
    }
    if (a->ok && q->n == 0) {
        tb_text_addf(&a->reason, TR_("nothing was looked at: no cue and no channel is recorded"));
        a->ok = false;
    }
    if (a->ok && too_many_ways(q)) {
        tb_text_addf(
            &a->reason,
            TR_("so many declared fibres can be spread over the parts burned apart in too many ways; "
                "burn the cloth as a whole, or have the parts declared"));
        a->ok = false;
    }
    take_notes(&a->v, &a->notes);
    for (size_t i = 0; a->ok && i < q->n; i++)
        q->group[i].declared.kept = tb_kept_new(q->ev, &q->group[i].declared);
    if (!a->ok)
        take_reason(&a->v, &a->reason);
    return TB_OK;
}

/* The thresholds go into the verdict, so that it can be read later without the model. */
tb_rc tb_asked_open(struct tb_asked *a, const struct tb_subject *s, bool all, size_t only, struct tb_err *err)
{
    tb_rc rc;

    a->q.ev = s->ev;
    a->q.kernel = s->ev->kernel;
    a->v.contradicts_below = s->ev->set.contradicts_below;
    a->v.speaks_below = s->ev->set.speaks_below;
    a->v.bounds = a->v.full_bounds = s->ev->bounds;
    a->v.bench_error = s->ev->set.bench_error;
    a->v.drilled = s->ev->set.drilled;
    a->v.base_rate = s->ev->set.base_rate;
    a->v.base_from = s->ev->set.base_from;
    a->v.settled_lots = s->ev->settled_lots;
    a->v.settled_cases = s->ev->settled_cases;
    a->v.fits_above = s->ev->set.fits_above;
    (void)strcpy(a->v.digest, s->ev->digest);
    rc = take_burns(a, s, all, only, err);
    return rc == TB_OK ? ask(a, s->decl, err) : rc;
}

void tb_asked_free(struct tb_asked *a)
{
    for (size_t i = 0; i < a->q.n; i++) {
        free(a->q.group[i].pattern);
        tb_kept_free(a->q.group[i].declared.kept);
        tb_sums_free(&a->q.group[i].sums);
    }
    tb_verdict_free(&a->v);
    tb_text_free(&a->reason);
    tb_text_free(&a->notes);
}
