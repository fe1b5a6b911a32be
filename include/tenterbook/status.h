/*
 * status.h - how far a published figure or word was looked up, as the tables of sources say it: "seen", "second-hand",
 * "memory" and the like. Every table has its own list; what matters of them is asked here.
 */
#ifndef TENTERBOOK_STATUS_H
#define TENTERBOOK_STATUS_H

#include <stdbool.h>

/* Whether it was read at its source. */
bool tb_status_seen(const char *status);
/* Whether nobody looked it up: it is never shown as if somebody had. */
bool tb_status_memory(const char *status);

#endif
