/* Whether later words are a reading of doubtful ones: of those that left open what they mean, and of nothing else. */
#include "tenterbook/fibre.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#define SAME 0.05 /* points of a figure that are written otherwise */

static bool names(const struct tb_composition *c, int fibre)
{
    for (size_t p = 0; p < c->n; p++)
        for (size_t i = 0; i < c->part[p].n; i++)
            if (c->part[p].share[i].fibre == fibre)
                return true;
    return false;
}

/* The fibre of a key in a list of choices, and where the key ends. "not_fibre" is none. */
static int choice_at(const char *p, const char **end)
{
    size_t n = strcspn(p, "|+");
    char *key = tb_strndup(p, n);
    int fibre = strcmp(key, "other_fibres") == 0 ? TB_FIBRE_OTHER : tb_fibre_by_key(key);

    free(key);
    *end = p + n;
    return fibre;
}

static bool offered(const struct tb_declaration *said, int fibre)
{
    for (size_t i = 0; i < said->n; i++)
        for (const char *p = said->doubt[i].choices; p && *p; p += *p != '\0')
            if (choice_at(p, &p) == fibre)
                return true;
    return false;
}

/* Whether the answer names all fibres of one of the choices. A word that may mean no fibre leaves it open. */
static bool chosen(const struct tb_declaration *answer, const struct tb_doubt *doubt)
{
    bool all = true;

    if (doubt->kind != TB_DOUBT_AMBIGUOUS || !doubt->choices)
        return true;
    for (const char *p = doubt->choices; *p; p += *p != '\0') {
        int fibre = choice_at(p, &p);

        all = all && (fibre == -1 || names(&answer->comp, fibre));
        if (*p != '+' && all)
            return true;
        all = all || *p != '+';
    }
    return false;
}

static bool doubted(const struct tb_declaration *d, enum tb_doubt_kind kind)
{
    for (size_t i = 0; i < d->n; i++)
        if (d->doubt[i].kind == kind)
            return true;
    return false;
}

/* What could be read stays as it is: its fibres, and its figures where they add up. */
static bool keeps(const struct tb_declaration *said, const struct tb_declaration *answer)
{
    if (doubted(said, TB_DOUBT_SUM) || doubted(said, TB_DOUBT_REPEATED))
        return true; /* the words contradict themselves */
    for (size_t p = 0; p < said->comp.n; p++) {
        const struct tb_part *had = &said->comp.part[p], *has = tb_composition_part(&answer->comp, had->kind);

        for (size_t i = 0; i < had->n; i++) {
            double before = tb_part_percent(had, had->share[i].fibre), now;

            if (had->share[i].fibre == TB_FIBRE_UNKNOWN)
                continue;
            now = has ? tb_part_percent(has, had->share[i].fibre) : 0;
            if (now == 0 || (isfinite(had->share[i].percent) && !(fabs(now - before) < SAME)))
                return false;
        }
    }
    return true;
}

static const struct tb_doubt *doubt_of(const struct tb_declaration *d, const struct tb_word *w)
{
    for (size_t i = 0; i < d->n; i++)
        if (d->doubt[i].at == w->at && d->doubt[i].kind == TB_DOUBT_AMBIGUOUS && d->doubt[i].choices)
            return &d->doubt[i];
    return NULL;
}

static bool said_in_full(const struct tb_part *p)
{
    double sum = 0;

    for (size_t i = 0; i < p->n; i++)
        sum += p->share[i].percent; /* NAN where one has none */
    return fabs(sum - 100) < SAME;
}

/* Whether a word stands for a fibre that nobody can name from it, or room is left for one beside the figures. */
static bool leaves_open(const struct tb_declaration *d)
{
    bool full = d->comp.n > 0;

    for (size_t p = 0; p < d->comp.n; p++)
        full = full && said_in_full(&d->comp.part[p]);
    for (size_t i = 0; i < d->words; i++) {
        const struct tb_word *w = &d->word[i];
        bool stands = w->share != TB_NOWHERE;

        if (w->kind == TB_WORD_UNDETERMINED ||
            (stands && w->fibre == -1 && w->kind != TB_WORD_CODE && !doubt_of(d, w)))
            return true;
        if (!stands && !full && (w->kind == TB_WORD_UNKNOWN || w->kind == TB_WORD_VAGUE))
            return true;
    }
    return d->comp.n == 0;
}

enum tb_answer_kind tb_declaration_answered(const struct tb_declaration *said,
                                            const struct tb_declaration *answer)
{
    bool foreign = answer->comp.n == 0;

    if (!keeps(said, answer))
        return TB_ANSWER_OTHER;
    for (size_t i = 0; i < said->n; i++)
        if (!chosen(answer, &said->doubt[i]))
            return TB_ANSWER_OTHER;
    for (size_t p = 0; p < answer->comp.n; p++)
        for (size_t i = 0; i < answer->comp.part[p].n; i++) {
            int fibre = answer->comp.part[p].share[i].fibre;

            foreign = foreign || (!names(&said->comp, fibre) && !offered(said, fibre));
        }
    return !foreign ? TB_ANSWER_READS : leaves_open(said) ? TB_ANSWER_OPEN : TB_ANSWER_OTHER;
}
