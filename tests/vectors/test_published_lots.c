/*
 * Lots whose bolts each burned as some published description of the declared fibre: what one source leaves out, or says
 * otherwise, must not add up to a contradiction that no single bolt gives.
 *
 * All three bolts burned alike, and triples of different descriptions in an order that a fixed seed gives, every fibre the
 * same number: all triples would be a million. The same of one, two or three cues out of each description: who watches for
 * little sees little, and sees it on every bolt.
 */
#include "evidence_model.h"
#include "gen/ref_burn_fibre.h"
#include "gen/ref_burn_profile.h"
#include "tenterbook/evidence.h"

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

#define BOLTS 3
#define TRIPLES 20 /* of each fibre */
#define DESCRIPTIONS_MOST 128

static const char *const bolt[BOLTS] = { "B1", "B2", "B3" };

static int make_model(void **state)
{
    (void)state;
    return make_model_of(2);
}

/* What one source says of one fibre, as one burn of it. */
struct described {
    const char *source;
    struct tb_observation seen;
    bool alone; /* it contradicts its own fibre when it is all that was burned */
};

/* False where it says of one burn what cannot both be seen ("no residue, little ash"): two burns, told as one. */
static bool as_burn(struct tb_observation *out, const struct tb_ref_burn_profile *r)
{
    const char *const channel[] = { "approach", "in_flame", "removed",      "flame_colour",
                                    "smoke",    "odour",    "residue_form", "residue_colour" };
    const char *const cell[] = { r->approach, r->in_flame, r->removed,      r->flame_colour,
                                 r->smoke,    r->odour,    r->residue_form, r->residue_colour };
    struct tb_text saw = { 0 };
    struct tb_err err = { 0 };
    tb_rc rc;

    for (size_t i = 0; i < TB_COUNT(cell); i++) {
        char *copy = tb_strdup(cell[i]), *rest = NULL;

        for (char *w = strtok_r(copy, "; ", &rest); w; w = strtok_r(NULL, "; ", &rest))
            tb_text_addf(&saw, "%s%s:%s ", w[0] == '!' ? "!" : "", channel[i], w + (w[0] == '!'));
        free(copy);
    }
    rc = tb_observation_read(out, tb_text_str(&saw), NULL, NULL, &err);
    tb_text_free(&saw);
    return rc == TB_OK && !tb_observation_empty(out);
}

/* A bolt burned as each of them, by one person or each by another. */
static enum tb_grade judged(const struct tb_declaration *decl, const struct described *const *of, size_t n,
                            bool others, double *ratio)
{
    struct tb_observation o[BOLTS];
    struct tb_verdict v = { 0 };
    struct tb_err err = { 0 };
    enum tb_grade grade;

    for (size_t i = 0; i < n; i++) {
        o[i] = of[i]->seen;
        o[i].swatch = bolt[i];
        o[i].person = others ? bolt[i] : NULL;
    }
    if (tb_evidence_judge(&v, model, decl, o, n, 0, &err) != TB_OK || v.reason)
        fail_msg("%s: %s", of[0]->source, v.reason ? v.reason : err.msg);
    grade = v.grade;
    *ratio = exp(v.log_ratio);
    tb_verdict_free(&v);
    return grade;
}

/* A linear congruential generator (Knuth, MMIX): the same lots on every machine. */
static size_t drawn(uint64_t *seed, size_t n)
{
    *seed = *seed * 6364136223846793005u + 1442695040888963407u;
    return (size_t)(*seed >> 33) % n;
}

/* So many of the cues that were seen, drawn; nothing else was looked at. */
static void shorten(struct tb_observation *o, size_t cues, uint64_t *seed)
{
    struct tb_observation all = *o;
    int seen[TB_CUES_MOST];
    size_t n = 0;

    *o = (struct tb_observation){ 0 };
    for (int c = 0; c < (int)tb_cue_count(); c++)
        if (all.sight[c] == TB_SIGHT_SEEN)
            seen[n++] = c;
    for (; n > 0 && cues > 0; cues--) {
        size_t at = drawn(seed, n);

        tb_observation_see(o, seen[at]);
        seen[at] = seen[--n];
    }
}

