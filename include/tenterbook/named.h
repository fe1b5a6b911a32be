/*
 * named.h - what a person means by a name: a lot, a bolt, a swatch or a delivery of the book, as it was typed or scanned.
 */
#ifndef TENTERBOOK_NAMED_H
#define TENTERBOOK_NAMED_H

#include "tenterbook/base.h"

#include <stdint.h>

struct tb_book;

struct tb_named {
    const char *
        about; /* "lot", "bolt", "swatch", "delivery"; "void bolt", "void swatch": only void ones are called so */
    const char *ref; /* as the book writes it; of a bolt that of its lot */
    int64_t rank;    /* inside the module */
};
/*
 * tb_named - what is called so, void or not: lots come before bolts, then swatches and deliveries.
 *   fails   TB_ENOTFOUND nothing is, and the names that are nearly so are offered; TB_EINVAL bolts of several lots are
 *   memory  in mem
 */
tb_rc tb_named(struct tb_named *out, struct tb_book *b, const char *typed, struct tb_arena *mem,
               struct tb_err *err);

/*
 * tb_name_written - a name as the book writes it, where it was typed without zeros or in other letter case, and one thing alone is
 * called so; else `typed`.
 *   lot_ref  the lot of a bolt, as the book writes it; NULL any
 *   memory   `typed`, or in mem
 */
tb_rc tb_name_written(const char **out, struct tb_book *b, const char *typed, const char *lot_ref,
                      struct tb_arena *mem, struct tb_err *err);

/*
 * tb_near_offer - to the refusal of a name that nothing has the names are added that are written nearly so.
 *   returns rc; adds nothing where that is not TB_ENOTFOUND
 */
tb_rc tb_near_offer(struct tb_book *b, const char *typed, tb_rc rc, struct tb_err *err);

/* Somebody who wrote in this book, by the name of the first time. */
struct tb_person {
    const char *id, *name;
};
/*
 * tb_person_find - somebody who wrote in this book. A name in other capitals, or with signs in it that nobody sees, is the same
 * person's: two spellings of one would count as two pairs of eyes.
 *   fails   TB_ENOTFOUND nobody is called so, and the names that are nearly so are offered
 *   memory  in mem
 */
tb_rc tb_person_find(struct tb_person *out, struct tb_book *b, const char *name, struct tb_arena *mem,
                     struct tb_err *err);
/* tb_person_written - the name of somebody as the book writes it, which is `name` of whoever never wrote in it. In mem, or `name`. */
tb_rc tb_person_written(const char **out, struct tb_book *b, const char *name, struct tb_arena *mem,
                        struct tb_err *err);

#endif
