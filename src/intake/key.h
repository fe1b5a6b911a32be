/* key.h - inside the packing-list reader: header words in the form they are compared in. */
#ifndef TENTERBOOK_INTAKE_KEY_H
#define TENTERBOOK_INTAKE_KEY_H

#include <stdbool.h>
#include <stddef.h>

#define TB_HEADER_KEY_MOST 96 /* bytes, the NUL included */

/*
 * tb_header_key - n bytes of text folded, punctuation dropped, the dotless i made plain, spaces around a slash dropped,
 * and every word for "number" left out and remembered as a final '#'. False when nothing is left or it is too long.
 */
bool tb_header_key(char key[TB_HEADER_KEY_MOST], const char *text, size_t n);
/* German umlauts written out become plain, in place: "laenge" is "lange", as folding makes of "Länge". */
void tb_header_key_plain(char *key);
/* With the word for "number" where it had none, or without it: "Bolt" is "Bolt no.". */
void tb_header_key_flip(char *key);

#endif
