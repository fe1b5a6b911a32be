/*
 * act_amend.h - the acts that put right what was written down wrongly beside the cloth: of a delivery, and the name of a supplier.
 * What stood there before stays in the book.
 */
#ifndef TENTERBOOK_ACT_AMEND_H
#define TENTERBOOK_ACT_AMEND_H

#include "tenterbook/act.h"
#include "tenterbook/address.h"
#include "tenterbook/dispute.h"
#include "tenterbook/goods.h"
#include "tenterbook/void.h"

/* ---- amend --------------------------------------------------------------------------------------------- */

struct tb_amend_request {
    const char *delivery; /* its reference */
    const char *why;      /* not empty */
    /* NULL: it stays as it is; "" (but for the day of arrival, the supplier and the unit): there is none */
    const char *arrived, *note, *order, *note_day, *remark, *supplier;
    bool another; /* the supplier is another one than that whose name looks or is nearly the same */
    bool again;   /* the note is on another delivery of the supplier too, and this is another one */
    const char *
        unit; /* what the figures of its list are of, as they are written there: yd, m; read: as they were read */
    bool
        knowing; /* another unit than they were read in, or a day after something was done with the goods: it is known what comes of it */
};
struct tb_amend_outcome {
    struct tb_delivery delivery;    /* as it is now */
    struct tb_amendment *amendment; /* what changed, of one lot */
    size_t amendments, lots;
    struct tb_name_noticed seen; /* of the supplier's name */
    bool fresh;                  /* nothing had come from that supplier before: the name is new in the book */
    bool unit;                   /* lengths are computed anew */
    double metres_was, metres;   /* of all lots, where they are; NAN not known */
    const char
        *odds; /* what the book holds that is at odds with it, as a sentence without its full stop; NULL */
};
/*
 * tb_act_amend - put right what was written down of a delivery and is not of the cloth: the day it arrived, its note, order,
 * remark and supplier, and the unit its lengths (and prices a unit) were taken in. Lengths are computed from the figures as written,
 * so that amending twice adds nothing up.
 *   fails  TB_ENOTFOUND no such delivery; TB_EREFUSED it is void, or another unit
 *          or a day of arrival after something was done with the goods, without `knowing`, or as tb_unit_change_of (written in several units ...), or another supplier is said to be one who is in the book by
 *          this very name; TB_EEXISTS the name looks like another supplier's, or that supplier has a delivery with this note; TB_EINVAL no reason, nothing to amend, it is so already, a day that
 *          is not valid or still to come, a unit nobody knows
 */
tb_rc tb_act_amend(struct tb_amend_outcome *out, const struct tb_actor *actor,
                   const struct tb_amend_request *request, struct tb_arena *mem, struct tb_err *err);

/* ---- supplier ------------------------------------------------------------------------------------------ */

struct tb_same_request {
    const char *supplier; /* a name as it was written */
    const char *same_as;  /* the name of the one that it is; NULL: it is on its own again */
    const char *why;      /* not empty */
};
struct tb_same_outcome {
    struct tb_supplier supplier, same_as; /* same_as: whose name counts now */
    bool
        fresh; /* it was a spelling of `was` and no name of its own: it is one now, and nothing that came is its own yet */
    struct tb_supplier was;
    size_t names; /* spellings that are the same as that one now, this one among them */
    /* What is set for each of the two by itself; id NULL: nothing is. In force is what is set for the one whose name counts. */
    struct tb_set_for {
        struct tb_supplier_term terms;
        struct tb_address address;
    } set, other_set; /* of same_as; joined: of the other name, and out of force now */
    /* Each lot whose days to tell the supplier are others now. Days: "" none is known. */
    struct tb_clock_moved {
        const char *lot; /* reference */
        const char *arrival_was,
            *hidden_was; /* for a fault that an examination shows, and for a hidden one */
        const char *arrival, *hidden;
    } * moved;
    size_t moveds;
};
/*
 * tb_act_same - two spellings of one supplier are made one, or parted again. Deliveries and record of both are then of one; terms and
 * address are those set for the name that counts, and what was set for the other one is told and not in force.
 *   fails  TB_ENOTFOUND nobody is called so; TB_EINVAL no reason, the same supplier; TB_EREFUSED it is the same as another one already,
 *          or, to be parted, as nobody
 */
tb_rc tb_act_same(struct tb_same_outcome *out, const struct tb_actor *actor,
                  const struct tb_same_request *request, struct tb_arena *mem, struct tb_err *err);

#endif
