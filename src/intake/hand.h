/* hand.h - inside the list that is typed: the answers and what they come to. */
#ifndef TENTERBOOK_INTAKE_HAND_H
#define TENTERBOOK_INTAKE_HAND_H

#include "tenterbook/by_hand.h"

enum tb_hand_step {
    TB_HAND_SUPPLIER,
    TB_HAND_NOTE,
    TB_HAND_DAY,
    TB_HAND_ARTICLE,
    TB_HAND_COLOUR,
    TB_HAND_DYE_LOT,
    TB_HAND_DECLARED,
    TB_HAND_BOLT,
    TB_HAND_LENGTH,
    TB_HAND_DONE
};

struct tb_hand_lot {
    const char *article, *colour, *dye_lot, *declared;
    size_t bolts;
    double metres;
};
struct tb_hand_bolt {
    const char *number, *length; /* with its unit */
    size_t lot;
};

struct tb_hand {
    const char *known[3]; /* supplier, note, day, where they are not asked */
    bool number_by_lot;   /* a number may stand in several lots */
    char **answer;        /* as they were typed */
    size_t answers, cap;
    /* what they come to; made anew when one is taken back */
    enum tb_hand_step step;
    const char *said[3];
    struct tb_hand_lot *lot;
    size_t lots, lot_cap;
    struct tb_hand_bolt *bolt;
    size_t bolts, bolt_cap;
    struct tb_arena mem;
    struct tb_text ask;
};

#endif
