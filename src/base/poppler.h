/* poppler.h - the library that reads PDF, which is loaded only where it is needed. */
#ifndef TENTERBOOK_BASE_POPPLER_H
#define TENTERBOOK_BASE_POPPLER_H

#define TB_POPPLER_LIBRARY "libpoppler-glib.so.8"

/* The library, loaded when it is first asked for; NULL: it is not on this machine. Stays loaded. */
void *tb_poppler_library(void);
/* What the library has to say of a damaged file is for its programmers: nothing of it is written from now on. */
void tb_poppler_silence(void);
/* Its version, static; loads it. NULL: it is not on this machine. */
const char *tb_poppler_version(void);

#endif
