/*
 * settled.c - lots that the bench judged and a laboratory settled afterwards: independent tests of the site's own burns.
 *
 * Only the last verdict before the first analysis counts, since whoever burns a cloth that the laboratory has named sees
 * what was named. Source: docs/method.md, section 7.
 */
#include "work/model.h"

#include "tenterbook/analysis.h"
#include "tenterbook/stored_verdict.h"

#include <math.h>
#include <string.h>

#define SHOWN_PERCENT                                                                                        \
    10.0 /* a fibre below this may be too little to show in a flame; as docs/method.md, section 6 */
#define CLASSES_MOST 32

/* Burning classes by name, each once. */
struct classes {
    const char *key[CLASSES_MOST];
    size_t n;
};

static bool has(const struct classes *c, const char *key)
{
    for (size_t i = 0; i < c->n; i++)
        if (strcmp(c->key[i], key) == 0)
            return true;
    return false;
}

static void add(struct classes *c, const char *key)
{
    if (!has(c, key) && c->n < CLASSES_MOST)
        c->key[c->n++] = key;
}

/* The classes of what is plentiful enough to show, and of what is not. False where a fibre that shows has no name. */
static bool take(struct classes *shown, struct classes *minor, const struct tb_part *part)
{
    for (size_t i = 0; i < part->n; i++) {
        const struct tb_share *s = &part->share[i];
        bool little = s->percent < SHOWN_PERCENT; /* a share that was not said is NAN, and shows */

        if (s->fibre >= 0)
            add(little ? minor : shown, tb_fibre_at(s->fibre)->burn_class);
        else if (!little)
            return false;
    }
    return shown->n > 0;
}

/* All of `a` is in `b` or in `or`. */
static bool within(const struct classes *a, const struct classes *b, const struct classes * or)
{
    for (size_t i = 0; i < a->n; i++)
        if (!has(b, a->key[i]) && !(or &&has(or, a->key[i])))
            return false;
    return true;
}

enum answer { CANNOT_SAY, AS_DECLARED, NOT_SO };

/* Does what was found burn like what was declared? By the rule that judges burns: twins are alike, a trace may be there. */
static enum answer compare(const struct tb_part *declared, const struct tb_part *found)
{
    struct classes must = { 0 }, minor = { 0 }, shown = { 0 }, trace = { 0 };

    if (!take(&must, &minor, declared) || !take(&shown, &trace, found))
        return CANNOT_SAY;
    return within(&must, &shown, NULL) && within(&shown, &must, &minor) ? AS_DECLARED : NOT_SO;
}

static const struct tb_part *part_of(const struct tb_declaration *d, enum tb_part_kind kind)
{
    for (size_t i = 0; i < d->comp.n; i++)
        if (d->comp.part[i].kind == kind)
            return &d->comp.part[i];
    return NULL;
}

static enum answer of_found(const struct tb_part *declared, const char *text)
{
    struct tb_declaration found = { 0 };
    enum answer answer = CANNOT_SAY;

    tb_declaration_read(&found, text, strlen(text));
    if (part_of(&found, TB_PART_WHOLE))
        answer = compare(declared, part_of(&found, TB_PART_WHOLE));
    tb_declaration_free(&found);
    return answer;
}

/* By the last analysis of this part among those of the lot; where another says the opposite the lot is open, and settles nothing. */
static enum answer of_part(const struct tb_part *declared, const struct tb_lab_settled *row, size_t n)
{
    enum answer last = CANNOT_SAY;
    bool said[NOT_SO + 1] = { false };

    for (size_t i = 0; i < n; i++)
        if (row[i].part == declared->kind) {
            last = of_found(declared, row[i].found);
            said[last] = true;
        }
    return said[AS_DECLARED] && said[NOT_SO] ? CANNOT_SAY : last;
}

/* One part that is something else settles a lot; that it is as declared, only all of its parts together. */
static enum answer of_lot(const struct tb_lab_settled *row, size_t n)
{
    struct tb_declaration d = { 0 };
    enum answer all = AS_DECLARED;

    tb_declaration_read(&d, row->declared, strlen(row->declared));
    for (size_t i = 0; i < d.comp.n; i++) {
        enum answer one =
            d.comp.part[i].kind == TB_PART_COATING ? AS_DECLARED : of_part(&d.comp.part[i], row, n);

        all = all == NOT_SO || one == NOT_SO ? NOT_SO : one == CANNOT_SAY ? CANNOT_SAY : all;
    }
    if (d.comp.n == 0)
        all = CANNOT_SAY;
    tb_declaration_free(&d);
    return all;
}

static tb_rc grade_of(enum tb_grade *out, const char *grade, enum tb_verdict_kind kind, struct tb_err *err)
{
    int found = TB_UNGRADED;
    tb_rc rc = *grade ? tb_word_read(&found, &tb_grade_words, grade, err) : TB_OK;

    *out = tb_grade_of((enum tb_grade)found, kind);
    return rc;
}

/* All that the bench judged, and of each delivery of which a lot was settled. */
static tb_rc count_judged(struct tb_evidence_settings *out, struct tb_settled_ratio *lot, struct tb_book *b,
                          int64_t upto, struct tb_arena *mem, struct tb_err *err)
{
    struct tb_lab_judged *row = NULL;
    size_t rows = 0;
    tb_rc rc = tb_lab_judged_list(&row, &rows, b, upto, mem, err);

    for (size_t i = 0; i < rows && rc == TB_OK; i++) {
        enum tb_grade grade;

        if ((rc = grade_of(&grade, row[i].grade, row[i].verdict, err)) != TB_OK)
            return rc;
        out->judged[grade] += (double)row[i].lots;
        for (size_t k = 0; k < out->n_settled; k++)
            if (strcmp(lot[k].unit, row[i].delivery) == 0)
                lot[k].judged[grade] += (double)row[i].lots;
    }
    return rc;
}

tb_rc tb_settled_read(struct tb_evidence_settings *out, struct tb_book *b, int64_t upto, struct tb_arena *mem,
                      struct tb_err *err)
{
    struct tb_lab_settled *row = NULL;
    struct tb_settled_ratio *lot;
    size_t rows = 0;
    tb_rc rc = tb_lab_settled_list(&row, &rows, b, upto, mem, err);

    lot = tb_arena_alloc(mem, (rows + 1) * sizeof *lot);
    out->settled = lot;
    out->n_settled = 0;
    for (size_t i = 0, next; i < rows && rc == TB_OK; i = next) {
        struct tb_settled_ratio *l = &lot[out->n_settled];
        enum answer answer;

        for (next = i + 1; next < rows && strcmp(row[next].lot, row[i].lot) == 0;)
            next++;
        if ((answer = of_lot(&row[i], next - i)) == CANNOT_SAY)
            continue;
        *l = (struct tb_settled_ratio){ .unit = row[i].delivery,
                                        .as_declared = answer == AS_DECLARED,
                                        .log_ratio = row[i].log_ratio };
        rc = grade_of(&l->grade, row[i].grade, row[i].verdict, err);
        out->n_settled++;
    }
    return rc == TB_OK && out->n_settled ? count_judged(out, lot, b, upto, mem, err) : rc;
}
