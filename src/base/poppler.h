/* poppler.h - the library that reads PDF, which is loaded only where it is needed. */
#ifndef TENTERBOOK_BASE_POPPLER_H
#define TENTERBOOK_BASE_POPPLER_H

#define TB_POPPLER_LIBRARY "libpoppler-glib.so.8"

/*
 * Points: from every page, which may be 14,400 wide. What the library takes for the text of a page runs from its first corner to its
 * last in the order of reading, and leaves out what it thinks is read before or after; corners far away leave nothing out.
 */
#define TB_POPPLER_FAR 1e5
#define TB_POPPLER_ALL_OF_IT                                                                                 \
    {                                                                                                        \
        -TB_POPPLER_FAR, -TB_POPPLER_FAR, TB_POPPLER_FAR, TB_POPPLER_FAR                                     \
    }

/* The library, loaded when it is first asked for; NULL: it is not on this machine. Stays loaded. */
void *tb_poppler_library(void);
/* What the library has to say of a damaged file is for its programmers: nothing of it is written from now on. */
void tb_poppler_silence(void);
/* Its version, static; loads it. NULL: it is not on this machine. */
const char *tb_poppler_version(void);

#endif
