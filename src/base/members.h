/*
 * members.h - members of stored JSON objects, read with their type checked: what is damaged is refused by name.
 *
 * One struct goes through all reads of one object and keeps the first failure; after it every read answers as if the
 * member were absent, so that a reader checks once, at its end. A member that is absent or null is not damaged.
 */
#ifndef TENTERBOOK_BASE_MEMBERS_H
#define TENTERBOOK_BASE_MEMBERS_H

#include "tenterbook/base.h"

#include <jansson.h>
#include <stdint.h>

struct tb_members {
    struct tb_arena *mem; /* text and lists are copied there */
    struct tb_err *err;   /* the sentence of the first failure */
    tb_rc rc;             /* TB_OK, or TB_EFORMAT from the first failure on */
};

/* A text, copied to m->mem; NULL where it is absent. */
const char *tb_member_text(struct tb_members *m, const json_t *object, const char *key);
/* A number; NAN where it is absent. */
double tb_member_number(struct tb_members *m, const json_t *object, const char *key);
/* A whole number; 0 where it is absent. */
int64_t tb_member_whole(struct tb_members *m, const json_t *object, const char *key);
/* A truth value; false where it is absent. */
bool tb_member_flag(struct tb_members *m, const json_t *object, const char *key);
/* An object, borrowed; NULL where it is absent. */
const json_t *tb_member_object(struct tb_members *m, const json_t *object, const char *key);

/*
 * tb_member_list - room for the elements of an array.
 *   n       how many; 0 where the member is absent
 *   each    the array itself, borrowed: json_array_get(each, i)
 *   returns n zeroed records of `size` bytes in m->mem
 */
void *tb_member_list(struct tb_members *m, const json_t *object, const char *key, size_t size, size_t *n,
                     const json_t **each);
/*
 * tb_member_words - the texts of an array that is given itself; NULL or null: n is 0.
 *   name    what the sentence of a failure calls it
 */
const char **tb_member_words(struct tb_members *m, const json_t *array, const char *name, size_t *n);
/* tb_member_bad - note a failure the reader found itself: the member holds something, and it makes no sense. */
void tb_member_bad(struct tb_members *m, const char *key, const char *value);

#endif
