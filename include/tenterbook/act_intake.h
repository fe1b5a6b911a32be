/*
 * act_intake.h - the acts at the door: take a supplier's packing list in.
 */
#ifndef TENTERBOOK_ACT_INTAKE_H
#define TENTERBOOK_ACT_INTAKE_H

#include "tenterbook/act.h"
#include "tenterbook/goods.h"
#include "tenterbook/intake.h"
#include "tenterbook/sheet.h"

/* ---- receive ------------------------------------------------------------------------------------------- */

struct tb_receive_request {
    const char *path; /* of the file on this machine; the book keeps its name without folders */
    const struct tb_sent
        *sent; /* the file itself, where it came as bytes; path is not read then. NULL: it did not */
    /* How the file is to be read. The site's own header words, and its order of dates where none is said here, come
     * by themselves; the words given here are stronger. The digest is computed. */
    struct tb_intake_opts list;
    const char *arrived; /* day the goods came, YYYY-MM-DD; NULL: today */
    const char *remark;  /* what was seen at the door; NULL: nothing */
    bool again;          /* take a file in although the book has it, or one like it */
    const char *why;     /* of one like it: why it is another delivery; NULL */
    bool another;        /* the supplier is another one than that whose name looks or is nearly the same */
    bool dry;            /* read and check, store nothing; the actor's book may be NULL */
    void (*progress)(void *arg, size_t bolts, size_t of); /* every few thousand bolts stored; may be NULL */
    void *progress_arg;
};
/* A delivery of the book that one of the list may be, in other bytes. */
struct tb_receive_twin {
    struct tb_delivery there;            /* ref NULL: there is none */
    int64_t lots, bolts;                 /* of it */
    double metres;                       /* of the bolts whose length is known */
    int64_t unknown;                     /* bolts whose length is not */
    const struct tb_list_delivery *here; /* of the list */
    size_t same,
        looked; /* bolts of the same number and length, of so many looked at; 0 of 0: the note is the same, or nearly */
};
struct tb_receive_outcome {
    struct tb_packing_list
        list; /* as it was read; after a refusal its bad[] names the values that were not taken */
    const char **delivery;        /* a reference for each delivery of the list; NULL: nothing was stored */
    const char **lot;             /* likewise for each lot */
    const char *arrived, *remark; /* as the book keeps them */
    struct tb_receive_twin twin;  /* after a refusal, what it is like */
    struct tb_name_noticed seen;  /* of the first supplier of whose name something was */
};
/*
 * tb_receive_note_check - whether a delivery note was taken in before, asked before the rest of its list is there.
 *   day     of the note; "" it has none
 *   fails   TB_EEXISTS it was, or one that is written nearly so; the sentence names it
 */
tb_rc tb_receive_note_check(struct tb_book *b, const char *supplier, const char *note, const char *day,
                            struct tb_err *err);

/*
 * tb_act_receive - read a packing list and store its deliveries, lots and bolts, all of them or none.
 *
 *   remark  the receipt says "received unexamined" before what was seen: a signed receipt that is silent is taken for
 *           an examination in some places (docs/claims.md). A remark that speaks of examining stands alone
 *   fails   TB_EEXISTS the book has this file already, told by its digest, or the same note of the supplier, or mostly the same
 *           bolts, and it is not said why they come again; or a supplier whose name looks like this one; TB_EREFUSED another supplier
 *           is said to be one who is in the book by this very name; TB_EINVAL goods still to come, a header
 *           word of the site that names no field, and all that tb_packing_list_read refuses
 *   memory  free the outcome with tb_receive_outcome_free, also after a failure
 */
tb_rc tb_act_receive(struct tb_receive_outcome *out, const struct tb_actor *actor,
                     const struct tb_receive_request *request, struct tb_arena *mem, struct tb_err *err);
void tb_receive_outcome_free(struct tb_receive_outcome *out);

#endif
