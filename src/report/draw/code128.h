/* code128.h - bars of a Code 128 symbol, code set B. */
#ifndef TENTERBOOK_REPORT_CODE128_H
#define TENTERBOOK_REPORT_CODE128_H

#include <stdbool.h>
#include <stddef.h>

#define TB_CODE128_MOST 40                              /* characters */
#define TB_CODE128_RUNS (6 * (TB_CODE128_MOST + 2) + 7) /* start, characters, check, stop */

/*
 * tb_code128 - widths of bars and spaces by turns, beginning with a bar, in modules; *n of them, *modules together. Quiet zones
 * of 10 modules on both sides are the caller's. False: a character that is not printable ASCII, no character, or too
 * many.
 */
bool tb_code128(unsigned char run[TB_CODE128_RUNS], size_t *n, size_t *modules, const char *text);

#endif
