/*
 * sending.h - samples of a lot that went to a laboratory without a joint sample, as the book keeps them. The rules for reading and
 * writing are those of book.h.
 */
#ifndef TENTERBOOK_SENDING_H
#define TENTERBOOK_SENDING_H

#include "tenterbook/book.h"

struct tb_sending_piece {
    const char *swatch;            /* id */
    const char *tag, *bolt_number; /* read-only */
    enum tb_part_kind part;        /* read-only */
};
/* Swatches that went to a laboratory together. */
struct tb_sending {
    const char *id, *lot;                             /* id of the lot */
    const char *laboratory;                           /* never "" */
    const char *sent_on;                              /* day */
    const char *recorded_at, *recorded_by /* name */; /* read-only */
    const char *answered; /* read-only: day of the first report that answers it; NULL: it waits for one */
    struct tb_sending_piece *piece; /* by tag; those that count, and there is one */
    size_t pieces;
};
/*
 * tb_sending_add - record one with its pieces: fills id and recorded_at.
 *   fails  TB_EINVAL when sent_on is not a valid date
 */
tb_rc tb_sending_add(struct tb_sending *s, struct tb_book *b, struct tb_arena *mem, struct tb_err *err);
/*
 * tb_sending_list - those of a lot that count, by day. A report of the same laboratory, or of one that was not named, answers all that
 * went there before the day it was analysed, and of the same day what was recorded before it.
 */
tb_rc tb_sending_list(struct tb_sending **out, size_t *n, struct tb_book *b, const char *lot_id,
                      struct tb_arena *mem, struct tb_err *err);
/* tb_sending_is_void - whether there is a sending with this id that is void. */
tb_rc tb_sending_is_void(bool *out, struct tb_book *b, const char *id, struct tb_err *err);

#endif
