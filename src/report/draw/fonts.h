/*
 * fonts.h - the typefaces of all pictures and papers. Internal.
 *
 * Only files the project names are used, and no rule of the machine's own: the same data give the same bytes wherever
 * other fonts are installed besides.
 */
#ifndef TENTERBOOK_REPORT_FONTS_H
#define TENTERBOOK_REPORT_FONTS_H

#include "tenterbook/base.h"

/*
 * tb_fonts_ready - let this thread draw with the project's fonts; call it before the first letter.
 *
 *   fails   TB_EIO when a font file is missing or cannot be read; the sentence names it and the packages
 *   memory  the fonts are read once and kept until the program ends
 */
tb_rc tb_fonts_ready(struct tb_err *err);

/* How often the libraries that draw words complained until now: what was drawn meanwhile is not what it should be. */
unsigned tb_fonts_complaints(void);

struct _FcConfig;
/*
 * tb_fonts_load - read the fonts from folders: the part of tb_fonts_ready that a test can point elsewhere.
 *
 *   out     a configuration with these fonts alone; NULL on failure
 *   folder  names of folders, ended by NULL; each file is taken from the first that has it
 *   fails   as tb_fonts_ready
 *   memory  end it with FcConfigDestroy
 */
tb_rc tb_fonts_load(struct _FcConfig **out, const char *const *folder, struct tb_err *err);

#endif
