/* poppler.h - the library that reads PDF, which is loaded only where it is needed. */
#ifndef TENTERBOOK_BASE_POPPLER_H
#define TENTERBOOK_BASE_POPPLER_H

/* Its version, static; loads it. NULL: it is not on this machine. */
const char *tb_poppler_version(void);

#endif
