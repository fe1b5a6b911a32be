/*
 * accounts.h - the published burns as they are judged by calibrate.c and fit.c, each family of sources left out in turn.
 *
 * A family that is left out is taken away from the counts as known burns of weight -1, so what is measured is
 * the program's own engine.
 */
#ifndef TENTERBOOK_TESTS_FIT_ACCOUNTS_H
#define TENTERBOOK_TESTS_FIT_ACCOUNTS_H

#include "evidence/model.h"

#include "gen/ref_burn_fibre.h"
#include "published_burn.h"

#include <math.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define DECLARED 9
static const char *const declared[DECLARED] = { "cotton",  "wool",    "silk",    "polyester", "nylon",
                                                "acetate", "acrylic", "viscose", "flax" };
#define LEAST_CUES 4

/* One family's account of one fibre: everything any of its sources says. */
struct account {
    const char *family;
    int fibre;
    struct tb_observation seen;
};

static struct account account[1024];
static size_t accounts;

static void stop(const struct tb_err *err)
{
    (void)fprintf(stderr, "calibrate: %s\n", err->msg);
    exit(1);
}

static int fibre_of(const char *burn_key)
{
    for (size_t i = 0; i < tb_ref_burn_fibre_n; i++)
        if (strcmp(tb_ref_burn_fibre[i].burn_key, burn_key) == 0)
            return tb_fibre_by_key(tb_ref_burn_fibre[i].fibre);
    return -1;
}

static struct account *account_of(const char *family, int fibre)
{
    for (size_t i = 0; i < accounts; i++)
        if (strcmp(account[i].family, family) == 0 && account[i].fibre == fibre)
            return &account[i];
    account[accounts] = (struct account){ .family = family, .fibre = fibre };
    return &account[accounts++];
}

static void take_profiles(void)
{
    for (size_t i = 0; i < tb_ref_burn_profile_n; i++) {
        const struct tb_ref_burn_profile *r = &tb_ref_burn_profile[i];
        int fibre = fibre_of(r->fibre);

        if (fibre >= 0)
            take_profile(&account_of(r->lineage, fibre)->seen, r);
    }
}

static size_t cues_said(const struct tb_observation *o)
{
    size_t n = 0;

    for (size_t c = 0; c < tb_cue_count(); c++)
        n += o->sight[c] != TB_SIGHT_NONE;
    return n;
}

static const char *class_of(int fibre)
{
    for (size_t i = 0; i < tb_ref_burn_fibre_n; i++)
        if (tb_fibre_by_key(tb_ref_burn_fibre[i].fibre) == fibre)
            return tb_ref_burn_fibre[i].burn_class;
    return "";
}

/* Does what was declared burn like the described fibre? */
static bool is_true(size_t d, const struct account *a)
{
    return strcmp(class_of(tb_fibre_by_key(declared[d])), class_of(a->fibre)) == 0;
}

/* The first account of each family stands for it. */
static bool first_of_family(size_t i)
{
    for (size_t k = 0; k < i; k++)
        if (strcmp(account[k].family, account[i].family) == 0)
            return false;
    return true;
}

static void declare(struct tb_declaration *out, size_t d)
{
    *out = (struct tb_declaration){ 0 };
    (void)tb_part_add_share(tb_composition_add_part(&out->comp, TB_PART_WHOLE), tb_fibre_by_key(declared[d]),
                            100);
}

/* What is done with each judgement. */
typedef void judged_fn(void *to, const struct account *a, size_t d, const struct tb_verdict *v);

/* A burn, held against every declaration. */
static void judge_burn(const struct tb_evidence *ev, const struct account *a,
                       const struct tb_observation *seen, judged_fn *fn, void *to)
{
    struct tb_recall *recall = tb_recall_new(ev);

    for (size_t d = 0; d < DECLARED; d++) {
        struct tb_declaration decl;
        struct tb_verdict v = { 0 };
        struct tb_err err = { 0 };

        declare(&decl, d);
        if (tb_evidence_judge_sets(&v, NULL, ev, recall, &decl, seen, 1, NULL, 0, 0, &err) != TB_OK)
            stop(&err);
        fn(to, a, d, &v);
        tb_verdict_free(&v);
        tb_declaration_free(&decl);
    }
    tb_recall_free(recall);
}

/* The model without the burns of one family; `other` as tb_evidence_of has it. */
static struct tb_evidence *without_family(const char *family, const struct tb_evidence_settings *set,
                                          const struct tb_other_figures *other)
{
    struct tb_known_burn *away = tb_array(struct tb_known_burn, accounts);
    struct tb_evidence *ev = NULL;
    struct tb_err err = { 0 };
    size_t n = 0;

    for (size_t i = 0; i < accounts; i++)
        if (strcmp(account[i].family, family) == 0)
            away[n++] = (struct tb_known_burn){ account[i].fibre, account[i].seen, -1, NULL };
    if (tb_evidence_of(&ev, set, other, away, n, &err) != TB_OK)
        stop(&err);
    free(away);
    return ev;
}

/* Every account of a family with four cues or more. */
static void judge_family(const char *family, const struct tb_evidence_settings *set,
                         const struct tb_other_figures *other, judged_fn *fn, void *to)
{
    struct tb_evidence *ev = without_family(family, set, other);

    for (size_t i = 0; i < accounts; i++)
        if (strcmp(account[i].family, family) == 0 && cues_said(&account[i].seen) >= LEAST_CUES)
            judge_burn(ev, &account[i], &account[i].seen, fn, to);
    tb_evidence_free(ev);
}

/* A linear congruential generator (Knuth, MMIX): the same numbers on every machine. */
static size_t drawn(uint64_t *seed, size_t n)
{
    *seed = *seed * 6364136223846793005u + 1442695040888963407u;
    return (size_t)(*seed >> 33) % n;
}

/* One judgement as a line. */
static void print_judged(void *to, const struct account *a, size_t d, const struct tb_verdict *v)
{
    (void)printf("%s%s,%s,%s,%d,%s,%.17g\n", (const char *)to, a->family, tb_fibre_at(a->fibre)->key,
                 declared[d], is_true(d, a), tb_word(&tb_grade_words, (int)v->grade), v->log_ratio);
}
#define JUDGED_HEAD "family,fibre,declared,true,grade,log_ratio\n"

#endif