/* `cues`: so many of each, drawn; 0: all it says. */
static size_t descriptions(struct described *out, const struct tb_declaration *decl, const char *burn_key,
                           size_t cues, uint64_t *seed)
{
    size_t n = 0;

    for (size_t i = 0; i < tb_ref_burn_profile_n; i++) {
        const struct described *one = &out[n];
        double ratio;

        if (strcmp(tb_ref_burn_profile[i].fibre, burn_key) != 0)
            continue;
        assert_true(n < DESCRIPTIONS_MOST);
        out[n] = (struct described){ .source = tb_ref_burn_profile[i].source };
        if (!as_burn(&out[n].seen, &tb_ref_burn_profile[i]))
            continue;
        if (cues)
            shorten(&out[n].seen, cues, seed);
        if (tb_observation_empty(&out[n].seen))
            continue;
        out[n].alone = judged(decl, &one, 1, false, &ratio) == TB_GRADE_CONTRADICTS;
        n++;
    }
    return n;
}

/* How many triples contradict, by one person or by three, though none of the three does. */
static size_t wrong(const struct tb_declaration *decl, const struct described *d, size_t n, uint64_t *seed,
                    size_t *lots)
{
    size_t found = 0;

    for (size_t k = 0; k < n + TRIPLES; k++) {
        const struct described *of[BOLTS];
        bool alone = false;
        double ratio;

        for (size_t i = 0; i < BOLTS; i++) {
            of[i] = k < n ? &d[k] : &d[drawn(seed, n)]; /* first each of them three times */
            alone |= of[i]->alone;
        }
        if (alone)
            continue;
        ++*lots;
        if (judged(decl, of, BOLTS, false, &ratio) != TB_GRADE_CONTRADICTS &&
            judged(decl, of, BOLTS, true, &ratio) != TB_GRADE_CONTRADICTS)
            continue;
        (void)printf("# %s burned as %s, %s and %s: 1 to %.0f\n", decl->text, of[0]->source, of[1]->source,
                     of[2]->source, 1 / ratio);
        found++;
    }
    return found;
}

static size_t lots_of(size_t cues, size_t *lots)
{
    uint64_t seed = 20261126;
    size_t found = 0;

    *lots = 0;
    for (size_t f = 0; f < tb_ref_burn_fibre_n; f++) {
        struct described d[DESCRIPTIONS_MOST];
        struct tb_declaration decl = { 0 };
        const char *name = tb_fibre_at(tb_fibre_by_key(tb_ref_burn_fibre[f].fibre))->name;
        size_t n;

        tb_declaration_read(&decl, name, strlen(name));
        n = descriptions(d, &decl, tb_ref_burn_fibre[f].burn_key, cues, &seed);
        found += n ? wrong(&decl, d, n, &seed, lots) : 0;
        tb_declaration_free(&decl);
    }
    (void)printf("# %zu lots of three bolts\n", *lots);
    return found;
}

static void three_bolts_never_contradict_where_none_of_them_does(void **state)
{
    size_t lots;

    (void)state;
    assert_int_equal(lots_of(0, &lots), 0);
    assert_true(lots > 500);
}

static void nor_where_one_to_three_cues_of_each_were_seen(void **state)
{
    (void)state;
    for (size_t cues = 1; cues <= 3; cues++) {
        size_t lots;

        assert_int_equal(lots_of(cues, &lots), 0);
        assert_true(lots > 500);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(three_bolts_never_contradict_where_none_of_them_does),
        cmocka_unit_test(nor_where_one_to_three_cues_of_each_were_seen),
    };

    return cmocka_run_group_tests(tests, make_model, free_model);
}
