/* units.h - inside the packing-list reader: words for units and currencies, ditto marks. */
#ifndef TENTERBOOK_INTAKE_UNITS_H
#define TENTERBOOK_INTAKE_UNITS_H

#include "tenterbook/intake.h"

/*
 * The unit a word means where `field` is measured ("mm" is momme for a mass, millimetre for a width); NONE:
 * not a unit.
 */
enum tb_unit tb_unit_find(enum tb_field field, const char *text, size_t n);
/* Metres in one; 0 when it is not a length. */
double tb_unit_metres(enum tb_unit unit);
/* "EUR" for a sign or letters, static; NULL: not a currency. */
const char *tb_currency_find(const char *text, size_t n);
/* Is it a mark for "as above"? */
bool tb_is_ditto(const char *text);

#endif
