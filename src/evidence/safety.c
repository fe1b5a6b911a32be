/*
 * safety.c - what stands beside a burn that fits, or would: the cloth that would burn so too, and what nobody may trust it to do.
 *
 * A burn says which fibre it may be. Who wears the cloth before a flame asks something else.
 */
#include "evidence/judge.h"

#include <math.h>

#define ABSENT 10.0 /* times likelier without a finish: it is not there */

static void note_imitated(struct tb_verdict *v, const struct tb_question *q)
{
    bool bare;
    const char *by = tb_fibre_at(tb_imitated_by(q, &bare))->name;

    tb_verdict_note(
        v,
        bare ? TR_("The declaration names a fibre that is bought for its safety in a flame. Cheaper cloth, "
                   "%s, may burn on like this too, so that a burn alone does not make such a declaration "
                   "fit: look at the fibres under the microscope, or ask a laboratory. Whether cloth "
                   "protects anybody is not tested by this burn at all.")
             : TR_("The declaration names a fibre that is bought for its safety in a flame. Cheaper cloth, "
                   "%s with a flame retardant, would burn about as well like this, so that a burn alone does "
                   "not make such a declaration fit: look at the fibres under the microscope, or ask a "
                   "laboratory. Whether cloth protects anybody is not tested by this burn at all."),
        by);
}

/* A glove that only looks safe burns a hand: what would tell stands beside what a burn cannot. */
static void note_rival(struct tb_verdict *v, const struct tb_question *q)
{
    int outdone = v->outdone ? tb_outdone_by(q) : -1, mixed = v->outdone ? tb_mixed_with(q) : -1;

    if (outdone >= 0)
        tb_verdict_note(
            v,
            "Of cloth of %s alone what was seen would be more than three times as likely as of what is "
            "declared: so it does not fit, although most other cloth is less likely.",
            tb_fibre_at(outdone)->name);
    else if (mixed >= 0)
        tb_verdict_note(
            v,
            "Two kinds of fibre were smelled, or seen under the microscope. With a part of %s in "
            "it what was seen "
            "would be more than twice as likely as of what is declared: so it does not fit. Ravel "
            "the cloth and burn "
            "warp, weft and single yarns apart.",
            tb_fibre_at(mixed)->name);
    else if (v->outdone)
        tb_verdict_note(v, "A finish is declared, and nobody has tested burns of such cloth: what the finish "
                           "may do by itself "
                           "is no evidence of the fibre. What it leaves alone says too little, and had "
                           "nothing been declared "
                           "another cloth would be likelier: so it does not fit.");
    if (v->imitated)
        note_imitated(v, q);
}

/* Cloth that is to stop a flame goes out: whatever its fibre is, this one did not. */
static void note_burns_on(struct tb_verdict *v, const struct tb_question *q)
{
    int z = tb_finish_by_key("flame_retardant");

    for (size_t i = 0; i < q->n; i++) {
        const struct tb_group *g = &q->group[i];

        if ((g->declared.finish & 1u << z || tb_protective(q->ev, &g->declared)) && tb_burns_on(g)) {
            tb_verdict_note(v, "It burned quickly or went on burning out of the flame, and what is declared "
                               "is bought because it does "
                               "not: whatever the fibre is, do not trust it to protect anybody before a test "
                               "of flammability by its standard.");
            return;
        }
    }
}

/* A flame retardant that does not show is no matter of the fibre, and somebody may trust it all the same. */
static void note_retardant(struct tb_verdict *v, const struct tb_question *q)
{
    int z = tb_finish_by_key("flame_retardant");

    for (size_t i = 0; i < q->n; i++) {
        const struct tb_group *g = &q->group[i];
        struct tb_blend bare = g->declared.blend, with = bare;

        bare.finish = 0;
        with.finish = z + 1;
        with.named = true;
        if (g->declared.finish & 1u << z &&
            tb_patterns_log(q->ev, &bare, g->pattern, g->n) >
                tb_patterns_log(q->ev, &with, g->pattern, g->n) + log(ABSENT)) {
            tb_verdict_note(v,
                            "The declaration names a flame retardant, and what was seen is more than ten "
                            "times as likely of the same cloth without one. That says nothing of the fibre, "
                            "but do not trust the finish before a test of flammability by its standard.");
            return;
        }
    }
}

void tb_note_safety(struct tb_verdict *v, const struct tb_question *q)
{
    note_rival(v, q);
    note_retardant(v, q);
    note_burns_on(v, q);
}
