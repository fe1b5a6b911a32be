/*
 * fibre_words.h - fibres and compositions in the language of a paper. Pure.
 *
 * A fibre is called by the first name that the law of the European Union, or of Turkey, has in that language, else by the first plain name
 * of the trade in the tables of names; where these have none, by a name of the catalogue. A test holds the catalogues to the tables.
 */
#ifndef TENTERBOOK_FIBRE_WORDS_H
#define TENTERBOOK_FIBRE_WORDS_H

#include "tenterbook/fibre.h"
#include "tenterbook/tongue.h"

/* tb_fibre_in - the name of a fibre; TB_FIBRE_OTHER and TB_FIBRE_UNKNOWN have words too. Static text. */
const char *tb_fibre_in(enum tb_tongue tongue, int fibre);
/* tb_fibre_key_in - the name of a fibre by its key ("wool"); a key that this program does not know stays as it is. */
const char *tb_fibre_key_in(enum tb_tongue tongue, const char *key);
/* tb_part_in - "warp"; static text. */
const char *tb_part_in(enum tb_tongue tongue, enum tb_part_kind part);
/*
 * tb_composition_in - add a composition: "60 % Baumwolle, 40 % Polyester", "Kette: 100 % Baumwolle; Schuss: 100 % Leinen".
 *   text    as tb_composition_print has it; in English, and where it cannot be read for certain, it is added as it is
 */
void tb_composition_in(struct tb_text *out, enum tb_tongue tongue, const char *text);

#endif
