/* The parts of a cloth by their words. */
#include "tenterbook/fibre.h"

static const char *const parts[] = { "whole", "warp",    "weft",  "pile",   "ground",  "face",
                                     "back",  "coating", "shell", "lining", "filling", "other" };
const struct tb_words tb_part_words = { parts, TB_COUNT(parts),
                                        "'%s' is not a part of a cloth; parts are whole, warp, weft, pile, "
                                        "ground, face, back, coating, shell, lining, filling" };

_Static_assert(TB_COUNT(parts) == TB_PART_KINDS, "a part has no word");

const char *tb_part_key(enum tb_part_kind kind)
{
    return tb_word(&tb_part_words, (int)kind);
}

int tb_part_by_key(const char *key)
{
    int kind = -1;

    return tb_word_find(&kind, &tb_part_words, key) ? kind : -1;
}
