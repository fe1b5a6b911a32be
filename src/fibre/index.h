/*
 * index.h - the table of fibres and the index over the table of names, made at build time by src/gen/fibregen.c.
 */
#ifndef TENTERBOOK_FIBRE_INDEX_H
#define TENTERBOOK_FIBRE_INDEX_H

#include "tenterbook/fibre.h"

#include <stdint.h>

extern const struct tb_fibre tb_fibre_table[];
extern const size_t tb_fibre_table_n;

/* Names sorted by folded word; the rows of one word lie together, the one that decides its kind first. */
extern const struct tb_name tb_name_table[];
extern const size_t tb_name_table_n;
/* Beside each row: its folded word, how many rows from here have it (0 in all but the first), what the row
 * says of marks (enum tb_mark) and of parts (enum tb_part_kind, -1 none), and how it must be written. */
enum tb_casing {
    TB_CASING_ANY,
    TB_CASING_UPPER, /* counts in capitals only: "E" is a code, "e" an Italian "and" */
    TB_CASING_EXACT  /* counts with its accents only, or without any: Portuguese "la" is not its wool */
};
struct tb_name_more {
    const char *folded;
    uint16_t rows;
    uint16_t marks;
    int16_t part;
    uint16_t length;  /* bytes of the folded word */
    uint64_t letters; /* tb_fold_letters of it */
    uint8_t casing;   /* enum tb_casing */
};
extern const struct tb_name_more tb_name_more[];
/* Open addressing; a slot holds first row + 1, 0 is empty. Size is a power of two. */
extern const uint16_t tb_name_slot[];
extern const uint32_t tb_name_slots;
extern const size_t tb_name_longest; /* words in the longest phrase */

/* First row of a folded word with this hash, -1 when there is none. */
int tb_name_lookup(const char *folded, size_t n, uint32_t hash);

#endif
