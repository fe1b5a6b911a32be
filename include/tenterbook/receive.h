/*
 * receive.h - a packing list that was read goes into the book: one transaction a file, wholly or not at all.
 */
#ifndef TENTERBOOK_RECEIVE_H
#define TENTERBOOK_RECEIVE_H

#include "tenterbook/book.h"
#include "tenterbook/intake.h"

struct tb_receive_opts {
    const char *who;       /* the person who receives */
    const char *file_name; /* of the supplier's file, as the book keeps it; its folders are dropped */
    const char *arrived;   /* day the goods came in, YYYY-MM-DD; NULL: today */
    const char *remark;    /* what was seen at the door; NULL: nothing. See tb_receive_remark */
    bool again;            /* take a file in although the book has it */
    void (*progress)(void *arg, size_t bolts, size_t of); /* every few thousand bolts; may be NULL */
    void *progress_arg;
};

/*
 * tb_receive - store a packing list.
 *
 *   ref    one reference number for each delivery of the list, in its order; in mem
 *   lot    one reference number for each lot of the list, in its order; in mem
 *   list   as tb_packing_list_read left it after TB_OK
 *   fails  TB_EEXISTS the book has this file already (said by its digest); else as the book does. Then nothing
 *          was stored
 */
tb_rc tb_receive(const char ***ref, const char ***lot, struct tb_book *b, const struct tb_packing_list *list,
                 const struct tb_receive_opts *opts, struct tb_arena *mem, struct tb_err *err);

/*
 * tb_receive_remark - what the receipt says: "received unexamined", and after it what was seen at the door. A signed
 * receipt that is silent is taken for an examination in some places (docs/claims.md). Words that speak of examining
 * themselves stand alone. In mem.
 */
const char *tb_receive_remark(const char *said, struct tb_arena *mem);

/* TB_EEXISTS with the delivery's number when the book has a file with this digest, else TB_OK. */
tb_rc tb_receive_seen(struct tb_book *b, const char *digest, struct tb_err *err);

/* The site's own header words, kept as settings "header:WORD" with a field's key; in mem. */
tb_rc tb_receive_words(struct tb_header_word **out, size_t *n, struct tb_book *b, struct tb_arena *mem,
                       struct tb_err *err);

/* A price per metre, as the book keeps it; NAN when it was not per length. */
double tb_price_per_metre(const struct tb_list_lot *lot);

#endif
