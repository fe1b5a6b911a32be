/* totals.h - inside the packing-list reader: a row as the rule for totals looks at it. */
#ifndef TENTERBOOK_INTAKE_TOTALS_H
#define TENTERBOOK_INTAKE_TOTALS_H

#include "intake/rows.h"

/* A row as the rule looks at it. */
struct tb_look {
    enum tb_number_like number;
    enum tb_total_word word;
    bool like;              /* it fills half of what the bolts fill */
    size_t steady, missing; /* what the bolts fill, and what of it is empty here */
    bool another;           /* it belongs to another delivery than the bolts above */
    bool from_one;          /* the numbers of the list begin at 1, or at 0 */
    bool new_lot;           /* it names a dye lot that no bolt above has, built like theirs */
    bool again;             /* its number stands on a bolt already */
    size_t count;           /* a number of bolts that it may state; 0: none */
    double metres;          /* NAN: no length */
    struct tb_list_sum sum; /* the group it adds up; 0 bolts: none */
    bool longer;            /* than any bolt so far, and by half */
    bool numbered;          /* the list numbers its bolts */
    bool counts;            /* its length is the number of bolts of a group */
    bool pending;           /* it adds up only with what is asked about above it */
    bool recap;             /* what it adds up stands further up: not the bolts since the last total */
};

/* totals_ask.c: has the row a number of its own, and no sum that agrees? */
bool tb_likely_bolt(const struct tb_look *k);
/* Is it no longer than the longest bolt, so that it may be cloth as well as a total? */
bool tb_may_be_cloth(const struct tb_look *k, const struct tb_list_reader *r);
/* Asks what the row is. */
void tb_ask_total(struct tb_list_reader *r, const struct tb_row *row, const struct tb_look *k);

#endif
