/* The parts of a cloth by their words. */
#include "tenterbook/fibre.h"

TB_WORDS(tb_part_words, TB_PART_KINDS,
         "'%s' is not a part of a cloth; parts are whole, warp, weft, pile, ground, face, back, coating, "
         "shell, lining, filling",
         "whole", "warp", "weft", "pile", "ground", "face", "back", "coating", "shell", "lining", "filling",
         "other");

const char *tb_part_key(enum tb_part_kind kind)
{
    return tb_word(&tb_part_words, (int)kind);
}

int tb_part_by_key(const char *key)
{
    int kind = -1;

    return tb_word_find(&kind, &tb_part_words, key) ? kind : -1;
}
