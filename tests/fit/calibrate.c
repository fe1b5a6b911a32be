/*
 * calibrate - how often the model is right on the published burns, each family of sources left out in turn.
 *
 *   calibrate              prints one line a judgement: family,fibre,declared,true,grade,log_ratio
 *   calibrate lots         prints one line a lot: fibre,declared,true,grade; a lot is three bolts, each burned as another
 *                          family describes the fibre, all three left out of the counts
 *
 * A family that is left out is taken away from the counts as known burns of weight -1, so what is measured is
 * the program's own engine, all compositions of up to three fibres, with the figures it ships with.
 */
#include "tenterbook/evidence.h"

#include <csv.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "gen/ref_burn_fibre.h"
#include "gen/ref_burn_profile.h"

static const char *const declared[] = { "cotton",  "wool",    "silk",    "polyester", "nylon",
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

static void take_cell(struct tb_observation *o, const char *channel, const char *cell)
{
    char *copy = tb_strdup(cell), *rest = NULL;

    for (char *w = strtok_r(copy, "; ", &rest); w; w = strtok_r(NULL, "; ", &rest)) {
        char key[200];
        int cue;

        (void)snprintf(key, sizeof key, "%s:%s", channel, w[0] == '!' ? w + 1 : w);
        cue = tb_cue_by_key(key);
        if (cue < 0)
            continue;
        if (w[0] != '!')
            tb_observation_see(o, cue);
        else if (o->sight[cue] != TB_SIGHT_SEEN)
            tb_observation_deny(o, cue);
    }
    free(copy);
}

static void take_profiles(void)
{
    for (size_t i = 0; i < tb_ref_burn_profile_n; i++) {
        const struct tb_ref_burn_profile *r = &tb_ref_burn_profile[i];
        int fibre = fibre_of(r->fibre);
        struct tb_observation *o;

        if (fibre < 0)
            continue;
        o = &account_of(r->lineage, fibre)->seen;
        take_cell(o, "approach", r->approach);
        take_cell(o, "in_flame", r->in_flame);
        take_cell(o, "removed", r->removed);
        take_cell(o, "flame_colour", r->flame_colour);
        take_cell(o, "smoke", r->smoke);
        take_cell(o, "odour", r->odour);
        take_cell(o, "residue_form", r->residue_form);
        take_cell(o, "residue_colour", r->residue_colour);
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

static void judge_account(const struct tb_evidence *ev, const struct account *a)
{
    for (size_t d = 0; d < TB_COUNT(declared); d++) {
        struct tb_declaration decl = { 0 };
        struct tb_verdict v = { 0 };
        struct tb_err err = { 0 };
        int fibre = tb_fibre_by_key(declared[d]);

        (void)tb_part_add_share(tb_composition_add_part(&decl.comp, TB_PART_WHOLE), fibre, 100);
        if (tb_evidence_judge(&v, ev, &decl, &a->seen, 1, 0, &err) != TB_OK) {
            (void)fprintf(stderr, "calibrate: %s\n", err.msg);
            exit(1);
        }
        (void)printf("%s,%s,%s,%d,%s,%.17g\n", a->family, tb_fibre_at(a->fibre)->key, declared[d],
                     strcmp(class_of(fibre), class_of(a->fibre)) == 0, tb_word(&tb_grade_words, (int)v.grade),
                     v.log_ratio);
        tb_verdict_free(&v);
        tb_declaration_free(&decl);
    }
}

/* The model without the burns of these accounts. */
static struct tb_evidence *without(const struct tb_known_burn *away, size_t n)
{
    struct tb_evidence *ev = NULL;
    struct tb_err err = { 0 };

    if (tb_evidence_new(&ev, NULL, away, n, &err) != TB_OK) {
        (void)fprintf(stderr, "calibrate: %s\n", err.msg);
        exit(1);
    }
    return ev;
}

static void judge_family(const char *family)
{
    struct tb_known_burn *away = tb_array(struct tb_known_burn, accounts);
    struct tb_evidence *ev;
    size_t n = 0;

    for (size_t i = 0; i < accounts; i++)
        if (strcmp(account[i].family, family) == 0)
            away[n++] = (struct tb_known_burn){ account[i].fibre, account[i].seen, -1, NULL };
    ev = without(away, n);
    for (size_t i = 0; i < accounts; i++)
        if (strcmp(account[i].family, family) == 0 && cues_said(&account[i].seen) >= LEAST_CUES)
            judge_account(ev, &account[i]);
    tb_evidence_free(ev);
    free(away);
}

/* --- lots -------------------------------------------------------------------------------------------------- */

#define BOLTS 3

/* A lot contradicts where all its burns together do, or one bolt by itself (src/work/judge.c). */
static enum tb_grade grade_of(const struct tb_verdict *together, const struct tb_verdict *alone)
{
    for (size_t b = 0; b < BOLTS; b++)
        if (alone[b].kind == TB_CONTRADICTS)
            return TB_GRADE_CONTRADICTS;
    return together->grade;
}

static void judge_lot(const struct account *const bolt[BOLTS])
{
    struct tb_known_burn away[BOLTS];
    struct tb_observation seen[BOLTS];
    size_t set[BOLTS];
    struct tb_evidence *ev;
    struct tb_recall *recall;

    for (size_t b = 0; b < BOLTS; b++) {
        away[b] = (struct tb_known_burn){ bolt[b]->fibre, bolt[b]->seen, -1, NULL };
        seen[b] = bolt[b]->seen;
        set[b] = b;
    }
    ev = without(away, BOLTS);
    recall = tb_recall_new(ev);
    for (size_t d = 0; d < TB_COUNT(declared); d++) {
        struct tb_declaration decl = { 0 };
        struct tb_verdict together = { 0 }, alone[BOLTS] = { { 0 } };
        struct tb_err err = { 0 };
        int fibre = tb_fibre_by_key(declared[d]);

        (void)tb_part_add_share(tb_composition_add_part(&decl.comp, TB_PART_WHOLE), fibre, 100);
        if (tb_evidence_judge_sets(&together, alone, ev, recall, &decl, seen, BOLTS, set, BOLTS, 0, &err) !=
            TB_OK) {
            (void)fprintf(stderr, "calibrate: %s\n", err.msg);
            exit(1);
        }
        (void)printf("%s,%s,%d,%s\n", tb_fibre_at(bolt[0]->fibre)->key, declared[d],
                     strcmp(class_of(fibre), class_of(bolt[0]->fibre)) == 0,
                     tb_word(&tb_grade_words, (int)grade_of(&together, alone)));
        tb_verdict_free(&together);
        for (size_t b = 0; b < BOLTS; b++)
            tb_verdict_free(&alone[b]);
        tb_declaration_free(&decl);
    }
    tb_recall_free(recall);
    tb_evidence_free(ev);
}

/* The families that describe a fibre, three by three; each has a say in one lot of it. */
static void judge_lots(void)
{
    (void)printf("fibre,declared,true,grade\n");
    for (size_t f = 0; f < tb_ref_burn_fibre_n; f++) {
        const struct account *bolt[BOLTS];
        size_t n = 0;

        for (size_t i = 0; i < accounts; i++)
            if (account[i].fibre == tb_fibre_by_key(tb_ref_burn_fibre[f].fibre) &&
                cues_said(&account[i].seen) >= LEAST_CUES) {
                bolt[n++] = &account[i];
                if (n == BOLTS)
                    judge_lot(bolt);
                n %= BOLTS;
            }
    }
}

int main(int argc, char **argv)
{
    take_profiles();
    if (argc > 1 && strcmp(argv[1], "lots") == 0) {
        judge_lots();
        return 0;
    }
    (void)printf("family,fibre,declared,true,grade,log_ratio\n");
    for (size_t i = 0; i < accounts; i++) {
        bool first = true;

        for (size_t k = 0; k < i; k++)
            first &= strcmp(account[k].family, account[i].family) != 0;
        if (first)
            judge_family(account[i].family);
    }
    return 0;
}
