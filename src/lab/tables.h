/* tables.h - inside the laboratory: lookups in its reference tables, and the ways to separate a mixture. */
#ifndef TENTERBOOK_LAB_TABLES_H
#define TENTERBOOK_LAB_TABLES_H

#include "tenterbook/lab.h"

struct tb_ref_lab_method;

/* Is `number` in a list such as "5;7;21"? */
bool tb_lab_lists(const char *list, int number);
/* Is `word` one of the words of a list separated by commas or spaces? NULL: no list. */
bool tb_lab_says(const char *conditions, const char *word);
/* The entry of a fibre in Annex I; 0: it has none. */
int tb_lab_eu_of(int fibre);
/* The row of a method; NULL: there is no method of that number. */
const struct tb_ref_lab_method *tb_lab_method_row(int number);

/* How a standard treats a fibre. Of a standard that tells fibres apart, those it knows are in the role of the dissolved. */
enum tb_lab_role tb_lab_standard_role(size_t standard, int fibre);
/* Is the standard not for mixtures that hold this fibre? */
bool tb_lab_standard_bars(size_t standard, int fibre);
/* What speaks against a standard: a nasty reagent, a costly instrument, a number nobody looked up. */
int tb_lab_standard_burden(size_t standard);
/* What cannot be planned is refused with what to do about it: fails as tb_lab_plan, but for TB_ENOTFOUND. */
tb_rc tb_lab_check_mixture(const struct tb_part *part, struct tb_err *err);
/* Is there a method of the Regulation that is like the standard, dissolves that fibre too and leaves the others? */
bool tb_lab_method_serves(size_t standard, int gone, const int *stay, size_t stays);

/* The ways to separate a mixture, while they are gathered. */
struct tb_lab_ways {
    struct tb_lab_way *way; /* room for TB_LAB_WAYS_MOST */
    size_t n;
    const struct tb_part *part;    /* two or three fibres */
    const char *const *conditions; /* one list a fibre; NULL: none said */
};
/* Every way of the tables, in no order; none twice. */
void tb_lab_ways(struct tb_lab_ways *p);

#endif
