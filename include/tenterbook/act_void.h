/*
 * act_void.h - the acts that put right what was recorded by mistake. Nothing is deleted: a void record stays in the book and
 * on the page of its lot, and counts nowhere else.
 */
#ifndef TENTERBOOK_ACT_VOID_H
#define TENTERBOOK_ACT_VOID_H

#include "tenterbook/act_bench.h"
#include "tenterbook/concluded.h"
#include "tenterbook/todo.h"
#include "tenterbook/void.h"

/* A lot after something of it was voided, or counts again. */
struct tb_void_lot {
    struct tb_rejudged judged; /* by what is left; judged.judged is false where nothing is */
    struct tb_todo_row
        ground; /* what decisions on the lot rested on and is void since, as tb_ground_gone; lot NULL: nothing */
    struct tb_concluded
        concluded;   /* of it now; read where a report or a step of a dispute was voided, or counts again */
    bool paper;      /* it was one of those */
    bool undisputed; /* the lot was held by the opening of a dispute, which is void now */
    bool bare;       /* nothing of it was burned or tested before either */
    bool ahead;      /* it was weighed before others had to wait */
};

/* ---- void ---------------------------------------------------------------------------------------------- */

struct tb_void_request {
    const char *
        name; /* reference of a delivery or lot, tag of a swatch, id of a burn, test, analysis or step of a dispute, number of a bolt */
    const char *lot; /* reference, where several lots have a bolt of that number; NULL */
    const char *why; /* not empty */
    bool knowing;    /* with all that hangs on it */
    bool again;      /* back: although the same goods were received anew since */
};
struct tb_void_outcome {
    struct tb_void_subject subject;
    struct tb_hanging hanging; /* what does not count with it */
    struct tb_voiding voiding; /* as recorded, of the subject itself */
    struct tb_void_lot lot;    /* of what was recorded of a lot, and of a bolt */
    const char *held;          /* back: the lots whose hold stands again, separated by commas; NULL none */
};
/*
 * tb_void_look - what would be voided and what hangs on it, without recording anything: subject and hanging of *out are set.
 *   fails  as tb_act_void, but for the reason and for not being told that what hangs on it is known
 */
tb_rc tb_void_look(struct tb_void_outcome *out, struct tb_book *b, const struct tb_void_request *request,
                   struct tb_arena *mem, struct tb_err *err);
/*
 * tb_act_void - a record made by mistake counts no more, and its lot is judged again.
 *   out    free out->lot.judged with tb_rejudged_free; after a failure there is nothing to free
 *   fails  TB_ENOTFOUND there is no such record; TB_EINVAL no reason, a number several lots have; TB_EREFUSED it is void already
 *          or was corrected, something hangs on it and it is not said that this is known, a dispute about it is open, the supplier holds a piece of it, it is the only bolt of its lot
 *          or the only lot of its delivery, or the dispute went on after the step
 */
tb_rc tb_act_void(struct tb_void_outcome *out, const struct tb_actor *actor,
                  const struct tb_void_request *request, struct tb_arena *mem, struct tb_err *err);

/*
 * tb_act_void_back - what was voided by mistake counts again, and its lot is judged again. A delivery comes back with those lots that
 * were voided with it.
 *   request  as of tb_act_void; `knowing` is not asked
 *   out      subject, voiding (the one that takes back) and lot are set; free as of tb_act_void
 *   fails    TB_ENOTFOUND nothing of that name is void; TB_EEXISTS a delivery of the same note or file counts, without `again`;
 *            TB_EINVAL no reason, a number that several void bolts have; TB_EREFUSED its
 *            swatch, bolt, lot or delivery is void too, it was moved, or it corrected another record, which counts since
 */
tb_rc tb_act_void_back(struct tb_void_outcome *out, const struct tb_actor *actor,
                       const struct tb_void_request *request, struct tb_arena *mem, struct tb_err *err);

/* ---- move ---------------------------------------------------------------------------------------------- */

struct tb_move_request {
    const char *burn;   /* id of a burn or a bench test */
    const char *swatch; /* tag of the one that was burned or tested */
    const char *why;    /* not empty */
};
struct tb_move_outcome {
    struct tb_burn burn;       /* as recorded of that swatch; id NULL: a test was moved */
    struct tb_bench_test test; /* likewise; id NULL: a burn was moved */
    const char *was;           /* id of the record that is void now */
    const char *from;          /* tag of the swatch it was recorded of */
    struct tb_void_lot lot[2]; /* of the swatch it is of, and the lot it was taken from */
    size_t lots;               /* 1 where they are one; known cloth is of none */
};
/*
 * tb_act_move - a burn or a bench test recorded of the wrong swatch: it is void there, and recorded of the right one, with its
 * moment, who burned or tested it and its photographs; the lots of both are judged again.
 *   out    free with tb_move_free; after a failure there is nothing to free
 *   fails  TB_ENOTFOUND no such record or swatch; TB_EINVAL no reason, the same swatch, a swatch cut after the burn; TB_EREFUSED it
 *          is void or was corrected, or it answers a card of a drill
 */
tb_rc tb_act_move(struct tb_move_outcome *out, const struct tb_actor *actor,
                  const struct tb_move_request *request, struct tb_arena *mem, struct tb_err *err);
void tb_move_free(struct tb_move_outcome *out); /* what is in an arena stays */

#endif
